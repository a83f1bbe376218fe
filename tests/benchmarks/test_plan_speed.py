"""Time to plan a line as one graph, and from one edit to its plan and its findings.

Run with ``python -m pytest -m benchmark -s tests/benchmarks/test_plan_speed.py``. Copies of a
sample are linked one behind the other, with its brush beds, its V, its cups, its pairs and both of
its recipes. The floor told beside an edit is the same line computed from nothing.
"""

import dataclasses
import statistics
import time
from collections.abc import Callable
from importlib.resources import files
from itertools import pairwise
from pathlib import Path

import pytest

from core.collector import without_collector
from core.line import compute_line
from core.line.findings import find
from core.line.flow import flow_of
from core.line.plan import plan_of
from core.line.stopping import stopping_of
from core.model import Flow, Line, Pair, Station
from core.store import LineFile
from tests.benchmarks.test_file_speed import median_s

SIZES = (20, 200, 2000)
EDITS = 15


def line_of(stations: int) -> Line:
    """About so many stations in one graph: whole copies of a sample, each feeding the next."""
    sample = LineFile.read(Path(str(files("sample_projects").joinpath("lindenmoor.linebook"))))
    size = len(sample.stations)
    copies = range(-(-stations // size))
    made = tuple(_copied(entry, copy * size) for copy in copies for entry in sample.stations)
    flows = [_linked(flow, copy * size) for copy in copies for flow in sample.flows]
    first, last = sample.stations[0].id, sample.station_tagged("B11")
    assert last is not None
    flows += [
        Flow(0, last.id + before * size, first + after * size) for before, after in pairwise(copies)
    ]
    pairs = [_paired(pair, copy * size, copy) for copy in copies for pair in sample.pairs]
    # Without culls, so that the last copy gets what the first does.
    recipes = tuple(
        dataclasses.replace(
            recipe,
            culled=None,
            speeds=tuple(
                dataclasses.replace(own, station_id=(own.station_id or 0) + copy * size)
                for copy in copies
                for own in recipe.speeds
            ),
        )
        for recipe in sample.recipes
    )
    return dataclasses.replace(
        sample,
        stations=made,
        flows=tuple(dataclasses.replace(flow, id=n) for n, flow in enumerate(flows, start=1)),
        pairs=tuple(dataclasses.replace(pair, id=n) for n, pair in enumerate(pairs, start=1)),
        recipes=recipes,
    )


def _copied(entry: Station, shift: int) -> Station:
    number = entry.id + shift
    drive = dataclasses.replace(entry.drive, serial=f"D-{number}", bus_id=None)
    motors = tuple(dataclasses.replace(motor, serial=f"M-{number}") for motor in entry.motors)
    return dataclasses.replace(entry, id=number, tag=f"ST{number:04d}", drive=drive, motors=motors)


def _linked(flow: Flow, shift: int) -> Flow:
    ends = (flow.from_station_id, flow.to_station_id)
    first, second = (None if end is None else end + shift for end in ends)
    return dataclasses.replace(flow, from_station_id=first, to_station_id=second)


def _paired(pair: Pair, shift: int, copy: int) -> Pair:
    first, second = ((end or 0) + shift for end in (pair.first_station_id, pair.second_station_id))
    name = f"{pair.name} {copy}"
    return dataclasses.replace(pair, name=name, first_station_id=first, second_station_id=second)


@pytest.mark.benchmark
@pytest.mark.timeout(600)
def test_planning_grows_with_the_line() -> None:
    each_us = []
    for stations in SIZES:
        line = line_of(stations)
        results = compute_line(line)
        by_id = {entry.station.id: entry for entry in results.stations}
        graph_s = median_s(lambda line=line: flow_of(line))
        graph = flow_of(line)
        with without_collector():  # as compute_line does
            plan_s = median_s(
                lambda line=line, graph=graph, by_id=by_id: plan_of(
                    line, graph, by_id, line.recipes[0]
                )
            )
        stop_s = median_s(lambda results=results: stopping_of(results.plan))
        number = len(line.stations)
        each_us.append((graph_s + plan_s + stop_s) / number * 1e6)
        print(
            f"\n{number} stations: order {graph_s * 1e3:.2f} ms, plan {plan_s * 1e3:.1f} ms, "
            f"stopping {stop_s * 1e3:.2f} ms, {each_us[-1]:.0f} µs for each station"
        )
        # Fruit comes to the end of the last copy: it is one graph.
        last = max(key for key, entry in results.plan.entries.items() if entry.flow_1_s)
        assert results.plan.entry(last).flow_1_s == pytest.approx(3 * 350 / 3600 / 0.065)
    # A hundred times as many take about a hundred times as long, and never the square of it.
    assert each_us[-1] < 3.0 * each_us[0]


def _swapped(line: Line, number: int, changed: Station) -> Line:
    stations = (*line.stations[:number], changed, *line.stations[number + 1 :])
    return dataclasses.replace(line, stations=stations)


def _plate(line: Line, number: int) -> Line:
    entry = line.stations[number]
    motor = dataclasses.replace(entry.motors[0], power_w=500.0 + number)
    changed = dataclasses.replace(entry, motors=(motor, *entry.motors[1:]))
    return _swapped(line, number, changed)


def _knob(line: Line, number: int) -> Line:
    entry = line.stations[number]
    share = 0.5 + number / 100.0
    told = dataclasses.replace(entry.reference, now_v=10.0 * share, now_a=0.004 + 0.016 * share)
    return _swapped(line, number, dataclasses.replace(entry, reference=told))


def _fed(line: Line, number: int) -> Line:
    bins = (3.0 + number / 100.0) / 3600.0
    first = dataclasses.replace(line.recipes[0], bins_1_s=bins)
    return dataclasses.replace(line, recipes=(first, *line.recipes[1:]))


@pytest.mark.benchmark
@pytest.mark.timeout(900)
@pytest.mark.parametrize(
    "edit", [_plate, _knob, _fed], ids=["motor's power", "where a knob stands", "bins fed"]
)
@pytest.mark.parametrize("stations", SIZES)
def test_one_edit_with_its_plan_and_findings(
    stations: int, edit: Callable[[Line, int], Line]
) -> None:
    line = line_of(stations)
    start = time.perf_counter()
    results = compute_line(line)
    findings = find(results)
    full_s = time.perf_counter() - start
    computing, finding = [], []
    for number in range(EDITS):
        line = edit(line, number)
        start = time.perf_counter()
        results = compute_line(line, results)
        between = time.perf_counter()
        findings = find(results, findings)
        finding.append(time.perf_counter() - between)
        computing.append(between - start)
    computing_s, finding_s = statistics.median(computing), statistics.median(finding)
    assert len(findings.found) == len(find(compute_line(line)).found)
    print(
        f"\n{len(line.stations)} stations, {edit.__name__.strip('_')}: one edit "
        f"{(computing_s + finding_s) * 1e3:.2f} ms (figures and plan {computing_s * 1e3:.2f}, "
        f"findings {finding_s * 1e3:.2f}), everything {full_s * 1e3:.0f} ms"
    )
