"""Parts of a speed's budget: drawn values beside the formula, limits, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import motor
from core.calc import speed_parts as sp
from core.errors import RangeError

NAN = math.nan
DRAWS = 200_000


def drawn(seed=1):
    return np.random.default_rng(seed).uniform(-1.0, 1.0, DRAWS)


@pytest.mark.parametrize(
    ("shape", "divisor"),
    [("rectangular", math.sqrt(3)), ("triangular", math.sqrt(6)), ("normal k=2", 2.0)],
)
def test_each_shape_by_its_divisor(shape, divisor):
    assert sp.half_width_to_u(0.6, shape) == pytest.approx(0.6 / divisor)


def test_rectangular_where_nothing_is_said():
    assert sp.half_width_to_u(3.0) == pytest.approx(math.sqrt(3))


def test_unknown_shape_lists_the_known():
    with pytest.raises(RangeError, match="rectangular, triangular, normal k=2"):
        sp.half_width_to_u(1.0, "normal")


def test_frequency_part_against_motor_speeds():
    """A step either side of 30 Hz, through the motor's own relation, slip included."""
    rated_slip = motor.rated_slip_rad_s(1725 * math.pi / 30, 60.0, 4)
    slip_hz = rated_slip / (4 * math.pi / 4)

    def speed(frequency_hz):
        return motor.speed_at_rad_s(frequency_hz, 4, rated_slip, 1.0)

    relative = (speed(30.2) - speed(29.8)) / (2 * speed(30.0))
    part = sp.speed_part(0.2, 30.0, "knob", slip_hz)
    assert (part.name, part.shared) == ("knob", 0.0)
    assert part.relative_u == pytest.approx(relative)
    assert part.relative_u > sp.speed_part(0.2, 30.0).relative_u


def test_slip_part_against_drawn_loads():
    """Load 0.6 ± 0.3 of rated at 40 Hz: spread of the motor's speed over its mean."""
    rated_slip = motor.rated_slip_rad_s(1440 * math.pi / 30, 50.0, 4)
    field = motor.synchronous_speed_rad_s(40.0, 4)
    speeds = field - rated_slip * (0.6 + 0.3 * drawn())
    middle = motor.speed_at_rad_s(40.0, 4, rated_slip, 0.6)
    found = sp.slip_part(0.3, rated_slip, middle).relative_u
    assert found == pytest.approx(float(np.std(speeds)) / middle, rel=5e-3)


def test_diameter_part_against_drawn_diameters():
    diameters = 0.127 + 0.002 * drawn()
    found = sp.diameter_part(0.002, 0.127).relative_u
    assert found == pytest.approx(float(np.std(diameters)) / 0.127, rel=5e-3)


def test_wear_is_one_sided_and_counts_about_the_new_diameter():
    lost = 0.003 * (1.0 + drawn())  # 0 to 6 mm
    found = sp.wear_part(0.006, 0.12).relative_u
    assert found == pytest.approx(float(np.sqrt(np.mean(lost**2))) / 0.12, rel=5e-3)
    assert found == pytest.approx(2.0 * sp.diameter_part(0.003, 0.12).relative_u)


@given(st.floats(0.0, 5.0), st.floats(1.0, 100.0), st.floats(1.1, 10.0))
def test_slower_station_is_less_sure(u_hz, frequency_hz, times):
    slow = sp.speed_part(u_hz, frequency_hz).relative_u
    assert sp.speed_part(u_hz, times * frequency_hz).relative_u == pytest.approx(slow / times)


def test_what_is_sure_has_no_part():
    found = (
        sp.speed_part(0.0, 40.0),
        sp.slip_part(0.0, 6.0, 120.0),
        sp.slip_part(0.3, 0.0, 120.0),
        sp.diameter_part(0.0, 0.1),
        sp.wear_part(0.0, 0.1),
    )
    assert [part.relative_u for part in found] == [0.0] * 5


def test_parts_carry_their_correlation():
    assert sp.speed_part(0.1, 40.0, "signal", shared=1.0).shared == 1.0
    assert [
        part.shared
        for part in (
            sp.slip_part(0.1, 6.0, 120.0, 0.5),
            sp.diameter_part(0.001, 0.1, -0.5),
            sp.wear_part(0.001, 0.1, True),
        )
    ] == [0.5, -0.5, 1.0]


@pytest.mark.parametrize(
    ("function", "arguments", "told"),
    [
        (sp.half_width_to_u, (-0.1,), "half width"),
        (sp.half_width_to_u, (NAN,), "no number"),
        (sp.speed_part, (-0.1, 40.0), "uncertainty of the frequency"),
        (sp.speed_part, (0.1, 0.0), "stands"),
        (sp.speed_part, (0.1, 2.0, "knob", 2.0), "stands"),
        (sp.speed_part, (0.1, NAN), "no number"),
        (sp.speed_part, (0.1, 40.0, "knob", -1.0), "slip"),
        (sp.speed_part, (0.1, 40.0, "knob", 0.0, 1.2), "correlation of knob"),
        (sp.slip_part, (-0.1, 6.0, 120.0), "swing"),
        (sp.slip_part, (30.0, 6.0, 120.0), "swing"),
        (sp.slip_part, (0.3, -6.0, 120.0), "rated slip"),
        (sp.slip_part, (0.3, 6.0, 0.0), "motor's speed"),
        (sp.slip_part, (0.3, 6.0, 120.0, NAN), "correlation of slip"),
        (sp.diameter_part, (-0.001, 0.1), "limits of the diameter"),
        (sp.diameter_part, (0.001, 0.0), "diameter"),
        (sp.diameter_part, (0.1, 0.1), "nothing would be left"),
        (sp.diameter_part, (0.001, 0.1, -2.0), "correlation of diameter"),
        (sp.wear_part, (-0.001, 0.1), "wear"),
        (sp.wear_part, (0.2, 0.1), "nothing would be left"),
        (sp.wear_part, (NAN, 0.1), "no number"),
        (sp.wear_part, (0.001, 0.1, 1.5), "correlation of wear"),
    ],
)
def test_nonsense_is_refused(function, arguments, told):
    with pytest.raises(RangeError, match=told):
        function(*arguments)
