"""Shows a drawing: zoomed, moved, and gone through from station to station by keyboard."""

from collections.abc import Callable, Iterable, Iterator
from typing import Literal

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.drawing_paint import inks_of_look, paint_drawing
from app.theme import colours
from app.zoom_view import ZoomView
from core.sheets.drawing import Drawing, Group, Item

_RING = 2.0
_NOTHING = Drawing(1.0, 1.0, ())
Direction = Literal["left", "right", "up", "down"]


class DrawingView(ZoomView):
    """A drawing, with one of its stations as the present one.

    Tab goes on to the next station and after the last one out of the view; arrows go to the
    nearest one that way, at the end of a row to the next row; Enter opens. Escape lets go of the
    present one, so that Tab leaves.

    Signals:
        station_chosen: A station is to be opened, by click or Enter.
                        arg 0: its id
        station_reached: Another station is the present one.
                         arg 0: its id
    """

    station_chosen = Signal(int)
    station_reached = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = _NOTHING
        self._boxes: list[tuple[QRectF, Group]] = []
        self._stations: dict[int, Group] = {}
        self._present: int | None = None

    @property
    def drawing(self) -> Drawing:
        """What is shown."""
        return self._drawing

    @property
    def station_id(self) -> int | None:
        """The present station."""
        return self._present

    def box_of(self, station_id: int) -> QRectF | None:
        """Where a station stands in the drawing [pt]; None where it is not drawn."""
        group = self._stations.get(station_id)
        return None if group is None or group.box is None else QRectF(*group.box)

    def show_drawing(self, drawing: Drawing) -> None:
        """Show another drawing; zoom, place and present station are kept as far as they can be."""
        self._drawing = drawing
        groups = list(_groups(drawing.items))
        self._boxes = [(QRectF(*group.box), group) for group in groups if group.box]
        self._stations = {}
        for group in groups:
            if group.station_id is not None:
                self._stations.setdefault(group.station_id, group)
        if self._present not in self._stations:
            self._present = None
        self.setAccessibleName(drawing.told)
        self.take_size(drawing.width, drawing.height)

    def go_to(self, station_id: int) -> None:
        """Make a station the present one and bring it into sight; nothing is opened."""
        if station_id not in self._stations:
            return
        moved = station_id != self._present
        self._present = station_id
        box = self._stations[station_id].box
        if box is not None:
            self.bring_into_sight(QRectF(*box))
        self.viewport().update()
        if moved:
            self._announce(self._stations[station_id].tip)
            self.station_reached.emit(station_id)

    # --- keyboard ---------------------------------------------------------------------------

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes through the stations before it leaves."""
        return self._go_by(1 if forward else -1) or super().focusNextPrevChild(forward)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Come to the first station, or by Shift+Tab to the last one."""
        super().focusInEvent(event)
        order, reason = list(self._stations), event.reason()
        if order and reason == Qt.FocusReason.BacktabFocusReason:
            self.go_to(order[-1])
        elif order and (reason == Qt.FocusReason.TabFocusReason or self._present is None):
            self.go_to(order[0])
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Draw the present station without its ring."""
        super().focusOutEvent(event)
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows, Home and End go to stations; Enter opens; plus, minus, 0 and 1 zoom."""
        act = self._acts().get(Qt.Key(event.key()))
        held = event.modifiers() & ~(
            Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier
        )
        if act is None or held:
            super().keyPressEvent(event)
        else:
            act()

    def _acts(self) -> dict[Qt.Key, Callable[[], object]]:
        bar = self.verticalScrollBar()
        return {
            Qt.Key.Key_Left: lambda: self._go("left"),
            Qt.Key.Key_Right: lambda: self._go("right"),
            Qt.Key.Key_Up: lambda: self._go("up"),
            Qt.Key.Key_Down: lambda: self._go("down"),
            Qt.Key.Key_Home: lambda: self._go_end(0),
            Qt.Key.Key_End: lambda: self._go_end(-1),
            Qt.Key.Key_Return: self._open,
            Qt.Key.Key_Enter: self._open,
            Qt.Key.Key_Space: self._open,
            Qt.Key.Key_Escape: self._let_go,
            Qt.Key.Key_Plus: self.zoom_in,
            Qt.Key.Key_Equal: self.zoom_in,
            Qt.Key.Key_Minus: self.zoom_out,
            Qt.Key.Key_0: self.fit_whole,
            Qt.Key.Key_1: self.fit_width,
            Qt.Key.Key_PageDown: lambda: bar.setValue(bar.value() + bar.pageStep()),
            Qt.Key.Key_PageUp: lambda: bar.setValue(bar.value() - bar.pageStep()),
        }

    def _go(self, direction: Direction) -> None:
        if self._present is None:
            self._go_end(0)
            return
        here = _middle(self._stations[self._present])
        ahead = [
            (cost, key)
            for key, group in self._stations.items()
            if (cost := _cost(_middle(group) - here, direction)) is not None
        ]
        if ahead:
            self.go_to(min(ahead)[1])
        elif direction in ("left", "right"):
            self._go_by(1 if direction == "right" else -1)

    def _go_by(self, steps: int) -> bool:
        """On or back in the order of the flow, also from row to row, as far as there are any."""
        order = list(self._stations)
        at = order.index(self._present) + steps if self._present is not None else -1
        if 0 <= at < len(order):
            self.go_to(order[at])
            return True
        return False

    def _go_end(self, at: int) -> None:
        if self._stations:
            self.go_to(list(self._stations)[at])

    def _open(self) -> None:
        if self._present is not None:
            self.station_chosen.emit(self._present)

    def _let_go(self) -> None:
        self._present = None
        self.viewport().update()

    def _announce(self, words: str) -> None:
        self.setAccessibleDescription(words)
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    # --- mouse ------------------------------------------------------------------------------

    def station_at(self, place: QPointF) -> int | None:
        """The station at a place of the view."""
        at = self.to_points(place)
        return next(
            (
                group.station_id
                for box, group in self._boxes
                if group.station_id is not None and box.contains(at)
            ),
            None,
        )

    def can_click(self, place: QPointF) -> bool:
        """Whether there is a station."""
        return self.station_at(place) is not None

    def clicked(self, place: QPointF) -> None:
        """Open the station there."""
        key = self.station_at(place)
        if key is not None:
            self.go_to(key)
            self.station_chosen.emit(key)

    def viewportEvent(self, event: QEvent) -> bool:
        """Tell what a station is while the pointer rests on it."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            at = self.to_points(QPointF(event.pos()))
            tips = (group.tip for box, group in self._boxes if box.contains(at) and group.tip)
            QToolTip.showText(event.globalPos(), next(tips, ""), self)
            return True
        return super().viewportEvent(event)

    # --- drawing ----------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw what is in sight, and a ring around the present station."""
        look, scale = colours(), self.scale_now()
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), QColor(look.base))
        painter.translate(self.origin())
        painter.scale(scale, scale)
        seen = QRectF(
            self.to_points(QPointF(event.rect().topLeft())),
            self.to_points(QPointF(event.rect().bottomRight())),
        )
        paint_drawing(painter, self._drawing, inks_of_look(look), seen)
        group = self._stations.get(self._present) if self._present is not None else None
        if group is not None and group.box and self.hasFocus():
            painter.setPen(QPen(QColor(look.accent), (look.border_px + 1) / scale))
            ring = QRectF(*group.box).adjusted(-_RING, -_RING, _RING, _RING)
            painter.drawRoundedRect(ring, 2.0, 2.0)
        painter.end()


def _groups(items: Iterable[Item]) -> Iterator[Group]:
    """Every group, in the order they are drawn."""
    for item in items:
        if isinstance(item, Group):
            yield item
            yield from _groups(item.items)


def _middle(group: Group) -> QPointF:
    left, top, width, height = group.box or (0.0, 0.0, 0.0, 0.0)
    return QPointF(left + width / 2, top + height / 2)


def _cost(way: QPointF, direction: Direction) -> float | None:
    """How far it is that way, what lies aside counting double; None if it lies elsewhere."""
    along, aside = {
        "left": (-way.x(), way.y()),
        "right": (way.x(), way.y()),
        "up": (-way.y(), way.x()),
        "down": (way.y(), way.x()),
    }[direction]
    return along + 2.0 * abs(aside) if along > 1.0 and abs(aside) <= 2.0 * along else None
