"""How paper looks: fonts, colours and sizes."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import as_file, files
from typing import Any

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from core.sheets.document import Align, Document, Level, Tone

# Streams as bytes and not as letters: the same in four fifths of the size, photographs above all.
rl_config.useA85 = 0

RIGHT = TA_RIGHT
FONT, BOLD = "LinebookSans", "LinebookSans-Bold"
_FONT_FILES = {FONT: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
PAPERS: Mapping[str, tuple[float, float]] = {"a4": A4, "letter": LETTER}

INK = HexColor("#1a1a1a")
QUIET = HexColor("#666666")
RULE = HexColor("#d0d0d0")
BAND = HexColor("#f0f3f6")
ACCENT = HexColor("#0072b2")  # blue of Okabe and Ito

# A table sets a cell without text as text of no length, in this font and height.
EMPTY_CELLS = ("FONT", (0, 0), (-1, -1), FONT, 1, 1)

# Rows higher than a page are split. The number is the least height of a part; with 1, a row that is
# higher than the page by less than that could neither be set nor split (reportlab 5.1).
SPLIT_ROWS = 1e-6

SIDE, TOP, BOTTOM = 15 * mm, 21 * mm, 18 * mm
SIZE, LEADING, SMALL = 8.0, 10.2, 6.8

# Safety colours of ANSI Z535.1 and ISO 3864-4 as nearest screen colours, from memory; with each
# the colour of the word on it.
SAFETY: Mapping[Level, tuple[Color, Color]] = {
    "danger": (HexColor("#c8102e"), HexColor("#ffffff")),
    "warning": (HexColor("#ff8200"), HexColor("#000000")),
    "caution": (HexColor("#ffd100"), HexColor("#000000")),
    "notice": (HexColor("#00539b"), HexColor("#ffffff")),
}


@cache
def load_fonts() -> frozenset[int]:
    """Make the fonts known; gives the code points that both can show.

    Notes
    -----
    Signs beyond the basic plane are left out though the fonts hold some: they are drawn, but the
    text cannot be copied or searched any more (reportlab 5.1).
    """
    shown = set(range(0x10000))
    for name, file in _FONT_FILES.items():
        with as_file(files("core.sheets.fonts").joinpath(file)) as path:
            font = TTFont(name, path)
        pdfmetrics.registerFont(font)
        shown &= set(font.face.charToGlyph)
    pdfmetrics.registerFontFamily(FONT, normal=FONT, bold=BOLD, italic=FONT, boldItalic=BOLD)
    return frozenset(shown)


def width_of(text: str, font: str, size: float) -> float:
    """Width of a text on one line [pt]."""
    return float(pdfmetrics.stringWidth(text, font, size))


def page_size(document: Document) -> tuple[float, float]:
    """Width and height of the paper [pt]."""
    size = PAPERS[document.paper]
    return landscape(size) if document.landscape else size


def frame_height(width: float) -> float:
    """Height between head and foot of the paper whose text is so wide [pt].

    Any other width counts as that of the lowest paper.
    """
    papers: list[tuple[float, float]] = [
        size for upright in PAPERS.values() for size in (upright, landscape(upright))
    ]
    of_width = [high for wide, high in papers if abs(wide - 2 * SIDE - width) < 1.0]
    return float((of_width or [min(high for _wide, high in papers)])[0] - TOP - BOTTOM)


@cache
def style(tone: Tone = "plain", align: Align = "left", size: float = SIZE) -> Any:
    """A paragraph style; the same object for the same wishes."""
    return ParagraphStyle(
        f"{tone}-{align}-{size}",
        fontName=BOLD if tone == "strong" else FONT,
        fontSize=size,
        leading=size * LEADING / SIZE,
        textColor=QUIET if tone == "quiet" else INK,
        alignment=TA_RIGHT if align == "right" else TA_LEFT,
    )


@cache
def signal_style(level: Level) -> Any:
    """The paragraph style of a signal word on its safety colour."""
    return ParagraphStyle(f"signal-{level}", style("strong", size=9.5), textColor=SAFETY[level][1])
