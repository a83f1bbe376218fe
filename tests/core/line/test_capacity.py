"""How much fruit a station carries at most, by its kind, with the sum beside each."""

import pytest

from tests.core.line.fruit import M_S_PER_HZ, at, entry, pair, plan, recipe, way


def carries(station, *others, **changes):
    """What a station carries at the speed planned for it."""
    held = entry(station.id, station, *others, **changes).planned.get("capacity_1_s")
    return None if held is None else held.value


def runs(speed_m_s, kind="take_away", number=1, **process):
    return at(number, kind, wanted="surface", wanted_m_s=speed_m_s, **process)


@pytest.mark.parametrize("kind", ["elevator", "roller_conveyor", "take_away", "other", "belt"])
def test_a_wide_one_is_covered_to_80_per_cent(kind):
    # 0.25 m/s · 0.8 · 0.6 / 0.06²; reference B2: four fifths of the area
    held = carries(runs(0.25, kind, carrying_width_m=0.6), flows=way((None, 1)))
    assert held == pytest.approx(33.3333, rel=1e-5)


def test_a_cover_that_is_entered_goes_before():
    # 0.25 · 0.5 · 0.6 / 0.06²
    held = carries(runs(0.25, carrying_width_m=0.6, cover_most=0.5))
    assert held == pytest.approx(20.8333, rel=1e-5)


def test_bars_carry_by_their_rows():
    # 0.25 / 0.1 rows of 8 fruit in a second; their width does not matter
    held = carries(runs(0.25, "elevator", row_pitch_m=0.1, fruit_per_row=8, carrying_width_m=0.6))
    assert held == pytest.approx(20.0)


def test_bars_without_their_number_of_fruit_are_covered_as_a_belt_is():
    held = carries(runs(0.25, "elevator", row_pitch_m=0.1, carrying_width_m=0.6))
    assert held == pytest.approx(33.3333, rel=1e-5)


@pytest.mark.parametrize(
    ("wanted", "lanes", "most"),
    [
        # At 0.36 m/s: one behind the other 0.36 / 0.06; every place could be filled.
        ({"wanted": "touching", "wanted_filled": 0.8}, 1, 6.0),
        # 0.36 / (0.06 + 0.03) · 80 %: the gaps and the places left empty are meant.
        ({"wanted": "gap", "wanted_gap_m": 0.03, "wanted_filled": 0.8}, 1, 3.2),
        # 2 · 0.36 / 0.12
        ({"wanted": "pitch", "wanted_pitch_m": 0.12}, 2, 6.0),
    ],
)
def test_in_file_by_what_is_wanted_of_it(wanted, lanes, most):
    belt = at(1, hz=0.36 / M_S_PER_HZ, **wanted)
    held = entry(1, belt, lanes=lanes)
    assert held.capacity_1_s == pytest.approx(most)


def test_a_belt_pair_side_alone_is_in_file():
    assert carries(runs(0.36, "belt_pair_side")) == pytest.approx(6.0)


def test_both_sides_of_a_vee_carry_at_their_mean():
    # (0.40 + 0.32) / 2 / 0.06
    sides = runs(0.40, "belt_pair_side", 2), runs(0.32, "belt_pair_side", 3)
    held = plan(at(1), *sides, flows=way((1, 2), (1, 3)), pairs=(pair(2, 3),))
    for number in (2, 3):
        assert held.entry(number).planned["capacity_1_s"].value == pytest.approx(6.0)


@pytest.mark.parametrize(
    "station",
    [
        runs(0.25, "take_away"),
        runs(0.25, "brush_bed", brush_pitch_m=0.125, bed_width_m=0.8),
        runs(0.25, "cup_conveyor", cup_pitch_m=0.1),
        runs(0.25, "spin_section", view_length_m=0.5),
        runs(0.25, "fan"),
        runs(0.25, "pump", flume_width_m=0.5, flume_depth_m=0.2),
        at(1, "take_away", carrying_width_m=0.6),
    ],
    ids=["no width", "one row", "no fill", "spin section", "fan", "no flow", "no speed"],
)
def test_where_too_little_is_known_there_is_none(station):
    assert carries(station) is None


def test_without_fruit_size_a_width_carries_nothing_known():
    fed = (recipe(fruit_diameter_m=None),)
    assert carries(runs(0.25, carrying_width_m=0.6), recipes=fed) is None


def test_fruit_wider_than_the_belt_is_told():
    held = entry(1, runs(0.25, carrying_width_m=0.05)).planned["capacity_1_s"]
    assert held.value is None
    assert "diameter of the fruit" in held.problem
