"""The way of the fruit: which station feeds which, in what order, and what is wrong with it.

Stations that work on the same fruit at the same time make one place: the two rows of a brush bed,
the two belts of a V. They are told by a pair of two such stations that are fed alike.
"""

import heapq
from collections import defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from core.model import Flow, Line, Station

TOGETHER_KINDS = ("brush_bed", "belt_pair_side")
"""Kinds of station of which two can work on the same fruit."""
NO_FRUIT_KINDS = ("pump", "fan", "other")
"""Kinds that may stand apart from the way of the fruit."""


@dataclass(frozen=True, slots=True)
class FlowFault:
    """Something about the flow that cannot be right; ``kind`` is a word of `FLOW_FAULTS`."""

    kind: str
    station_ids: tuple[int, ...]


FLOW_FAULTS = (
    "loop", "apart", "dead_end", "two_starts", "shares", "feed_shares", "culls_stay",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FlowGraph:
    """The stations of a line in the order of the fruit.

    ``order`` holds every station, those before always first; ``feeds`` and ``fed_by`` the links
    that carry fruit, returns left out; ``together`` the members of the place of each station.
    """

    order: tuple[int, ...]
    feeds: Mapping[int, tuple[Flow, ...]]
    fed_by: Mapping[int, tuple[Flow, ...]]
    returns: tuple[Flow, ...]
    together: Mapping[int, tuple[int, ...]]
    faults: tuple[FlowFault, ...]

    def after(self, station_id: int) -> tuple[int, ...]:
        """Stations that one feeds with good fruit, in the order of the links."""
        found = (f.to_station_id for f in self.feeds.get(station_id, ()) if f.kind == "forward")
        return tuple(entry for entry in found if entry is not None)

    def before(self, station_id: int) -> tuple[int, ...]:
        """Stations that feed one, in the order of the links."""
        found = (f.from_station_id for f in self.fed_by.get(station_id, ()))
        return tuple(entry for entry in found if entry is not None)


def flow_of(line: Line) -> FlowGraph:
    """Put the stations of a line in the order of the fruit.

    Notes
    -----
    Time and memory grow in proportion to stations and links. Where a loop of links that carry
    fruit is found, it is told, and its stations keep the order of the list.
    """
    carrying = [flow for flow in line.flows if flow.kind != "return"]
    feeds, fed_by = _index(carrying)
    ids = [station.id for station in line.stations]
    order, loops = _in_order(ids, feeds)
    stations = {station.id: station for station in line.stations}
    together = _places(line, stations, fed_by)
    faults = [FlowFault("loop", loop) for loop in loops]
    faults += _loose(stations, feeds, fed_by, together)
    return FlowGraph(
        order,
        feeds,
        fed_by,
        tuple(flow for flow in line.flows if flow.kind == "return"),
        together,
        tuple(faults),
    )


def _index(
    flows: Iterable[Flow],
) -> tuple[dict[int, tuple[Flow, ...]], dict[int, tuple[Flow, ...]]]:
    feeds: dict[int, list[Flow]] = defaultdict(list)
    fed_by: dict[int, list[Flow]] = defaultdict(list)
    for flow in flows:
        if flow.from_station_id is not None:
            feeds[flow.from_station_id].append(flow)
        if flow.to_station_id is not None:
            fed_by[flow.to_station_id].append(flow)
    return (
        {key: tuple(found) for key, found in feeds.items()},
        {key: tuple(found) for key, found in fed_by.items()},
    )


def _in_order(
    ids: list[int], feeds: Mapping[int, tuple[Flow, ...]]
) -> tuple[tuple[int, ...], list[tuple[int, ...]]]:
    """Kahn's order, ties by the list; and the loops that it leaves, each as a ring of stations."""
    waiting: dict[int, int] = dict.fromkeys(ids, 0)
    for flows in feeds.values():
        for flow in flows:
            if flow.to_station_id in waiting:
                waiting[flow.to_station_id] += 1
    place = {entry: at for at, entry in enumerate(ids)}
    ready = [at for at, entry in enumerate(ids) if waiting[entry] == 0]
    order: list[int] = []
    while ready:
        here = ids[heapq.heappop(ready)]
        order.append(here)
        for flow in feeds.get(here, ()):
            after = flow.to_station_id
            if after in waiting:
                waiting[after] -= 1
                if waiting[after] == 0:
                    heapq.heappush(ready, place[after])
    done = set(order)
    left = [entry for entry in ids if entry not in done]
    return (*order, *left), _loops(left, feeds)


def _loops(left: list[int], feeds: Mapping[int, tuple[Flow, ...]]) -> list[tuple[int, ...]]:
    """Rings among stations that no order takes in: all last ones; others once these are mended."""
    within = set(left)
    # What only hangs behind a loop is in none itself: take away, again and again, the ends.
    outgoing = {entry: {f.to_station_id for f in feeds.get(entry, ())} & within for entry in left}
    incoming: dict[int, set[int]] = defaultdict(set)
    for entry, targets in outgoing.items():
        for target in targets:
            if target is not None:
                incoming[target].add(entry)
    ends = deque(entry for entry in left if not outgoing[entry])
    while ends:
        end = ends.popleft()
        within.discard(end)
        for source in incoming[end]:
            outgoing[source].discard(end)
            if not outgoing[source] and source in within:
                ends.append(source)
    rings, seen = [], set[int]()
    for start in left:
        if start not in within or start in seen:
            continue
        path: list[int] = []
        at = start
        while at not in seen:
            seen.add(at)
            path.append(at)
            at = min(target for target in outgoing[at] if target in within)
        if at in path:
            rings.append(tuple(path[path.index(at) :]))
    return rings


def _loose(
    stations: Mapping[int, Station],
    feeds: Mapping[int, tuple[Flow, ...]],
    fed_by: Mapping[int, tuple[Flow, ...]],
    together: Mapping[int, tuple[int, ...]],
) -> list[FlowFault]:
    """Stations on no way at all, and more starts than one."""
    if not feeds and not fed_by:
        return []
    moving = [entry for entry in stations.values() if entry.kind not in NO_FRUIT_KINDS]
    apart = [e.id for e in moving if e.id not in feeds and e.id not in fed_by]
    faults = [FlowFault("apart", tuple(apart))] if apart else []
    starts = [e.id for e in stations.values() if e.id in feeds and not _comes(fed_by.get(e.id, ()))]
    outside = {f.to_station_id for flows in fed_by.values() for f in flows if not f.from_station_id}
    starts = [entry for entry in starts if entry not in outside]
    if len({together[entry] for entry in starts}) > 1:
        faults.append(FlowFault("two_starts", tuple(starts)))
    dead = [e.id for e in moving if e.kind == "cup_conveyor" and e.id in fed_by]
    dead = [e for e in dead if e not in feeds and any(_takes(s) for s in stations.values())]
    if dead:
        faults.append(FlowFault("dead_end", tuple(dead)))
    return faults


def _comes(flows: Iterable[Flow]) -> bool:
    return any(flow.from_station_id is not None for flow in flows)


def _takes(station: Station) -> bool:
    return station.kind == "take_away"


def _places(
    line: Line, stations: Mapping[int, Station], fed_by: Mapping[int, tuple[Flow, ...]]
) -> dict[int, tuple[int, ...]]:
    """The members of the place of each station, in the order of the list."""
    place = {entry: {entry} for entry in stations}
    for pair in line.pairs:
        first, second = pair.first_station_id, pair.second_station_id
        if first is None or second is None or first == second:
            continue
        both = stations.get(first), stations.get(second)
        if both[0] and both[1] and _same_fruit(both[0], both[1], fed_by):
            joined = place[first] | place[second]
            for entry in joined:
                place[entry] = joined
    at = {station_id: number for number, station_id in enumerate(stations)}
    return {entry: tuple(sorted(members, key=at.__getitem__)) for entry, members in place.items()}


def _same_fruit(first: Station, second: Station, fed_by: Mapping[int, tuple[Flow, ...]]) -> bool:
    if first.kind != second.kind or first.kind not in TOGETHER_KINDS or first.lane != second.lane:
        return False
    sources = [{f.from_station_id for f in fed_by.get(e.id, ())} for e in (first, second)]
    return sources[0] == sources[1]
