"""Drive types ranked for a station: what fits comes first, and each says why."""

import dataclasses

from core.line.choice import rank_drive_types
from core.model import Cable, Supply
from tests.core.line.builders import DRIVE_TYPE, line, station

FITS = dataclasses.replace(
    DRIVE_TYPE,
    name="fits",
    input_phases="1",
    input_voltage_min_v=200.0,
    input_voltage_max_v=253.0,
    output_voltage_v=230.0,
    output_current_a=7.8,
    overload=1.5,
)


def ranked(*kinds, **changes):
    numbered = [dataclasses.replace(kind, id=n) for n, kind in enumerate(kinds, start=1)]
    return rank_drive_types(line(drive_types=tuple(numbered)), station(**changes))


def names(choices, fits=True):
    return [choice.drive_type.name for choice in choices if choice.fits is fits]


def test_what_fits_comes_first_and_the_closest_before_the_larger():
    small = dataclasses.replace(FITS, name="small", output_current_a=5.0)
    large = dataclasses.replace(FITS, name="large", output_current_a=11.0)
    # The motor asks 6.4 A: 5 A is too little, 7.8 A closer than 11 A.
    choices = ranked(large, small, FITS)
    assert names(choices) == ["fits", "large"]
    assert "gives 5 A, motors ask 6.4 A" in choices[-1].in_one_line


def test_a_needlessly_large_drive_is_told_but_fits():
    huge = dataclasses.replace(FITS, name="huge", output_current_a=20.0)
    (choice,) = ranked(huge)
    assert choice.fits
    assert "larger than needed" in choice.in_one_line


def test_three_phase_drive_on_one_phase_needs_its_makers_word():
    three = dataclasses.replace(FITS, name="three", input_phases="3", output_current_a=14.0)
    assert names(ranked(three), fits=False) == ["three"]
    # 14 A at half is 7 A, still above the motor's 6.4 A.
    allowed = dataclasses.replace(three, derated_1ph=0.5)
    (choice,) = ranked(allowed)
    assert choice.fits
    assert "gives 7 A (50 % of rated)".replace(" %", "%") in choice.in_one_line


def test_wrong_voltage_class_is_ruled_out():
    high = dataclasses.replace(FITS, name="high", input_voltage_min_v=360, input_voltage_max_v=440)
    assert names(ranked(high), fits=False) == ["high"]


def test_a_connection_that_could_be_changed_is_advice_not_the_end():
    motor = dataclasses.replace(station().motors[0], connected_for="high", current_high_a=3.2)
    (choice,) = ranked(FITS, motors=(motor,))
    assert choice.fits
    assert "reconnect the motor for 230 V" in choice.in_one_line


def test_long_motor_cable_speaks_against():
    short = dataclasses.replace(FITS, motor_cable_max_m=10.0)
    (choice,) = ranked(short, cables=(Cable(1, "motor", length_m=30.0),))
    assert "motor cable at most 10 m" in choice.in_one_line


def test_what_is_not_entered_is_said():
    bare = dataclasses.replace(DRIVE_TYPE, name="bare")
    (choice,) = ranked(bare)
    assert "not entered" in choice.in_one_line


def test_no_feed_no_guess():
    supply = Supply(1, "shed", None)
    choices = rank_drive_types(line(drive_types=(FITS,), supplies=(supply,)), station())
    assert "feed of the station not entered" in choices[0].in_one_line
