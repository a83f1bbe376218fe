"""A walk along the line with a hand at the keypads: drive by drive, in keypad order.

Each step is one setting. The hands stay on the keyboard: the value as shown, or nothing for "the
same as commissioned". A walk is a value: every move gives the walk after it, so that going back,
keeping a half-done walk and going on with it later need nothing of their own.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from core.errors import InputError
from core.model import Line
from core.readback.results import (
    Entry,
    PresentSettings,
    Wanted,
    gathered,
    not_read,
    taken,
    wanted_of,
)

NOT_REACHED = "The walk did not come to it."
SKIPPED = "It was skipped."


@dataclass(frozen=True, slots=True)
class Step:
    """One setting to look at, and its value as commissioned (empty where none was entered)."""

    wanted: Wanted
    commissioned: str

    @property
    def tag(self) -> str:
        """Tag of the station."""
        return self.wanted.station.tag

    @property
    def code(self) -> str:
        """Code of the setting."""
        return self.wanted.code


@dataclass(frozen=True, slots=True)
class Walk:
    """Where a walk stands, and what it found so far."""

    line: Line
    steps: tuple[Step, ...]
    place: int = 0
    found: Mapping[tuple[int, str], Entry] = field(default_factory=dict)

    @property
    def step(self) -> Step | None:
        """The setting to look at now; None at the end of the walk."""
        return self.steps[self.place] if self.place < len(self.steps) else None

    @property
    def entry(self) -> Entry | None:
        """What was found before for the setting at hand, if anything was."""
        return None if self.step is None else self.found.get(self.step.wanted.key)

    @property
    def at_end(self) -> bool:
        """Whether every step is done."""
        return self.step is None

    @property
    def open_steps(self) -> int:
        """Steps that hold nothing yet, the skipped ones not counted."""
        return sum(step.wanted.key not in self.found for step in self.steps)

    def same(self) -> "Walk":
        """The keypad shows the value as commissioned.

        Raises
        ------
        InputError
            No value was entered for it, or one that the list does not allow
        """
        step = self._standing()
        if not step.commissioned:
            raise InputError(
                f"{step.code} was not taken.",
                "There is no commissioned value that it could be the same as.",
                "Type what the keypad shows, or skip it.",
            )
        return self.enter(step.commissioned)

    def enter(self, shown: str) -> "Walk":
        """The keypad shows this; blank is the same as commissioned.

        Parameters
        ----------
        shown : str
            As shown, with or without its unit, or the meaning of a choice

        Raises
        ------
        InputError
            Not one of the choices, no number, or out of the listed range; see :meth:`keep`
        """
        if not shown.strip():
            return self.same()
        entry = taken(self._standing().wanted, shown)
        if entry.state == "refused":
            raise InputError(f"{entry.code} was not taken.", entry.reason, "")
        return self._with(entry)

    def keep(self, shown: str) -> "Walk":
        """The keypad does show this, although the list does not allow it.

        The entry is ``refused`` with its reason where that is so; it is never lost.
        """
        return self._with(taken(self._standing().wanted, shown))

    def skip(self, reason: str = "") -> "Walk":
        """Leave the setting unread."""
        return self._with(not_read(self._standing().wanted, reason.strip() or SKIPPED))

    def skip_station(self, reason: str = "") -> "Walk":
        """Leave unread what is left of this station, such as a drive without power.

        What was found for its settings before, further on, stays.
        """
        walk, station = self, self._standing().wanted.station
        while walk.step is not None and walk.step.wanted.station.id == station.id:
            read_before = walk.entry is not None and walk.entry.state != "not_read"
            walk = replace(walk, place=walk.place + 1) if read_before else walk.skip(reason)
        return walk

    def back(self) -> "Walk":
        """One step back; what was found there stays until something else is entered."""
        return replace(self, place=max(0, self.place - 1))

    def forward(self) -> "Walk":
        """One step on, past a setting that holds an entry already."""
        if self.entry is None:
            step = self._standing()
            raise InputError(
                f"{step.code} was not passed.",
                "Nothing was found for it yet.",
                "Type what the keypad shows, or skip it.",
            )
        return replace(self, place=self.place + 1)

    def go_to(self, station_id: int, code: str = "") -> "Walk":
        """To a setting of a station, or to the first one of the station.

        Raises
        ------
        InputError
            There is no such setting on this walk
        """
        for place, step in enumerate(self.steps):
            if step.wanted.station.id == station_id and code in ("", step.code):
                return replace(self, place=place)
        raise InputError(
            "The walk stays where it is.", "There is no such setting on it.", "Choose another."
        )

    def with_read(self, present: PresentSettings) -> "Walk":
        """Take over what was read another way; the walk stands at the first setting left.

        What the walk itself found stays, save for what it had skipped.
        """
        keys = {step.wanted.key for step in self.steps}
        read = {
            entry.key: entry
            for entry in present.entries
            if entry.state == "read" and entry.key in keys
        }
        found = read | {key: entry for key, entry in self.found.items() if _says(entry)}
        left = (n for n, step in enumerate(self.steps) if step.wanted.key not in found)
        return replace(self, place=next(left, len(self.steps)), found=found)

    def result(self) -> PresentSettings:
        """Every setting of the line; what the walk has not come to is not read."""
        return gathered(self.line, self.found.values(), NOT_REACHED)

    def _standing(self) -> Step:
        if self.step is None:
            raise InputError(
                "Nothing was taken.", "The walk is at its end.", "Go back, or finish it."
            )
        return self.step

    def _with(self, entry: Entry) -> "Walk":
        return replace(self, place=self.place + 1, found={**self.found, entry.key: entry})


def start_walk(
    line: Line,
    commissioned: Line | None = None,
    *,
    stations: Iterable[int] = (),
    found: PresentSettings | None = None,
) -> Walk:
    """Begin a walk, or go on with one.

    Parameters
    ----------
    line : Line
        The line, with the lists of its drive types
    commissioned : Line, optional
        Where the commissioned values stand; without it, in the line itself
    stations : iterable of int, optional
        Ids of the stations to walk to; without them, all
    found : PresentSettings, optional
        The result of an earlier walk: it stands at the first setting that has no value in it

    Returns
    -------
    Walk
        By station in the line's order, by setting in keypad order
    """
    only = set(stations)
    steps = tuple(
        Step(wanted, _commissioned(commissioned or line, wanted))
        for wanted in wanted_of(line)
        if not only or wanted.station.id in only
    )
    before = {entry.key: entry for entry in found.entries if _says(entry)} if found else {}
    place = next((n for n, step in enumerate(steps) if step.wanted.key not in before), len(steps))
    return Walk(line, steps, place, before)


def _says(entry: Entry) -> bool:
    return entry.state != "not_read"


def _commissioned(line: Line, wanted: Wanted) -> str:
    for station in line.stations:
        if station.id == wanted.station.id:
            setting = station.drive.setting(wanted.code)
            return setting.shown.strip() if setting else ""
    return ""
