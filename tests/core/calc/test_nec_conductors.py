"""Conductors by the NEC: each step, the cap of the terminals, the choice, refusals."""

import math

import pytest

from core.calc import nec_conductors as nec
from core.errors import RangeError
from core.units import gauge_area

C60, C75, C90 = 333.15, 348.15, 363.15
K30, K40 = 303.15, 313.15
A14, A12, A10 = (gauge_area(gauge) for gauge in (14, 12, 10))


@pytest.mark.parametrize("rating_k", [C60, C75, C90])
def test_thirty_degrees_change_nothing(rating_k):
    assert nec.ambient_factor(K30, rating_k) == 1.0


@pytest.mark.parametrize(
    ("celsius", "factor"),
    # 75 °C column: bands 26-30, 31-35, 36-40; below 10 °C the first row holds.
    [(-20, 1.20), (10, 1.20), (26, 1.0), (30.5, 0.94), (35, 0.94), (35.1, 0.88), (70, 0.33)],
)
def test_ambient_between_two_rows_takes_the_hotter(celsius, factor):
    assert nec.ambient_factor(celsius + 273.15, C75) == factor


def test_ambient_that_the_insulation_cannot_stand_is_refused():
    with pytest.raises(RangeError, match=r"It is 60 °C; the table ends at 55 °C"):
        nec.ambient_factor(333.15, C60)


@pytest.mark.parametrize(("conductors", "factor"), [(1, 1.0), (3, 1.0), (4, 0.8), (10, 0.5)])
def test_bundling_begins_with_the_fourth_conductor(conductors, factor):
    assert nec.bundling_factor(conductors) == factor


@pytest.mark.parametrize("conductors", [0, -3, 2.5, math.nan])
def test_impossible_number_of_conductors_is_refused(conductors):
    with pytest.raises(RangeError):
        nec.bundling_factor(conductors)


@pytest.mark.parametrize("rating_k", [300.0, 338.15, math.nan])
def test_only_three_temperature_ratings_exist(rating_k):
    with pytest.raises(RangeError, match="60 °C, 75 °C or 90 °C is needed"):
        nec.table_current_a(A12, rating_k)


def test_terminals_without_marking_count_by_the_hundred_ampere_rule():
    assert nec.terminal_rating_k(100.0, None) == C60
    assert nec.terminal_rating_k(100.1, None) == C75


@pytest.mark.parametrize("marked_k", [C60, C75, C90])
def test_marked_terminals_count_as_marked(marked_k):
    assert nec.terminal_rating_k(20.0, marked_k) == marked_k


def test_each_step_of_the_allowed_current_is_kept():
    # 14 AWG 90 °C: 25 A; 45 °C: 0.87; 6 conductors: 0.8; 25 * 0.87 * 0.8 = 17.4; 60 °C end: 15 A
    steps = nec.allowed_current(A14, C90, 318.15, 6, C60)
    assert steps.size.name == "14 AWG"
    assert (steps.insulation_k, steps.terminal_k) == (C90, C60)
    assert (steps.table_a, steps.ambient_factor, steps.bundling_factor) == (25.0, 0.87, 0.8)
    assert steps.corrected_a == pytest.approx(17.4)
    assert (steps.terminal_limit_a, steps.allowed_a) == (15.0, 15.0)
    assert steps.remarks == ()
    assert steps.edition == "NEC 2023 (NFPA 70-2023)"


def test_cold_does_not_lift_a_conductor_above_its_terminals():
    steps = nec.allowed_current(A12, C75, 283.15, 3, C75)
    assert steps.corrected_a == pytest.approx(30.0)  # 25 * 1.20
    assert steps.allowed_a == 25.0


def test_ninety_degree_insulation_helps_only_under_correction():
    # 75 °C ends: at 30 °C both end at 35 A; at 50 °C 40 * 0.82 = 32.8 against 35 * 0.75 = 26.25
    cool = [nec.allowed_current(A10, rating, K30, 3, C75).allowed_a for rating in (C75, C90)]
    hot = [nec.allowed_current(A10, rating, 323.15, 3, C75).allowed_a for rating in (C75, C90)]
    assert cool == [35.0, 35.0]
    assert hot == pytest.approx([26.25, 32.8])


def test_chosen_conductor_suffices_and_the_next_smaller_does_not():
    found = nec.conductor_for_current(27.5, C75, K40, 6, C75)
    # 8 AWG: 50 * 0.88 * 0.8 = 35.2; 10 AWG: 35 * 0.88 * 0.8 = 24.64
    assert found.size.name == "8 AWG"
    assert found.allowed_a == pytest.approx(35.2)
    assert nec.allowed_current(A10, C75, K40, 6, C75).allowed_a < 27.5


def test_current_met_exactly_is_met():
    assert nec.conductor_for_current(20.0 * 0.88, C75, K40, 3, C75).size.name == "14 AWG"


def test_current_no_conductor_carries_is_refused_with_what_there_is():
    with pytest.raises(RangeError, match="600 kcmil may carry 420 A here; 500 A is needed"):
        nec.conductor_for_current(500.0, C75, K30, 3, None)


def test_one_line_without_neutral_is_no_circuit():
    with pytest.raises(RangeError, match="no circuit"):
        nec.current_carrying_conductors(1, neutral=False, wye=False, mainly_nonlinear=True)


def test_three_lines_without_neutral_are_three():
    assert nec.current_carrying_conductors(3, neutral=False, wye=True, mainly_nonlinear=True) == 3
