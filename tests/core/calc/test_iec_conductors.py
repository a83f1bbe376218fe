"""Conductors by IEC 60364-5-52: each step, the choice, harmonics, refusals."""

import math

import pytest

from core.calc import iec_conductors as iec
from core.errors import RangeError

MM2 = 1e-6
K30, K40 = 303.15, 313.15


def test_each_step_is_kept():
    # XLPE, 3 loaded, E, 4 mm²: 42 A; 45 °C: 0.87; 4 on a perforated tray: 0.77; 28.1358 A
    steps = iec.cable_current(4 * MM2, "XLPE", 3, "E", 318.15, 4, "perforated_tray")
    assert (steps.area_m2, steps.table_a) == (pytest.approx(4e-6), 42.0)
    assert (steps.temperature_factor, steps.grouping_factor) == (0.87, 0.77)
    assert steps.allowed_a == pytest.approx(28.1358)
    assert steps.edition == "IEC 60364-5-52:2009"


def test_factor_that_was_not_seen_is_named():
    remembered = iec.cable_current(4 * MM2, "PVC", 2, "C", K30, 3, "single_layer")
    assert remembered.remarks == (
        "IEC 60364-5-52:2009 Table B.52.17 row 2: from memory, check before use.",
    )
    assert iec.cable_current(4 * MM2, "PVC", 2, "C", K30, 3, "bunched").remarks == ()


@pytest.mark.parametrize("insulation", ["PVC", "XLPE"])
def test_reference_conditions_change_nothing(insulation):
    assert iec.temperature_factor(K30, insulation, "B2") == 1.0
    assert iec.temperature_factor(293.15, insulation, "D1") == 1.0
    assert iec.grouping_factor(1, "bunched", "B2") == 1.0


def test_ambient_between_two_rows_takes_the_hotter():
    assert iec.temperature_factor(304.15, "PVC", "C") == 0.94
    with pytest.raises(RangeError, match="ends at 60 °C"):
        iec.temperature_factor(334.15, "PVC", "C")


@pytest.mark.parametrize(("circuits", "factor"), [(9, 0.70), (10, 0.70), (40, 0.70)])
def test_one_layer_loses_no_more_from_nine_circuits_on(circuits, factor):
    assert iec.grouping_factor(circuits, "single_layer", "C") == factor


@pytest.mark.parametrize(
    ("circuits", "arrangement", "method"),
    [
        (0, "bunched", "B2"),
        (21, "bunched", "B2"),
        (13, "ducts_touching", "D1"),
        (2, "ducts_touching", "B2"),
        (2, "perforated_tray", "C"),
        (2, "pile", "C"),
        (2, "bunched", "F"),
    ],
)
def test_impossible_group_is_refused(circuits, arrangement, method):
    with pytest.raises(RangeError):
        iec.grouping_factor(circuits, arrangement, method)


@pytest.mark.parametrize("mm2", [0.0, 0.75, 3.31, 150.0, math.nan])
def test_size_that_is_not_in_the_table_is_refused(mm2):
    with pytest.raises(RangeError):
        iec.table_current_a(mm2 * MM2, "PVC", 2, "B2")


@pytest.mark.parametrize(
    ("insulation", "loaded", "method"), [("EPDM", 2, "B2"), ("PVC", 1, "B2"), ("PVC", 2, "Z")]
)
def test_unknown_table_is_refused(insulation, loaded, method):
    with pytest.raises(RangeError):
        iec.table_current_a(2.5 * MM2, insulation, loaded, method)


def test_chosen_conductor_suffices_and_the_next_smaller_does_not():
    # PVC, 3 loaded, B2, 40 °C, 5 bunched: 0.87 * 0.60 = 0.522; 6 mm² 34 A: 17.7; 4 mm² 27 A: 14.1
    found = iec.conductor_for_device(16.0, "PVC", 3, "B2", K40, 5, "bunched")
    assert found.area_m2 == pytest.approx(6e-6)
    assert found.allowed_a == pytest.approx(17.748)


def test_current_no_conductor_carries_is_refused():
    with pytest.raises(RangeError, match="120 mm² may carry 206 A here; 300 A is needed"):
        iec.conductor_for_device(300.0, "PVC", 3, "B2", K30, 1, "bunched")


@pytest.mark.parametrize(
    ("share", "factor", "decides"),
    [
        (0.15, 1.0, "line"),
        (0.151, 0.86, "line"),
        (0.33, 0.86, "line"),
        (0.331, 0.86, "neutral"),
        (0.45, 0.86, "neutral"),
        (0.451, 1.0, "neutral"),
        (1.0, 1.0, "neutral"),
    ],
)
def test_harmonic_steps_turn_at_their_limits(share, factor, decides):
    found = iec.harmonic_sizing(20.0, share)
    assert (found.factor, found.decides) == (factor, decides)
    assert found.neutral_a == pytest.approx(60.0 * share)
    assert found.remarks


@pytest.mark.parametrize(("line_a", "share"), [(0.0, 0.2), (10.0, 20.0), (10.0, math.nan)])
def test_impossible_harmonics_are_refused(line_a, share):
    with pytest.raises(RangeError):
        iec.harmonic_sizing(line_a, share)
