"""Sheets for whoever comes later: swapping a drive, spares."""

import datetime
from collections import defaultdict
from collections.abc import Collection, Hashable, Iterator, Sequence

from core.line import LineResults
from core.model import Line, Motor, Station
from core.model.choices import DEVICES
from core.sheets.cautions import caution_parts, cautions
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
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.setting_rows import setting_rows

_BOX = "□"
_STEPS = ("isolate", "wait", "photograph", "wire", "set", "turn", "points", "record")
_POLES = {1: "one_pole", 2: "two_poles", 3: "three_poles"}
_PLATE = ("power_w", "frequency_hz", "speed_rad_s", "poles", "connected_for")


def swap_sheet(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """What to set on a new drive, station by station: only what differs from factory.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    steps = tuple(Paragraph(f"{_BOX} {say(f'swap_{step}')}") for step in _STEPS)
    front = (Heading(say("swap_order")), *steps, *caution_parts(say))
    sections = [front_section(entries, today, front)]
    for station in chosen(line, station_ids):
        title = f"{station.tag} {station.name}".strip()
        sections.append(Section(title, tuple(swap_parts(entries, results, station))))
    return sheet_of(entries, "swap_sheet", "swap_subtitle", sections)


def swap_parts(entries: Entries, results: LineResults, station: Station) -> Iterator[Part]:
    """One drive: what it is, what to copy from the motor's plate, what to set."""
    say, result = entries.say, results.station(station.id)
    drive_type = result.drive_type
    rows = [
        KeyValue(say("drive"), entries.text(drive_type.name if drive_type else "")),
        KeyValue(say("serial"), entries.text(station.drive.serial)),
        KeyValue(
            say("bus_address"),
            Cell(str(station.drive.bus_address)) if station.drive.bus_address else entries.missing,
        ),
        KeyValue(say("reference_input"), entries.text(station.reference.input_name)),
    ]
    if drive_type is not None:
        held = drive_type.reference_input(station.reference.input_name)
        rows.append(
            KeyValue(say("switch_position"), entries.text(held.switch_position if held else ""))
        )
        wait = entries.quantity(drive_type.discharge_wait_s, "wait")
        rows.append(KeyValue(say("wait_first"), wait))
    # The sheet goes to the cabinet alone; the gravest caution goes with it.
    yield cautions(say)[0]
    yield KeyValues(tuple(rows), columns=2)
    for motor in station.motors:
        yield Heading(say("nameplate"), 3)
        connected = (
            KeyValue(say("connected_v"), entries.quantity(motor.voltage_v, "voltage")),
            KeyValue(say("connected_a"), entries.quantity(motor.current_a, "current")),
        )
        yield KeyValues((*entries.rows(motor, keep=_PLATE), *connected), columns=2)
    settings = [
        row
        for row in setting_rows(station, drive_type)
        if row.standing in ("differs", "unlisted", "factory_unknown")
    ]
    yield Heading(say("swap_settings"), 3)
    if not settings:
        yield Paragraph(say("swap_nothing"), "quiet")
        return
    columns = (
        Column(say("code"), 1.0),
        Column(say("meaning"), 2.6),
        Column(say("value"), 0.9),
        Column(say("unit_or_choice"), 1.4),
        Column(say("factory"), 0.8),
        Column(say("set_done"), 0.5),
    )
    yield Grid(
        columns,
        tuple(
            (
                Cell(row.code, tone="strong"),
                Cell(row.meaning),
                Cell(row.shown, tone="strong"),
                Cell(row.stands_for, tone="quiet"),
                Cell(row.factory, tone="quiet"),
                Cell(_BOX),
            )
            for row in settings
        ),
    )


def spares(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """Spares gathered from the stations: one of each kind, and where each is used.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    parts = tuple(spare_parts(entries, results, chosen(line, station_ids)))
    front = (Paragraph(entries.say("spares_key")), *parts)
    return sheet_of(entries, "spares", "spares_subtitle", [front_section(entries, today, front)])


def spare_parts(
    entries: Entries, results: LineResults, stations: Sequence[Station]
) -> Iterator[Part]:
    """The list of spares itself."""
    say = entries.say
    used: defaultdict[tuple[str, Hashable], list[str]] = defaultdict(list)
    called: dict[tuple[str, Hashable], str] = {}
    for station in stations:
        for kind, key, words in _parts_of(entries, results, station):
            used[kind, key].append(station.tag)
            called.setdefault((kind, key), words)
    if not used:
        yield Paragraph(say("no_stations"), "quiet")
        return
    columns = (
        Column(say("spare_kind"), 1.0),
        Column(say("spare_what"), 3.0),
        Column(say("spare_used"), 0.5, "right"),
        Column(say("spare_keep"), 0.5, "right"),
        Column(say("stations"), 2.6),
    )
    rows = tuple(
        (
            Cell(say(f"spare_{kind}")),
            Cell(what, tone="strong"),
            Cell(str(len(tags)), float(len(tags))),
            # One of a kind, and one more for every ten: common practice.
            Cell(str(1 + len(tags) // 10), float(1 + len(tags) // 10)),
            Cell(", ".join(tags)),
        )
        for kind, what, tags in sorted((key[0], called[key], tags) for key, tags in used.items())
    )
    yield Grid(columns, rows)


def _parts_of(
    entries: Entries, results: LineResults, station: Station
) -> Iterator[tuple[str, Hashable, str]]:
    """What may have to be replaced: its kind, by what it is the same part, and its words."""
    drive_type = results.station(station.id).drive_type
    if drive_type is not None:
        yield "drive", drive_type.name, drive_type.name
    for motor in station.motors:
        if told := _motor_words(entries, motor):
            yield "motor", _motor_key(motor), told
    gearbox = station.drivetrain
    if gearbox.gear_ratio and gearbox.gear_ratio != 1.0:
        words = f"{gearbox.gearbox} {gearbox.gear_ratio:g} : 1".strip()
        yield "gearbox", words, words
    held = station.reference
    if held.source == "potentiometer" and held.pot_ohm:
        words = _told(entries, held.pot_ohm, "resistance")
        yield "pot", words, words
    if station.drive.protection_a:
        words = _protection_words(entries, station)
        yield "protection", words, words


def _motor_key(motor: Motor) -> Hashable:
    """Equal for motors of one kind, however their power was typed; a watt is no difference."""
    volts: tuple[float | None, ...] = (motor.voltage_low_v, motor.voltage_high_v)
    if None in volts:
        volts = (motor.voltage_v,)
    power = None if motor.power_w is None else round(motor.power_w)
    return power, volts, motor.frequency_hz, motor.speed_rad_s


def _motor_words(entries: Entries, motor: Motor) -> str:
    """A motor as a spare is ordered: its plate, whichever way it is connected here."""
    parts = [
        # As it was typed from the plate: 1/3 hp, not 0.3333 hp.
        motor.power_typed.strip() or _told(entries, motor.power_w, "power"),
        _both_voltages(entries, motor) or _told(entries, motor.voltage_v, "voltage"),
        _told(entries, motor.frequency_hz, "frequency"),
        _told(entries, motor.speed_rad_s, "rotation"),
    ]
    return ", ".join(filter(None, parts))


def _told(entries: Entries, value: float | None, kind: str) -> str:
    return "" if value is None else entries.quantity(value, kind).with_unit


def _protection_words(entries: Entries, station: Station) -> str:
    """Rating, kind and poles: what has to match when one is replaced."""
    drive = station.drive
    lines = (drive.supply_lines or "").replace("N", "").split()
    kind = DEVICES.get(drive.protection_kind or "", "")
    parts = (
        _told(entries, drive.protection_a, "current"),
        entries.tr(kind) if kind else "",
        entries.say(_POLES[len(lines)]) if lines else "",
    )
    return ", ".join(filter(None, parts))


def _both_voltages(entries: Entries, motor: Motor) -> str:
    """Both voltages of a plate that has two, as a plate says them: 230/400 V."""
    low, high = motor.voltage_low_v, motor.voltage_high_v
    if low is None or high is None:
        return ""
    return f"{entries.quantity(low, 'voltage').text}/{entries.quantity(high, 'voltage').with_unit}"
