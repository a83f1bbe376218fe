"""Time to open and read a file, against plain sqlite3 reading the same rows.

Run with ``python -m pytest -m benchmark -s tests/benchmarks/test_file_speed.py``.
"""

import contextlib
import sqlite3
import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from core.model import RECORDS, Station
from core.store import LineFile, Step
from core.store.actions import set_fields

SETTINGS = 30
RUNS = ("motor", "reference", "controls")
SINGLES = 5
"""Drive, speed reference, controls, drivetrain and process of a station."""


def make(path: Path, stations: int) -> None:
    """A file of stations with one motor, thirty settings and three cables each."""
    with LineFile.create(path) as book:
        with book.step("Stations") as step:
            for number in range(stations):
                station = step.add("station", tag=f"ST{number:04d}", name=f"Belt {number}")
                step.add("motor", station, power_w=750.0, frequency_hz=50.0, speed_rad_s=146.0)
        with book.step("Settings and cables") as step:
            for entry in book.line.stations:
                _fill(step, entry)


def _fill(step: Step, station: Station) -> None:
    for code in range(SETTINGS):
        values = {"shown": str(code), "value": float(code)}
        step.add("setting", station.drive.id, code=f"F-{code:02d}", **values)
    for run in RUNS:
        step.add("cable", station.id, run=run, length_m=12.0)


def rows_of(path: Path) -> int:
    """Read every column of every table of the line by plain sqlite3; gives the number of rows."""
    with contextlib.closing(sqlite3.connect(path)) as raw:
        return sum(len(raw.execute(f"SELECT * FROM {name}").fetchall()) for name in RECORDS)


def median_s(act: Callable[[], object], times: int = 5) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        act()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


@pytest.mark.benchmark
@pytest.mark.timeout(600)
@pytest.mark.parametrize("stations", [40, 400, 4000])
def test_open_and_read_against_plain_sqlite(stations: int, tmp_path: Path) -> None:
    path = tmp_path / "line.linebook"
    start = time.perf_counter()
    make(path, stations)
    made_s = time.perf_counter() - start
    rows = rows_of(path)
    raw_s = median_s(lambda: rows_of(path))
    read_s = median_s(lambda: LineFile.read(path))
    open_s = median_s(lambda: LineFile.open(path).close())
    with LineFile.open(path) as book:
        motor = book.line.stations[-1].motors[0].id
        edits = iter(range(1, 1000))
        edit_s = median_s(lambda: set_fields(book, "motor", motor, power_w=float(next(edits))), 20)
        undo_s = median_s(book.undo, 20)
        line = book.line
    print(
        f"\n{stations} stations, {rows} rows (written in {made_s:.1f} s): "
        f"plain {raw_s * 1e3:.1f} ms, "
        f"read {read_s * 1e3:.1f} ms ({read_s / raw_s:.1f} x), "
        f"open {open_s * 1e3:.1f} ms ({open_s / raw_s:.1f} x), "
        f"edit {edit_s * 1e3:.1f} ms, undo {undo_s * 1e3:.1f} ms"
    )
    assert rows == 1 + stations * (1 + 1 + SINGLES + SETTINGS + len(RUNS))
    assert len(line.stations) == stations
    assert {len(station.drive.settings) for station in line.stations} == {SETTINGS}
    assert {len(station.cables) for station in line.stations} == {len(RUNS)}
