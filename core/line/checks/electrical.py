"""Checks before power, at first power, and with the motor uncoupled."""

from core.calc import earth_test, insulation
from core.line.checks.base import Limits, Place, check
from core.line.feed import feed_of

_VOLTAGE_BAND = 0.10
"""Supply voltage, ± of nominal: EN 50160 and IEC 60204-1, 4.3.2."""
_UNBALANCE_MOST = 0.02
"""Voltage unbalance: IEC 60204-1, 4.3.2 (negative sequence not above 2 %)."""
_NO_LOAD = (0.2, 0.75)
"""No-load current of a small motor over its rated current; common practice."""


def _has_earth_path(place: Place) -> bool:
    cable = place.station.cable("motor") or place.station.cable("power_in")
    return bool(cable and cable.length_m and cable.earth_m2)


@check(
    _has_earth_path,
    key="earth-continuity",
    stage="before_power",
    label="Earth continuity from the drive's earth terminal to the motor frame",
    how="Low-ohm meter, 0.2 A at least; leads zeroed.",
    kind="resistance",
    caution="shock",
    source="IEC 60204-1, 18.2.2; resistance of copper by length and section",
)
def earth_continuity(place: Place) -> Limits:
    """The resistance that the earth conductor has by itself, and some for its joints."""
    cable = place.station.cable("motor") or place.station.cable("power_in")
    assert cable is not None
    expected = earth_test.expected_resistance_ohm(cable.length_m or 0.0, cable.earth_m2 or 0.0)
    return Limits(
        high=earth_test.highest_resistance_ohm(cable.length_m or 0.0, cable.earth_m2 or 0.0),
        expected=expected,
        why="length and section of the earth conductor, and joints",
    )


@check(
    key="insulation",
    stage="before_power",
    label="Insulation of motor and motor cable to earth, drive disconnected",
    how="Insulation tester; the DRIVE IS DISCONNECTED; note the temperature; discharge after.",
    kind="insulation",
    caution="shock",
    source="IEC 60364-6, table 6A; IEEE 43 by nameplate standard; corrected to 40 °C",
    warm=True,
)
def insulation_limit(place: Place) -> Limits:
    """The lowest that the rules of the project allow."""
    motors = place.station.motors
    volts = motors[0].voltage_v if motors else None
    if place.line.wiring_rules == "nec":
        return Limits(
            low=insulation.ieee_43_least_ohm(volts or 230.0),
            why="IEEE 43, random-wound below 1 kV, at 40 °C",
            refer_k=insulation.REFERENCE_K,
        )
    return Limits(
        low=insulation.iec_60364_6_least_ohm(volts or 400.0),
        why=f"IEC 60364-6, table 6A, {insulation.iec_60364_6_test_v(volts or 400.0):g} V",
    )


@check(
    key="terminals-tight",
    stage="before_power",
    label="Mains on the input, motor on the output, terminals tight, strands all in",
    how="By hand and by eye against the wiring schedule.",
    caution="shock",
)
def terminals_tight(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: bool(place.station.motors and place.station.motors[0].connection),
    key="links-as-entered",
    stage="before_power",
    label="Motor links as entered for the drive's output voltage",
    how="Open the terminal box; compare with the nameplate and the station sheet.",
    caution="shock",
)
def links_as_entered(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: place.station.drive.protection_a is not None,
    key="protection-as-entered",
    stage="before_power",
    label="Branch protection of the kind and rating entered",
    how="Read the device; compare with the branch schedule.",
    caution="shock",
)
def protection_as_entered(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: any(cable.screen != "none" for cable in place.station.cables),
    key="screens-as-entered",
    stage="before_power",
    label="Screens earthed where entered: signal at one end, motor cable at both",
    how="By eye at both ends.",
)
def screens_as_entered(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: place.station.area == "washdown",
    key="glands-closed",
    stage="before_power",
    label="Glands, covers and drain holes closed against washing down",
    how="By eye; drip loops on cables, glands downwards.",
    caution="water",
)
def glands_closed(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    key="guards-on",
    stage="before_power",
    label="Guards on, nobody at the machine, warning given",
    how="Walk along the line.",
    caution="start",
)
def guards_on(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: _nominal_v(place) is not None,
    key="supply-voltage",
    stage="first_power",
    label="Voltage at the drive's input",
    how="CAT III meter, between the lines that feed the drive.",
    kind="voltage",
    caution="shock",
    source="IEC 60204-1, 4.3.2: ± 10 % of nominal",
)
def supply_voltage(place: Place) -> Limits:
    """The nominal voltage of the feed, give or take a tenth."""
    nominal = _nominal_v(place) or 0.0
    return Limits(
        nominal * (1.0 - _VOLTAGE_BAND),
        nominal * (1.0 + _VOLTAGE_BAND),
        nominal,
        "nominal voltage ± 10 %",
    )


def _nominal_v(place: Place) -> float | None:
    feed = feed_of(place.supply, place.station.drive.supply_lines)
    return feed.voltage_v if feed else None


@check(
    lambda place: any((held.kind or "").startswith("3ph") for held in place.line.supplies),
    for_line=True,
    key="supply-unbalance",
    stage="first_power",
    label="Voltage unbalance of the three-phase supply",
    how="Three line voltages; largest deviation from their mean, over the mean.",
    kind="ratio",
    caution="shock",
    source="IEC 60204-1, 4.3.2: 2 %; NEMA MG 1, 14.36: 1 % without derating",
)
def supply_unbalance(_place: Place) -> Limits:
    """The unbalance up to which motors need no derating worth a word."""
    return Limits(high=_UNBALANCE_MOST, why="2 %")


@check(
    lambda place: place.at.drive_type is not None,
    key="settings-entered",
    stage="first_power",
    label="Every setting at the keypad as on the station sheet",
    how="Walk the list in keypad order.",
    caution="start",
)
def settings_entered(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: place.at.drive_type is not None,
    key="wait-before-opening",
    stage="first_power",
    label="Waiting time read from the drive's label and told to whoever opens it",
    how="Read the label; compare with the drive type.",
    caution="shock",
)
def wait_before_opening(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    key="direction",
    stage="uncoupled",
    label="Turns the way it should at the run command",
    how="A short run uncoupled, or a bump where it cannot be; a pump by its arrow.",
    caution="start",
)
def direction(_place: Place) -> Limits:
    """Yes or no."""
    return Limits()


@check(
    lambda place: _rated_a(place) is not None,
    key="no-load-current",
    stage="uncoupled",
    label="Motor current at no load",
    how="True-rms clamp suited to a drive's output, or the drive's display.",
    kind="current",
    caution="shock",
    source="common practice: a fifth to three quarters of rated current",
)
def no_load_current(place: Place) -> Limits:
    """A fraction of the rated current."""
    rated = _rated_a(place) or 0.0
    return Limits(_NO_LOAD[0] * rated, _NO_LOAD[1] * rated, None, "20 to 75 % of rated current")


def _rated_a(place: Place) -> float | None:
    amps = [motor.current_a for motor in place.station.motors]
    return sum(value or 0.0 for value in amps) if amps and None not in amps else None
