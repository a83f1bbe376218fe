"""Figures of two lines side by side: what each station and the line did before and do now.

Where the line needs a figure to be of a certain size, the effect says by how much it misses it.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Literal

from core.calc.cups import cups_rate_1_s
from core.line import LineResults, plan_rules, rules
from core.line.figures import Figure
from core.line.plan import Plan, PlanEntry
from core.units import System, show_computed

TOLD_FROM = 0.005
"""Relative change of a figure that is worth a word."""
NEEDS = {
    "below": "{margin} below what the line needs",
    "above": "{margin} above what the line needs",
    "just": "just what the line needs",
    "below for": "{margin} below what the line needs for {recipe}",
    "above for": "{margin} above what the line needs for {recipe}",
    "just for": "just what the line needs for {recipe}",
    "wanted": "wanted {value}",
}
"""How an effect tells what the line needs."""
CUPS_UNITS = {True: "cups/s", False: "cups/s in each lane"}
"""Unit of a rate of cups, by whether the line has a single lane of them."""

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
    "acceleration_shortest_s",
    "deceleration_shortest_s",
)
"""Figures that are told where they change, what the line feels first."""
_ECHOES = {rules.NOW_SHAFT.key: rules.NOW_SURFACE.key, plan_rules.USE.key: plan_rules.CAPACITY.key}
"""Figures that say the same as another one, and are not told beside it."""
_LESS_IS_NO_HARM = ("acceleration_shortest_s", "deceleration_shortest_s")

Bound = Literal["", "least", "most", "just"]
"""How a figure has to stand to what the line needs: at least, at most, or about equal."""


@dataclass(frozen=True, slots=True)
class Effect:
    """One figure before and after, in SI, and where it applies what the line needs of it.

    ``recipe`` names the fruit that needs it, where the line has several; ``unit`` stands in the
    place of the unit of its kind.
    """

    key: str
    label: str
    kind: str
    before: float | None
    after: float | None
    need: float | None = None
    bound: Bound = ""
    recipe: str = ""
    unit: str = ""

    def words(self, system: System, tr: Callable[[str], str] = str) -> str:
        """The figure as it is now, what the line needs of it, as it was, by how much it changed.

        ``tr`` gives the words in another language than English.
        """
        label = f"{self.label[:1].lower()}{self.label[1:]}"
        parts = [f"{tr(label)} {self._shown(self.after, system, tr)}", self.need_words(system, tr)]
        parts.append(f"{tr('was')} {self._shown(self.before, system, tr)}")
        text = ", ".join(filter(None, parts))
        if self.before and self.after is not None and self.kind != "ratio":
            text += f" ({(self.after / self.before - 1.0) * 100.0:+.0f} %)"
        return text

    def need_words(self, system: System, tr: Callable[[str], str] = str) -> str:
        """How far it lies from what the line needs; empty where that is not known."""
        if self.need is None or self.after is None:
            return ""
        if self.kind == "ratio":
            return tr(NEEDS["wanted"]).format(value=self._shown(self.need, system, tr))
        side = "just"
        if _differs(self.after, self.need):
            side = "below" if self.after < self.need else "above"
        words = tr(NEEDS[f"{side} for" if self.recipe else side])
        return words.format(margin=self._margin(system), recipe=self.recipe)

    @property
    def misses(self) -> float:
        """By which share the figure as it is misses what the line needs."""
        return self._missed(self.after)

    @property
    def is_worse(self) -> bool:
        """Whether it misses what the line needs, and by more than before."""
        return self.misses > max(TOLD_FROM, self._missed(self.before) + TOLD_FROM)

    @property
    def moved(self) -> float:
        """By which share it changed; of a ratio, by how much of the whole."""
        if self.before is None or self.after is None:
            return 0.0
        if self.kind == "ratio":
            return abs(self.after - self.before)
        return abs(self.after / self.before - 1.0) if self.before else 0.0

    def _missed(self, value: float | None) -> float:
        if not self.need or value is None or not self.bound:
            return 0.0
        below = (self.need - value) / abs(self.need)
        return {"least": below, "most": -below}.get(self.bound, abs(below))

    def _shown(self, value: float | None, system: System, tr: Callable[[str], str]) -> str:
        if value is None:
            return tr("not known")
        shown = show_computed(value, self.kind, system)
        return f"{shown.number} {tr(self.unit)}" if self.unit else str(shown)

    def _margin(self, system: System) -> str:
        """How far the two figures, as they are shown, lie apart; so that a reader can check it."""
        assert self.after is not None
        assert self.need is not None
        has, needs = (
            show_computed(value, self.kind, system).number for value in (self.after, self.need)
        )
        try:
            apart = abs(Decimal(has) - Decimal(needs))
            # No more places than the coarser of the two has.
            places = min(len(number.partition(".")[2]) for number in (has, needs))
            return f"{apart.quantize(Decimal(1).scaleb(-places)).normalize():f}"
        except InvalidOperation:
            return show_computed(abs(self.after - self.need), self.kind, system).number


def told_effects(effects: tuple[Effect, ...]) -> tuple[Effect, ...]:
    """Those effects that a sentence tells: no echo of another one, nothing that can harm nobody."""
    keys = {effect.key for effect in effects}
    return tuple(
        effect
        for effect in effects
        if _ECHOES.get(effect.key) not in keys and not _is_harmless(effect)
    )


def _is_harmless(effect: Effect) -> bool:
    if effect.key in _LESS_IS_NO_HARM:
        return (effect.after or 0.0) < (effect.before or 0.0)
    return effect.bound == "most" and effect.misses <= 0.0


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
        if held is not None and _differs(old, new):
            need, bound = _need(entry, key)
            yield Effect(key, held.label, held.kind, old, new, need, bound)
    yield from _limits(was, now, tag)
    yield from _pairs(was, now, tag)


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
    return (entry.flow_1_s, "least") if key == plan_rules.CAPACITY.key else (None, "")


_Worst = Callable[..., tuple[float | None, str]]
_ENDS: tuple[tuple[int, str, str, Bound, _Worst], ...] = (
    (1, "top_speed_m_s", "tops out at", "least", max),
    (0, "lowest_speed_m_s", "goes no slower than", "most", min),
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
        if old is None or new is None or not _differs(old, new):
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
            label = f"differential of {held.pair.name}"
            key = f"pair:{held.pair.name}"
            yield Effect(key, label, "ratio", before, held.present, held.wanted)


def _of_line(was: LineResults, now: LineResults) -> Iterator[Effect]:
    """The most that can be fed, for every recipe that both lines have."""
    before = {plan.recipe.name if plan.recipe else "": plan for plan in was.plans}
    for place, plan in enumerate(now.plans):
        recipe = plan.recipe.name if plan.recipe else ""
        old = before[recipe].most_feed_1_s if recipe in before else None
        if not _differs(old, plan.most_feed_1_s):
            continue
        label = "the line is full at a feed of"
        if plan.bottleneck_id is not None:
            label = f"the line is full, at {plan.entries[plan.bottleneck_id].tag}, at a feed of"
        key = "most_feed_1_s" if place == 0 else f"most_feed_1_s:{recipe}"
        named = recipe if len(now.plans) > 1 else ""
        feed = plan.rates.feed_1_s
        yield Effect(key, label, "count_rate", old, plan.most_feed_1_s, feed, "least", named)


def _differs(old: float | None, new: float | None) -> bool:
    if old is None or new is None:
        return old is not new
    return abs(new - old) > TOLD_FROM * max(abs(old), abs(new))
