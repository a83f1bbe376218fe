"""Every basis on which a speed can be wanted, by hand values; and what cannot be had."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.line.aims import TROUBLES, order_of_aims, rests_on
from core.line.plan import FOLLOWING
from core.line.scene import Scene
from core.model import choices
from tests.core.line.builders import RPM
from tests.core.line.fruit import M_S_PER_HZ, at, computed, entry, own, pair, plan, recipe, row, way

FT_MIN = 0.00508  # NIST SP 811
INCH = 0.0254


def speed(number, *stations, **changes):
    """Surface speed planned for a station."""
    return entry(number, *stations, **changes).planned_m_s


def lacks(number, *stations, **changes):
    held = entry(number, *stations, **changes).wanted
    return held["surface_speed_wanted_m_s"].lacks


def troubles(*stations, **changes):
    return [(t.kind, t.station_ids) for t in plan(*stations, **changes).troubles]


def with_recipe(**changes):
    return {"recipes": (recipe(**changes),)}


# --- as entered -------------------------------------------------------------------------------


def test_surface_speed_back_to_the_knob():
    # 0.3 m/s on a drum of 0.2 m: 3 rad/s; 20:1: 60 rad/s; 4 poles without slip: 60 / π Hz.
    held = entry(1, at(1, wanted="surface", wanted_m_s=0.3))
    assert held.planned_m_s == 0.3
    assert held.wanted["shaft_speed_wanted_rad_s"].value == pytest.approx(3.0)
    assert held.wanted["motor_speed_wanted_rad_s"].value == pytest.approx(60.0)
    assert held.planned_hz == pytest.approx(60.0 / math.pi)
    assert held.planned_share == pytest.approx(1.0 / math.pi)
    assert held.wanted["signal_wanted_v"].value == pytest.approx(10.0 / math.pi)
    assert held.basis == "surface"


def test_shaft_speed_both_ways():
    held = entry(1, at(1, wanted="shaft", wanted_rad_s=3.0))
    assert held.planned_m_s == pytest.approx(0.3)
    assert held.planned_hz == pytest.approx(60.0 / math.pi)


def test_frequency_gives_the_speed():
    held = entry(1, at(1, wanted="frequency", wanted_hz=40.0))
    assert held.planned_hz == 40.0
    assert held.planned_m_s == pytest.approx(40.0 * M_S_PER_HZ)


def test_nobody_wants_anything():
    held = entry(1, at(1))
    assert (held.basis, held.wanted, held.planned_hz) == ("none", {}, None)


@pytest.mark.parametrize(
    ("basis", "key", "words"),
    [
        ("surface", "surface_speed_wanted_m_s", "surface speed wanted"),
        ("shaft", "shaft_speed_wanted_rad_s", "shaft speed wanted"),
        ("frequency", "frequency_wanted_hz", "frequency wanted"),
    ],
)
def test_a_value_that_is_not_entered_is_lacking(basis, key, words):
    held = entry(1, at(1, wanted=basis))
    assert held.wanted[key].lacks == (words,)
    assert held.planned_hz is None


# --- of the fruit -----------------------------------------------------------------------------


def test_touching_with_demo_a():
    # shared demo A: 5.608 fruit/s of 2.4 in on two lanes filled 78 %: mean 43.14 ft/min
    belt = at(1, "belt", wanted="touching", wanted_filled=0.78)
    fed = with_recipe(fruit_1_s=5.608, fruit_diameter_m=2.4 * INCH)
    assert speed(1, belt, lanes=2, **fed) / FT_MIN == pytest.approx(43.14, abs=0.01)


def test_touching_fills_all_places_where_nothing_is_entered():
    # 6 fruit/s · 0.06 m
    assert speed(1, at(1, wanted="touching")) == pytest.approx(0.36)


def test_a_belt_of_one_lane_has_one_whatever_the_line_has():
    assert speed(1, at(1, wanted="touching", lane=2), lanes=3) == pytest.approx(0.36)
    assert speed(1, at(1, wanted="touching"), lanes=3) == pytest.approx(0.12)


def test_gap():
    # 6 · (0.06 + 0.03)
    assert speed(1, at(1, wanted="gap", wanted_gap_m=0.03)) == pytest.approx(0.54)


def test_pitch_with_demo_b():
    # shared demo B: 4.218 fruit/s at 95.25 mm, filled 80 %: 0.502 m/s
    belt = at(1, wanted="pitch", wanted_pitch_m=0.09525, wanted_filled=0.8)
    assert speed(1, belt, **with_recipe(fruit_1_s=4.218)) == pytest.approx(0.5022, abs=5e-5)


def vee(**changes):
    sides = [at(n, "belt_pair_side", wanted="touching", **changes) for n in (2, 3)]
    return at(1), *sides


VEE_FLOWS = way((1, 2), (1, 3))


def test_the_belts_of_a_vee_share_the_mean():
    # shared demo A: mean 43.14 ft/min, differential 7.5 %: 43.14 · (1 ± 0.0375)
    fed = with_recipe(fruit_1_s=5.608, fruit_diameter_m=2.4 * INCH)
    held = plan(
        *vee(wanted_filled=0.78),
        lanes=2,
        flows=VEE_FLOWS,
        pairs=(pair(2, 3, wanted_differential=0.075),),
        **fed,
    )
    assert held.entry(2).planned_m_s / FT_MIN == pytest.approx(44.76, abs=0.01)
    assert held.entry(3).planned_m_s / FT_MIN == pytest.approx(41.52, abs=0.01)
    assert held.pairs[0].planned == pytest.approx(0.075)


def test_a_vee_by_its_ratio():
    # mean 0.36, ratio 1.25: v_b = 2 · 0.36 / 2.25 = 0.32, v_a = 0.40
    pairs = (pair(2, 3, wanted_as="ratio", wanted_ratio=1.25),)
    held = plan(*vee(), flows=VEE_FLOWS, pairs=pairs)
    assert held.entry(2).planned_m_s == pytest.approx(0.40)
    assert held.entry(3).planned_m_s == pytest.approx(0.32)


def test_a_vee_without_a_wanted_difference_runs_at_its_mean():
    for pairs in ((pair(2, 3),), (pair(2, 3, wanted_as="ratio"),)):
        held = plan(*vee(), flows=VEE_FLOWS, pairs=pairs)
        assert held.entry(2).planned_m_s == pytest.approx(0.36)
        assert held.entry(3).planned_m_s == pytest.approx(0.36)


def test_cover():
    # 6 · 0.06² / (0.6 · 0.5)
    belt = at(1, wanted="cover", wanted_cover=0.5, carrying_width_m=0.6)
    assert speed(1, belt) == pytest.approx(0.072)


def test_time():
    assert speed(1, at(1, wanted="time", wanted_time_s=8.0, carrying_length_m=2.0)) == 0.25


@pytest.mark.parametrize(
    ("speed_m_s", "pitch_mm", "lanes", "fill", "fruit_1_s"),
    # reference fruit-line.md C2
    [
        (0.63, 90, 1, 1.0, 7.0),
        (0.5, 95, 1, 0.8, 4.2105),
        (0.342, 95.25, 2, 0.78, 5.6013),
        (0.5022, 95.25, 1, 0.8, 4.218),
        (1.0, 95.25, 4, 0.85, 35.6955),
    ],
)
def test_cups(speed_m_s, pitch_mm, lanes, fill, fruit_1_s):
    conveyor = at(
        1, "cup_conveyor", wanted="cups", cup_pitch_m=pitch_mm / 1e3, cup_lanes=lanes, cup_fill=fill
    )
    held = speed(1, conveyor, lanes=9, **with_recipe(fruit_1_s=fruit_1_s))
    assert held == pytest.approx(speed_m_s, rel=1e-4)


@pytest.mark.parametrize(
    ("station", "wants"),
    [
        (at(1, wanted="gap"), ("gap",)),
        (at(1, wanted="pitch"), ("pitch",)),
        (at(1, wanted="cover", wanted_cover=0.5), ("width",)),
        (at(1, wanted="time", carrying_length_m=1.0), ("time",)),
        (at(1, "cup_conveyor", wanted="cups", cup_pitch_m=0.1), ("filled",)),
    ],
)
def test_what_a_basis_of_the_fruit_lacks(station, wants):
    assert lacks(1, station) == wants


def test_without_a_recipe_the_fruit_is_lacking():
    assert lacks(1, at(1, wanted="touching"), recipes=()) == ("fruit flow", "diameter")


# --- brushes ----------------------------------------------------------------------------------

# reference fruit-line.md B1 and B2, first rows: 5.903 fruit/s of 60.96 mm on brushes of 133.35 mm
# pitch and 1219.2 mm width, 80 % packed, need a drift of 0.049198 m/s; forward row 0.63837 m/s.
BRUSHES = {"brush_pitch_m": 0.13335, "bed_width_m": 1.2192, "packing": 0.8}
FED = {"recipes": (recipe(fruit_1_s=5.903, fruit_diameter_m=0.06096),)}
BED_FLOWS = way((1, 2), (1, 3))


def bed(first=None, second=None):
    """A feed belt, the forward row and the reverse row, each with what is wanted of it."""
    forward = {"wanted": "surface", "wanted_m_s": 0.63837, **BRUSHES, **(first or {})}
    reverse = {"wanted": "drift", "wanted_drift": 1.0, **BRUSHES, **(second or {})}
    return at(1), at(2, "brush_bed", **forward), at(3, "brush_bed", turn="reverse", **reverse)


def bed_speed(number, **rows):
    return speed(number, *bed(**rows), flows=BED_FLOWS, pairs=(pair(2, 3),), **FED)


@pytest.mark.parametrize(
    ("share", "factor", "reverse_m_s"),
    [
        # 0.63837 − 2 · 0.049198
        (1.0, None, 0.539974),
        # 0.63837 − 2 · 1.05 · 0.049198
        (1.05, None, 0.535054),
        # A travel factor of 0.8 takes 2 · 0.049198 / 0.8 of difference.
        (1.0, 0.8, 0.515375),
    ],
)
def test_drift_from_the_reverse_row(share, factor, reverse_m_s):
    wanted = {"wanted_drift": share, "travel_factor": factor}
    assert bed_speed(3, second=wanted) == pytest.approx(reverse_m_s, abs=2e-6)


def test_drift_from_the_forward_row():
    # 0.54 + 2 · 0.049198
    first = {"wanted": "drift", "wanted_drift": 1.0}
    second = {"wanted": "surface", "wanted_m_s": 0.54}
    assert bed_speed(2, first=first, second=second) == pytest.approx(0.638396, abs=2e-6)


def test_packing_is_80_per_cent_where_none_is_entered():
    assert bed_speed(3, second={"packing": None}) == pytest.approx(0.539974, abs=2e-6)


def test_a_drift_beyond_the_forward_row_has_no_speed():
    held = entry(3, *bed({"wanted_m_s": 0.05}), flows=BED_FLOWS, pairs=(pair(2, 3),), **FED).wanted[
        "surface_speed_wanted_m_s"
    ]
    assert held.value is None
    assert held.problem


def test_drift_without_the_other_row():
    held = troubles(*bed(), flows=BED_FLOWS, **FED)
    assert held == [("no_partner", (3,))]


def test_drift_of_rows_that_turn_alike():
    feed, forward, reverse = bed()
    alike = dataclasses.replace(reverse, turn="forward")
    held = troubles(feed, forward, alike, flows=BED_FLOWS, pairs=(pair(2, 3),), **FED)
    assert held == [("same_direction", (3, 2))]


# --- the camera -------------------------------------------------------------------------------


def camera(turns, carrier_m_s=0.342, **changes):
    """A spin section and the cups over it; reference C1: view 457.2 mm, fruit 60.96 mm."""
    spin = at(
        1, "spin_section", wanted="turns", wanted_turns=turns, view_length_m=0.4572, **changes
    )
    return spin, at(2, "cup_conveyor", wanted="surface", wanted_m_s=carrier_m_s)


@pytest.mark.parametrize(
    ("turns", "turn", "spin_m_s"),
    # reference fruit-line.md C1, rows 3 and 4
    [(1.5008, "forward", 0.127), (3.2738, "reverse", 0.127)],
)
def test_turns_in_view(turns, turn, spin_m_s):
    held = plan(*camera(turns, turn=turn), flows=row(1, 2), **FED).entry(1)
    assert held.planned_m_s == pytest.approx(spin_m_s, abs=2e-5)
    # What the plan asks for gives the turns that were wanted.
    assert held.planned["turns_in_view"].value == pytest.approx(turns)


def test_the_contact_factor_counts():
    # κ = 2: half the difference: 0.342 − (0.342 − 0.127) / 2
    held = speed(1, *camera(1.5008, contact_factor=2.0), flows=row(1, 2), **FED)
    assert held == pytest.approx(0.2345, abs=2e-5)


@pytest.mark.parametrize(("turns", "turn"), [(3.2738, "forward"), (1.5008, "reverse")])
def test_turns_that_the_way_it_runs_cannot_give(turns, turn):
    held = plan(*camera(turns, turn=turn), flows=row(1, 2), **FED)
    assert [(t.kind, t.station_ids) for t in held.troubles] == [("wrong_turn", (1,))]
    assert held.entry(1).planned_m_s is None
    assert held.entry(1).planned_hz is None


@pytest.mark.parametrize("turn", ["forward", "reverse"])
def test_a_spin_section_that_stands_still_has_no_way_to_turn(turn):
    # κ·L / (π·D) turns, whatever the speed: 0.4572 / (π · 0.06096)
    turns = 0.4572 / (math.pi * 0.06096)
    held = plan(*camera(turns, turn=turn), flows=row(1, 2), **FED)
    assert held.entry(1).planned_m_s == pytest.approx(0.0, abs=1e-12)
    assert held.troubles == ()


@pytest.mark.parametrize(
    "flows", [row(1, 2), row(2, 1), way((2, 1, "return"))], ids=["feeds", "is fed", "comes back"]
)
def test_the_carrier_is_the_cups_that_it_is_linked_to(flows):
    assert speed(1, *camera(1.5008), flows=flows, **FED) == pytest.approx(0.127, abs=2e-5)


def test_a_spin_section_without_cups():
    spin, _ = camera(1.5)
    assert troubles(spin, at(2), flows=row(1, 2), **FED) == [("no_carrier", (1,))]
    assert troubles(spin, **FED) == [("no_carrier", (1,))]


# --- pairs ------------------------------------------------------------------------------------


def following(**wanted):
    """The first station follows the second, which runs 0.4 m/s."""
    return at(1, wanted="pair"), at(2, wanted="surface", wanted_m_s=0.4)


def test_a_ratio():
    pairs = (pair(wanted_as="ratio", wanted_ratio=1.5625),)
    assert speed(1, *following(), pairs=pairs) == pytest.approx(0.625)


@pytest.mark.parametrize(
    ("differential", "first"),
    # reference V1: 0.44 and 0.40 have a mean of 0.42: 0.04 / 0.42; and the other way round
    # 0.36 and 0.40: −0.04 / 0.38. At −2 the first stands.
    [(0.04 / 0.42, 0.44), (-0.04 / 0.38, 0.36), (0.0, 0.4), (-2.0, 0.0)],
)
def test_a_differential(differential, first):
    pairs = (pair(wanted_differential=differential),)
    assert speed(1, *following(), pairs=pairs) == pytest.approx(first, abs=1e-12)


def test_a_differential_that_no_speed_gives():
    # Only where the second stands is the first faster by twice their mean.
    held = entry(1, *following(), pairs=(pair(wanted_differential=2.0),))
    figure = held.wanted["surface_speed_wanted_m_s"]
    assert figure.value is None
    assert "differential" in figure.problem


def test_a_pair_that_says_nothing_lacks_it():
    assert lacks(1, *following(), pairs=(pair(),)) == ("differential",)
    assert lacks(1, *following(), pairs=(pair(wanted_as="ratio"),)) == ("ratio",)


def test_to_follow_without_a_pair():
    assert troubles(*following()) == [("no_partner", (1,))]
    # As the second of its pair a station is followed and follows nobody.
    stations = at(1, wanted="surface", wanted_m_s=0.4), at(2, wanted="pair")
    assert troubles(*stations, pairs=(pair(),)) == [("no_partner", (2,))]


def test_to_follow_two_at_once():
    pairs = pair(wanted_differential=0.1), pair(1, 3, id=2, name="b", wanted_differential=0.2)
    held = troubles(*following(), at(3, wanted="surface", wanted_m_s=0.3), pairs=pairs)
    assert held == [("followed_twice", (1, 2, 3))]


def test_a_chain_of_pairs_goes_back_to_the_one_with_its_own_speed():
    # 0.4 · 1.5 · 2
    pairs = (
        pair(1, 2, wanted_as="ratio", wanted_ratio=2.0),
        pair(2, 3, id=2, name="b", wanted_as="ratio", wanted_ratio=1.5),
    )
    stations = at(1, wanted="pair"), at(2, wanted="pair"), at(3, wanted="surface", wanted_m_s=0.4)
    assert speed(1, *stations, pairs=pairs) == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("pairs", "ring"),
    [
        ((pair(1, 1),), {1}),
        ((pair(1, 2), pair(2, 1, id=2)), {1, 2}),
        ((pair(1, 2), pair(2, 3, id=2), pair(3, 1, id=3)), {1, 2, 3}),
        # 1 follows the ring of 2 and 3, and is not in it.
        ((pair(1, 2), pair(2, 3, id=2), pair(3, 2, id=3)), {2, 3}),
    ],
)
def test_speeds_that_wait_for_one_another(pairs, ring):
    stations = [at(number, wanted="pair") for number in (1, 2, 3)]
    held = plan(*stations, pairs=pairs)
    rings = [t.station_ids for t in held.troubles if t.kind == "circular"]
    assert [set(ids) for ids in rings] == [ring]
    assert all(held.entry(number).planned_m_s is None for number in ring | {1})


def test_two_rows_that_both_wait_for_the_other():
    rows = bed({"wanted": "drift", "wanted_drift": 1.0})
    held = troubles(*rows, flows=BED_FLOWS, pairs=(pair(2, 3),), **FED)
    assert [(kind, set(ids)) for kind, ids in held] == [("circular", {2, 3})]


# --- water ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("flow_m3_h", "width", "depth", "water"),
    # reference fruit-line.md P4
    [(60, 0.5, 0.2, 0.16667), (27.25, 0.4572, 0.1524, 0.10864), (40, 0.4, 0.2, 0.13889)],
)
def test_water_speed(flow_m3_h, width, depth, water):
    # P1: the flow follows the speed. 80 m³/h at 1740 rpm of the motor.
    pump = at(
        1,
        "pump",
        wanted="water",
        wanted_water_m_s=water,
        flume_width_m=width,
        flume_depth_m=depth,
        pump_flow_m3_s=80.0 / 3600.0,
    )
    held = entry(1, pump)
    assert held.wanted["motor_speed_wanted_rad_s"].value / RPM == pytest.approx(
        1740.0 * flow_m3_h / 80.0, rel=1e-4
    )
    assert held.planned["water_speed_m_s"].value == pytest.approx(water)


def test_water_speed_without_a_flume():
    pump = at(1, "pump", wanted="water", wanted_water_m_s=0.2, pump_flow_m3_s=0.02)
    assert entry(1, pump).wanted["shaft_speed_wanted_rad_s"].lacks == ("width", "depth")


# --- recipes, and the order -------------------------------------------------------------------


def test_a_recipe_may_want_a_station_otherwise():
    belt = at(1, wanted="surface", wanted_m_s=0.3)
    fed = recipe(), recipe(id=2, name="Other", speeds=(own(1, "frequency", wanted_hz=30.0),))
    held = computed(belt, recipes=fed)
    assert held.plans[0].entry(1).planned_m_s == 0.3
    assert held.plans[1].entry(1).planned_hz == 30.0
    assert held.plans[1].entry(1).basis == "frequency"


def test_a_recipe_may_leave_a_station_out():
    belt = at(1, wanted="surface", wanted_m_s=0.3)
    held = plan(belt, recipes=(recipe(speeds=(own(1, "none"),)),))
    assert held.entry(1).planned_m_s is None


def scene(*stations, pairs=()):
    held = computed(*stations, pairs=pairs)
    by_station = {
        entry.id: tuple(p for p in pairs if entry.id in (p.first_station_id, p.second_station_id))
        for entry in stations
    }
    results = {result.station.id: result for result in held.stations}
    return Scene(held.line, recipe(), held.plan.graph, held.plan.rates, results, by_station, {})


@given(st.dictionaries(st.integers(1, 7), st.integers(1, 7), max_size=7))
def test_each_speed_comes_after_the_one_it_rests_on(follows):
    pairs = tuple(pair(a, b, id=n) for n, (a, b) in enumerate(follows.items(), start=1))
    stations = [at(n, wanted="pair" if n in follows else "none") for n in range(1, 8)]
    held = scene(*stations, pairs=pairs)
    needs = {key: rests_on(held, result.station) for key, result in held.results.items()}
    order, rings = order_of_aims(held.graph.order, needs)
    # Whoever comes to a ring by going from one to the next is left out, and nobody else.
    stuck = set()
    for start in range(1, 8):
        at_, seen = start, set()
        while at_ in follows and at_ not in seen:
            seen.add(at_)
            at_ = follows[at_]
        if at_ in seen:
            stuck.add(start)
    assert set(order) == set(range(1, 8)) - stuck
    assert bool(rings) == bool(stuck)
    for entry_ in order:
        for other in rests_on(held, held.results[entry_].station):
            assert order.index(other) < order.index(entry_)
    for ring in rings:
        assert all(follows[a] == b for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def test_every_basis_is_planned_here_and_named():
    assert set(FOLLOWING) < set(choices.WANTED_BASES)
    assert set(TROUBLES) == {
        "circular",
        "no_partner",
        "no_carrier",
        "followed_twice",
        "same_direction",
        "wrong_turn",
    }
