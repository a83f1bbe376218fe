"""Swap sheet, spares, knob cards, check results, field sheets, and the book of them all."""

import dataclasses
from importlib.resources import files

import pytest

from core.line import compute_line
from core.line.checks import checks_of
from core.model import Check
from core.model.choices import STAGES
from core.sheets import SHEETS
from core.sheets.document import Caution, Grid, KeyValues
from core.sheets.setting_rows import setting_rows
from core.store import LineFile

NAMES = ("quillback_hollow", "lindenmoor")


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


@pytest.fixture(scope="module", params=NAMES)
def line(request):
    return sample(request.param)


def made(key, line, **how):
    return SHEETS[key].build(line, compute_line(line), **how)


def grids(section):
    return [part for part in section.parts if isinstance(part, Grid)]


def test_swap_sheet_lists_just_what_differs_from_factory_in_keypad_order(line):
    document = made("swap_sheet", line)
    for station, section in zip(line.stations, document.sections[1:], strict=True):
        drive_type = line.drive_type(station.drive.drive_type_id)
        listed = [entry.code for entry in drive_type.listed_settings]
        codes = [row[0].text for row in grids(section)[-1].rows]
        wanted = [
            row.code
            for row in setting_rows(station, drive_type)
            if row.standing not in ("same", "not_entered")
        ]
        assert codes == wanted
        assert codes == sorted(codes, key=listed.index)
    text = " ".join(getattr(part, "text", "") for part in document.sections[0].parts)
    assert "Isolate and lock out" in text


def test_spares_count_what_is_in_use(line):
    [section] = made("spares", line).sections
    rows = {(row[0].text, row[1].text): row for row in grids(section)[0].rows}
    for drive_type in line.drive_types:
        tags = [s.tag for s in line.stations if s.drive.drive_type_id == drive_type.id]
        if tags:
            row = rows["Drive", drive_type.name]
            assert (row[2].number, row[4].text) == (len(tags), ", ".join(tags))
            # One, and one more for every ten.
            assert row[3].number == 1 + len(tags) // 10


def test_a_spare_motor_is_called_by_the_power_on_its_plate(line):
    motor = dataclasses.replace(line.stations[0].motors[0], power_w=248.57, power_typed="1/3 hp")
    first = dataclasses.replace(line.stations[0], motors=(motor,))
    line = dataclasses.replace(line, stations=(first, *line.stations[1:]))
    [section] = made("spares", line).sections
    [told] = [
        row[1].text
        for row in grids(section)[0].rows
        if row[0].text == "Motor" and first.tag in row[4].text
    ]
    assert told.startswith("1/3 hp, ")


def test_a_motor_for_two_voltages_is_one_spare_however_it_is_connected(line):
    def motor(connected_for):
        return dataclasses.replace(
            line.stations[0].motors[0], voltage_low_v=230.0, voltage_high_v=400.0, tag="M1",
            power_w=750.0, power_typed="0,75 kW" if connected_for == "low" else "0.75 kW",
            connected_for=connected_for,
        )  # fmt: skip

    stations = tuple(
        dataclasses.replace(held, motors=(motor("low" if place % 2 else "high"),))
        for place, held in enumerate(line.stations)
    )
    [section] = made("spares", dataclasses.replace(line, stations=stations)).sections
    [row] = [row for row in grids(section)[0].rows if row[0].text == "Motor"]
    assert row[1].text.startswith("0.75 kW, 230/400 V")
    assert row[2].number == len(stations)


def test_protection_is_one_spare_only_with_as_many_poles(line):
    def fed(station, lines):
        drive = dataclasses.replace(
            station.drive,
            supply_lines=lines,
            protection_a=10.0 if lines else None,
            protection_kind="breaker_c",
        )
        return dataclasses.replace(station, drive=drive)

    wanted = ("L1 N", "L2 N", "L1 L2 L3")
    stations = tuple(map(fed, line.stations, wanted + ("",) * (len(line.stations) - 3)))
    [section] = made("spares", dataclasses.replace(line, stations=stations)).sections
    told = {
        row[1].text: row[2].number
        for row in grids(section)[0].rows
        if row[0].text == "Branch protection"
    }
    assert told == {
        "10 A, Breaker, characteristic C, 1 pole and N": 2,
        "10 A, Breaker, characteristic C, 3 poles": 1,
    }


def test_each_swap_sheet_goes_with_the_gravest_caution_and_the_plate_as_connected(line):
    document = made("swap_sheet", line)
    for section in document.sections[1:]:
        [caution] = [part for part in section.parts if isinstance(part, Caution)]
        assert caution.level == "danger"
        labels = [row.label for part in section.parts if isinstance(part, KeyValues)
                  for row in part.rows]  # fmt: skip
        assert {"Voltage as connected", "Current as connected"} <= set(labels)


def test_check_results_go_by_stage_and_say_what_is_out(line):
    station = line.stations[1]
    results = (
        Check(1, "supply-voltage", station.id, "reading", 500.0, "500", person="R. Vale"),
        Check(2, "guards-on", station.id, "yes", done_at="2026-11-25 14:30"),
    )
    document = made("check_results", dataclasses.replace(line, checks=results))
    assert [section.title for section in document.sections[1:]] == list(STAGES.values())
    rows = [row for section in document.sections[1:] for row in grids(section)[0].rows]
    [volts] = [r for r in rows if r[0].text == station.tag and r[1].text.startswith("Voltage at")]
    assert volts[3].text == "500 V, OUT OF LIMITS"
    assert volts[5].text == "R. Vale"
    total = len(checks_of(compute_line(line)))
    assert len(rows) == total


def test_field_sheets_leave_room_for_every_check_and_every_setting(line):
    document = made("field_sheets", line)
    items = checks_of(compute_line(line))
    by_title = {section.title: section for section in document.sections}
    for station in line.stations:
        section = by_title[f"{station.tag} {station.name}"]
        checks, *points, settings = grids(section)
        # Up and down at five places, where a signal sets the speed.
        wired = station.reference.source in ("potentiometer", "voltage", "current", "dac")
        assert [len(grid.rows) for grid in points] == [10] * wired
        own = [item for item in items if item.station_id == station.id]
        assert [row[1].text for row in checks.rows] == [item.rule.label for item in own]
        blank = {item.rule.key: row[4].text for item, row in zip(own, checks.rows, strict=True)}
        unit = "°F" if line.unit_system == "us" else "°C"
        assert blank.pop("insulation") == f"at ______ {unit}"
        assert set(blank.values()) == {"", "□\u00a0Yes  □\u00a0No"}
        how = {item.rule.key: row[2].text for item, row in zip(own, checks.rows, strict=True)}
        # What a drive does without its signal: stop, hold, minimum, preset, trip, nothing.
        assert how.get("lost-reference", "□" * 6).count("□") == 6
        drive_type = line.drive_type(station.drive.drive_type_id)
        assert len(settings.rows) >= len(drive_type.listed_settings)
        assert {row[4].text for row in settings.rows} == {""}


def test_the_book_holds_every_chapter_in_its_order(line):
    document = made("handover_book", line)
    titles = [section.title.split(": ")[0] for section in document.sections[1:]]
    order = list(dict.fromkeys(titles))
    assert order == [
        "Speed plan", "Parameter record", "Wiring schedule", "Reference wiring",
        "Branch schedule", "Check results", "Findings", "Drive swap sheet", "Spares",
        "Knob cards", "Workings",
    ]  # fmt: skip
    told = {
        section.title.removeprefix("Parameter record: ")
        for section in document.sections
        if section.title.startswith("Parameter record: ")
    }
    assert {f"{station.tag} {station.name}" for station in line.stations} <= told
    names = [section.title for section in document.sections]
    assert len(names) == len(set(names))


def test_no_chapter_of_the_book_begins_with_an_almost_empty_page(line):
    document = made("handover_book", line)
    titles = [section.title for section in document.sections]
    # What is short opens the next page; what is long, or all there is, keeps one of its own.
    assert not {"Findings", "Speed plan", "Branch schedule"} & set(titles)
    assert {"Spares", "Knob cards", "Parameter record"} <= set(titles)
    [first] = [s for s in document.sections if s.title == "Workings"]
    assert "Every figure of stations" in first.parts[0].text
