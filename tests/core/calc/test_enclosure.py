"""Enclosures: identities between mountings, inverses, heights, whose value counts, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import enclosure
from core.errors import RangeError
from core.model.choices import MATERIALS, MOUNTINGS

NAN = math.nan
SIDE = st.floats(0.1, 2.0)

# The seven formulas as they are printed, apart from the sums of surfaces that the program forms.
FORMULAS = {
    "single_free": lambda h, w, d: 1.8 * h * (w + d) + 1.4 * w * d,
    "single_wall": lambda h, w, d: 1.4 * w * (h + d) + 1.8 * d * h,
    "end_free": lambda h, w, d: 1.4 * d * (h + w) + 1.8 * w * h,
    "end_wall": lambda h, w, d: 1.4 * h * (w + d) + 1.4 * w * d,
    "middle_free": lambda h, w, d: 1.8 * w * h + 1.4 * w * d + d * h,
    "middle_wall": lambda h, w, d: 1.4 * w * (h + d) + d * h,
    "middle_wall_covered": lambda h, w, d: 1.4 * w * h + 0.7 * w * d + d * h,
}


def test_every_mounting_and_material_of_the_line_file_is_known():
    assert set(FORMULAS) == set(MOUNTINGS)
    for material in MATERIALS:
        assert enclosure.wall_conductance_w_m2_k(material) > 0.0


@pytest.mark.parametrize("mounting", FORMULAS)
@given(height=SIDE, width=SIDE, depth=SIDE)
def test_area_by_the_printed_formula(mounting, height, width, depth):
    area = enclosure.effective_area_m2(height, width, depth, mounting)
    assert area == pytest.approx(FORMULAS[mounting](height, width, depth))


@given(height=SIDE, width=SIDE, depth=SIDE)
def test_the_more_is_covered_the_less_gets_out(height, width, depth):
    order = ("single_free", "end_free", "middle_free", "middle_wall", "middle_wall_covered")
    areas = [enclosure.effective_area_m2(height, width, depth, mounting) for mounting in order]
    assert areas == sorted(areas, reverse=True)


def test_no_heat_no_rise():
    assert enclosure.inside_rise_k(0.0, 1.0, 5.5) == 0.0


@given(st.floats(1.0, 500.0), st.floats(0.3, 3.0), st.floats(0.0, 0.1), st.floats(0.0, 3000.0))
def test_allowed_heat_inverts_the_rise(heat, area, flow, altitude):
    rise = enclosure.inside_rise_k(heat, area, 5.5, flow, altitude)
    back = enclosure.allowed_heat_w(300.0 + rise, 300.0, area, 5.5, flow, altitude)
    assert back == pytest.approx(heat, rel=1e-6)


@given(st.floats(1.0, 500.0), st.floats(1.0, 30.0), st.floats(0.0, 3000.0))
def test_fan_alone_holds_the_rise_it_was_chosen_for(heat, rise, altitude):
    flow = enclosure.fan_flow_m3_s(heat, rise, altitude)
    walls = 1e-9  # as good as none
    assert enclosure.inside_rise_k(heat, walls, 1.0, flow, altitude) == pytest.approx(rise)


def test_thin_air_asks_for_more_of_it():
    at_sea, high = (
        enclosure.fan_flow_m3_s(100.0, 10.0),
        enclosure.fan_flow_m3_s(100.0, 10.0, 2000.0),
    )
    # Standard atmosphere: 795.0 hPa at 2000 m against 1013.25 (from memory)
    assert high / at_sea == pytest.approx(1013.25 / 795.0, rel=1e-3)


def test_stated_losses_win():
    assert enclosure.drive_losses_w(38.0, 750.0).basis == "stated"
    assert enclosure.drive_losses_w(None, 750.0).is_estimate


def test_estimated_losses_between_ratings_by_hand():
    # 0.75 kW 142 W and 1.1 kW 163 W: 0.925 kW halfway, 152.5 W
    assert enclosure.drive_losses_w(None, 925.0).value == pytest.approx(152.5)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (enclosure.effective_area_m2, (0, 0.6, 0.25, "single_wall")),
        (enclosure.effective_area_m2, (800, 600, 250, "single_wall")),  # millimetres
        (enclosure.effective_area_m2, (0.8, NAN, 0.25, "single_wall")),
        (enclosure.effective_area_m2, (0.8, 0.6, 0.25, "hanging")),
        (enclosure.wall_conductance_w_m2_k, ("wood",)),
        (enclosure.air_heat_j_m3_k, (20000,)),
        (enclosure.air_heat_j_m3_k, (NAN,)),
        (enclosure.inside_rise_k, (-1, 1.2, 5.5)),
        (enclosure.inside_rise_k, (60, 0, 5.5)),
        (enclosure.inside_rise_k, (60, 1.2, NAN)),
        (enclosure.inside_rise_k, (60, 1.2, 5.5, -0.1)),
        (enclosure.allowed_heat_w, (313.15, 313.15, 1.2, 5.5)),
        (enclosure.allowed_heat_w, (303.15, 313.15, 1.2, 5.5)),
        (enclosure.allowed_heat_w, (NAN, 313.15, 1.2, 5.5)),
        (enclosure.fan_flow_m3_s, (-1, 10)),
        (enclosure.fan_flow_m3_s, (100, 0)),
        (enclosure.drive_losses_w, (0.0, 750)),
        (enclosure.drive_losses_w, (None, None)),
        (enclosure.drive_losses_w, (None, 0.75)),  # kilowatts for watts
        (enclosure.drive_losses_w, (None, 15e3)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
