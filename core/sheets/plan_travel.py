"""The travel of the references on a sheet: ends as set, ends suggested, what a step does."""

from collections.abc import Iterator

from core.line import LineResults
from core.line.travel import TravelAdvice, travel_advice
from core.sheets.document import Cell, Column, Grid, Paragraph, Part
from core.sheets.entries import Entries


def travel_parts(entries: Entries, results: LineResults) -> Iterator[Part]:
    """Suggested ends for every wired reference, over all recipes.

    Parameters
    ----------
    entries : Entries
        Writes values in the units of the line.
    results : LineResults
        The line with all of its plans.
    """
    rows = tuple(_row(entries, advice) for advice in travel_advice(results))
    if not rows:
        return
    say = entries.say
    columns = (
        Column(say("tag"), 0.5),
        Column(say("name"), 1.8),
        Column(say("plan_hertz"), 1.0),
        Column(say("span_now"), 0.9),
        Column(say("span_step_now"), 0.7, "right", units=True),
        Column(say("span_better"), 0.9),
        Column(say("span_step_better"), 0.7, "right", units=True),
    )
    yield Grid(columns, rows)
    yield Paragraph(say("plan_spans_key"), "quiet")


def _row(entries: Entries, advice: TravelAdvice) -> tuple[Cell, ...]:
    return (
        Cell(advice.result.tag, tone="strong"),
        Cell(advice.result.station.name),
        Cell(" / ".join(f"{hz:.1f}" for hz in advice.planned_hz) + " Hz"),
        Cell(entries.tr(_ends(advice.bottom_hz, advice.top_hz))),
        entries.computed(advice.step_hz, "frequency"),
        Cell(entries.tr(_ends(advice.better_bottom_hz, advice.better_top_hz))),
        entries.computed(advice.better_step_hz, "frequency"),
    )


def _ends(bottom_hz: float, top_hz: float) -> str:
    return f"{bottom_hz:g} to {top_hz:g} Hz"
