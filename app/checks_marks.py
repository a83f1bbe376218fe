"""Small drawn shapes that tell where a check stands, always with their word beside them."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.marks import draw_state
from app.theme import colours
from core.line.checks import State
from core.line.checks.listing import STATE_WORDS

_AS_STATION = {"open": "empty", "good": "complete"}
_DIAMOND = ((0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5))
_STROKES = {
    # Beginning and end of each stroke, in parts of the shape's side.
    "out": (((0.3, 0.3), (0.7, 0.7)), ((0.7, 0.3), (0.3, 0.7))),
    "kept": (((0.5, 0.28), (0.5, 0.56)), ((0.5, 0.70), (0.5, 0.74))),
    "skipped": (((0.28, 0.5), (0.72, 0.5)),),
}


def draw_check(
    painter: QPainter, place: QRectF, state: State, colour: QColor | None = None
) -> None:
    """Draw the shape of a check's state.

    An empty ring is open, a disc with a tick good, a filled square with a cross out of limits, a
    diamond with a stroke above a dot kept with a reason, a ring with a bar does not apply.

    Parameters
    ----------
    painter : QPainter
        Active painter; it is left as it was.
    place : QRectF
        Where; the shape fills the largest square in its middle.
    state : str
        State of a `core.line.checks.CheckItem`.
    colour : QColor, optional
        Instead of the state's own, for text on a selection.
    """
    if state in _AS_STATION:
        draw_state(painter, place, _AS_STATION[state], colour)
        return
    look = colours()
    ink = colour or QColor({"out": look.wrong, "kept": look.started}.get(state, look.muted))
    side = min(place.width(), place.height()) - 2
    box = QRectF(0, 0, side, side)
    box.moveCenter(place.center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(ink, 1.6))
    stroke = ink
    if state == "out":
        painter.fillRect(box.adjusted(1, 1, -1, -1), ink)
        stroke = QColor(look.accent if colour else look.base)
    elif state == "kept":
        painter.drawPolygon(QPolygonF([_at(box, point) for point in _DIAMOND]))
    else:
        painter.drawEllipse(box)
    painter.setPen(QPen(stroke, 1.8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    for start, end in _STROKES[state]:
        painter.drawLine(_at(box, start), _at(box, end))
    painter.restore()


def _at(box: QRectF, point: tuple[float, float]) -> QPointF:
    return box.topLeft() + QPointF(point[0] * box.width(), point[1] * box.height())


class CheckMark(QWidget):
    """Where one check stands, as shape and word."""

    _GAP = 5

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state: State = "open"
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_state(self, state: State) -> None:
        """Show a state of a check."""
        self.state = state
        self.setAccessibleName(STATE_WORDS[state])
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for the shape and its word."""
        metrics = self.fontMetrics()
        width = metrics.height() + self._GAP + metrics.horizontalAdvance(STATE_WORDS[self.state])
        return QSize(width + 2, metrics.height() + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the shape and the word."""
        painter = QPainter(self)
        side = self.fontMetrics().height()
        draw_check(painter, QRectF(0, 1, side, side), self.state)
        painter.setPen(self.palette().windowText().color())
        words = self.rect().adjusted(side + self._GAP, 0, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, STATE_WORDS[self.state])
        painter.end()
