"""Findings about the drive itself: what feeds it, what it feeds, and its place."""

import re
from collections.abc import Iterator

from core.calc import motor_limits
from core.line.feed import feed_of
from core.line.findings.base import Place, Value
from core.line.findings.view import Found, View, station_rule
from core.line.settings import InForce
from core.model.keypad import within_list

_VOLTAGE_SLACK = 0.01
_FLUX_HIGH, _FLUX_LOW = 1.10, 0.90
_WATER_DIGIT = {"washdown": 5, "damp": 4}
"""Second digit of the IP code that an area asks for; common practice."""
_NEMA_WATER = {"4": 6, "4X": 6, "6": 7, "6P": 8, "12": 4, "13": 4, "3R": 4, "3": 4, "1": 0}
"""NEMA 250 types against the IP code's water digit, after its annex A; from memory."""


@station_rule(
    key="supply-phases",
    level="blocker",
    says="Drive type {drive_type} takes {wants}; it is fed from {lines}.",
    follows="It will not start, trips on a lost phase, or is destroyed.",
    mend="Choose a drive type for this feed, or feed it otherwise.",
    source="the drive's ratings as entered",
)
def supply_phases(view: View) -> Iterator[Found]:
    """The number of lines does not fit the drive's input."""
    feed = feed_of(view.supply, view.station.drive.supply_lines)
    kind = view.drive_type
    if feed is None or kind is None or kind.input_phases in (None, "1_or_3"):
        return
    if kind.input_phases == "1" and feed.phases == 3:
        yield view.at_drive("supply_lines"), _phases(view, "one phase")
    if kind.input_phases == "3" and feed.phases == 1 and kind.derated_1ph is None:
        yield view.at_drive("supply_lines"), _phases(view, "three phases")


def _phases(view: View, wants: str) -> dict[str, Value]:
    assert view.drive_type is not None
    return {
        "drive_type": view.drive_type.name,
        "wants": wants,
        "lines": view.station.drive.supply_lines or "",
    }


@station_rule(
    key="three-phase-drive-on-one-phase",
    level="fault",
    says="A three-phase drive runs on one phase: {allowed_a} of its {rated_a} may be used, the "
    "motors "
    "ask {motors_a}.",
    follows="Its rectifier and capacitors overload, or it trips on a lost phase.",
    mend="Use a larger drive, or one made for one phase; the maker's figure for this use counts.",
    source="share from the drive's manual as entered; about half is common practice",
)
def three_phase_drive_on_one_phase(view: View) -> Iterator[Found]:
    """A three-phase drive derated for one phase, and still too small."""
    feed = feed_of(view.supply, view.station.drive.supply_lines)
    kind = view.drive_type
    if feed is None or feed.phases == 3 or kind is None or kind.input_phases != "3":
        return
    motors = _motor_amps(view)
    if kind.derated_1ph is None or kind.output_current_a is None or motors is None:
        return
    allowed = kind.derated_1ph * kind.output_current_a
    if motors > allowed:
        yield (
            view.at_drive("supply_lines"),
            {"allowed_a": allowed, "rated_a": kind.output_current_a, "motors_a": motors},
        )


@station_rule(
    key="supply-voltage",
    level="blocker",
    says="The drive is fed with {supply_v}; drive type {drive_type} takes {low_v} to {high_v}.",
    follows="Too high a voltage destroys it; too low a one stops it.",
    mend="Feed it from lines with a voltage in its range, or choose another drive type.",
    source="the drive's ratings as entered; nominal voltage of the supply",
)
def supply_voltage(view: View) -> Iterator[Found]:
    """The voltage between the feeding lines lies outside of the drive's range."""
    feed = feed_of(view.supply, view.station.drive.supply_lines)
    kind = view.drive_type
    if feed is None or kind is None:
        return
    low, high = kind.input_voltage_min_v, kind.input_voltage_max_v
    too_low = low is not None and feed.voltage_v < low * (1 - _VOLTAGE_SLACK)
    too_high = high is not None and feed.voltage_v > high * (1 + _VOLTAGE_SLACK)
    if too_low or too_high:
        yield (
            view.at_drive("supply_lines"),
            {
                "supply_v": feed.voltage_v,
                "drive_type": kind.name,
                "low_v": low or 0.0,
                "high_v": high or 0.0,
            },
        )


@station_rule(
    key="supply-frequency",
    level="blocker",
    says="The supply has {supply_hz}; drive type {drive_type} takes {low_hz} to {high_hz}.",
    follows="It may trip or overheat.",
    mend="Check the rating plate; choose a drive type for this frequency.",
    source="the drive's ratings as entered",
)
def supply_frequency(view: View) -> Iterator[Found]:
    """The supply's frequency lies outside of the drive's input range."""
    kind, supply = view.drive_type, view.supply
    if kind is None or supply is None or supply.frequency_hz is None:
        return
    low, high = kind.input_frequency_min_hz, kind.input_frequency_max_hz
    if low is None or high is None or low <= supply.frequency_hz <= high:
        return
    yield (
        view.at_drive("supply_id"),
        {
            "supply_hz": supply.frequency_hz,
            "drive_type": kind.name,
            "low_hz": low,
            "high_hz": high,
        },
    )


@station_rule(
    key="lines-not-of-supply",
    level="blocker",
    says="Supply {supply} ({supply_kind}) has no lines {lines}.",
    follows="The drive cannot be fed as entered.",
    mend="Enter the lines it is fed from.",
    source="kinds of supply, IEC 60038 and ANSI C84.1",
)
def lines_not_of_supply(view: View) -> Iterator[Found]:
    """Lines that this kind of supply does not have."""
    from core.model.choices import SUPPLY_KINDS

    held, supply = view.station.drive, view.supply
    if supply is None or supply.kind is None or not held.supply_lines:
        return
    if feed_of(supply, held.supply_lines) is None:
        yield (
            view.at_drive("supply_lines"),
            {
                "supply": supply.name,
                "supply_kind": SUPPLY_KINDS[supply.kind],
                "lines": held.supply_lines,
            },
        )


@station_rule(
    key="motor-flux",
    level="blocker",
    says="Settings give {set_v} at {set_hz}; the motor as connected ({connection}) wants "
    "{plate_v} at "
    "{plate_hz}: {flux_share} of its flux.",
    follows="Above its flux a motor saturates, draws far too much current, burns or trips the "
    "drive.",
    mend="Reconnect the motor for {set_v}, or set voltage and frequency from its plate.",
    source="constant V/f law; 110 % as limit: common practice",
)
def motor_flux(view: View) -> Iterator[Found]:
    """Motor connected for another voltage than the drive is set to: too much flux."""
    yield from _flux(view, lambda share: share > _FLUX_HIGH)


@station_rule(
    key="motor-weak",
    level="fault",
    says="Settings give {set_v} at {set_hz}; the motor as connected ({connection}) wants "
    "{plate_v} at "
    "{plate_hz}: {flux_share} of its flux.",
    follows="Torque falls with the square of that: the motor stalls or runs hot under its load.",
    mend="Reconnect the motor for {set_v}, or set voltage and frequency from its plate.",
    source="constant V/f law; 90 % as limit: common practice",
)
def motor_weak(view: View) -> Iterator[Found]:
    """Motor connected for another voltage than the drive is set to: too little flux."""
    yield from _flux(view, lambda share: share < _FLUX_LOW)


def _flux(view: View, wrong) -> Iterator[Found]:  # type: ignore[no-untyped-def]
    voltage, frequency = view.setting("motor_voltage"), view.setting("motor_frequency")
    plate = view.motor
    if voltage is None or frequency is None or plate is None:
        return
    if not (voltage.value and frequency.value and plate.voltage_v and plate.frequency_hz):
        return
    output = _highest_output_v(view)
    set_v = min(voltage.value, output) if output else voltage.value
    share = motor_limits.flux_share(set_v, frequency.value, plate.voltage_v, plate.frequency_hz)
    if wrong(share):
        yield (
            Place("motor", plate.id, "connected_for"),
            {
                "set_v": set_v,
                "set_hz": frequency.value,
                "connection": plate.connection or "not entered",
                "plate_v": plate.voltage_v,
                "plate_hz": plate.frequency_hz,
                "flux_share": share,
            },
        )


def _highest_output_v(view: View) -> float | None:
    """No drive gives more than its input, twice that where it doubles."""
    kind = view.drive_type
    feed = feed_of(view.supply, view.station.drive.supply_lines)
    if kind is None:
        return None
    fed = feed.voltage_v * (2.0 if kind.doubles_voltage else 1.0) if feed else None
    known = [value for value in (fed, kind.output_voltage_v) if value is not None]
    return min(known) if known else None


@station_rule(
    key="output-voltage",
    level="fault",
    says="The drive gives at most {output_v}; the motor as connected wants {plate_v}.",
    follows="Above {weak_from_hz} the motor has too little voltage and loses torque.",
    mend="Connect the motor for the lower voltage if it has one, or use a drive of a higher class.",
    source="constant V/f law; a 120 V class doubles to 230 V where entered so",
)
def output_voltage(view: View) -> Iterator[Found]:
    """The motor's connection asks more voltage than the drive can give."""
    output, plate = _highest_output_v(view), view.motor
    if output is None or plate is None or plate.voltage_v is None or plate.frequency_hz is None:
        return
    if output < plate.voltage_v * _FLUX_LOW:
        yield (
            Place("motor", plate.id, "connected_for"),
            {
                "output_v": output,
                "plate_v": plate.voltage_v,
                "weak_from_hz": plate.frequency_hz * output / plate.voltage_v,
            },
        )


def _motor_amps(view: View) -> float | None:
    amps = [plate.current_a for plate in view.motors]
    known = [value for value in amps if value is not None]
    return sum(known) if known and len(known) == len(amps) else None


@station_rule(
    key="drive-too-small",
    level="fault",
    says="The motors ask {motors_a} together, the drive gives {drive_a}.",
    follows="The drive trips on overload or limits the motor's torque.",
    mend="Use a drive of at least {motors_a} output current.",
    source="nameplates; currents compared, not powers",
)
def drive_too_small(view: View) -> Iterator[Found]:
    """The drive's output current is below the sum of the motors' currents."""
    kind, motors = view.drive_type, _motor_amps(view)
    if kind is None or kind.output_current_a is None or motors is None:
        return
    if motors > kind.output_current_a * 1.001:
        yield (
            view.at_drive(),
            {"motors_a": motors, "drive_a": kind.output_current_a},
        )


@station_rule(
    key="motors-without-own-overload",
    level="blocker",
    says="{number} motors run on one drive, and {without} of them has no overload device of "
    "its own.",
    follows="The drive sees the sum only: one stalled motor burns without a trip.",
    mend="Fit an overload relay or use the thermal sensor of each motor.",
    source="NEC 430.32 and 430.124(C); IEC 60204-1, 7.3",
)
def motors_without_own_overload(view: View) -> Iterator[Found]:
    """Several motors on one drive, and not each with its own overload device."""
    without = [plate for plate in view.motors if not plate.own_overload]
    if len(view.motors) > 1 and without:
        yield (
            Place("motor", without[0].id, "own_overload"),
            {"number": str(len(view.motors)), "without": str(len(without))},
        )


@station_rule(
    key="protection-class",
    level="fault",
    says="{what} has protection class {protection}; a {area} area asks for IPX{digit} or better.",
    follows="Water gets in, then earth faults and corrosion.",
    mend="Use a better class, a cover, or another place.",
    source="IEC 60529; NEMA 250; the digit for the area is common practice",
)
def protection_class(view: View) -> Iterator[Found]:
    """Motor, or drive and its enclosure, against the area's water."""
    wanted = _WATER_DIGIT.get(view.station.area or "")
    if wanted is None:
        return
    for plate in view.motors:
        digit = water_digit(plate.protection)
        if digit is not None and digit < wanted:
            place = Place("motor", plate.id, "protection")
            yield place, _protection(view, "The motor", plate.protection, wanted)
    # A drive in an enclosure stands where the enclosure stands, which the station does not say.
    if view.enclosure is None and view.drive_type is not None:
        digit = water_digit(view.drive_type.protection)
        if digit is not None and digit < wanted:
            told = _protection(view, "The drive", view.drive_type.protection, wanted)
            yield view.at_drive("enclosure_id"), told


def _protection(view: View, what: str, protection: str, digit: int) -> dict[str, Value]:
    area = view.station.area or ""
    return {"what": what, "protection": protection, "area": area, "digit": str(digit)}


def water_digit(protection: str) -> int | None:
    """The water digit of a protection class in words; None where none is named.

    ``IP55`` and ``TEFC, IP55`` give 5; ``NEMA 4X`` gives 6 (NEMA 250, from memory).
    """
    if found := re.search(r"\bIP\s?[0-6X]([0-9])", protection, re.IGNORECASE):
        return int(found.group(1))
    if found := re.search(r"\b(?:NEMA|TYPE)\s*([0-9]{1,2}[A-Z]?)\b", protection, re.IGNORECASE):
        return _NEMA_WATER.get(found.group(1).upper())
    return None


@station_rule(
    key="motor-cable-too-long",
    level="fault",
    says="The motor cable is {cable_length_m} long; drive type {drive_type} allows "
    "{allowed_length_m}.",
    follows="Charging current trips the drive, and voltage peaks stress the motor.",
    mend="Shorten it, or add an output choke as the drive's manual says.",
    source="the drive's manual as entered",
)
def motor_cable_too_long(view: View) -> Iterator[Found]:
    """A motor cable longer than the drive's manual allows."""
    cable, kind = view.station.cable("motor"), view.drive_type
    if cable is None or cable.length_m is None or kind is None or kind.motor_cable_max_m is None:
        return
    if cable.length_m > kind.motor_cable_max_m:
        yield (
            Place("cable", cable.id, "length_m"),
            {
                "cable_length_m": cable.length_m,
                "drive_type": kind.name,
                "allowed_length_m": kind.motor_cable_max_m,
            },
        )


@station_rule(
    key="setting-outside-list",
    level="fault",
    says="Setting {code} shows {shown}; its list allows {allowed}.",
    follows="The drive cannot have this value: it was read or typed wrong, or the list is wrong.",
    mend="Read the keypad again, or mend the list of the drive type.",
    source="the drive type's list as entered",
)
def setting_outside_list(view: View) -> Iterator[Found]:
    """A value that the list of settings does not allow."""
    if view.drive_type is None:
        return
    for setting in view.station.drive.settings:
        listed = view.drive_type.listed(setting.code)
        if listed is not None and not within_list(setting.shown, listed):
            allowed = listed.options or f"{listed.minimum} to {listed.maximum} {listed.unit}"
            yield (
                view.at_setting(setting.code),
                {"code": setting.code, "shown": setting.shown, "allowed": allowed.strip()},
            )


@station_rule(
    key="setting-not-in-list",
    level="advice",
    says="Setting {code} is entered, and drive type {drive_type} lists no such code.",
    follows="It stays from another drive type, or its code is misspelled; nothing is computed "
    "from it.",
    mend="Take it out, or add it to the list.",
    source="the drive type's list as entered",
)
def setting_not_in_list(view: View) -> Iterator[Found]:
    """A code that the drive type does not have."""
    if view.drive_type is None:
        return
    for setting in view.station.drive.settings:
        if view.drive_type.listed(setting.code) is None:
            yield (
                view.at_setting(setting.code),
                {"code": setting.code, "drive_type": view.drive_type.name},
            )


def entered_value(setting: InForce | None) -> float | None:
    """Value of a setting that somebody entered; None for a factory value."""
    return setting.value if setting is not None and setting.entered else None
