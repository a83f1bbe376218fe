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
_UNBROKEN = 14
"""Texts up to this length stay on one line where the paper is wide enough."""


def column_widths(part: doc.Grid, width: float) -> list[float]:
    """Widths of the columns: no word is broken if it can be helped, long texts get the most."""
    first = part.heading_columns + part.band_columns
    columns = part.columns[first:]
    least, asked = [], []
    for at, column in enumerate(columns, start=first):
        texts = [row[at].with_unit for row in part.rows]
        words = [look.width_of(word, look.BOLD, look.SMALL) for word in column.heading.split()]
        need = max([*words, *map(_longest_word, texts)], default=0.0)
        whole = _usual_length(texts) * look.SIZE * _MEAN_SIGN
        least.append(min(need, width / len(columns) * _WIDEST_WORD) + _PADDING)
        asked.append(max(least[-1], min(whole + _PADDING, width * _WIDEST)))
    spare = width - sum(asked)
    if spare >= 0:
        total = sum(column.weight for column in columns)
        return [
            entry + spare * column.weight / total
            for entry, column in zip(asked, columns, strict=True)
        ]
    return _squeezed(least, asked, width)


def _usual_length(texts: Sequence[str]) -> int:
    """Length that most of the texts keep to; a few long ones may take several lines."""
    lengths = sorted(map(len, texts))
    return lengths[int(0.85 * (len(lengths) - 1))] if lengths else 0


def _squeezed(least: list[float], asked: list[float], width: float) -> list[float]:
    """Less than was asked for, in proportion to what lies above the least."""
    over = sum(asked) - sum(least)
    share = max(width - sum(least), 0.0) / over if over else 0.0
    found = [low + (high - low) * share for low, high in zip(least, asked, strict=True)]
    return [entry * width / sum(found) for entry in found]


@lru_cache(maxsize=10_000)
def _longest_word(text: str) -> float:
    """Width of the longest word, in bold so that it serves every tone [pt]."""
    words = [text] if len(text) <= _UNBROKEN else text.split()
    longest = max(words, key=len, default="")[:_LONGEST_WORD]
    return look.width_of(longest, look.BOLD, look.SIZE)


def set_table(
    part: doc.Grid, rows: Sequence[tuple[doc.Cell, ...]], widths: list[float], pen: Pen
) -> Any:
    """A table of some rows of a grid, which begin behind the columns that make its heading."""
    columns = part.columns[part.heading_columns + part.band_columns :]
    body: list[list[Any]] = [
        [pen.paragraph(column.heading, "strong", column.align, look.SMALL) for column in columns]
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
    return Table(body, colWidths=widths, style=rules, repeatRows=1, splitInRow=look.SPLIT_ROWS)


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
