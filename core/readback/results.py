"""What a reading of present settings gives: an entry for every setting of every drive.

However settings are read (at the keypads, from a table, over a bus), the result holds every
setting of the line. What was not read says so and why; nothing is left out, nothing is guessed.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from core.errors import InputError
from core.model import Line, ListedSetting, Station
from core.model.keypad import read_keypad

State = Literal["read", "not_read", "refused"]
"""``refused`` is a value that was found, but that its line in the list does not allow."""

NOT_LISTED = "It is not in the list of its drive type."
NOTHING_SHOWN = "Nothing was shown."
NEW_SINCE = "It came to the line after the reading."
_COMMA = re.compile(r"-?[0-9]+,[0-9]+")


@dataclass(frozen=True, slots=True)
class Wanted:
    """One setting that has to be read; ``listed`` is None where the drive's list lacks it."""

    station: Station
    code: str
    listed: ListedSetting | None

    @property
    def key(self) -> tuple[int, str]:
        """What the entry of this setting is found by."""
        return self.station.id, self.code


@dataclass(frozen=True, slots=True)
class Entry:
    """What was found for one setting.

    ``shown`` is the text as the keypad shows it, empty where it was not read; ``value`` the same
    in the SI unit of the listed unit, where it is a number. ``reason`` says why a setting was not
    read, or what is wrong with the value that was found.
    """

    station_id: int
    code: str
    state: State
    shown: str = ""
    reason: str = ""
    value: float | None = None

    @property
    def key(self) -> tuple[int, str]:
        """Station and code."""
        return self.station_id, self.code


@dataclass(frozen=True, slots=True)
class PresentSettings:
    """The present settings of a line: an entry for each, by station and in keypad order.

    ``without_list`` names the stations of which nothing is known to read: no drive type with a
    list, and no setting entered.
    """

    entries: tuple[Entry, ...]
    without_list: tuple[int, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether every setting of every station was read."""
        return not self.without_list and all(entry.state == "read" for entry in self.entries)

    @property
    def counts(self) -> Counter[State]:
        """How many entries are in each state."""
        return Counter(entry.state for entry in self.entries)

    def entry(self, station_id: int, code: str) -> Entry:
        """The entry of one setting; KeyError if the line has no such setting."""
        for entry in self.of_station(station_id):
            if entry.code == code:
                return entry
        raise KeyError((station_id, code))

    def of_station(self, station_id: int) -> tuple[Entry, ...]:
        """The entries of one station, in keypad order."""
        return tuple(entry for entry in self.entries if entry.station_id == station_id)


def wanted_of(line: Line) -> tuple[Wanted, ...]:
    """Every setting of a line, station by station in keypad order.

    Parameters
    ----------
    line : Line
        The line as it is, or as it was commissioned

    Returns
    -------
    tuple of Wanted
        The list of each drive's type, and behind it what was entered although no list has it
    """
    return tuple(wanted for station in line.stations for wanted in _of_station(line, station))


def _of_station(line: Line, station: Station) -> Iterator[Wanted]:
    drive_type = line.drive_type(station.drive.drive_type_id)
    listed = drive_type.listed_settings if drive_type else ()
    yield from (Wanted(station, entry.code, entry) for entry in listed)
    known = {entry.code for entry in listed}
    entered = (setting.code for setting in station.drive.settings)
    yield from (Wanted(station, code, None) for code in entered if code not in known)


def taken(wanted: Wanted, shown: str) -> Entry:
    """The entry for a text that a keypad shows, checked against the list.

    Parameters
    ----------
    wanted : Wanted
        The setting
    shown : str
        What was found; a unit may follow, the meaning of a choice may stand for its value

    Returns
    -------
    Entry
        ``read``; ``refused`` with the text as found where the list does not allow it; ``not_read``
        where the text is blank
    """
    if not shown.strip():
        return not_read(wanted, NOTHING_SHOWN)
    try:
        found = read_keypad(shown, wanted.listed)
    except InputError as fault:
        return refused(wanted, shown, f"{fault.why} {fault.fix}")
    shown_with_point = found.shown
    if found.value is not None and _COMMA.fullmatch(found.shown):
        # One mark for both sides of a comparison, whatever the spreadsheet or the person wrote.
        shown_with_point = found.shown.replace(",", ".")
    return Entry(*wanted.key, "read", shown_with_point, "", found.value)


def not_read(wanted: Wanted, reason: str) -> Entry:
    """The entry for a setting that was not read, with the reason."""
    return Entry(*wanted.key, "not_read", "", reason)


def refused(wanted: Wanted, shown: str, reason: str) -> Entry:
    """The entry for a value that was found and cannot be taken, with the reason."""
    return Entry(*wanted.key, "refused", shown.strip(), reason)


def gathered(
    line: Line, found: Iterable[Entry], missing: str | Callable[[Wanted], str]
) -> PresentSettings:
    """The result of a reading, with an entry for every setting of the line.

    Parameters
    ----------
    line : Line
        The line that was read
    found : iterable of Entry
        What was found; at the most one for each setting
    missing : str or callable
        Why a setting has no entry among those found

    Returns
    -------
    PresentSettings
        Complete in length, whatever was found

    Raises
    ------
    ValueError
        An entry stands twice, or belongs to no setting of the line: a fault of the program.
    """
    by_key: dict[tuple[int, str], Entry] = {}
    for entry in found:
        if by_key.setdefault(entry.key, entry) is not entry:
            raise ValueError(f"two entries for {entry.key}")
    why = missing if callable(missing) else lambda wanted: missing
    every = wanted_of(line)
    entries = tuple(by_key.get(one.key) or not_read(one, why(one)) for one in every)
    if strange := by_key.keys() - {one.key for one in every}:
        raise ValueError(f"no settings of this line: {sorted(strange)}")
    with_settings = {wanted.station.id for wanted in every}
    bare = tuple(one.id for one in line.stations if one.id not in with_settings)
    return PresentSettings(entries, bare)


def brought_to(line: Line, present: PresentSettings) -> PresentSettings:
    """A reading brought to the line as it is now, where that was changed after the reading.

    Parameters
    ----------
    line : Line
        The line as it is now
    present : PresentSettings
        What was read of it before

    Returns
    -------
    PresentSettings
        An entry for every setting of the line as it is: what came since is not read, what is gone
        is left out, and what was read is checked against the lists anew
    """
    wanted = {one.key: one for one in wanted_of(line)}
    kept = [entry for entry in present.entries if entry.key in wanted]
    found = [
        taken(wanted[entry.key], entry.shown) if entry.state == "read" else entry for entry in kept
    ]
    return gathered(line, found, NEW_SINCE)
