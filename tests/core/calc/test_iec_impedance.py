"""Resistance by IEC 60228, drop by Annex G, limits and loop of a run."""

import math

import pytest

from core.calc import iec_impedance as iec
from core.errors import RangeError

MM2 = 1e-6


def test_warm_copper_worked_by_hand():
    # 7.41 ohm/km * (234.5 + 70) / 254.5 = 8.866 ohm/km
    found = iec.resistance_ohm_m(2.5 * MM2, 343.15, "fixed")
    assert found * 1e3 == pytest.approx(8.866, abs=5e-4)


def test_annex_g_is_on_the_safe_side_of_the_conductor_itself():
    # 0.0225 ohm mm²/m stands for a conductor in service, above IEC 60228 at 20 °C, up to 70 °C
    for mm2 in (1.5, 2.5, 4.0, 6.0, 10.0, 16.0):
        in_service = 22.5e-9 / (mm2 * MM2)
        assert iec.resistance_ohm_m(mm2 * MM2, 293.15, "fixed") < in_service
        assert iec.resistance_ohm_m(mm2 * MM2, 343.15, "fixed") == pytest.approx(
            in_service, rel=0.05
        )


def test_reactance_is_not_divided_by_the_area():
    # 120 mm² at power factor 0: 0.08 mohm/m alone; 2 * 10 A * 100 m * 0.00008 = 0.16 V
    drop = iec.annex_g_drop(10.0, 100.0, 120 * MM2, 0.0, 230.0, 1)
    assert drop.drop_v == pytest.approx(0.16)


def test_three_phase_drop_is_root_three_of_line_to_neutral():
    # b = 1: (0.0225 * 50 / 2.5 * 0.8 + 0.00008 * 50 * 0.6) * 4.6 = 1.667 V line to neutral
    drop = iec.annex_g_drop(4.6, 50.0, 2.5 * MM2, 0.8, 400.0, 3)
    assert drop.drop_v / math.sqrt(3) == pytest.approx(1.667, abs=5e-4)


@pytest.mark.parametrize(
    ("length", "supply", "use", "limit"),
    # Table G.52.1; beyond 100 m 0.005 % for each metre, at most 0.5 %
    [
        (0.0, "public", "lighting", 0.03),
        (100.0, "public", "other", 0.05),
        (140.0, "public", "other", 0.052),
        (200.0, "private", "lighting", 0.065),
        (900.0, "private", "other", 0.085),
    ],
)
def test_limit_grows_a_little_with_length(length, supply, use, limit):
    assert iec.drop_limit(length, supply, use) == pytest.approx(limit)


@pytest.mark.parametrize(
    "arguments", [(-1.0, "public", "other"), (1.0, "ship", "other"), (1.0, "public", "heat")]
)
def test_unknown_limit_is_refused(arguments):
    with pytest.raises(RangeError):
        iec.drop_limit(*arguments)


def test_loop_of_unlike_conductors_worked_by_hand():
    # (7.41 + 12.1) ohm/km * 40 m = 0.7804 ohm
    found = iec.loop_resistance_ohm(2.5 * MM2, 1.5 * MM2, 40.0, 293.15)
    assert found == pytest.approx(0.7804, abs=5e-5)


@pytest.mark.parametrize("mm2", [0.0, 3.31, 150.0, math.nan])
def test_size_that_is_no_standard_one_is_refused(mm2):
    with pytest.raises(RangeError):
        iec.resistance_ohm_m(mm2 * MM2, 293.15, "fixed")


def test_unknown_stranding_and_temperature_are_refused():
    with pytest.raises(RangeError, match="flexible_coated"):
        iec.resistance_ohm_m(2.5 * MM2, 293.15, "braided")
    with pytest.raises(RangeError):
        iec.resistance_ohm_m(2.5 * MM2, 700.0, "fixed")


def test_negative_length_is_refused():
    with pytest.raises(RangeError):
        iec.loop_resistance_ohm(2.5 * MM2, 2.5 * MM2, -1.0, 293.15)
