"""The parameter record: what is on every nameplate and in every drive, and why."""

import datetime
from collections.abc import Collection, Sequence

from core.line import LineResults, Rule, StationResult, rules
from core.line.findings import find
from core.model import RECORDS, Line, Motor, Station
from core.sheets.cautions import caution_parts
from core.sheets.document import Cell, Column, Document, Grid, Heading, Paragraph, Part, Section
from core.sheets.entries import Entries
from core.sheets.finding_rows import by_station
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.setting_rows import setting_rows
from core.sheets.station_parts import settings_grid, station_parts


def parameter_record(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The parameter record of a line.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page; left out without it, so that equal lines give equal sheets.
    """
    entries, open_ones = Entries.of(line), by_station(find(results).open)
    stations = [results.station(entry.id) for entry in chosen(line, station_ids)]
    sections = [front_section(entries, today, _contents(entries, stations))]
    sections += [
        Section(
            f"{entry.tag} {entry.station.name}".strip(),
            station_parts(
                entries,
                entry,
                open_ones[entry.station.id],
                results.figures(entry.station.id),
            ),
        )
        for entry in stations
    ]
    if stations:
        grid = _all_settings(entries, stations)
        sections.append(Section(entries.say("all_settings"), (grid,), medium="spreadsheet"))
    return sheet_of(entries, "parameter_record", "parameter_subtitle", sections)


def _contents(entries: Entries, stations: Sequence[StationResult]) -> tuple[Part, ...]:
    say = entries.say
    if not stations:
        return (Paragraph(say("no_stations"), "quiet"), *caution_parts(say))
    columns = (
        Column(say("tag"), 0.8),
        Column(say("name"), 2.6),
        Column(entries.label("station", "kind"), 1.3),
        Column(say("motor"), 1.0, "right", units=True),
        Column(say("drive"), 2.0),
        Column(entries.tr(rules.NOW_FREQUENCY.label), 1.1, "right", units=True),
        Column(say("speed_as_set"), 1.3, "right", units=True),
    )
    rows = tuple(_station_row(entries, entry) for entry in stations)
    key = Paragraph(say("points_key"), "quiet")
    return (Heading(say("stations")), Grid(columns, rows), key, *caution_parts(say))


def _station_row(entries: Entries, result: StationResult) -> tuple[Cell, ...]:
    station = result.station
    speed = rules.NOW_SHAFT if result.value(rules.NOW_SURFACE.key) is None else rules.NOW_SURFACE
    return (
        Cell(station.tag, tone="strong"),
        entries.text(station.name),
        entries.field(RECORDS["station"].field("kind"), station.kind),
        _motors(entries, station),
        entries.text(result.drive_type.name if result.drive_type else ""),
        _figure(entries, result, rules.NOW_FREQUENCY),
        _figure(entries, result, speed),
    )


def _motors(entries: Entries, station: Station) -> Cell:
    powers = [_power(entries, motor) for motor in station.motors]
    if len(powers) < 2:
        return powers[0] if powers else entries.missing
    if len(set(powers)) == 1:
        return Cell(f"{len(powers)} × {powers[0].text}", unit=powers[0].unit)
    return Cell(" + ".join(power.with_unit for power in powers))


def _power(entries: Entries, motor: Motor) -> Cell:
    """Rated power as it was typed from the plate, where that is in the unit of the sheet."""
    cell, typed = entries.quantity(motor.power_w, "power"), motor.power_typed.strip()
    if cell.number is None or not typed.endswith(f" {cell.unit}"):
        return cell
    return Cell(typed.removesuffix(cell.unit).strip(), cell.number, cell.unit)


def _figure(entries: Entries, result: StationResult, rule: Rule) -> Cell:
    value = result.value(rule.key)
    return entries.computed(value, rule.kind)


def _all_settings(entries: Entries, stations: Sequence[StationResult]) -> Grid:
    before = (Column(entries.say("tag"), 0.8), Column(entries.say("name"), 2.0))
    groups = [
        (
            (Cell(entry.tag, tone="strong"), Cell(entry.station.name)),
            setting_rows(entry.station, entry.drive_type),
        )
        for entry in stations
    ]
    return settings_grid(entries, groups, before)
