"""Findings of `core.line` on paper: sign and word of a level, where, and whether it is accepted."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from core.line.findings import LEVELS, Finding, Findings
from core.model import Acceptance
from core.sheets.document import Cell, Column, Grid, Tone
from core.sheets.entries import Entries

_TONES: dict[str, Tone] = {"blocker": "strong", "fault": "strong"}


def level_cell(entries: Entries, finding: Finding) -> Cell:
    """Sign and word of a finding's level."""
    return Cell(entries.say(finding.level), tone=_TONES.get(finding.level, "plain"))


def place_cell(entries: Entries, finding: Finding) -> Cell:
    """The station that a finding is about, or that it is about the line as a whole."""
    return Cell(finding.tag or entries.say("whole_line"), tone="strong")


def told(entries: Entries, finding: Finding) -> str:
    """Level and what is wrong, as one text."""
    return f"{entries.say(finding.level)}: {entries.says(finding)}"


def accepted_text(entries: Entries, held: Acceptance) -> str:
    """Who accepted a finding, when and why."""
    return entries.say(
        "accepted_by",
        person=held.person or entries.say("no_name"),
        day=held.day or entries.say("no_day"),
        reason=held.reason or entries.say("no_reason"),
    )


def by_station(findings: Iterable[Finding]) -> Mapping[int | None, Sequence[Finding]]:
    """Findings by the id of their station, empty for any other; None: of the line as a whole."""
    grouped: defaultdict[int | None, list[Finding]] = defaultdict(list)
    for entry in findings:
        grouped[entry.station_id].append(entry)
    return grouped


def about(findings: Findings, table: str, record_id: int) -> tuple[Finding, ...]:
    """The findings of the line as a whole that point to this record."""
    return tuple(
        entry
        for entry in findings.found
        if entry.station_id is None
        and (entry.place.table, entry.place.record_id) == (table, record_id)
    )


def heaviest_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the order of their levels, else as they come."""
    return sorted(findings, key=lambda entry: LEVELS.index(entry.level))


def short_grid(entries: Entries, findings: Sequence[Finding]) -> Grid:
    """Findings of one station in a few words: level, what is wrong, what would mend it."""
    say = entries.say
    columns = (
        Column(say("level"), 0.8),
        Column(say("what_is_wrong"), 3.0),
        Column(say("what_mends"), 3.0),
    )
    rows = tuple(
        (level_cell(entries, entry), Cell(entries.says(entry)), Cell(entries.mend(entry)))
        for entry in heaviest_first(findings)
    )
    return Grid(columns, rows)
