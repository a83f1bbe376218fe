"""Drawings on paper: vectors and real text, in the fonts of the sheets."""

import io
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from reportlab.graphics import renderPDF, shapes
from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from core.sheets import pdf_style as look
from core.sheets.cleaning import clean, printable
from core.sheets.drawing import Drawing, Ink, Item, Round, Shape, Stroke, Words
from core.sheets.inks import PAPER_INKS
from core.sheets.words import words_in

_INKS: Mapping[Ink, Color] = MappingProxyType(
    {ink: HexColor(value) for ink, value in PAPER_INKS.items()}
)
_SHRINK_AT_MOST = 0.75
"""A picture gives way to what stands above it on the page down to this share of its size."""


class _Drawing(shapes.Drawing):  # type: ignore[misc]
    # Else a font that is not embedded would be named in the file, though never used.
    initialFontName = look.FONT  # noqa: N815


def reportlab_drawing(
    drawing: Drawing, scale: float = 1.0, shown: Callable[[str], str] | None = None
) -> Any:
    """A drawing as reportlab takes it, to put on a canvas or among flowables.

    Parameters
    ----------
    drawing : Drawing
        What is drawn.
    scale : float
        Its size against the lengths it was made with.
    shown : callable, optional
        Makes of a text what the font can show; by default foreign signs are replaced.
    """
    shown = shown or _shown
    made = _Drawing(drawing.width * scale, drawing.height * scale)
    # y grows upwards on paper.
    turned = shapes.Group(transform=(scale, 0, 0, scale, 0, drawing.height * scale))
    for item in drawing.flat():
        turned.add(_MAKERS[type(item)](item, shown))
    made.add(turned)
    return made


def drawing_pdf(drawing: Drawing, scale: float = 1.0) -> bytes:
    """A drawing as a PDF of one page of just its size; equal drawings give equal bytes."""
    look.load_fonts()
    stream = io.BytesIO()
    size = drawing.width * scale, drawing.height * scale
    canvas = Canvas(stream, pagesize=size, invariant=1, initialFontName=look.FONT)
    canvas.setTitle(_shown(drawing.told.partition("\n")[0]))
    canvas.setCreator("Linebook")
    renderPDF.draw(reportlab_drawing(drawing, scale), canvas, 0, 0)
    canvas.save()
    return stream.getvalue()


class FittedDrawing(Flowable):  # type: ignore[misc]
    """A drawing under its caption, never larger than it was made, smaller where it has to be.

    Parameters
    ----------
    drawing : Drawing
        What is drawn.
    caption : flowable or None
        What stands above it, on the same page.
    room : float
        Height of the page that is left for both at best [pt].
    shown : callable
        Makes of a text what the font can show.
    yields : bool
        Whether it is made a little smaller to end a page.
    """

    def __init__(
        self,
        drawing: Drawing,
        caption: Any,
        room: float,
        shown: Callable[[str], str],
        yields: bool = True,
    ) -> None:
        super().__init__()
        self.yields = yields
        self.drawing, self.caption, self.room, self.shown = drawing, caption, room, shown
        self.caption_height = 0.0
        self.scale = 1.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Its size where so much is offered [pt]."""
        self.caption_height = self.caption.wrap(width, height)[1] if self.caption else 0.0
        free = self.room - self.caption_height
        self.scale = min(1.0, width / self.drawing.width, free / self.drawing.height)
        left = (height - self.caption_height) / self.drawing.height
        if self.yields and _SHRINK_AT_MOST * self.scale <= left < self.scale:
            self.scale = left
        self.width, self.height = width, self.caption_height + self.drawing.height * self.scale
        return self.width, self.height

    def draw(self) -> None:
        """Draw both."""
        below = self.drawing.height * self.scale
        renderPDF.draw(reportlab_drawing(self.drawing, self.scale, self.shown), self.canv, 0, 0)
        if self.caption:
            self.caption.drawOn(self.canv, 0, below)


# --- items ----------------------------------------------------------------------------------


def _stroke(item: Stroke, _shown: Callable[[str], str]) -> Any:
    return shapes.PolyLine(
        [ordinate for x, y in item.points for ordinate in (x, -y)],
        strokeColor=_INKS[item.ink],
        strokeWidth=item.width,
        strokeDashArray=list(item.dash) or None,
        strokeLineJoin=1,
        strokeLineCap=0 if item.dash else 1,
    )


def _edge(item: Shape | Round) -> dict[str, Any]:
    return {
        "fillColor": _INKS[item.fill] if item.fill else None,
        "strokeColor": _INKS[item.ink] if item.ink else None,
        "strokeWidth": item.width,
        "strokeLineJoin": 1,
    }


def _shape(item: Shape, _shown: Callable[[str], str]) -> Any:
    points = [ordinate for x, y in item.points for ordinate in (x, -y)]
    return shapes.Polygon(points, **_edge(item))


def _round(item: Round, _shown: Callable[[str], str]) -> Any:
    (x, y), look_of = item.centre, _edge(item)
    if abs(item.sweep) >= 360.0:
        return shapes.Circle(x, -y, item.radius, **look_of)
    # Clockwise with y down is counter-clockwise with y up, from the other end.
    low, high = sorted((-item.start, -item.start - item.sweep))
    arc = shapes.ArcPath(**{**look_of, "fillColor": None})
    arc.addArc(x, -y, item.radius, low, high)
    if not item.fill:
        return arc
    # Only a closed path is filled (reportlab 5.1), and its chord is not to be drawn.
    segment = shapes.ArcPath(**{**look_of, "strokeColor": None})
    segment.addArc(x, -y, item.radius, low, high)
    segment.closePath()
    return shapes.Group(segment, arc)


def _words(item: Words, shown: Callable[[str], str]) -> Any:
    text = shapes.String(
        0,
        0,
        shown(item.text),
        fontName=look.BOLD if item.strong else look.FONT,
        fontSize=item.size,
        textAnchor=item.anchor,
        fillColor=_INKS[item.ink],
    )
    place = shapes.Group(text)
    place.translate(item.at[0], -item.at[1])
    if item.turn:
        place.rotate(-item.turn)
    return place


def _shown(text: str) -> str:
    return printable(clean(text, words_in("en")), look.load_fonts()).replace("\n", " ")


_MAKERS: Mapping[type[Item], Callable[[Any, Callable[[str], str]], Any]] = MappingProxyType(
    {Stroke: _stroke, Shape: _shape, Round: _round, Words: _words}
)
