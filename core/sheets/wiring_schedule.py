"""The wiring schedule: every conductor of the line, its cables, its serial buses."""

import datetime
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence

from core.line import BusChain, Conductor, LineResults, wire_line, wire_station
from core.model import RECORDS, Cable, Line, Station
from core.model.choices import RUNS, WIRING_RULES
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
    Tone,
)
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.tables import load_table

_EXPECTED_RUNS = ("power_in", "motor")
_SCREEN_TONES: dict[str, Tone] = {"none": "quiet", "both": "plain", "open": "plain"}


def wiring_schedule(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The wiring schedule of a line.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Taken like every sheet does; the wiring follows from the entries alone.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    stations = chosen(line, station_ids)
    wiring = wire_line(line)
    tags = {station.tag for station in stations}
    bus_wires = [wire for wire in wiring.conductors if wire.run == "bus" and wire.station in tags]
    sections = [
        front_section(entries, today, _front(entries)),
        Section(say("conductors"), _conductors(entries, stations, bus_wires)),
        Section(
            say("cables_and_buses"),
            (*_cables(entries, stations), *_buses(entries, stations, wiring.buses)),
        ),
    ]
    return sheet_of(entries, "wiring_schedule", "wiring_subtitle", sections, landscape=True)


def _front(entries: Entries) -> tuple[Part, ...]:
    rules, tr = entries.line.wiring_rules, entries.tr
    rows = [row for row in load_table("wire_colours") if row["rules"] == rules]
    by_status: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        by_status[row["status"]].append(row["source"])
    sources = "; ".join(
        f"{tr(status)}: {', '.join(map(tr, dict.fromkeys(found)))}"
        for status, found in by_status.items()
    )
    told = entries.say("colours_by", rules=tr(WIRING_RULES[rules]), sources=sources)
    return (
        Paragraph(entries.say("wiring_key")),
        Paragraph(told, "quiet"),
        *caution_parts(entries.say),
    )


def _conductors(
    entries: Entries, stations: Sequence[Station], bus_wires: Sequence[Conductor]
) -> tuple[Part, ...]:
    say = entries.say
    columns = (
        Column(say("station_or_bus"), 1.0),
        Column(say("name"), 1.6),
        Column(say("run"), 1.0),
        Column(say("wire"), 0.4),
        Column(say("purpose"), 1.6),
        Column(say("from"), 1.7),
        Column(say("terminal"), 0.6),
        Column(say("to"), 1.7),
        Column(say("terminal"), 0.6),
        Column(say("colour"), 0.5),
        Column(say("size"), 0.3, "right", units=True),
        Column(say("cable"), 1.5),
        Column(say("length"), 0.3, "right", units=True),
        Column(say("screen"), 2.6),
    )
    rows = [row for station in stations for row in _station_rows(entries, station)]
    by_tag = {station.tag: station for station in stations}
    rows += [_row(entries, by_tag[wire.station], wire) for wire in bus_wires]
    if not rows:
        return (Paragraph(say("no_conductors"), "quiet"),)
    return (Grid(columns, tuple(rows), heading_columns=2, band_columns=1),)


def _station_rows(entries: Entries, station: Station) -> Iterator[tuple[Cell, ...]]:
    own = wire_station(entries.line, station)
    for run in RUNS:
        wires = [wire for wire in own if wire.run == run]
        if not wires and run in _EXPECTED_RUNS:
            yield _missing_run(entries, station, run)
        yield from (_row(entries, station, wire) for wire in wires)


def _missing_run(entries: Entries, station: Station, run: str) -> tuple[Cell, ...]:
    told = Cell(entries.say("run_missing", run=entries.tr(RUNS[run])), tone="quiet")
    empty = Cell("–", tone="quiet")
    return (*_lead(entries, station, run), empty, told, *[empty] * 9)


def _lead(entries: Entries, station: Station, run: str) -> tuple[Cell, ...]:
    bus = entries.line.bus(station.drive.bus_id)
    if run == "bus" and bus is not None:
        protocol = entries.field(RECORDS["bus"].field("protocol"), bus.protocol)
        return entries.text(bus.name), protocol, Cell(entries.tr(RUNS[run]))
    return Cell(station.tag, tone="strong"), Cell(station.name), Cell(entries.tr(RUNS[run]))


def _row(entries: Entries, station: Station, wire: Conductor) -> tuple[Cell, ...]:
    cable = wire.cable
    return (
        *_lead(entries, station, wire.run),
        Cell(wire.number, tone="strong"),
        entries.text(entries.tr(wire.purpose)),
        entries.text(device_words(entries, station, wire.start.device)),
        entries.text(wire.start.terminal),
        entries.text(device_words(entries, station, wire.end.device)),
        entries.text(wire.end.terminal),
        entries.text(entries.tr(wire.colour)),
        entries.quantity(wire.size_m2, "conductor"),
        entries.text(cable.cable_type if cable else ""),
        entries.quantity(cable.length_m if cable else None, "length"),
        _screen(entries, station, wire),
    )


def device_words(entries: Entries, station: Station, device: str) -> str:
    """A device that the program names, in the language of the sheet; one typed in as it is.

    A drive or a motor that somebody typed as the program calls it is the same one, and stays so.
    """
    line = entries.line
    typed = {
        station.reference.device,
        station.drive.protection,
        *(entry.from_device for entry in station.digital_inputs),
        *(entry.to_device for entry in station.outputs),
        *(supply.name for supply in line.supplies),
        *(bus.controller for bus in line.buses),
    }
    own = device.startswith(f"{station.tag} ")
    return device if device in typed and not own else entries.tr(device)


def _screen(entries: Entries, station: Station, wire: Conductor) -> Cell:
    if wire.cable is None:
        return entries.missing
    drive = f"{wire.station} drive"
    far = wire.start.device if wire.end.device == drive else wire.end.device
    ends = {"drive": drive, "far": far or entries.say("not_entered")}
    if wire.cable.screen in ends:
        device = device_words(entries, station, ends[wire.cable.screen])
        return Cell(entries.say("screen_at", device=device))
    return Cell(entries.say(f"screen_{wire.cable.screen}"), tone=_SCREEN_TONES[wire.cable.screen])


def _cables(entries: Entries, stations: Sequence[Station]) -> tuple[Part, ...]:
    say = entries.say
    kinds: dict[tuple[str, float, float, bool], list[Cable]] = defaultdict(list)
    for cable in (cable for station in stations for cable in station.cables):
        screened = cable.screen != "none"
        key = (cable.cable_type, cable.conductor_m2 or 0.0, cable.earth_m2 or 0.0, screened)
        kinds[key].append(cable)
    if not kinds:
        return (Heading(say("cables")), Paragraph(say("no_cables"), "quiet"))
    columns = (
        Column(entries.label("cable"), 3.0),
        Column(entries.label("cable", "conductor_m2"), 1.0, "right", units=True),
        Column(entries.label("cable", "earth_m2"), 1.0, "right", units=True),
        Column(entries.label("cable", "screen"), 1.0),
        Column(say("runs_count"), 0.7, "right"),
        Column(say("length_total"), 1.0, "right", units=True),
        Column(say("runs_without_length"), 1.0, "right"),
    )
    rows = tuple(_cable_row(entries, kinds[key]) for key in sorted(kinds))
    return (Heading(say("cables")), Paragraph(say("cables_key")), Grid(columns, rows))


def _cable_row(entries: Entries, cables: Sequence[Cable]) -> tuple[Cell, ...]:
    first = cables[0]
    lengths = [cable.length_m for cable in cables if cable.length_m is not None]
    lacking = len(cables) - len(lengths)
    return (
        entries.text(first.cable_type),
        entries.quantity(first.conductor_m2, "conductor"),
        entries.quantity(first.earth_m2, "conductor"),
        Cell(entries.say("no" if first.screen == "none" else "yes")),
        Cell(str(len(cables)), float(len(cables))),
        entries.quantity(sum(lengths) if lengths else None, "length"),
        Cell(str(lacking), float(lacking), tone="strong" if lacking else "quiet"),
    )


def _buses(
    entries: Entries, stations: Sequence[Station], chains: Sequence[BusChain]
) -> Iterator[Part]:
    say, line = entries.say, entries.line
    used = {bus.name for station in stations if (bus := line.bus(station.drive.bus_id))}
    for chain in chains:
        if chain.name not in used:
            continue
        named = (device_words(entries, stations[0], device) for device in chain.devices)
        devices = [device or say("not_entered") for device in named]
        yield Heading(chain.name or say("no_name"), bookmark=True)
        yield KeyValues(
            (
                KeyValue(say("bus_chain"), Cell(" → ".join(devices))),
                _end(entries, "bus_first", devices[0], chain.terminated_first),
                _end(entries, "bus_last", devices[-1], chain.terminated_last),
            )
        )


def _end(entries: Entries, key: str, device: str, terminated: bool) -> KeyValue:
    say = entries.say
    state = Cell(say("terminated" if terminated else "not_terminated"), tone="strong")
    return KeyValue(say(key, device=device), state)
