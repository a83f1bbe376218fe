"""How far the travel of each reference covers the range in use, and ends that would suit better."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from core.calc import span
from core.errors import RangeError
from core.line.results import LineResults
from core.line.station import StationResult

SMALL_STEP = 0.01
"""The step of travel that is told: what a hand just manages."""


@dataclass(frozen=True, slots=True)
class TravelAdvice:
    """One reference: its ends as set and as suggested, and what one per cent of travel does."""

    result: StationResult
    planned_hz: tuple[float, ...]
    bottom_hz: float
    top_hz: float
    better_bottom_hz: float
    better_top_hz: float
    step_hz: float
    better_step_hz: float


def travel_advice(results: LineResults) -> Iterator[TravelAdvice]:
    """Advice for every station with a wired reference and a planned speed in some recipe.

    Notes
    -----
    The range in use runs over all recipes. The bottom stays above the drive's minimum and above
    what cools the motor at its load, unless a recipe itself asks for less.
    """
    for result in results.stations:
        limits = result.limits
        if result.chain is None or limits is None:
            continue
        planned = _planned(results, result.station.id)
        inside = [hz for hz in planned if limits.minimum_hz <= hz <= limits.maximum_hz]
        if not inside:
            continue
        cooled = result.value("cooled_from_hz") or 0.0
        lowest = max(limits.minimum_hz, cooled)
        if min(inside) < lowest:
            # A whole number, as a person sets it.
            lowest = max(limits.minimum_hz, float(math.floor(min(inside))))
        try:
            bottom, top = span.suggest_span(inside, lowest, limits.maximum_hz)
            now = span.resolution_hz(limits.bottom_hz, limits.top_hz, SMALL_STEP)
            better = span.resolution_hz(bottom, top, SMALL_STEP)
        except RangeError:
            continue
        yield TravelAdvice(
            result, tuple(inside), limits.bottom_hz, limits.top_hz, bottom, top, now, better
        )


def _planned(results: LineResults, station_id: int) -> list[float]:
    found = (plan.entries[station_id].planned_hz for plan in results.plans)
    return sorted({round(hz, 6) for hz in found if hz})
