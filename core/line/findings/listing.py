"""Findings as plain data for other programs, and as text for a terminal."""

from typing import Any

from core.line.findings import Finding, Findings
from core.model import Line

FORMAT_NAME = "linebook-findings-1"


def findings_as_data(findings: Findings, line: Line) -> dict[str, Any]:
    """Every finding with its words and its figures in SI, the unit in each name."""
    return {
        "format": FORMAT_NAME,
        "line": line.name,
        "findings": [_data(entry, findings, line) for entry in findings.found],
    }


def _data(entry: Finding, findings: Findings, line: Line) -> dict[str, Any]:
    held = findings.accepted.get(entry.mark)
    accepted = None
    if held is not None:
        accepted = {"person": held.person, "reason": held.reason, "day": held.day}
    system = line.unit_system
    return {
        "rule": entry.key,
        "level": entry.level,
        "station": entry.tag,
        "says": entry.says(system),
        "follows": entry.follows(system),
        "mend": entry.mend(system),
        "source": entry.rule.source,
        "figures": dict(entry.values),
        "mark": entry.mark,
        "accepted": accepted,
    }


def findings_as_text(findings: Findings, line: Line) -> str:
    """The findings for a terminal, the heaviest first, in the units of the line."""
    if not findings.found:
        return "No findings."
    lines = []
    for entry in findings.found:
        held = findings.accepted.get(entry.mark)
        note = f"  Accepted by {held.person}: {held.reason}" if held else ""
        place = entry.tag or "Line"
        lines.append(f"{entry.level.upper()}  {place}  {entry.says(line.unit_system)}{note}")
        lines.append(f"    {entry.follows(line.unit_system)} {entry.mend(line.unit_system)}")
    return "\n".join(lines)
