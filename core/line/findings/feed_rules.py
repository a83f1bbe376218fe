"""Findings about what feeds the drive: lines, phases, voltage and frequency."""

from collections.abc import Iterator

from core.line.feed import feed_of
from core.line.findings.base import Value
from core.line.findings.view import Found, View, station_rule
from core.model.choices import SUPPLY_KINDS, SUPPLY_LINES

_VOLTAGE_SLACK = 0.01


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
    feed, kind = view.feed, view.drive_type
    if feed is None or kind is None or kind.input_phases in (None, "1_or_3"):
        return
    if kind.input_phases == "1" and feed.phases == 3:
        yield view.at_drive("supply_lines"), _phases(view, "one phase")
    if kind.input_phases == "3" and feed.phases == 1 and kind.derated_1ph is None:
        yield view.at_drive("supply_lines"), _phases(view, "three phases")


def _phases(view: View, wants: str) -> dict[str, Value]:
    assert view.drive_type is not None
    lines = SUPPLY_LINES[view.station.drive.supply_lines or ""]
    return {"drive_type": view.drive_type.name, "wants": wants, "lines": lines}


@station_rule(
    key="three-phase-drive-on-one-phase",
    level="fault",
    says="A three-phase drive runs on one phase: {allowed_a} of its {rated_a} may be used; the "
    "motors ask {motors_a}.",
    follows="Its rectifier and capacitors overload, or it trips on a lost phase.",
    mend="Use a larger drive, or one made for one phase; the maker's figure for this use counts.",
    source="share from the drive's manual as entered; about half is common practice",
)
def three_phase_drive_on_one_phase(view: View) -> Iterator[Found]:
    """A three-phase drive derated for one phase, and still too small."""
    feed, kind, motors = view.feed, view.drive_type, view.motors_a
    if feed is None or feed.phases == 3 or kind is None or kind.input_phases != "3":
        return
    if kind.derated_1ph is None or kind.output_current_a is None or motors is None:
        return
    allowed = kind.derated_1ph * kind.output_current_a
    if motors > allowed * 1.001:
        yield (
            view.at_drive("supply_lines"),
            {"allowed_a": allowed, "rated_a": kind.output_current_a, "motors_a": motors},
        )


@station_rule(
    key="supply-voltage",
    level="blocker",
    says="The drive is fed with {supply_v}; drive type {drive_type} takes {bound} {limit_v}.",
    follows="Too high a voltage destroys it; too low a one stops it.",
    mend="Feed it from lines with a voltage in its range, or choose another drive type.",
    source="the drive's ratings as entered; nominal voltage of the supply",
)
def supply_voltage(view: View) -> Iterator[Found]:
    """The voltage between the feeding lines lies outside of the drive's range."""
    feed, kind = view.feed, view.drive_type
    if feed is None or kind is None:
        return
    slack = feed.voltage_v * _VOLTAGE_SLACK
    outside = _outside(feed.voltage_v, kind.input_voltage_min_v, kind.input_voltage_max_v, slack)
    if outside is not None:
        bound, limit = outside
        yield (
            view.at_drive("supply_lines"),
            {
                "supply_v": feed.voltage_v,
                "drive_type": kind.name,
                "bound": bound,
                "limit_v": limit,
            },
        )


@station_rule(
    key="supply-frequency",
    level="blocker",
    says="The supply has {supply_hz}; drive type {drive_type} takes {bound} {limit_hz}.",
    follows="It may trip or overheat.",
    mend="Check the rating plate; choose a drive type for this frequency.",
    source="the drive's ratings as entered",
)
def supply_frequency(view: View) -> Iterator[Found]:
    """The supply's frequency lies outside of the drive's input range."""
    kind, supply = view.drive_type, view.supply
    if kind is None or supply is None or supply.frequency_hz is None:
        return
    outside = _outside(
        supply.frequency_hz, kind.input_frequency_min_hz, kind.input_frequency_max_hz, 0.0
    )
    if outside is not None:
        bound, limit = outside
        yield (
            view.at_drive("supply_id"),
            {
                "supply_hz": supply.frequency_hz,
                "drive_type": kind.name,
                "bound": bound,
                "limit_hz": limit,
            },
        )


def _outside(
    value: float, low: float | None, high: float | None, slack: float
) -> tuple[str, float] | None:
    if low is not None and value < low - slack:
        return "at least", low
    if high is not None and value > high + slack:
        return "at most", high
    return None


@station_rule(
    key="lines-not-of-supply",
    level="blocker",
    says="Supply {supply} is {supply_kind}; a drive cannot be fed from {lines} of it.",
    follows="The drive cannot be fed as entered, and no circuit can be computed.",
    mend="Enter the lines that it is fed from.",
    source="kinds of supply, IEC 60038 and ANSI C84.1",
)
def lines_not_of_supply(view: View) -> Iterator[Found]:
    """Lines that this kind of supply does not have."""
    held, supply = view.station.drive, view.supply
    if supply is None or supply.kind is None or not held.supply_lines:
        return
    if feed_of(supply, held.supply_lines) is None:
        yield (
            view.at_drive("supply_lines"),
            {
                "supply": supply.name,
                "supply_kind": SUPPLY_KINDS[supply.kind],
                "lines": SUPPLY_LINES[held.supply_lines],
            },
        )
