"""A figure of two lines side by side, and how it is told in words."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Literal

from core.line import plan_rules, rules
from core.units import System, show_computed

RAMPS = ("run_up_s", "run_down_s")
"""Keys of the times that a station takes to its speed and back."""
_RAMP_SEEN = 0.1
"""Relative change of such a time that somebody beside the machine sees; common practice."""
TOLD_FROM = 0.005
"""Relative change of a figure that is worth a word."""
_DIGITS = 4
"""Significant digits of a computed figure."""
NEEDS = {
    "below": "{margin} below what the line needs",
    "above": "{margin} above what the line needs",
    "just": "just what the line needs",
    "below for": "{margin} below what the line needs for {recipe}",
    "above for": "{margin} above what the line needs for {recipe}",
    "just for": "just what the line needs for {recipe}",
    "wanted": "wanted {value}",
    "set": "set to {value}",
}
"""How an effect tells what the line needs."""
LABELS = {
    "top": "tops out at",
    "lowest": "goes no slower than",
    "at limit": "{figure} at the nearest speed it reaches",
    "pair": "differential of {pair}",
    "up": "time to run up to its speed",
    "down": "time to run down from its speed",
    "piled": "fruit that piles up before it when all stop at once",
    "full": "the line is full at a feed of",
    "full at": "the line is full, at {tag}, at a feed of",
}
"""How effects are called that are no figure of a station by themselves."""
CUPS_UNITS = {True: "cups/s", False: "cups/s in each lane"}
"""Unit of a rate of cups, by whether the line has a single lane of them."""

_ECHOES = {rules.NOW_SHAFT.key: rules.NOW_SURFACE.key, plan_rules.USE.key: plan_rules.CAPACITY.key}
"""Figures that say the same as another one, and are not told beside it."""

Bound = Literal["", "least", "most", "just", "set"]
"""How a figure has to stand to what the line needs: at least, at most, or about equal; or at most
at what is set."""


@dataclass(frozen=True, slots=True)
class Effect:
    """One figure before and after, in SI, and where it applies what the line needs of it.

    ``recipe`` names the fruit that needs it, where the line has several; ``unit`` stands in the
    place of the unit of its kind. ``figure`` is the figure that a ``label`` with a blank for it
    speaks of.
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
    figure: str = ""

    def name(self, tr: Callable[[str], str] = str) -> str:
        """What it is called, as a sentence goes on with it."""
        label = tr(f"{self.label[:1].lower()}{self.label[1:]}")
        if not self.figure:
            return label
        return label.format(figure=tr(f"{self.figure[:1].lower()}{self.figure[1:]}"))

    def words(self, system: System, tr: Callable[[str], str] = str) -> str:
        """The figure as it is now, what the line needs of it, as it was, by how much it changed.

        ``tr`` gives the words in another language than English.
        """
        shown = f"{self.name(tr)} {self._shown(self.after, system, tr)}"
        parts = [shown, self.need_words(system, tr)]
        parts.append(f"{tr('was')} {self._shown(self.before, system, tr)}")
        text = ", ".join(filter(None, parts))
        if self.before and self.after is not None and self.kind != "ratio":
            text += f" ({(self.after / self.before - 1.0) * 100.0:+.0f} %)"
        return text

    def need_words(self, system: System, tr: Callable[[str], str] = str) -> str:
        """How far it lies from what the line needs; empty where that is not known.

        How far a figure stays below the most it may be is no lack, and is not told.
        """
        if self.need is None or self.after is None or (self.bound == "most" and self.misses <= 0.0):
            return ""
        if self.kind == "ratio" or self.bound == "set":
            words = NEEDS["set" if self.bound == "set" else "wanted"]
            return tr(words).format(value=self._shown(self.need, system, tr))
        side = "just"
        if differs(self.after, self.need):
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
        return {"least": below, "most": -below, "set": -below}.get(self.bound, abs(below))

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
        except InvalidOperation:
            return show_computed(abs(self.after - self.need), self.kind, system).number
        largest = max(abs(Decimal(has)), abs(Decimal(needs)))
        # No more places than the larger of the two has with all its digits.
        places = max(0, _DIGITS - 1 - largest.adjusted()) if largest else 0
        return f"{apart.quantize(Decimal(1).scaleb(-places)).normalize():f}"


def told_effects(effects: tuple[Effect, ...]) -> tuple[Effect, ...]:
    """Those effects that a sentence tells: no echo of another one, nothing that harms nobody.

    Where nothing else follows, the harmless ones are told: a change that did something is never
    said to have done nothing.
    """
    keys = {effect.key for effect in effects}
    heard = [effect for effect in effects if _ECHOES.get(effect.key) not in keys]
    return tuple([effect for effect in heard if not _is_harmless(effect)] or heard)


def _is_harmless(effect: Effect) -> bool:
    if effect.key in RAMPS:
        # Less is seen by nobody who stands beside it.
        return not differs(effect.before, effect.after, _RAMP_SEEN)
    return effect.bound in ("most", "set") and effect.misses <= 0.0


def differs(old: float | None, new: float | None, share: float = TOLD_FROM) -> bool:
    """Whether two figures lie so far apart that it is worth a word."""
    if old is None or new is None:
        return old is not new
    return abs(new - old) > share * max(abs(old), abs(new))
