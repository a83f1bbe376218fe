"""Small drawn shapes that tell where a check stands, always with their word beside them."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.marks import WordedMark, draw_state
from app.theme import colours
from core.line.checks.listing import STATE_WORDS

_AS_STATION = {"open": "empty", "good": "complete"}
_DIAMOND = ((0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5))
_STROKES = {
    # Beginning and end of each stroke, in parts of the shape's side.
    "out": (((0.3, 0.3), (0.7, 0.7)), ((0.7, 0.3), (0.3, 0.7))),
    "kept": (((0.5, 0.28), (0.5, 0.56)), ((0.5, 0.70), (0.5, 0.74))),
    "skipped": (((0.28, 0.5), (0.72, 0.5)),),
}


def draw_check(painter: QPainter, place: QRectF, state: str, colour: QColor | None = None) -> None:
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


class CheckMark(WordedMark):
    """Where one check stands, as shape and word."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(dict[str, str](STATE_WORDS.items()), draw_check, "open", parent)
