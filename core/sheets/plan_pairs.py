"""Pairs on a sheet: what is wanted, planned and set, how sure it is, and what would hold it."""

from collections.abc import Iterator

from core.line import Plan
from core.line.pairs import PairResult
from core.sheets.document import Cell, Column, Grid, Heading, Paragraph, Part
from core.sheets.entries import Entries


def pair_parts(entries: Entries, plan: Plan) -> Iterator[Part]:
    """Every pair of a plan, and the budget of each.

    Parameters
    ----------
    entries : Entries
        Writes values in the units of the line.
    plan : Plan
        The plan of one recipe.
    """
    say = entries.say
    if not plan.pairs:
        yield Paragraph(say("no_pairs"), "quiet")
        return
    yield Grid(_columns(entries), tuple(_row(entries, result) for result in plan.pairs))
    yield Paragraph(say("plan_pairs_key"), "quiet")
    for result in plan.pairs:
        yield from _budget(entries, result)


def _columns(entries: Entries) -> tuple[Column, ...]:
    say = entries.say
    shares = ("pair_wanted", "pair_tolerance", "pair_planned", "plan_band", "pair_now")
    chances = ("pair_outside", "pair_sign")
    return (
        Column(say("pair"), 1.4),
        Column(say("pair_first"), 0.5),
        Column(say("pair_second"), 0.5),
        *(Column(say(key), 0.6, "right", units=True) for key in shares),
        *(Column(say(key), 0.7, "right", units=True) for key in chances),
        Column(say("pair_verdict"), 1.0),
    )


def _row(entries: Entries, result: PairResult) -> tuple[Cell, ...]:
    def share(value: float | None) -> Cell:
        return entries.computed(value, "ratio")

    return (
        Cell(result.pair.name or entries.say("no_name"), tone="strong"),
        Cell(result.first.result.tag),
        Cell(result.second.result.tag),
        share(result.wanted),
        share(result.tolerance),
        share(result.planned),
        share(None if result.u is None else 2.0 * result.u),
        share(result.present),
        _chance(result.chance_outside),
        _chance(result.chance_sign),
        _verdict(entries, result),
    )


def _chance(value: float | None) -> Cell:
    """A chance to a tenth of a per cent: further figures would claim what nobody knows."""
    if value is None:
        return Cell("–", tone="quiet")
    if value < 0.0005:
        return Cell("< 0.1", 0.0, "%")
    return Cell(f"{value * 100.0:.1f}", round(value * 100.0, 1), "%")


def _verdict(entries: Entries, result: PairResult) -> Cell:
    if result.holds is None:
        return Cell(entries.say("pair_open"), tone="quiet")
    key = "pair_holds" if result.holds else "pair_fails"
    words = entries.say(key)
    if result.is_set_within is False:
        words = f"{words}; {entries.say('pair_outside_now')}"
    good = result.holds and result.is_set_within is not False
    return Cell(words, tone="plain" if good else "strong")


def _budget(entries: Entries, result: PairResult) -> Iterator[Part]:
    say = entries.say
    if result.u is None:
        return
    yield Heading(say("pair_budget", pair=result.pair.name or say("no_name")), 3)
    columns = (
        Column(say("pair_part"), 2.0),
        Column(say("pair_variance"), 0.8, "right", units=True),
    )
    rows = tuple(
        (Cell(entries.tr(name)), Cell(f"{share * 100.0:.1f}", round(share * 100.0, 1), "%"))
        for name, share in result.parts
    )
    yield Grid(columns, rows)
    if result.assumed:
        parts = ", ".join(
            f"{entries.tr(held.part)} ± {held.half_width * 100.0:g} %" for held in result.assumed
        )
        yield Paragraph(say("pair_assumed", parts=parts), "quiet")
    if result.remedies:
        yield _remedies(entries, result)


def _remedies(entries: Entries, result: PairResult) -> Grid:
    say = entries.say
    columns = (
        Column(say("pair_remedy"), 2.0),
        Column(say("pair_remedy_u"), 0.7, "right", units=True),
        Column(say("pair_outside"), 0.7, "right", units=True),
        Column(say("pair_sign"), 0.7, "right", units=True),
    )
    rows = tuple(
        (
            Cell(say(f"remedy_{held.key}")),
            entries.computed(2.0 * held.u, "ratio"),
            _chance(held.chance_outside),
            _chance(held.chance_sign),
        )
        for held in result.remedies
    )
    return Grid(columns, rows)
