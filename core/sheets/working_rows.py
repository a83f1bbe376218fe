"""How a computed figure came about, as the cells of a row: formula, inputs, source, assumptions."""

from core.line import Figure
from core.sheets.document import Cell, Column
from core.sheets.entries import Entries


def working_columns(entries: Entries) -> tuple[Column, ...]:
    """The columns of `working_cells`."""
    say = entries.say
    return (
        Column(say("figure"), 2.0),
        Column(say("result"), 0.6, "right", units=True),
        Column(say("formula"), 2.4),
        Column(say("inputs"), 3.0),
        Column(say("source"), 2.0),
        Column(say("remarks"), 2.2),
    )


def working_cells(entries: Entries, figure: Figure, key: str = "") -> tuple[Cell, ...]:
    """One figure with its working.

    Parameters
    ----------
    entries : Entries
        Writes values in the units of the line.
    figure : Figure
        From the results of a station.
    key : str
        What it is kept under there; of a second motor it ends with the motor's number.
    """
    number = key.removeprefix(figure.key).strip("_")
    return (
        Cell(
            entries.say("of_motor", figure=figure.label, number=number) if number else figure.label
        ),
        entries.computed(figure.value, figure.kind),
        Cell(figure.formula),
        Cell(inputs_text(entries, figure)),
        Cell(figure.source),
        Cell(remarks_text(entries, figure), tone="quiet"),
    )


def inputs_text(entries: Entries, figure: Figure) -> str:
    """What a figure was computed from, each input with its unit."""
    return "; ".join(f"{given.label} {given.shown(entries.system)}" for given in figure.given)


def remarks_text(entries: Entries, figure: Figure) -> str:
    """What is lacking, why the inputs give no figure, what is assumed, what is left out."""
    say = entries.say
    remarks = (
        say("lacks", what=", ".join(figure.lacks)) if figure.lacks else "",
        figure.problem,
        say("assumes", what=figure.assumed) if figure.assumed else "",
        figure.note,
    )
    return "\n".join(remark for remark in remarks if remark)
