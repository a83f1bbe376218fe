"""Records frozen under each format are read for ever, and their digests still verify."""

import hashlib
from pathlib import Path

import pytest

from core.line import compute_line
from core.line.findings import find
from core.records import line_of
from core.records.comparing import compare
from core.store.schema import FORMAT
from tests.core.records.make_old_record import FOLDER

OLD = sorted(FOLDER.glob("*.json"))


@pytest.fixture(params=OLD, ids=lambda path: path.stem)
def record(request) -> Path:
    return request.param


def test_the_present_format_has_its_record():
    assert f"{FORMAT:04d}" in {path.stem[:4] for path in OLD}


def test_its_digest_still_verifies(record):
    wanted = record.with_suffix(".sha256").read_text(encoding="ascii").strip()
    assert hashlib.sha256(record.read_bytes()).hexdigest() == wanted


def test_it_opens_as_a_whole_line_and_gives_results(record):
    line = line_of(record.read_text(encoding="utf-8"))
    results = compute_line(line)
    assert [station.tag for station in line.stations] == [f"B{n:02d}" for n in range(1, 13)]
    # demo_b.csv: B11 48.6 Hz as set; persimmons are the second recipe.
    cups = line.station_tagged("B11")
    assert results.station(cups.id).value("frequency_now_hz") == pytest.approx(48.6, abs=0.01)
    assert [plan.recipe.name for plan in results.plans] == ["Plums", "Persimmons"]
    assert {held.tag for held in find(results).found} == {"B03", "B04", "B10"}
    assert compare(line, line).changes == ()
