"""Write a whole line as a filled-in template, so that importing it gives the same line again."""

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any

from core.exchange.cells import EMPTY, shield, write_value
from core.exchange.layout import (
    SHEETS,
    Column,
    Sheet,
    name_field,
    owners,
    part_of,
    records_of,
)
from core.exchange.template import readme_lines
from core.exchange.workbook import Page, page_headings, write_pages
from core.model import Line
from core.units import System

_Names = Mapping[str, Mapping[int, str]]


def export_line(line: Line, path: Path, tables: Collection[str] = ()) -> tuple[Path, ...]:
    """Write a line as a spreadsheet.

    Parameters
    ----------
    line : Line
        The line
    path : Path
        An ``.xlsx`` file, or a folder for CSV files; both are made, or replaced where present
    tables : collection of str
        The tables whose sheets are wanted, such as ``own_check``; all without it

    Returns
    -------
    tuple of Path
        The files that were written

    Raises
    ------
    LinebookError
        The disk did not take a file.

    Notes
    -----
    Every value comes back exactly and every text sign by sign; nothing that was typed runs as a
    formula. Ids of records are not part of the spreadsheet, so a new file numbers them anew. A
    power that was typed with its unit is written as typed.
    """
    system: System = "us" if line.unit_system == "us" else "metric"
    names = {sheet.table: _names(sheet, line) for sheet in SHEETS if _is_named(sheet)}
    pages = [
        Page(sheet, page_headings(sheet, system), tuple(_rows(sheet, line, system, names)))
        for sheet in SHEETS
        if not tables or sheet.table in tables
    ]
    return write_pages(path, pages, readme_lines(system))


def _is_named(sheet: Sheet) -> bool:
    return not sheet.owner and any(column.field.unique for column in sheet.columns)


def _names(sheet: Sheet, line: Line) -> dict[int, str]:
    field = name_field(sheet.table).name
    return {entry.id: getattr(entry, field) for entry in records_of(sheet, line)}


def _rows(sheet: Sheet, line: Line, system: System, names: _Names) -> Iterator[tuple[str, ...]]:
    if sheet.down:
        for column in sheet.columns:
            cell = _cell(column, line, system, names)
            yield column.heading(system), cell, column.field.hint
        return
    count = 0
    for owner in owners(sheet, line):
        for record in records_of(sheet, owner):
            yield _row(sheet, owner, record, system, names)
            count += 1
    if sheet.table == "flow" and line.stations and not count:
        yield (EMPTY,)  # or the import would let each station feed the next


def _row(sheet: Sheet, owner: Any, record: Any, system: System, names: _Names) -> tuple[str, ...]:
    held = {part: part_of(part, record) for part in sheet.parts} | {sheet.table: record}
    cells = []
    for column in sheet.columns:
        source = owner if column.owner else held[column.table]
        cells.append("" if source is None else _cell(column, source, system, names))
    for part in sheet.parts:
        if held[part] is None:
            first = next(n for n, c in enumerate(sheet.columns) if c.table == part)
            cells[first] = EMPTY
    return tuple(cells) if any(cells) else (EMPTY, *cells[1:])


def _cell(column: Column, record: Any, system: System, names: _Names) -> str:
    field = column.field
    typed = getattr(record, column.typed) if column.typed else None
    value = getattr(record, field.name)
    known = names[field.target] if field.sort == "ref" else None
    return shield(write_value(field, value, system, typed=typed, names=known))
