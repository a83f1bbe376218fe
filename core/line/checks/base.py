"""What a check is: what is done, when, at which stations, and what the answer should be."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from core.calc import insulation
from core.line.plan import PlanEntry
from core.line.results import LineResults
from core.line.settings import InForce, in_force
from core.line.station import StationResult
from core.model import Check, Line, Station, Supply

State = Literal["open", "good", "out", "kept", "skipped"]
"""Open; within its limits; out of them; out of them and kept with a reason; does not apply."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a reading should be, in SI; ``why`` says where that comes from.

    ``refer_k`` is the temperature that an insulation reading is referred to before it is judged.
    ``good`` names the options of a choice that are as they should be; any of them without it.
    """

    low: float | None = None
    high: float | None = None
    expected: float | None = None
    why: str = ""
    refer_k: float | None = None
    good: tuple[str, ...] = ()

    def judged(self, value: float, temperature_k: float | None) -> float:
        """The reading as it is judged: referred to ``refer_k`` where the rule asks for it."""
        if self.refer_k is None or temperature_k is None:
            return value
        return insulation.at_reference_ohm(value, temperature_k, self.refer_k)

    def holds(self, value: float) -> bool:
        """Whether a reading lies within, rounding of what was typed aside."""
        slack = 1e-9 * max(abs(value), 1e-12)
        above = self.low is None or value >= self.low - slack
        return above and (self.high is None or value <= self.high + slack)

    def allows(self, option: str) -> bool:
        """Whether an option of a choice is as it should be."""
        return not self.good or option in self.good


@dataclass(frozen=True, slots=True)
class CheckRule:
    """One check. ``caution`` is the key of a caution of `core.sheets.words` that belongs to it.

    ``kind`` is the kind of quantity of a reading; ``options`` are the words of a choice, stored
    word to shown one. Without either it is a yes or no, where yes is good. ``warm`` asks for the
    temperature at the test.
    """

    key: str
    stage: str
    label: str
    how: str
    kind: str = ""
    caution: str = ""
    source: str = ""
    warm: bool = False
    options: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Place:
    """One station with what is known of it, or the line as a whole where ``station`` is None."""

    results: LineResults
    result: StationResult | None = None

    @property
    def line(self) -> Line:
        """The line itself."""
        return self.results.line

    @property
    def at(self) -> StationResult:
        """The station's results; only for checks at stations."""
        assert self.result is not None
        return self.result

    @property
    def station(self) -> Station:
        """The station; only for checks at stations."""
        return self.at.station

    @property
    def entry(self) -> PlanEntry:
        """The station in the plan that the line is set up for."""
        return self.results.plan.entries[self.station.id]

    @property
    def supply(self) -> Supply | None:
        """What feeds the station."""
        return self.at.supply

    def setting(self, role: str) -> InForce | None:
        """A setting of the drive as it acts, by what it means."""
        return in_force(self.station, self.at.drive_type, role)


Applies = Callable[[Place], bool]
LimitsOf = Callable[[Place], Limits]


@dataclass(frozen=True, slots=True)
class Entered:
    """A rule with the functions that say where it applies and what to expect."""

    rule: CheckRule
    limits: LimitsOf
    applies: Applies
    for_line: bool = False


CHECKS: dict[str, Entered] = {}
"""Every check of Linebook by its key, in the order of the work."""


def check(
    applies: Applies = lambda _place: True, *, for_line: bool = False, **words: Any
) -> Callable[[LimitsOf], LimitsOf]:
    """Enter a check; the function gives the limits of its reading, and `Limits()` for a yes or no.

    Parameters
    ----------
    applies : callable
        Whether it applies at a place; everywhere without it.
    for_line : bool
        Done once for the whole line.
    words
        Fields of its `CheckRule`.
    """

    def enter(function: LimitsOf) -> LimitsOf:
        rule = CheckRule(**words)
        assert rule.key not in CHECKS
        CHECKS[rule.key] = Entered(rule, function, applies, for_line)
        return function

    return enter


@dataclass(frozen=True, slots=True)
class CheckItem:
    """One check at one place, with its limits and its result so far.

    ``applies`` is false where it was answered once and has no place any more; its reading has
    no limits then, and is judged by nobody.
    """

    rule: CheckRule
    station_id: int | None
    tag: str
    limits: Limits
    result: Check | None
    applies: bool = True

    @property
    def state(self) -> State:
        """Where it stands."""
        held = self.result
        if held is None or held.answer == "open":
            return "open"
        if held.answer == "not_applicable":
            return "skipped" if held.reason.strip() else "open"
        good = held.answer == "yes"
        if held.answer == "choice":
            if held.shown not in self.rule.options:
                return "open"
            good = self.limits.allows(held.shown)
        if held.answer == "reading":
            if held.value is None:
                return "open"
            if not self.applies:
                return "skipped"
            good = self.limits.holds(self.limits.judged(held.value, held.temperature_k))
        if good:
            return "good"
        return "kept" if held.reason.strip() else "out"

    @property
    def is_done(self) -> bool:
        """Whether nothing is left to do about it."""
        return self.state in ("good", "kept", "skipped")


def done_share(items: Iterable[CheckItem]) -> tuple[int, int]:
    """How many of some checks are done, and how many there are."""
    held = list(items)
    return sum(item.is_done for item in held), len(held)
