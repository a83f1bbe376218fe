"""How a computed figure came about, as the cells of a row: formula, inputs, source, assumptions."""

from core.line import Figure, Given
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
    number, label = key.removeprefix(figure.key).strip("_"), entries.tr(figure.label)
    return (
        Cell(entries.say("of_motor", figure=label, number=number) if number else label),
        entries.computed(figure.value, figure.kind),
        Cell(entries.tr(figure.formula)),
        Cell(inputs_text(entries, figure)),
        Cell(entries.tr(figure.source)),
        Cell(remarks_text(entries, figure), tone="quiet"),
    )


def inputs_text(entries: Entries, figure: Figure) -> str:
    """What a figure was computed from, each input with its unit."""
    return "; ".join(
        f"{entries.tr(given.label)} {_shown(entries, given)}" for given in figure.given
    )


def _shown(entries: Entries, given: Given) -> str:
    shown = given.shown(entries.system)
    return entries.tr(shown) if isinstance(given.value, str) else shown


def remarks_text(entries: Entries, figure: Figure) -> str:
    """What is lacking, why the inputs give no figure, what is assumed, what is left out."""
    say, tr = entries.say, entries.tr
    remarks = (
        say("lacks", what=", ".join(map(tr, figure.lacks))) if figure.lacks else "",
        tr(figure.problem),
        say("assumes", what=tr(figure.assumed)) if figure.assumed else "",
        tr(figure.note),
    )
    return "\n".join(remark for remark in remarks if remark)
