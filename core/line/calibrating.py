"""The reference of one station as it was read: against what is wanted and what its chain allows.

What is wanted at the ends, and how the drive's ends stood while it was read, is kept with the
readings; where it is not, the settings as they stand now are taken, and that is told.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.calc.calibration import Calibrated, Reading
from core.errors import RangeError
from core.line import calibration_rules as rules
from core.line.bands import FACTOR, reference_budget
from core.line.calibration_points import (
    Ends,
    PointRead,
    judged_points,
    limited_hz,
    line_through,
    readings_of,
)
from core.line.chain import WIRED
from core.line.figures import Figure
from core.line.results import LineResults
from core.line.station import StationResult
from core.model import CalibrationPoint

PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places of the reference that are read up, and then down again."""
READ = ("up", "down")
_DIGITS = 9


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
        return limited_hz(self.wanted.at(share), self.result.limits)

    @property
    def held(self) -> tuple[PointRead, ...]:
        """Readings that were left out of the line."""
        return tuple(entry for entry in self.points if entry.held)

    @property
    def counted(self) -> tuple[Reading, ...]:
        """Readings that the line is laid through."""
        return tuple(_counted(self.points))


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
    points = tuple(
        judged_points(result, [p for p in stored if p.direction in READ], wanted, limit.value)
    )
    found, problem = line_through([entry.point for entry in points if not entry.held], wanted)
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
    return Figure(rules.LIMIT, FACTOR * held.budget.standard, given, assumed=assumed)


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
        given["readings"] = float(len(list(_counted(points))))
    assumed = "ends wanted as set now" if wanted is not None and wanted.assumed else ""
    off = [entry.deviation_hz for entry in points if entry.deviation_hz is not None]
    worst = max(off, key=abs, default=None)
    yield Figure(rules.WORST, worst, given, () if off else lacks, "", assumed)
    for name, rule in rules.OF_LINE.items():
        value = None if found is None else round(getattr(found, name), _DIGITS)
        yield Figure(rule, value, given, lacks, problem, assumed)
    if found is not None and not _both_ways(points):
        yield Figure(rules.HYSTERESIS, None, given, ("readings up and down at one place",))
    else:
        lag = None if found is None else round(found.hysteresis_hz, _DIGITS)
        yield Figure(rules.HYSTERESIS, lag, given, lacks, problem, assumed)


def _counted(points: Sequence[PointRead]) -> Iterator[Reading]:
    return readings_of([entry.point for entry in points if not entry.held])


def _both_ways(points: Sequence[PointRead]) -> bool:
    """Whether a place was met going up and going down, by readings that count."""
    up, down = (
        {
            entry.point.share
            for entry in points
            if entry.point.direction == way and entry.deviation_hz is not None and not entry.held
        }
        for way in READ
    )
    return bool(up & down)
