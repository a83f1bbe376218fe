"""From the parts of a document to what reportlab sets on pages."""

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak, Paragraph, Spacer, Table

from core.sheets import document as doc
from core.sheets import pdf_style as look
from core.sheets.pdf_style import Pen, style

_HEADING_SIZES = {0: 19.0, 1: 14.0, 2: 10.0, 3: 8.0}
_ROOM_BELOW_HEADING = 30 * mm
_SMALL = 6.8
_SHORT_VALUE = 28


class Title(Paragraph):  # type: ignore[misc]
    """A heading that enters itself in the outline, and in the head of its pages."""

    def __init__(self, marked: str, look_of: Any, plain: str, outline: int | None) -> None:
        super().__init__(marked, look_of)
        self.plain, self.outline = plain, outline

    def draw(self) -> None:
        """Set the heading and its mark in the outline."""
        if self.outline is not None:
            _, top = self.canv.absolutePosition(0, self.height)
            key = f"title-{self.canv.getPageNumber()}-{top:.2f}"
            # Only this form of destination is right in every viewer that was tried.
            self.canv.bookmarkPage(key, fit="XYZ", left=0, top=top, zoom=0)
            self.canv.addOutlineEntry(self.plain, key, self.outline, closed=self.outline > 0)
        if self.outline == 0:
            self.canv.section = self.plain
        super().draw()


class Triangle(Flowable):  # type: ignore[misc]
    """The safety alert symbol of ANSI Z535.4: a triangle with an exclamation mark."""

    def __init__(self, size: float, ground: Any, mark: Any) -> None:
        super().__init__()
        self.width, self.height = size, size * math.sqrt(3) / 2
        self.ground, self.mark = ground, mark

    def draw(self) -> None:
        """Draw it as vectors."""
        canvas, width, height = self.canv, self.width, self.height
        canvas.setFillColor(self.ground)
        canvas.setStrokeColor(self.ground)
        canvas.setLineJoin(1)
        canvas.setLineWidth(width * 0.08)
        outline = canvas.beginPath()
        outline.moveTo(0, 0)
        outline.lineTo(width, 0)
        outline.lineTo(width / 2, height)
        outline.close()
        canvas.drawPath(outline, fill=1)
        canvas.setFillColor(self.mark)
        bar = canvas.beginPath()
        bar.moveTo(width * 0.44, height * 0.70)
        bar.lineTo(width * 0.56, height * 0.70)
        bar.lineTo(width * 0.53, height * 0.30)
        bar.lineTo(width * 0.47, height * 0.30)
        bar.close()
        canvas.drawPath(bar, stroke=0, fill=1)
        canvas.circle(width / 2, height * 0.17, width * 0.055, stroke=0, fill=1)


def title_block(document: doc.Document, pen: Pen) -> list[Any]:
    """The head of the first page."""
    place = " · ".join(part for part in (document.line_name, document.site) if part.strip())
    return [
        Paragraph(pen.marked(document.title), style("strong", size=_HEADING_SIZES[0])),
        Spacer(0, 1.5 * mm),
        pen.paragraph(place, size=11.0),
        pen.paragraph(document.subtitle, "quiet", size=9.0),
        Spacer(0, 4 * mm),
    ]


def section_title(section: doc.Section, pen: Pen) -> list[Any]:
    """The heading of a section; its words stand in the head of the pages that follow."""
    return [_title(section.title, 1, pen, outline=0), Spacer(0, 2 * mm)]


def flowables(part: doc.Part, width: float, pen: Pen) -> list[Any]:
    """What a part of a document becomes on paper of a given width [pt]."""
    return list(_MAKERS[type(part)](part, width, pen))


def _title(text: str, level: int, pen: Pen, outline: int | None = None) -> Title:
    look_of = style("strong", size=_HEADING_SIZES[level])
    return Title(pen.marked(text), look_of, pen.plain(text), outline)


def _heading(part: doc.Heading, _width: float, pen: Pen) -> Iterator[Any]:
    yield CondPageBreak(_ROOM_BELOW_HEADING)
    yield Spacer(0, 3.5 * mm if part.level < 3 else 2 * mm)
    yield _title(part.text, part.level, pen, 1 if part.bookmark else None)
    yield Spacer(0, 1.2 * mm)


def _paragraph(part: doc.Paragraph, _width: float, pen: Pen) -> Iterator[Any]:
    size = _SMALL + 0.4 if part.tone == "quiet" else look.SIZE
    yield pen.paragraph(part.text, part.tone, size=size)
    yield Spacer(0, 1.5 * mm)


def _caution(part: doc.Caution, width: float, pen: Pen) -> Iterator[Any]:
    ground, ink = look.SAFETY[part.level]
    word = Paragraph(
        f'<font color="{ink.hexval().replace("0x", "#")}">{pen.marked(part.signal_word.upper())}</font>',
        style("strong", size=9.5),
    )
    symbol = "" if part.level == "notice" else Triangle(4.6 * mm, ink, ground)
    text = [
        pen.paragraph(part.hazard, "strong"),
        pen.paragraph(f"{part.consequence} {part.avoidance}"),
    ]
    yield Table(
        [[symbol, word, text]],
        colWidths=[9 * mm, 27 * mm, width - 36 * mm],
        style=[
            ("BACKGROUND", (0, 0), (1, 0), ground),
            ("BOX", (0, 0), (-1, -1), 0.8, ground),
            ("VALIGN", (0, 0), (1, 0), "MIDDLE"),
            ("LEFTPADDING", (1, 0), (1, 0), 1 * mm),
            ("TOPPADDING", (0, 0), (-1, -1), 1.1 * mm),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.3 * mm),
        ],
        splitInRow=1,
    )
    yield Spacer(0, 1.4 * mm)


# --- entries with labels --------------------------------------------------------------------


def _key_values(part: doc.KeyValues, width: float, pen: Pen) -> Iterator[Any]:
    if not part.rows:
        return
    apart = part.columns == 1 and all(len(row.cell.with_unit) <= _SHORT_VALUE for row in part.rows)
    shares = (0.30, 0.18, 0.52) if apart and any(row.remark for row in part.rows) else (0.42, 0.58)
    if part.columns == 1 and len(shares) == 2:
        shares = (0.22, 0.78)
    blocks = [_block(row, len(shares) == 3, pen) for row in part.rows]
    high = math.ceil(len(blocks) / part.columns)
    blank = [""] * len(shares)
    rows = [
        [cell for block in blocks[index::high] for cell in block]
        + blank * (part.columns - len(blocks[index::high]))
        for index in range(high)
    ]
    yield Table(
        rows,
        colWidths=[width / part.columns * share for share in shares] * part.columns,
        style=_rules(0),
        splitInRow=1,
    )
    yield Spacer(0, 1.5 * mm)


def _block(row: doc.KeyValue, apart: bool, pen: Pen) -> list[Any]:
    value = _cell(row.cell, "left", True, pen)
    label = pen.paragraph(row.label, "quiet")
    remark = pen.paragraph(row.remark, "quiet", size=_SMALL) if row.remark else ""
    if apart:
        return [label, _cell(row.cell, "right" if row.cell.number is not None else "left", True, pen), remark]
    return [label, [value, remark] if remark else value]


# --- tables ---------------------------------------------------------------------------------


def _grid(part: doc.Grid, width: float, pen: Pen) -> Iterator[Any]:
    lead = part.heading_columns
    for key, rows in groupby(part.rows, key=lambda row: row[:lead]):
        if lead:
            words = "  ".join(cell.text for cell in key if cell.text)
            yield from _heading(doc.Heading(words, 2, bookmark=True), width, pen)
        yield _table(part, [row[lead:] for row in rows], width, pen)
        yield Spacer(0, 1.5 * mm)


def _table(
    part: doc.Grid, rows: Sequence[tuple[doc.Cell, ...]], width: float, pen: Pen
) -> Any:
    first = part.heading_columns + part.band_columns
    columns = part.columns[first:]
    total = sum(column.weight for column in columns)
    body: list[list[Any]] = [
        [pen.paragraph(column.heading, "strong", column.align, _SMALL) for column in columns]
    ]
    rules = _rules(1)
    for band, group in groupby(rows, key=lambda row: row[: part.band_columns]):
        if band:
            at = len(body)
            words = "  ".join(cell.text for cell in band)
            body.append([pen.paragraph(words, "quiet", size=_SMALL), *[""] * (len(columns) - 1)])
            rules += [
                ("SPAN", (0, at), (-1, at)),
                ("BACKGROUND", (0, at), (-1, at), look.BAND),
                ("NOSPLIT", (0, at), (-1, at + 1)),
            ]
        body += [
            [
                _cell(cell, column.align, column.units, pen)
                for cell, column in zip(row[part.band_columns :], columns, strict=True)
            ]
            for row in group
        ]
    return Table(
        body,
        colWidths=[width * column.weight / total for column in columns],
        style=rules,
        repeatRows=1,
        splitInRow=1,
    )


def _rules(header_rows: int) -> list[tuple[Any, ...]]:
    rules: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, header_rows), (-1, -1), 0.25, look.RULE),
        ("LEFTPADDING", (0, 0), (-1, -1), 1.2 * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), 1.2 * mm),
        ("TOPPADDING", (0, 0), (-1, -1), 0.55 * mm),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0.75 * mm),
    ]
    if header_rows:
        rules += [
            ("LINEBELOW", (0, 0), (-1, header_rows - 1), 0.9, look.ACCENT),
            ("VALIGN", (0, 0), (-1, header_rows - 1), "BOTTOM"),
        ]
    return rules


def _cell(cell: doc.Cell, align: doc.Align, with_unit: bool, pen: Pen) -> Any:
    text = cell.with_unit if with_unit else cell.text
    return pen.paragraph(text, cell.tone, align) if text else ""


def _page_break(_part: doc.PageBreak, _width: float, _pen: Pen) -> Iterator[Any]:
    yield PageBreak()


def _gap(_part: doc.Gap, _width: float, _pen: Pen) -> Iterator[Any]:
    yield Spacer(0, look.LEADING)


_MAKERS: dict[type, Callable[[Any, float, Pen], Iterator[Any]]] = {
    doc.Heading: _heading,
    doc.Paragraph: _paragraph,
    doc.Caution: _caution,
    doc.KeyValues: _key_values,
    doc.Grid: _grid,
    doc.PageBreak: _page_break,
    doc.Gap: _gap,
}
