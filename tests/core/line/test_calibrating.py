"""A station's reference as read: deviations, limit, readings held by the drive, what to set."""

import dataclasses
import math

import numpy as np
import pytest

from core.line import compute_line
from core.line.calibrating import PLACES, calibration_of, stations_to_calibrate
from core.line.correcting import mending_of, settings_to_store
from core.model import CalibrationPoint, SpeedReference
from tests.core.line.builders import DRIVE_TYPE, line, settings, station

# A signal that nobody entered an accuracy for: ± 0.5 % of 60 Hz; the drive's step of 0.01 Hz.
# GUM: each even between its limits, twice the root of the squares: 2 · √(0.3²/3 + 0.005²/3).
LIMIT_HZ = 2.0 * math.sqrt((0.3**2 + 0.005**2) / 3.0)


def points(hertz_at, state="found", ways=("up", "down"), **more):
    made = []
    for way in ways:
        for place in PLACES if way == "up" else PLACES[::-1]:
            number = len(made) + 1 + (100 if state == "left" else 0)
            made.append(
                CalibrationPoint(number, 1, state, way, place, hertz_at(place, way), **more)
            )
    return tuple(made)


def ends(direction, bottom, top, state="found"):
    return tuple(
        CalibrationPoint(1000 + number, 1, state, direction, float(number), hertz)
        for number, hertz in enumerate((bottom, top))
    )


def calibrated(held, *readings, state="found", drive_type=DRIVE_TYPE):
    made = line(held, calibration_points=readings, drive_types=(drive_type,))
    return calibration_of(compute_line(made), held.id, state)


def with_settings(**shown):
    held = station()
    given = {"hz_max": 60, "hz_min": 0, "ref_low": 0, "ref_high": 60, "ref_range": 0, **shown}
    return dataclasses.replace(
        held, drive=dataclasses.replace(held.drive, settings=settings(**given))
    )


def listed(**changes):
    """The drive type with other words in the line of a setting's code (``_`` for ``-``)."""
    lines = tuple(
        dataclasses.replace(entry, **changes.get(entry.code.replace("-", "_"), {}))
        for entry in DRIVE_TYPE.listed_settings
    )
    return dataclasses.replace(DRIVE_TYPE, listed_settings=lines)


BELOW_ZERO = listed(ref_low={"minimum": "-10.00"})


def narrow(place, _way):
    """A source that gives 2.5 % of its span at the bottom and 97.5 % at the top."""
    return 60.0 * (0.025 + 0.95 * place)


# --- judged ---------------------------------------------------------------------------------


def test_the_limit_is_the_combined_uncertainty_of_the_chain():
    held = calibrated(station(), *points(lambda x, _: 60.0 * x))
    assert held.limit_hz == pytest.approx(LIMIT_HZ)
    assert held.figures["calibration_limit_hz"].assumed == "signal ± 0.5 %"


@pytest.mark.parametrize(
    ("off", "holds"), [(0.34, True), (0.36, False), (-0.34, True), (-0.36, False)]
)
def test_readings_hold_as_far_as_the_limit_goes(off, holds):
    assert 0.34 < LIMIT_HZ < 0.36
    held = calibrated(
        station(), *points(lambda x, _: 60.0 * x + (off if x == 0.5 else 0.0), ways=("up",))
    )
    assert held.holds is holds
    assert held.figures["calibration_worst_hz"].value == pytest.approx(off)
    middle = next(entry for entry in held.points if entry.point.share == 0.5)
    assert (middle.wanted_hz, middle.is_within) == (30.0, holds)
    assert middle.deviation_hz == pytest.approx(off)


def test_figures_are_those_of_an_independent_regression():
    rng = np.random.default_rng(5)
    noise = {(x, way): rng.normal(0.0, 0.2) for x in PLACES for way in ("up", "down")}

    def read(x, way):
        return (
            1.0 + 57.0 * x + 3.0 * x * (1.0 - x) + noise[x, way] + (0.3 if way == "down" else 0.0)
        )

    run = points(read)
    x = np.array([point.share for point in run])
    f = np.array([point.frequency_hz for point in run])
    span, zero = np.polyfit(x, f, 1)
    low, high = (f[x == place].mean() for place in (0.0, 1.0))
    expected = {
        "calibration_zero_hz": zero,
        "calibration_span_hz": span - 60.0,
        "calibration_linearity_best_hz": np.abs(f - zero - span * x).max(),
        "calibration_linearity_terminal_hz": np.abs(f - low - (high - low) * x).max(),
        "calibration_hysteresis_hz": max(abs(read(p, "up") - read(p, "down")) for p in PLACES),
    }
    found = calibrated(station(), *run).figures
    for key, value in expected.items():
        assert found[key].value == pytest.approx(float(value), abs=1e-8), key


def test_one_way_only_has_no_hysteresis_and_says_what_it_needs():
    held = calibrated(station(), *points(lambda x, _: 60.0 * x, ways=("up",)))
    figure = held.figures["calibration_hysteresis_hz"]
    assert figure.value is None
    assert figure.lacks == ("readings up and down at one place",)


def test_one_place_only_says_why_there_is_no_line():
    held = calibrated(station(), CalibrationPoint(1, 1, "found", "up", 0.5, 30.2))
    figure = held.figures["calibration_zero_hz"]
    assert figure.value is None
    assert "two places" in figure.problem
    assert held.figures["calibration_worst_hz"].value == pytest.approx(0.2)
    assert mending_of(held) is None


def test_without_readings_nothing_is_judged():
    held = calibrated(station())
    assert (held.holds, held.points, mending_of(held)) == (None, (), None)
    assert held.figures["calibration_worst_hz"].lacks == ("readings",)


def test_an_unknown_chain_sets_no_limit_but_readings_still_tell():
    open_ended = station(reference=SpeedReference(1, "voltage", input_name="V in"))
    held = calibrated(open_ended, *points(lambda x, _: 60.0 * x + 0.2))
    assert (held.limit_hz, held.holds) == (None, None)
    assert held.figures["calibration_zero_hz"].value == pytest.approx(0.2)


def test_states_are_kept_apart():
    found, left = points(narrow), points(lambda x, _: 60.0 * x, "left")
    assert calibrated(station(), *found, *left).holds is False
    assert calibrated(station(), *found, *left, state="left").holds is True


def test_wired_stations_come_first():
    keypad = station(id=1, reference=SpeedReference(1, "keypad", now_hz=30.0))
    results = compute_line(line(keypad, station(id=2, tag="ST02"), station(id=3, tag="ST03")))
    assert [held.station.id for held in stations_to_calibrate(results)] == [2, 3, 1]


# --- held by the drive ----------------------------------------------------------------------


def test_a_reading_at_the_minimum_is_no_fault_of_the_reference():
    held = calibrated(with_settings(hz_min=6), *points(lambda x, _: max(6.0, 60.0 * x)))
    assert [(p.point.share, p.held, p.deviation_hz) for p in held.held] == [
        (0.0, "minimum", 0.0),
        (0.0, "minimum", 0.0),
    ]
    # The line of the others goes through zero as wanted.
    assert held.figures["calibration_zero_hz"].value == pytest.approx(0.0, abs=1e-9)
    assert held.holds is True


def test_a_signal_that_is_at_its_end_too_early_is_told_as_deviation():
    # 60 · 4/3 · x, held at 60 Hz from 75 % on: wanted 45 Hz there.
    held = calibrated(station(), *points(lambda x, _: min(60.0, 80.0 * x), ways=("up",)))
    assert [(p.point.share, p.held) for p in held.held] == [(1.0, "maximum")]
    assert held.holds is False
    assert held.figures["calibration_worst_hz"].value == pytest.approx(15.0)
    assert held.figures["calibration_span_hz"].value == pytest.approx(20.0)


def test_a_reading_that_just_meets_the_maximum_counts():
    held = calibrated(station(), *points(lambda x, _: 60.0 * x))
    assert held.held == ()


# --- what to set ----------------------------------------------------------------------------


def test_both_ends_are_corrected_where_the_list_allows_it():
    held = calibrated(station(), *points(narrow), drive_type=BELOW_ZERO)
    mending = mending_of(held)
    # Signal 0.025 to 0.975: span 60 / 0.95 = 63.158, bottom -0.025 · 63.158 = -1.579.
    assert [(c.code, c.now, c.new) for c in mending.corrections] == [
        ("ref-low", "0.00", "-1.58"),
        ("ref-high", "60.00", "61.58"),
    ]
    # 0.975 · 63.16 - 1.58 = 60.001, held at 60; 0.5 · 63.16 - 1.58 = 30.000.
    assert mending.after.value == pytest.approx(0.0, abs=0.0011)
    assert mending.after_holds is True
    assert settings_to_store(mending) == {"ref-low": "-1.58", "ref-high": "61.58"}


def test_an_end_out_of_its_range_stays_and_the_other_one_comes_right_alone():
    mending = mending_of(calibrated(station(), *points(narrow)))
    bottom, top = mending.corrections
    assert (bottom.new, bottom.is_change) == ("0.00", False)
    assert "-1.58 Hz would be needed; the list goes down to 0 Hz." in bottom.notes
    # 60 / 0.975 = 61.538
    assert top.new == "61.54"
    assert "Above the maximum frequency of 60 Hz, which goes on holding." in top.notes
    # At the bottom 0.025 · 61.54 = 1.5385 Hz are left.
    assert mending.after.value == pytest.approx(1.5385, abs=6e-4)
    assert mending.after_holds is False


def test_an_end_that_is_off_by_less_than_the_keypad_shows_is_told_to_be_right():
    # 57.70 Hz at the top and 0.00 at the bottom, each reading rounded to 0.01 Hz: the line through
    # them meets 0 % within a few thousandths of a hertz, which no keypad can be set to.
    read = points(lambda place, _way: round(57.7 * place, 2))
    drifted = points(lambda place, _way: round(57.7 * place + 0.001, 3))
    for held in (read, drifted):
        bottom, top = mending_of(calibrated(station(), *held)).corrections
        assert (bottom.new, bottom.is_change) == ("0.00", False)
        assert not any("would be needed" in note for note in bottom.notes)
        # 60 · 60 / 57.7 = 62.392; 0.002 Hz less where the reading stands 0.001 Hz higher.
        assert top.new == "62.39"


def test_a_top_out_of_its_range_lets_the_bottom_come_right():
    short = listed(ref_low={"minimum": "-10.00"}, ref_high={"maximum": "60.00"})
    bottom, top = mending_of(calibrated(station(), *points(narrow), drive_type=short)).corrections
    assert top.new == "60.00"
    # (0 - 0.025 · 60) / 0.975 = -1.538
    assert bottom.new == "-1.54"
    assert any("goes up to 60 Hz" in note for note in top.notes)


def test_the_keypads_resolution_is_that_of_its_list_or_register():
    coarse = listed(
        ref_low={"minimum": "-10.0", "factory": "0.0"},
        ref_high={"factory": "60.0", "register_scale": 0.5},
    )
    bottom, top = mending_of(calibrated(station(), *points(narrow), drive_type=coarse)).corrections
    assert (bottom.new, top.new) == ("-1.6", "61.5")


def test_a_drive_without_a_setting_for_an_end_says_so():
    kept = tuple(entry for entry in DRIVE_TYPE.listed_settings if entry.code != "ref-low")
    lacking = dataclasses.replace(DRIVE_TYPE, listed_settings=kept)
    bottom, top = mending_of(calibrated(station(), *points(narrow), drive_type=lacking)).corrections
    assert (bottom.code, bottom.new) == ("", "")
    assert "The drive type's list names no setting for this end." in bottom.notes
    assert top.new == "61.54"


def test_a_setting_nobody_knows_the_value_of_says_so():
    unknown = listed(ref_low={"factory": ""})
    held = station()
    entered = settings(hz_max=60, hz_min=0, ref_high=60, ref_range=0)
    held = dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=entered))
    bottom, _ = mending_of(calibrated(held, *points(narrow), drive_type=unknown)).corrections
    assert bottom.new == ""
    assert "ref-low has no value entered: read it at the keypad first." in bottom.notes


def test_a_maximum_that_is_the_top_too_is_set_and_said():
    kept = tuple(entry for entry in DRIVE_TYPE.listed_settings if entry.code != "ref-high")
    single = dataclasses.replace(DRIVE_TYPE, listed_settings=kept)
    _, top = mending_of(calibrated(station(), *points(narrow), drive_type=single)).corrections
    assert (top.code, top.new) == ("hz-max", "61.54")
    assert "It is the maximum frequency as well." in top.notes


def test_once_set_the_readings_as_found_ask_for_nothing_more():
    kept = (*ends("wanted", 0.0, 60.0), *ends("set", 0.0, 60.0))
    mended = with_settings(ref_high=61.54)
    held = calibrated(mended, *points(narrow), *kept)
    assert held.figures["calibration_span_hz"].value == pytest.approx(-3.0)
    _, top = mending_of(held).corrections
    assert (top.now, top.new, top.is_change) == ("61.54", "61.54", False)
    assert "It stood at 60 Hz while this was read." in top.notes


def test_readings_as_left_are_judged_by_what_was_wanted_before_it_was_set():
    # 61.54 · 0.025 = 1.5385 at the bottom, 61.54 · 0.975 = 60.0015 at the top, which is held at 60.
    mended = with_settings(ref_high=61.54)
    left = points(lambda x, _: min(60.0, 61.54 * (0.025 + 0.95 * x)), "left")
    kept = (*ends("wanted", 0.0, 60.0), *ends("set", 0.0, 60.0))
    held = calibrated(mended, *points(narrow), *kept, *left, state="left")
    assert (held.wanted.top_hz, held.wanted.assumed) == (60.0, False)
    top = next(entry for entry in held.points if entry.point.share == 1.0)
    assert top.deviation_hz == pytest.approx(0.0, abs=1e-9)
    # It stands where it has to, so nothing is left to change at the top.
    assert mending_of(held).corrections[1].new == "61.54"


def test_a_reference_that_moves_nothing_says_that_no_setting_helps():
    mending = mending_of(calibrated(station(), *points(lambda _x, _way: 30.0)))
    assert mending.corrections == ()
    assert "does not change" in mending.after.problem


# --- speed beside frequency -----------------------------------------------------------------


def test_a_speed_by_tachometer_stands_beside_the_speed_of_the_frequency_read():
    # 4 poles without slip at 30 Hz: 900 rpm, by 20 : 1 45 rpm; π · 0.1 m · 45 / 60 = 0.23562 m/s.
    held = calibrated(station(), CalibrationPoint(1, 1, "found", "up", 0.5, 30.0, 0.2427))
    [entry] = held.points
    assert entry.computed_m_s == pytest.approx(math.pi * 0.1 * 45.0 / 60.0)
    assert entry.speed_share == pytest.approx(0.2427 / (math.pi * 0.1 * 0.75) - 1.0)
    # The budget at 30 Hz: 2 · 0.17325 / 30 = 1.155 %; 3 % more is outside.
    assert entry.speed_is_within is False


def test_a_reading_that_the_drive_cannot_have_shown_is_told():
    # Limits of 20 and 60 Hz; the drive shows two decimals: half of the last digit is let pass.
    held = with_settings(hz_min=20)
    read = {0.0: 19.9, 0.25: 19.996, 0.5: 30.0, 0.75: 60.004, 1.0: 60.1}
    found = calibrated(held, *points(lambda x, _: read[x], ways=("up",)))
    assert [entry.beyond for entry in found.points] == [True, False, False, False, True]
