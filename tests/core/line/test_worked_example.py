"""Linebook against docs/worked-example.md, which was worked without it.

The table beside this file is the output of a script that imports nothing of Linebook and reads the
tables of the samples as a user typed them. Agreement asked for: one part in 100,000.
"""

import csv
import math
import re
from importlib.resources import files
from pathlib import Path

import pytest

from core.line import compute_line
from core.store import LineFile

HERE = Path(__file__).parent
DOC = HERE.parents[2] / "docs" / "worked-example.md"
ROWS = list(csv.DictReader((HERE / "worked_example.csv").read_text(encoding="utf-8").splitlines()))
CLOSE = {"rel": 1e-5, "abs": 1e-9}


@pytest.fixture(scope="module")
def results():
    found = {}
    for name in {row["sample"] for row in ROWS}:
        path = files("sample_projects").joinpath(f"{name}.linebook")
        found[name] = compute_line(LineFile.read(path))
    return found


def entry_of(results, row):
    for plan in results[row["sample"]].plans:
        if plan.recipe.name == row["recipe"]:
            return next(entry for entry in plan.entries.values() if entry.tag == row["station"])
    raise KeyError(row["recipe"])


def wanted(entry, key):
    figure = entry.wanted.get(key)
    return None if figure is None else figure.value


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['recipe']} {r['station']}")
def test_station_by_station(results, row):
    entry = entry_of(results, row)
    for got, text in (
        (entry.flow_1_s, row["fruit_1_s"]),
        (entry.planned_m_s, row["surface_m_s"]),
    ):
        # A pump and a fan have no surface speed, and a fan no fruit.
        assert got is None if not text else got == pytest.approx(float(text), **CLOSE)
    rpm = 60.0 / (2.0 * math.pi)
    shaft = wanted(entry, "shaft_speed_wanted_rad_s") * rpm
    assert shaft == pytest.approx(float(row["shaft_rpm"]), **CLOSE)
    motor = wanted(entry, "motor_speed_wanted_rad_s") * rpm
    assert motor == pytest.approx(float(row["motor_rpm"]), **CLOSE)
    assert entry.planned_hz == pytest.approx(float(row["frequency_hz"]), **CLOSE)
    signal = wanted(entry, f"signal_wanted_{row['signal_unit'].lower()}")
    assert signal == pytest.approx(float(row["signal"]), **CLOSE)
    assert entry.planned_share == pytest.approx(float(row["travel"]), **CLOSE)


def test_every_station_of_every_recipe_is_in_the_table(results):
    told = {(row["sample"], row["recipe"], row["station"]) for row in ROWS}
    there = {
        (name, plan.recipe.name, entry.tag)
        for name, held in results.items()
        for plan in held.plans
        for entry in plan.entries.values()
    }
    assert told == there


def test_page_and_table_say_the_same():
    lines = DOC.read_text(encoding="utf-8").splitlines()
    told = [
        re.split(r"\s*\|\s*", line.strip("| ")) for line in lines if re.match(r"\| [AB]\d", line)
    ]
    assert len(told) == len(ROWS)
    for cells, row in zip(told, ROWS, strict=True):
        assert cells[0] == row["station"]
        assert float(cells[4]) == pytest.approx(float(row["shaft_rpm"]), abs=6e-4)
        assert float(cells[6]) == pytest.approx(float(row["frequency_hz"]), abs=6e-4)
        assert float(cells[8]) == pytest.approx(100.0 * float(row["travel"]), abs=6e-3)
