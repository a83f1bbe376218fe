"""Suggested ends of a reference's travel."""

from importlib.resources import files

import pytest

from core.line import compute_line
from core.line.travel import travel_advice
from core.store import LineFile


@pytest.fixture(scope="module")
def advice():
    line = LineFile.read(files("sample_projects").joinpath("lindenmoor.linebook"))
    return {held.result.tag: held for held in travel_advice(compute_line(line))}


def test_ends_are_whole_numbers_around_what_is_planned(advice):
    for held in advice.values():
        assert held.better_bottom_hz == int(held.better_bottom_hz)
        assert held.better_bottom_hz <= min(held.planned_hz)
        assert held.better_top_hz >= max(held.planned_hz)


def test_the_bottom_goes_below_what_cools_where_a_recipe_asks_for_it(advice):
    # demo_b.csv: B10 14.6 Hz with persimmons; its motor is cooled from 15 Hz on, the drive runs
    # from 12 Hz.
    assert advice["B10"].better_bottom_hz == 14.0


def test_one_per_cent_of_travel_is_a_hundredth_of_the_ends(advice):
    # demo_b.csv: B11 runs from 0 to 60 Hz over its signal.
    assert advice["B11"].step_hz == pytest.approx(0.6)
