"""The records of a station by their table, for finding, revealing, and proposing words."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from core.model import RECORDS, Line, Station

_HOLDERS: Mapping[str, Callable[[Station], Iterable[Any]]] = {
    "station": lambda station: (station,),
    "motor": lambda station: station.motors,
    "drive": lambda station: (station.drive,),
    "setting": lambda station: station.drive.settings,
    "speed_reference": lambda station: (station.reference,),
    "preset": lambda station: station.presets,
    "controls": lambda station: (station.controls,),
    "digital_input": lambda station: station.digital_inputs,
    "output": lambda station: station.outputs,
    "drivetrain": lambda station: (station.drivetrain,),
    "process": lambda station: (station.process,),
    "cable": lambda station: station.cables,
    "photo": lambda station: station.photos,
}
STATION_TABLES = tuple(_HOLDERS)
"""Every table that a station holds, itself first, in the order of its page."""


def records_of(station: Station, table: str) -> tuple[Any, ...]:
    """The records of one table that a station holds."""
    return tuple(_HOLDERS[table](station))


def all_records(station: Station) -> Iterator[tuple[str, Any]]:
    """Every record of a station with its table."""
    for table in STATION_TABLES:
        for record in records_of(station, table):
            yield table, record


def words_used(line: Line, table: str, field: str) -> list[str]:
    """What stands in a text field anywhere on the line, each once, in flow order."""
    found = (getattr(entry, field) for s in line.stations for entry in records_of(s, table))
    return list(dict.fromkeys(filter(None, found)))


def free_text_fields(table: str) -> list[str]:
    """The short text fields of a table for which words used elsewhere are worth proposing."""
    own = ("serial", "tag", "name", "notes")
    specs = RECORDS[table].fields
    return [f.name for f in specs if f.sort == "text" and not f.unique and f.name not in own]
