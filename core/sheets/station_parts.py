"""What a parameter record says about one station, part by part."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from core.line import Figure, StationResult
from core.line.findings import Finding
from core.model import DriveType, Motor, Station
from core.model.keypad import Standing
from core.sheets.document import (
    Cell,
    Column,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    Paragraph,
    Part,
    Tone,
)
from core.sheets.entries import Entries, number_of
from core.sheets.finding_rows import short_grid
from core.sheets.reference_parts import reference_parts
from core.sheets.setting_rows import SettingRow, setting_rows

_RATINGS = (
    "rated_power_w",
    "output_voltage_v",
    "output_current_a",
    "input_current_1ph_a",
    "input_current_3ph_a",
    "overload",
    "overload_time_s",
    "ambient_max_k",
    "protection",
    "discharge_wait_s",
)
_TONES: dict[Standing, Tone] = {"differs": "strong", "not_entered": "quiet"}


def station_parts(
    entries: Entries,
    result: StationResult,
    open_findings: Sequence[Finding],
    figures: Mapping[str, Figure] | None = None,
) -> tuple[Part, ...]:
    """Everything on one station, in the order in which it is worked through.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    result : StationResult
        The station, its drive type and its figures.
    open_findings : sequence of Finding
        What the rules say about it and nobody has accepted.
    figures : mapping, optional
        All of its figures, those of the plan too; its own without it.
    """
    station = result.station
    return (
        entries.record(station, skip=("tag", "name", "notes")),
        *([Paragraph(station.notes)] if station.notes.strip() else []),
        *_said(entries, result, open_findings),
        *_motors(entries, station),
        *_drive(entries, result),
        *_settings(entries, result),
        *reference_parts(entries, result),
        *_table(entries, "presets", station.presets),
        Heading(entries.say("controls")),
        entries.record(station.controls),
        *_table(entries, "digital_inputs", station.digital_inputs, level=3),
        *_table(entries, "outputs", station.outputs, level=3),
        Heading(entries.say("drivetrain")),
        entries.record(station.drivetrain),
        Heading(entries.say("process")),
        entries.record(station.process, around={"station.kind": station.kind}),
        *_computed(entries, result.figures if figures is None else figures),
    )


def _plate_title(entries: Entries, motors: Sequence[Motor], motor: Motor) -> str:
    if motor.tag.strip() or len(motors) > 1:
        name = motor.tag.strip() or motors.index(motor) + 1
        return entries.say("nameplate_of", motor=name)
    return entries.say("nameplate")


def _motors(entries: Entries, station: Station) -> Iterator[Part]:
    if not station.motors:
        yield Heading(entries.say("motor"))
        yield Paragraph(entries.say("no_motor"), "quiet")
    for motor in station.motors:
        yield Heading(_plate_title(entries, station.motors, motor))
        yield entries.record(motor, skip=("tag",))


def _drive(entries: Entries, result: StationResult) -> Iterator[Part]:
    yield Heading(entries.say("drive"))
    rows = entries.rows(result.station.drive)
    if result.drive_type is not None:
        rows += entries.rows(result.drive_type, keep=_RATINGS)
    yield KeyValues(rows, columns=2)


def _settings(entries: Entries, result: StationResult) -> Iterator[Part]:
    say = entries.say
    yield Heading(say("settings"), bookmark=True)
    if result.drive_type is None:
        yield Paragraph(say("drive_missing"), "quiet")
    rows = setting_rows(result.station, result.drive_type)
    if not rows:
        yield Paragraph(say("no_settings"), "quiet")
        return
    yield Paragraph(_count(entries, rows, result.drive_type))
    yield settings_grid(entries, [((), rows)])
    yield Paragraph(say("settings_key"), "quiet")


def _count(entries: Entries, rows: Sequence[SettingRow], drive_type: DriveType | None) -> str:
    listed = [row for row in rows if row.standing != "unlisted"]
    return entries.say(
        "settings_count",
        entered=sum(row.standing != "not_entered" for row in listed),
        listed=len(drive_type.listed_settings) if drive_type else 0,
        differing=sum(row.standing == "differs" for row in listed),
    )


def settings_grid(
    entries: Entries,
    groups: Sequence[tuple[tuple[Cell, ...], Sequence[SettingRow]]],
    before: tuple[Column, ...] = (),
) -> Grid:
    """Settings as a table.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    groups : sequence
        The settings of each drive, with the cells that stand before each of their rows.
    before : tuple of Column
        The columns of these cells.
    """
    say = entries.say
    columns = (
        Column(say("code")),
        Column(say("meaning"), 3.0),
        Column(say("value"), align="right"),
        Column(say("unit_or_choice")),
        Column(say("factory"), units=True),
        Column(say("against_factory")),
        Column(say("why"), 3.0),
    )
    rows = tuple((*lead, *_setting(entries, row)) for lead, group in groups for row in group)
    return Grid((*before, *columns), rows)


def _setting(entries: Entries, row: SettingRow) -> tuple[Cell, ...]:
    tone = _TONES.get(row.standing, "plain")
    missing = row.standing == "not_entered"
    return (
        Cell(row.code, tone=tone),
        Cell(row.meaning, tone="quiet" if missing else "plain"),
        entries.missing if missing else _keypad(row.shown, row.is_choice, tone),
        Cell("" if missing else row.stands_for),
        _keypad(row.factory, row.is_choice, "quiet", row.factory_stands_for),
        Cell("–" if missing else entries.say(row.standing), tone=tone),
        Cell(row.why),
    )


def _keypad(shown: str, is_choice: bool, tone: Tone, unit: str = "") -> Cell:
    # The value of a choice is a name, even where it is made of digits.
    number = None if is_choice else number_of(shown)
    return Cell(shown, number, unit if shown else "", tone)


def _table(entries: Entries, title: str, records: Sequence[Any], level: int = 2) -> Iterator[Part]:
    if records:
        yield Heading(entries.say(title), level)
        yield entries.grid(records)


def _said(
    entries: Entries, result: StationResult, open_findings: Sequence[Finding]
) -> Iterator[Part]:
    """What the program has to say about a station; one line where it is nothing."""
    say = entries.say
    if not open_findings and not result.lacks:
        yield Paragraph(f"{say('no_open_findings')} {say('nothing_needed')}", "quiet")
    if open_findings:
        yield Heading(say("open_findings"))
        yield short_grid(entries, open_findings)
    if result.lacks:
        yield Heading(say("still_needed"))
        yield from (Paragraph(f"□ {entries.tr(lack.text)}") for lack in result.lacks)


def _computed(entries: Entries, figures: Mapping[str, Figure]) -> Iterator[Part]:
    if figures:
        yield Heading(entries.say("computed"))
        yield KeyValues(tuple(_figure(entries, entry) for entry in figures.values()))


def _figure(entries: Entries, figure: Figure) -> KeyValue:
    if figure.value is None:
        lacks = ", ".join(map(entries.tr, figure.lacks))
        why = entries.tr(figure.problem) or entries.say("lacks", what=lacks)
        return KeyValue(entries.tr(figure.label), Cell("–", tone="quiet"), why)
    assumed, note = entries.tr(figure.assumed), entries.tr(figure.note)
    remark = entries.say("assumes", what=assumed) if assumed else note
    return KeyValue(entries.tr(figure.label), entries.computed(figure.value, figure.kind), remark)
