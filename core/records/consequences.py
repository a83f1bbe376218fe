"""What the differences between two lines do: to speeds, ratios, capacity, currents, findings.

Both lines are computed by the same code; a consequence is two figures. Nothing is guessed from the
kind of change.
"""

import dataclasses
from dataclasses import dataclass

from core.line import LineResults, compute_line
from core.line.findings import LEVELS, Finding, find
from core.records.comparing import Change, Difference
from core.records.effect import Effect, told_effects
from core.records.effects import effects_at, tag_before
from core.units import System


@dataclass(frozen=True, slots=True)
class Consequence:
    """What changed at one place, and what follows there; ``tag`` is empty for the whole line.

    ``place`` names the station in full. ``came`` and ``went`` are findings; ``weight`` orders, the
    gravest first.
    """

    tag: str
    place: str
    causes: tuple[Change, ...]
    effects: tuple[Effect, ...]
    came: tuple[Finding, ...]
    went: tuple[Finding, ...]
    weight: float

    def sentence(self, system: System) -> str:
        """Cause and effect in one plain sentence."""
        causes = "; ".join(change.brief() for change in self.causes)
        told = [effect.words(system) for effect in self.told]
        told += [f"{held.level}: {held.says(system).rstrip('.')}" for held in self.came]
        told += [f"no longer: {held.says(system).rstrip('.')}" for held in self.went]
        heads = [self.place, causes or ("feels a change elsewhere" if self.tag else "")]
        if not causes:
            heads = [" ".join(filter(None, heads))]
        text = ": ".join(filter(None, [*heads, "; ".join(told) or "no figure changes"]))
        return f"{text[:1].upper()}{text[1:]}."

    @property
    def told(self) -> tuple[Effect, ...]:
        """The effects that are put in words; `effects` holds all of them."""
        return told_effects(self.effects)


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
        effects = effects_at(was, now, tag)
        own_came, own_went = came.get(tag, ()), went.get(tag, ())
        whole = _Part(causes, effects, own_came, own_went)
        place = _place(difference, tag)
        for part in (whole,) if tag else _apart(whole):
            if any((part.causes, part.effects, part.came, part.went)):
                weight = _weight(tag, part.effects, part.came, part.causes)
                found.append(
                    Consequence(tag, place, part.causes, part.effects, part.came, part.went, weight)
                )
    found.sort(key=lambda held: (-held.weight, held.tag))
    return tuple(found)


_OF_THE_FLOW = ("line", "recipe", "recipe_speed", "flow", "pair")
"""Tables of the whole line whose changes can move what the whole line carries."""


@dataclass(frozen=True, slots=True)
class _Part:
    causes: tuple[Change, ...]
    effects: tuple[Effect, ...]
    came: tuple[Finding, ...]
    went: tuple[Finding, ...]


def _apart(whole: _Part) -> tuple[_Part, _Part]:
    """What belongs to the flow of the line, and what to the supplies and lists it shares.

    What the line carries follows from its stations; a supply that changed as well is not its cause.
    """

    def of_flow(table: str) -> bool:
        return table in _OF_THE_FLOW

    def parted(wanted: bool) -> _Part:
        return _Part(
            tuple(held for held in whole.causes if of_flow(held.table) is wanted),
            whole.effects if wanted else (),
            tuple(held for held in whole.came if of_flow(held.place.table) is wanted),
            tuple(held for held in whole.went if of_flow(held.place.table) is wanted),
        )

    return parted(True), parted(False)


def _place(difference: Difference, tag: str) -> str:
    for line in (difference.after, difference.before):
        station = line.station_tagged(tag)
        if station is not None:
            return f"{tag} {station.name}".strip()
    return tag


_ByTag = dict[str, tuple[Finding, ...]]


def _findings(was: LineResults, now: LineResults) -> tuple[_ByTag, _ByTag]:
    """Findings that came and that went, by tag; one whose figures changed only came."""
    new = find(now).found
    # A station that only has another tag brings no finding of its own by that.
    tags = {tag_before(was, now, held.tag): held.tag for held in now.line.stations}
    old = [dataclasses.replace(held, tag=tags.get(held.tag, held.tag)) for held in find(was).found]
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


_LINE_SHORT, _STATION_SHORT = 2.5, 2.0
"""A line that lacks more than before weighs less than a blocker, more than a fault of a station."""


def _weight(
    tag: str, effects: tuple[Effect, ...], came: tuple[Finding, ...], causes: tuple[Change, ...]
) -> float:
    grave: float = max((len(LEVELS) - LEVELS.index(held.level) for held in came), default=0)
    missed = [effect.misses for effect in effects if effect.is_worse]
    if missed:
        grave = max(grave, _STATION_SHORT if tag else _LINE_SHORT)
    moved = max((effect.moved for effect in effects), default=0.0)
    return 10.0 * grave + 2.0 * min(max(missed, default=0.0), 1.0) + _eased(moved, causes)


def _eased(moved: float, causes: tuple[Change, ...]) -> float:
    """Below the step from one grade to the next, whatever the figures do."""
    return min(moved, 2.0) + (0.1 if causes else 0.0)
