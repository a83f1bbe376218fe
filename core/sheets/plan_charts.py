"""The charts of a plan, filled from its figures."""

from collections.abc import Iterator

from core.calc import pair_ratio
from core.errors import RangeError
from core.line import LineResults, Plan, PlanEntry
from core.line.bands import budget_of
from core.line.pairs import PairResult, Side
from core.line.station import StationResult
from core.sheets.charts import (
    SIZE,
    Capacity,
    ChartWords,
    Ratio,
    Speed,
    Travel,
    capacity_chart,
    ratio_chart,
    reference_chart,
    speed_chart,
)
from core.sheets.document import Part, Picture
from core.sheets.drawing import Drawing
from core.sheets.entries import Entries
from core.sheets.words import words_of
from core.units import System, show_computed, unit_of

CHARTS = ("chart_speeds", "chart_capacity", "chart_reference", "chart_ratio")
"""Keys of the charts of a plan among the words of the sheets, in their order."""
_STEPS = 20


def charts_of(entries: Entries, results: LineResults, plan: Plan) -> Iterator[Part]:
    """The charts of one plan, each under its heading."""
    words = words_of(ChartWords, entries.say)
    for key in CHARTS:
        yield Picture(chart_of(key, results, plan, words=words), entries.say(key))


def chart_of(
    key: str,
    results: LineResults,
    plan: Plan,
    size: tuple[float, float] = SIZE,
    words: ChartWords | None = None,
) -> Drawing:
    """One chart of a plan, by its key of `CHARTS`.

    Parameters
    ----------
    key : str
        Which chart.
    results : LineResults
        The line, for its units.
    plan : Plan
        The plan of one recipe.
    size : tuple of float
        Width and height [pt].
    words : ChartWords, optional
        In the language of the reader; English without it.
    """
    words = words or ChartWords()
    system = results.line.unit_system
    if key == "chart_speeds":
        speeds = [_speed(entry, system) for entry in plan.entries.values()]
        return speed_chart(speeds, unit_of("surface_speed", system), words, size)
    if key == "chart_capacity":
        return capacity_chart(list(_capacities(plan, system)), "/s", words, size)
    if key == "chart_reference":
        travels = [_travel(entry, system) for entry in plan.entries.values()]
        return reference_chart(travels, unit_of("surface_speed", system), words, size)
    return ratio_chart([_ratio(held) for held in plan.pairs], words, size)


def _number(value: float, kind: str, system: System) -> float:
    return float(show_computed(value, kind, system).number)


def _speed(entry: PlanEntry, system: System) -> Speed:
    def shown(value: float | None) -> float | None:
        return None if value is None else _number(value, "surface_speed", system)

    budget = budget_of(entry.result, entry.planned_hz)
    planned = shown(entry.planned_m_s)
    band = 2.0 * budget.relative_u * planned if budget and planned is not None else None
    return Speed(entry.tag, planned, band, shown(entry.present_m_s))


def _capacities(plan: Plan, system: System) -> Iterator[Capacity]:
    for entry in plan.entries.values():
        first = plan.graph.together[entry.station.id][0] == entry.station.id
        if entry.capacity_1_s is not None and entry.flow_1_s is not None and first:
            yield Capacity(
                entry.tag,
                _number(entry.capacity_1_s, "count_rate", system),
                _number(entry.flow_1_s, "count_rate", system),
                plan.bottleneck_id == entry.station.id,
            )


def surface_at(result: StationResult, share: float) -> float | None:
    """Surface speed at a place of the reference [m/s]; None where it is not known."""
    chain, shaft = result.chain, result.shaft
    surface = shaft.to_surface
    if chain is None or surface is None or not shaft.ratio:
        return None
    try:
        speed = shaft.motor_speed(chain.frequency_hz(chain.signal(share)))
    except RangeError:
        return None
    return None if speed is None or speed < 0 else surface(speed / shaft.ratio)


def _travel(entry: PlanEntry, system: System) -> Travel:
    points = []
    for step in range(_STEPS + 1):
        speed = surface_at(entry.result, step / _STEPS)
        if speed is not None:
            points.append((100.0 * step / _STEPS, _number(speed, "surface_speed", system)))
    now = entry.result.value("reference_now_share")
    return Travel(
        entry.tag,
        tuple(points),
        _point(entry.planned_share, entry.planned_m_s, system),
        _point(now, entry.present_m_s, system),
    )


def _point(share: float | None, speed: float | None, system: System) -> tuple[float, float] | None:
    if share is None or speed is None:
        return None
    return 100.0 * share, _number(speed, "surface_speed", system)


def _planned_share(side: Side) -> float | None:
    """Place of the reference that the planned frequency asks for."""
    chain = side.result.chain
    if chain is None or not side.planned_hz:
        return None
    try:
        return chain.fraction_for(chain.signal_for(side.planned_hz))
    except RangeError:
        return None


def _differential_at(
    held: PairResult, turned: float, shares: tuple[float, float]
) -> Iterator[tuple[float, float]]:
    one = surface_at(held.first.result, turned * shares[0])
    other = surface_at(held.second.result, turned * shares[1])
    if one is not None and other is not None and one + other > 0.0:
        yield 100.0 * turned, 100.0 * pair_ratio.differential_share(one, other)


def _ratio(held: PairResult) -> Ratio:
    """The differential as one knob for both is turned, from a fifth to all that both can do.

    At 100 % each reference stands where the plan wants it; elsewhere at the same share of that.
    """
    points: list[tuple[float, float]] = []
    places = [_planned_share(side) for side in (held.first, held.second)]
    one, other = places
    if one and other:
        for step in range(4, 25):
            turned = step / _STEPS
            if max(one, other) * turned <= 1.0:
                points += _differential_at(held, turned, (one, other))
    band = held.tolerance
    low = high = None
    if held.wanted is not None and band is not None:
        low, high = 100.0 * (held.wanted - band), 100.0 * (held.wanted + band)
    return Ratio(held.pair.name, tuple(points), 200.0 * (held.u or 0.0), low, high)
