"""Write pages of plain texts as one workbook or as a folder of CSV files.

Every cell is written as a text, so that no spreadsheet makes a date of ``1/2`` or runs a text
that begins with ``=``.
"""

import csv
import io
import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from core.errors import LinebookError
from core.exchange.cells import YES_NO, guard
from core.exchange.layout import (
    FIELD_HEADING,
    HINT_HEADING,
    LISTS_TITLE,
    README_TITLE,
    VALUE_HEADING,
    Column,
    Sheet,
    sheet_of,
)
from core.exchange.reading import MOST_ROWS
from core.units import System

WORKBOOK_SUFFIX = ".xlsx"
_TEXT_FORMAT = "@"
_NARROWEST, _WIDEST, _README_WIDTH = 12, 30, 100
# Signs that XML cannot hold, and texts that look like the escape for them.
_UNSAFE = re.compile("_(?=x[0-9A-Fa-f]{4}_)|[\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet to write: what it is, its headings, and its rows as texts."""

    sheet: Sheet
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...] = ()


def page_headings(sheet: Sheet, system: System) -> tuple[str, ...]:
    """The headings of a sheet."""
    if sheet.down:
        return (FIELD_HEADING, VALUE_HEADING, HINT_HEADING)
    return tuple(column.heading(system) for column in sheet.columns)


def write_pages(path: Path, pages: Sequence[Page], readme: Sequence[str]) -> tuple[Path, ...]:
    """Write pages as a workbook if the path ends in ``.xlsx``, or else as a folder of CSV files.

    Parameters
    ----------
    path : Path
        The workbook, or the folder, which is made if need be; files that are there are replaced
    pages : sequence of Page
        The sheets
    readme : sequence of str
        Lines of the page that explains the sheets

    Returns
    -------
    tuple of Path
        The files that were written

    Raises
    ------
    LinebookError
        The disk did not take a file.
    """
    try:
        if path.suffix.casefold() == WORKBOOK_SUFFIX:
            _replace(path, _workbook(pages, readme))
            return (path,)
        path.mkdir(parents=True, exist_ok=True)
        files = {f"{README_TITLE}.txt": "\r\n".join(readme) + "\r\n"}
        files |= {f"{page.sheet.title}.csv": _csv(page) for page in pages}
        for name, text in files.items():
            _replace(path / name, text.encode("utf-8-sig"))
        return tuple(path / name for name in files)
    except OSError as fault:
        raise LinebookError(
            f"{path.name} was not written.",
            f"{fault.strerror or fault}.",
            "Check the folder, its free space and its write protection.",
        ) from fault


def _replace(path: Path, content: bytes) -> None:
    partial = path.with_name(path.name + ".part")
    try:
        partial.write_bytes(content)
        os.replace(partial, path)
    finally:
        partial.unlink(missing_ok=True)


def _csv(page: Page) -> str:
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(page.headings)
    writer.writerows([guard(cell) for cell in row] for row in page.rows)
    return text.getvalue()


# --- the workbook -------------------------------------------------------------------------------


def _workbook(pages: Sequence[Page], readme: Sequence[str]) -> bytes:
    from openpyxl import Workbook

    book = Workbook()
    first = book.active
    first.title = README_TITLE
    first.column_dimensions["A"].width = _README_WIDTH
    for row, line in enumerate(readme, 1):
        _put(first, row, 1, line)
    lists = _choice_lists(pages)
    for page in pages:
        sheet = book.create_sheet(page.sheet.title)
        _fill(sheet, page)
        _add_validations(sheet, page.sheet, lists)
    _write_lists(book.create_sheet(LISTS_TITLE), lists)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _put(sheet: Any, row: int, column: int, text: str) -> Any:
    if not text:
        return None
    safe = _UNSAFE.sub(lambda sign: f"_x{ord(sign[0]):04X}_", text)
    cell = sheet.cell(row, column, safe)
    cell.data_type = "s"  # or a text such as "=1+1" would be a formula
    cell.number_format = _TEXT_FORMAT
    if guard(text) != text:
        cell.quotePrefix = True
    return cell


def _fill(sheet: Any, page: Page) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    bold, wrapped = Font(bold=True), Alignment(wrap_text=True, vertical="top")
    for place, heading in enumerate(page.headings, 1):
        cell = _put(sheet, 1, place, heading)
        cell.font, cell.alignment = bold, wrapped
        column = sheet.column_dimensions[get_column_letter(place)]
        column.width = min(max(len(heading), _NARROWEST), _WIDEST)
        column.number_format = _TEXT_FORMAT
    for number, row in enumerate(page.rows, 2):
        for place, text in enumerate(row, 1):
            _put(sheet, number, place, text)
    if page.sheet.down:
        sheet.column_dimensions["C"].width = _README_WIDTH
    sheet.freeze_panes = "A2" if page.sheet.down else "B2"


def _choice_lists(pages: Sequence[Page]) -> dict[tuple[str, ...], str]:
    """The lists of words to choose from, each with the place where it is written."""
    from openpyxl.utils import get_column_letter

    fields = [column.field for page in pages for column in page.sheet.columns]
    words = [tuple(field.choices.values()) for field in fields if field.sort == "choice"]
    words += [YES_NO]
    return {
        entry: f"{LISTS_TITLE}!${get_column_letter(n)}$1:${get_column_letter(n)}${len(entry)}"
        for n, entry in enumerate(dict.fromkeys(words), 1)
    }


def _write_lists(sheet: Any, lists: Mapping[tuple[str, ...], str]) -> None:
    for column, words in enumerate(lists, 1):
        for row, word in enumerate(words, 1):
            _put(sheet, row, column, word)
    sheet.sheet_state = "hidden"


def _add_validations(sheet: Any, layout: Sheet, lists: Mapping[tuple[str, ...], str]) -> None:
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    for place, column in enumerate(layout.columns, 1):
        source = _offered(column, lists)
        if not source:
            continue
        rule = DataValidation("list", formula1=source, allow_blank=True, showErrorMessage=True)
        rule.errorTitle, rule.error = column.label[:32], "Choose from the list."
        # A name may be written before the sheet that holds it is filled in.
        rule.errorStyle = "stop" if column.field.sort in ("choice", "flag") else "warning"
        letter = get_column_letter(place)
        rule.add(f"B{place + 1}" if layout.down else f"{letter}2:{letter}{MOST_ROWS + 1}")
        sheet.add_data_validation(rule)


def _offered(column: Column, lists: Mapping[tuple[str, ...], str]) -> str:
    """The cells from which a column's values are chosen; empty for a free column."""
    if column.field.sort == "choice":
        return lists[tuple(column.field.choices.values())]
    if column.field.sort == "flag":
        return lists[YES_NO]
    target = column.table if column.owner else column.field.target
    return f"'{sheet_of(target).title}'!$A$2:$A${MOST_ROWS + 1}" if target else ""
