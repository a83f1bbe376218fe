"""The workings: how every figure of stations, supplies and enclosures came about."""

import datetime
from collections.abc import Collection, Iterable, Mapping

from core.line import Figure, LineResults
from core.line.service import enclosure_heats, supply_loads
from core.model import Line
from core.sheets.cautions import caution_parts
from core.sheets.document import Cell, Column, Document, Grid, Heading, Paragraph, Part, Section
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
        The stations wanted, with their supplies and enclosures; all without it. What a supply or an
        enclosure bears is counted over all drives of the line.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    ids = [entry.id for entry in chosen(line, station_ids)]
    front = (Paragraph(say("workings_key")), *caution_parts(say))
    sections = [
        front_section(entries, today, front),
        Section(say("workings"), (_all_figures(entries, results, ids),)),
    ]
    shared = _shared_parts(entries, results, ids, everything=station_ids is None)
    if shared:
        sections.append(Section(say("supplies_and_enclosures"), shared))
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
        for key, figure in results.figures(held.station.id).items()
    )
    if not rows:
        return Paragraph(say("no_figures"), "quiet")
    columns = (Column(say("tag"), 0.6), Column(say("name"), 1.4), *working_columns(entries))
    return Grid(columns, rows, heading_columns=2)


def _shared_parts(
    entries: Entries, results: LineResults, station_ids: list[int], everything: bool
) -> tuple[Part, ...]:
    drives = [results.station(entry).station.drive for entry in station_ids]
    fed_from = {drive.supply_id for drive in drives}
    inside = {drive.enclosure_id for drive in drives}
    supplies = (
        (load.supply.name, load.figures)
        for load in supply_loads(results)
        if everything or load.supply.id in fed_from
    )
    enclosures = (
        (heat.enclosure.name, heat.figures)
        for heat in enclosure_heats(results)
        if everything or heat.enclosure.id in inside
    )
    grids = (
        (entries.say("supplies"), _figures_of(entries, entries.label("supply"), supplies)),
        (entries.say("enclosures"), _figures_of(entries, entries.label("enclosure"), enclosures)),
    )
    return tuple(
        part for title, grid in grids if grid.rows for part in (Heading(title, bookmark=True), grid)
    )


def _figures_of(
    entries: Entries, label: str, held: Iterable[tuple[str, Mapping[str, Figure]]]
) -> Grid:
    rows = tuple(
        (
            Cell(name or entries.say("no_name"), tone="strong"),
            *working_cells(entries, figure),
        )
        for name, figures in held
        for figure in figures.values()
    )
    return Grid((Column(label), *working_columns(entries)), rows, heading_columns=1)
