"""Label sheets on paper: whole pages without head and foot, labels at their true places."""

from collections.abc import Iterator
from typing import Any

from reportlab.graphics import renderPDF
from reportlab.platypus import Flowable, PageBreak

from core.sheets import document as doc
from core.sheets.drawing import Drawing, Words
from core.sheets.label_sheet import label_pages
from core.sheets.pdf_drawing import reportlab_drawing
from core.sheets.pdf_text import Pen


class LabelPage(Flowable):  # type: ignore[misc]
    """One sheet of labels, as large as its page; it keeps head and foot off that page."""

    def __init__(self, drawing: Drawing, pen: Pen, title: str = "") -> None:
        super().__init__()
        self.drawing, self.title = drawing, pen.plain(title)
        self.width, self.height = drawing.width, drawing.height
        # Now, not when it is drawn: what has to be replaced is told further on in the document.
        texts = (item.text for item in drawing.flat() if isinstance(item, Words))
        self.shown = {text: pen.plain(text) for text in texts}

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size, whatever is offered [pt]."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the labels; the first sheet enters its title in the outline."""
        self.canv.bare = True
        if self.title:
            key = f"labels-{self.canv.getPageNumber()}"
            self.canv.bookmarkPage(key, fit="XYZ", left=0, top=self.height, zoom=0)
            self.canv.addOutlineEntry(self.title, key, 0, closed=False)
        made = reportlab_drawing(self.drawing, shown=self.shown.__getitem__)
        renderPDF.draw(made, self.canv, 0, 0)


def label_flowables(part: doc.Labels, pen: Pen, title: str) -> Iterator[Any]:
    """The sheets of a part, each on a page."""
    for number, drawing in enumerate(label_pages(part.grid, part.labels, part.first)):
        if number:
            yield PageBreak()
        yield LabelPage(drawing, pen, "" if number else title)
