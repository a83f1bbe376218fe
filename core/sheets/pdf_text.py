"""Every text that goes on paper: cleaned, and set on one line or several."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from reportlab.platypus import Flowable, Paragraph

from core.sheets import pdf_style as look
from core.sheets.cleaning import REPLACEMENT, clean, kept_together, markup, printable
from core.sheets.document import Align, Document, Tone
from core.sheets.photo_dots import photo_jpegs
from core.sheets.words import Say, words_in


class Words(Flowable):  # type: ignore[misc]
    """A text that is drawn at once where it fits on one line, and as a paragraph elsewhere.

    Most entries of a sheet are one short line, which a paragraph takes four times as long to set.
    """

    def __init__(self, shown: str, style: Any, rest: Any = None) -> None:
        super().__init__()
        self.shown, self.style, self.rest = shown, style, rest
        self.offered = 0.0
        self.paragraph: Any = None

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Size of the text where so much width is offered [pt]."""
        self.offered = width
        self.paragraph, self.width, self.height = None, width, self.style.leading
        if self.rest is not None or not self._fits(width):
            self.paragraph = self.rest or Paragraph(markup(kept_together(self.shown)), self.style)
            self.width, self.height = self.paragraph.wrap(width, height)
        return self.width, self.height

    def split(self, _width: float, height: float) -> list[Any]:
        """The text on two pages, where it has several lines.

        Notes
        -----
        A table asks for the split at another width than it asked for the size, and fails unless it
        gets two parts or none (reportlab 5.1); so the width that was offered before counts.
        """
        if self.paragraph is None:
            return []
        parts = self.paragraph.split(self.offered, height)
        if len(parts) != 2:
            return []
        return [Words("", self.style, part) for part in parts]

    def _fits(self, width: float) -> bool:
        style = self.style
        return "\n" not in self.shown and (
            look.width_of(self.shown, style.fontName, style.fontSize) <= width
        )

    def draw(self) -> None:
        """Set the text."""
        if self.paragraph is not None:
            self.paragraph.drawOn(self.canv, 0, 0)
            return
        style, canvas = self.style, self.canv
        canvas.setFont(style.fontName, style.fontSize)
        canvas.setFillColor(style.textColor)
        base = self.height - style.fontSize
        if style.alignment == look.RIGHT:
            canvas.drawRightString(self.width, base, self.shown)
        else:
            canvas.drawString(0, base, self.shown)


@dataclass(slots=True)
class Pen:
    """Makes paragraphs of untrusted text, and knows whether a sign had to be replaced.

    ``photos`` are the JPEGs of the document by their digest.
    """

    say: Say
    has_glyph: frozenset[int]
    photos: Mapping[str, bytes] = field(default_factory=dict)
    replaced: bool = field(default=False)

    @classmethod
    def of(cls, document: Document) -> "Pen":
        """For one document."""
        return cls(words_in(document.language), look.load_fonts(), photo_jpegs(document, "paper"))

    def plain(self, text: str) -> str:
        """The text on one line, as a font can draw it."""
        return self._shown(text).replace("\n", " ")

    def marked(self, text: str) -> str:
        """The text as markup that shows exactly this text."""
        return markup(self._shown(text))

    def paragraph(
        self, text: str, tone: Tone = "plain", align: Align = "left", size: float = look.SIZE
    ) -> Any:
        """The text as a paragraph."""
        return Words(self._shown(text), look.style(tone, align, size))

    def fitted(self, text: str, font: str, size: float, width: float) -> str:
        """The text on one line of a given width [pt]; what is cut says so."""
        whole = self.plain(text)
        shown, kept = whole, len(whole)
        while kept and look.width_of(shown, font, size) > width:
            kept = int(kept * 0.9)
            shown = whole[:kept].rstrip() + self.say("cut", count=len(whole))
        return shown

    def _shown(self, text: str) -> str:
        shown = printable(clean(text, self.say), self.has_glyph)
        self.replaced = self.replaced or REPLACEMENT in shown
        return shown
