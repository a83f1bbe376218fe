"""Potentiometer: limiting cases, inverses and refusals; Kirchhoff stands in tests/published."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import potentiometer as pot
from core.errors import RangeError

NAN = math.nan
TAPERS = st.sampled_from(["linear", "log", "reverse_log"])
SHARES = st.floats(0.0, 1.0)
OHMS = st.floats(100.0, 1e6)


@pytest.mark.parametrize("load_ohm", [1e3, 10e3, math.inf])
def test_ends_of_the_track_are_exact(load_ohm):
    assert pot.output_v(0.0, 10.0, 10e3, load_ohm) == 0.0
    assert pot.output_v(1.0, 10.0, 10e3, load_ohm) == 10.0
    assert pot.track_for_voltage(0.0, 10.0, 10e3, load_ohm) == 0.0
    assert pot.track_for_voltage(10.0, 10.0, 10e3, load_ohm) == pytest.approx(1.0, abs=1e-15)


def test_without_load_the_output_is_straight():
    assert pot.output_v(0.37, 10.0, 10e3, math.inf) == pytest.approx(3.7)
    assert pot.track_for_voltage(3.7, 10.0, 10e3, math.inf) == pytest.approx(0.37)


def test_supply_resistance_divides_by_hand():
    # 10 V, 1 kOhm in series, 9 kOhm pot, wiper at the top, no load: 10 * 9/10 = 9 V
    assert pot.output_v(1.0, 10.0, 9e3, math.inf, 1e3) == pytest.approx(9.0)


@given(track=SHARES, pot_ohm=OHMS, load_ohm=OHMS, supply_ohm=st.floats(0.0, 1e4))
def test_track_inverts_output(track, pot_ohm, load_ohm, supply_ohm):
    voltage = pot.output_v(track, 10.0, pot_ohm, load_ohm, supply_ohm)
    back = pot.track_for_voltage(voltage, 10.0, pot_ohm, load_ohm, supply_ohm)
    again = pot.output_v(back, 10.0, pot_ohm, load_ohm, supply_ohm)
    assert again == pytest.approx(voltage, rel=1e-9, abs=1e-12)
    # A heavy load makes the middle of the track nearly flat, so the position is less sharp there.
    assert back == pytest.approx(track, rel=1e-6, abs=1e-9)


@given(low=SHARES, high=SHARES, load_ohm=OHMS)
def test_output_never_falls_while_the_wiper_rises(low, high, load_ohm):
    low, high = sorted((low, high))
    lower, higher = (pot.output_v(track, 10.0, 10e3, load_ohm) for track in (low, high))
    assert lower <= higher + 1e-12


@pytest.mark.parametrize("wanted", [-0.1, 10.01, NAN, math.inf])
def test_wanted_voltage_outside_is_refused(wanted):
    with pytest.raises(RangeError):
        pot.track_for_voltage(wanted, 10.0, 10e3, 100e3)


def test_full_voltage_behind_a_supply_resistance_is_refused_with_the_range():
    # 10 * 10/(10 + 1) = 9.09 V at the top
    with pytest.raises(RangeError, match=r"0 to 9\.09091 V"):
        pot.track_for_voltage(9.5, 10.0, 10e3, math.inf, 1e3)


BAD = [
    (-0.1, 10, 10e3, 1e5, 0),
    (50, 10, 10e3, 1e5, 0),  # percent for a ratio
    (NAN, 10, 10e3, 1e5, 0),
    (0.5, 0, 10e3, 1e5, 0),
    (0.5, NAN, 10e3, 1e5, 0),
    (0.5, 10, 0, 1e5, 0),
    (0.5, 10, math.inf, 1e5, 0),
    (0.5, 10, 10e3, 0, 0),
    (0.5, 10, 10e3, NAN, 0),
    (0.5, 10, 10e3, 1e5, -1),
    (0.5, 10, 10e3, 1e5, NAN),
]


@pytest.mark.parametrize("arguments", BAD)
@pytest.mark.parametrize("function", [pot.output_v, pot.supply_current_a])
def test_bad_inputs_are_refused(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)


def test_end_to_end_current_by_hand():
    # 10 V over 10 kOhm: 1 mA; with 10 kOhm more in series: 0.5 mA
    assert pot.end_to_end_current_a(10.0, 10e3) == pytest.approx(1e-3)
    assert pot.end_to_end_current_a(10.0, 10e3, 10e3) == pytest.approx(0.5e-3)


def test_supply_current_at_the_top_is_both_in_parallel():
    # 10 kOhm parallel 40 kOhm = 8 kOhm: 1.25 mA
    assert pot.supply_current_a(1.0, 10.0, 10e3, 40e3) == pytest.approx(1.25e-3)


@pytest.mark.parametrize(
    ("volts", "ohms", "series"), [(0, 10e3, 0), (10, 0, 0), (10, 10e3, -1), (NAN, 1, 0)]
)
def test_end_to_end_current_refuses(volts, ohms, series):
    with pytest.raises(RangeError):
        pot.end_to_end_current_a(volts, ohms, series)


@given(load_ohm=OHMS, track=SHARES)
def test_nowhere_bends_more_than_the_worst(load_ohm, track):
    bend = pot.worst_bend(10e3, load_ohm)
    assert 2 / 3 <= bend.track < 1.0
    assert track - pot.output_v(track, 1.0, 10e3, load_ohm) <= bend.fall + 1e-12


def test_no_load_does_not_bend():
    bend = pot.worst_bend(10e3, math.inf)
    assert bend.fall == pytest.approx(0.0, abs=1e-12)
    assert bend.track == pytest.approx(2 / 3)


@pytest.mark.parametrize(("ohms", "load"), [(0, 1e5), (NAN, 1e5), (1e4, 0), (1e4, NAN)])
def test_worst_bend_refuses(ohms, load):
    with pytest.raises(RangeError):
        pot.worst_bend(ohms, load)


@pytest.mark.parametrize(
    ("taper", "at_half"),
    [
        ("linear", 0.5),
        ("log", 0.15),
        ("reverse_log", 0.85),
    ],  # common practice: 10 to 20 %, 15 taken
)
def test_taper_at_its_ends_and_middle(taper, at_half):
    assert pot.track_at_knob(0.0, taper) == 0.0
    assert pot.track_at_knob(0.5, taper) == pytest.approx(at_half)
    assert pot.track_at_knob(1.0, taper) == 1.0


def test_quarter_turns_of_a_log_track_by_hand():
    # two straight tracks: 0 to 0.15 and 0.15 to 1, halfway along each
    assert pot.track_at_knob(0.25, "log") == pytest.approx(0.075)
    assert pot.track_at_knob(0.75, "log") == pytest.approx(0.575)


@given(knob=SHARES, taper=TAPERS)
def test_knob_inverts_track(knob, taper):
    assert pot.knob_for_track(pot.track_at_knob(knob, taper), taper) == pytest.approx(
        knob, abs=1e-12
    )


@given(knob=SHARES)
def test_reverse_log_is_log_from_the_other_end(knob):
    mirrored = 1.0 - pot.track_at_knob(1.0 - knob, "log")
    assert pot.track_at_knob(knob, "reverse_log") == pytest.approx(mirrored, abs=1e-12)


@pytest.mark.parametrize(
    ("share", "taper"), [(50, "linear"), (-0.1, "log"), (NAN, "log"), (0.5, "wavy")]
)
@pytest.mark.parametrize("function", [pot.track_at_knob, pot.knob_for_track])
def test_taper_refuses(function, share, taper):
    with pytest.raises(RangeError):
        function(share, taper)
