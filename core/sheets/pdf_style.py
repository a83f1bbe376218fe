"""How paper looks: fonts, colours, sizes, and the cleaning of every text that goes on it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import as_file, files
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Paragraph

from core.sheets.cleaning import clean, markup
from core.sheets.document import Align, Document, Level, Tone
from core.sheets.words import Say, words_in

FONT, BOLD = "LinebookSans", "LinebookSans-Bold"
_FONT_FILES = {FONT: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
PAPERS: Mapping[str, tuple[float, float]] = {"a4": A4, "letter": LETTER}

INK = HexColor("#1a1a1a")
QUIET = HexColor("#666666")
RULE = HexColor("#d0d0d0")
BAND = HexColor("#f0f3f6")
ACCENT = HexColor("#0072b2")  # blue of Okabe and Ito

SIDE, TOP, BOTTOM = 16 * mm, 21 * mm, 18 * mm
SIZE, LEADING = 8.0, 10.2

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


def page_size(document: Document) -> tuple[float, float]:
    """Width and height of the paper [pt]."""
    size = PAPERS[document.paper]
    return landscape(size) if document.landscape else size


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


@dataclass(slots=True)
class Pen:
    """Makes paragraphs of untrusted text, and knows whether a sign had to be replaced."""

    say: Say
    has_glyph: frozenset[int]
    replaced: bool = field(default=False)

    @classmethod
    def of(cls, document: Document) -> "Pen":
        """For one document."""
        return cls(words_in(document.language), load_fonts())

    def plain(self, text: str) -> str:
        """The text on one line, as a font can draw it."""
        cleaned = clean(text, self.say).replace("\n", " ")
        return "".join(sign if self._can(sign) else "\ufffd" for sign in cleaned)

    def marked(self, text: str) -> str:
        """The text as markup that shows exactly this text."""
        shown = markup(clean(text, self.say), self._can)
        self.replaced = self.replaced or "\ufffd" in shown
        return shown

    def paragraph(
        self, text: str, tone: Tone = "plain", align: Align = "left", size: float = SIZE
    ) -> Any:
        """The text as a paragraph."""
        return Paragraph(self.marked(text), style(tone, align, size))

    def fitted(self, text: str, font: str, size: float, width: float) -> str:
        """The text on one line of a given width [pt]; what is cut says so."""
        whole = self.plain(text)
        shown, kept = whole, len(whole)
        while kept and pdfmetrics.stringWidth(shown, font, size) > width:
            kept = int(kept * 0.9)
            shown = whole[:kept].rstrip() + self.say("cut", count=len(whole))
        return shown

    def _can(self, sign: str) -> bool:
        return ord(sign) in self.has_glyph
