"""In which order to start and to stop, so that nothing piles up; and what a stop leaves where."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.calc import spacing, stopping
from core.errors import RangeError
from core.line.margin_rules import INERTIA
from core.line.plan import Plan, PlanEntry
from core.line.rules import RATED_TORQUE
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

    None where that is not known. A station that coasts runs out against its load torque, an
    estimate; no ramp acts then.
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
    return up, _run_out_s(entry) if coasts(result.station, result.drive_type) else down


def _run_out_s(entry: PlanEntry) -> float | None:
    """How long a station that is left to itself takes from the planned speed to standstill."""
    result, share = entry.result, entry.station.drivetrain.load_fraction
    inertia, rated = result.value(INERTIA.key), result.value(RATED_TORQUE.key)
    try:
        speed = result.shaft.motor_speed(entry.planned_hz)
        if inertia is None or speed is None or not rated or not share:
            return None
        return stopping.coast_time_s(inertia, speed, share * rated)
    except RangeError:
        return None


_Ramps = Mapping[int, tuple[float | None, float | None]]
_Times = Mapping[int, float | None]


def _stops(plan: Plan, ramps: _Ramps) -> dict[int, float | None]:
    """When each is told to stop: no sooner than what feeds it allows."""

    def waits(member: int, found: _Times) -> Iterator[float | None]:
        for feeder in plan.graph.before(member):
            if feeder in found:
                yield _later(found[feeder], _delay(plan, feeder, member, ramps, up=False))

    return _in_turn(plan, plan.graph.order, waits)


def _starts(plan: Plan, ramps: _Ramps) -> dict[int, float | None]:
    """When each is told to start: no sooner than what it feeds allows."""

    def waits(member: int, found: _Times) -> Iterator[float | None]:
        for link in plan.graph.feeds.get(member, ()):
            follower = link.to_station_id
            if follower is None or follower not in found:
                continue
            yield _later(found[follower], _delay(plan, member, follower, ramps, up=True))

    return _in_turn(plan, tuple(reversed(plan.graph.order)), waits)


def _in_turn(
    plan: Plan,
    order: tuple[int, ...],
    waits: Callable[[int, _Times], Iterator[float | None]],
) -> dict[int, float | None]:
    """The times of all stations; those of one place go together, with the last of them.

    Where one that has to be waited for is not known, nor is its own: an order that tells a station
    to stop before what feeds it would be worse than none.
    """
    found: dict[int, float | None] = {}
    for station_id in order:
        members = plan.graph.together[station_id]
        if station_id == members[0]:
            times = [wait for member in members for wait in waits(member, found)]
            known = [wait for wait in times if wait is not None]
            latest = None if len(known) < len(times) else max(known, default=0.0)
            found.update(dict.fromkeys(members, latest))
    return found


def _later(start_s: float | None, delay_s: float | None) -> float | None:
    return None if start_s is None or delay_s is None else start_s + delay_s


def _between(plan: Plan, feeder: int, follower: int) -> float | None:
    """Fruit from one station to the next; None where it is not known, or there is none.

    Shares that go another way do not arrive: what the follower gets is what it carries on.
    """
    flows = [plan.entries[entry].flow_1_s for entry in (feeder, follower)]
    if None in flows or not all(flows):
        return None
    return min(flows[0] or 0.0, flows[1] or 0.0)


def _delay(plan: Plan, feeder: int, follower: int, ramps: _Ramps, *, up: bool) -> float | None:
    """How much later the second one has to follow; None where ramps are not known."""
    flow = _between(plan, feeder, follower)
    if flow is None:
        # Nothing is known to go over, so that nothing has to be waited for.
        return 0.0
    times = [ramps[entry][0 if up else 1] for entry in (feeder, follower)]
    if None in times:
        return None
    needed = stopping.start_delay_needed_s if up else stopping.delay_needed_s
    return needed(flow, times[0] or 0.0, flow, times[1] or 0.0)


def _pile_up(plan: Plan, entry: PlanEntry, ramps: _Ramps) -> float | None:
    """Most fruit that arrives too much at one of the stations after it, all stopped at once."""
    own = ramps[entry.station.id][1]
    own_id = entry.station.id
    found = (
        _excess(_between(plan, own_id, held), own, ramps[held][1])
        for held in plan.graph.after(own_id)
    )
    return max((excess for excess in found if excess is not None), default=None)


def _excess(flow_1_s: float | None, up_s: float | None, down_s: float | None) -> float | None:
    """Fruit that waits at a transfer while both stop, as far as that is known."""
    if up_s is None or down_s is None or not flow_1_s:
        return None
    return stopping.excess_fruit(flow_1_s, up_s, flow_1_s, down_s)


def piled_before(plan: Plan, station_id: int) -> float | None:
    """Most fruit that the stations before this one send it too much, all stopped at one moment.

    None where a ramp or a flow is not known, or nothing feeds it. Each place before it is reckoned
    by itself, so that what several send too much is a bound.
    """
    own = ramps_of(plan.entries[station_id])[1]
    by_place: dict[int, list[float | None]] = {}
    for feeder in plan.graph.before(station_id):
        ramp, flow = ramps_of(plan.entries[feeder])[1], _between(plan, feeder, station_id)
        place = plan.graph.together[feeder][0]
        by_place.setdefault(place, []).append(_excess(flow, ramp, own))
    # Stations of one place carry the same fruit: the worst of them counts, and only once.
    worst = [_worst(found) for found in by_place.values()]
    known = [excess for excess in worst if excess is not None]
    return sum(known) if known and len(known) == len(worst) else None


def _worst(found: Sequence[float | None]) -> float | None:
    known = [excess for excess in found if excess is not None]
    return max(known) if known and len(known) == len(found) else None


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
