"""Read present settings from a spreadsheet: one row for each setting, in whatever order.

Needed are a column of codes and one of values; the station stands in a column of its own, or is
the name of the sheet. Whatever cannot be taken is named with its place, and the rest is taken.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from core.errors import ImportRefusedError, InputError
from core.exchange.cells import nearest, short, unshield
from core.exchange.layout import heading_unit, plain_heading
from core.exchange.reading import BadCell, Cell, Table, blank, read_tables, time_told
from core.model import Line
from core.model.entry import is_bare
from core.readback.results import (
    Entry,
    PresentSettings,
    Wanted,
    gathered,
    not_read,
    refused,
    taken,
    wanted_of,
)
from core.units import parse_number

NOT_IN_TABLE = "The table has no row for it."
BLANK = "Its cell in the table is blank."

# What may stand above a column, in English and Spanish, compared without case.
HEADINGS: Mapping[str, frozenset[str]] = {
    "station": frozenset({"station", "station tag", "tag", "drive of", "estación", "estacion"}),
    "code": frozenset(
        {"code", "setting", "setting code", "drive setting", "parameter", "código", "codigo"}
        | {"ajuste", "parámetro", "parametro"}
    ),
    "value": frozenset(
        {"value", "present value", "value found", "as found", "found", "shown", "keypad shows"}
        | {"reading", "valor", "valor encontrado", "valor actual"}
    ),
    "unit": frozenset({"unit", "units", "unidad"}),
}
# Titles, dates and remarks may stand above the headings, but not more rows than these.
_HEADINGS_WITHIN = 15
_FIX = "Make a table with the headings Station, Code and Value."


@dataclass(frozen=True, slots=True)
class TableReading:
    """The settings that a table told, and every cell or row of it that was not taken."""

    settings: PresentSettings
    faults: tuple[str, ...]


def read_table(line: Line, path: Path) -> TableReading:
    """Read the present settings of a line from a spreadsheet.

    Parameters
    ----------
    line : Line
        The line, with the lists of its drive types
    path : Path
        An XLSX file, a CSV file, or a folder of CSV files

    Returns
    -------
    TableReading
        An entry for every setting of the line, and the faults, each with its sheet, row and
        column

    Raises
    ------
    ImportRefusedError
        It is no spreadsheet, or no sheet of it has a column of codes and one of values.
    LinebookError
        There is no such file, or it cannot be read.

    Notes
    -----
    A station's tag may stand in the first row of its settings only. A value may carry its unit,
    or have it in a column or heading of units. A spreadsheet that makes 1.1 of the code 1.10 is
    found out where the list has both.
    """
    lines = _Lines(line)
    for table in read_tables(path):
        lines.add(table)
    if not lines.had_headings:
        why = ["No sheet of it has a column of codes and a column of values."]
        raise ImportRefusedError(f"{path.name} was not read.", why, _FIX)
    return lines.told()


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the columns of a sheet are, and what stands above them."""

    places: Mapping[str, int]
    headings: Mapping[str, str]

    def cell(self, what: str, row: Sequence[Cell]) -> Cell:
        place = self.places.get(what, len(row))
        return row[place] if place < len(row) else ""


@dataclass(frozen=True, slots=True)
class _Row:
    """One row with a code or a value, before it is known what they mean."""

    sheet: str
    number: int
    station: str
    code: str
    value: Cell
    unit: str
    headings: Mapping[str, str]

    def place(self, what: str) -> str:
        heading = self.headings.get(what)
        column = f", column {heading}" if heading else ""
        return f"{self.sheet}, row {self.number}{column}"


@dataclass(slots=True)
class _Lines:
    """The rows of all sheets, and what they come to."""

    line: Line
    had_headings: bool = False
    rows: list[_Row] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def add(self, table: Table) -> None:
        """Take the rows of one sheet, if it has the headings."""
        for place, (number, cells) in enumerate(table.rows[:_HEADINGS_WITHIN]):
            columns = self._columns(f"{table.title}, row {number}", cells)
            if columns is not None:
                self.had_headings = True
                self.rows += self._rows(table, columns, place + 1)
                return
        self.faults.append(f"{table.title}: no row has the headings of a code and a value.")

    def _columns(self, where: str, cells: Sequence[Cell]) -> _Columns | None:
        headings = [cell if isinstance(cell, str) else "" for cell in cells]
        found: dict[str, list[int]] = {}
        for place, heading in enumerate(headings):
            for what, spellings in HEADINGS.items():
                if plain_heading(heading) in spellings:
                    found.setdefault(what, []).append(place)
        if not {"code", "value"} <= found.keys():
            return None
        for alike in found.values():
            if len(alike) > 1:
                both = " and ".join(f"'{headings[place]}'" for place in alike)
                why = f"{where}: the columns {both} can mean the same."
                raise ImportRefusedError("The table was not read.", [why], "Rename one of them.")
        places = {what: alike[0] for what, alike in found.items()}
        return _Columns(places, {what: headings[place] for what, place in places.items()})

    def _rows(self, table: Table, columns: _Columns, start: int) -> Iterator[_Row]:
        station = "" if "station" in columns.places else table.title
        for number, cells in table.rows[start:]:
            named = [_text(columns.cell(what, cells)) for what in ("station", "code", "unit")]
            station = named[0] or station
            value = columns.cell("value", cells)
            if not named[1] and blank(value):
                continue
            unit = named[2] or heading_unit(columns.headings["value"])
            yield _Row(table.title, number, station, named[1], value, unit, columns.headings)

    # --- what the rows mean ---------------------------------------------------------------------

    def told(self) -> TableReading:
        """The entries of all rows, with every fault."""
        names = _Names(self.line, self.rows)
        found: dict[tuple[int, str], tuple[_Row, Entry]] = {}
        for row in self.rows:
            try:
                wanted = names.meant(row)
            except InputError as fault:
                self.faults.append(f"{fault.what} {fault.why}")
                continue
            entry = self._entry(row, wanted)
            found[wanted.key] = self._one_of(found.get(wanted.key), row, entry)
        entries = (entry for _, entry in found.values())
        return TableReading(gathered(self.line, entries, NOT_IN_TABLE), tuple(self.faults))

    def _entry(self, row: _Row, wanted: Wanted) -> Entry:
        where = row.place("value")
        if not isinstance(row.value, str):
            why = row.value.why if isinstance(row.value, BadCell) else time_told(row.value)
            self.faults.append(f"{where}: {why}")
            return refused(wanted, "", f"{where}: {why}")
        if blank(row.value):
            return not_read(wanted, BLANK)
        entry = taken(wanted, _with_unit(unshield(row.value.strip()), row.unit, wanted))
        if entry.state == "refused":
            self.faults.append(f"{where}: {entry.reason}")
            return replace(entry, reason=f"{where}: {entry.reason}")
        return entry

    def _one_of(
        self, before: tuple[_Row, Entry] | None, row: _Row, entry: Entry
    ) -> tuple[_Row, Entry]:
        """The entry that holds where a setting stands in several rows."""
        if before is None or before[1].state == "not_read":
            return row, entry
        first, kept = before
        if entry.state == "not_read" or _same(kept, entry):
            return before
        why = (
            f"{row.place('value')}: '{_told(row.value)}', but '{_told(first.value)}' "
            f"in {first.place('')}."
        )
        self.faults.append(why)
        return row, replace(entry, state="refused", value=None, reason=why)


def _same(one: Entry, other: Entry) -> bool:
    both_read = one.state == other.state == "read"
    by_value = one.value is not None and one.value == other.value
    return both_read and (by_value or one.shown == other.shown)


class _Names:
    """The stations and settings of a line, found by what a spreadsheet made of their names."""

    def __init__(self, line: Line, rows: Sequence[_Row]) -> None:
        self._settings: dict[str, dict[str, Wanted]] = {one.tag: {} for one in line.stations}
        for wanted in wanted_of(line):
            self._settings[wanted.station.tag][wanted.code] = wanted
        self._tags = {row.station for row in rows}
        self._codes: dict[str, set[str]] = {}
        for row in rows:
            self._codes.setdefault(row.station, set()).add(row.code)

    def meant(self, row: _Row) -> Wanted:
        """The setting that a row means; InputError with the row's place if there is none."""
        tag = _meant(row.station, self._settings, self._tags, row.place("station"), "station")
        settings, codes = self._settings[tag], self._codes[row.station]
        return settings[_meant(row.code, settings, codes, row.place("code"), "code")]


def _meant(name: str, known: Iterable[str], beside: set[str], where: str, what: str) -> str:
    """The known name that a cell means.

    A spreadsheet makes 1.1 of 1.10 and 7 of 07. So a name can be any that would become it, save
    for those that stand in rows of their own.
    """
    if not name:
        raise InputError(f"{where}:", f"there is no {what}.", "")
    plain = name.replace(",", ".")
    exact = [one for one in known if one == name]
    alike = exact or [one for one in known if one.casefold() == name.casefold()]
    become = [one for one in known if one not in beside and _as_number(one) == plain]
    meant = list(dict.fromkeys(alike + become))
    if len(meant) == 1:
        return meant[0]
    if meant:
        names = " or ".join(meant)
        why = f"'{name}' can be {names}. Format the column as text and type it again."
    else:
        why = f"there is no {what} '{short(name)}'.{nearest(name, known)}"
    raise InputError(f"{where}:", why, "")


@lru_cache(maxsize=4096)
def _as_number(name: str) -> str:
    """What a spreadsheet makes of a name that looks like a number; empty for any other."""
    try:
        return f"{parse_number(name):.15g}"
    except InputError:
        return ""


def _with_unit(value: str, unit: str, wanted: Wanted) -> str:
    listed = wanted.listed
    says_something = any(sign.isalpha() or sign in "%°" for sign in unit)
    if listed is None or not listed.unit or listed.options or not says_something:
        return value
    return f"{value} {unit}" if is_bare(value) else value


def _text(cell: Cell) -> str:
    return unshield(cell.strip()) if isinstance(cell, str) else ""


def _told(cell: Cell) -> str:
    return short(cell) if isinstance(cell, str) else "a cell that cannot be taken"
