"""Small drawn shapes that tell the state of a station, always with their word beside them."""

from collections.abc import Callable, Mapping

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


class WordedMark(QWidget):
    """A state as a drawn shape with its word beside it.

    Parameters
    ----------
    words : mapping
        The word of each state.
    draw : callable
        Draws the shape of a state: painter, place, state.
    state : str
        What is shown at first.
    """

    _GAP = 5

    def __init__(
        self,
        words: Mapping[str, str],
        draw: Callable[[QPainter, QRectF, str], object],
        state: str,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._words, self._draw, self.state = words, draw, state
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_state(self, state: str) -> None:
        """Show a state, one of those that have a word."""
        self.state = state
        self.setAccessibleName(self._words[state])
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for the shape and its word."""
        metrics = self.fontMetrics()
        width = metrics.height() + self._GAP + metrics.horizontalAdvance(self._words[self.state])
        return QSize(width + 2, metrics.height() + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the shape and the word."""
        painter = QPainter(self)
        side = self.fontMetrics().height()
        self._draw(painter, QRectF(0, 1, side, side), self.state)
        painter.setPen(self.palette().windowText().color())
        words = self.rect().adjusted(side + self._GAP, 0, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, self._words[self.state])
        painter.end()


class StateMark(WordedMark):
    """The state of one station as shape and word."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(STATE_WORDS, draw_state, "empty", parent)
