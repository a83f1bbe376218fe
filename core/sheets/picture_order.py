"""In which order stations stand on the picture: layers along the flow, lanes across it.

Layers by the longest way from a start, as in the layered drawing of directed graphs (Sugiyama,
Tagawa and Toda 1981, IEEE Trans. SMC 11(2), from memory). Loops are opened first, and stations of
one pair that do not follow each other are kept side by side.
"""

import heapq
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from core.sheets.picture_data import PictureData

_ENDS_PER_LAYER = 3
"""So many ends of the flow stand above one another; more go on beside them."""

Edges = Mapping[int, Sequence[int]]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a station stands: how far along the flow, and how far across it."""

    layer: int
    lane: int


@dataclass(frozen=True, slots=True)
class Order:
    """Places of all stations in the flow, and the stations that no flow touches."""

    places: Mapping[int, Place]
    apart: tuple[int, ...]

    @property
    def layers(self) -> int:
        """Number of layers."""
        return max((place.layer for place in self.places.values()), default=-1) + 1


def order_of(data: PictureData) -> Order:
    """Where each station stands.

    Parameters
    ----------
    data : PictureData
        Stations in the order that counts where the flow leaves it open.

    Returns
    -------
    Order
        Equal data gives equal order. Each flow that closes no loop goes to a later layer.
    """
    touched = {end for flow in data.flows for end in (flow.from_id, flow.to_id)}
    stations = [station.station_id for station in data.stations]
    ids = [key for key in stations if key in touched]
    ahead = _opened(ids, data)
    units = _units(ids, ahead, data)
    places: dict[int, Place] = {}
    begin = 0
    for part in _parts(ids, data):
        layers = _layers(part, ahead, units)
        for key, lane in _lanes(part, layers, ahead, units, data).items():
            places[key] = Place(begin + layers[key], lane)
        begin += max(layers.values()) + 1
    return Order(places, tuple(key for key in stations if key not in touched))


def _opened(ids: Sequence[int], data: PictureData) -> dict[int, list[int]]:
    """Where the flow goes on from each station, without returns and what else closes a loop."""
    after: dict[int, list[int]] = {key: [] for key in ids}
    for flow in data.flows:
        if flow.kind != "return" and flow.to_id not in (*after[flow.from_id], flow.from_id):
            after[flow.from_id].append(flow.to_id)
    fed = {end for ends in after.values() for end in ends}
    state: dict[int, str] = {}
    for root in sorted(ids, key=lambda key: key in fed):
        _open_from(root, after, state)
    return after


def _open_from(root: int, after: dict[int, list[int]], state: dict[int, str]) -> None:
    """Go through all that follows on a station, in depth, and drop each way back into the path."""
    path = [(root, iter(tuple(after[root])))] if root not in state else []
    state.setdefault(root, "on path")
    while path:
        key, rest = path[-1]
        for end in rest:
            if end not in state:
                state[end] = "on path"
                path.append((end, iter(tuple(after[end]))))
                break
            if state[end] == "on path":
                after[key].remove(end)
        else:
            state[key] = "done"
            path.pop()


def _units(ids: Sequence[int], ahead: Edges, data: PictureData) -> dict[int, int]:
    """For each station the one that stands for it and those beside it.

    Stations of a pair become one unit, unless one comes after the other.
    """
    unit = {key: key for key in ids}
    for pair in data.pairs:
        if not {pair.first_id, pair.second_id} <= unit.keys():
            continue
        one, other = sorted((unit[pair.first_id], unit[pair.second_id]), key=ids.index)
        after = _between(ahead, unit)
        if one == other or _leads(after, one, other) or _leads(after, other, one):
            continue
        unit = {key: one if of == other else of for key, of in unit.items()}
    return unit


def _between(ahead: Edges, unit: Mapping[int, int]) -> dict[int, list[int]]:
    """The flow between units."""
    after: dict[int, list[int]] = {of: [] for of in unit.values()}
    for key, ends in ahead.items():
        after[unit[key]] += [unit[end] for end in ends]
    return after


def _leads(after: Edges, start: int, end: int) -> bool:
    """Whether the flow gets from one to the other."""
    seen, ways = {start}, [start]
    while ways:
        for key in after[ways.pop()]:
            if key not in seen:
                seen.add(key)
                ways.append(key)
    return end in seen


def _parts(ids: Sequence[int], data: PictureData) -> list[list[int]]:
    """The stations of each part of the flow that hangs together, in the order of the line."""
    near: dict[int, list[int]] = defaultdict(list)
    links = [(flow.from_id, flow.to_id) for flow in data.flows]
    links += [(pair.first_id, pair.second_id) for pair in data.pairs]
    for one, other in links:
        near[one].append(other)
        near[other].append(one)
    part_of: dict[int, int] = {}
    for key in ids:
        ways = [] if key in part_of else [key]
        while ways:
            here = ways.pop()
            if here not in part_of:
                part_of[here] = key
                ways += near[here]
    parts: dict[int, list[int]] = defaultdict(list)
    for key in ids:
        parts[part_of[key]].append(key)
    return list(parts.values())


# --- along the flow -------------------------------------------------------------------------


def _layers(part: Sequence[int], ahead: Edges, units: Mapping[int, int]) -> dict[int, int]:
    """The layer of each station of a part, from 0."""
    after = _between({key: ahead[key] for key in part}, {key: units[key] for key in part})
    rank = {key: at for at, key in enumerate(part)}
    layer = _longest(after, rank)
    fed = {end for ends in after.values() for end in ends}
    for key, ends in after.items():
        # What only feeds in on the way stands just before the place where it does.
        if key not in fed and ends:
            layer[key] = min(layer[end] for end in ends) - 1
    _spread_ends(after, layer, rank, units)
    used = {old: new for new, old in enumerate(sorted(set(layer.values())))}
    return {key: used[layer[units[key]]] for key in part}


def _longest(after: Edges, rank: Mapping[int, int]) -> dict[int, int]:
    """The number of steps on the longest way to each unit."""
    waits = dict.fromkeys(after, 0)
    for ends in after.values():
        for end in ends:
            waits[end] += 1
    ready = [(rank[key], key) for key, count in waits.items() if not count]
    heapq.heapify(ready)
    layer = dict.fromkeys(after, 0)
    while ready:
        _, key = heapq.heappop(ready)
        for end in after[key]:
            layer[end] = max(layer[end], layer[key] + 1)
            waits[end] -= 1
            if not waits[end]:
                heapq.heappush(ready, (rank[end], end))
    return layer


def _spread_ends(
    after: Edges, layer: dict[int, int], rank: Mapping[int, int], units: Mapping[int, int]
) -> None:
    """Move ends of the flow on to where they do not stand too high above one another."""
    size: dict[int, int] = defaultdict(int)
    for key in rank:
        size[units[key]] += 1
    high: dict[int, int] = defaultdict(int)
    for key, ends in after.items():
        high[layer[key]] += size[key] if ends else 0
    for key in sorted((key for key, ends in after.items() if not ends), key=rank.__getitem__):
        while high[layer[key]] and high[layer[key]] + size[key] > _ENDS_PER_LAYER:
            layer[key] += 1
        high[layer[key]] += size[key]


# --- across the flow ------------------------------------------------------------------------


def _lanes(
    part: Sequence[int],
    layers: Mapping[int, int],
    ahead: Edges,
    units: Mapping[int, int],
    data: PictureData,
) -> dict[int, int]:
    """The lane of each station: that of what feeds it where free, culls below the rest."""
    before: dict[int, list[int]] = defaultdict(list)
    for key in part:
        for end in ahead[key]:
            before[end].append(key)
    culls = _culls(part, before, data)
    rank = {key: at for at, key in enumerate(part)}
    by_layer: dict[int, list[int]] = defaultdict(list)
    for key in part:
        by_layer[layers[key]].append(key)
    lane: dict[int, int] = {}
    for number in sorted(by_layer):
        last = -1
        for key in _across(by_layer[number], before, lane, culls, units, rank):
            fed_from = [lane[other] for other in before[key]]
            wish = min(fed_from, default=0)
            if key in culls and not all(other in culls for other in before[key]):
                wish = max(fed_from, default=0) + 1
            last = lane[key] = max(last + 1, wish)
    return lane


def _culls(part: Iterable[int], before: Edges, data: PictureData) -> set[int]:
    """Stations that only get what was thrown out, directly or from another such station."""
    thrown = {(flow.from_id, flow.to_id) for flow in data.flows if flow.kind == "cull"}
    thrown -= {(flow.from_id, flow.to_id) for flow in data.flows if flow.kind == "forward"}
    culls: set[int] = set()
    found = True
    while found:
        found = False
        for key in part:
            ways = [(other, key) in thrown or other in culls for other in before[key]]
            if key not in culls and ways and all(ways):
                culls.add(key)
                found = True
    return culls


def _across(
    keys: Sequence[int],
    before: Edges,
    lane: Mapping[int, int],
    culls: set[int],
    units: Mapping[int, int],
    rank: Mapping[int, int],
) -> list[int]:
    """The stations of a layer from the top lane down, those of a unit together."""

    def wish(key: int) -> tuple[bool, bool, float, int]:
        fed_from = [lane[other] for other in before[key]]
        mean = sum(fed_from) / len(fed_from) if fed_from else 0.0
        return key in culls, not fed_from, mean, rank[key]

    first: dict[int, tuple[bool, bool, float, int]] = {}
    for key in keys:
        first[units[key]] = min(wish(key), first.get(units[key], wish(key)))
    return sorted(keys, key=lambda key: (first[units[key]], rank[key]))
