"""The reference of one station as it was read: against what is wanted and what its chain allows.

What is wanted at the ends, and how the drive's ends stood while it was read, is kept with the
readings; where it is not, the settings as they stand now are taken, and that is told.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.calc import drivetrain
from core.calc.calibration import Calibrated, Reading, calibrate
from core.errors import RangeError
from core.line import calibration_rules as rules
from core.line.bands import FREQUENCY_STEP_HZ, budget_of, reference_budget
from core.line.chain import WIRED, Limits
from core.line.figures import Figure
from core.line.results import LineResults
from core.line.station import StationResult
from core.model import CalibrationPoint

PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places of the reference that are read up, and then down again."""
READ = ("up", "down")
_FACTOR = 2.0
_DIGITS = 9


@dataclass(frozen=True, slots=True)
class Ends:
    """Frequencies at 0 and at 100 % of the reference; ``assumed`` where nobody stored them."""

    bottom_hz: float
    top_hz: float
    assumed: bool = False

    def at(self, share: float) -> float:
        """The straight line between both."""
        return self.bottom_hz + share * (self.top_hz - self.bottom_hz)


@dataclass(frozen=True, slots=True)
class PointRead:
    """One reading, judged.

    ``held`` is ``minimum`` or ``maximum`` where the drive held its frequency there, so that the
    reading says nothing of the reference; such readings make no figure of the line.
    ``is_within`` is None where there is nothing to judge by. Speeds are measured against what
    follows from the frequency read.
    """

    point: CalibrationPoint
    wanted_hz: float | None = None
    deviation_hz: float | None = None
    is_within: bool | None = None
    held: str = ""
    computed_m_s: float | None = None
    speed_share: float | None = None
    speed_is_within: bool | None = None


@dataclass(frozen=True, slots=True)
class Calibration:
    """Everything that the readings of a station in one state say.

    ``holds`` tells whether every reading lies within the limit of the chain; None where there are
    no readings or no limit.
    """

    result: StationResult
    state: str
    points: tuple[PointRead, ...]
    wanted: Ends | None
    as_set: Ends | None
    found: Calibrated | None
    limit_hz: float | None
    figures: Mapping[str, Figure]

    @property
    def holds(self) -> bool | None:
        """Whether every frequency read lies within the limit."""
        judged = [held.is_within for held in self.points if held.is_within is not None]
        return all(judged) if judged else None

    def aim_hz(self, share: float) -> float | None:
        """What the drive is wanted to show at a place; None where the ends are not known."""
        if self.wanted is None:
            return None
        return _limited(self.wanted.at(share), self.result.limits)

    @property
    def held(self) -> tuple[PointRead, ...]:
        """Readings that were left out of the line."""
        return tuple(entry for entry in self.points if entry.held)

    @property
    def counted(self) -> tuple[Reading, ...]:
        """Readings that the line is laid through."""
        return tuple(_readings([entry.point for entry in self.points if not entry.held]))


def stations_to_calibrate(results: LineResults) -> tuple[StationResult, ...]:
    """Every station, those with a wired reference first, each group in the order of the line."""
    return tuple(sorted(results.stations, key=lambda held: not is_wired(held)))


def is_wired(result: StationResult) -> bool:
    """Whether a signal sets the speed of a station, so that there is something to calibrate."""
    return result.station.reference.source in WIRED


def stored_points(results: LineResults, station_id: int, state: str) -> list[CalibrationPoint]:
    """What is stored of a station in one state: up, then down, then what was wanted and set."""
    order = ("up", "down", "wanted", "set")
    held = [
        point
        for point in results.line.calibration_points
        if point.station_id == station_id and point.state == state
    ]

    def place(point: CalibrationPoint) -> tuple[int, float]:
        share = 2.0 if point.share is None else point.share
        return order.index(point.direction), -share if point.direction == "down" else share

    return sorted(held, key=place)


def ends_now(result: StationResult) -> Ends | None:
    """The ends of the reference as the drive's settings stand now; None where they are unknown."""
    limits = result.limits
    return None if limits is None else Ends(limits.bottom_hz, limits.top_hz, assumed=True)


def ends_to_keep(calibration: Calibration) -> Iterator[dict[str, str | float]]:
    """What is to be stored beside the first reading: the ends as wanted, and as they are set.

    An end below zero cannot be kept, since no reading is; it follows the settings.
    """
    for direction, ends in (("wanted", calibration.wanted), ("set", calibration.as_set)):
        if ends is not None:
            for share, hertz in ((0.0, ends.bottom_hz), (1.0, ends.top_hz)):
                if hertz >= 0.0:
                    yield {"direction": direction, "share": share, "frequency_hz": hertz}


def calibration_of(results: LineResults, station_id: int, state: str) -> Calibration:
    """Evaluate the readings of a station.

    Parameters
    ----------
    results : LineResults
        The line with its points.
    station_id : int
        The station; KeyError where there is none.
    state : str
        ``found`` or ``left``.
    """
    result = results.station(station_id)
    stored = stored_points(results, station_id, state)
    now = ends_now(result)
    before = stored_points(results, station_id, "found") if state == "left" else []
    wanted = _ends(stored, "wanted", _ends(before, "wanted", now))
    as_set = _ends(stored, "set", now)
    limit = _limit(result)
    points = tuple(_judged(result, [p for p in stored if p.direction in READ], wanted, limit.value))
    found, problem = _line([entry.point for entry in points if not entry.held], wanted)
    figures = {limit.key: limit}
    for figure in _figures(points, wanted, found, problem):
        figures[figure.key] = figure
    return Calibration(result, state, points, wanted, as_set, found, limit.value, figures)


def _ends(
    stored: Sequence[CalibrationPoint], direction: str, otherwise: Ends | None
) -> Ends | None:
    held = {point.share: point.frequency_hz for point in stored if point.direction == direction}
    bottom, top = held.get(0.0), held.get(1.0)
    if bottom is not None and top is not None:
        return Ends(bottom, top)
    if otherwise is None:
        return None
    return Ends(
        otherwise.bottom_hz if bottom is None else bottom,
        otherwise.top_hz if top is None else top,
        otherwise.assumed,
    )


def _limit(result: StationResult) -> Figure:
    try:
        held = reference_budget(result)
    except RangeError as error:
        return Figure(rules.LIMIT, None, problem=str(error))
    if held is None:
        return Figure(rules.LIMIT, None, lacks=("the reference from end to end",))
    given = {f"{row.name.replace(' ', '_')}_hz": row.standard for row in held.budget.rows}
    assumed = ", ".join(f"{part.part} ± {100.0 * part.half_width:g} %" for part in held.assumed)
    return Figure(rules.LIMIT, _FACTOR * held.budget.standard, given, assumed=assumed)


def _judged(
    result: StationResult,
    points: Sequence[CalibrationPoint],
    wanted: Ends | None,
    limit_hz: float | None,
) -> Iterator[PointRead]:
    held = _held(result, points, wanted, limit_hz)
    for point in points:
        computed, share, speed_within = _speed(result, point)
        aim = deviation = within = None
        if wanted is not None and point.share is not None:
            aim = _limited(wanted.at(point.share), result.limits)
            if point.frequency_hz is not None:
                deviation = round(point.frequency_hz - aim, _DIGITS)
                within = None if limit_hz is None else abs(deviation) <= limit_hz
        kept = held.get(id(point), "")
        yield PointRead(point, aim, deviation, within, kept, computed, share, speed_within)


def _limited(hertz: float, limits: Limits | None) -> float:
    return hertz if limits is None else min(max(hertz, limits.minimum_hz), limits.maximum_hz)


def _held(
    result: StationResult,
    points: Sequence[CalibrationPoint],
    wanted: Ends | None,
    limit_hz: float | None,
) -> dict[int, str]:
    """Readings at the drive's minimum or maximum where the others' line goes on past it."""
    limits = result.limits
    if limits is None or wanted is None:
        return {}
    step = (result.drive_type.frequency_step_hz if result.drive_type else None) or FREQUENCY_STEP_HZ
    half, slack = 0.5 * step + 1e-9, max(limit_hz or 0.0, step)
    bounds = {"minimum": (limits.minimum_hz, -1.0), "maximum": (limits.maximum_hz, 1.0)}
    near = {
        id(point): name
        for point in points
        for name, (bound, _) in bounds.items()
        if point.frequency_hz is not None and abs(point.frequency_hz - bound) <= half
    }
    line, _ = _line([point for point in points if id(point) not in near], wanted)
    found = {}
    for point in points:
        if id(point) in near and point.share is not None:
            bound, sign = bounds[near[id(point)]]
            there = wanted.at(point.share)
            if line is not None:
                there = line.zero_hz + line.span_hz * point.share
            if sign * (there - bound) > slack:
                found[id(point)] = near[id(point)]
    return found


def _readings(points: Sequence[CalibrationPoint]) -> Iterator[Reading]:
    for point in points:
        if point.share is not None and point.frequency_hz is not None:
            yield Reading(point.share, point.frequency_hz, point.direction == "up")


def _line(points: Sequence[CalibrationPoint], wanted: Ends | None) -> tuple[Calibrated | None, str]:
    readings = list(_readings(points))
    if wanted is None or not readings:
        return None, ""
    try:
        return calibrate(readings, wanted.bottom_hz, wanted.top_hz), ""
    except RangeError as error:
        return None, str(error)


def _figures(
    points: Sequence[PointRead], wanted: Ends | None, found: Calibrated | None, problem: str
) -> Iterator[Figure]:
    lacks: tuple[str, ...] = ()
    if wanted is None:
        lacks = ("frequency at both ends of the reference",)
    elif found is None and not problem:
        lacks = ("readings",)
    given: dict[str, float | str | None] = {}
    if wanted is not None:
        given = {"bottom_wanted_hz": wanted.bottom_hz, "top_wanted_hz": wanted.top_hz}
        given["readings"] = float(sum(not entry.held for entry in points))
    assumed = "ends wanted as set now" if wanted is not None and wanted.assumed else ""
    worst = max(
        (entry.deviation_hz for entry in points if entry.deviation_hz is not None),
        key=abs,
        default=None,
    )
    yield Figure(rules.WORST, worst, given, lacks if worst is None else (), "", assumed)
    for name, rule in rules.OF_LINE.items():
        value = None if found is None else round(getattr(found, name), _DIGITS)
        yield Figure(rule, value, given, lacks, problem, assumed)
    ways = [
        {entry.point.share for entry in points if entry.deviation_hz is not None
         and entry.point.direction == way and not entry.held}
        for way in READ
    ]  # fmt: skip
    both = bool(ways[0] & ways[1])
    lag = round(found.hysteresis_hz, _DIGITS) if found is not None and both else None
    if found is not None and not both:
        lacks = ("readings up and down at one place",)
    yield Figure(rules.HYSTERESIS, lag, given, lacks, problem, assumed)


def _speed(
    result: StationResult, point: CalibrationPoint
) -> tuple[float | None, float | None, bool | None]:
    """Surface speed that the frequency read should give; measured against it; within its band."""
    shaft, hertz = result.shaft, point.frequency_hz
    surface = shaft.to_surface
    try:
        turned = shaft.motor_speed(hertz)
        if surface is None or turned is None or turned < 0.0 or not shaft.ratio:
            return None, None, None
        computed = surface(drivetrain.shaft_speed_rad_s(turned, shaft.ratio))
        if point.speed_m_s is None or not computed:
            return computed, None, None
        share = point.speed_m_s / computed - 1.0
        budget = budget_of(result, hertz)
    except RangeError:
        return None, None, None
    within = None if budget is None else abs(share) <= _FACTOR * budget.relative_u
    return computed, share, within
