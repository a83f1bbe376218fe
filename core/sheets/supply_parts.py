"""Supplies and enclosures on a sheet: what the drives together ask of them, and may."""

from collections.abc import Iterator, Sequence

from core.line.findings import Finding, Findings
from core.line.service import EnclosureHeat, SupplyLoad
from core.sheets.document import Cell, Column, Grid, Heading, KeyValue, KeyValues, Paragraph, Part
from core.sheets.entries import Entries
from core.sheets.finding_rows import about, accepted_text, told

_SUPPLY_LEFT_OUT = ("name", "notes")


def supply_parts(
    entries: Entries, findings: Findings, loads: Sequence[SupplyLoad]
) -> Iterator[Part]:
    """Every supply with what is entered and the load on it.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    findings : Findings
        What the rules say about the line.
    loads : sequence of SupplyLoad
        The load on each supply.
    """
    yield Heading(entries.say("supplies"), bookmark=True)
    if not loads:
        yield Paragraph(entries.say("no_supplies"), "quiet")
    for load in loads:
        supply = load.supply
        yield Heading(supply.name or entries.say("no_name"), 3)
        yield entries.record(supply, skip=_SUPPLY_LEFT_OUT)
        if any(entry.drive.supply_id == supply.id for entry in entries.line.stations):
            yield KeyValues(tuple(_load_rows(entries, load)))
            yield from _load_remarks(entries, load)
        else:
            yield Paragraph(entries.say("feeds_nothing"), "quiet")
        if supply.notes.strip():
            yield Paragraph(supply.notes)
        yield from _finding_parts(entries, findings, about(findings, "supply", supply.id))


def _load_rows(entries: Entries, load: SupplyLoad) -> Iterator[KeyValue]:
    say = entries.say
    demand = "demand_entered" if load.supply.demand is not None else "demand_assumed"
    yield KeyValue(say("demand_used"), entries.computed(load.demand, "ratio"), say(demand))
    for line, amps in load.line_a.items():
        yield KeyValue(
            say("load_in_line", line=line), entries.computed(amps, "current"), say("load_basis")
        )
    yield KeyValue(
        say("rating_used"), entries.computed(load.used_share, "ratio"), say("rating_used_basis")
    )
    yield KeyValue(
        say("feeder_current"),
        entries.computed(load.feeder_a, "current"),
        say(f"feeder_basis_{entries.line.wiring_rules}"),
    )
    yield KeyValue(
        say("imbalance"), entries.computed(load.imbalance_share, "ratio"), say("imbalance_basis")
    )
    yield KeyValue(
        say("neutral_current"), entries.computed(load.neutral_a, "current"), say("neutral_basis")
    )


def _load_remarks(entries: Entries, load: SupplyLoad) -> Iterator[Part]:
    say = entries.say
    if load.estimated:
        yield Paragraph(say("inputs_estimated", tags=", ".join(load.estimated)), "strong")
    if load.unknown:
        yield Paragraph(say("inputs_unknown", tags=", ".join(load.unknown)), "strong")
    if not load.estimated and not load.unknown:
        yield Paragraph(say("inputs_all_entered"), "quiet")


def enclosure_parts(
    entries: Entries, findings: Findings, heats: Sequence[EnclosureHeat]
) -> Iterator[Part]:
    """Every enclosure with the heat in it against what it carries away.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    findings : Findings
        What the rules say about the line.
    heats : sequence of EnclosureHeat
        The heat in each enclosure.
    """
    say = entries.say
    yield Heading(say("enclosures"), bookmark=True)
    if not heats:
        yield Paragraph(say("no_enclosures"), "quiet")
        return
    columns = (
        Column(entries.label("enclosure"), 1.2),
        Column(say("heat_inside"), 0.8, "right", units=True),
        Column(say("heat_allowed"), 0.8, "right", units=True),
        Column(say("reaches"), 0.8, "right", units=True),
        Column(entries.label("enclosure", "inside_max_k"), 0.8, "right", units=True),
        Column(entries.label("enclosure", "ambient_max_k"), 0.8, "right", units=True),
        Column(entries.label("enclosure", "fan_flow_m3_s"), 0.8, "right", units=True),
        Column(say("verdict"), 1.4),
        Column(say("remarks"), 3.0),
    )
    rows = tuple(_heat_row(entries, findings, heat) for heat in heats)
    yield Grid(columns, rows)
    yield Paragraph(say("heat_key"), "quiet")
    for heat in heats:
        yield from _finding_parts(
            entries, findings, about(findings, "enclosure", heat.enclosure.id)
        )


def _heat_row(entries: Entries, findings: Findings, heat: EnclosureHeat) -> tuple[Cell, ...]:
    held = heat.enclosure
    return (
        Cell(held.name or entries.say("no_name"), tone="strong"),
        entries.computed(heat.heat_w, "loss_power"),
        entries.computed(heat.allowed_w, "loss_power"),
        entries.computed(heat.inside_k, "temperature"),
        entries.quantity(held.inside_max_k, "temperature"),
        entries.quantity(held.ambient_max_k, "temperature"),
        entries.quantity(held.fan_flow_m3_s, "air_flow"),
        _heat_verdict(entries, findings, heat),
        Cell("\n".join(_heat_remarks(entries, heat)), tone="quiet"),
    )


def _heat_verdict(entries: Entries, findings: Findings, heat: EnclosureHeat) -> Cell:
    say = entries.say
    found = about(findings, "enclosure", heat.enclosure.id)
    words = [
        say("accepted_mark" if entry.mark in findings.accepted else entry.level) for entry in found
    ]
    if heat.allowed_w is None:
        words.append(say("not_judged", parts=say("part_heat")))
    if not words:
        return Cell(say("nothing_found"))
    return Cell("\n".join(dict.fromkeys(words)), tone="strong")


def _heat_remarks(entries: Entries, heat: EnclosureHeat) -> Iterator[str]:
    say = entries.say
    if heat.lacks:
        yield say("lacks", what=", ".join(map(entries.tr, heat.lacks)))
    elif heat.allowed_w is None:
        yield say("no_heat_balance")
    if heat.estimated:
        yield say("losses_estimated", tags=", ".join(heat.estimated))
    if heat.unknown:
        yield say("losses_unknown", tags=", ".join(heat.unknown))
    if not heat.lacks and not heat.estimated and not heat.unknown:
        yield say("losses_entered")


def _finding_parts(
    entries: Entries, findings: Findings, found: Sequence[Finding]
) -> Iterator[Part]:
    for entry in found:
        yield Paragraph(told(entries, entry), "strong")
        yield Paragraph(f"{entries.follows(entry)} {entries.mend(entry)}")
        held = findings.accepted.get(entry.mark)
        if held is not None:
            yield Paragraph(accepted_text(entries, held))
