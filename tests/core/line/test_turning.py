"""The knob of one station: where it stands, and the line as it would be elsewhere."""

from pathlib import Path

import pytest

import sample_projects
from core.errors import RangeError
from core.line import compute_line
from core.line.turning import share_now, turned, values_at
from core.store import LineFile

SAMPLES = Path(sample_projects.__file__).parent


@pytest.fixture(scope="module")
def results():
    return compute_line(LineFile.read(SAMPLES / "quillback_hollow.linebook"))


def at(results, tag):
    return next(held for held in results.stations if held.tag == tag)


def test_the_knob_stands_where_the_demo_notes_have_it(results):
    # A05 stands at 16.32 mA of 4 to 20 mA (shared/demo/demo_a.csv): 12.32/16 = 77.0 %.
    assert share_now(at(results, "A05")) == pytest.approx(0.770, abs=1e-4)


@pytest.mark.parametrize("share", [0.0, 0.123, 0.5, 0.77, 1.0])
def test_a_knob_put_somewhere_stands_there(results, share):
    for held in results.stations:
        if share_now(held) is None:
            continue
        line = turned(results.line, held, share)
        moved = at(compute_line(line, results), held.tag)
        # 1 mV of 10 V, 0.01 mA of 16 mA, 0.01 Hz of 60 Hz: never more than 0.1 % of the travel.
        assert share_now(moved) == pytest.approx(share, abs=1e-3), held.tag


def test_milliamperes_of_a_loop_by_hand(results):
    # 4 mA + 0.25 · 16 mA = 8 mA.
    assert values_at(at(results, "A05"), 0.25) == {"now_a": pytest.approx(0.008)}


def test_only_the_reference_of_that_station_is_another_one(results):
    held = at(results, "A05")
    line = turned(results.line, held, 0.5)
    for old, new in zip(results.line.stations, line.stations, strict=True):
        assert (old is new) == (old.tag != "A05")
    assert results.line.station(held.station.id).reference.now_a == pytest.approx(0.01632)


def test_a_reference_that_is_not_known_cannot_be_turned(tmp_path):
    with LineFile.create(tmp_path / "new.linebook") as book:
        from core.store import actions

        actions.add_station(book, tag="N1")
        [held] = compute_line(book.line).stations
    assert share_now(held) is None
    with pytest.raises(RangeError, match="not known from end to end"):
        values_at(held, 0.5)
