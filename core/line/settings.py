"""What a drive's settings mean: the value behind a role, and where it comes from."""

from dataclasses import dataclass

from core.errors import InputError
from core.model import DriveType, ListedSetting, Station
from core.model.keypad import factory_value, options_of
from core.units import parse_quantity

_COASTS = ("coast", "free", "run out", "runs out", "inercia", "libre")
_RAMP = ("ramp", "no coast", "not coast", "sin inercia")
"""Words by which a list of settings tells a stop without ramp, and those that tell one with it."""


@dataclass(frozen=True, slots=True)
class InForce:
    """The value of one setting as it acts: entered at the keypad, or else the factory's.

    ``value`` is in SI; None for a choice that is no number. ``entered`` is False where nobody
    entered it and the factory value is taken, which every figure from it has to say.
    """

    code: str
    shown: str
    value: float | None
    entered: bool
    listed: ListedSetting

    @property
    def meaning(self) -> str:
        """What the shown value means; itself where it is no choice."""
        return options_of(self.listed).get(self.shown, self.shown)

    @property
    def assumed(self) -> str:
        """The assumption that stands behind it, empty where it was entered."""
        return "" if self.entered else f"{self.code} at its factory value {self.shown}"


@dataclass(frozen=True, slots=True)
class Span:
    """Bottom and top of a signal in SI, and whether it is a voltage or a current."""

    signal: str
    low: float
    high: float


def in_force(station: Station, drive_type: DriveType | None, role: str) -> InForce | None:
    """The setting that means ``role``, as it acts; None where the list has none or it is empty."""
    listed = drive_type.by_role(role) if drive_type else None
    if listed is None:
        return None
    entered = station.drive.setting(listed.code)
    if entered is not None and entered.shown.strip():
        return InForce(listed.code, entered.shown, entered.value, True, listed)
    factory = factory_value(listed)
    if factory is None:
        return None
    return InForce(listed.code, factory.shown, factory.value, False, listed)


def coasts(station: Station, drive_type: DriveType | None) -> bool:
    """Whether a stop lets the motor run out, so that no deceleration setting acts on it."""
    stop = in_force(station, drive_type, "stop_mode")
    meaning = stop.meaning.casefold() if stop is not None else ""
    return any(word in meaning for word in _COASTS) and not any(word in meaning for word in _RAMP)


def span_from_words(words: str) -> Span | None:
    """Read a range such as ``4-20 mA`` or ``0 to 10 V`` as a list of settings words it.

    Returns
    -------
    Span or None
        None where the words are no such range.
    """
    for unit, signal, kind in (("mA", "current", "signal_current"), ("V", "voltage", "voltage")):
        stem = words.strip()
        if not stem.endswith(unit):
            continue
        ends = stem[: -len(unit)].replace("…", "-").replace("to", "-").replace("–", "-")
        low, dash, high = ends.strip().rpartition("-")
        try:
            if dash and low.strip():
                return Span(signal, _si(low, unit, kind), _si(high, unit, kind))
        except InputError:
            return None
    return None


def _si(number: str, unit: str, kind: str) -> float:
    return parse_quantity(f"{number.strip().removesuffix(unit)} {unit}", kind, "metric")
