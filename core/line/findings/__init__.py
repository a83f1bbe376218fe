"""What a good electrician would say on seeing the line: rules, one small function each."""

from collections.abc import Mapping
from dataclasses import dataclass

from core.collector import without_collector
from core.line.findings import (
    cable_rules,
    calibration_rules,
    circuit_rules,
    control_rules,
    drive_rules,
    dynamics_rules,
    feed_rules,
    flow_rules,
    flux_rules,
    motor_rules,
    nameplate_rules,
    pair_rules,
    place_rules,
    plan_rules,
    reference_rules,
    setting_rules,
    shared_rules,
    source_rules,
    speed_rules,
    supply_rules,
)
from core.line.findings.base import LEVELS, Finding, FindingRule, Level, Place
from core.line.findings.view import (
    LINE_RULES,
    PLAN_RULES,
    STATION_RULES,
    View,
    findings_at,
    findings_of_line,
)
from core.line.results import LineResults
from core.model import Acceptance

RULE_MODULES = (
    cable_rules,
    calibration_rules,
    circuit_rules,
    control_rules,
    drive_rules,
    dynamics_rules,
    feed_rules,
    flow_rules,
    flux_rules,
    motor_rules,
    nameplate_rules,
    pair_rules,
    place_rules,
    plan_rules,
    reference_rules,
    setting_rules,
    shared_rules,
    source_rules,
    speed_rules,
    supply_rules,
)
"""Importing them enters their rules."""


@dataclass(frozen=True, slots=True)
class Findings:
    """All findings of a line, the heaviest first, and what stands accepted.

    ``accepted`` maps the mark of a finding to its acceptance; a finding whose figures have changed
    since has another mark, and stands open again.
    """

    found: tuple[Finding, ...]
    accepted: Mapping[str, Acceptance]
    _by_station: Mapping[int, tuple[View, tuple[Finding, ...]]]

    def at(self, station_id: int) -> tuple[Finding, ...]:
        """Findings of one station, the heaviest first."""
        return tuple(entry for entry in self.found if entry.station_id == station_id)

    @property
    def open(self) -> tuple[Finding, ...]:
        """Findings that nobody has accepted."""
        return tuple(entry for entry in self.found if entry.mark not in self.accepted)


def find(results: LineResults, before: Findings | None = None) -> Findings:
    """Let every rule look at a line.

    Parameters
    ----------
    results : LineResults
        The line and its figures.
    before : Findings, optional
        Earlier findings; those of stations that have not changed since are taken from them.
    """
    with without_collector():
        return _find(results, before)


def _find(results: LineResults, before: Findings | None) -> Findings:
    line = results.line
    supplies = {entry.id: entry for entry in line.supplies}
    enclosures = {entry.id: entry for entry in line.enclosures}
    buses = {entry.id: entry for entry in line.buses}
    by_station: dict[int, tuple[View, tuple[Finding, ...]]] = {}
    for result in results.stations:
        drive = result.station.drive
        view = View(
            line,
            result.station,
            result.drive_type,
            supplies.get(drive.supply_id or 0),
            enclosures.get(drive.enclosure_id or 0),
            buses.get(drive.bus_id or 0),
            result,
        )
        old = before._by_station.get(result.station.id) if before else None
        if old is not None and _same(old[0], view):
            by_station[result.station.id] = (view, old[1])
        else:
            by_station[result.station.id] = (view, tuple(findings_at(view)))
    found = [entry for _, held in by_station.values() for entry in held]
    found += findings_of_line(results)
    order = {station.id: place for place, station in enumerate(line.stations)}
    found.sort(key=lambda f: (LEVELS.index(f.level), order.get(f.station_id or 0, -1)))
    accepted = {entry.mark: entry for entry in line.acceptances}
    return Findings(tuple(found), accepted, by_station)


def _same(old: View, new: View) -> bool:
    parts = ("result", "enclosure", "bus")
    return all(getattr(old, part) is getattr(new, part) for part in parts)


__all__ = [
    "LEVELS",
    "LINE_RULES",
    "PLAN_RULES",
    "STATION_RULES",
    "Finding",
    "FindingRule",
    "Findings",
    "Level",
    "Place",
    "find",
]
