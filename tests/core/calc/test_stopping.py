"""Starting and stopping: ramps integrated in small steps beside the closed forms, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import stopping as stop
from core.calc.dynamics import ramp_travel_m
from core.errors import RangeError

NAN = math.nan
FLOW = st.floats(0.5, 20.0)
RAMP = st.floats(0.0, 30.0)
ROOM = st.floats(1.0, 3.0)
DELAY = st.floats(-40.0, 40.0)


def ramped(times, start, ramp, before, after):
    """Flow at each time, found without any of the program's own."""
    ends = (start, start + max(ramp, 1e-9))
    return np.interp(times, ends, (before, after))


def stepped_peak(up_of, down_of, first_s, last_s, steps=80_000):
    """A pile that grows by what is delivered and shrinks by what is taken, in small steps."""
    times = np.linspace(first_s, last_s, steps)
    middles = 0.5 * (times[1:] + times[:-1])
    gains = (up_of(middles) - down_of(middles)) * (times[1] - times[0])
    rise = np.concatenate(([0.0], np.cumsum(gains)))
    return float(np.max(rise - np.minimum.accumulate(rise)))


TRANSFERS = [
    (6.0, 5.0, 6.0, 1.0, 0.0),
    (6.0, 5.0, 6.0, 1.0, 2.5),
    (6.0, 5.0, 6.0, 1.0, 4.0),
    (6.0, 1.0, 6.0, 5.0, 0.0),
    (6.0, 1.0, 6.0, 5.0, -2.0),
    (6.0, 4.0, 9.0, 3.0, -1.0),
    (6.0, 0.0, 8.0, 3.0, -2.0),
    (6.0, 3.0, 8.0, 0.0, 1.0),
    (6.0, 10.0, 7.0, 10.0, -4.0),
    (0.0, 3.0, 8.0, 1.0, 0.0),
]


@pytest.mark.parametrize("transfer", TRANSFERS)
def test_fruit_that_waits_while_stopping(transfer):
    up, up_ramp, down, down_ramp, delay = transfer
    expected = stepped_peak(
        lambda times: ramped(times, 0.0, up_ramp, up, 0.0),
        lambda times: ramped(times, delay, down_ramp, down, 0.0),
        -10.0,
        30.0,
    )
    assert stop.excess_fruit(*transfer) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("transfer", TRANSFERS)
def test_fruit_that_waits_while_starting(transfer):
    up, up_ramp, down, down_ramp, delay = transfer
    expected = stepped_peak(
        lambda times: ramped(times, delay, up_ramp, 0.0, up),
        lambda times: ramped(times, 0.0, down_ramp, 0.0, down),
        -10.0,
        30.0,
    )
    assert stop.start_excess_fruit(*transfer) == pytest.approx(expected, abs=0.01)


@given(FLOW, RAMP, ROOM, RAMP)
def test_needed_delay_is_enough_and_less_is_not(flow, up_ramp, room, down_ramp):
    pair = (flow, up_ramp, room * flow, down_ramp)
    delay = stop.delay_needed_s(*pair)
    assert stop.excess_fruit(*pair, delay) == pytest.approx(0.0, abs=1e-6)
    assert stop.excess_fruit(*pair, delay + 1.0) == pytest.approx(0.0, abs=1e-6)
    assert stop.excess_fruit(*pair, delay - 0.5) > 0.0


@given(FLOW, RAMP, ROOM, RAMP)
def test_needed_delay_of_the_start_is_enough(flow, up_ramp, room, down_ramp):
    pair = (flow, up_ramp, room * flow, down_ramp)
    delay = stop.start_delay_needed_s(*pair)
    assert stop.start_excess_fruit(*pair, delay) == pytest.approx(0.0, abs=1e-6)
    assert stop.start_excess_fruit(*pair, delay - 0.5) > 0.0


@given(FLOW, RAMP, RAMP, DELAY)
def test_later_stop_of_the_station_after_never_piles_up_more(flow, up_ramp, down_ramp, delay):
    pair = (flow, up_ramp, flow, down_ramp)
    assert stop.excess_fruit(*pair, delay + 1.0) <= stop.excess_fruit(*pair, delay) + 1e-6


@given(FLOW, RAMP, RAMP)
def test_without_delay_the_difference_of_the_two_ramps_waits(flow, up_ramp, down_ramp):
    """Equal flows: what is delivered on one ramp less what is taken on the other."""
    per_ramp = [ramp_travel_m(flow, ramp) for ramp in (up_ramp, down_ramp)]  # the same triangle
    found = stop.excess_fruit(flow, up_ramp, flow, down_ramp)
    assert found == pytest.approx(max(0.0, per_ramp[0] - per_ramp[1]), abs=1e-9)


def test_empty_line_needs_no_order():
    assert stop.excess_fruit(0.0, 5.0, 0.0, 1.0) == 0.0
    assert stop.delay_needed_s(0.0, 5.0, 0.0, 7.0) == -2.0
    assert stop.start_delay_needed_s(0.0, 1.0, 0.0, 5.0) == 0.0


def test_coasting_against_small_steps():
    speed, time_s, step = 150.0, 0.0, 1e-5
    while speed > 0.0:
        speed -= 1.2 / 0.0026 * step
        time_s += step
    assert stop.coast_time_s(0.0026, 150.0, 1.2) == pytest.approx(time_s, abs=2 * step)


def test_what_stands_needs_no_time():
    assert stop.coast_time_s(0.0026, 0.0, 1.2) == 0.0


@pytest.mark.parametrize(("own", "before"), [(0.0, 0.0), (0.4, 1.4), (2.0, 0.3), (30.0, 0.1)])
def test_fruit_left_against_fruit_counted_one_by_one(own, before):
    """Fruit on the way, those that still enter and those that still leave, step by step."""
    length, flow, speed = 3.0, 6.0, 0.5
    times = np.linspace(0.0, 40.0, 400_001)
    step = times[1]
    entered = float(np.sum(ramped(times, 0.0, before, flow, 0.0)) * step)
    travel = float(np.sum(ramped(times, 0.0, own, speed, 0.0)) * step)
    expected = flow / speed * length + entered - flow / speed * travel
    found = stop.fruit_left(length, flow, speed, own, before)
    assert found == pytest.approx(max(0.0, expected), abs=0.01)


@given(st.lists(st.tuples(RAMP, st.floats(0.0, 60.0)), min_size=2, max_size=8))
def test_stopping_a_row_leaves_nothing_waiting(stations):
    times = stop.stop_times_s(stations)
    assert times[0] == 0.0
    for place in range(1, len(stations)):
        delay = times[place] - times[place - 1]
        pair = (5.0, stations[place - 1][0], 5.0, stations[place][0])
        assert delay >= 0.0
        assert stop.excess_fruit(*pair, delay) == pytest.approx(0.0, abs=1e-6)


@given(st.lists(RAMP, min_size=2, max_size=8))
def test_starting_a_row_leaves_nothing_waiting(ramps):
    times = stop.start_times_s(ramps)
    assert min(times) == times[-1] == 0.0
    for place in range(len(ramps) - 1):
        pair = (5.0, ramps[place], 5.0, ramps[place + 1])
        delay = times[place] - times[place + 1]
        assert stop.start_excess_fruit(*pair, delay) == pytest.approx(0.0, abs=1e-6)


@given(RAMP, RAMP, st.floats(0.0, 60.0))
def test_last_fruit_is_carried_off(up_ramp, ramp, clear):
    """From the arrival of the last fruit on, the ramp still has the way of `clear` at speed 1."""
    told = stop.stop_times_s([(up_ramp, 0.0), (ramp, clear)])[1]
    arrives = up_ramp
    at_speed = max(0.0, told - arrives)
    slowing = ramp - max(0.0, arrives - told)
    way = at_speed + (slowing**2 / (2 * ramp) if ramp and slowing > 0.0 else 0.0)
    assert way >= clear - 1e-6
    if told > 0.0:
        assert way == pytest.approx(clear, abs=1e-5)


def test_by_hand():
    # Feed slows over 5 s; the next stops in 1 s, so 4 s later; the third takes 2 s: no need to wait
    assert stop.stop_times_s([(5.0, 0.0), (1.0, 0.0), (2.0, 0.0)]) == (0.0, 4.0, 4.0)
    # Last fruit after 2 s; 10 s of way at speed, of which the 2 s ramp makes 1 s
    assert stop.stop_times_s([(2.0, 0.0), (2.0, 10.0)]) == (0.0, 11.0)
    # 0.25 s of way lies in the end of a 2 s ramp: its last second, so 1 s before the last fruit
    assert stop.stop_times_s([(2.0, 0.0), (2.0, 0.25)]) == (0.0, 1.0)
    assert stop.start_times_s([1.0, 5.0, 2.0]) == (4.0, 0.0, 0.0)
    assert stop.start_times_s([3.0, 4.0, 6.0]) == (3.0, 2.0, 0.0)


def test_one_station_goes_at_once():
    assert stop.stop_times_s([(5.0, 20.0)]) == (0.0,)
    assert stop.start_times_s([5.0]) == (0.0,)


@pytest.mark.parametrize(
    ("function", "arguments", "told"),
    [
        (stop.coast_time_s, (-0.1, 150.0, 1.0), "inertia"),
        (stop.coast_time_s, (0.1, -150.0, 1.0), "speed"),
        (stop.coast_time_s, (0.1, 150.0, 0.0), "friction"),
        (stop.excess_fruit, (-1.0, 5.0, 6.0, 1.0), "flow of the station before"),
        (stop.excess_fruit, (1.0, 5.0, -6.0, 1.0), "flow of the station after"),
        (stop.excess_fruit, (6.0, -5.0, 6.0, 1.0), "ramp of the station before"),
        (stop.excess_fruit, (6.0, 5.0, 6.0, NAN), "no number"),
        (stop.excess_fruit, (6.0, 5.0, 6.0, 1.0, math.inf), "delay"),
        (stop.excess_fruit, (6.0, 5.0, 5.0, 1.0), "piles up at speed already"),
        (stop.start_excess_fruit, (6.0, 5.0, 5.0, 1.0), "piles up at speed already"),
        (stop.start_excess_fruit, (6.0, 5.0, 6.0, 1.0, NAN), "delay"),
        (stop.delay_needed_s, (6.0, 5.0, 5.0, 1.0), "piles up at speed already"),
        (stop.delay_needed_s, (6.0, 5.0, 6.0, -1.0), "ramp of the station after"),
        (stop.start_delay_needed_s, (6.0, 5.0, 5.0, 1.0), "piles up at speed already"),
        (stop.fruit_left, (0.0, 6.0, 0.5), "length"),
        (stop.fruit_left, (3.0, -6.0, 0.5), "flow of fruit"),
        (stop.fruit_left, (3.0, 6.0, 0.0), "speed"),
        (stop.fruit_left, (3.0, 6.0, 0.5, -1.0), "time to a stop"),
        (stop.fruit_left, (3.0, 6.0, 0.5, 0.0, NAN), "station before"),
        (stop.stop_times_s, ([],), "The row is empty"),
        (stop.stop_times_s, ([(5.0, 0.0), (-1.0, 0.0)],), "ramp of a station"),
        (stop.stop_times_s, ([(5.0, 0.0), (1.0, NAN)],), "time to clear"),
        (stop.start_times_s, ([],), "The row is empty"),
        (stop.start_times_s, ([5.0, -1.0],), "ramp of a station"),
    ],
)
def test_nonsense_is_refused(function, arguments, told):
    with pytest.raises(RangeError, match=told):
        function(*arguments)
