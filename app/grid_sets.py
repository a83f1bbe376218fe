"""The sets of columns that the grid offers."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.grid_columns import Column, FieldColumn
from app.grid_settings import setting_columns
from core.model import RECORDS, ChildSpec, Line


def _fields_of(*holders: str) -> Callable[[Line], Iterator[Column]]:
    """Columns for all fields of the records a station holds; an empty name is its own fields."""
    held = {child.name: child for child in RECORDS["station"].children}

    def columns(line: Line) -> Iterator[Column]:
        for holder in holders:
            child = held.get(holder)
            table = child.table if child else "station"
            for place in _places(line, child):
                for spec in RECORDS[table].fields:
                    if spec.sort != "typed":
                        yield FieldColumn(table, holder, spec, place)

    return columns


def _places(line: Line, child: ChildSpec | None) -> tuple[int | None, ...]:
    if child is None or not child.many:
        return (None,)
    return tuple(range(max((len(getattr(s, child.name)) for s in line.stations), default=1)))


@dataclass(frozen=True, slots=True)
class ColumnSet:
    """A set of columns to choose in the grid; ``lacking`` says why it may be empty."""

    key: str
    label: str
    columns: Callable[[Line], Iterator[Column]]
    lacking: str = ""


COLUMN_SETS = (
    ColumnSet(
        "settings",
        "Drive settings",
        setting_columns,
        "No station has a drive type with listed settings yet. Choose drive types under Drives.",
    ),
    ColumnSet("motors", "Motors", _fields_of("motors")),
    ColumnSet("drives", "Drives", _fields_of("drive")),
    ColumnSet("reference", "Speed reference", _fields_of("reference")),
    ColumnSet("controls", "Controls", _fields_of("controls")),
    ColumnSet("drivetrain", "Drivetrain", _fields_of("drivetrain", "process")),
    ColumnSet("station", "Station", _fields_of("")),
)
"""Every set of columns, in the order of the chooser."""
