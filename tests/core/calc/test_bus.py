"""Serial buses: both sides of each limit, a circuit solved on its own, refusals."""

import math

import numpy as np
import pytest

from core.calc import bus
from core.errors import RangeError
from core.model.choices import PARITIES

NAN = math.nan


def test_every_parity_of_the_line_file_is_known():
    assert [bus.character_bits(parity) for parity in PARITIES] == [11, 11, 11]


@pytest.mark.parametrize(
    ("parity", "stops", "bits"), [("even", 1, 11), ("odd", 2, 12), ("none", 1, 10), ("none", 2, 11)]
)
def test_bits(parity, stops, bits):
    assert bus.character_bits(parity, stops) == bits


@pytest.mark.parametrize("gap", ["frame", "character"])
def test_gaps_shrink_with_speed_and_never_below_the_fixed_ones(gap):
    gaps = [bus.silent_gap_s(speed, gap=gap) for speed in (9600, 19200, 38400, 115200)]
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[-1] == gaps[-2] == bus.GAPS[gap][1]


def test_reply_grows_by_two_characters_for_each_register():
    assert bus.read_lengths(1) == (8, 7)
    assert bus.read_lengths(125) == (8, 255)


def test_twice_the_speed_halves_all_but_the_drives_own_time():
    slow = bus.exchange_time_s(8, 8, 4800, turnaround_s=0.0)
    assert bus.exchange_time_s(8, 8, 9600, turnaround_s=0.0) == pytest.approx(slow / 2)
    waiting = bus.exchange_time_s(8, 8, 9600, turnaround_s=0.05)
    assert waiting == pytest.approx(slow / 2 + 0.05)


def test_round_is_the_sum_of_its_exchanges():
    assert bus.poll_time_s(()) == 0.0
    assert bus.poll_time_s((0.02,) * 10) == pytest.approx(0.2)
    assert bus.poll_time_s((0.02,) * 9, 1, 1.0) == pytest.approx(1.18)


def test_unit_loads():
    assert bus.unit_load_fit((1.0,) * 32).fits
    assert not bus.unit_load_fit((1.0,) * 33).fits
    assert bus.unit_load_fit((0.25,) * 128).fits


@pytest.mark.parametrize(
    ("ends", "between", "fits"),
    [
        ((True, True), 0, True),
        ((True, False), 0, False),
        ((False, True), 0, False),
        ((False, False), 0, False),
        ((True, True), 1, False),
    ],
)
def test_termination(ends, between, fits):
    assert bus.termination_fit(*ends, between).fits is fits


def test_all_faults_of_a_termination_are_told():
    assert bus.termination_fit(False, False, 2).reason.count("terminated") == 3


@pytest.mark.parametrize("terminations", [0, 1, 2])
@pytest.mark.parametrize("loads", [1.0, 32.0])
def test_idle_voltage_by_a_solved_network(terminations, loads):
    # Nodal analysis: supply, upper wire, lower wire; bias 560 ohm to each.
    line = terminations / 120.0 + loads / 12e3
    bias = 1 / 560.0
    nodes = np.array([[bias + line, -line], [-line, bias + line]])
    upper, lower = np.linalg.solve(nodes, np.array([5.0 * bias, 0.0]))
    computed = bus.idle_voltage_v(560.0, 5.0, terminations, loads)
    assert computed == pytest.approx(upper - lower)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (bus.character_bits, ("mark",)),
        (bus.character_bits, ("even", 3)),
        (bus.character_time_s, (0,)),
        (bus.character_time_s, (9.6,)),  # kBd for Bd
        (bus.character_time_s, (9600, 8)),
        (bus.silent_gap_s, (9600, 11, "pause")),
        (bus.silent_gap_s, (NAN,)),
        (bus.read_lengths, (0,)),
        (bus.read_lengths, (126,)),
        (bus.exchange_time_s, (8, 300, 9600)),
        (bus.exchange_time_s, (2, 8, 9600)),
        (bus.exchange_time_s, (8, 8, 9600, 11, -1)),
        (bus.poll_time_s, ((0.0,),)),
        (bus.poll_time_s, ((0.02,), -1)),
        (bus.poll_time_s, ((0.02,), 1, NAN)),
        (bus.unit_load_fit, ((-1.0,),)),
        (bus.unit_load_fit, ((NAN,),)),
        (bus.termination_fit, (True, True, -1)),
        (bus.idle_voltage_v, (0,)),
        (bus.idle_voltage_v, (650, NAN)),
        (bus.idle_voltage_v, (650, 5.0, 5)),
        (bus.idle_voltage_v, (650, 5.0, 0, 0.0)),  # nothing on the line
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
