"""What each station and the line did before and do now, figure by figure.

Where the line needs a figure to be of a certain size, the effect says by how much it misses it.
"""

from collections.abc import Callable, Iterator, Mapping

from core.calc.cups import cups_rate_1_s
from core.line import LineResults, plan_rules, rules
from core.line.figures import Figure
from core.line.plan import Plan, PlanEntry
from core.line.settings import coasts, in_force
from core.line.stopping import piled_before, ramps_of
from core.records.effect import CUPS_UNITS, LABELS, RAMPS, TOLD_FROM, Bound, Effect, differs

_SHORTEST_DOWN = "deceleration_shortest_s"
_SHORTEST = (("acceleration_shortest_s", "ramp_up"), (_SHORTEST_DOWN, "ramp_down"))
"""Ramps that the drive could keep to at best, and the setting that must not be below."""
_RAMPS = tuple(zip(RAMPS, (LABELS["up"], LABELS["down"]), strict=True))
_AT_LIMIT = (plan_rules.DRIFT.key, plan_rules.TURNS.key, plan_rules.CAPACITY.key)
"""What a station does to the fruit that is told of the speed nearest to one it cannot reach."""

_FIGURES = (
    rules.NOW_FREQUENCY.key,
    rules.NOW_SURFACE.key,
    rules.NOW_SHAFT.key,
    plan_rules.DRIFT.key,
    plan_rules.TIME_ON_BRUSHES.key,
    plan_rules.TURNS.key,
    plan_rules.ANGLE.key,
    plan_rules.IMAGES.key,
    plan_rules.CUPS_RATE.key,
    plan_rules.WATER_SPEED.key,
    plan_rules.CAPACITY.key,
    plan_rules.USE.key,
    "running_current_a",
    "input_current_a",
    *(key for key, _ in _SHORTEST),
)
"""Figures that are told where they change, what the line feels first."""


def effects_at(was: LineResults, now: LineResults, tag: str) -> tuple[Effect, ...]:
    """What changed at one station, or of the whole line without a tag.

    First what misses what the line needs, then in the order in which the line feels it.
    """
    found = list(_of_station(was, now, tag) if tag else _of_line(was, now))
    found.sort(key=lambda effect: -effect.misses if effect.is_worse else 0.0)
    return tuple(found)


def _of_station(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    old_tag = tag_before(was, now, tag)
    before, after = _figures(was, old_tag), _figures(now, tag)
    entry = _entry(now.plan, tag)
    for key in _FIGURES:
        held = after.get(key) or before.get(key)
        old, new = (figures[key].value if key in figures else None for figures in (before, after))
        if key == _SHORTEST_DOWN and entry is not None and _coasts(entry):
            # No ramp acts, whatever it could be.
            continue
        if held is not None and differs(old, new):
            need, bound = _need(entry, key)
            yield Effect(key, held.label, held.kind, old, new, need, bound)
    yield from _limits(was, now, tag)
    yield from _at_the_limit(was, now, tag)
    yield from _pairs(was, now, tag)
    yield from _stops(was, now, tag)


def _coasts(entry: PlanEntry) -> bool:
    return coasts(entry.station, entry.result.drive_type)


def tag_before(was: LineResults, now: LineResults, tag: str) -> str:
    """The tag that a station had in the earlier line; its own where it had no other."""
    station = now.line.station_tagged(tag)
    if station is None or was.line.station_tagged(tag) is not None:
        return tag
    tags = (held.tag for held in was.line.stations if held.id == station.id)
    old = next(tags, tag)
    # Where another station bears it now, that is the one it is compared with.
    return tag if now.line.station_tagged(old) is not None else old


def _figures(results: LineResults, tag: str) -> Mapping[str, Figure]:
    station = results.line.station_tagged(tag)
    return {} if station is None else results.figures(station.id)


def _entry(plan: Plan, tag: str) -> PlanEntry | None:
    return next((entry for entry in plan.entries.values() if entry.tag == tag), None)


def _need(entry: PlanEntry | None, key: str) -> tuple[float | None, Bound]:
    """What the line needs of a figure that depends on how the station is set."""
    if entry is None:
        return None, ""
    has_cups = entry.station.kind == "cup_conveyor"
    if key == rules.NOW_SURFACE.key and not has_cups:
        return entry.planned_m_s, "just"
    if key == plan_rules.CUPS_RATE.key:
        planned = entry.planned.get(key)
        return planned.value if planned else None, "just"
    for shortest, role in _SHORTEST:
        if key == shortest:
            setting = in_force(entry.station, entry.result.drive_type, role)
            return (setting.value, "set") if setting else (None, "")
    return (entry.flow_1_s, "least") if key == plan_rules.CAPACITY.key else (None, "")


_Worst = Callable[..., tuple[float | None, str]]
_ENDS: tuple[tuple[int, str, str, Bound, _Worst], ...] = (
    (1, "top_speed_m_s", LABELS["top"], "least", max),
    (0, "lowest_speed_m_s", LABELS["lowest"], "most", min),
)


def _limits(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """Where a station tops out, and how slow it can go, over its reference and within its drive.

    Every recipe has to find its speed in between; the one that needs the most, or the least, is
    told.
    """
    station = now.line.station_tagged(tag)
    ends = [_ends(was, tag_before(was, now, tag)), _ends(now, tag)]
    if station is None or None in ends:
        return
    needs = [
        (entry.planned_m_s, plan.recipe.name if plan.recipe and len(now.plans) > 1 else "")
        for plan in now.plans
        if (entry := _entry(plan, tag)) is not None and entry.planned_m_s is not None
    ]
    for place, key, label, bound, worst in _ENDS:
        old, new = (held[place] for held in ends if held is not None)
        if old is None or new is None or not differs(old, new):
            continue
        need, recipe = worst(needs, default=(None, ""))
        yield _as_cups(Effect(key, label, "surface_speed", old, new, need, bound, recipe), now, tag)


def _ends(results: LineResults, tag: str) -> tuple[float | None, float | None] | None:
    station = results.line.station_tagged(tag)
    points = results.station(station.id).points if station else ()
    return (points[0].surface_m_s, points[-1].surface_m_s) if points else None


def _as_cups(effect: Effect, now: LineResults, tag: str) -> Effect:
    """Of a cup conveyor, the speed in cups, as the people at the line count it."""
    station = now.line.station_tagged(tag)
    if station is None or station.kind != "cup_conveyor" or not station.process.cup_pitch_m:
        return effect
    pitch = station.process.cup_pitch_m
    before, after, need = (
        None if speed is None else cups_rate_1_s(speed, pitch)
        for speed in (effect.before, effect.after, effect.need)
    )
    unit = CUPS_UNITS[(station.process.cup_lanes or now.line.lanes or 1) == 1]
    key = effect.key.replace("speed_m_s", "cups_1_s")
    return Effect(
        key, effect.label, "count_rate", before, after, need, effect.bound, effect.recipe, unit
    )


def _at_the_limit(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """What a station makes of the fruit whose speed it cannot reach, at the nearest it can."""
    for plan in now.plans:
        entry, named = _entry(plan, tag), _recipe_of(plan)
        before = next((held for held in was.plans if _recipe_of(held) == named), None)
        old = _entry(before, tag_before(was, now, tag)) if before else None
        if entry is None or old is None:
            continue
        for key in _AT_LIMIT:
            figure, needed = entry.nearest.get(key), entry.planned.get(key)
            had = old.nearest.get(key) or old.planned.get(key)
            if figure is None or had is None or not differs(had.value, figure.value):
                continue
            recipe = named if len(now.plans) > 1 else ""
            need = needed.value if needed else None
            if key == plan_rules.CAPACITY.key:
                need = entry.flow_1_s
            bound: Bound = "least" if key == plan_rules.CAPACITY.key else "just"
            yield Effect(
                f"limit:{key}",
                LABELS["at limit"],
                figure.kind,
                had.value,
                figure.value,
                need,
                bound,
                recipe,
                figure=figure.label,
            )


def _recipe_of(plan: Plan) -> str:
    return plan.recipe.name if plan.recipe else ""


def _stops(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """How long a station runs up and down, and what then piles up before it."""
    old_tag = tag_before(was, now, tag)
    before, after = _entry(was.plan, old_tag), _entry(now.plan, tag)
    if before is None or after is None:
        return
    for (key, label), old, new in zip(_RAMPS, ramps_of(before), ramps_of(after), strict=True):
        if before.planned_hz and after.planned_hz and differs(old, new):
            yield Effect(key, label, "time", old, new)
    old_pile, pile = (
        None if held is None else round(held)
        for held in (
            piled_before(was.plan, before.station.id),
            piled_before(now.plan, after.station.id),
        )
    )
    is_unknown = (old_pile is None) is not (pile is None)
    if (pile or 0) > (old_pile or 0) or (is_unknown and old_pile):
        yield Effect("piled_up_fruit", LABELS["piled"], "count", old_pile, pile)


def _pairs(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """Differentials as set of the pairs that a station stands first or second in."""
    old = {held.pair.name: held for held in was.plan.pairs}
    for held in now.plan.pairs:
        if tag not in (held.first.result.tag, held.second.result.tag):
            continue
        before = old[held.pair.name].present if held.pair.name in old else None
        if before is None and held.present is None:
            continue
        if before is None or held.present is None or abs(held.present - before) > TOLD_FROM:
            label = LABELS["pair"].format(pair=held.pair.name)
            key = f"pair:{held.pair.name}"
            yield Effect(key, label, "ratio", before, held.present, held.wanted)


def _of_line(was: LineResults, now: LineResults) -> Iterator[Effect]:
    """The most that can be fed, for every recipe that both lines have."""
    before = {plan.recipe.name if plan.recipe else "": plan for plan in was.plans}
    for place, plan in enumerate(now.plans):
        recipe = plan.recipe.name if plan.recipe else ""
        old = before[recipe].most_feed_1_s if recipe in before else None
        if not differs(old, plan.most_feed_1_s):
            continue
        label = LABELS["full"]
        if plan.bottleneck_id is not None:
            label = LABELS["full at"].format(tag=plan.entries[plan.bottleneck_id].tag)
        key = "most_feed_1_s" if place == 0 else f"most_feed_1_s:{recipe}"
        named = recipe if len(now.plans) > 1 else ""
        feed = plan.rates.feed_1_s
        yield Effect(key, label, "count_rate", old, plan.most_feed_1_s, feed, "least", named)
