"""Where on its travel a reference acts on the speed."""

import dataclasses
from importlib.resources import files

import pytest

from core.line import compute_line
from core.line.acting import acting_travel
from core.store import LineFile


@pytest.fixture(scope="module")
def results():
    return compute_line(
        LineFile.read(files("sample_projects").joinpath("quillback_hollow.linebook"))
    )


def chain(results, tag):
    return next(held.chain for held in results.stations if held.tag == tag)


def test_below_the_lowest_frequency_it_does_nothing(results):
    # demo_a.csv, A02: 4 to 20 mA make 0 to 60 Hz, the drive runs from 15 to 60 Hz: 15/60.
    assert acting_travel(chain(results, "A02")) == pytest.approx((0.25, 1.0))


def test_a_loaded_potentiometer_bends_the_place(results):
    # demo_a.csv, A06: 10 to 60 Hz, from 15 Hz on: 5/50 of 10 V. 10 kohm into 100 kohm, by Kirchhoff
    # U = 10 x / (1 + 0.1 x (1 - x)); x = 0.1009 gives 1.009 / 1.00907 = 0.99993 V.
    low, high = acting_travel(chain(results, "A06"))
    assert low == pytest.approx(0.1009, abs=1e-4)
    assert high == pytest.approx(1.0)


def test_above_the_highest_frequency_it_does_nothing(results):
    held = chain(results, "A02")
    # 48 of 60 Hz allowed: 48/60.
    limits = dataclasses.replace(held.limits, maximum_hz=48.0)
    low, high = acting_travel(dataclasses.replace(held, limits=limits))
    assert (low, high) == pytest.approx((0.25, 0.8))


def test_it_may_be_set_the_other_way_round(results):
    held = chain(results, "A02")
    # 60 Hz at 4 mA and 0 Hz at 20 mA: 15 Hz at 75 % of the travel.
    limits = dataclasses.replace(held.limits, bottom_hz=60.0, top_hz=0.0)
    assert acting_travel(dataclasses.replace(held, limits=limits)) == pytest.approx((0.0, 0.75))


def test_nothing_is_left_between_equal_limits(results):
    held = chain(results, "A02")
    limits = dataclasses.replace(held.limits, minimum_hz=30.0, maximum_hz=30.0)
    assert acting_travel(dataclasses.replace(held, limits=limits)) is None
