"""Photographs on paper: side by side, each whole with its caption."""

import io
from collections.abc import Iterator
from typing import Any

from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, KeepTogether, Table

from core.sheets import document as doc
from core.sheets import pdf_style as look
from core.sheets.pdf_marks import Space
from core.sheets.pdf_text import Pen

_COLUMNS = 2
_GAP = 5 * mm
ROOM_OF_WORDS = 26 * mm
"""Left on half a page for a heading and the caption."""
_SHAPE = 3 / 4


class Dots(Flowable):  # type: ignore[misc]
    """One photograph, as large as fits into a box, at its left."""

    def __init__(self, content: bytes, width: float, height: float) -> None:
        super().__init__()
        self.image = ImageReader(io.BytesIO(content))
        across, down = self.image.getSize()
        scale = min(width / across, height / down)
        self.width, self.height = across * scale, down * scale

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size [pt]."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it, with a thin line around that shows where a pale one ends."""
        self.canv.drawImage(self.image, 0, 0, self.width, self.height)
        self.canv.setStrokeColor(look.RULE)
        self.canv.setLineWidth(0.4)
        self.canv.rect(0, 0, self.width, self.height)


def box_of(width: float) -> tuple[float, float]:
    """Width and height that each has at the most, on paper whose text is so wide [pt]."""
    wide = (width - _GAP * (_COLUMNS - 1)) / _COLUMNS
    return wide, min(wide * _SHAPE, look.frame_height(width) / 2 - ROOM_OF_WORDS)


def photographs(part: doc.Photographs, width: float, pen: Pen) -> Iterator[Any]:
    """Rows of photographs, two rows to a page at the least."""
    wide, high = box_of(width)
    for start in range(0, len(part.items), _COLUMNS):
        row = [_cell(item, wide, high, pen) for item in part.items[start : start + _COLUMNS]]
        row += [[] for _ in range(_COLUMNS - len(row))]
        table = Table(
            [row],
            colWidths=[wide + _GAP] * (_COLUMNS - 1) + [wide],
            style=[
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
                look.EMPTY_CELLS,
            ],
            splitInRow=look.SPLIT_ROWS,
        )
        yield KeepTogether([table])
        yield Space(0, 3 * mm)


def _cell(item: doc.Photograph, wide: float, high: float, pen: Pen) -> list[Any]:
    content = pen.photos.get(item.sha256)
    shown: Any = pen.paragraph(pen.say("photo_missing"), "strong")
    if content is not None:
        shown = Dots(content, wide, high)
    words = [pen.paragraph(item.caption, "strong")] if item.caption else []
    words += [pen.paragraph(item.remark, "quiet", size=look.SMALL)] if item.remark else []
    return [shown, Space(0, 1 * mm), *words]
