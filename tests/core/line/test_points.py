"""Points of a reference where a formula refuses: they stay empty, and nothing ends in an error."""

from core.line import compute_line
from tests.core.line.findings.sound import change, keyed, line


def points(station):
    return compute_line(line(station)).stations[0].points


def test_points_too_far_above_rated_frequency_have_a_frequency_and_no_speed():
    # Half load at 120 of 50 Hz: 0.5 * (120/50)² = 2.88 times rated slip, beyond the straight part.
    found = points(keyed(hz_max=120, high=120))
    assert found[-1].frequency_hz == 120.0
    assert found[-1].motor_rad_s is None
    assert found[1].motor_rad_s is not None


def test_points_of_a_belt_that_is_no_belt_have_no_surface_speed():
    found = points(change(drivetrain={"belt_thickness_m": 0.5}))
    assert found[-1].shaft_rad_s is not None
    assert found[-1].surface_m_s is None


def test_points_of_a_frequency_that_no_drive_has_are_empty():
    held = change(keyed(hz_max=100000), reference={"source": "keypad"})
    assert {point.frequency_hz for point in points(held)} == {None}


def test_a_shortest_ramp_at_a_speed_that_is_not_reached_lacks_the_speed():
    (entry,) = compute_line(line(keyed(hz_max=120))).stations
    assert entry.figures["acceleration_shortest_s"].value is None
    assert entry.figures["acceleration_shortest_s"].lacks == ("speed",)
