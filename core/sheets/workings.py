"""The workings: how every computed figure of every station came about."""

import datetime
from collections.abc import Collection

from core.line import LineResults
from core.model import Line
from core.sheets.cautions import caution_parts
from core.sheets.document import Cell, Column, Document, Grid, Paragraph, Part, Section
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.working_rows import working_cells, working_columns


def workings(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The workings of a line, the appendix to its other sheets.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results; each figure is told as it was computed.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    ids = [entry.id for entry in chosen(line, station_ids)]
    front = (Paragraph(say("workings_key")), *caution_parts(say))
    sections = (
        front_section(entries, today, front),
        Section(say("workings"), (_all_figures(entries, results, ids),)),
    )
    return sheet_of(entries, "workings", "workings_subtitle", sections, landscape=True)


def _all_figures(entries: Entries, results: LineResults, station_ids: list[int]) -> Part:
    say = entries.say
    rows = tuple(
        (
            Cell(held.tag, tone="strong"),
            Cell(held.station.name),
            *working_cells(entries, figure, key),
        )
        for held in map(results.station, station_ids)
        for key, figure in held.figures.items()
    )
    if not rows:
        return Paragraph(say("no_figures"), "quiet")
    columns = (Column(say("tag"), 0.6), Column(say("name"), 1.4), *working_columns(entries))
    return Grid(columns, rows, heading_columns=2)
