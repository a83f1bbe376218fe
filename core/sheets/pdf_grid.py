"""Tables on paper: widths of columns, rules, bands, cells."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Table

from core.sheets import document as doc
from core.sheets import pdf_style as look
from core.sheets.pdf_text import Pen

_PADDING = 2.6 * mm
_WIDEST, _WIDEST_WORD = 0.35, 1.8
_LONGEST_WORD = 40
_MEAN_SIGN = 0.55  # mean width of a sign of this font, of its size
_HEADING_SIZES = (look.SMALL, 6.4, 6.0, 5.6)
"""Sizes of headings [pt], the next one where words would be broken."""
_SLACK = 0.05
"""Rounding errors of widths [pt]."""
_TOGETHER = 3
"""Rows at the end of a table that no page break parts."""
_HIGHEST_END = 60 * mm
"""Height of so many rows up to which they are held together; less than half of any page."""
_WIDEST_SIGN = 1.1  # of its size: no sign of this font is wider but by little
_UNBROKEN = 14
"""Texts up to this length stay on one line where the paper is wide enough."""


class Rows(Table):  # type: ignore[misc]
    """A table that parts between its rows, and in a row only where that fills a page by itself.

    Left to itself it would begin its next row at the foot of the page, under a second header.
    """

    def split(self, width: float, height: float) -> list[Any]:
        """The table on two pages [pt]; nothing where it has to begin on the next page."""
        page = self.canv._pagesize[1] - look.TOP - look.BOTTOM
        self.splitInRow = look.SPLIT_ROWS if height > page - 1.0 else 0
        return list(super().split(width, height))


def column_widths(part: doc.Grid, width: float) -> list[float]:
    """Widths of the columns: no word is broken if it can be helped, long texts get the most."""
    first = part.heading_columns + part.band_columns
    columns = part.columns[first:]
    cells = [[row[at] for row in part.rows] for at in range(first, len(part.columns))]
    least = _least(columns, cells, width, _UNBROKEN, look.SMALL)
    for size in _HEADING_SIZES:
        if sum(least) > width:
            least = _least(columns, cells, width, 0, size)
    asked = [
        max(low, min(_usual_length(entry) * look.SIZE * _MEAN_SIGN + _PADDING, width * _WIDEST))
        for low, entry in zip(least, cells, strict=True)
    ]
    spare = width - sum(asked)
    if spare >= 0:
        total = sum(column.weight for column in columns)
        return [
            entry + spare * column.weight / total
            for entry, column in zip(asked, columns, strict=True)
        ]
    return _squeezed(least, asked, width)


def _least(
    columns: Sequence[doc.Column],
    cells: Sequence[Sequence[doc.Cell]],
    width: float,
    unbroken: int,
    heading: float,
) -> list[float]:
    """Widths below which words would be broken, or short texts of up to so many signs.

    ``heading`` is the size in which the headings are set [pt].
    """
    widest = width / len(columns) * _WIDEST_WORD
    return [
        min(
            max([_heading_word(column, heading), *(_word(cell, unbroken) for cell in entry)]),
            widest,
        )
        + _PADDING
        for column, entry in zip(columns, cells, strict=True)
    ]


def _heading_word(column: doc.Column, size: float) -> float:
    words = column.heading.split()
    return max((look.width_of(word, look.BOLD, size) for word in words), default=0.0)


def _heading_size(columns: Sequence[doc.Column], widths: Sequence[float]) -> float:
    """Largest size in which no word of a heading is broken; the smallest where all are [pt]."""

    def fits(size: float) -> bool:
        return all(
            _heading_word(column, size) <= width - _PADDING + _SLACK
            for column, width in zip(columns, widths, strict=True)
        )

    return next(filter(fits, _HEADING_SIZES), _HEADING_SIZES[-1])


def _word(cell: doc.Cell, unbroken: int) -> float:
    # A number and its unit stay together.
    return _longest_word(cell.with_unit, _UNBROKEN if cell.number is not None else unbroken)


def _usual_length(cells: Sequence[doc.Cell]) -> int:
    """Length that most of the texts keep to; a few long ones may take several lines."""
    lengths = sorted(len(cell.with_unit) for cell in cells)
    return lengths[int(0.85 * (len(lengths) - 1))] if lengths else 0


def _squeezed(least: list[float], asked: list[float], width: float) -> list[float]:
    """Less than was asked for, in proportion to what lies above the least."""
    over = sum(asked) - sum(least)
    share = max(width - sum(least), 0.0) / over if over else 0.0
    found = [low + (high - low) * share for low, high in zip(least, asked, strict=True)]
    return [entry * width / sum(found) for entry in found]


@lru_cache(maxsize=10_000)
def _longest_word(text: str, unbroken: int) -> float:
    """Width of the longest word, in bold so that it serves every tone [pt]."""
    words = [text] if len(text) <= unbroken else text.split()
    longest = max(words, key=len, default="")[:_LONGEST_WORD]
    return look.width_of(longest, look.BOLD, look.SIZE)


def set_table(
    part: doc.Grid, rows: Sequence[tuple[doc.Cell, ...]], widths: list[float], pen: Pen
) -> Any:
    """A table of some rows of a grid, which begin behind the columns that make its heading."""
    columns = part.columns[part.heading_columns + part.band_columns :]
    size = _heading_size(columns, widths)
    body: list[list[Any]] = [
        [pen.paragraph(column.heading, "strong", column.align, size) for column in columns]
    ]
    rules = rules_of(1)
    for band, found in groupby(rows, key=lambda row: row[: part.band_columns]):
        group = list(found)
        if band:
            rules += _band_rules(len(body), held=_is_low(group[0]))
            words = pen.paragraph("  ".join(cell.text for cell in band), "strong", size=look.SMALL)
            body.append([words, *[""] * (len(columns) - 1)])
        for row in group:
            cells = zip(row[part.band_columns :], columns, strict=True)
            body.append([set_cell(cell, col.align, col.units, pen) for cell, col in cells])
    rules += _ending_rules(len(body), rows, widths)
    return Rows(body, colWidths=widths, style=rules, repeatRows=1)


def _ending_rules(
    height: int, rows: Sequence[tuple[doc.Cell, ...]], widths: Sequence[float]
) -> list[tuple[Any, ...]]:
    """The last rows stay together, so that no single one begins a page under a header."""
    last = rows[-_TOGETHER:]
    high = sum(_lines_at_most(row, widths) for row in last) * look.LEADING
    if len(rows) <= _TOGETHER or high > _HIGHEST_END:
        return []
    return [("NOSPLIT", (0, height - len(last)), (-1, height - 1))]


def _lines_at_most(row: tuple[doc.Cell, ...], widths: Sequence[float]) -> int:
    """Lines that a row takes if all of its signs are wide ones."""
    columns = row[len(row) - len(widths) :]
    return max(
        sum(
            1 + int(len(line) * look.SIZE * _WIDEST_SIGN / max(width - _PADDING, 1.0))
            for line in cell.with_unit.split("\n")
        )
        for cell, width in zip(columns, widths, strict=True)
    )


def _band_rules(at: int, held: bool) -> list[tuple[Any, ...]]:
    rules: list[tuple[Any, ...]] = [
        ("SPAN", (0, at), (-1, at)),
        ("BACKGROUND", (0, at), (-1, at), look.BAND),
    ]
    return [*rules, ("NOSPLIT", (0, at), (-1, at + 1))] if held else rules


def _is_low(row: tuple[doc.Cell, ...]) -> bool:
    """Whether a row is sure to fit on a page, so that its band may be held to it."""
    return all(len(cell.text) <= 150 and cell.text.count("\n") < 10 for cell in row)


def rules_of(header_rows: int) -> list[tuple[Any, ...]]:
    """The thin lines and the room of every table, with a stronger line below its header."""
    rules: list[tuple[Any, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        look.EMPTY_CELLS,
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


def set_cell(cell: doc.Cell, align: doc.Align, with_unit: bool, pen: Pen) -> Any:
    """What stands in a cell; nothing, rather than a text without signs, where it is empty."""
    text = cell.with_unit if with_unit else cell.text
    return pen.paragraph(text, cell.tone, align) if text else ""
