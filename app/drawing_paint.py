"""Draws a `Drawing` with Qt, in the colours of the present look or on paper."""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from importlib.resources import as_file, files
from types import MappingProxyType

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QPagedPaintDevice,
    QPageLayout,
    QPainter,
    QPen,
    QPolygonF,
)

from app.theme import Colours, colours
from core.errors import LinebookError
from core.sheets.drawing import Drawing, Group, Ink, Item, Round, Shape, Stroke, Words
from core.sheets.inks import PAPER_INKS

Inks = Mapping[Ink, QColor]

_FONT_FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
# Fonts have whole pixel sizes only; texts are drawn at this size and scaled.
_FONT_PIXELS = 20
_SERIES = {
    "light": ("#0072b2", "#b84a00", "#00805e", "#a1437f"),
    "dark": ("#56b4e9", "#ff9d66", "#3fcf9f", "#e59ac4"),
    "contrast": ("#004b76", "#8a0000", "#005a3c", "#5b2a86"),
}
"""Colours of charts in each look: hues of Okabe and Ito (2008), set off from their ground."""


def inks_of_look(look: Colours | None = None) -> Inks:
    """The inks of a look of the window; by default of the present one."""
    look = look or colours()
    name = "dark" if QColor(look.base).lightness() < 128 else "light"
    name = "contrast" if look.border_px > 1 else name
    one, two, three, four = _SERIES[name]
    values: dict[Ink, str] = {
        "ink": look.text,
        "quiet": look.muted,
        "faint": look.line if name != "contrast" else "#d0d0d0",
        "paper": look.base,
        "accent": look.accent,
        "blocker": look.wrong,
        # Words are set in it as well, for which that of the light look is a little too light.
        "fault": PAPER_INKS["fault"] if name == "light" else look.started,
        "advice": look.accent,
        "good": look.complete,
        "series_1": one,
        "series_2": two,
        "series_3": three,
        "series_4": four,
    }
    return {ink: QColor(value) for ink, value in values.items()}


def inks_on_paper() -> Inks:
    """The inks on white paper."""
    return {ink: QColor(value) for ink, value in PAPER_INKS.items()}


def paint_drawing(
    painter: QPainter, drawing: Drawing, inks: Inks, seen: QRectF | None = None
) -> None:
    """Draw with the painter's own transform, one unit for a point.

    Parameters
    ----------
    painter : QPainter
        Active painter; it is left as it was.
    drawing : Drawing
        What is drawn.
    inks : mapping
        Colour of each ink.
    seen : QRectF, optional
        Groups whose box lies outside of it are left out.
    """
    painter.save()
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    _paint(painter, drawing.items, inks, seen)
    painter.restore()


def print_drawings(drawings: Iterable[Drawing], device: QPagedPaintDevice) -> None:
    """Print drawings on a printer or into a PDF, each on a page of its own, lying if it is wide.

    Raises
    ------
    LinebookError
        The device takes no job.
    """
    painter = QPainter()
    for drawing in drawings:
        wide = drawing.width > drawing.height
        orientation = QPageLayout.Orientation
        device.setPageOrientation(orientation.Landscape if wide else orientation.Portrait)
        if not painter.isActive():
            if not painter.begin(device):
                raise LinebookError(
                    "Nothing was printed.",
                    "The printer took no job.",
                    "See that it is on and has paper.",
                )
        else:
            device.newPage()
        _print(painter, drawing, device)
    painter.end()


def _print(painter: QPainter, drawing: Drawing, device: QPagedPaintDevice) -> None:
    """One drawing at its own size, or smaller where the page is."""
    layout = device.pageLayout()
    room = layout.paintRect(QPageLayout.Unit.Point)
    scale = min(1.0, room.width() / drawing.width, room.height() / drawing.height)
    painter.save()
    painter.scale(device.logicalDpiX() / 72.0 * scale, device.logicalDpiY() / 72.0 * scale)
    paint_drawing(painter, drawing, inks_on_paper())
    painter.restore()


# --- items ----------------------------------------------------------------------------------


def _paint(painter: QPainter, items: Iterable[Item], inks: Inks, seen: QRectF | None) -> None:
    for item in items:
        if isinstance(item, Group):
            if seen is None or item.box is None or seen.intersects(QRectF(*item.box)):
                _paint(painter, item.items, inks, seen)
        else:
            _PAINTERS[type(item)](painter, item, inks)


def _stroke(painter: QPainter, item: Stroke, inks: Inks) -> None:
    pen = QPen(inks[item.ink], item.width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap if item.dash else Qt.PenCapStyle.RoundCap)
    if item.dash:
        # Qt counts dashes in widths of the line.
        pen.setDashPattern([length / item.width for length in item.dash])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in item.points]))


def _take_edge(painter: QPainter, item: Shape | Round, inks: Inks) -> None:
    pen = QPen(inks[item.ink], item.width) if item.ink else QPen(Qt.PenStyle.NoPen)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.setBrush(QBrush(inks[item.fill]) if item.fill else QBrush(Qt.BrushStyle.NoBrush))


def _shape(painter: QPainter, item: Shape, inks: Inks) -> None:
    _take_edge(painter, item, inks)
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in item.points]))


def _round(painter: QPainter, item: Round, inks: Inks) -> None:
    (x, y), radius = item.centre, item.radius
    place = QRectF(x - radius, y - radius, 2 * radius, 2 * radius)
    _take_edge(painter, item, inks)
    if abs(item.sweep) >= 360.0:
        painter.drawEllipse(place)
        return
    # Qt counts sixteenths of a degree, counter-clockwise.
    start, sweep = round(-16 * item.start), round(-16 * item.sweep)
    if item.fill:
        pen = painter.pen()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawChord(place, start, sweep)
        painter.setPen(pen)
    if item.ink:
        painter.drawArc(place, start, sweep)


def _words(painter: QPainter, item: Words, inks: Inks) -> None:
    font = _font(item.strong)
    painter.save()
    painter.translate(*item.at)
    painter.rotate(item.turn)
    painter.scale(item.size / _FONT_PIXELS, item.size / _FONT_PIXELS)
    painter.setFont(font)
    painter.setPen(inks[item.ink])
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[item.anchor]
    wide = QFontMetricsF(font).horizontalAdvance(item.text) if back else 0.0
    painter.drawText(QPointF(-back * wide, 0.0), item.text)
    painter.restore()


@cache
def _font(strong: bool) -> QFont:
    """The font whose widths the drawings were made with."""
    with as_file(files("core.sheets.fonts").joinpath(_FONT_FILES[strong])) as path:
        number = QFontDatabase.addApplicationFont(str(path))
    font = QFont(QFontDatabase.applicationFontFamilies(number))
    font.setPixelSize(_FONT_PIXELS)
    font.setBold(strong)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


_PAINTERS: Mapping[type[Item], Callable[..., None]] = MappingProxyType(
    {Stroke: _stroke, Shape: _shape, Round: _round, Words: _words}
)
