"""What to set at the keypad so that zero and span of a reference come right."""

import dataclasses
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from core.calc.calibration import corrected_ends_hz, other_end_hz, signal_at_ends
from core.errors import InputError, RangeError
from core.line import calibration_rules as rules
from core.line.bands import FREQUENCY_STEP_HZ
from core.line.calibrating import Calibration
from core.line.calibration_points import Ends
from core.line.figures import Figure
from core.line.settings import in_force
from core.model import DriveType, ListedSetting
from core.model.choices import SETTING_ROLES
from core.units import parse_in_unit, value_in_unit

_ROLES = {"bottom": "hz_at_reference_low", "top": "hz_at_reference_high"}


@dataclass(frozen=True, slots=True)
class Correction:
    """One end of the reference and its setting.

    ``now`` and ``new`` are as the keypad shows them; ``new`` is empty where it cannot be told.
    ``hertz`` is where the end comes to stand; ``notes`` say what has to be known about it.
    """

    end: str
    code: str
    label: str
    unit: str
    now: str
    new: str
    hertz: float
    notes: tuple[str, ...] = ()

    @property
    def is_change(self) -> bool:
        """Whether the keypad has to show another value than now."""
        return bool(self.new) and self.new != self.now


@dataclass(frozen=True, slots=True)
class Mending:
    """Both ends, and the largest deviation that is left once they are set."""

    corrections: tuple[Correction, ...]
    after: Figure
    after_holds: bool | None


@dataclass(slots=True)
class _End:
    """One end of the reference while its new setting is sought."""

    name: str
    listed: ListedSetting | None
    now: str
    entered_hz: float | None
    step: float
    stays_hz: float
    notes: list[str] = field(default_factory=list)
    hertz: float = 0.0
    new: str = ""
    is_free: bool = False

    def place(self, hertz: float) -> None:
        """Put it at a frequency, or as near as its setting goes."""
        self.new, self.is_free = "", False
        if self.listed is None or self.entered_hz is None or not _in_hertz(self.listed):
            self.hertz = self.stays_hz
            return
        low, high = _bounds(self.listed)
        inside = min(max(hertz, low), high)
        rounded = round(value_in_unit(inside, self.listed.unit) / self.step) * self.step
        places = max(0, len(f"{self.step:.6f}".rstrip("0").partition(".")[2]))
        # Adding zero keeps a minus sign away from it.
        self.new = f"{round(rounded, places) + 0.0:.{places}f}"
        self.hertz = parse_in_unit(self.new, self.listed.unit or "Hz")
        # Nearer than the keypad can be set is where it should be.
        self.is_free = abs(inside - hertz) <= 0.5 * self.step
        self.notes = [note for note in self.notes if " would be needed" not in note]
        if not self.is_free:
            bound, way = (low, "down") if hertz < low else (high, "up")
            self.notes.append(
                f"{hertz:.2f} Hz would be needed; the list goes {way} to {bound:g} Hz."
            )


def mending_of(calibration: Calibration) -> Mending | None:
    """What to set after the readings of one state; None where they tell nothing of the ends.

    Notes
    -----
    An end that cannot go where it should stays as near as it can; the other end is then set so
    that its own place comes right.
    """
    found, wanted, as_set = calibration.found, calibration.wanted, calibration.as_set
    if found is None or wanted is None or as_set is None:
        return None
    bottom, top = (_end(calibration, name) for name in _ROLES)
    try:
        at_bottom, at_top = signal_at_ends(found, as_set.bottom_hz, as_set.top_hz)
        ideal = corrected_ends_hz(
            found, wanted.bottom_hz, wanted.top_hz, as_set.bottom_hz, as_set.top_hz
        )
        bottom.place(ideal[0])
        top.place(ideal[1] if bottom.is_free else other_end_hz(bottom.hertz, at_top, wanted.top_hz))
        if bottom.is_free and not top.is_free:
            bottom.place(other_end_hz(top.hertz, 1.0 - at_bottom, wanted.bottom_hz))
    except RangeError as error:
        return Mending((), Figure(rules.AFTER, None, problem=str(error)), None)
    _note(calibration, bottom, top)
    made = tuple(_correction(end) for end in (bottom, top))
    after = _after(calibration, wanted, as_set, Ends(bottom.hertz, top.hertz), top)
    holds = None if calibration.limit_hz is None else abs(after) <= calibration.limit_hz
    # To a millihertz: what the readings are worth, and more than a keypad shows.
    after = round(after, 3)
    given = {"new_bottom_hz": bottom.hertz, "new_top_hz": top.hertz}
    return Mending(made, Figure(rules.AFTER, after, given), holds)


def settings_to_store(mending: Mending) -> dict[str, str]:
    """The settings that change, by code, as the keypad then shows them."""
    return {held.code: held.new for held in mending.corrections if held.is_change}


def _end(calibration: Calibration, name: str) -> _End:
    result, as_set = calibration.result, calibration.as_set
    assert as_set is not None
    stays = as_set.bottom_hz if name == "bottom" else as_set.top_hz
    drive_type, role = result.drive_type, _ROLES[name]
    listed = drive_type.by_role(role) if drive_type else None
    if listed is None and name == "top" and drive_type is not None:
        # A drive without a setting of its own for the top of the reference runs to its maximum.
        role = "frequency_max"
        listed = drive_type.by_role(role)
    if listed is None or drive_type is None:
        notes = ["The drive type's list names no setting for this end.",
                 "Enter its line and its role under Drive types, from the manual."]  # fmt: skip
        return _End(name, None, "", None, FREQUENCY_STEP_HZ, stays, notes)
    held = in_force(result.station, drive_type, role)
    value = held.value if held is not None else None
    made = _End(
        name,
        listed,
        held.shown if held else "",
        value,
        _step(listed, held.shown if held else "", drive_type),
        stays,
    )
    if value is None:
        made.notes.append(f"{listed.code} has no value entered: read it at the keypad first.")
    elif not _in_hertz(listed):
        made.notes.append(f"{listed.code} is listed in {listed.unit}, not in hertz.")
    elif held is not None and not held.entered:
        made.notes.append(f"{listed.code} is not entered; its factory value is taken.")
    if role == "frequency_max":
        made.notes.append("It is the maximum frequency as well.")
    return made


def _note(calibration: Calibration, *ends: _End) -> None:
    """Say what changed since the readings, and what holds the new ends."""
    limits, as_set = calibration.result.limits, calibration.as_set
    for end in ends:
        then = None if as_set is None or as_set.assumed else end.stays_hz
        if then is not None and end.entered_hz is not None and abs(then - end.entered_hz) > 1e-6:
            end.notes.append(f"It stood at {then:g} Hz while this was read.")
        own = end.listed is not None and end.listed.role == "frequency_max"
        if end.new and limits and not own and end.hertz > limits.maximum_hz + 1e-9:
            end.notes.append(
                f"Above the maximum frequency of {limits.maximum_hz:g} Hz, which goes on holding."
            )


def _correction(end: _End) -> Correction:
    listed = end.listed
    return Correction(
        end.name,
        listed.code if listed else "",
        (listed.meaning if listed else "") or SETTING_ROLES[_ROLES[end.name]],
        listed.unit if listed else "",
        # As many places as the new value, so that 60 and 60.00 are seen to be the same.
        _like(end),
        end.new,
        end.hertz,
        tuple(end.notes),
    )


def _like(end: _End) -> str:
    if not end.new or end.entered_hz is None or end.listed is None:
        return end.now
    places = len(end.new.partition(".")[2])
    number = value_in_unit(end.entered_hz, end.listed.unit)
    same = f"{number:.{places}f}"
    return same if abs(float(same) - number) < 1e-9 else end.now


def _after(calibration: Calibration, wanted: Ends, as_set: Ends, new: Ends, top: _End) -> float:
    """The largest deviation of the readings that count, scaled anew between the new ends."""
    limits = calibration.result.limits
    if limits is not None and top.listed is not None and top.listed.role == "frequency_max":
        limits = dataclasses.replace(limits, maximum_hz=new.top_hz)
    width = as_set.top_hz - as_set.bottom_hz
    off = []
    for reading in calibration.counted:
        hertz = new.at((reading.frequency_hz - as_set.bottom_hz) / width)
        aim = wanted.at(reading.share)
        if limits is not None:
            hertz, aim = (min(max(x, limits.minimum_hz), limits.maximum_hz) for x in (hertz, aim))
        off.append(round(hertz - aim, 9))
    return max(off, key=abs)


def _in_hertz(listed: ListedSetting) -> bool:
    return listed.unit.strip().casefold() in ("hz", "")


def _bounds(listed: ListedSetting) -> tuple[float, float]:
    return _bound(listed.minimum, float("-inf")), _bound(listed.maximum, float("inf"))


def _bound(text: str, otherwise: float) -> float:
    try:
        return parse_in_unit(text, "Hz") if text.strip() else otherwise
    except InputError:
        return otherwise


def _step(listed: ListedSetting, shown: str, drive_type: DriveType) -> float:
    """The keypad's resolution: of the bus register, else as many places as the list shows."""
    if listed.register_scale:
        return listed.register_scale
    places = max(_places((shown, listed.factory, listed.minimum, listed.maximum)), default=0)
    if places:
        return float(10.0**-places)
    return drive_type.frequency_step_hz or FREQUENCY_STEP_HZ


def _places(texts: tuple[str, ...]) -> Iterator[int]:
    for text in texts:
        if found := re.search(r"\d[.,](\d+)", text):
            yield len(found[1])
