"""From what was read at the drives to a line: present settings in the place of those recorded."""

import dataclasses
import math
from typing import Any

from core.errors import InputError
from core.model import RECORDS, Drive, Line, Setting, Station
from core.model.fields import LONGEST_TEXT
from core.model.keypad import KeypadValue, factory_value, standing
from core.readback.results import Entry, PresentSettings


def with_present(line: Line, present: PresentSettings) -> Line:
    """A line with the settings that its drives have now.

    Parameters
    ----------
    line : Line
        As commissioned, or as it stands in the file.
    present : PresentSettings
        An entry for every setting of it.

    Notes
    -----
    A setting that was not read keeps the value recorded before, or none, and says that it was not
    read, so that no comparison takes it for the same. A value that its list does not allow is kept
    as it was found.
    """
    stations = tuple(_station(line, station, present) for station in line.stations)
    whole: Line = dataclasses.replace(line, stations=stations)  # type: ignore[type-var]
    return whole


def differing(line: Line, present: PresentSettings) -> frozenset[tuple[int, str]]:
    """Settings that were read and are not as a line has them, by station and code.

    Parameters
    ----------
    line : Line
        As commissioned; what nobody recorded is taken as delivered.
    present : PresentSettings
        What was read.
    """
    found = set()
    for station in line.stations:
        drive_type = line.drive_type(station.drive.drive_type_id)
        for entry in present.of_station(station.id):
            listed = drive_type.listed(entry.code) if drive_type else None
            recorded = station.drive.setting(entry.code)
            if recorded is not None and recorded.shown.strip():
                before: KeypadValue | None = KeypadValue(recorded.shown, recorded.value)
            else:
                before = factory_value(listed) if listed else None
            if entry.state == "read" and before is not None and not _alike(before, entry):
                found.add(entry.key)
    return frozenset(found)


def _alike(before: KeypadValue, entry: Entry) -> bool:
    if before.value is not None and entry.value is not None:
        return math.isclose(before.value, entry.value, rel_tol=1e-9, abs_tol=1e-12)
    return before.shown.strip() == entry.shown.strip()


def _station(line: Line, station: Station, present: PresentSettings) -> Station:
    held = {setting.code: setting for setting in station.drive.settings}
    drive_type = line.drive_type(station.drive.drive_type_id)
    for entry in present.of_station(station.id):
        recorded = held.get(entry.code)
        before: Any = recorded or RECORDS["setting"].cls(code=entry.code)
        changes: dict[str, Any] = {"origin": "not_read"}
        if entry.state != "not_read":
            shown = _storable(entry.shown)
            changes = {"shown": shown, "value": entry.value, "origin": "read"}
        found: Setting = dataclasses.replace(before, **changes)
        listed = drive_type.listed(entry.code) if drive_type else None
        if recorded is None and listed is not None and standing(found, listed) == "same":
            # Nobody recorded it because it is as delivered, and so it still is.
            continue
        held[entry.code] = found
    drive: Drive = dataclasses.replace(  # type: ignore[type-var]
        station.drive, settings=tuple(held.values())
    )
    whole: Station = dataclasses.replace(station, drive=drive)  # type: ignore[type-var]
    return whole


def _storable(shown: str) -> str:
    """What was found, with a mark for what no file can hold, so that a record of it can be read.

    A cell of a table may hold anything: signs that cannot be printed, or a text without an end.
    """
    spec = RECORDS["setting"].field("shown")
    try:
        return str(spec.check(shown))
    except InputError:
        plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in shown)
        return plain if len(plain) <= LONGEST_TEXT else f"{plain[: LONGEST_TEXT - 1]}…"
