"""Which sheets a spreadsheet of a line has, and which columns each sheet has.

Everything but the sheets' titles comes from the declarations of the records, so a field that is
declared is at once a column of the template, of the import and of the export.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from core.model import RECORDS, FieldSpec, Line
from core.units import System, unit_of

README_TITLE = "Read me"
LISTS_TITLE = "Lists"
FIELD_HEADING, VALUE_HEADING, HINT_HEADING = "Field", "Value", "What it is"

# Made by the program from another column, so no column of their own.
_DERIVED = {("setting", "value")}


@dataclass(frozen=True)
class Column:
    """One column: a field of a record of the row, or the name of the record that holds the row.

    Attributes: ``table`` is the record that the field belongs to; ``label`` is the heading
    without its unit; an ``owner`` column names a record that stands on another sheet.
    """

    table: str
    field: FieldSpec
    label: str
    owner: bool = False

    def heading(self, system: System) -> str:
        """The heading, with the unit of a bare number in square brackets."""
        unit = unit_of(self.field.kind, system) if self.field.sort == "quantity" else ""
        return f"{self.label} [{unit}]" if unit else self.label

    @property
    def typed(self) -> str:
        """Name of the field that keeps the text of this quantity as typed; empty without one."""
        return typed_beside(self.table, self.field.name)


@dataclass(frozen=True)
class Sheet:
    """One sheet: a table of records, with what each record holds exactly once beside it.

    Attributes: ``table`` is the record of a row; ``keys`` are the fields by which a row meets the
    record that is there already; ``owner`` is the table of the record, named in the first column,
    that holds it; ``parts`` are further records of the row; a sheet that goes ``down`` has one
    record, with a row for each field.
    """

    title: str
    table: str
    keys: tuple[str, ...] = ()
    owner: str = ""
    parts: tuple[str, ...] = ()
    down: bool = False

    @cached_property
    def columns(self) -> tuple[Column, ...]:
        """The columns in their order."""
        own = tuple(_columns_of(self.table, ""))
        parts = (_columns_of(part, f"{RECORDS[part].label}: ") for part in self.parts)
        head = (_owner_column(self.owner),) if self.owner else ()
        return head + own + tuple(column for part in parts for column in part)

    @cached_property
    def by_heading(self) -> Mapping[str, Column]:
        """Each column by its heading in plain form."""
        return {plain_heading(column.label): column for column in self.columns}

    @property
    def key_columns(self) -> tuple[Column, ...]:
        """The columns without which a row cannot be placed."""
        needed = [column for column in self.columns if column.owner]
        needed += [c for c in self.columns if c.table == self.table and c.field.name in self.keys]
        return tuple(needed)


APART = frozenset({"photo"})
"""Tables without a sheet: photographs do not travel in a spreadsheet."""

_STATION_PARTS = ("motor", "drive", "speed_reference", "controls", "drivetrain", "process")

SHEETS: tuple[Sheet, ...] = (
    Sheet("Line", "line", down=True),
    Sheet("People", "person", ("name",)),
    Sheet("Instruments", "instrument", ("name", "serial")),
    Sheet("Supplies", "supply", ("name",)),
    Sheet("Enclosures", "enclosure", ("name",)),
    Sheet("Buses", "bus", ("name",)),
    Sheet("Drive types", "drive_type", ("name",)),
    Sheet("Terminals", "terminal", ("designation",), "drive_type"),
    Sheet("Reference inputs", "reference_input", ("name",), "drive_type"),
    Sheet("Listed settings", "listed_setting", ("code",), "drive_type"),
    Sheet("Stations", "station", ("tag",), parts=_STATION_PARTS),
    Sheet("More motors", "motor", ("tag",), "station"),
    Sheet("Settings", "setting", ("code",), "station"),
    Sheet("Digital inputs", "digital_input", ("terminal",), "station"),
    Sheet("Outputs", "output", ("terminal",), "station"),
    Sheet("Presets", "preset", ("name",), "station"),
    Sheet("Cables", "cable", ("run",), "station"),
    Sheet("Recipes", "recipe", ("name",)),
    Sheet("Own speeds", "recipe_speed", ("station_id",), "recipe"),
    Sheet("Flow", "flow", ("from_station_id", "to_station_id")),
    Sheet("Pairs", "pair", ("name",)),
    Sheet("Accepted findings", "acceptance", ("mark",)),
    Sheet("Own checks", "own_check", ("name",)),
    Sheet("Checks", "check_result", ("name", "station_id")),
    Sheet("Calibration", "calibration_point", ("station_id", "state", "direction", "share")),
)
"""Every sheet, in the order in which they are read: what is named stands before who names it."""


def sheet_titled(title: str) -> Sheet | None:
    """The sheet of this title, case and outer spaces aside."""
    wanted = title.strip().casefold()
    return next((sheet for sheet in SHEETS if sheet.title.casefold() == wanted), None)


def sheet_of(table: str) -> Sheet:
    """The sheet on which records of this table stand."""
    return next(sheet for sheet in SHEETS if sheet.table == table)


def plain_heading(text: str) -> str:
    """A heading for comparison: without its unit in brackets, case and spare spaces.

    Examples
    --------
    >>> plain_heading("Motor:  Rated Power [kW]")
    'motor: rated power'
    """
    bare = re.sub(r"\[[^\]]*\]", "", text)
    return re.sub(r"\s*:\s*", ": ", " ".join(bare.split())).casefold()


def heading_unit(text: str) -> str:
    """The unit in brackets at the end of a heading; empty without one.

    Examples
    --------
    >>> heading_unit("Motor: Rated power [kW]")
    'kW'
    """
    found = re.search(r"\[([^\]]*)\]\s*$", text)
    return found[1].strip() if found else ""


def name_field(table: str) -> FieldSpec:
    """The field by which records of a table are named in other sheets."""
    return next(field for field in RECORDS[table].fields if field.unique)


@cache
def typed_beside(table: str, quantity: str) -> str:
    """Name of the field that keeps the text of a quantity as typed; empty where there is none."""
    fields = (field for field in RECORDS[table].fields if field.sort == "typed")
    return next((field.name for field in fields if field.label == quantity), "")


def child_name(table: str) -> str:
    """The attribute under which a record's holder holds it."""
    children = RECORDS[RECORDS[table].parent].children
    return next(child.name for child in children if child.table == table)


def owners(sheet: Sheet, line: Line) -> Iterable[Any]:
    """The records that hold the rows of a sheet: stations, drive types, or the line itself."""
    return getattr(line, child_name(sheet.owner)) if sheet.owner else (line,)


def records_of(sheet: Sheet, owner: Any) -> tuple[Any, ...]:
    """The records of a sheet that one owner holds."""
    if sheet.down:
        return (owner,)
    parent = RECORDS[sheet.table].parent
    holder = owner if parent in (sheet.owner, "line") else getattr(owner, child_name(parent))
    held: tuple[Any, ...] = getattr(holder, child_name(sheet.table))
    # The first motor stands in the row of its station.
    return held[1:] if sheet.table == "motor" else held


def part_of(table: str, record: Any) -> Any | None:
    """The record beside the main one of a row: the one that it holds, or the first of several."""
    held = getattr(record, child_name(table))
    return (held[0] if held else None) if isinstance(held, tuple) else held


def _columns_of(table: str, prefix: str) -> Iterable[Column]:
    for field in RECORDS[table].fields:
        if field.sort != "typed" and (table, field.name) not in _DERIVED:
            yield Column(table, field, prefix + field.label)


def _owner_column(table: str) -> Column:
    return Column(table, name_field(table), RECORDS[table].label, owner=True)
