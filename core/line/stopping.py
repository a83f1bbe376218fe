"""In which order to start and to stop, so that nothing piles up; and what a stop leaves where."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from core.calc import spacing, stopping
from core.errors import RangeError
from core.line.plan import Plan, PlanEntry
from core.line.settings import coasts, in_force


@dataclass(frozen=True, slots=True)
class Step:
    """One station in the order of stopping.

    ``stop_after_s`` and ``start_after_s`` count from the first station that is stopped, or
    started. ``pile_up`` is how much fruit arrives too much at the stations after it if all are
    stopped at one moment, each on its ramp; ``fruit_left`` what then lies on it. None where ramps,
    flow or length are not known.
    """

    station_id: int
    tag: str
    ramp_up_s: float | None
    ramp_down_s: float | None
    stop_after_s: float | None
    start_after_s: float | None
    pile_up: float | None
    fruit_left: float | None
    fruit_per_metre: float | None


def stopping_of(plan: Plan) -> tuple[Step, ...]:
    """The order of stopping of a planned line, upstream first; starting is the other way round.

    Notes
    -----
    Delays are the smallest with which each station takes all that arrives while both run down, or
    up, on straight ramps. Fruit is fed until the first station stands.
    """
    ramps = {key: ramps_of(entry) for key, entry in plan.entries.items()}
    stops, starts = _stops(plan, ramps), _starts(plan, ramps)
    steps = []
    for station_id, entry in plan.entries.items():
        if not _in_flow(plan, station_id):
            continue
        up, down = ramps[station_id]
        steps.append(
            Step(
                station_id,
                entry.tag,
                up,
                down,
                stops.get(station_id),
                starts.get(station_id),
                _pile_up(plan, entry, ramps),
                _left(plan, entry, down, ramps),
                _per_metre(entry),
            )
        )
    return tuple(steps)


def _in_flow(plan: Plan, station_id: int) -> bool:
    return station_id in plan.graph.feeds or station_id in plan.graph.fed_by


def ramps_of(entry: PlanEntry) -> tuple[float | None, float | None]:
    """Time from standstill to the planned speed, and back [s]: ramp settings go to maximum.

    None where that is not known; the way back also where the station coasts, as no ramp acts then.
    """
    result, hertz = entry.result, entry.planned_hz
    found: list[float | None] = []
    for role in ("ramp_up", "ramp_down"):
        setting = in_force(result.station, result.drive_type, role)
        value = setting.value if setting else None
        top = result.limits.maximum_hz if result.limits else None
        if value is None or not hertz or not top:
            found.append(None)
        else:
            found.append(value * min(1.0, hertz / top))
    up, down = found
    return up, None if coasts(result.station, result.drive_type) else down


_Ramps = Mapping[int, tuple[float | None, float | None]]


def _stops(plan: Plan, ramps: _Ramps) -> dict[int, float]:
    """When each is told to stop: no sooner than what feeds it allows."""

    def waits(member: int, found: Mapping[int, float]) -> Iterator[float]:
        for feeder in plan.graph.before(member):
            delay = _delay(plan, feeder, member, ramps, up=False)
            if delay is not None and feeder in found:
                yield found[feeder] + delay

    return _in_turn(plan, plan.graph.order, waits)


def _starts(plan: Plan, ramps: _Ramps) -> dict[int, float]:
    """When each is told to start: no sooner than what it feeds allows."""

    def waits(member: int, found: Mapping[int, float]) -> Iterator[float]:
        for link in plan.graph.feeds.get(member, ()):
            follower = link.to_station_id
            if follower is None or follower not in found:
                continue
            delay = _delay(plan, member, follower, ramps, up=True)
            if delay is not None:
                yield found[follower] + delay

    return _in_turn(plan, tuple(reversed(plan.graph.order)), waits)


def _in_turn(
    plan: Plan,
    order: tuple[int, ...],
    waits: Callable[[int, Mapping[int, float]], Iterator[float]],
) -> dict[int, float]:
    """The times of all stations; those of one place go together, with the last of them."""
    found: dict[int, float] = {}
    for station_id in order:
        members = plan.graph.together[station_id]
        if station_id == members[0]:
            latest = max((wait for member in members for wait in waits(member, found)), default=0.0)
            found.update(dict.fromkeys(members, latest))
    return found


def _delay(plan: Plan, feeder: int, follower: int, ramps: _Ramps, *, up: bool) -> float | None:
    flows = [plan.entries[entry].flow_1_s for entry in (feeder, follower)]
    times = [ramps[entry][0 if up else 1] for entry in (feeder, follower)]
    if None in flows or None in times or not all(flows):
        return None
    # Shares that go another way do not arrive: what the follower gets is what it carries on.
    flow = min(flows[0] or 0.0, flows[1] or 0.0)
    needed = stopping.start_delay_needed_s if up else stopping.delay_needed_s
    return needed(flow, times[0] or 0.0, flow, times[1] or 0.0)


def _pile_up(plan: Plan, entry: PlanEntry, ramps: _Ramps) -> float | None:
    """Most fruit that arrives too much at one of the stations after it, all stopped at once."""
    own = ramps[entry.station.id][1]
    followers = plan.graph.after(entry.station.id)
    found = (_excess(plan.entries[held].flow_1_s, own, ramps[held][1]) for held in followers)
    return max((excess for excess in found if excess is not None), default=None)


def _excess(flow_1_s: float | None, up_s: float | None, down_s: float | None) -> float | None:
    """Fruit that waits at a transfer while both stop, as far as that is known."""
    if up_s is None or down_s is None or not flow_1_s:
        return None
    return stopping.excess_fruit(flow_1_s, up_s, flow_1_s, down_s)


def piled_before(plan: Plan, station_id: int) -> float | None:
    """Most fruit that one station before this one sends it too much, all stopped at one moment.

    None where no ramps or no flow of both are known.
    """
    entry = plan.entries[station_id]
    own = ramps_of(entry)[1]
    feeders = (ramps_of(plan.entries[feeder])[1] for feeder in plan.graph.before(station_id))
    found = (_excess(entry.flow_1_s, ramp, own) for ramp in feeders)
    return max((excess for excess in found if excess is not None), default=None)


def _left(plan: Plan, entry: PlanEntry, down_s: float | None, ramps: _Ramps) -> float | None:
    """Fruit that lies on a station once all have stopped at one moment."""
    length, flow = entry.station.process.carrying_length_m, entry.flow_1_s
    if entry.station.kind == "spin_section":
        # It turns the fruit; the cups carry it.
        return None
    speed = entry.planned_m_s
    drift = entry.planned.get("drift_index_m_s")
    if entry.station.kind == "brush_bed":
        speed = drift.value if drift else None
    if not length or not flow or not speed or speed <= 0:
        return None
    feeders = [ramps[feeder][1] for feeder in plan.graph.before(entry.station.id)]
    known = [ramp for ramp in feeders if ramp is not None]
    try:
        return stopping.fruit_left(length, flow, speed, down_s or 0.0, max(known, default=0.0))
    except RangeError:
        return None


def _per_metre(entry: PlanEntry) -> float | None:
    if not entry.flow_1_s or not entry.planned_m_s:
        return None
    if entry.station.kind in ("brush_bed", "spin_section"):
        return None
    return spacing.fruit_per_metre(entry.flow_1_s, entry.planned_m_s)
