"""The branch circuits of a line as a sheet looks at them, and what the rules say about each.

Figures and findings come from `core.line`. Here it is only told which of them speak of a branch
circuit, and which entries a rule had to go without.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from core.line import Figure, LineResults, StationResult
from core.line.circuit_rules import ALL_CIRCUIT_RULES, RUNNING_CURRENT
from core.line.feed import Feed, feed_of
from core.line.findings import Finding, Findings
from core.model import Acceptance, Cable, Drive, Supply
from core.sheets.document import Cell, Tone
from core.sheets.entries import Entries
from core.sheets.finding_rows import accepted_text, by_station, heaviest_first

PART_OF_FINDING: Mapping[str, str] = {
    "supply-phases": "fed_from_lines",
    "three-phase-drive-on-one-phase": "fed_from_lines",
    "supply-voltage": "fed_from_lines",
    "supply-frequency": "fed_from_lines",
    "lines-not-of-supply": "fed_from_lines",
    "branch-protection": "protection",
    "protection-above-430-52": "protection",
    "branch-conductor-too-small": "conductor",
    "earth-conductor-too-small": "earth",
    "voltage-drop": "drop",
    "rcd-blinded": "rcd",
}
"""The findings that speak of a branch circuit, by key, and the part of it each speaks of."""

_CIRCUIT_KEYS = {rule.key for rule in ALL_CIRCUIT_RULES} - {RUNNING_CURRENT.key}
PROTECTION_BOUNDS = ("protection_highest_a", "protection_lowest_a")


@dataclass(frozen=True, slots=True)
class Circuit:
    """The branch circuit of one station: what feeds it, its cable, and its findings."""

    result: StationResult
    feed: Feed | None
    cable: Cable
    findings: tuple[Finding, ...]
    accepted: Mapping[str, Acceptance]

    @property
    def drive(self) -> Drive:
        """The drive that it feeds."""
        return self.result.station.drive

    @property
    def supply(self) -> Supply | None:
        """What it is fed from, if that is entered."""
        return self.result.supply

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Its figures, in the order in which they are computed."""
        held = self.result.figures
        return tuple(figure for key, figure in held.items() if key in _CIRCUIT_KEYS)

    @property
    def protection_bound(self) -> Figure:
        """The figure that bounds its protection: a highest rating, or a lowest."""
        held = self.result.figures
        return next(held[key] for key in PROTECTION_BOUNDS if key in held)

    @property
    def not_judged(self) -> tuple[str, ...]:
        """The parts of which a rule could not speak, as an entry or a figure is lacking."""
        return tuple(part for part, is_judged in _JUDGED.items() if not is_judged(self))


def circuits_of(
    results: LineResults, findings: Findings, station_ids: Collection[int]
) -> tuple[Circuit, ...]:
    """The branch circuits of some stations, those of one supply together.

    Parameters
    ----------
    results : LineResults
        The line and its figures.
    findings : Findings
        What the rules say about it.
    station_ids : collection of int
        The stations.
    """
    order = {supply.id: place for place, supply in enumerate(results.line.supplies)}
    told = by_station(entry for entry in findings.found if entry.key in PART_OF_FINDING)
    found = [
        _circuit(results.station(station_id), tuple(told[station_id]), findings.accepted)
        for station_id in station_ids
    ]
    return tuple(sorted(found, key=lambda entry: order.get(entry.drive.supply_id or 0, len(order))))


def _circuit(
    result: StationResult, findings: tuple[Finding, ...], accepted: Mapping[str, Acceptance]
) -> Circuit:
    station = result.station
    return Circuit(
        result,
        feed_of(result.supply, station.drive.supply_lines),
        station.cable("power_in") or Cable(),
        findings,
        accepted,
    )


def _has(circuit: Circuit, *keys: str) -> bool:
    return all(circuit.result.value(key) is not None for key in keys)


def _protection_judged(circuit: Circuit) -> bool:
    kind, bound = circuit.result.drive_type, circuit.protection_bound
    marked = kind is not None and kind.protection_max_a is not None
    bounded = marked or bound.value is not None
    return bounded and circuit.drive.protection_a is not None and _has(circuit, "input_current_a")


_JUDGED: Mapping[str, Callable[[Circuit], bool]] = {
    "fed_from_lines": lambda entry: entry.feed is not None and entry.result.drive_type is not None,
    "protection": _protection_judged,
    "conductor": lambda entry: _has(entry, "conductor_allowed_a", "branch_design_current_a"),
    "earth": lambda entry: entry.cable.earth_m2 is not None and _has(entry, "earth_needed_m2"),
    "drop": lambda entry: _has(entry, "branch_drop_share"),
    "rcd": lambda entry: (
        entry.feed is not None and entry.supply is not None and entry.supply.rcd_type is not None
    ),
}


def verdict_cell(entries: Entries, circuit: Circuit) -> Cell:
    """What the rules say about a circuit, in words with a sign, and what they could not judge."""
    say, told = entries.say, []
    for finding in heaviest_first(circuit.findings):
        part = say(f"part_{PART_OF_FINDING[finding.key]}")
        told.append(f"{verdict_word(entries, finding, circuit.accepted)}: {part}")
    if circuit.not_judged:
        parts = ", ".join(say(f"part_{part}") for part in circuit.not_judged)
        told.append(say("not_judged", parts=parts))
    tone: Tone = "strong" if told else "plain"
    told = list(dict.fromkeys(told)) or [say("nothing_found")]
    current = circuit.result.figures["input_current_a"]
    if current.is_estimate and current.value is not None:
        told.append(say("input_estimated"))
    return Cell("\n".join(told), tone=tone)


def verdict_word(entries: Entries, finding: Finding, accepted: Mapping[str, Acceptance]) -> str:
    """Sign and word of a finding's level, or that it stands accepted."""
    return entries.say("accepted_mark" if finding.mark in accepted else finding.level)


def finding_remark(entries: Entries, finding: Finding, accepted: Mapping[str, Acceptance]) -> str:
    """What follows from a finding and mends it, and who accepted it."""
    held = accepted.get(finding.mark)
    told = f"{entries.follows(finding)} {entries.mend(finding)}"
    return f"{told}\n{accepted_text(entries, held)}" if held else told
