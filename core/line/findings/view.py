"""What a rule sees: a station with everything it rests on; and where the rules are entered."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from core.line.findings.base import Finding, FindingRule, Place, Value
from core.line.results import LineResults, StationResult
from core.line.settings import InForce, in_force
from core.model import Bus, DriveType, Enclosure, Line, Motor, Station, Supply

Found = tuple[Place, dict[str, Value]]


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


StationRule = Callable[[View], Iterable[Found]]
LineRule = Callable[[LineResults], Iterable[tuple[Station | None, Place, dict[str, Value]]]]

STATION_RULES: dict[str, tuple[FindingRule, StationRule]] = {}
LINE_RULES: dict[str, tuple[FindingRule, LineRule]] = {}


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


def findings_at(view: View) -> Iterator[Finding]:
    """All findings of one station."""
    for rule, function in STATION_RULES.values():
        for place, values in function(view):
            yield Finding(rule, view.station.id, view.station.tag, place, values)


def findings_of_line(results: LineResults) -> Iterator[Finding]:
    """The findings that only the line as a whole can give."""
    for rule, function in LINE_RULES.values():
        for station, place, values in function(results):
            tag = station.tag if station else ""
            yield Finding(rule, station.id if station else None, tag, place, values)
