"""Stations held at a ratio: the ratio that is planned, the one that is set, and how sure it is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from core.calc import pair_ratio, pair_remedies, span
from core.calc.speed_parts import Part
from core.errors import RangeError
from core.line.bands import SIGNAL_PARTS, WIRED_PARTS, Assumption, SpeedBudget, budget_of
from core.line.station import StationResult
from core.model import Pair

CHANCE_THAT_HOLDS = 0.05
"""Chance to leave the band that still counts as holding it; common practice, k = 2."""


@dataclass(frozen=True, slots=True)
class Side:
    """One station of a pair: its results, its planned speed and frequency, its speed as set."""

    result: StationResult
    planned_m_s: float | None
    planned_hz: float | None
    present_m_s: float | None


@dataclass(frozen=True, slots=True)
class Remedy:
    """What would hold a pair better, and how well."""

    key: str
    u: float
    chance_outside: float
    chance_sign: float


@dataclass(frozen=True, slots=True)
class PairResult:
    """One pair: differentials over the mean, with the standard uncertainty of the planned one.

    ``parts`` tell what the uncertainty is made of, the largest share first. ``wanted`` and
    ``tolerance`` are as entered, a ratio turned into its differential. ``holds`` is None where
    there is nothing to judge by; ``problem`` says which entry no uncertainty follows from.
    """

    pair: Pair
    first: Side
    second: Side
    wanted: float | None
    planned: float | None
    present: float | None
    u: float | None
    parts: tuple[tuple[str, float], ...]
    assumed: tuple[Assumption, ...]
    chance_outside: float | None
    chance_sign: float | None
    remedies: tuple[Remedy, ...]
    problem: str = ""

    @property
    def tolerance(self) -> float | None:
        """Half width of the band of the differential."""
        return self.pair.tolerance

    @property
    def holds(self) -> bool | None:
        """Whether its wiring can hold the differential in its band."""
        if self.chance_outside is None:
            return None
        return self.chance_outside <= CHANCE_THAT_HOLDS

    @property
    def is_set_within(self) -> bool | None:
        """Whether the differential as set lies in the band."""
        return self._is_within(self.present)

    @property
    def is_planned_within(self) -> bool | None:
        """Whether the differential as planned lies in the band."""
        return self._is_within(self.planned)

    def _is_within(self, differential: float | None) -> bool | None:
        if differential is None or self.wanted is None or self.tolerance is None:
            return None
        return abs(differential - self.wanted) <= self.tolerance


def pair_result(pair: Pair, first: Side, second: Side) -> PairResult:
    """Judge one pair: as planned, as set, and how sure the planned differential is."""
    wanted = wanted_differential(pair)
    planned = _differential(first.planned_m_s, second.planned_m_s)
    present = _differential(first.present_m_s, second.present_m_s)
    unjudged = PairResult(
        pair, first, second, wanted, planned, present, None, (), (), None, None, ()
    )
    try:
        held = _Held.of(pair, first, second, planned)
        return unjudged if held is None else _judged(unjudged, held)
    except RangeError as error:
        return replace(unjudged, problem=str(error))


def _judged(result: PairResult, held: "_Held") -> PairResult:
    u = held.u_of(*held.parts())
    judged = _Judged.of(held, u, result.wanted)
    return replace(
        result,
        u=u,
        parts=tuple(pair_ratio.contributions(*held.parts())),
        assumed=_assumed(held.budgets),
        chance_outside=judged.outside,
        chance_sign=judged.sign,
        remedies=() if judged.holds else tuple(_remedies(held, result.wanted)),
    )


def wanted_differential(pair: Pair) -> float | None:
    """The differential that a pair wants; a ratio turned into it."""
    if pair.wanted_as == "ratio":
        return None if pair.wanted_ratio is None else _differential(pair.wanted_ratio, 1.0)
    return pair.wanted_differential


def _differential(first: float | None, second: float | None) -> float | None:
    if first is None or second is None or first + second <= 0.0:
        return None
    return pair_ratio.differential_share(first, second)


def _assumed(budgets: Sequence[SpeedBudget]) -> tuple[Assumption, ...]:
    found = {held.part: held for budget in budgets for held in budget.assumed}
    return tuple(found.values())


@dataclass(frozen=True, slots=True)
class _Held:
    """A pair with planned speeds and budgets: what its uncertainty is computed from."""

    pair: Pair
    first: Side
    second: Side
    planned: float
    budgets: tuple[SpeedBudget, SpeedBudget]

    @classmethod
    def of(cls, pair: Pair, first: Side, second: Side, planned: float | None) -> "_Held | None":
        budgets = (
            budget_of(first.result, first.planned_hz),
            budget_of(second.result, second.planned_hz),
        )
        if planned is None or budgets[0] is None or budgets[1] is None:
            return None
        return cls(pair, first, second, planned, (budgets[0], budgets[1]))

    def parts(self) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
        """The parts of both sides; those of one signal are shared."""
        names = SIGNAL_PARTS if self.pair.one_signal else ()
        both = [
            tuple(
                replace(part, shared=1.0) if part.name in names else part for part in budget.parts
            )
            for budget in self.budgets
        ]
        return both[0], both[1]

    def u_of(self, first: Sequence[Part], second: Sequence[Part]) -> float:
        """Standard uncertainty of the differential under these budgets."""
        speeds = (self.first.planned_m_s or 0.0, self.second.planned_m_s or 0.0)
        return pair_ratio.differential_u(*speeds, first, second)


@dataclass(frozen=True, slots=True)
class _Judged:
    outside: float | None
    sign: float | None

    @property
    def holds(self) -> bool:
        return self.outside is not None and self.outside <= CHANCE_THAT_HOLDS

    @classmethod
    def of(cls, held: _Held, u: float, wanted: float | None) -> "_Judged":
        band = held.pair.tolerance
        outside = None
        if wanted is not None and band is not None:
            outside = pair_ratio.chance_outside(held.planned, u, wanted - band, wanted + band)
        # Equal speeds have no sign to lose.
        sign = pair_ratio.chance_sign_changes(held.planned, u) if held.planned else None
        return cls(outside, sign)


def _remedies(held: _Held, wanted: float | None) -> Iterator[Remedy]:
    """What would hold the pair better, each with what it would bring."""
    for key, budgets in _tries(held):
        u = held.u_of(*budgets)
        judged = _Judged.of(held, u, wanted)
        yield Remedy(key, u, judged.outside or 0.0, judged.sign or 0.0)


_Parts = Sequence[Part]


def _tries(held: _Held) -> Iterator[tuple[str, tuple[_Parts, _Parts]]]:
    first, second = (budget.parts for budget in held.budgets)
    if not held.pair.one_signal and _has(first, SIGNAL_PARTS) and _has(second, SIGNAL_PARTS):
        yield "one_signal", pair_remedies.one_signal(first, second, SIGNAL_PARTS)
    tied = held.parts()
    narrowed = [
        _narrowed(side, parts) for side, parts in zip((held.first, held.second), tied, strict=True)
    ]
    if narrowed[0] is not None and narrowed[1] is not None:
        yield "span", (narrowed[0], narrowed[1])
    if _has(first, WIRED_PARTS) or _has(second, WIRED_PARTS):
        # The step of the frequency is in the budget as it is; what the wire adds falls away.
        by_hertz = [
            tuple(part for part in parts if part.name not in WIRED_PARTS)
            for parts in (first, second)
        ]
        yield "bus", (by_hertz[0], by_hertz[1])


def _has(parts: _Parts, names: Sequence[str]) -> bool:
    return any(part.name in names for part in parts)


def _narrowed(side: Side, parts: _Parts) -> _Parts | None:
    """The budget with the ends of the reference drawn in around the planned frequency."""
    limits, hertz = side.result.limits, side.planned_hz
    if side.result.chain is None or limits is None or not hertz or not _has(parts, WIRED_PARTS):
        return None
    if not limits.minimum_hz <= hertz <= limits.maximum_hz > limits.minimum_hz:
        return None
    ends = span.suggest_span([hertz], limits.minimum_hz, limits.maximum_hz)
    now = (limits.bottom_hz, limits.top_hz)
    if abs(ends[1] - ends[0]) >= abs(now[1] - now[0]):
        return None
    names = [part.name for part in parts if part.name in WIRED_PARTS]
    return pair_remedies.narrowed_span(parts, names, now, ends)
