"""Read the tables of a spreadsheet file, whatever it was saved by, as plain texts.

What a spreadsheet program has made of a cell is undone where that is safe (a number is its
digits, a share is in per cent) and marked as a bad cell where it is not (a fraction that became a
date).
"""

import csv
import datetime
import io
import re
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from core.errors import ImportRefusedError, LinebookError
from core.exchange.layout import LISTS_TITLE, README_TITLE, SHEETS, plain_heading

LARGEST_FILE_BYTES = 50_000_000
LARGEST_UNPACKED_BYTES = 200_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 400
_LAST_SHEET_ROW = 1_048_576

_FIX = "Choose an XLSX file, a CSV file, or a folder of CSV files made from the template."
_NAME_FIX = "Check the name, and that you may read it."
_OTHER_CONTENT = {
    b"\xd0\xcf\x11\xe0": "It is protected by a password, or of the old XLS format.",
    b"%PDF": "It is a PDF.",
    b"SQLi": "It is a database; line files are opened, not imported.",
}
_NO_TABLES = {README_TITLE.casefold(), LISTS_TITLE.casefold()}


@dataclass(frozen=True, slots=True)
class BadCell:
    """A cell whose content cannot be taken, and why."""

    why: str


Cell = str | datetime.date | BadCell
"""What a cell holds: a text, a day, or something that cannot be taken."""


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet as it was read: its title, and its rows that are not blank, by row number."""

    title: str
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]


def read_tables(path: Path) -> tuple[Table, ...]:
    """Read every sheet of an XLSX file, a CSV file, or a folder of CSV files.

    Parameters
    ----------
    path : Path
        The file or folder

    Returns
    -------
    tuple of Table
        The sheets that are not empty; the pages that explain the template are left out

    Raises
    ------
    ImportRefusedError
        It is no spreadsheet, protected, damaged, or too large.
    LinebookError
        There is no such file, or it cannot be read.
    """
    try:
        if path.is_dir():
            return _read_folder(path)
        content = _content(path)
    except OSError as fault:
        why = f"{fault.strerror or fault}."
        raise LinebookError(f"{path.name} was not read.", why, _NAME_FIX) from None
    for start, why in _OTHER_CONTENT.items():
        if content.startswith(start):
            raise _refused(path, why, _FIX)
    if content.startswith(b"PK"):
        return tuple(_read_workbook(path, content))
    return _filled([_read_csv(path, content)])


def _content(path: Path) -> bytes:
    if path.stat().st_size > LARGEST_FILE_BYTES:
        raise _refused(path, f"It is larger than {LARGEST_FILE_BYTES // 1_000_000} MB.", _FIX)
    return path.read_bytes()


def _refused(path: Path, why: str, fix: str) -> ImportRefusedError:
    return ImportRefusedError(f"{path.name} was not read.", [why], fix)


def _filled(tables: Iterable[Table]) -> tuple[Table, ...]:
    return tuple(table for table in tables if table.rows)


# --- comma separated texts --------------------------------------------------------------------


def _read_folder(folder: Path) -> tuple[Table, ...]:
    files = sorted(entry for entry in folder.iterdir() if entry.suffix.casefold() == ".csv")
    if not files:
        raise _refused(folder, "There is no CSV file in this folder.", _FIX)
    return _filled(_read_csv(path, _content(path)) for path in files)


def _read_csv(path: Path, content: bytes) -> Table:
    text = _decoded(path, content)
    marked = re.match(r"sep=(.)\r?\n", text, re.IGNORECASE)
    body, lines_before = (text[marked.end() :], 1) if marked else (text, 0)
    delimiter = marked[1] if marked else _delimiter(body)
    reader = csv.reader(io.StringIO(body, newline=""), delimiter=delimiter, strict=True)
    rows = (tuple(cell.replace("\r\n", "\n") for cell in row) for row in reader)
    try:
        return Table(path.stem, tuple(_kept(path, enumerate(rows, 1 + lines_before))))
    except csv.Error as fault:
        row = reader.line_num + lines_before
        raise _refused(path, f"Line {row} is no line of a CSV file: {fault}.", _FIX) from None


def _decoded(path: Path, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise _refused(path, "It is neither a spreadsheet nor a text.", _FIX)


def _delimiter(text: str) -> str:
    """The sign that parts the headings into the most that are known, or else into the most."""
    known = {heading for sheet in SHEETS for heading in sheet.by_heading}

    def score(delimiter: str) -> tuple[int, int]:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        try:
            first = next((row for row in reader if any(row)), [])
        except csv.Error:
            return 0, 0
        return sum(plain_heading(cell) in known for cell in first), len(first)

    return max(",;\t", key=score)


# --- workbooks --------------------------------------------------------------------------------


def _read_workbook(path: Path, content: bytes) -> Iterator[Table]:
    has_formulas = _check_package(path, content)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # parts of a workbook that hold no cells
            yield from _filled(_sheets(path, content, has_formulas))
    except LinebookError:
        raise
    except Exception as fault:
        # The reader of workbooks fails in dozens of ways on a damaged one.
        raise _refused(path, f"Its content is damaged ({type(fault).__name__}).", _FIX) from fault


def _check_package(path: Path, content: bytes) -> bool:
    """Refuse what is no workbook or unpacks to too much; tell whether it holds formulas."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as package:
            parts = package.infolist()
            if sum(part.file_size for part in parts) > LARGEST_UNPACKED_BYTES:
                size = LARGEST_UNPACKED_BYTES // 1_000_000
                raise _refused(path, f"It unpacks to more than {size} MB.", _FIX)
            if any(part.flag_bits & 1 for part in parts):
                raise _refused(path, "It is protected by a password.", "Save it without one.")
            names = {part.filename for part in parts}
            if "xl/workbook.xml" not in names:
                raise _refused(path, "It is a package, but no XLSX workbook.", _FIX)
            sheets = [name for name in names if name.startswith("xl/worksheets/")]
            return any(re.search(rb"<f[ >/]", package.read(name)) for name in sheets)
    except (zipfile.BadZipFile, OSError, NotImplementedError, EOFError) as fault:
        raise _refused(path, "Its content is damaged.", _FIX) from fault


def _sheets(path: Path, content: bytes, has_formulas: bool) -> Iterator[Table]:
    from openpyxl import load_workbook

    values = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    formulas = load_workbook(io.BytesIO(content), read_only=True) if has_formulas else None
    for sheet in values.worksheets:
        if sheet.title.strip().casefold() in _NO_TABLES:
            continue
        sheet.reset_dimensions()  # the extent that a file claims for its sheets may be anything
        rows: Iterator[tuple[Cell, ...]] = (tuple(map(_cell, row)) for row in sheet.iter_rows())
        if formulas is not None:
            written = formulas[sheet.title]
            written.reset_dimensions()
            rows = map(_with_formulas, rows, written.iter_rows())
        yield Table(sheet.title, tuple(_kept(path, enumerate(rows, 1))))


def _cell(cell: Any) -> Cell:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(value, cell.number_format)
    if isinstance(value, datetime.datetime) and value.time() == datetime.time():
        return value.date()
    if isinstance(value, datetime.date | datetime.time | datetime.timedelta):
        return BadCell(time_told(value))
    if cell.data_type == "e":
        return BadCell(f"the cell holds the error {value}.")
    return _unescaped(str(value))


def _number(value: float, number_format: str) -> str:
    digits = Decimal(repr(value))
    if "%" in number_format:
        return f"{(digits * 100).normalize():f} %"
    return f"{digits:f}".removesuffix(".0") if abs(digits) < Decimal("1e15") else repr(value)


def time_told(value: object) -> str:
    """Why a date or time is not taken for another value."""
    return (
        f"the spreadsheet has made a date or time of it ({value}). "
        "Format the cell as text and type the value again."
    )


def _with_formulas(row: tuple[Cell, ...], written: Sequence[Any]) -> tuple[Cell, ...]:
    why = "the cell holds a formula without a result. Open the file in a spreadsheet and save it."
    empty = [
        cell == "" and getattr(formula, "data_type", "") == "f"
        for cell, formula in zip(row, written, strict=False)
    ]
    return tuple(
        BadCell(why) if bad else cell
        for cell, bad in zip(row, empty + [False] * (len(row) - len(empty)), strict=True)
    )


def _unescaped(text: str) -> str:
    # Workbooks write signs that XML cannot hold as _xHHHH_ (ECMA-376 part 1, 22.9.2.19).
    plain = re.sub("_x([0-9A-Fa-f]{4})_", lambda code: chr(int(code[1], 16)), text)
    return plain.replace("\r\n", "\n")


# --- both -------------------------------------------------------------------------------------


def _kept(
    path: Path, rows: Iterable[tuple[int, tuple[Cell, ...]]]
) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """The rows that are not blank, without the blank cells behind their last value."""
    kept = 0
    for number, row in rows:
        if number > _LAST_SHEET_ROW:
            raise _refused(path, "It has more rows than a spreadsheet can have.", _FIX)
        width = max((place for place, cell in enumerate(row, 1) if not blank(cell)), default=0)
        if not width:
            continue
        kept += 1
        if kept > MOST_ROWS or width > MOST_COLUMNS:
            raise _refused(
                path,
                f"It has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns.",
                "Import it in parts.",
            )
        yield number, row[:width]


def blank(cell: Cell) -> bool:
    """Whether a cell says nothing."""
    return isinstance(cell, str) and not cell.strip()
