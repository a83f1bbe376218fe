"""Time from one edited field to every figure and finding that depends on it.

Run with ``python -m pytest -m benchmark -s tests/benchmarks/test_edit_speed.py``. Lines of 20, 200
and 2,000 stations are put together from a sample's; one motor's power is changed. The floor told
beside it is the same line computed from nothing.
"""

import dataclasses
import statistics
import time
from importlib.resources import files
from pathlib import Path

import pytest

from core.line import compute_line
from core.line.findings import find
from core.model import Line
from core.store import LineFile

EDITS = 15


def line_of(stations: int) -> Line:
    sample = LineFile.read(Path(str(files("sample_projects").joinpath("lindenmoor.linebook"))))
    made = []
    for number in range(stations):
        entry = sample.stations[number % len(sample.stations)]
        serial = dataclasses.replace(entry.drive, serial=f"D-{number}", bus_id=None)
        motors = tuple(dataclasses.replace(m, serial=f"M-{number}") for m in entry.motors)
        made.append(
            dataclasses.replace(
                entry, id=number + 1, tag=f"ST{number:04d}", drive=serial, motors=motors
            )
        )
    return dataclasses.replace(sample, stations=tuple(made), flows=(), pairs=())


def edited(line: Line, number: int) -> Line:
    entry = line.stations[number]
    motor = dataclasses.replace(entry.motors[0], power_w=500.0 + number)
    changed = dataclasses.replace(entry, motors=(motor, *entry.motors[1:]))
    stations = (*line.stations[:number], changed, *line.stations[number + 1 :])
    return dataclasses.replace(line, stations=stations)


@pytest.mark.benchmark
@pytest.mark.timeout(600)
@pytest.mark.parametrize("stations", [20, 200, 2000])
def test_one_edit_against_everything(stations: int) -> None:
    line = line_of(stations)
    start = time.perf_counter()
    results = compute_line(line)
    findings = find(results)
    full_s = time.perf_counter() - start
    taken = []
    for number in range(EDITS):
        line = edited(line, number)
        start = time.perf_counter()
        after = compute_line(line, results)
        findings = find(after, findings)
        taken.append(time.perf_counter() - start)
        results = after
    edit_s = statistics.median(taken)
    assert results.station(1).station.motors[0].power_w == 500.0
    assert len(findings.found) == len(find(compute_line(line)).found)
    print(
        f"\n{stations} stations: one edit {edit_s * 1e3:.2f} ms, everything {full_s * 1e3:.0f} ms, "
        f"ratio {edit_s / full_s:.4f}"
    )
