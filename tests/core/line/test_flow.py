"""The way of the fruit: order, loops, loose ends, places; random graphs against networkx."""

import dataclasses

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.line.flow import FLOW_FAULTS
from core.model import Flow
from tests.core.line.fruit import at, graph, pair, row, way


def belts(*numbers):
    return [at(number) for number in numbers]


def faults(held):
    return [(fault.kind, fault.station_ids) for fault in held.faults]


def test_order_follows_the_links_and_not_the_list():
    held = graph(*belts(1, 2, 3, 4), flows=way((3, 1), (1, 4), (4, 2)))
    assert held.order == (3, 1, 4, 2)
    assert held.faults == ()


def test_stations_that_no_link_puts_in_order_keep_that_of_the_list():
    # 3 splits onto 2 and 1, which meet again at 4: the list has 2 before 1.
    held = graph(*belts(3, 2, 1, 4), flows=way((3, 1), (3, 2), (2, 4), (1, 4)))
    assert held.order == (3, 2, 1, 4)


def test_before_and_after():
    held = graph(*belts(1, 2, 3, 4), flows=way((1, 2), (1, 3), (2, 4), (3, 4), (1, None, "cull")))
    assert held.after(1) == (2, 3)
    assert held.before(4) == (2, 3)
    assert held.before(1) == ()
    assert held.after(4) == ()


def test_culls_are_carried_on_but_are_not_good_fruit():
    held = graph(*belts(1, 2, 3), flows=way((1, 2), (1, 3, "cull")))
    assert held.after(1) == (2,)
    assert held.before(3) == (1,)
    assert held.order == (1, 2, 3)


def test_links_from_and_to_outside_have_no_station():
    held = graph(*belts(1, 2), flows=way((None, 1), (1, 2), (2, None)))
    assert held.order == (1, 2)
    assert (held.before(1), held.after(2)) == ((), ())
    assert faults(held) == []


def test_a_return_is_no_loop():
    spin, cups = at(1, "spin_section"), at(2, "cup_conveyor")
    held = graph(spin, cups, flows=way((1, 2), (2, 1, "return")))
    assert held.order == (1, 2)
    assert [(flow.from_station_id, flow.to_station_id) for flow in held.returns] == [(2, 1)]
    assert faults(held) == []


def test_a_loop_is_told_as_the_ring_it_is():
    # 1 feeds the ring 2-3-4, and 5 hangs behind it: neither is in it.
    flows = way((1, 2), (2, 3), (3, 4), (4, 2), (4, 5))
    held = graph(*belts(1, 2, 3, 4, 5), flows=flows)
    assert faults(held) == [("loop", (2, 3, 4))]
    assert held.order[0] == 1
    assert sorted(held.order) == [1, 2, 3, 4, 5]


def test_a_station_that_feeds_itself_is_a_loop():
    assert faults(graph(*belts(1, 2), flows=way((1, 2), (2, 2)))) == [("loop", (2,))]


def test_two_loops_are_told_apart():
    flows = way((1, 2), (2, 1), (2, 3), (3, 4), (4, 3))
    rings = [set(ids) for kind, ids in faults(graph(*belts(1, 2, 3, 4), flows=flows))]
    assert {1, 2} in rings
    assert {3, 4} in rings
    assert len(rings) == 2


def test_apart_is_what_handles_fruit_without_any_link():
    stations = [*belts(1, 2, 3), at(4, "fan"), at(5, "pump"), at(6, "other"), at(7, "brush_bed")]
    assert faults(graph(*stations, flows=row(1, 2))) == [("apart", (3, 7))]


def test_a_line_without_links_has_nothing_apart():
    assert faults(graph(*belts(1, 2, 3))) == []


def test_two_starts():
    assert faults(graph(*belts(1, 2, 3), flows=way((1, 3), (2, 3)))) == [("two_starts", (1, 2))]


def test_starts_that_are_fed_from_outside_are_meant():
    flows = way((None, 1), (None, 2), (1, 3), (2, 3))
    assert faults(graph(*belts(1, 2, 3), flows=flows)) == []


def test_both_rows_of_a_bed_at_the_head_are_one_start():
    rows = at(1, "brush_bed"), at(2, "brush_bed", turn="reverse")
    held = graph(*rows, at(3), flows=way((1, 3), (2, 3)), pairs=(pair(),))
    assert faults(held) == []


def test_dead_end_is_a_cup_conveyor_without_its_take_aways():
    stations = [at(1), at(2, "cup_conveyor"), at(3, "take_away")]
    held = graph(*stations, flows=way((1, 2), (1, 3)))
    assert faults(held) == [("dead_end", (2,))]
    assert faults(graph(*stations, flows=row(1, 2, 3))) == []
    # Where no take-away is entered at all, the line may well end at its cups.
    assert faults(graph(*stations[:2], flows=row(1, 2))) == []


def bed(**second):
    """A feed belt, both rows of a bed, and what comes behind."""
    rows = at(2, "brush_bed"), dataclasses.replace(at(3, "brush_bed", turn="reverse"), **second)
    return at(1), *rows, at(4)


BED_FLOWS = way((1, 2), (1, 3), (2, 4), (3, 4))


def test_two_rows_that_are_fed_alike_and_make_a_pair_are_one_place():
    held = graph(*bed(), flows=BED_FLOWS, pairs=(pair(3, 2),))
    assert held.together == {1: (1,), 2: (2, 3), 3: (2, 3), 4: (4,)}


@pytest.mark.parametrize(
    ("second", "flows", "pairs"),
    [
        pytest.param({}, BED_FLOWS, (), id="no pair"),
        pytest.param({"kind": "belt_pair_side"}, BED_FLOWS, (pair(2, 3),), id="other kind"),
        pytest.param({"lane": 2}, BED_FLOWS, (pair(2, 3),), id="other lane"),
        pytest.param({}, row(1, 2, 3, 4), (pair(2, 3),), id="one behind the other"),
        pytest.param({}, BED_FLOWS, (pair(2, None),), id="half a pair"),
        pytest.param({}, BED_FLOWS, (pair(2, 2),), id="pair with itself"),
        pytest.param({}, BED_FLOWS, (pair(2, 99),), id="pair with a station that is gone"),
    ],
)
def test_else_they_are_two(second, flows, pairs):
    assert graph(*bed(**second), flows=flows, pairs=pairs).together[2] == (2,)


def test_two_belts_of_one_kind_are_never_one_place():
    held = graph(*belts(1, 2, 3), flows=way((1, 2), (1, 3)), pairs=(pair(2, 3),))
    assert held.together[2] == (2,)


def test_three_rows_in_two_pairs_are_one_place():
    rows = [at(number, "brush_bed") for number in (2, 3, 4)]
    flows = way((1, 2), (1, 3), (1, 4))
    pairs = pair(2, 3), pair(3, 4, id=2, name="others")
    assert graph(at(1), *rows, flows=flows, pairs=pairs).together[4] == (2, 3, 4)


# --- any graph, against networkx --------------------------------------------------------------


@st.composite
def links(draw):
    size = draw(st.integers(1, 9))
    numbers = st.integers(1, size)
    kinds = st.sampled_from(["forward", "forward", "cull", "return"])
    found = draw(st.lists(st.tuples(numbers, numbers, kinds), max_size=20))
    return size, tuple(Flow(n, *link) for n, link in enumerate(found, start=1))


def as_networkx(size, flows):
    held = networkx.DiGraph()
    held.add_nodes_from(range(1, size + 1))
    held.add_edges_from((f.from_station_id, f.to_station_id) for f in flows if f.kind != "return")
    return held


@given(links())
def test_any_graph_is_in_order_or_has_its_loop_told(drawn):
    size, flows = drawn
    ours, theirs = graph(*belts(*range(1, size + 1)), flows=flows), as_networkx(size, flows)
    assert sorted(ours.order) == list(range(1, size + 1))
    assert {fault.kind for fault in ours.faults} <= set(FLOW_FAULTS)
    rings = [fault.station_ids for fault in ours.faults if fault.kind == "loop"]
    assert bool(rings) == (not networkx.is_directed_acyclic_graph(theirs))
    place = {entry: at for at, entry in enumerate(ours.order)}
    knotted = set().union(*networkx.simple_cycles(theirs))
    knotted = knotted.union(*(networkx.descendants(theirs, entry) for entry in knotted))
    for first, second in theirs.edges:
        # All of them where there is no loop; else those that no loop stands before.
        if second not in knotted:
            assert place[first] < place[second]


@given(links())
def test_every_ring_that_is_told_is_one(drawn):
    size, flows = drawn
    ours, theirs = graph(*belts(*range(1, size + 1)), flows=flows), as_networkx(size, flows)
    told = [fault.station_ids for fault in ours.faults if fault.kind == "loop"]
    for ring in told:
        assert len(set(ring)) == len(ring)
        for first, second in zip(ring, (*ring[1:], ring[0]), strict=True):
            assert theirs.has_edge(first, second)
    # No station is told in two rings.
    assert len({entry for ring in told for entry in ring}) == sum(len(ring) for ring in told)


@given(links(), st.randoms(use_true_random=False))
def test_the_order_of_the_links_does_not_matter(drawn, random):
    size, flows = drawn
    shuffled = list(flows)
    random.shuffle(shuffled)
    stations = belts(*range(1, size + 1))
    assert graph(*stations, flows=flows).order == graph(*stations, flows=tuple(shuffled)).order
