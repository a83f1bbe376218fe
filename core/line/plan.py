"""The speed plan: the line computed as one thing, for one recipe.

From the fruit that is wanted, station by station in the order of the flow, to the speed, the
frequency and the place of the knob; and beside it what the present settings give.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from core.errors import RangeError
from core.line import plan_rules, rules
from core.line.aims import Trouble, Wanted, order_of_aims, rests_on, wanted_speed
from core.line.figures import Figure
from core.line.flow import FlowFault, FlowGraph
from core.line.pairs import PairResult, Side, pair_result
from core.line.process import process_figures
from core.line.rates import Rates, rates_of
from core.line.reach import nearest_m_s
from core.line.scene import Scene
from core.line.station import StationResult
from core.line.work import Speeds
from core.model import Line, Pair, Recipe, Station


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """One station in the plan.

    ``wanted`` holds the figures from the wanted speed back to the reference; ``planned`` what the
    station does to the fruit at that speed, ``present`` at the speed that is set now, ``nearest``
    at the nearest end of what reference and drive can give, where the wanted one lies beyond it;
    else it is empty.

    ``limit_share`` is the fruit to carry over what it could be set to carry: a station whose speed
    is planned from the fruit to carry is sped up with it, up to its maximum frequency; what another
    one carries as set now is its limit.
    """

    result: StationResult
    basis: str
    flow_1_s: float | None
    wanted: Mapping[str, Figure]
    planned: Mapping[str, Figure]
    present: Mapping[str, Figure]
    nearest: Mapping[str, Figure]
    limit_share: float | None

    @property
    def station(self) -> Station:
        """The station itself."""
        return self.result.station

    @property
    def tag(self) -> str:
        """Tag of the station."""
        return self.result.tag

    @property
    def planned_m_s(self) -> float | None:
        """Surface speed wanted."""
        return _value(self.wanted, rules.WANTED_SURFACE.key)

    @property
    def planned_hz(self) -> float | None:
        """Frequency wanted."""
        return _value(self.wanted, rules.WANTED_FREQUENCY.key)

    @property
    def planned_share(self) -> float | None:
        """Place of the knob, or share of the signal's span, wanted."""
        return _value(self.wanted, rules.WANTED_SHARE.key)

    @property
    def present_m_s(self) -> float | None:
        """Surface speed as set now."""
        return self.result.value(rules.NOW_SURFACE.key)

    @property
    def present_hz(self) -> float | None:
        """Frequency as set now."""
        return self.result.value(rules.NOW_FREQUENCY.key)

    @property
    def side(self) -> Side:
        """What a pair needs of it."""
        return Side(self.result, self.planned_m_s, self.planned_hz, self.present_m_s)

    @property
    def capacity_1_s(self) -> float | None:
        """Fruit that it carries at most as set now."""
        return _value(self.present, plan_rules.CAPACITY.key)

    @property
    def used_share(self) -> float | None:
        """Fruit to carry over what it carries at most, as set now."""
        return _value(self.present, plan_rules.USE.key)


FOLLOWING = ("touching", "gap", "pitch", "cover", "cups")
"""Bases on which a speed rises with the fruit to carry."""

_Inputs = tuple[Any, ...]


@dataclass(slots=True)
class _Kept:
    """What was found, each beside what it was found from: the next plan takes over what it can."""

    rates: tuple[FlowGraph, tuple[Any, ...], Rates] | None = None
    wanted: dict[int, tuple[_Inputs, Wanted | None]] = field(default_factory=dict)
    entries: dict[int, tuple[_Inputs, PlanEntry]] = field(default_factory=dict)
    pairs: dict[int, tuple[_Inputs, PairResult | None]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of a line for one recipe; ``recipe`` is None where the line has none.

    ``entries`` go in the order of the flow. ``bottleneck_id`` is the station that first becomes
    full when more is fed, and ``most_feed_1_s`` the feed at which it is.
    """

    recipe: Recipe | None
    graph: FlowGraph
    rates: Rates
    entries: Mapping[int, PlanEntry]
    pairs: tuple[PairResult, ...]
    flow_faults: tuple[FlowFault, ...]
    troubles: tuple[Trouble, ...]
    bottleneck_id: int | None
    most_feed_1_s: float | None
    _kept: "_Kept" = field(repr=False, default_factory=lambda: _Kept())

    def entry(self, station_id: int) -> PlanEntry:
        """One station of the plan; KeyError where there is none."""
        return self.entries[station_id]

    def flow_figure(self, station_id: int) -> Figure | None:
        """Fruit that a station has to carry, with what brings it; None where it is not known."""
        flow = self.rates.at_1_s.get(station_id)
        if flow is None:
            return None
        given: dict[str, float | str | None] = {"feed_1_s": self.rates.feed_1_s}
        for link in self.graph.fed_by.get(station_id, ()):
            source = self.entries.get(link.from_station_id or 0)
            if source is not None:
                given[f"from_{source.tag}_1_s"] = self.rates.link_1_s.get(link.id)
        return Figure(plan_rules.FLOW, flow, given)


def plan_of(
    line: Line,
    graph: FlowGraph,
    results: Mapping[int, StationResult],
    recipe: Recipe | None,
    before: Plan | None = None,
) -> Plan:
    """Plan a line for one recipe.

    Parameters
    ----------
    line, graph, results
        The line, its flow, and its stations by themselves.
    recipe : Recipe or None
        The fruit; without one, only speeds that rest on no fruit are planned.
    before : Plan, optional
        An earlier plan of the same recipe; stations for which nothing has changed keep theirs.
    """
    old = before._kept if before is not None and before.recipe is recipe else _Kept()
    kept = _Kept()
    rates = _rates(line, graph, recipe, old, kept)
    scene = Scene(line, recipe, graph, rates, results, _pairs_by_station(line), _own(recipe))
    needs = {station_id: rests_on(scene, held.station) for station_id, held in results.items()}
    order, rings = order_of_aims(graph.order, needs)
    wanted: dict[int, Wanted] = {}
    troubles = [Trouble("circular", ring) for ring in rings]
    for station_id in order:
        found = _wanted(scene, results[station_id], needs[station_id], wanted, old, kept)
        if found is not None:
            wanted[station_id] = found
            if found.trouble is not None:
                troubles.append(found.trouble)
    entries = {
        station_id: _entry(scene, results[station_id], wanted, old, kept)
        for station_id in graph.order
    }
    bottleneck, most = _bottleneck(rates, entries)
    return Plan(
        recipe,
        graph,
        rates,
        entries,
        tuple(_pairs(line, entries, old, kept)),
        (*graph.faults, *rates.faults),
        tuple(troubles),
        bottleneck,
        most,
        kept,
    )


def _rates(line: Line, graph: FlowGraph, recipe: Recipe | None, old: _Kept, kept: _Kept) -> Rates:
    takes = (held.process for held in line.stations if held.kind == "take_away")
    sizes = tuple((held.size_from_m, held.size_to_m) for held in takes)
    if old.rates is not None and old.rates[0] is graph and old.rates[1] == sizes:
        kept.rates = old.rates
    else:
        kept.rates = (graph, sizes, rates_of(line, graph, recipe))
    return kept.rates[2]


def _wanted(
    scene: Scene,
    result: StationResult,
    needs: tuple[int, ...],
    known: Mapping[int, Wanted],
    old: _Kept,
    kept: _Kept,
) -> Wanted | None:
    station = result.station
    inputs = (
        result,
        scene.aim(station),
        scene.rates.at_1_s.get(station.id),
        scene.lanes(station),
        *scene.pairs.get(station.id, ()),
        *scene.graph.together[station.id],
        *(known[other].surface_m_s if other in known else None for other in needs),
        *(scene.results[other].station.turn for other in needs),
    )
    held = old.wanted.get(station.id)
    if held is not None and _same(held[0], inputs):
        kept.wanted[station.id] = held
        return held[1]
    found = wanted_speed(scene, result, known)
    kept.wanted[station.id] = (inputs, found)
    return found


def _entry(
    scene: Scene,
    result: StationResult,
    wanted: Mapping[int, Wanted],
    old: _Kept,
    kept: _Kept,
) -> PlanEntry:
    station = result.station
    own = wanted.get(station.id)
    partner, carrier = scene.partner(station), None
    if station.kind == "spin_section":
        carrier = scene.carrier(station)
    others = [None if entry is None else scene.results[entry.id] for entry in (partner, carrier)]
    inputs = (
        result,
        scene.aim(station),
        own,
        scene.rates.at_1_s.get(station.id),
        scene.lanes(station),
        *others,
        *(wanted.get(entry.id) if entry else None for entry in (partner, carrier)),
        *scene.pairs.get(station.id, ()),
    )
    held = old.entries.get(station.id)
    if held is not None and _same(held[0], inputs):
        kept.entries[station.id] = held
        return held[1]
    planned = Speeds(
        own.surface_m_s if own else None,
        _planned(wanted, partner),
        _planned(wanted, carrier),
        _value(own.figures, rules.WANTED_SHAFT.key) if own else None,
    )
    present = Speeds(
        result.value(rules.NOW_SURFACE.key),
        _present(others[0]),
        _present(others[1]),
        result.value(rules.NOW_SHAFT.key),
    )
    basis, figures = own.basis if own else "none", process_figures(scene, station, present)
    reached = nearest_m_s(result, _value(own.figures, rules.WANTED_FREQUENCY.key) if own else None)
    found = PlanEntry(
        result,
        basis,
        scene.rates.at_1_s.get(station.id),
        own.figures if own else {},
        process_figures(scene, station, planned),
        figures,
        {} if reached is None else process_figures(scene, station, replace(planned, own=reached)),
        _limit_share(result, basis, figures),
    )
    kept.entries[station.id] = (inputs, found)
    return found


def _limit_share(result: StationResult, basis: str, present: Mapping[str, Figure]) -> float | None:
    use, limits = _value(present, plan_rules.USE.key), result.limits
    if use is None or basis not in FOLLOWING or limits is None:
        return use
    frequencies = (result.value(rules.NOW_FREQUENCY.key), limits.maximum_hz)
    try:
        now, most = (result.shaft.motor_speed(hz) for hz in frequencies)
    except RangeError:
        # At its maximum the motor would not carry its load.
        return use
    return use * now / most if now and most else use


def _planned(wanted: Mapping[int, Wanted], station: Station | None) -> float | None:
    held = wanted.get(station.id) if station else None
    return held.surface_m_s if held else None


def _present(result: StationResult | None) -> float | None:
    return None if result is None else result.value(rules.NOW_SURFACE.key)


def _pairs(
    line: Line, entries: Mapping[int, PlanEntry], old: _Kept, kept: _Kept
) -> Iterator[PairResult]:
    for pair in line.pairs:
        first, second = (
            entries.get(end) if end is not None else None
            for end in (pair.first_station_id, pair.second_station_id)
        )
        if first is None or second is None or first is second:
            continue
        inputs = (pair, first.result, second.result, first.planned_m_s, second.planned_m_s)
        held = old.pairs.get(pair.id)
        if held is None or not _same(held[0], inputs):
            held = (inputs, pair_result(pair, first.side, second.side))
        kept.pairs[pair.id] = held
        if held[1] is not None:
            yield held[1]


def _same(old: _Inputs, new: _Inputs) -> bool:
    """Whether the same objects, or the same numbers, went in; records are never compared deep."""
    return len(old) == len(new) and all(
        a is b or (isinstance(a, float | int) and isinstance(b, float | int) and a == b)
        for a, b in zip(old, new, strict=True)
    )


def _pairs_by_station(line: Line) -> dict[int, tuple[Pair, ...]]:
    found: dict[int, tuple[Pair, ...]] = {}
    for pair in line.pairs:
        for end in {pair.first_station_id, pair.second_station_id}:
            if end is not None:
                found[end] = (*found.get(end, ()), pair)
    return found


def _own(recipe: Recipe | None) -> dict[int, Any]:
    if recipe is None:
        return {}
    return {own.station_id: own for own in recipe.speeds if own.station_id is not None}


def _value(figures: Mapping[str, Figure], key: str) -> float | None:
    figure = figures.get(key)
    return None if figure is None else figure.value


def _bottleneck(rates: Rates, entries: Mapping[int, PlanEntry]) -> tuple[int | None, float | None]:
    used = {key: entry.limit_share for key, entry in entries.items() if entry.limit_share}
    if not used or not rates.feed_1_s:
        return None, None
    worst = max(used, key=lambda key: used[key] or 0.0)
    return worst, rates.feed_1_s / (used[worst] or 1.0)
