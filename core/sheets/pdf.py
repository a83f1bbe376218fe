"""A document as PDF: real text in embedded fonts, an outline, page x of y on every page."""

import io
from collections.abc import Callable
from typing import Any

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
)

from core.sheets import pdf_style as look
from core.sheets.document import Document, Labels, Section
from core.sheets.pdf_labels import label_flowables
from core.sheets.pdf_parts import flowables, section_title, title_block
from core.sheets.pdf_style import page_size
from core.sheets.pdf_text import Pen
from core.sheets.writing import SheetCancelledError

Progress = Callable[[int, int], bool]


def pdf_bytes(document: Document, progress: Progress | None = None) -> bytes:
    """A document as the bytes of a PDF; equal documents give equal bytes.

    Parameters
    ----------
    document : Document
        What is written.
    progress : callable, optional
        Called with the pieces set so far and their number; gives False to stop.

    Raises
    ------
    SheetCancelledError
        ``progress`` said to stop.
    """
    pen = Pen.of(document)
    width, height = page_size(document)
    stream = io.BytesIO()
    template = BaseDocTemplate(
        stream,
        pagesize=(width, height),
        invariant=1,
        title=pen.plain(f"{document.title} – {document.line_name}"),
        author=pen.plain(document.site),
        subject=pen.plain(document.subtitle),
        creator="Linebook",
        lang=document.language,
        # Else a font that is not embedded would be named in the file, though never used.
        initialFontName=look.FONT,
    )
    template.addPageTemplates(_page_templates(width, height))
    story = _story(document, width - 2 * look.SIDE, pen)
    if progress is not None:
        template.setProgressCallBack(_teller(progress, len(story)))

    def canvas(*given: Any, **named: Any) -> _FramedCanvas:
        return _FramedCanvas(document, pen, *given, **named)

    template.build(story, canvasmaker=canvas)
    return stream.getvalue()


_TEXT, _BARE = "text", "bare"
"""Pages with head and foot, and pages that one part fills alone."""


def _page_templates(width: float, height: float) -> list[Any]:
    sides = {f"{side}Padding": 0 for side in ("left", "right", "top", "bottom")}
    inner = (look.SIDE, look.BOTTOM, width - 2 * look.SIDE, height - look.TOP - look.BOTTOM)
    # A little more than the page, so that what fills it never fails for a rounding error.
    whole = (0, -0.01, width + 0.01, height + 0.02)
    return [
        PageTemplate(_TEXT, frames=[Frame(*inner, **sides)]),
        PageTemplate(_BARE, frames=[Frame(*whole, **sides)]),
    ]


def _story(document: Document, width: float, pen: Pen) -> list[Any]:
    story = title_block(document, pen)
    for number, section in enumerate(document.sections_for("paper")):
        bare = _is_bare(section)
        if number or bare:
            story += [NextPageTemplate(_BARE if bare else _TEXT), PageBreak()]
        if bare:
            for part in section.parts:
                if isinstance(part, Labels):
                    story += label_flowables(part, pen, section.title)
            continue
        story += section_title(section, pen)
        for part in section.parts:
            story += flowables(part, width, pen)
    if pen.replaced:
        story += _replaced(document, pen)
    return story


def _is_bare(section: Section) -> bool:
    return any(isinstance(part, Labels) for part in section.parts)


def _replaced(document: Document, pen: Pen) -> list[Any]:
    """That signs were replaced; on a page of its own after labels."""
    told = pen.paragraph(pen.say("signs_replaced"), "quiet")
    sections = document.sections_for("paper")
    if sections and _is_bare(sections[-1]):
        return [NextPageTemplate(_TEXT), PageBreak(), told]
    return [told]


def _teller(progress: Progress, pieces: int) -> Callable[[str, int], None]:
    def tell(event: str, value: int) -> None:
        if event == "PROGRESS" and not progress(min(value, pieces), pieces):
            raise SheetCancelledError

    return tell


class _FramedCanvas(Canvas):  # type: ignore[misc]
    """Draws head and foot of each page when it is full.

    How many pages there are is known only at the end. So each page calls a form for its number,
    and all of these forms are drawn last.
    """

    section = ""
    bare = False
    """Whether head and foot stay off this page."""

    def __init__(self, document: Document, pen: Pen, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self.document, self.pen = document, pen

        self._begun: dict[str, int] = {}
        self._asked: dict[str, tuple[float, float]] = {}
        self._titles = {
            pen.plain(held.title) for held in document.sections_for("paper") if not _is_bare(held)
        }

    def begins(self, title: str) -> None:
        """Note that a section begins on this page."""
        if title not in self._begun:
            self._begun[title] = self.getPageNumber()
            self.bookmarkPage(_place(title))

    def lead_to(self, title: str, width: float, height: float) -> None:
        """Draw, at the right, the page on which a section begins, as a link to it [pt].

        The sections that follow are not set yet; so this calls a form that is drawn last.
        """
        if title in self._titles:
            self._asked[title] = width, height
            self.doForm(_place(title))
            self.linkRect("", _place(title), (0, 0, width, height), relative=1, thickness=0)

    def showPage(self) -> None:
        """Finish a page."""
        if not self.bare:
            self.saveState()
            if self.getPageNumber() > 1:
                self._head()
            self._foot()
            self.restoreState()
        self.bare = False
        super().showPage()

    def save(self) -> None:
        """Draw the page numbers and finish the file."""
        if len(self._code):
            self.showPage()
        pages = self.getPageNumber() - 1
        width = self._pagesize[0]
        for page in range(1, pages + 1):
            self.beginForm(_form(page), 0, 0, width, look.BOTTOM)
            self.setFont(look.FONT, 7)
            self.setFillColor(look.QUIET)
            words = self.pen.say("page_of", page=page, pages=pages)
            self.drawRightString(width - look.SIDE, 9 * mm, words)
            self.endForm()
        for title, (wide, high) in self._asked.items():
            self.beginForm(_place(title), 0, 0, wide, high)
            self.setFont(look.FONT, look.SIZE)
            self.setFillColor(look.INK)
            self.drawRightString(wide, high - look.SIZE, str(self._begun[title]))
            self.endForm()
        super().save()

    def _head(self) -> None:
        width, height = self._pagesize
        base, room = height - 13 * mm, (width - 2 * look.SIDE) / 2 - 4 * mm
        self.setFillColor(look.INK)
        self.setFont(look.BOLD, 8)
        name = self.pen.fitted(self.document.line_name, look.BOLD, 8, room)
        self.drawString(look.SIDE, base, name)
        self.setFont(look.FONT, 8)
        words = f"{self.document.title} · {self.section}"
        if look.width_of(words, look.FONT, 8) > room:
            words = self.section
        self.drawRightString(width - look.SIDE, base, self.pen.fitted(words, look.FONT, 8, room))
        self._rule(base - 2 * mm)

    def _foot(self) -> None:
        self._rule(13 * mm)
        self.setFillColor(look.QUIET)
        self.setFont(look.FONT, 7)
        self.drawString(look.SIDE, 9 * mm, self.pen.say("linebook"))
        self.drawCentredString(self._pagesize[0] / 2, 9 * mm, self.document.revision)
        self.doForm(_form(self.getPageNumber()))

    def _rule(self, height: float) -> None:
        self.setStrokeColor(look.RULE)
        self.setLineWidth(0.5)
        self.line(look.SIDE, height, self._pagesize[0] - look.SIDE, height)


def _place(title: str) -> str:
    """The name of the place where a section begins: signs that need no care in a PDF."""
    return f"begins-{title.encode().hex()}"


def _form(page: int) -> str:
    return f"page-number-{page}"
