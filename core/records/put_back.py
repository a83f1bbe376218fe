"""What has to be set back at each drive, in the order in which its keypad shows it."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.model import Line
from core.records.comparing import Difference


@dataclass(frozen=True, slots=True)
class PutBack:
    """One setting of one drive: what it shows now, what it should show, and what it means."""

    tag: str
    code: str
    meaning: str
    unit: str
    now: str
    wanted: str


def put_back(difference: Difference) -> tuple[PutBack, ...]:
    """The settings to set back, drive by drive in keypad order.

    What was not read is left out, as nobody knows what it shows.
    """
    return tuple(_of_line(difference))


def _of_line(difference: Difference) -> Iterator[PutBack]:
    line = difference.before
    wanted = {(change.tag, change.code): change for change in _settings(difference)}
    for station in line.stations:
        for code in _keypad_order(line, station.tag, wanted):
            change = wanted[station.tag, code]
            meaning, unit = _listed(line, station.tag, code)
            yield PutBack(station.tag, code, meaning, unit, change.now, change.wanted)


@dataclass(frozen=True, slots=True)
class _Setting:
    tag: str
    code: str
    now: str
    wanted: str


def _settings(difference: Difference) -> Iterator[_Setting]:
    for change in difference.of("settings"):
        if change.table == "setting" and change.sort == "changed":
            yield _Setting(change.tag, change.field, change.now, change.was)


def _keypad_order(line: Line, tag: str, wanted: dict[tuple[str, str], _Setting]) -> list[str]:
    codes = [code for at, code in wanted if at == tag]
    station = line.station_tagged(tag)
    drive_type = line.drive_type(station.drive.drive_type_id) if station else None
    listed = [entry.code for entry in drive_type.listed_settings] if drive_type else []
    places = {code: place for place, code in enumerate(listed)}
    return sorted(codes, key=lambda code: places.get(code, len(places)))


def _listed(line: Line, tag: str, code: str) -> tuple[str, str]:
    station = line.station_tagged(tag)
    drive_type = line.drive_type(station.drive.drive_type_id) if station else None
    listed = drive_type.listed(code) if drive_type else None
    return (listed.meaning, listed.unit) if listed else ("", "")
