"""The findings: what the rules say about a line, what is accepted, and by whom."""

import datetime
from collections.abc import Collection, Iterator, Sequence

from core.line import LineResults
from core.line.findings import LEVELS, Finding, Findings, find
from core.model import RECORDS, Acceptance, Line, Station
from core.sheets.cautions import caution_parts
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Heading,
    Paragraph,
    Part,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.finding_rows import level_cell, place_cell
from core.sheets.front import chosen, front_section, sheet_of


def findings_sheet(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The findings of a line, the open ones by level, then those that stand accepted.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results; the rules look at them.
    station_ids : collection of int, optional
        The stations wanted; all without it. What concerns the line as a whole is always told.
    today : date, optional
        Printed on the first page.
    """
    entries, findings = Entries.of(line), find(results)
    stations = chosen(line, station_ids)
    wanted = {station.id for station in stations} | {None}
    found = [entry for entry in findings.found if entry.station_id in wanted]
    open_ones = [entry for entry in found if entry.mark not in findings.accepted]
    accepted = [entry for entry in found if entry.mark in findings.accepted]
    front = _front(entries, results, stations, open_ones, accepted)
    sections = [front_section(entries, today, tuple(front))]
    if open_ones:
        grid = _open_grid(entries, open_ones)
        sections.append(Section(entries.say("open_findings"), (grid,)))
    parts = tuple(_accepted(entries, findings, accepted, whole=station_ids is None))
    if parts:
        sections.append(Section(entries.say("accepted_findings"), parts))
    return sheet_of(entries, "findings", "findings_subtitle", sections, landscape=True)


def _front(
    entries: Entries,
    results: LineResults,
    stations: Sequence[Station],
    open_ones: Sequence[Finding],
    accepted: Sequence[Finding],
) -> Iterator[Part]:
    say = entries.say
    yield Heading(say("findings_in_short"))
    yield _counts(entries, open_ones, accepted)
    if not open_ones:
        yield Paragraph(say("no_open_findings"), "strong")
    if not accepted:
        yield Paragraph(say("no_accepted_findings"))
    unfinished = [station.tag for station in stations if results.station(station.id).lacks]
    if unfinished:
        yield Paragraph(say("not_all_judged", tags=", ".join(unfinished)), "strong")
    yield Paragraph(say("findings_key"), "quiet")
    yield from caution_parts(say)


def _counts(entries: Entries, open_ones: Sequence[Finding], accepted: Sequence[Finding]) -> Grid:
    say = entries.say
    columns = (
        Column(say("level"), 1.0),
        Column(say("meaning"), 3.0),
        Column(say("open"), 0.5, "right"),
        Column(say("accepted"), 0.5, "right"),
    )
    rows = tuple(
        (
            Cell(say(level), tone="strong"),
            Cell(say(f"{level}_means")),
            *(_count(group, level) for group in (open_ones, accepted)),
        )
        for level in LEVELS
    )
    return Grid(columns, rows)


def _count(findings: Sequence[Finding], level: str) -> Cell:
    number = sum(entry.level == level for entry in findings)
    return Cell(str(number), float(number), tone="strong" if number else "quiet")


def _open_grid(entries: Entries, findings: Sequence[Finding]) -> Grid:
    say = entries.say
    columns = (
        Column(say("level"), 1.0),
        Column(say("where"), 0.6),
        Column(say("name"), 1.4),
        Column(say("what_is_wrong"), 3.0),
        Column(say("what_follows"), 3.0),
        Column(say("what_mends"), 3.0),
        Column(say("source"), 2.0),
    )
    rows = tuple(
        (
            level_cell(entries, entry),
            place_cell(entries, entry),
            Cell(_name(entries, entry)),
            Cell(entries.says(entry)),
            Cell(entries.follows(entry)),
            Cell(entries.mend(entry)),
            Cell(entries.source(entry), tone="quiet"),
        )
        for entry in findings
    )
    return Grid(columns, rows, heading_columns=1)


def _name(entries: Entries, finding: Finding) -> str:
    return entries.line.station(finding.station_id).name if finding.station_id else ""


def _accepted(
    entries: Entries, findings: Findings, accepted: Sequence[Finding], *, whole: bool
) -> Iterator[Part]:
    say = entries.say
    if accepted:
        yield _accepted_grid(entries, findings, accepted)
    marks = {entry.mark for entry in findings.found}
    ended = [held for mark, held in findings.accepted.items() if mark not in marks]
    if ended and whole:
        yield Heading(say("ended_acceptances"))
        yield Paragraph(say("ended_key"))
        yield _ended_grid(entries, ended)


def _accepted_grid(entries: Entries, findings: Findings, accepted: Sequence[Finding]) -> Grid:
    say = entries.say
    columns = (
        Column(say("level"), 0.7),
        Column(say("where"), 0.6),
        Column(say("what_is_wrong"), 3.0),
        Column(say("what_follows"), 2.4),
        *_acceptance_columns(entries),
    )
    rows = tuple(
        (
            level_cell(entries, entry),
            place_cell(entries, entry),
            Cell(entries.says(entry)),
            Cell(entries.follows(entry)),
            *_acceptance(entries, findings.accepted[entry.mark]),
        )
        for entry in accepted
    )
    return Grid(columns, rows)


_TOLD = (("person", 1.2), ("reason", 2.4), ("day", 0.7))


def _acceptance_columns(entries: Entries) -> tuple[Column, ...]:
    return tuple(Column(entries.label("acceptance", name), wide) for name, wide in _TOLD)


def _acceptance(entries: Entries, held: Acceptance) -> tuple[Cell, ...]:
    spec = RECORDS["acceptance"]
    return tuple(entries.field(spec.field(name), getattr(held, name)) for name, _ in _TOLD)


def _ended_grid(entries: Entries, ended: Sequence[Acceptance]) -> Grid:
    spec = RECORDS["acceptance"]
    columns = (
        Column(entries.label("acceptance", "place"), 0.8),
        Column(entries.label("acceptance", "finding"), 1.6),
        *_acceptance_columns(entries),
    )
    rows = tuple(
        (
            entries.field(spec.field("place"), held.place),
            entries.field(spec.field("finding"), held.finding),
            *_acceptance(entries, held),
        )
        for held in ended
    )
    return Grid(columns, rows)
