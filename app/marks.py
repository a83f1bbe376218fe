"""Small drawn shapes that tell the state of a station, always with their word beside them."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.theme import colours

STATE_WORDS = {"empty": "Empty", "started": "Started", "complete": "Complete"}
"""Words for the states of `core.line`: nothing entered, some still needed, nothing needed."""


def draw_state(painter: QPainter, place: QRectF, state: str, colour: QColor | None = None) -> None:
    """Draw the shape of a state: an empty ring, a half disc, or a disc with a tick.

    Parameters
    ----------
    painter : QPainter
        Active painter; it is left as it was.
    place : QRectF
        Where; the shape fills the largest square in its middle.
    state : str
        Key of `STATE_WORDS`.
    colour : QColor, optional
        Instead of the state's own, for text on a selection.
    """
    look = colours()
    own = {"empty": look.muted, "started": look.started, "complete": look.complete}[state]
    ink = colour or QColor(own)
    side = min(place.width(), place.height()) - 2
    disc = QRectF(0, 0, side, side)
    disc.moveCenter(place.center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(ink, 1.6))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if state == "complete":
        painter.setBrush(ink)
    painter.drawEllipse(disc)
    if state == "started":
        painter.setBrush(ink)
        painter.drawPie(disc, 270 * 16, 180 * 16)
    elif state == "complete":
        ground = QColor(look.accent if colour else look.base)
        painter.setPen(QPen(ground, 1.8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawPolyline([disc.topLeft() + QPointF(x * side, y * side) for x, y in _TICK])
    painter.restore()


_TICK = ((0.26, 0.54), (0.44, 0.72), (0.75, 0.32))


class StateMark(QWidget):
    """The state of one station as shape and word."""

    _GAP = 5

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._state = "empty"
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_state(self, state: str) -> None:
        """Show a state, a key of `STATE_WORDS`."""
        self._state = state
        self.setAccessibleName(STATE_WORDS[state])
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for the shape and its word."""
        metrics = self.fontMetrics()
        width = metrics.height() + self._GAP + metrics.horizontalAdvance(STATE_WORDS[self._state])
        return QSize(width + 2, metrics.height() + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the shape and the word."""
        painter = QPainter(self)
        side = self.fontMetrics().height()
        draw_state(painter, QRectF(0, 1, side, side), self._state)
        painter.setPen(self.palette().windowText().color())
        words = self.rect().adjusted(side + self._GAP, 0, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, STATE_WORDS[self._state])
        painter.end()
