"""The order of stopping and starting, and what a stop leaves, by sums of areas under ramps."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.line import compute_line
from core.line.stopping import piled_before, stopping_of
from core.model import ListedSetting
from tests.core.line import fruit
from tests.core.line.builders import DRIVE_TYPE, settings
from tests.core.line.fruit import M_S_PER_HZ, pair, recipe, row, way

RAMPS = (
    ListedSetting(11, "up", role="ramp_up", unit="s"),
    ListedSetting(12, "down", role="ramp_down", unit="s"),
)
KIND = dataclasses.replace(DRIVE_TYPE, listed_settings=(*DRIVE_TYPE.listed_settings, *RAMPS))


def at(number, kind="belt", up=4.0, down=4.0, hz=30.0, **changes):
    """A station planned at 30 of 60 Hz; its ramps are set to twice these times, to maximum."""
    held = fruit.at(number, kind, wanted="frequency", wanted_hz=hz, **changes)
    ramps = {"up": up and 2.0 * up, "down": down and 2.0 * down}
    shown = {name: value for name, value in ramps.items() if value is not None}
    entered = settings(hz_max=60, hz_min=0, ref_low=0, ref_high=60, ref_range=0, **shown)
    return dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=entered))


def steps(*stations, **changes):
    held = compute_line(fruit.line(*stations, drive_types=(KIND,), **changes))
    return {step.station_id: step for step in stopping_of(held.plan)}


def stops(found):
    return {key: step.stop_after_s for key, step in found.items()}


def starts(found):
    return {key: step.start_after_s for key, step in found.items()}


def test_ramps_are_set_for_the_maximum():
    # 8 s from 0 to 60 Hz: 4 s to 30 Hz, 6 s to 45 Hz; above the maximum never more than set.
    assert steps(at(1), at(2), flows=row(1, 2))[1].ramp_down_s == pytest.approx(4.0)
    assert steps(at(1, hz=45.0), at(2), flows=row(1, 2))[1].ramp_up_s == pytest.approx(6.0)
    assert steps(at(1, hz=90.0), at(2), flows=row(1, 2))[1].ramp_up_s == pytest.approx(8.0)


def test_like_ramps_stop_together():
    held = steps(at(1), at(2), at(3), flows=row(1, 2, 3))
    assert stops(held) == {1: 0.0, 2: 0.0, 3: 0.0}
    assert starts(held) == {1: 0.0, 2: 0.0, 3: 0.0}
    assert [held[number].pile_up for number in (1, 2)] == pytest.approx([0.0, 0.0], abs=1e-9)


def test_a_short_ramp_waits_for_a_long_one_before_it():
    # 5 s before 1 s: 4 s later. All at once, 6·5/2 fruit arrive and 6·1/2 are taken: 12 too much.
    held = steps(at(1, down=5.0), at(2, down=1.0), flows=row(1, 2))
    assert stops(held) == pytest.approx({1: 0.0, 2: 4.0})
    assert held[1].pile_up == pytest.approx(12.0)
    assert held[2].pile_up is None


def test_delays_add_up_along_the_line():
    # 5 → 1: 4 s; 1 → 2: none, so 4 s as well; 2 → 0.5: 1.5 s more.
    ramps = (5.0, 1.0, 2.0, 0.5)
    held = steps(*[at(n, down=t) for n, t in enumerate(ramps, start=1)], flows=row(1, 2, 3, 4))
    assert stops(held) == pytest.approx({1: 0.0, 2: 4.0, 3: 4.0, 4: 5.5})


def test_starting_goes_from_the_end():
    # The last takes 5 s to its speed, the first two 1 s: they wait for 4 s.
    held = steps(at(1, up=1.0), at(2, up=1.0), at(3, up=5.0), flows=row(1, 2, 3))
    assert starts(held) == pytest.approx({1: 4.0, 2: 4.0, 3: 0.0})
    # A slow one before a quick one need not wait.
    held = steps(at(1, up=5.0), at(2, up=1.0), flows=row(1, 2))
    assert starts(held) == {1: 0.0, 2: 0.0}


def test_the_longest_of_several_ways_counts():
    # 1 splits into 2 (1 s) and 3 (5 s), which meet at 4 (1 s): 4 waits 4 s for 3.
    flows = way((1, 2), (1, 3), (2, 4), (3, 4))
    held = steps(at(1, down=1.0), at(2, down=1.0), at(3, down=5.0), at(4, down=1.0), flows=flows)
    assert stops(held) == pytest.approx({1: 0.0, 2: 0.0, 3: 0.0, 4: 4.0})


def bed(first_s, second_s):
    return (
        at(1, down=6.0, up=1.0),
        at(2, "brush_bed", down=first_s, up=first_s),
        at(3, down=1.0, up=1.0),
        at(4, "brush_bed", down=second_s, up=second_s, turn="reverse"),
        at(5, down=1.0, up=1.0),
    )


@pytest.mark.parametrize(("first_s", "second_s"), [(2.0, 5.0), (5.0, 2.0)])
def test_both_rows_of_a_bed_stop_together_and_what_follows_knows(first_s, second_s):
    # The feed takes 6 s: the row of 2 s is told after 4 s, so both are. What follows takes 1 s:
    # of the row with 2 s it would be 4 + 1, of the one with 5 s it is 4 + 4 s.
    flows = way((1, 2), (1, 4), (2, 3), (4, 5))
    held = steps(*bed(first_s, second_s), flows=flows, pairs=(pair(2, 4),))
    assert held[2].stop_after_s == held[4].stop_after_s == pytest.approx(4.0)
    assert held[3].stop_after_s == pytest.approx(4.0 + first_s - 1.0)
    assert held[5].stop_after_s == pytest.approx(4.0 + second_s - 1.0)


def test_both_rows_of_a_bed_start_together():
    # What comes behind takes 1 s, the rows need no wait; the feed of 1 s waits for the 5 s row.
    flows = way((1, 2), (1, 4), (2, 3), (4, 5))
    stations = [dataclasses.replace(entry) for entry in bed(2.0, 5.0)]
    held = steps(*stations, flows=flows, pairs=(pair(2, 4),))
    assert held[2].start_after_s == held[4].start_after_s == 0.0
    assert held[1].start_after_s == pytest.approx(4.0)


def test_the_belt_for_culls_runs_before_what_feeds_it():
    flows = way((1, 2), (1, 3, "cull"))
    held = steps(
        at(1, up=1.0, down=5.0),
        at(2, up=1.0, down=5.0),
        at(3, up=4.0, down=1.0),
        flows=flows,
        recipes=(recipe(culled=0.1),),
    )
    assert starts(held) == pytest.approx({1: 3.0, 2: 0.0, 3: 0.0})
    assert stops(held) == pytest.approx({1: 0.0, 2: 0.0, 3: 4.0})


def test_what_stands_outside_of_the_flow_has_no_place_in_the_order():
    held = steps(at(1), at(2), at(3, "fan"), flows=row(1, 2))
    assert set(held) == {1, 2}


@pytest.mark.parametrize("lacking", [{"down": None}, {"hz": None}])
def test_what_follows_a_ramp_that_is_not_known_has_no_time_in_the_order(lacking):
    held = steps(at(1, down=5.0), at(2, **lacking), at(3), at(4), flows=row(1, 2, 3))
    # Told to stop at 0 s it would pile up what the first one still sends it.
    assert stops(held) == {1: 0.0, 2: None, 3: None}
    assert held[2].ramp_down_s is None
    assert held[1].pile_up is None


COAST = ListedSetting(13, "stop", role="stop_mode", options="0 = on the ramp; 1 = coast")
COASTING = dataclasses.replace(KIND, listed_settings=(*KIND.listed_settings, COAST))


def coasting(number, **train):
    """A station that is left to itself at a stop: 0.75 kW at 1440 r/min, half of that torque."""
    held = at(number)
    entered = settings(hz_max=60, hz_min=0, ref_low=0, ref_high=60, ref_range=0, up=8, stop=1)
    plate = dataclasses.replace(
        held.motors[0], power_w=750.0, speed_rad_s=1440 * math.pi / 30, inertia_kg_m2=0.002,
        frequency_hz=50.0, poles=4,
    )  # fmt: skip
    known = {"gear_ratio": 10.0, "inertia_kg_m2": 1.0, "load_fraction": 0.5, **train}
    return dataclasses.replace(
        held,
        motors=(plate,),
        drive=dataclasses.replace(held.drive, settings=entered),
        drivetrain=dataclasses.replace(held.drivetrain, **known),
    )


def coasted(*stations, **changes):
    held = compute_line(fruit.line(*stations, drive_types=(COASTING,), **changes))
    return {step.station_id: step for step in stopping_of(held.plan)}


def test_a_station_that_coasts_runs_out_against_its_load():
    held = coasted(coasting(1), at(2, down=4.0), flows=row(1, 2))
    # J = 0.002 + 1/10² = 0.012 kg·m²; 30 Hz: 900 r/min less half of 60 r/min of slip: 870.
    # M = 0.5 · 750 / (1440 · π/30) = 2.487 N·m; t = J·ω/M.
    by_hand = 0.012 * 870 * math.pi / 30 / (0.5 * 750 / (1440 * math.pi / 30))
    assert held[1].ramp_down_s == pytest.approx(by_hand, rel=1e-3)
    assert held[1].ramp_down_s < 1.0
    assert held[2].stop_after_s == 0.0


def test_a_station_that_coasts_nobody_knows_how_long_leaves_what_follows_without_a_time():
    held = coasted(at(1), coasting(2, inertia_kg_m2=None), at(3), flows=row(1, 2, 3))
    assert stops(held) == {1: 0.0, 2: None, 3: None}


def test_fruit_piles_up_only_from_the_share_that_comes_this_way():
    # 6 fruit/s, half over each of two belts that meet on a third one. The first runs on for 5 s
    # and the third stops in 1 s: half of 3 · (5 - 1) wait.
    line = fruit.line(
        at(1, down=5.0), at(2, down=1.0), at(3, down=1.0), at(4), drive_types=(KIND,),
        flows=way((4, 1, "all", 0.5), (4, 2, "all", 0.5), (1, 3), (2, 3)),
    )  # fmt: skip
    plan = compute_line(line).plan
    assert plan.entries[1].flow_1_s == pytest.approx(3.0)
    assert piled_before(plan, 3) == pytest.approx(3.0 * (5.0 - 1.0) / 2.0)
    assert piled_before(plan, 4) is None


def test_without_fruit_nothing_piles_up():
    held = steps(at(1, down=5.0), at(2, down=1.0), flows=row(1, 2), recipes=())
    assert held[1].pile_up is None
    assert held[1].fruit_left is None
    assert held[1].fruit_per_metre is None
    assert stops(held) == {1: 0.0, 2: 0.0}


# --- what lies where --------------------------------------------------------------------------

HALF_M_S = 0.5 / M_S_PER_HZ


def test_what_a_stop_leaves_on_a_belt():
    # 3 m at 0.5 m/s: 6 s of 6 fruit/s are 36. Its own ramp of 0.4 s against 1.4 s before it:
    # half of the second between them, 3 fruit more.
    belt = {"hz": HALF_M_S, "carrying_length_m": 3.0}
    factor = 60.0 / HALF_M_S / 2.0
    alone = steps(at(1, down=0.0, **belt), at(2), flows=row(1, 2))
    assert alone[1].fruit_left == pytest.approx(36.0)
    assert alone[1].fruit_per_metre == pytest.approx(12.0)
    held = steps(
        at(1, down=1.4 * factor, hz=HALF_M_S), at(2, down=0.4 * factor, **belt), flows=row(1, 2)
    )
    assert held[2].ramp_down_s == pytest.approx(0.4)
    assert held[2].fruit_left == pytest.approx(39.0)


def test_a_bed_holds_what_its_drift_takes_time_for():
    # Rows of 0.6 and 0.5 m/s: drift 0.05 m/s over 1.6 m: 32 s of 6 fruit/s, 192. A bed of B2 is
    # as full at 5.9 fruit/s.
    rows = [
        at(
            number,
            "brush_bed",
            hz=speed / M_S_PER_HZ,
            turn=turn,
            down=0.0,
            carrying_length_m=1.6,
            brush_pitch_m=0.13335,
            bed_width_m=1.2192,
        )
        for number, speed, turn in ((1, 0.6, "forward"), (2, 0.5, "reverse"))
    ]
    held = steps(*rows, at(3), flows=way((1, 3), (2, 3)), pairs=(pair(1, 2),))
    assert held[1].fruit_left == pytest.approx(192.0)
    assert held[1].fruit_per_metre is None


def test_a_spin_section_carries_none_itself():
    held = steps(at(1, "spin_section", carrying_length_m=0.8), at(2), flows=row(1, 2))
    assert held[1].fruit_left is None
    assert held[1].fruit_per_metre is None


# --- any line ---------------------------------------------------------------------------------

TIMES = st.floats(0.1, 20.0)


@given(st.lists(st.tuples(TIMES, TIMES), min_size=2, max_size=6))
def test_in_this_order_no_station_gets_more_than_it_takes(ramps):
    numbers = range(1, len(ramps) + 1)
    stations = [at(n, up=up, down=down) for n, (up, down) in zip(numbers, ramps, strict=True)]
    held = steps(*stations, flows=row(*numbers))
    for number in numbers[:-1]:
        first, second = held[number], held[number + 1]
        # Both run down evenly: the one after stands no sooner, and starts to run down no sooner.
        assert second.stop_after_s >= first.stop_after_s - 1e-9
        first_stands = first.stop_after_s + first.ramp_down_s
        assert second.stop_after_s + second.ramp_down_s >= first_stands - 1e-9
        # The one after is at speed no later than the one before.
        at_speed = second.start_after_s + second.ramp_up_s
        assert first.start_after_s + first.ramp_up_s >= at_speed - 1e-9
        assert first.start_after_s >= second.start_after_s - 1e-9
