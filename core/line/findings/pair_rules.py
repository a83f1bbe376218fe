"""Findings about stations held at a ratio: as set, as planned, and whether it can be held."""

from collections.abc import Iterator

from core.line.findings.base import Place, Value
from core.line.findings.view import LineFound, PlanView, plan_rule
from core.line.pairs import CHANCE_THAT_HOLDS, PairResult, Remedy

_REMEDIES = {
    "one_signal": "one signal for both, with the ratio set in the drives",
    "span": "the span of both references narrowed to the range in use",
    "bus": "the speeds given as hertz over a bus or at the keypad",
}
_SAME_PLACE = 0.01
"""Distance of two places of a knob that counts as none; common practice."""
_MAY_TURN = 0.001
"""Chance that the sign changes from which it is worth a word of its own; three sigma, one side."""


def _place(result: PairResult) -> Place:
    return Place("pair", result.pair.id, "wanted_differential")


def _named(result: PairResult) -> dict[str, Value]:
    return {
        "pair": f"Pair {result.pair.name}" if result.pair.name else "This pair",
        "first": result.first.result.tag,
        "second": result.second.result.tag,
    }


@plan_rule(
    key="pair-not-as-wanted",
    level="fault",
    says="{pair}: as set now, {first} and {second} differ by {now_share}; wanted is {wanted_share} "
    "± {band_share}.",
    follows="Fruit is held back, thrown apart or rubbed; ratios matter more than speeds.",
    mend="Set the reference of the one that is off, and leave the other alone.",
    source="the references as set; differential over the mean of the two",
)
def pair_not_as_wanted(view: PlanView) -> Iterator[LineFound]:
    """A pair whose present speeds lie outside of its band."""
    for result in view.plan.pairs if view.is_in_force else ():
        if result.is_set_within is False:
            told = _named(result) | {
                "now_share": result.present or 0.0,
                "wanted_share": result.wanted or 0.0,
                "band_share": result.tolerance or 0.0,
            }
            yield result.first.result.station, _place(result), told


@plan_rule(
    key="pair-cannot-hold",
    level="fault",
    says="{when}{pair}: {first} and {second} are to differ by {planned_share} ± {band_share}, but "
    "their wiring holds it to ± {spread_share} only (k = 2); most of it is {part}.",
    follows="The differential leaves its band with a chance of {outside}, and changes sign with a "
    "chance of {sign}.",
    mend="What would hold it better: {remedies}.",
    source="JCGM 100:2008 (GUM), 5.1 and 5.2; the budget stands in the plan",
)
def pair_cannot_hold(view: PlanView) -> Iterator[LineFound]:
    """A pair whose uncertainty is wider than its band."""
    for result in view.plan.pairs:
        # A plan that misses the band is told by a rule of its own; no wiring mends it.
        if result.holds is not False or result.u is None or not result.is_planned_within:
            continue
        told = _named(result) | {
            "planned_share": result.planned or 0.0,
            "band_share": result.tolerance or 0.0,
            "spread_share": 2.0 * result.u,
            "part": result.parts[0][0] if result.parts else "not known",
            "outside": _chance(result.chance_outside),
            "sign": _chance(result.chance_sign),
            "remedies": _remedies(result),
        }
        yield result.first.result.station, _place(result), told


def _chance(value: float | None) -> str:
    """A chance to a tenth of a per cent; further figures would claim what nobody knows."""
    share = (value or 0.0) * 100.0
    return f"{share:.1f} %" if share >= 0.05 else "less than 0.1 %"


def _remedies(result: PairResult) -> str:
    better = [held for held in result.remedies if held.u < (result.u or 0.0) * 0.95]
    told = []
    if result.parts and result.parts[0][0] == "slip":
        told.append("slip compensation in both drives, or loads that vary alike")
    if not better:
        return "; ".join([*told, "a larger differential, or a wider band"])
    for held in sorted(better, key=lambda entry: entry.u):
        told.append(f"{_REMEDIES[held.key]} (± {200.0 * held.u:.2g} %, {_brings(result, held)})")
    return "; ".join(told)


def _brings(result: PairResult, remedy: Remedy) -> str:
    if result.chance_outside is None:
        return "sure of its sign" if remedy.chance_sign <= _MAY_TURN else "still not sure of it"
    return "in its band" if remedy.chance_outside <= CHANCE_THAT_HOLDS else "still not in it"


@plan_rule(
    key="pair-may-turn-round",
    level="fault",
    says="{when}{pair}: the planned differential of {planned_share} is not sure of its sign "
    "(± {spread_share}, k = 2).",
    follows="With a chance of {sign} the slower one is in truth the faster.",
    mend="What would hold it better: {remedies}.",
    source="JCGM 100:2008 (GUM), 5.1 and 5.2",
)
def pair_may_turn_round(view: PlanView) -> Iterator[LineFound]:
    """A pair without a band whose differential may vanish or reverse."""
    for result in view.plan.pairs:
        if result.holds is not None or result.u is None or not result.wanted:
            continue
        if (result.chance_sign or 0.0) > _MAY_TURN:
            told = _named(result) | {
                "planned_share": result.planned or 0.0,
                "spread_share": 2.0 * result.u,
                "sign": _chance(result.chance_sign),
                "remedies": _remedies(result),
            }
            yield result.first.result.station, _place(result), told


@plan_rule(
    key="pair-planned-otherwise",
    level="fault",
    says="{when}{pair}: the speeds planned for {first} and {second} differ by {planned_share}; the "
    "pair wants {wanted_share} ± {band_share}.",
    follows="The plan asks for two things at once; whoever sets the knobs cannot do both.",
    mend="Let one of the two follow its pair, or change what the pair wants.",
    source="differential over the mean of the two",
)
def pair_planned_otherwise(view: PlanView) -> Iterator[LineFound]:
    """Planned speeds that do not give what the pair wants."""
    for result in view.plan.pairs:
        if result.is_planned_within is False:
            told = _named(result) | {
                "planned_share": result.planned or 0.0,
                "wanted_share": result.wanted or 0.0,
                "band_share": result.tolerance or 0.0,
            }
            yield result.first.result.station, _place(result), told


@plan_rule(
    key="pair-one-signal",
    level="fault",
    says="{when}{pair}: {first} and {second} follow one signal, but the plan needs it at "
    "{first_share} for one and at {second_share} for the other.",
    follows="One signal cannot give both speeds, so the differential is not what is planned.",
    mend="Set the frequencies at the ends of the reference in the ratio of the two speeds, or give "
    "each drive its own signal and say so.",
    source="scaling of the reference; 1 % of its travel as limit: common practice",
)
def pair_one_signal(view: PlanView) -> Iterator[LineFound]:
    """One signal that would have to stand at two places."""
    for result in view.plan.pairs:
        first, second = (
            view.plan.entries[side.result.station.id].planned_share
            for side in (result.first, result.second)
        )
        if not result.pair.one_signal or first is None or second is None:
            continue
        if abs(first - second) > _SAME_PLACE:
            told = _named(result) | {"first_share": first, "second_share": second}
            yield result.second.result.station, _place_of_signal(result), told


def _place_of_signal(result: PairResult) -> Place:
    return Place("pair", result.pair.id, "one_signal")


@plan_rule(
    key="pair-unlike",
    level="fault",
    says="{pair}: {first} and {second} differ in {differing}.",
    follows="One common signal gives two different speeds, and the ratio drifts with the knob.",
    mend="Use like drives with like spans; if they are meant to differ, accept this with the "
    "reason.",
    source="common practice",
)
def pair_unlike(view: PlanView) -> Iterator[LineFound]:
    """The two drives of a pair are of different type or span.

    Where the budget shows that they hold their band, unlike types and references do no harm, nor
    do unlike spans once the speeds as set are right.
    """
    for result in view.plan.pairs if view.is_in_force else ():
        settled = result.holds is True and result.is_set_within is not False
        differing = [] if settled else list(_spans_differing(result))
        if result.holds is not True:
            differing = [*_kinds_differing(result), *differing]
        if differing:
            told = _named(result) | {"differing": ", ".join(differing)}
            yield result.second.result.station, _place(result), told


def _kinds_differing(result: PairResult) -> Iterator[str]:
    first, second = result.first.result.station, result.second.result.station
    if first.drive.drive_type_id != second.drive.drive_type_id:
        yield "drive type"
    if first.reference.source != second.reference.source:
        yield "kind of reference"


def _spans_differing(result: PairResult) -> Iterator[str]:
    one, other = result.first.result.limits, result.second.result.limits
    if one is not None and other is not None:
        if (one.bottom_hz, one.top_hz) != (other.bottom_hz, other.top_hz):
            yield "frequencies at the ends of the reference"
        if one.maximum_hz != other.maximum_hz:
            yield "maximum frequency"
