"""Find a text anywhere in the line: tags, names, codes, serial numbers, terminals, notes."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from app.field_text import name_of
from app.station_records import all_records
from core.model import RECORDS, Line

MOST_FOUND = 60
_SORTS = ("text", "long_text")
_DULL = "unit"  # that of a listed setting, which nobody looks for and every second one has


@dataclass(frozen=True, slots=True)
class Found:
    """A field whose text was found; ``top`` is the record right below the line that holds it."""

    table: str
    record_id: int
    field: str
    top: tuple[str, int]
    where: str
    text: str


def find(line: Line, wanted: str) -> list[Found]:
    """The fields in which every word of a text occurs, in the order of the line.

    A word counts as well where it occurs in the place: ``ST03 serial`` finds the serial numbers
    of that station. Stations whose tag is the text come first.
    """
    words = wanted.casefold().split()
    if not words:
        return []
    found = []
    for place in _places(line):
        value = place.text.casefold()
        around = f"{place.where.casefold()} {value}"
        if any(word in value for word in words) and all(word in around for word in words):
            found.append(place)
    exact = wanted.strip().casefold()
    found.sort(key=lambda place: place.text.casefold() != exact)
    return found[:MOST_FOUND]


def _places(line: Line) -> Iterator[Found]:
    for station in line.stations:
        for table, record in all_records(station):
            yield from _of_record(table, record, station.tag, ("station", station.id))
    yield from _of_record("line", line, "Line", ("line", line.id))
    for child in RECORDS["line"].children:
        if child.table in ("station", "flow"):
            continue
        for record in getattr(line, child.name):
            place = f"{RECORDS[child.table].label} {name_of(record)}"
            top = (child.table, record.id)
            yield from _of_record(child.table, record, place, top)
            for held in RECORDS[child.table].children:
                for entry in getattr(record, held.name):
                    yield from _of_record(held.table, entry, place, top)


def _of_record(table: str, record: Any, holder: str, top: tuple[str, int]) -> Iterator[Found]:
    spec = RECORDS[table]
    for field in spec.fields:
        worth = field.sort in _SORTS and field.name != _DULL
        text = getattr(record, field.name) if worth else ""
        if text:
            where = " ".join(dict.fromkeys((holder, spec.label, field.label)))
            yield Found(table, record.id, field.name, top, where, text)
