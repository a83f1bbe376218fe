"""Resistance and reactance by the NEC, and the size that keeps a voltage drop."""

import math

import pytest

from core.calc import nec_impedance
from core.errors import RangeError
from core.units import gauge_area

K75 = 348.15
KFT_M = 304.8


def test_solid_is_not_stranded():
    # Table 8, 12 AWG: 1.93 solid, 1.98 stranded, 2.05 stranded coated
    for stranding, ohm_kft in (("solid", 1.93), ("stranded", 1.98), ("stranded_coated", 2.05)):
        found = nec_impedance.dc_resistance_ohm_m(gauge_area(12), K75, stranding)
        assert found * KFT_M == pytest.approx(ohm_kft)


def test_cooler_copper_resists_less():
    # 1.98 * (1 + 0.00323 * (25 - 75)) = 1.660
    found = nec_impedance.dc_resistance_ohm_m(gauge_area(12), 298.15, "stranded")
    assert found * KFT_M == pytest.approx(1.660, abs=5e-4)


def test_table_has_no_solid_conductor_above_eight_gauge():
    with pytest.raises(RangeError, match="no solid conductor of 6 AWG"):
        nec_impedance.dc_resistance_ohm_m(gauge_area(6), K75, "solid")


@pytest.mark.parametrize("conductor_k", [200.0, 600.0, math.nan])
def test_impossible_temperature_is_refused(conductor_k):
    with pytest.raises(RangeError):
        nec_impedance.dc_resistance_ohm_m(gauge_area(12), conductor_k, "stranded")


def test_steel_raises_the_reactance_only_aluminium_the_resistance_too():
    # Table 9, 2 AWG: X 0.045 / 0.045 / 0.057, R 0.19 / 0.20 / 0.20
    found = {
        raceway: nec_impedance.impedance(gauge_area(2), raceway)
        for raceway in ("pvc", "aluminium", "steel")
    }
    assert [round(z.reactance_ohm_m * KFT_M, 6) for z in found.values()] == [0.045, 0.045, 0.057]
    assert [round(z.resistance_ohm_m * KFT_M, 6) for z in found.values()] == [0.19, 0.2, 0.2]


def test_alternating_and_direct_current_agree_for_small_sizes():
    for gauge in (14, 12, 10, 8, 6):
        area_m2 = gauge_area(gauge)
        direct = nec_impedance.dc_resistance_ohm_m(area_m2, K75, "stranded")
        assert nec_impedance.impedance(area_m2, "pvc").resistance_ohm_m == pytest.approx(
            direct, rel=0.04
        )


def test_unknown_raceway_is_refused():
    with pytest.raises(RangeError, match="pvc, aluminium, steel"):
        nec_impedance.impedance(gauge_area(12), "wood")


def test_size_for_a_drop_keeps_it_and_the_next_smaller_does_not():
    # 16 A, 200 ft, 240 V, pf 1: 3 % is 7.2 V; 2 * 16 * 0.2 kft * R <= 7.2: R <= 1.125 ohm/kft
    size, drop = nec_impedance.conductor_for_drop(16.0, 60.96, 240.0, 1, 1.0, "pvc", 0.03)
    assert size.name == "8 AWG"  # 0.78; 10 AWG has 1.2
    assert drop.drop_v == pytest.approx(2 * 16 * 0.2 * 0.78)


def test_drop_that_no_size_keeps_is_refused():
    with pytest.raises(RangeError, match=r"Even 600 kcmil drops more than 0\.1 %"):
        nec_impedance.conductor_for_drop(200.0, 300.0, 120.0, 1, 0.9, "steel", 0.001)
