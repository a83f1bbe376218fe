"""Find the known sheets and columns in the tables that were read, and name each row and cell."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from core.exchange.cells import is_example, nearest
from core.exchange.layout import (
    FIELD_HEADING,
    SHEETS,
    VALUE_HEADING,
    Column,
    Sheet,
    heading_unit,
    plain_heading,
    sheet_titled,
)
from core.exchange.reading import BadCell, Cell, Table, blank, time_told

_MIN_KNOWN = 2


@dataclass(frozen=True, slots=True)
class Row:
    """One row to import: its cells that are not blank, by the label of their column.

    ``units`` holds the units in brackets in the headings, by the same labels; where the fields go
    down the sheet, ``numbers`` holds the number of each field's row.
    """

    sheet: Sheet
    cells: Mapping[str, Cell]
    units: Mapping[str, str]
    number: int = 0
    numbers: Mapping[str, int] = field(default_factory=dict)

    def place(self, column: Column | None = None) -> str:
        """Where the row, or one cell of it, stands in the spreadsheet."""
        label = column.label if column else ""
        row = f"{self.sheet.title}, row {self.numbers.get(label, self.number)}"
        return f"{row}, column {label}" if label else row

    def text(self, column: Column) -> str:
        """The text of a cell; blank for a cell that holds no text."""
        cell = self.cells.get(column.label, "")
        if isinstance(cell, datetime.date):
            return cell.isoformat() if column.field.sort == "date" else ""
        return cell if isinstance(cell, str) else ""


@dataclass(slots=True)
class Matched:
    """What was found: the rows of each sheet, every fault, and how many rows were examples."""

    rows: dict[str, list[Row]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)
    examples: int = 0


def match_tables(tables: Sequence[Table]) -> Matched:
    """Tell which known sheet each table is, and which known column each of its cells is in.

    Parameters
    ----------
    tables : sequence of Table
        As they were read

    Returns
    -------
    Matched
        Rows by title of the sheet, with a fault for each unknown sheet or column, heading that
        stands twice, value without a heading, and cell that cannot be taken
    """
    matched = Matched()
    for table in tables:
        sheet = sheet_titled(table.title) or (_by_headings(table) if len(tables) == 1 else None)
        if sheet is None:
            known = nearest(table.title, [entry.title for entry in SHEETS])
            matched.faults.append(f"{table.title}: there is no sheet of this name.{known}")
        elif sheet.title in matched.rows:
            matched.faults.append(f"{table.title}: this sheet is there twice.")
        else:
            matched.rows[sheet.title] = []
            (_match_down if sheet.down else _match_rows)(sheet, table, matched)
    return matched


def _by_headings(table: Table) -> Sheet | None:
    """The sheet of a lone table whose name says nothing, by the most headings that are known."""
    headings = {plain_heading(cell) for cell in table.rows[0][1] if isinstance(cell, str)}
    fitting = [
        sheet
        for sheet in SHEETS
        if not sheet.down
        and all(plain_heading(c.label) in headings for c in sheet.key_columns[:1])
        and len(headings & sheet.by_heading.keys()) >= _MIN_KNOWN
    ]
    return max(fitting, key=lambda s: len(headings & s.by_heading.keys()), default=None)


def _match_rows(sheet: Sheet, table: Table, matched: Matched) -> None:
    heading_row, headings = table.rows[0]
    columns = _match_headings(sheet, heading_row, headings, matched.faults)
    units = {column.label: heading_unit(str(headings[place])) for place, column in columns.items()}
    for number, cells in table.rows[1:]:
        if isinstance(cells[0], str) and is_example(cells[0]):
            matched.examples += 1
            continue
        held: dict[str, Cell] = {}
        for place, cell in enumerate(cells):
            if blank(cell):
                continue
            if place in columns:
                held[columns[place].label] = cell
            elif place >= len(headings) or blank(headings[place]):
                matched.faults.append(
                    f"{sheet.title}, row {number}, cell {place + 1}: there is no heading above it."
                )
        _keep(Row(sheet, held, units, number), matched)


def _match_headings(
    sheet: Sheet, number: int, headings: Sequence[Cell], faults: list[str]
) -> dict[int, Column]:
    columns: dict[int, Column] = {}
    for place, cell in enumerate(headings):
        if blank(cell):
            continue
        text = cell if isinstance(cell, str) else ""
        column = sheet.by_heading.get(plain_heading(text))
        where = f"{sheet.title}, row {number}, column {text or place + 1}"
        if column is None:
            known = nearest(plain_heading(text), [entry.label for entry in sheet.columns])
            faults.append(f"{where}: there is no column of this name.{known}")
        elif column in columns.values():
            faults.append(f"{where}: this column is there twice.")
        else:
            columns[place] = column
    return columns


def _match_down(sheet: Sheet, table: Table, matched: Matched) -> None:
    number, headings = table.rows[0]
    wanted = [plain_heading(FIELD_HEADING), plain_heading(VALUE_HEADING)]
    if [plain_heading(str(cell)) for cell in headings[:2]] != wanted:
        matched.faults.append(
            f"{sheet.title}, row {number}: the headings have to be "
            f"{FIELD_HEADING} and {VALUE_HEADING}."
        )
        return
    cells: dict[str, Cell] = {}
    numbers: dict[str, int] = {}
    units: dict[str, str] = {}
    for number, row in table.rows[1:]:
        text = str(row[0])
        column = sheet.by_heading.get(plain_heading(text))
        if column is None:
            known = nearest(plain_heading(text), [entry.label for entry in sheet.columns])
            matched.faults.append(f"{sheet.title}, row {number}: no field '{text}'.{known}")
        elif column.label in numbers:
            matched.faults.append(f"{sheet.title}, row {number}: {text} is there twice.")
        else:
            numbers[column.label] = number
            units[column.label] = heading_unit(text)
            if len(row) > 1 and not blank(row[1]):
                cells[column.label] = row[1]
    _keep(Row(sheet, cells, units, numbers=numbers), matched)


def _keep(row: Row, matched: Matched) -> None:
    if row.cells:
        matched.rows[row.sheet.title].append(row)
        matched.faults += _bad_cells(row)


def _bad_cells(row: Row) -> list[str]:
    faults = []
    for column in row.sheet.columns:
        cell = row.cells.get(column.label)
        if isinstance(cell, BadCell):
            faults.append(f"{row.place(column)}: {cell.why}")
        elif isinstance(cell, datetime.date) and column.field.sort != "date":
            faults.append(f"{row.place(column)}: {time_told(cell)}")
    return faults
