"""From the parts of a document to what reportlab sets on pages."""

import math
from collections.abc import Callable, Iterator
from itertools import groupby
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, KeepTogether, PageBreak, Paragraph, Table

from core.sheets import document as doc
from core.sheets import pdf_style as look
from core.sheets.drawing import Words
from core.sheets.pdf_drawing import FittedDrawing
from core.sheets.pdf_grid import column_widths, rules_of, set_cell, set_table
from core.sheets.pdf_marks import PageOf, Space, Title, Triangle
from core.sheets.pdf_photos import ROOM_OF_WORDS, box_of, photographs
from core.sheets.pdf_style import style
from core.sheets.pdf_text import Pen

_HEADING_SIZES = {0: 19.0, 1: 14.0, 2: 10.0, 3: 8.0}
_ROOM_BELOW_HEADING = 30 * mm
_ROOM_OF_TITLE = 12 * mm
_ROOM_OF_NUMBER = 10 * mm
_SHORT_VALUE = 28
_WIDE, _FEW = 230 * mm, 4


def title_block(document: doc.Document, pen: Pen) -> list[Any]:
    """The head of the first page."""
    place = " · ".join(part for part in (document.line_name, document.site) if part.strip())
    return [
        Paragraph(pen.marked(document.title), style("strong", size=_HEADING_SIZES[0])),
        Space(0, 1.5 * mm),
        pen.paragraph(place, size=11.0),
        pen.paragraph(document.subtitle, "quiet", size=9.0),
        *([pen.paragraph(document.seal, "strong", size=9.0)] if document.seal else []),
        Space(0, 4 * mm),
    ]


def section_title(section: doc.Section, pen: Pen) -> list[Any]:
    """The heading of a section; its words stand in the head of the pages that follow."""
    return [_title(section.title, 1, pen, outline=0), Space(0, 2 * mm)]


def flowables(part: doc.Part, width: float, pen: Pen) -> list[Any]:
    """What a part of a document becomes on paper of a given width [pt]."""
    return list(_MAKERS[type(part)](part, width, pen))


def _title(text: str, level: int, pen: Pen, outline: int | None = None) -> Title:
    look_of = style("strong", size=_HEADING_SIZES[level])
    return Title(pen.marked(text), look_of, pen.plain(text), outline)


def _heading(part: doc.Heading, _width: float, pen: Pen) -> Iterator[Any]:
    yield CondPageBreak(_ROOM_BELOW_HEADING)
    yield Space(0, 3.5 * mm if part.level < 3 else 2 * mm)
    yield _title(part.text, part.level, pen, 1 if part.bookmark else None)
    yield Space(0, 1.2 * mm)


def _paragraph(part: doc.Paragraph, _width: float, pen: Pen) -> Iterator[Any]:
    size = look.SMALL + 0.4 if part.tone == "quiet" else look.SIZE
    yield pen.paragraph(part.text, part.tone, size=size)
    yield Space(0, 1.5 * mm)


def _caution(part: doc.Caution, width: float, pen: Pen) -> Iterator[Any]:
    ground, ink = look.SAFETY[part.level]
    word = Paragraph(pen.marked(part.signal_word.upper()), look.signal_style(part.level))
    symbol = "" if part.level == "notice" else Triangle(4.6 * mm, ink, ground)
    text = [
        pen.paragraph(part.hazard, "strong"),
        pen.paragraph(f"{part.consequence} {part.avoidance}"),
    ]
    message = Table(
        [[symbol, word, text]],
        colWidths=[9 * mm, 31 * mm, width - 40 * mm],
        style=[
            ("BACKGROUND", (0, 0), (1, 0), ground),
            ("BOX", (0, 0), (-1, -1), 0.8, ground),
            ("VALIGN", (0, 0), (1, 0), "MIDDLE"),
            look.EMPTY_CELLS,
            ("LEFTPADDING", (1, 0), (1, 0), 1 * mm),
            ("TOPPADDING", (0, 0), (-1, -1), 1.1 * mm),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.3 * mm),
        ],
        splitInRow=look.SPLIT_ROWS,
    )
    # Torn over two pages a safety message is missed; one that fills a page has to be.
    yield KeepTogether([message])
    yield Space(0, 1.4 * mm)


# --- entries with labels --------------------------------------------------------------------


def _key_values(part: doc.KeyValues, width: float, pen: Pen) -> Iterator[Any]:
    if not part.rows:
        return
    shares = _shares(part)
    columns = _columns(part, width)
    blocks = [_block(row, len(shares) == 3, pen) for row in part.rows]
    high = math.ceil(len(blocks) / columns)
    blocks += [[""] * len(shares)] * (high * columns - len(blocks))
    yield Table(
        [[cell for block in blocks[row::high] for cell in block] for row in range(high)],
        colWidths=[width / columns * share for share in shares] * columns,
        style=rules_of(0),
        splitInRow=look.SPLIT_ROWS,
    )
    yield Space(0, 1.5 * mm)


def _columns(part: doc.KeyValues, width: float) -> int:
    """On paper that lies, two columns have room for a third; a few rows stay as they are."""
    wide = part.columns == 2 and width > _WIDE and len(part.rows) > _FEW
    return 3 if wide else part.columns


def _shares(part: doc.KeyValues) -> tuple[float, ...]:
    """How label, value and remark, if it stands apart, share the width."""
    if part.columns > 1:
        return 0.47, 0.53
    short = all(len(row.cell.with_unit) <= _SHORT_VALUE for row in part.rows)
    return (0.30, 0.18, 0.52) if short and any(row.remark for row in part.rows) else (0.22, 0.78)


def _block(row: doc.KeyValue, apart: bool, pen: Pen) -> list[Any]:
    label = pen.paragraph(row.label, "quiet")
    remark = pen.paragraph(row.remark, "quiet", size=look.SMALL) if row.remark else ""
    align: doc.Align = "right" if apart and row.cell.number is not None else "left"
    value = set_cell(row.cell, align, True, pen)
    if apart:
        return [label, value, remark]
    return [label, [value, remark] if remark else value]


# --- tables ---------------------------------------------------------------------------------


def _grid(part: doc.Grid, width: float, pen: Pen) -> Iterator[Any]:
    lead = part.heading_columns
    widths = column_widths(part, width)
    for key, rows in groupby(part.rows, key=lambda row: row[:lead]):
        if lead:
            words = "  ".join(cell.text for cell in key if cell.text)
            yield from _heading(doc.Heading(words, 2, bookmark=True), width, pen)
        yield set_table(part, [row[lead:] for row in rows], widths, pen)
        yield Space(0, 1.5 * mm)


def _contents(part: doc.Contents, width: float, pen: Pen) -> Iterator[Any]:
    room = look.width_of(part.page, look.BOLD, look.SIZE) + _ROOM_OF_NUMBER
    of_table = column_widths(part.table, width - room)
    table = set_table(part.table, part.table.rows, of_table, pen)
    head = pen.paragraph(part.page, "strong", "right", look.SMALL)
    pages = [head, *(PageOf(pen.plain(title), look.LEADING) for title in part.begins)]
    body = [[*row, page] for row, page in zip(table._cellvalues, pages, strict=True)]
    yield Table(body, colWidths=[*of_table, room], style=rules_of(1), repeatRows=1)
    yield Space(0, 1.5 * mm)


def _picture(part: doc.Picture, width: float, pen: Pen) -> Iterator[Any]:
    caption = pen.paragraph(part.caption, "strong") if part.caption else None
    texts = (item.text for item in part.drawing.flat() if isinstance(item, Words))
    shown = {text: pen.plain(text) for text in texts}
    room = look.frame_height(width) - _ROOM_OF_TITLE
    yield FittedDrawing(part.drawing, caption, room, shown.__getitem__, part.yields)
    yield Space(0, 2 * mm)


def _photographs(part: doc.Photographs, width: float, pen: Pen) -> Iterator[Any]:
    if part.title:
        # Room for the first row too, so that it stays with its heading.
        yield CondPageBreak(box_of(width)[1] + ROOM_OF_WORDS)
        yield from _heading(doc.Heading(part.title, bookmark=True), width, pen)
    yield from photographs(part, width, pen)


def _page_break(_part: doc.PageBreak, _width: float, _pen: Pen) -> Iterator[Any]:
    yield PageBreak()


def _gap(_part: doc.Gap, _width: float, _pen: Pen) -> Iterator[Any]:
    yield Space(0, look.LEADING)


_MAKERS: dict[type, Callable[[Any, float, Pen], Iterator[Any]]] = {
    doc.Heading: _heading,
    doc.Paragraph: _paragraph,
    doc.Caution: _caution,
    doc.KeyValues: _key_values,
    doc.Grid: _grid,
    doc.Contents: _contents,
    doc.Picture: _picture,
    doc.Photographs: _photographs,
    doc.PageBreak: _page_break,
    doc.Gap: _gap,
}
