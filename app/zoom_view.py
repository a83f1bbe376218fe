"""A view of something with a size in points: zoomed by keys and wheel, fitted, dragged along."""

from typing import Literal

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QFrame, QWidget

POINTS_PER_INCH = 72.0
SMALLEST_ZOOM, LARGEST_ZOOM, ZOOM_STEP = 0.05, 6.0, 1.25
READING_ZOOM = 1.5
"""At this zoom the small print of a drawing is about as high as the text of the window."""

_MARGIN = 8
_CORNER = QPointF(0.0, 0.0)
_WHEEL_NOTCH = 120


class ZoomView(QAbstractScrollArea):
    """The view without what it shows; who inherits draws it, and tells its size by `take_size`.

    Signals:
        zoom_changed: It is shown larger or smaller.
                      arg 0: zoom, 1.0 is the size on paper
    """

    zoom_changed = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._size = (1.0, 1.0)
        self._zoom = 1.0
        self._fit: Literal["", "width", "whole"] = "width"
        self._pressed: QPoint | None = None
        self._dragged = False
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setMouseTracking(True)
        for bar in (self.horizontalScrollBar(), self.verticalScrollBar()):
            bar.setSingleStep(40)
            bar.valueChanged.connect(self.viewport().update)

    @property
    def zoom(self) -> float:
        """How large it is shown; 1.0 is the size on paper."""
        return self._zoom

    @property
    def reading_page(self) -> tuple[float, float]:
        """Width that shows small print as large as the window's text, and any height [pt]."""
        return self._room().width() / (self._pixels_per_point() * READING_ZOOM), 1e6

    def take_size(self, width: float, height: float) -> None:
        """Take over the size of what is shown [pt]."""
        self._size = width, height
        self._lay_out()

    def set_zoom(self, zoom: float, about: QPointF | None = None) -> None:
        """Show it larger or smaller; what lies at a place of the view stays there."""
        self._fit = ""
        self._take_zoom(zoom, about)

    def fit_width(self) -> None:
        """Show it as wide as the view, small ones not larger than is good to read."""
        self._fit = "width"
        self._lay_out()

    def fit_whole(self) -> None:
        """Show all of it, and keep it so."""
        self._fit = "whole"
        self._lay_out()

    def zoom_in(self) -> None:
        """Show it a step larger."""
        self.set_zoom(self._zoom * ZOOM_STEP)

    def zoom_out(self) -> None:
        """Show it a step smaller."""
        self.set_zoom(self._zoom / ZOOM_STEP)

    def scale_now(self) -> float:
        """Pixels of the view for a point of what is shown."""
        return self._zoom * self._pixels_per_point()

    def origin(self) -> QPointF:
        """Where its upper left corner lies in the view; something narrow is centred."""
        spare = max(0, self.viewport().width() - self._whole(self._zoom).width())
        return QPointF(
            _MARGIN + spare / 2 - self.horizontalScrollBar().value(),
            _MARGIN - self.verticalScrollBar().value(),
        )

    def to_points(self, place: QPointF) -> QPointF:
        """A place of the view in the points of what is shown."""
        return (place - self.origin()) / self.scale_now()

    def bring_into_sight(self, box: QRectF) -> None:
        """Scroll as little as brings a part of what is shown into sight [pt]."""
        near, far = (
            self.origin() + corner * self.scale_now()
            for corner in (box.topLeft(), box.bottomRight())
        )
        for bar, low, high, length in (
            (self.horizontalScrollBar(), near.x(), far.x(), self.viewport().width()),
            (self.verticalScrollBar(), near.y(), far.y(), self.viewport().height()),
        ):
            beyond = max(0.0, high + _MARGIN - length)
            by = min(beyond, low - _MARGIN) if beyond else min(0.0, low - _MARGIN)
            bar.setValue(bar.value() + round(by))

    # --- mouse ------------------------------------------------------------------------------

    def clicked(self, place: QPointF) -> None:
        """A click that moved nothing; for who inherits."""

    def can_click(self, place: QPointF) -> bool:
        """Whether a click at a place of the view means something; for who inherits."""
        return False

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a click, or moving what is shown."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed, self._dragged = event.position().toPoint(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move along what is shown, or let the pointer tell what can be clicked."""
        if self._pressed is None:
            over = self.can_click(event.position())
            shape = Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor
            self.viewport().setCursor(shape)
            return
        place = event.position().toPoint()
        moved = place - self._pressed
        if not self._dragged and moved.manhattanLength() < QApplication.startDragDistance():
            return
        self._dragged, self._pressed = True, place
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        self._scroll(-QPointF(moved))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End moving, or a click."""
        clicked = self._pressed is not None and not self._dragged
        self._pressed = None
        self.viewport().setCursor(Qt.CursorShape.ArrowCursor)
        if clicked:
            self.clicked(event.position())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer while Ctrl is held, else scroll."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            notches = event.angleDelta().y() / _WHEEL_NOTCH
            self.set_zoom(self._zoom * ZOOM_STEP**notches, event.position())
        else:
            super().wheelEvent(event)

    # --- size -------------------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Its size on paper."""
        return self._whole(1.0)

    def changeEvent(self, event: QEvent) -> None:
        """Draw again in the colours of another look."""
        super().changeEvent(event)
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep what is fitted so, and the scroll bars right."""
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        room, whole = self._room(), self._whole(1.0)
        across = room.width() / max(1, whole.width() - 2 * _MARGIN)
        down = room.height() / max(1, whole.height() - 2 * _MARGIN)
        if self._fit == "width":
            self._take_zoom(min(across, READING_ZOOM), _CORNER)
        elif self._fit == "whole":
            self._take_zoom(min(across, down, READING_ZOOM), _CORNER)
        self._set_ranges()
        self.viewport().update()

    def _take_zoom(self, zoom: float, about: QPointF | None = None) -> None:
        zoom = min(max(zoom, SMALLEST_ZOOM), LARGEST_ZOOM)
        if zoom == self._zoom:
            return
        if about is None:  # not by its truth: a point in the corner counts as false
            about = QPointF(self.viewport().rect().center())
        kept = self.to_points(about)
        self._zoom = zoom
        self._set_ranges()
        self._scroll(self.origin() + kept * self.scale_now() - about)
        self.zoom_changed.emit(zoom)
        self.viewport().update()

    def _scroll(self, by: QPointF) -> None:
        for bar, step in (
            (self.horizontalScrollBar(), by.x()),
            (self.verticalScrollBar(), by.y()),
        ):
            bar.setValue(bar.value() + round(step))

    def _set_ranges(self) -> None:
        whole, seen = self._whole(self._zoom), self.viewport().size()
        for bar, length, part in (
            (self.verticalScrollBar(), whole.height(), seen.height()),
            (self.horizontalScrollBar(), whole.width(), seen.width()),
        ):
            bar.setRange(0, max(0, length - part))
            bar.setPageStep(part)

    def _room(self) -> QSize:
        """The room that the view has, a scroll bar reckoned with."""
        bar = self.verticalScrollBar().sizeHint().width()
        seen = self.maximumViewportSize()
        return QSize(max(1, seen.width() - bar - 2 * _MARGIN), max(1, seen.height() - 2 * _MARGIN))

    def _pixels_per_point(self) -> float:
        return (float(self.logicalDpiX()) or 96.0) / POINTS_PER_INCH

    def _whole(self, zoom: float) -> QSize:
        scale = zoom * self._pixels_per_point()
        return QSize(
            round(self._size[0] * scale) + 2 * _MARGIN,
            round(self._size[1] * scale) + 2 * _MARGIN,
        )
