"""The picture of the line to work in: choose a station, open it, draw a link to another one."""

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QWidget

from app.drawing_view import DrawingView
from app.theme import colours

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_DASHES = [4.0, 3.0]


class LineView(DrawingView):
    """A click chooses a station, Enter or a double click opens it, a drag to another links them.

    By keyboard, L begins a link at the present station, arrows or Tab go to the other one, Enter
    draws it, Escape gives it up.

    Signals:
        link_drawn: Fruit is to go from one station to another.
                    arg 0: id of the first, arg 1: id of the second
    """

    link_drawn = Signal(int, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pressed_at: QPointF | None = None
        self._pressed_on: int | None = None
        self._link_from: int | None = None
        self._pointer: QPointF | None = None

    @property
    def is_linking(self) -> bool:
        """Whether a link is being drawn."""
        return self._link_from is not None

    def give_up_link(self) -> None:
        """Draw no link."""
        self._link_from = self._pointer = None
        self.viewport().unsetCursor()
        self.viewport().update()

    def _end_link(self, target: int | None) -> None:
        source = self._link_from
        self.give_up_link()
        if source is not None and target is not None and target != source:
            self.link_drawn.emit(source, target)

    # --- keyboard ---------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """L, Enter and Escape draw a link; everything else is as in any drawing."""
        key, plain = Qt.Key(event.key()), not event.modifiers()
        if key == Qt.Key.Key_L and plain and self.station_id is not None:
            self._link_from, self._pointer = self.station_id, None
            self.viewport().update()
        elif self.is_linking and key in _ENTER:
            self._end_link(self.station_id)
        elif self.is_linking and key == Qt.Key.Key_Escape:
            self.give_up_link()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Give up a link that was begun by key."""
        super().focusOutEvent(event)
        if self.is_linking and self._pointer is None:
            self.give_up_link()

    # --- mouse ------------------------------------------------------------------------------

    def clicked(self, place: QPointF) -> None:
        """Choose the station there; where a link was begun by key, draw it to there."""
        key = self.station_at(place)
        if key is None:
            return
        if self.is_linking:
            self._end_link(key)
        self.go_to(key)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a click or a link on a station, moving the picture elsewhere."""
        station = self.station_at(event.position())
        if station is None or event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        self._pressed_at, self._pressed_on = event.position(), station

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Draw the link along."""
        if self._pressed_at is None:
            super().mouseMoveEvent(event)
            return
        far = (event.position() - self._pressed_at).manhattanLength()
        if not self.is_linking and far < QApplication.startDragDistance():
            return
        self._link_from, self._pointer = self._pressed_on, event.position()
        self.viewport().setCursor(Qt.CursorShape.CrossCursor)
        self.viewport().update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a link on the station there, or a click."""
        if self._pressed_at is None:
            super().mouseReleaseEvent(event)
            return
        was_drag = self._pointer is not None
        self._pressed_at = self._pressed_on = None
        if was_drag:
            self._end_link(self.station_at(event.position()))
        else:
            self.clicked(event.position())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the station there."""
        station = self.station_at(event.position())
        if station is not None:
            self.go_to(station)
            self.station_chosen.emit(station)

    # --- drawing ----------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a frame about the chosen station, focus or not, and the link being drawn."""
        super().paintEvent(event)
        box, ends, look = self._present_box(), self._ends_of_link(), colours()
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pen = QPen(QColor(look.accent), look.border_px + 1)
        if box is not None and not self.hasFocus():
            pen.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.drawRoundedRect(box, 4.0, 4.0)
        if ends is not None:
            pen.setDashPattern(_DASHES)
            painter.setPen(pen)
            painter.drawLine(*ends)
        painter.end()

    def _present_box(self) -> QRectF | None:
        """Where the chosen station stands in the view."""
        box = None if self.station_id is None else self.box_of(self.station_id)
        if box is None:
            return None
        scale = self.scale_now()
        corner, size = self.origin() + box.topLeft() * scale, box.size() * scale
        return QRectF(corner, size).adjusted(-3.0, -3.0, 3.0, 3.0)

    def _ends_of_link(self) -> tuple[QPointF, QPointF] | None:
        if self._link_from is None:
            return None
        start = self._head_of(self._link_from)
        end = self._pointer
        if end is None and self.station_id is not None:
            end = self._head_of(self.station_id)
        return None if start is None or end is None else (start, end)

    def _head_of(self, station_id: int) -> QPointF | None:
        """Where the name of a station stands in the view."""
        box = self.box_of(station_id)
        if box is None:
            return None
        head = QRectF(box.left(), box.top(), box.width(), min(box.height(), box.width() / 4))
        return self.origin() + head.center() * self.scale_now()
