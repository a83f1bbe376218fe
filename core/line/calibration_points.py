"""Readings of a reference, each judged by itself: deviation, held by the drive, speed beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.calc import drivetrain
from core.calc.calibration import Calibrated, Reading, calibrate
from core.errors import RangeError
from core.line.bands import FACTOR, FREQUENCY_STEP_HZ, budget_of
from core.line.chain import Limits
from core.line.station import StationResult
from core.model import CalibrationPoint

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
    ``beyond`` tells that the drive cannot have shown it with its limits as they are set now.
    ``is_within`` is None where there is nothing to judge by. Speeds are measured against what
    follows from the frequency read.
    """

    point: CalibrationPoint
    wanted_hz: float | None = None
    deviation_hz: float | None = None
    is_within: bool | None = None
    held: str = ""
    beyond: bool = False
    computed_m_s: float | None = None
    speed_share: float | None = None
    speed_is_within: bool | None = None


def judged_points(
    result: StationResult,
    points: Sequence[CalibrationPoint],
    wanted: Ends | None,
    limit_hz: float | None,
) -> Iterator[PointRead]:
    """Every reading with its deviation, and whether the drive itself held it.

    Parameters
    ----------
    result : StationResult
        The station.
    points : sequence of CalibrationPoint
        Readings in one state.
    wanted : Ends or None
        What is wanted at both ends.
    limit_hz : float or None
        How far a reading may lie off; None where nothing says so.
    """
    held = _held(result, points, wanted, limit_hz)
    for point in points:
        computed, share, speed_within = _speed(result, point)
        aim = deviation = within = None
        if wanted is not None and point.share is not None:
            aim = limited_hz(wanted.at(point.share), result.limits)
            if point.frequency_hz is not None:
                deviation = round(point.frequency_hz - aim, _DIGITS)
                within = None if limit_hz is None else abs(deviation) <= limit_hz
        kept = held.get(id(point), "")
        yield PointRead(
            point,
            aim,
            deviation,
            within,
            kept,
            _is_beyond(result, point),
            computed,
            share,
            speed_within,
        )


def _is_beyond(result: StationResult, point: CalibrationPoint) -> bool:
    limits, hertz = result.limits, point.frequency_hz
    if limits is None or hertz is None:
        return False
    half = 0.5 * _step_hz(result) + 1e-9
    return not limits.minimum_hz - half <= hertz <= limits.maximum_hz + half


def _step_hz(result: StationResult) -> float:
    """What the drive's display can tell apart."""
    return (result.drive_type.frequency_step_hz if result.drive_type else None) or FREQUENCY_STEP_HZ


def limited_hz(hertz: float, limits: Limits | None) -> float:
    """A frequency as minimum and maximum of the drive hold it."""
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
    step = _step_hz(result)
    half, slack = 0.5 * step + 1e-9, max(limit_hz or 0.0, step)
    bounds = {"minimum": (limits.minimum_hz, -1.0), "maximum": (limits.maximum_hz, 1.0)}
    near = {
        id(point): name
        for point in points
        for name, (bound, _) in bounds.items()
        if point.frequency_hz is not None and abs(point.frequency_hz - bound) <= half
    }
    line, _ = line_through([point for point in points if id(point) not in near], wanted)
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


def readings_of(points: Sequence[CalibrationPoint]) -> Iterator[Reading]:
    """The points that have both a place and a frequency."""
    for point in points:
        if point.share is not None and point.frequency_hz is not None:
            yield Reading(point.share, point.frequency_hz, point.direction == "up")


def line_through(
    points: Sequence[CalibrationPoint], wanted: Ends | None
) -> tuple[Calibrated | None, str]:
    """The straight lines through readings; without them, why there are none."""
    readings = list(readings_of(points))
    if wanted is None or not readings:
        return None, ""
    try:
        return calibrate(readings, wanted.bottom_hz, wanted.top_hz), ""
    except RangeError as error:
        return None, str(error)


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
    within = None if budget is None else abs(share) <= FACTOR * budget.relative_u
    return computed, share, within
