"""The samples are what their tables say, and give the figures of the demo lines.

Expected values: the two demo lines as they were worked out apart from this program, rounded there
to 0.1 Hz; sums and ratios from the notes that came with them.
"""

import contextlib
import shutil
import sqlite3
from pathlib import Path

import pytest

from core.errors import ImportRefusedError
from core.line import compute_line
from core.line.wiring import wire_line
from core.store import LineFile
from sample_projects.build import HERE, TABLES, build

SAMPLES = ("lindenmoor", "quillback_hollow")
SET_HZ = {
    "quillback_hollow": (
        *(54.0, 51.4, 42.0, 54.5, 46.2, 55.2, 48.4, 49.2),
        *(41.1, 42.5, 39.5, 42.7, 42.2, 46.1, 42.6, 43.3),
    ),
    "lindenmoor": (44.0, 43.8, 44.0, 37.5, 43.4, 46.6, 41.3, 38.2, 39.9, 41.6, 48.6, 42.0),
}


@pytest.fixture(scope="module", params=SAMPLES)
def name(request):
    return request.param


@pytest.fixture(scope="module")
def line(name):
    return LineFile.read(HERE / f"{name}.linebook")


@pytest.fixture(scope="module")
def results(line):
    return compute_line(line)


def test_building_again_gives_the_same_rows(name, tmp_path):
    # Not the same bytes: a rebuilt table lists its constraints in an order that changes.
    fresh = build(TABLES / name, tmp_path)
    assert LineFile.read(fresh) == LineFile.read(HERE / fresh.name)
    assert rows_in(fresh) == rows_in(HERE / fresh.name)


def rows_in(path):
    with contextlib.closing(sqlite3.connect(path)) as raw:
        names = [
            name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type='table'")
        ]
        return {name: raw.execute(f'SELECT * FROM "{name}"').fetchall() for name in sorted(names)}


def test_nothing_is_lacking(results):
    assert [lack.text for entry in results.stations for lack in entry.lacks] == []
    figures = [figure for entry in results.stations for figure in entry.figures.values()]
    assert [figure for figure in figures if figure.value is None or figure.problem] == []


def test_each_reference_gives_the_frequency_of_the_demo_line(name, results):
    found = [entry.value("frequency_now_hz") for entry in results.stations]
    assert found == pytest.approx(SET_HZ[name], abs=0.1)


def test_every_conductor_has_two_ends_a_size_and_a_cable(line):
    conductors = wire_line(line).conductors
    assert len({wire.number for wire in conductors}) == len(conductors) > 200
    ends = [end for wire in conductors for end in (wire.start, wire.end)]
    assert all(end.device and end.terminal for end in ends)
    assert all(wire.size_m2 and wire.cable for wire in conductors)


def test_every_setting_is_listed_and_says_why(line):
    for station in line.stations:
        drive_type = line.drive_type(station.drive.drive_type_id)
        assert len(drive_type.listed_settings) in range(25, 41)
        for entry in station.drive.settings:
            assert drive_type.listed(entry.code) is not None
            assert entry.reason


def test_digital_inputs_do_what_their_settings_say(line):
    says = {"start": "start (3-wire)", "stop": "stop (3-wire)", "reset": "fault reset"}
    says |= {"preset_1": "preset bit 1", "preset_2": "preset bit 2"}
    for station in line.stations:
        listed = line.drive_type(station.drive.drive_type_id).listed_settings
        for wired in station.digital_inputs:
            setting = next(entry for entry in listed if f"({wired.terminal})" in entry.meaning)
            entered = station.drive.setting(setting.code)
            shown = entered.shown if entered else setting.factory
            meaning = says.get(wired.function, wired.function.replace("_", " "))
            assert f"{shown} = {meaning}" in setting.options


@pytest.mark.parametrize(
    ("sample", "phases", "amps"),
    [("quillback_hollow", "1", 118.6), ("lindenmoor", "1", 46.2), ("lindenmoor", "3", 18.6)],
)
def test_rated_input_currents_add_up_to_those_of_the_notes(sample, phases, amps):
    line = LineFile.read(HERE / f"{sample}.linebook")
    types = [line.drive_type(station.drive.drive_type_id) for station in line.stations]
    rated = [
        held.input_current_1ph_a if phases == "1" else held.input_current_3ph_a
        for held in types
        if held.input_phases == phases
    ]
    assert sum(rated) == pytest.approx(amps)


@pytest.mark.parametrize(
    ("sample", "faster", "slower", "ratio"),
    [
        ("quillback_hollow", "A14", "A12", 0.998),
        ("lindenmoor", "B11", "B09", 0.998),
    ],
)
def test_cups_run_at_the_speed_of_the_gapping_belt(sample, faster, slower, ratio):
    line = LineFile.read(HERE / f"{sample}.linebook")
    speeds = {
        entry.tag: entry.value("surface_speed_now_m_s") for entry in compute_line(line).stations
    }
    assert speeds[faster] / speeds[slower] == pytest.approx(ratio, abs=0.002)


def _with_row(tmp_path: Path, sheet: str, row: str) -> Path:
    tables = tmp_path / "lindenmoor"
    shutil.copytree(TABLES / tables.name, tables)
    with (tables / f"{sheet}.csv").open("a", encoding="utf-8") as table:
        table.write(row)
    return tables


def test_a_pattern_that_fits_no_drive_type_is_refused_and_leaves_the_sample(tmp_path):
    tables = _with_row(tmp_path, "Terminals", "690 V *,X9:9,Other,none\n")
    sample = tmp_path / "lindenmoor.linebook"
    sample.write_bytes(b"as it was")
    with pytest.raises(ImportRefusedError, match=r"Terminals, row 28.*690 V \*"):
        build(tables, tmp_path)
    assert sample.read_bytes() == b"as it was"
    assert sorted(tmp_path.iterdir()) == [tables, sample]
