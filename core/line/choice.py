"""Which drive types of the file fit a station's motors and feed, ranked, each with its reasons."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.calc import drive_rating
from core.errors import RangeError
from core.line.feed import Feed, feed_of
from core.model import DriveType, Line, Station
from core.units import System, show_computed

_ROOMY = 2.0
"""Output current over the motors' from which a drive is needlessly large; common practice."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that speaks for a drive type, or against it; ``decides`` rules it out."""

    speaks_for: bool
    text: str
    decides: bool = False


@dataclass(frozen=True, slots=True)
class DriveChoice:
    """One drive type against a station: whether it fits, and why."""

    drive_type: DriveType
    fits: bool
    reasons: tuple[Reason, ...]
    current_share: float | None

    @property
    def in_one_line(self) -> str:
        """The reasons in one line, those against it first."""
        against = [reason.text for reason in self.reasons if not reason.speaks_for]
        for_it = [reason.text for reason in self.reasons if reason.speaks_for]
        return "; ".join(against + for_it)


def rank_drive_types(line: Line, station: Station) -> tuple[DriveChoice, ...]:
    """Every drive type of the file against a station, the best first.

    A type fits when nothing rules it out. Of those that fit, the one with the least current to
    spare comes first; what is not entered counts neither for nor against, and is said.
    """
    supply = line.supply(station.drive.supply_id)
    feed = feed_of(supply, station.drive.supply_lines)
    judged = [_judge(line, station, feed, entry) for entry in line.drive_types]
    return tuple(sorted(judged, key=_rank))


def _rank(choice: DriveChoice) -> tuple[bool, int, float, str]:
    against = sum(not reason.speaks_for for reason in choice.reasons)
    spare = choice.current_share or float("inf")
    return (not choice.fits, against, spare, choice.drive_type.name)


def _judge(line: Line, station: Station, feed: Feed | None, kind: DriveType) -> DriveChoice:
    system = line.unit_system
    share = _available_share(line, kind, feed)
    reasons = [
        *_input(feed, kind, system),
        *_output_voltage(station, feed, kind, system),
        *_current(station, kind, share, system),
        *_overload(kind),
        *_cable(station, kind, system),
    ]
    motors = _motor_amps(station)
    given = kind.output_current_a
    current_share = share * given / motors if given and motors and share else None
    fits = not any(reason.decides for reason in reasons)
    return DriveChoice(kind, fits, tuple(reasons), current_share)


def _input(feed: Feed | None, kind: DriveType, system: System) -> Iterator[Reason]:
    if feed is None:
        yield Reason(False, "feed of the station not entered")
        return
    if kind.input_phases == "1" and feed.phases == 3:
        yield Reason(False, "made for one phase", decides=True)
    elif kind.input_phases == "3" and feed.phases == 1:
        allowed = kind.derated_1ph is not None
        words = "three-phase drive on one phase" + ("" if allowed else ", not stated as allowed")
        yield Reason(False, words, decides=not allowed)
    elif kind.input_phases is None:
        yield Reason(False, "input phases not entered")
    else:
        yield Reason(True, f"takes {feed.phases} phase{'s' if feed.phases > 1 else ''}")
    low, high = kind.input_voltage_min_v, kind.input_voltage_max_v
    if low is None or high is None:
        yield Reason(False, "input voltage not entered")
        return
    fits = drive_rating.input_voltage_fit(feed.voltage_v, low, high).fits
    fed = show_computed(feed.voltage_v, "voltage", system)
    words = f"takes {low:g} to {high:g} V, fed with {fed}"
    yield Reason(fits, words, decides=not fits)


def _output_voltage(
    station: Station, feed: Feed | None, kind: DriveType, system: System
) -> Iterator[Reason]:
    plate = station.motors[0] if station.motors else None
    if plate is None or plate.voltage_v is None or feed is None:
        yield Reason(False, "motor voltage or feed not entered")
        return
    output = drive_rating.output_voltage_v(
        feed.voltage_v, kind.output_voltage_v, doubles=kind.doubles_voltage
    )
    shown = show_computed(output, "voltage", system)
    if drive_rating.output_voltage_fit(output, plate.voltage_v).fits:
        yield Reason(True, f"gives {shown} for a {plate.voltage_v:g} V connection")
        return
    other = plate.voltage_low_v if plate.connected_for == "high" else plate.voltage_high_v
    mend = ""
    if other is not None and drive_rating.output_voltage_fit(output, other).fits:
        mend = f" (reconnect the motor for {other:g} V)"
    words = f"gives {shown}, the motor is connected for {plate.voltage_v:g} V{mend}"
    yield Reason(False, words, decides=not mend)


def _motor_amps(station: Station) -> float | None:
    amps = [plate.current_a for plate in station.motors]
    return None if not amps or None in amps else sum(value or 0.0 for value in amps)


def _available_share(line: Line, kind: DriveType, feed: Feed | None) -> float:
    """Share of its output current that a drive may give here."""
    share = 1.0
    if feed is not None and kind.input_phases is not None:
        share *= drive_rating.feed_derating(kind.input_phases, feed.phases, kind.derated_1ph).value
    if line.altitude_m is not None:
        try:
            share *= drive_rating.altitude_derating(line.altitude_m).value
        except RangeError:
            return share
    return share


def _current(station: Station, kind: DriveType, share: float, system: System) -> Iterator[Reason]:
    motors, given = _motor_amps(station), kind.output_current_a
    if motors is None or given is None:
        yield Reason(False, "motor or drive current not entered")
        return
    have = share * given
    derated = f" ({share:.0%} of rated)" if share < 1.0 else ""
    words = (
        f"gives {show_computed(have, 'current', system)}{derated}, "
        f"motors ask {show_computed(motors, 'current', system)}"
    )
    if have < motors:
        yield Reason(False, words, decides=True)
    elif have > _ROOMY * motors:
        yield Reason(False, f"{words}: larger than needed")
    else:
        yield Reason(True, words)


def _overload(kind: DriveType) -> Iterator[Reason]:
    if kind.overload is not None and kind.overload < 1.5:
        yield Reason(False, f"overload only {kind.overload:.0%}")


def _cable(station: Station, kind: DriveType, system: System) -> Iterator[Reason]:
    cable = station.cable("motor")
    if cable is None or cable.length_m is None or kind.motor_cable_max_m is None:
        return
    if cable.length_m > kind.motor_cable_max_m:
        longest = show_computed(kind.motor_cable_max_m, "length", system)
        yield Reason(False, f"motor cable at most {longest}")
