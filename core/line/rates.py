"""How much fruit passes each station, from what the recipe feeds to where it leaves."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from core.calc import sizes, throughput
from core.errors import RangeError
from core.line import plan_rules as rules
from core.line.figures import Figure, Workbench
from core.line.flow import NO_FRUIT_KINDS, FlowFault, FlowGraph
from core.model import Flow, Line, Recipe, Station

_SUM_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Rates:
    """Fruit at every station [1/s]; ``link_1_s`` by id of the link that carries it.

    ``figures`` tell how the feed comes about. A station missing in ``at_1_s`` has no known flow.
    """

    feed_1_s: float | None
    at_1_s: Mapping[int, float]
    link_1_s: Mapping[int, float]
    figures: Mapping[str, Figure]
    faults: tuple[FlowFault, ...] = ()


@dataclass(slots=True)
class _Spread:
    line: Line
    graph: FlowGraph
    recipe: Recipe
    stations: Mapping[int, Station]
    at: dict[int, float] = field(default_factory=dict)
    link: dict[int, float] = field(default_factory=dict)
    passed_on: set[int] = field(default_factory=set)
    unsound: list[int] = field(default_factory=list)
    culled_here: float = 0.0
    """Share that each place with an open cull link takes of what it gets."""


def feed_figures(bench: Workbench, recipe: Recipe | None) -> float | None:
    """Fruit fed into the line [1/s], with its figures on the bench."""
    if recipe is None or recipe.throughput is None:
        return None
    if recipe.throughput == "fruit":
        value = recipe.fruit_1_s
        told = {} if value is None else {"entered_fruit_1_s": value}
        lacks = ("fruit wanted",) if value is None else ()
        bench.figures[rules.FEED.key] = Figure(rules.FEED, value, told, lacks)
        return value
    mass = recipe.mass_flow_kg_s
    if recipe.throughput == "bins":
        mass = bench.figure(
            rules.MASS_FLOW,
            throughput.mass_flow_kg_s,
            {"bins_1_s": recipe.bins_1_s, "bin_mass_kg": recipe.bin_mass_kg},
        )
    return bench.figure(
        rules.FEED,
        throughput.fruit_rate_1_s,
        {"mass_flow_kg_s": mass, "fruit_mass_kg": recipe.fruit_mass_kg},
    )


def rates_of(line: Line, graph: FlowGraph, recipe: Recipe | None) -> Rates:
    """Spread the fruit that a recipe feeds over the stations of a line.

    Notes
    -----
    Each link with a share carries that share of what its station gets. Culls go by the links that
    carry culls away, and where fruit meets several such places in a row each takes the same share
    of what it gets, so that together they take what the recipe says; take-aways with sizes get what
    the spread of diameters gives them; what is left is split evenly over the other links. Fruit is
    neither made nor lost: behind a loop, or behind shares that do not add up, no flow is known.
    """
    bench = Workbench()
    feed = feed_figures(bench, recipe)
    if feed is None or recipe is None:
        return Rates(feed, {}, {}, bench.figures)
    spread = _Spread(line, graph, recipe, {entry.id: entry for entry in line.stations})
    in_a_row = max(1, _cull_places_in_a_row(spread))
    spread.culled_here = 1.0 - (1.0 - (recipe.culled or 0.0)) ** (1.0 / in_a_row)
    faults = _feed(spread, feed)
    for station_id in graph.order if not faults else ():
        members = graph.together[station_id]
        if station_id == members[0]:
            _pass_on(spread, members)
    faults += [FlowFault("shares", (entry,)) for entry in spread.unsound]
    if recipe.culled and not any(flow.kind == "cull" for flow in line.flows):
        faults.append(FlowFault("culls_stay", ()))
    return Rates(feed, spread.at, spread.link, bench.figures, tuple(faults))


def _feed(spread: _Spread, feed_1_s: float) -> list[FlowFault]:
    """Give each start its part of the feed; tells where the parts do not make up all of it."""
    starts = _starts(spread)
    shares = _filled_up(list(starts.values()))
    if shares is None:
        return [FlowFault("feed_shares", tuple(starts))] if starts else []
    for place, share in zip(starts, shares, strict=True):
        for member in spread.graph.together[place]:
            spread.at[member] = feed_1_s * share
    return []


def _starts(spread: _Spread) -> dict[int, float | None]:
    """Places that fruit comes to from outside, by their first station, and the shares entered."""
    graph = spread.graph
    found: dict[int, float | None] = {}
    for links in graph.fed_by.values():
        for link in links:
            if link.from_station_id is None and link.to_station_id is not None:
                first = graph.together[link.to_station_id][0]
                known = found.get(first, 0.0)
                both = None if known is None or link.share is None else known + link.share
                found[first] = both
    if found:
        return found
    linked = [e for e in graph.order if graph.feeds.get(e) and not graph.before(e)]
    firsts = dict.fromkeys(graph.together[entry][0] for entry in linked)
    moving = [e.id for e in spread.line.stations if e.kind not in NO_FRUIT_KINDS]
    # Without any link the line is but its first station; in a ring there is none.
    return dict.fromkeys(firsts or (moving[:1] if not graph.feeds else ()))


def _pass_on(spread: _Spread, members: tuple[int, ...]) -> None:
    """Give what one place gets to the places after it, once all that feeds it is known."""
    feeders = {feeder for member in members for feeder in spread.graph.before(member)}
    if not feeders <= spread.passed_on:
        for member in members:
            spread.at.pop(member, None)
        return
    ways = _ways(spread, members)
    shares = _shares(spread, list(ways.values())) if ways else []
    if shares is None:
        spread.unsound.append(members[0])
        return
    spread.passed_on.update(members)
    if members[0] not in spread.at:
        return
    amount = spread.at[members[0]]
    for (key, links), share in zip(ways.items(), shares, strict=False):
        for link in links:
            spread.link[link.id] = amount * share
        for member in spread.graph.together[key] if key > 0 else ():
            spread.at[member] = spread.at.get(member, 0.0) + amount * share


def _cull_places_in_a_row(spread: _Spread) -> int:
    """The most places that take culls by the recipe, on any one way through the line."""
    graph, count = spread.graph, dict[int, int]()
    for station_id in graph.order:
        members = graph.together[station_id]
        if station_id != members[0]:
            continue
        before = {graph.together[at][0] for member in members for at in graph.before(member)}
        ways = _ways(spread, members).values()
        own = int(any(_is_open_cull(links) for links in ways))
        count[station_id] = own + max((count.get(place, 0) for place in before), default=0)
    return max(count.values(), default=0)


def _ways(spread: _Spread, members: tuple[int, ...]) -> dict[int, list[Flow]]:
    """Links that leave a place, by the place they lead to; each that leads outside by itself."""
    ways: dict[int, list[Flow]] = {}
    for member in members:
        for link in spread.graph.feeds.get(member, ()):
            target = link.to_station_id
            key = -link.id if target is None else spread.graph.together[target][0]
            ways.setdefault(key, []).append(link)
    return ways


def _shares(spread: _Spread, ways: list[list[Flow]]) -> list[float] | None:
    """Share of the fruit for each way; None where the entries do not add up to all of it."""
    culls = sum(1 for links in ways if _is_open_cull(links))
    given = [_entered_share(spread, links, culls) for links in ways]
    left = max(0.0, 1.0 - sum(share or 0.0 for share in given))
    if given.count(None) > 1:
        sized = [_size_share(spread, links[0]) for links in ways]
        given = [
            left * size if share is None and size is not None else share
            for share, size in zip(given, sized, strict=True)
        ]
    if all(links[0].kind == "cull" for links in ways):
        # Good fruit ends here, and makes up the rest.
        given.append(None)
    return _filled_up(given)


def _filled_up(given: list[float | None]) -> list[float] | None:
    """What is left goes evenly to where nothing is given; None where it does not make up 1."""
    known = sum(share or 0.0 for share in given)
    open_ways = given.count(None)
    if known > 1.0 + _SUM_SLACK or (not open_ways and known < 1.0 - _SUM_SLACK):
        return None
    rest = max(0.0, 1.0 - known) / open_ways if open_ways else 0.0
    return [rest if share is None else share for share in given]


def _is_open_cull(links: list[Flow]) -> bool:
    return links[0].kind == "cull" and links[0].share is None


def _entered_share(spread: _Spread, links: list[Flow], culls: int) -> float | None:
    """Share of one way as entered, or of the culls; each row of a place passes all on."""
    if _is_open_cull(links):
        return spread.culled_here / culls
    source = links[0].from_station_id
    own = [link.share for link in links if link.from_station_id == source]
    return None if None in own else sum(share or 0.0 for share in own)


def _size_share(spread: _Spread, link: Flow) -> float | None:
    """Share of the sizes that a take-away is there for, of all that go to take-aways."""
    target = spread.stations.get(link.to_station_id or 0)
    recipe = spread.recipe
    if target is None or target.kind != "take_away":
        return None
    held = target.process
    if held.size_from_m is None and held.size_to_m is None:
        return None
    if recipe.fruit_diameter_m is None or not recipe.diameter_spread_m:
        return None
    try:
        return sizes.share_between(
            held.size_from_m, held.size_to_m, recipe.fruit_diameter_m, recipe.diameter_spread_m
        )
    except RangeError:
        return None
