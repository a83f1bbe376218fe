"""The branch schedule: each circuit with the rule, its inputs, and the result, for an inspector."""

import datetime
from collections.abc import Collection, Iterator, Sequence

from core.line import LineResults
from core.line.findings import find
from core.line.service import enclosure_heats, supply_loads
from core.model import RECORDS, Line
from core.model.choices import WIRING_RULES
from core.sheets.branch_circuits import (
    Circuit,
    circuits_of,
    finding_remark,
    verdict_cell,
    verdict_word,
)
from core.sheets.cautions import caution_parts
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    Paragraph,
    Part,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.finding_rows import heaviest_first
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.supply_parts import enclosure_parts, supply_parts
from core.sheets.working_rows import working_cells, working_columns

_LAID = ("cable_type", "route", "insulation", "method", "ambient_k", "company", "length_m")
_BOUND_WORDS = {
    "protection_highest_a": "at_most_by_rule",
    "protection_lowest_a": "at_least_by_rule",
}
_PROTECTION = ("protection", "protection_a", "protection_kind")


def branch_schedule(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The branch schedule of a line.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it. Supplies and enclosures count all drives of the line.
    today : date, optional
        Printed on the first page.
    """
    entries, findings = Entries.of(line), find(results)
    say, ids = entries.say, [entry.id for entry in chosen(line, station_ids)]
    circuits = circuits_of(results, findings, ids)
    shared = (
        *supply_parts(entries, findings, supply_loads(results)),
        *enclosure_parts(entries, findings, enclosure_heats(results)),
    )
    sections = [
        front_section(entries, today, _front(entries, circuits)),
        Section(say("supplies_and_enclosures"), shared),
    ]
    if circuits:
        sections.append(Section(say("circuits"), (_schedule(entries, circuits),)))
        sections += _workings(entries, circuits)
    return sheet_of(entries, "branch_schedule", "branch_subtitle", sections, landscape=True)


# --- first page -----------------------------------------------------------------------------


def _front(entries: Entries, circuits: Sequence[Circuit]) -> tuple[Part, ...]:
    say = entries.say
    return (
        *caution_parts(say),
        Heading(say("rules_and_editions")),
        Paragraph(
            say("by_rules", rules=entries.tr(WIRING_RULES[entries.line.wiring_rules])), "strong"
        ),
        *_sources(entries, circuits),
        Paragraph(say("verdict_key")),
        Paragraph(say("protection_key")),
        *([] if circuits else [Paragraph(say("no_stations"), "quiet")]),
    )


def _sources(entries: Entries, circuits: Sequence[Circuit]) -> Iterator[Part]:
    """Which rule, of which edition, gives each figure of the schedule."""
    used = {figure.rule: None for entry in circuits for figure in entry.figures}
    rows = tuple(KeyValue(entries.tr(rule.label), Cell(entries.tr(rule.source))) for rule in used)
    if rows:
        yield KeyValues(rows, columns=2)


# --- schedule -------------------------------------------------------------------------------


def _schedule(entries: Entries, circuits: Sequence[Circuit]) -> Grid:
    return Grid(
        _columns(entries, circuits[0]),
        tuple(_row(entries, entry) for entry in circuits),
        heading_columns=1,
    )


def _columns(entries: Entries, first: Circuit) -> tuple[Column, ...]:
    say = entries.say

    def amount(heading: str) -> Column:
        return Column(heading, 0.4, "right", units=True)

    return (
        Column(entries.label("supply")),
        Column(say("tag"), 0.4),
        Column(entries.label("drive", "supply_lines"), 0.5),
        amount(say("voltage")),
        amount(say("input_current")),
        amount(say("design_current")),
        Column(entries.label("drive", "protection"), 1.5),
        amount(entries.label("drive", "protection_a")),
        amount(say(_BOUND_WORDS[first.protection_bound.key])),
        amount(say("at_most_by_maker")),
        amount(entries.label("cable", "conductor_m2")),
        amount(say("size_at_least")),
        amount(say("may_carry")),
        amount(entries.label("cable", "earth_m2")),
        amount(say("earth_at_least")),
        amount(entries.label("cable", "length_m")),
        amount(say("drop")),
        Column(say("verdict"), 2.0),
    )


def _row(entries: Entries, circuit: Circuit) -> tuple[Cell, ...]:
    drive, cable, kind = circuit.drive, circuit.cable, circuit.result.drive_type

    def figure(key: str) -> Cell:
        found = circuit.result.figures[key]
        return entries.computed(found.value, found.kind)

    return (
        _supply_cell(entries, circuit),
        Cell(circuit.result.tag, tone="strong"),
        entries.field(RECORDS["drive"].field("supply_lines"), drive.supply_lines),
        entries.quantity(circuit.feed.voltage_v if circuit.feed else None, "voltage"),
        figure("input_current_a"),
        figure("branch_design_current_a"),
        entries.text(drive.protection),
        entries.quantity(drive.protection_a, "current"),
        figure(circuit.protection_bound.key),
        entries.quantity(kind.protection_max_a if kind else None, "current"),
        entries.quantity(cable.conductor_m2, "conductor"),
        figure("conductor_needed_m2"),
        figure("conductor_allowed_a"),
        entries.quantity(cable.earth_m2, "conductor"),
        figure("earth_needed_m2"),
        entries.quantity(cable.length_m, "length"),
        figure("branch_drop_share"),
        verdict_cell(entries, circuit),
    )


def _supply_cell(entries: Entries, circuit: Circuit) -> Cell:
    if circuit.supply is None:
        return Cell(entries.say("no_supply_chosen"), tone="quiet")
    return entries.text(circuit.supply.name)


# --- how each figure comes about ------------------------------------------------------------


def _workings(entries: Entries, circuits: Sequence[Circuit]) -> Iterator[Section]:
    """A block for each circuit on paper; in a spreadsheet one table to filter."""
    say = entries.say
    lead = (Column(say("tag"), 0.6), Column(say("name"), 1.4))
    columns, nothing = working_columns(entries), Cell("–", tone="quiet")
    blocks, table = [], []
    for entry in circuits:
        place = (Cell(entry.result.tag, tone="strong"), Cell(entry.result.station.name))
        entered = Cell(_as_entered(entries, entry))
        rows = tuple(_working_rows(entries, entry))
        blocks += [(*place, entered, *cells) for cells in rows]
        named = (Cell(say("as_entered")), nothing, nothing, entered, nothing, Cell())
        table += [(*place, *cells) for cells in (named, *rows)]
    banded = (*lead, Column(say("as_entered")), *columns)
    on_paper = Grid(banded, tuple(blocks), heading_columns=2, band_columns=1)
    yield Section(say("how_it_comes"), (on_paper,), medium="paper")
    yield Section(say("how_it_comes"), (Grid((*lead, *columns), tuple(table)),), "spreadsheet")


def _working_rows(entries: Entries, circuit: Circuit) -> Iterator[tuple[Cell, ...]]:
    nothing = Cell("–", tone="quiet")
    for figure in circuit.figures:
        yield working_cells(entries, figure)
    for finding in heaviest_first(circuit.findings):
        yield (
            Cell(verdict_word(entries, finding, circuit.accepted), tone="strong"),
            nothing,
            nothing,
            Cell(entries.says(finding), tone="strong"),
            Cell(entries.source(finding)),
            Cell(finding_remark(entries, finding, circuit.accepted)),
        )


def _as_entered(entries: Entries, circuit: Circuit) -> str:
    """What the rules need to know of a circuit and find in no figure: how the cable is laid."""
    kind = circuit.result.drive_type
    told = [f"{entries.label('drive_type')} {kind.name if kind else entries.say('not_entered')}"]
    rows = (
        *entries.rows(circuit.drive, keep=_PROTECTION),
        *entries.rows(circuit.cable, keep=_LAID),
    )
    told += [f"{row.label} {row.cell.with_unit}" for row in rows]
    return "; ".join(told)
