"""Motors against published formulas worked by hand and against the Kloss torque curve."""

import math

import pytest

from core.calc import motor

RPM = math.pi / 30
HP_W = 745.69987  # mechanical horsepower, 550 ft lbf/s
LB_FT = 1.355818  # pound-force foot in N m


@pytest.mark.parametrize(
    ("hz", "poles", "rpm"),
    # ns = 120 f / p, the formula of every textbook of machines, worked by hand
    [(60, 4, 1800), (50, 4, 1500), (60, 6, 1200), (50, 2, 3000), (50, 6, 1000)],
)
def test_synchronous_speed(hz, poles, rpm):
    assert motor.synchronous_speed_rad_s(hz, poles) / RPM == pytest.approx(rpm)


@pytest.mark.parametrize(
    ("rpm", "field_rpm", "slip"),
    # s = (ns - n) / ns worked by hand to five places
    [
        (1750, 1800, 0.02778),
        (1440, 1500, 0.0400),
        (1415, 1500, 0.05667),
        (3450, 3600, 0.04167),
        (1140, 1200, 0.0500),
    ],
)
def test_slip(rpm, field_rpm, slip):
    assert motor.slip(rpm * RPM, field_rpm * RPM) == pytest.approx(slip, abs=5e-6)


@pytest.mark.parametrize(
    ("kilowatts", "rpm", "torque"),
    # T = 9549.3 P[kW] / n, the trade's formula (9549.3 = 30000 / pi), worked by hand
    [
        (0.75, 1440, 4.974),
        (1.5, 1430, 10.017),
        (2.2, 2860, 7.346),
        (4.0, 1450, 26.343),
        (0.37, 910, 3.883),
    ],
)
def test_torque_of_metric_nameplates(kilowatts, rpm, torque):
    assert motor.rated_torque_n_m(kilowatts * 1e3, rpm * RPM) == pytest.approx(torque, abs=6e-4)


@pytest.mark.parametrize(
    ("hp", "rpm", "torque_lb_ft"),
    # T = 5252.1 hp / n, the trade's formula (5252.1 = 33000 / 2 pi), worked by hand
    [(1, 1750, 3.001), (3, 1750, 9.0036), (5, 3500, 7.503), (0.5, 1140, 2.304), (10, 1765, 29.757)],
)
def test_torque_of_us_nameplates(hp, rpm, torque_lb_ft):
    torque = motor.rated_torque_n_m(hp * HP_W, rpm * RPM) / LB_FT
    assert torque == pytest.approx(torque_lb_ft, abs=6e-4)


@pytest.mark.parametrize(
    ("watts", "volts", "efficiency", "power_factor", "phases", "amperes"),
    # I = P / (sqrt 3 U eta cos phi), single-phase without sqrt 3, worked by hand
    [
        (750, 400, 0.825, 0.75, 3, 1.750),
        (1500, 400, 0.853, 0.79, 3, 3.213),
        (2200, 230, 0.867, 0.80, 3, 7.962),
        (4000, 400, 0.886, 0.82, 3, 7.947),
        (370, 230, 0.773, 0.71, 3, 1.692),
        (HP_W, 230, 0.855, 0.76, 3, 2.881),
        (5 * HP_W, 460, 0.895, 0.82, 3, 6.376),
        (750, 120, 0.70, 0.65, 1, 13.74),
    ],
)
def test_full_load_current(watts, volts, efficiency, power_factor, phases, amperes):
    current = motor.full_load_current_a(watts, volts, power_factor, efficiency, phases)
    assert current == pytest.approx(amperes, rel=4e-4)


def kloss_slip(torque, breakdown_torque):
    """Slip over breakdown slip at a torque: T = 2 Tk / (s/sk + sk/s), stable branch."""
    quotient = breakdown_torque / torque
    return quotient - math.sqrt(quotient**2 - 1.0)


@pytest.mark.parametrize("load", [0.3, 0.5, 0.8])
@pytest.mark.parametrize("hz", [20.0, 40.0, 50.0, 60.0, 65.0])
def test_straight_line_follows_the_kloss_curve(load, hz):
    # Kloss's torque curve (Kloss 1910, in textbooks of machines; from memory). Breakdown torque
    # three times rated, falling with (fb/f)^2 above base; breakdown slip constant as a speed.
    slip_share = kloss_slip(load, 3.0 * min(1.0, 50.0 / hz) ** 2) / kloss_slip(1.0, 3.0)
    expected_rpm = 30.0 * hz - 60.0 * slip_share  # 4 poles, 60 r/min rated slip
    computed_rpm = motor.speed_at_rad_s(hz, 4, 60 * RPM, load, 50.0) / RPM
    # The straight line leaves the curve by 2 r/min or so; ignoring the weaker field costs 18.
    assert computed_rpm == pytest.approx(expected_rpm, abs=2.5)
