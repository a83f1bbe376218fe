"""What a rule sees: a station with everything it rests on; and where the rules are entered."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

from core.calc import motor_limits
from core.errors import RangeError
from core.line.chain import WIRED
from core.line.feed import Feed, feed_of
from core.line.findings.base import Finding, FindingRule, Place, Value
from core.line.plan import Plan, PlanEntry
from core.line.results import LineResults
from core.line.service import EnclosureHeat, SupplyLoad, enclosure_heats, supply_loads
from core.line.settings import InForce, in_force
from core.line.station import StationResult
from core.model import Bus, DriveType, Enclosure, Line, Motor, Station, Supply

Found = tuple[Place, dict[str, Value]]
_Seen = TypeVar("_Seen")
_Given = TypeVar("_Given")
_SAME_FLUX = 0.05
"""Deviation of volts per hertz that counts as none; common practice."""


@dataclass(frozen=True, slots=True)
class View:
    """One station with its drive type, supply, enclosure, bus and results."""

    line: Line
    station: Station
    drive_type: DriveType | None
    supply: Supply | None
    enclosure: Enclosure | None
    bus: Bus | None
    result: StationResult

    @property
    def motors(self) -> tuple[Motor, ...]:
        """The motors of the station."""
        return self.station.motors

    @property
    def motor(self) -> Motor | None:
        """The first motor, if there is one."""
        return self.station.motors[0] if self.station.motors else None

    def setting(self, role: str) -> InForce | None:
        """The setting with this role as it acts."""
        return in_force(self.station, self.drive_type, role)

    @property
    def motors_a(self) -> float | None:
        """Sum of the rated currents of all motors; None where one is not entered."""
        amps = [plate.current_a for plate in self.station.motors]
        return None if not amps or None in amps else sum(value or 0.0 for value in amps)

    @property
    def feed(self) -> Feed | None:
        """What feeds the drive, as far as it is entered."""
        return feed_of(self.supply, self.station.drive.supply_lines)

    @property
    def lowest_hz(self) -> float | None:
        """Lowest frequency in use: the minimum, or the bottom of a wired reference above it."""
        limits = self.result.limits
        if limits is None:
            return None
        if self.station.reference.source not in WIRED:
            return limits.minimum_hz
        return max(limits.minimum_hz, min(limits.bottom_hz, limits.top_hz))

    @property
    def base_hz(self) -> float | None:
        """Frequency up to which the motor has its full flux.

        Above rated frequency on purpose, with voltage and frequency set in the ratio of the plate
        (a 230 V 50 Hz motor at 400 V 87 Hz), it is the frequency that is set.
        """
        plate, voltage = self.motor, self.setting("motor_voltage")
        frequency = self.setting("motor_frequency")
        rated = plate.frequency_hz if plate else None
        if not self.station.above_base or voltage is None or frequency is None or plate is None:
            return rated
        if not (voltage.value and frequency.value and plate.voltage_v and rated):
            return rated
        kept = motor_limits.flux_share(voltage.value, frequency.value, plate.voltage_v, rated)
        return frequency.value if abs(kept - 1.0) <= _SAME_FLUX else rated

    def at_drive(self, field: str = "drive_type_id") -> Place:
        """The station's drive as a place to look."""
        return Place("drive", self.station.drive.id, field)

    def at_reference(self, field: str = "source") -> Place:
        """The station's speed reference as a place to look."""
        return Place("speed_reference", self.station.reference.id, field)

    def at_setting(self, code: str) -> Place:
        """A drive setting as a place to look."""
        return Place("setting", self.station.drive.id, code)

    def at_controls(self, field: str = "start_mode") -> Place:
        """The station's controls as a place to look."""
        return Place("controls", self.station.controls.id, field)

    def at_train(self, field: str = "gear_ratio") -> Place:
        """The station's drivetrain as a place to look."""
        return Place("drivetrain", self.station.drivetrain.id, field)


@dataclass(frozen=True, slots=True)
class LineView:
    """The line as a whole, with what its drives together ask of supplies and enclosures."""

    results: LineResults
    loads: tuple[SupplyLoad, ...]
    heats: tuple[EnclosureHeat, ...]

    @property
    def line(self) -> Line:
        """The line itself."""
        return self.results.line

    @property
    def stations(self) -> tuple[StationResult, ...]:
        """The results of all stations."""
        return self.results.stations


@dataclass(frozen=True, slots=True)
class PlanView:
    """One plan of the line; ``when`` names its recipe where the line has several."""

    results: LineResults
    plan: Plan
    when: str

    @property
    def line(self) -> Line:
        """The line itself."""
        return self.results.line

    @property
    def is_in_force(self) -> bool:
        """Whether the line is set up for this recipe, so that present settings are about it."""
        return self.plan is self.results.plan

    @property
    def entries(self) -> Iterable[PlanEntry]:
        """The stations in the order of the flow."""
        return self.plan.entries.values()

    def station(self, station_id: int) -> Station:
        """A station of the line."""
        return self.plan.entries[station_id].station

    def tags(self, station_ids: Iterable[int]) -> str:
        """Tags of stations, as a sentence names them."""
        return ", ".join(self.station(entry).tag for entry in station_ids)


StationRule = Callable[[View], Iterable[Found]]
LineFound = tuple[Station | None, Place, dict[str, Value]]
LineRule = Callable[[LineView], Iterable[LineFound]]

PlanRule = Callable[[PlanView], Iterable[LineFound]]

STATION_RULES: dict[str, tuple[FindingRule, StationRule]] = {}
LINE_RULES: dict[str, tuple[FindingRule, LineRule]] = {}
PLAN_RULES: dict[str, tuple[FindingRule, PlanRule]] = {}


def station_rule(**words: Any) -> Callable[[StationRule], StationRule]:
    """Enter a rule that looks at one station; ``words`` are the fields of its `FindingRule`."""

    def enter(function: StationRule) -> StationRule:
        rule = FindingRule(**words)
        assert rule.key not in STATION_RULES
        STATION_RULES[rule.key] = (rule, function)
        return function

    return enter


def line_rule(**words: Any) -> Callable[[LineRule], LineRule]:
    """Enter a rule that looks at the line as a whole."""

    def enter(function: LineRule) -> LineRule:
        rule = FindingRule(**words)
        assert rule.key not in LINE_RULES
        LINE_RULES[rule.key] = (rule, function)
        return function

    return enter


def plan_rule(**words: Any) -> Callable[[PlanRule], PlanRule]:
    """Enter a rule that looks at the plan of one recipe; ``{when}`` in its words names it."""

    def enter(function: PlanRule) -> PlanRule:
        rule = FindingRule(**words)
        assert rule.key not in PLAN_RULES
        PLAN_RULES[rule.key] = (rule, function)
        return function

    return enter


def findings_at(view: View) -> Iterator[Finding]:
    """All findings of one station."""
    for rule, function in STATION_RULES.values():
        for place, values in _judged(function, view):
            yield Finding(rule, view.station.id, view.station.tag, place, values)


def _judged(function: Callable[[_Seen], Iterable[_Given]], seen: _Seen) -> list[_Given]:
    try:
        return list(function(seen))
    except RangeError:
        # An entry that no formula takes: the figure that rests on it tells so, beside the field.
        return []


def findings_of_line(results: LineResults) -> Iterator[Finding]:
    """The findings that only the line as a whole can give."""
    seen = LineView(results, supply_loads(results), enclosure_heats(results))
    for rule, function in LINE_RULES.values():
        for station, place, values in _judged(function, seen):
            tag = station.tag if station else ""
            yield Finding(rule, station.id if station else None, tag, place, values)
    for plan in results.plans:
        several = len(results.plans) > 1 and plan.recipe is not None
        view = PlanView(results, plan, f"{plan.recipe.name}: " if several and plan.recipe else "")
        for plan_rule_of, function_of in PLAN_RULES.values():
            for station, place, values in _judged(function_of, view):
                tag = station.tag if station else ""
                station_id = station.id if station else None
                told = {**values, "when": view.when} if view.when else values
                yield Finding(plan_rule_of, station_id, tag, place, told)
