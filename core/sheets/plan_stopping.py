"""The order of starting and stopping on a sheet."""

from collections.abc import Iterator

from core.line import Plan
from core.line.stopping import Step, stopping_of
from core.sheets.document import Cell, Column, Grid, Paragraph, Part
from core.sheets.entries import Entries
from core.units import UNITS


def stopping_parts(entries: Entries, plan: Plan) -> Iterator[Part]:
    """Stations in the order of stopping, with delays, ramps, and what a stop leaves on each.

    Parameters
    ----------
    entries : Entries
        Writes values in the units of the line.
    plan : Plan
        The plan of one recipe.
    """
    steps = stopping_of(plan)
    if not steps:
        return
    say = entries.say
    amounts = ("stop_after", "start_after", "ramp_down", "ramp_up")
    counts = ("fruit_left", "fruit_foot" if entries.system == "us" else "fruit_metre", "pile_up")
    columns = (
        Column(say("tag"), 0.5),
        Column(say("name"), 1.8),
        *(Column(say(key), 0.7, "right", units=True) for key in amounts),
        *(Column(say(key), 0.7, "right") for key in counts),
    )
    yield Grid(columns, tuple(_row(entries, plan, step) for step in steps))
    yield Paragraph(say("plan_stopping_key"), "quiet")


def _row(entries: Entries, plan: Plan, step: Step) -> tuple[Cell, ...]:
    times = (step.stop_after_s, step.start_after_s, step.ramp_down_s, step.ramp_up_s)
    dense = step.fruit_per_metre
    if dense is not None and entries.system == "us":
        dense *= UNITS["ft"].factor
    counts = (step.fruit_left, dense, step.pile_up)
    return (
        Cell(step.tag, tone="strong"),
        Cell(plan.entries[step.station_id].station.name),
        *(_tenths(value, "s") for value in times),
        *(_tenths(value, "") for value in counts),
    )


def _tenths(value: float | None, unit: str) -> Cell:
    """A time or a count to a tenth: ramps are not kept better than that."""
    if value is None:
        return Cell("–", tone="quiet")
    return Cell(f"{value:.1f}", round(value, 1), unit)
