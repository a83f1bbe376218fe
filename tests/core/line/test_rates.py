"""How the fruit spreads over the line, against tables worked by hand; none is made or lost."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.line.figures import Workbench
from core.line.flow import flow_of
from core.line.rates import feed_figures, rates_of
from core.model import Flow
from tests.core.line.fruit import at, line, pair, recipe, row, way


def rates(*stations, flows=(), **changes):
    """Rates with a recipe changed by these fields; pairs go in by their name."""
    pairs = changes.pop("pairs", ())
    held = line(*stations, flows=flows, pairs=pairs)
    return rates_of(held, flow_of(held), recipe(**changes))


def belts(*numbers):
    return [at(number) for number in numbers]


def kinds(held):
    return [(fault.kind, fault.station_ids) for fault in held.faults]


# --- the feed ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bins_h", "bin_kg", "fruit_kg", "kg_h", "fruit_1_s"),
    [
        # reference fruit-line.md T1
        (6, 385.55, 0.10886, 2313.3, 5.9028),
        (3, 350, 0.065, 1050.0, 4.4872),
        (6, 320, 0.2, 1920.0, 2.6667),
        (20, 400, 0.15, 8000.0, 14.8148),
    ],
)
def test_feed_from_bins(bins_h, bin_kg, fruit_kg, kg_h, fruit_1_s):
    bench = Workbench()
    fed = recipe(
        throughput="bins", bins_1_s=bins_h / 3600.0, bin_mass_kg=bin_kg, fruit_mass_kg=fruit_kg
    )
    assert feed_figures(bench, fed) == pytest.approx(fruit_1_s, rel=1e-4)
    assert bench.figures["mass_flow_kg_s"].value * 3600.0 == pytest.approx(kg_h, rel=1e-4)
    assert bench.figures["feed_1_s"].value == pytest.approx(fruit_1_s, rel=1e-4)


def test_feed_from_mass():
    # 1800 kg/h of 0.1 kg: 0.5 kg/s, 5 fruit/s.
    bench = Workbench()
    fed = recipe(throughput="mass", mass_flow_kg_s=0.5)
    assert feed_figures(bench, fed) == pytest.approx(5.0)


def test_feed_as_fruit_is_told_as_entered():
    bench = Workbench()
    assert feed_figures(bench, recipe(fruit_1_s=7.0)) == 7.0
    assert bench.figures["feed_1_s"].inputs == {"entered_fruit_1_s": 7.0}


@pytest.mark.parametrize(
    ("changes", "lacks"),
    [
        ({"fruit_1_s": None}, ("fruit wanted",)),
        ({"throughput": "mass", "mass_flow_kg_s": None}, ("mass flow",)),
        ({"throughput": "mass", "mass_flow_kg_s": 1.0, "fruit_mass_kg": None}, ("fruit mass",)),
        ({"throughput": "bins", "bins_1_s": 0.001, "bin_mass_kg": None}, ("mass flow",)),
    ],
)
def test_a_feed_that_lacks_something_says_what(changes, lacks):
    bench = Workbench()
    assert feed_figures(bench, recipe(**changes)) is None
    assert bench.figures["feed_1_s"].lacks == lacks


def test_without_recipe_or_basis_no_fruit_is_known():
    assert feed_figures(Workbench(), None) is None
    assert rates(*belts(1), throughput=None).at_1_s == {}
    held = line(*belts(1))
    assert rates_of(held, flow_of(held), None).feed_1_s is None


# --- how it spreads ---------------------------------------------------------------------------


def test_in_a_row_all_of_it_passes_everywhere():
    assert rates(*belts(1, 2, 3), flows=row(1, 2, 3)).at_1_s == {1: 6.0, 2: 6.0, 3: 6.0}


def test_a_line_without_links_feeds_the_first_that_carries_fruit():
    assert rates(at(1, "pump"), *belts(2, 3)).at_1_s == {2: 6.0}
    assert rates(at(1, "fan")).at_1_s == {}


def test_split_evenly_by_share_and_by_the_rest():
    # 6 = 3 × 2; 25 % of 6 = 1.5 and the other two share 4.5.
    flows = ((1, 2), (1, 3), (1, 4))
    even = rates(*belts(1, 2, 3, 4), flows=way(*flows))
    assert even.at_1_s == pytest.approx({1: 6.0, 2: 2.0, 3: 2.0, 4: 2.0})
    shared = way((1, 2, "forward", 0.25), *flows[1:])
    held = rates(*belts(1, 2, 3, 4), flows=shared)
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 1.5, 3: 2.25, 4: 2.25})
    assert held.link_1_s == pytest.approx({1: 1.5, 2: 2.25, 3: 2.25})


def test_merge():
    # 6 splits 1 : 2 into 2 and 4, which meet again.
    flows = way((1, 2, "forward", 1 / 3), (1, 3), (2, 4), (3, 4))
    held = rates(*belts(1, 2, 3, 4), flows=flows)
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 2.0, 3: 4.0, 4: 6.0})


@pytest.mark.parametrize(
    ("fed", "culled", "left"),
    # reference fruit-line.md T1: fruit/s in, removals, fruit/s to the cups
    [(5.9028, 0.05, 5.6077), (4.4872, 0.06, 4.2179), (14.8148, 0.1, 13.3333)],
)
def test_culls_leave_where_their_link_is(fed, culled, left):
    flows = way((1, 2), (2, 3), (2, 4, "cull"))
    held = rates(*belts(1, 2, 3), at(4, "take_away"), flows=flows, fruit_1_s=fed, culled=culled)
    assert held.at_1_s[3] == pytest.approx(left, rel=1e-4)
    assert held.at_1_s[4] == pytest.approx(fed - left, abs=2e-4)
    assert held.at_1_s[2] == fed


def test_culls_may_leave_to_nowhere():
    held = rates(*belts(1, 2), flows=way((1, 2), (1, None, "cull")), culled=0.05)
    # 6 less 5 % of 6
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 5.7})
    assert held.link_1_s[2] == pytest.approx(0.3)


def test_where_only_culls_lead_away_good_fruit_ends():
    held = rates(*belts(1, 2), flows=way((1, 2), (2, None, "cull")), culled=0.1)
    assert held.at_1_s == {1: 6.0, 2: 6.0}
    assert held.link_1_s[2] == pytest.approx(0.6)
    assert kinds(held) == []


def test_two_cull_links_of_one_station_share_the_culls():
    flows = way((1, 2), (1, 3, "cull"), (1, None, "cull"))
    held = rates(*belts(1, 2, 3), flows=flows, culled=0.1)
    # 10 % of 6 is 0.6, half of it each way
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 5.4, 3: 0.3})


def test_cull_places_in_a_row_take_together_what_the_recipe_says():
    flows = way((1, 2), (1, None, "cull"), (2, 3), (2, None, "cull"))
    held = rates(*belts(1, 2, 3), flows=flows, culled=0.19)
    # 19 % of 6 fruit/s leave 4.86; two equal shares of 10 % do: 6 · 0.9 · 0.9.
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 5.4, 3: 4.86})


def test_cull_places_side_by_side_take_each_what_the_recipe_says_of_their_own():
    flows = way((1, 2), (1, 3), (2, 4), (2, None, "cull"), (3, 4), (3, None, "cull"))
    held = rates(*belts(1, 2, 3, 4), flows=flows, culled=0.1)
    # 3 fruit/s on each side, 0.3 of them culled: 2 · 2.7 come together.
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 3.0, 3: 3.0, 4: 5.4})


def test_a_share_at_the_cull_link_goes_before_the_recipe():
    flows = way((1, 2), (1, None, "cull", 0.5))
    assert rates(*belts(1, 2), flows=flows, culled=0.1).at_1_s[2] == pytest.approx(3.0)


def test_culls_without_a_way_out_stay_and_are_told():
    held = rates(*belts(1, 2), flows=row(1, 2), culled=0.05)
    assert held.at_1_s[2] == 6.0
    assert kinds(held) == [("culls_stay", ())]
    assert kinds(rates(*belts(1, 2), flows=row(1, 2))) == []


def cups_over(*classes):
    """Cups that drop onto a take-away for each class of sizes [mm]."""
    belts_ = [
        at(n, "take_away", size_from_m=low and low / 1e3, size_to_m=high and high / 1e3)
        for n, (low, high) in enumerate(classes, start=2)
    ]
    return at(1, "cup_conveyor"), *belts_


SPREAD = {"fruit_diameter_m": 0.060, "diameter_spread_m": 0.005}


def test_sizes_go_to_the_take_away_that_is_there_for_them():
    # 60 ± 5 mm normal: below 55 mm Φ(−1) = 15.866 %, 55 to 65 mm 68.269 %, above 15.866 %
    # (tables of the normal distribution).
    held = rates(
        *cups_over((None, 55), (55, 65), (65, None)), flows=way((1, 2), (1, 3), (1, 4)), **SPREAD
    )
    assert held.at_1_s[2] == pytest.approx(6 * 0.158655, rel=1e-5)
    assert held.at_1_s[3] == pytest.approx(6 * 0.682689, rel=1e-5)
    assert held.at_1_s[4] == pytest.approx(6 * 0.158655, rel=1e-5)
    assert kinds(held) == []


def test_a_take_away_without_sizes_gets_the_rest():
    # 45 to 60 mm: Φ(0) − Φ(−3) = 0.5 − 0.00134990
    held = rates(*cups_over((45, 60), (None, None)), flows=way((1, 2), (1, 3)), **SPREAD)
    assert held.at_1_s[2] == pytest.approx(6 * 0.4986501, rel=1e-6)
    assert held.at_1_s[3] == pytest.approx(6 * 0.5013499, rel=1e-6)


def test_sizes_that_leave_some_fruit_without_a_way_are_told():
    # 50 to 55 to 65 mm: what is below 50 or above 65 mm goes nowhere.
    held = rates(*cups_over((50, 55), (55, 65)), flows=way((1, 2), (1, 3)), **SPREAD)
    assert kinds(held) == [("shares", (1,))]
    assert set(held.at_1_s) == {1}


def test_culls_go_before_the_sizes():
    # 10 % of 6 is culled at the cups; half of the other 5.4 is below the mean.
    flows = way((1, 2), (1, 3), (1, None, "cull"))
    held = rates(*cups_over((None, 60), (60, None)), flows=flows, culled=0.1, **SPREAD)
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 2.7, 3: 2.7})
    assert kinds(held) == []


def test_the_only_take_away_gets_all_whatever_its_sizes():
    held = rates(*cups_over((50, 55)), flows=way((1, 2), (1, None, "cull")), culled=0.1, **SPREAD)
    assert held.at_1_s[2] == pytest.approx(5.4)


def test_without_a_spread_sizes_split_evenly():
    held = rates(*cups_over((None, 55), (55, 65), (65, None)), flows=way((1, 2), (1, 3), (1, 4)))
    assert held.at_1_s[2] == pytest.approx(2.0)


# --- places -----------------------------------------------------------------------------------


def bed():
    return at(2, "brush_bed"), at(3, "brush_bed", turn="reverse")


BED_FLOWS = ((1, 2), (1, 3), (2, 4), (3, 4))


def test_both_rows_of_a_bed_carry_all_of_the_fruit():
    held = rates(at(1), *bed(), at(4), flows=way(*BED_FLOWS), pairs=(pair(2, 3),))
    assert held.at_1_s == {1: 6.0, 2: 6.0, 3: 6.0, 4: 6.0}
    # Without the pair they are two beds beside one another, with half of it each.
    held = rates(at(1), *bed(), at(4), flows=way(*BED_FLOWS))
    assert held.at_1_s == pytest.approx({1: 6.0, 2: 3.0, 3: 3.0, 4: 6.0})


def test_halves_entered_for_both_rows_make_up_all_of_it():
    flows = way((1, 2, "forward", 0.5), (1, 3, "forward", 0.5), (2, 4), (3, 4))
    held = rates(at(1), *bed(), at(4), flows=flows, pairs=(pair(2, 3),))
    assert held.at_1_s == {1: 6.0, 2: 6.0, 3: 6.0, 4: 6.0}


def test_each_row_may_be_told_to_pass_all_on():
    flows = way((1, 2), (1, 3), (2, 4, "forward", 1.0), (3, 4, "forward", 1.0))
    held = rates(at(1), *bed(), at(4), flows=flows, pairs=(pair(2, 3),))
    assert held.at_1_s[4] == 6.0


def test_a_bed_at_the_head_gets_the_feed_once():
    for outside in ((), ((None, 2), (None, 3))):
        held = rates(*bed(), at(4), flows=way((2, 4), (3, 4), *outside), pairs=(pair(2, 3),))
        assert held.at_1_s == {2: 6.0, 3: 6.0, 4: 6.0}


# --- starts -----------------------------------------------------------------------------------


def test_two_starts_share_the_feed_evenly():
    held = rates(*belts(1, 2, 3), flows=way((1, 3), (2, 3)))
    assert held.at_1_s == {1: 3.0, 2: 3.0, 3: 6.0}


def test_links_from_outside_give_the_feed_its_shares():
    flows = way((None, 1, "forward", 0.25), (None, 2), (1, 3), (2, 3))
    assert rates(*belts(1, 2, 3), flows=flows).at_1_s == pytest.approx({1: 1.5, 2: 4.5, 3: 6.0})


def test_a_station_before_the_place_that_is_fed_carries_nothing():
    # A pump before the elevator: fruit comes in at the elevator.
    held = rates(at(1, "pump"), at(2), at(3), flows=way((1, 2), (2, 3), (None, 2)))
    assert held.at_1_s == {2: 6.0, 3: 6.0}


def test_shares_of_the_feed_that_do_not_make_it_up():
    flows = way((None, 1, "forward", 0.25), (None, 2, "forward", 0.25), (1, 3), (2, 3))
    held = rates(*belts(1, 2, 3), flows=flows)
    assert kinds(held) == [("feed_shares", (1, 2))]
    assert held.at_1_s == {}


# --- what is wrong ----------------------------------------------------------------------------


@pytest.mark.parametrize("shares", [(0.5, 0.4), (0.7, 0.4), (1.2, None)])
def test_shares_that_do_not_make_up_one_leave_what_follows_unknown(shares):
    flows = way((1, 2, "forward", shares[0]), (1, 3, "forward", shares[1]), (2, 4), (5, 4), (1, 5))
    held = rates(*belts(1, 2, 3, 4, 5), flows=flows[:-1])
    assert ("shares", (1,)) in kinds(held)
    # 4 gets fruit from 5 as well, but nobody knows how much it gets in all.
    assert set(held.at_1_s) <= {1, 5}


def test_behind_a_loop_no_flow_is_known():
    flows = way((1, 2), (2, 3), (3, 2), (3, 4), (1, 5))
    held = rates(*belts(1, 2, 3, 4, 5), flows=flows)
    assert held.at_1_s == pytest.approx({1: 6.0, 5: 3.0})


def test_a_line_that_is_one_ring_has_no_start():
    held = rates(*belts(1, 2), flows=way((1, 2), (2, 1)))
    assert held.at_1_s == {}
    assert held.faults == ()


# --- none is made or lost ---------------------------------------------------------------------


@st.composite
def sound_lines(draw):
    """Stations in layers; every link leads on, shares are left to the rest at least once."""
    size = draw(st.integers(2, 8))
    flows = []
    for number in range(1, size):
        targets = draw(st.sets(st.integers(number + 1, size), max_size=3))
        shares = draw(st.lists(st.floats(0.0, 0.3), min_size=3, max_size=3))
        for place, target in enumerate(sorted(targets)):
            flows.append((number, target, "forward", shares[place] if place else None))
        if draw(st.booleans()):
            flows.append((number, None, "cull"))
    return size, way(*flows), draw(st.floats(0.0, 0.4))


@given(sound_lines())
def test_what_comes_in_goes_out(drawn):
    size, flows, culled = drawn
    held = rates(*belts(*range(1, size + 1)), flows=flows, culled=culled)
    assert [kind for kind, _ in kinds(held) if kind != "culls_stay"] == []
    for number in range(1, size + 1):
        amount = held.at_1_s.get(number, 0.0)
        out = [held.link_1_s.get(f.id, 0.0) for f in flows if f.from_station_id == number]
        into = [held.link_1_s.get(f.id, 0.0) for f in flows if f.to_station_id == number]
        if any(f.from_station_id == number and f.kind == "forward" for f in flows):
            assert math.fsum(out) == pytest.approx(amount)
        if into:
            assert math.fsum(into) == pytest.approx(amount, abs=1e-12)


@given(sound_lines())
def test_all_of_the_feed_ends_somewhere(drawn):
    size, flows, culled = drawn
    # Every station passes good fruit on or is an end; culls end outside.
    leads_on = {f.from_station_id for f in flows if f.kind == "forward"}
    flows = tuple(f for f in flows if f.kind == "forward" or f.from_station_id in leads_on)
    held = rates(*belts(*range(1, size + 1)), flows=flows, culled=culled)
    ends = [amount for number, amount in held.at_1_s.items() if number not in leads_on]
    outside = [held.link_1_s.get(f.id, 0.0) for f in flows if f.to_station_id is None]
    if flows:
        assert math.fsum(ends) + math.fsum(outside) == pytest.approx(6.0)


@given(sound_lines(), st.floats(0.1, 10.0))
def test_twice_the_feed_is_twice_everything(drawn, factor):
    size, flows, culled = drawn
    stations = belts(*range(1, size + 1))
    once = rates(*stations, flows=flows, culled=culled)
    more = rates(*stations, flows=flows, culled=culled, fruit_1_s=6.0 * factor)
    assert more.at_1_s == pytest.approx({k: v * factor for k, v in once.at_1_s.items()})


def test_the_same_link_twice_carries_the_fruit_once():
    held = rates(*belts(1, 2), flows=(Flow(1, 1, 2), Flow(2, 1, 2)))
    assert held.at_1_s == {1: 6.0, 2: 6.0}
