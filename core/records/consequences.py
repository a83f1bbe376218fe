"""What the differences between two lines do: to speeds, ratios, capacity, currents, findings.

Both lines are computed by the same code; a consequence is two figures. Nothing is guessed from the
kind of change.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from core.line import LineResults, compute_line, plan_rules, rules
from core.line.findings import LEVELS, Finding, find
from core.line.plan import PlanEntry
from core.records.comparing import Change, Difference
from core.units import System, show_computed

_TOLD_FROM = 0.005
"""Relative change of a figure that is worth a word."""
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
_PER_CENT = {plan_rules.USE.key}


@dataclass(frozen=True, slots=True)
class Effect:
    """One figure before and after, in SI."""

    key: str
    label: str
    kind: str
    before: float | None
    after: float | None

    def words(self, system: System, tr: Callable[[str], str] = str) -> str:
        """The figure as it is now, as it was, and by how much it changed.

        ``tr`` gives the words in another language than English.
        """
        now, was = (tr(_shown(value, self.kind, system)) for value in (self.after, self.before))
        text = f"{tr(f'{self.label[:1].lower()}{self.label[1:]}')} {now}, {tr('was')} {was}"
        if self.before and self.after is not None and self.key not in _PER_CENT:
            text += f" ({(self.after / self.before - 1.0) * 100.0:+.0f} %)"
        return text


@dataclass(frozen=True, slots=True)
class Consequence:
    """What changed at one place, and what follows there; ``tag`` is empty for the whole line.

    ``came`` and ``went`` are findings; ``weight`` orders, the gravest first.
    """

    tag: str
    causes: tuple[Change, ...]
    effects: tuple[Effect, ...]
    came: tuple[Finding, ...]
    went: tuple[Finding, ...]
    weight: float

    def sentence(self, system: System) -> str:
        """Cause and effect in one plain sentence."""
        causes = "; ".join(change.sentence() for change in self.causes)
        told = [effect.words(system) for effect in self.effects]
        told += [f"{held.level}: {held.says(system).rstrip('.')}" for held in self.came]
        told += [f"no longer: {held.says(system).rstrip('.')}" for held in self.went]
        head = causes or (f"{self.tag} feels a change elsewhere" if self.tag else "The line")
        return f"{head}: {'; '.join(told)}." if told else f"{head}: no figure changes."


def consequences(
    difference: Difference,
    before: LineResults | None = None,
    after: LineResults | None = None,
) -> tuple[Consequence, ...]:
    """What the changes of a difference do, place by place, the gravest first.

    Parameters
    ----------
    difference : Difference
        From `compare`.
    before, after : LineResults, optional
        Results of both lines where they are there already.
    """
    was = before or compute_line(difference.before)
    now = after or compute_line(difference.after)
    came, went = _findings(was, now)
    tags = {entry.station.tag for entry in now.stations} | {""}
    tags |= {change.tag for change in difference.changes}
    found = []
    for tag in tags:
        causes = tuple(
            change
            for change in difference.at(tag)
            if change.group != "papers" and change.sort != "not_read"
        )
        effects = tuple(_effects(was, now, tag))
        own_came, own_went = came.get(tag, ()), went.get(tag, ())
        if causes or effects or own_came or own_went:
            weight = _weight(effects, own_came, causes)
            found.append(Consequence(tag, causes, effects, own_came, own_went, weight))
    found.sort(key=lambda held: (-held.weight, held.tag))
    return tuple(found)


def _effects(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    if not tag:
        yield from _line_effects(was, now)
        return
    before, after = (_figures(results, tag) for results in (was, now))
    for key in _FIGURES:
        yield from _changed(key, before, after)
    yield from _top_effects(was, now, tag)
    yield from _pair_effects(was, now, tag)


_Figure = tuple[str, str, float | None]


def _figures(results: LineResults, tag: str) -> dict[str, _Figure]:
    station = results.line.station_tagged(tag)
    if station is None:
        return {}
    figures = results.figures(station.id)
    return {key: (held.label, held.kind, held.value) for key, held in figures.items()}


def _changed(
    key: str, before: Mapping[str, _Figure], after: Mapping[str, _Figure]
) -> Iterator[Effect]:
    held = after.get(key) or before.get(key)
    if held is None:
        return
    old = before[key][2] if key in before else None
    new = after[key][2] if key in after else None
    if not _differs(old, new):
        return
    yield Effect(key, held[0], held[1], old, new)


def _differs(old: float | None, new: float | None) -> bool:
    if old is None or new is None:
        return old is not new
    return abs(new - old) > _TOLD_FROM * max(abs(old), abs(new))


def _top_effects(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """Where a station tops out: at the top of its reference, within the drive's limits."""
    tops = [_top(results, tag) for results in (was, now)]
    if None not in tops and _differs(tops[0], tops[1]):
        yield Effect("top_speed_m_s", "tops out at", "surface_speed", tops[0], tops[1])


def _top(results: LineResults, tag: str) -> float | None:
    station = results.line.station_tagged(tag)
    if station is None:
        return None
    points = results.station(station.id).points
    return points[-1].surface_m_s if points else None


def _pair_effects(was: LineResults, now: LineResults, tag: str) -> Iterator[Effect]:
    """Differentials as set of the pairs that a station stands first or second in."""
    old = {held.pair.name: held for held in was.plan.pairs}
    for held in now.plan.pairs:
        if tag not in (held.first.result.tag, held.second.result.tag):
            continue
        before = old[held.pair.name].present if held.pair.name in old else None
        if before is None and held.present is None:
            continue
        if before is None or held.present is None or abs(held.present - before) > _TOLD_FROM:
            label = f"differential of {held.pair.name}"
            yield Effect(f"pair:{held.pair.name}", label, "ratio", before, held.present)


def _line_effects(was: LineResults, now: LineResults) -> Iterator[Effect]:
    old, new = was.plan.most_feed_1_s, now.plan.most_feed_1_s
    if _differs(old, new):
        entry = _bottleneck(now)
        label = "the line is full at a feed of"
        if entry is not None:
            label = f"the line is full, at {entry.tag}, at a feed of"
        yield Effect("most_feed_1_s", label, "count_rate", old, new)


def _bottleneck(results: LineResults) -> PlanEntry | None:
    station_id = results.plan.bottleneck_id
    return None if station_id is None else results.plan.entries[station_id]


_ByTag = dict[str, tuple[Finding, ...]]


def _findings(was: LineResults, now: LineResults) -> tuple[_ByTag, _ByTag]:
    """Findings that came and that went, by tag; one whose figures changed only came."""
    old, new = find(was).found, find(now).found
    old_marks, new_marks = {held.mark for held in old}, {held.mark for held in new}
    new_places = {(held.key, held.tag) for held in new}
    came = [held for held in new if held.mark not in old_marks]
    went = [
        held
        for held in old
        if held.mark not in new_marks and (held.key, held.tag) not in new_places
    ]
    return _by_tag(came), _by_tag(went)


def _by_tag(findings: list[Finding]) -> _ByTag:
    found: _ByTag = {}
    for held in findings:
        found[held.tag] = (*found.get(held.tag, ()), held)
    return found


def _weight(
    effects: tuple[Effect, ...], came: tuple[Finding, ...], causes: tuple[Change, ...]
) -> float:
    grave = max((len(LEVELS) - LEVELS.index(held.level) for held in came), default=0)
    moved = max(
        (
            abs(effect.after / effect.before - 1.0)
            for effect in effects
            if effect.before and effect.after is not None
        ),
        default=0.0,
    )
    return 10.0 * grave + min(moved, 5.0) + (0.1 if causes else 0.0)


def _shown(value: float | None, kind: str, system: System) -> str:
    return "not known" if value is None else str(show_computed(value, kind, system))
