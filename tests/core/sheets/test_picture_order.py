import networkx
from hypothesis import given

from core.sheets.line_picture import PictureData, PictureFlow, PicturePair, PictureStation
from core.sheets.picture_order import Place, order_of
from tests.core.sheets import pictures


def _line(count, *flows, pairs=()):
    stations = tuple(PictureStation(key, f"T{key}") for key in range(1, count + 1))
    return PictureData(
        stations,
        tuple(PictureFlow(*flow) for flow in flows),
        tuple(PicturePair(*pair) for pair in pairs),
    )


def test_a_chain_stands_in_one_lane_in_the_order_of_the_flow():
    order = order_of(_line(3, (2, 3), (3, 1)))
    assert order.places == {2: Place(0, 0), 3: Place(1, 0), 1: Place(2, 0)}


def test_branches_stand_above_one_another_and_meet_again():
    order = order_of(_line(4, (1, 2), (1, 3), (2, 4), (3, 4)))
    assert order.places == {1: Place(0, 0), 2: Place(1, 0), 3: Place(1, 1), 4: Place(2, 0)}


def test_a_pair_in_branches_of_unlike_length_stands_in_one_layer():
    # 1-2-3-5 and 1-4-5, and 3 and 4 are the two sides of a V.
    order = order_of(_line(5, (1, 2), (2, 3), (3, 5), (1, 4), (4, 5), pairs=[(3, 4)]))
    assert order.places[3].layer == order.places[4].layer == 2
    assert abs(order.places[3].lane - order.places[4].lane) == 1


def test_a_pair_that_follows_one_another_stays_in_the_order_of_the_flow():
    order = order_of(_line(3, (1, 2), (2, 3), pairs=[(1, 3)]))
    assert [order.places[key].layer for key in (1, 2, 3)] == [0, 1, 2]


def test_a_return_and_a_loop_turn_nothing_round():
    order = order_of(_line(4, (1, 2), (2, 3), (3, 4), (4, 2, "return"), (4, 1), (2, 2)))
    assert [order.places[key].layer for key in (1, 2, 3, 4)] == [0, 1, 2, 3]


def test_culls_stand_below_what_goes_on():
    order = order_of(_line(4, (1, 2, "cull"), (1, 3), (3, 4)))
    assert order.places[3] == Place(1, 0)
    assert order.places[2] == Place(1, 1)


def test_what_feeds_in_on_the_way_stands_before_where_it_does():
    order = order_of(_line(5, (1, 2), (2, 3), (3, 4), (5, 4)))
    assert order.places[5] == Place(2, 1)


def test_many_ends_stand_three_above_one_another_at_most():
    order = order_of(_line(8, *((1, end) for end in range(2, 9))))
    layers = [order.places[key].layer for key in range(2, 9)]
    assert layers == [1, 1, 1, 2, 2, 2, 3]


def test_a_station_that_no_flow_touches_is_apart():
    order = order_of(_line(3, (3, 1)))
    assert order.apart == (2,)


def test_parts_of_a_flow_that_do_not_hang_together_follow_each_other():
    order = order_of(_line(4, (1, 2), (3, 4)))
    assert [order.places[key].layer for key in (1, 2, 3, 4)] == [0, 1, 2, 3]


def test_a_chain_longer_than_the_stack_of_calls_is_ordered():
    order = order_of(pictures.chain(2000))
    assert order.places[2000] == Place(1999, 0)


@given(pictures.any_line())
def test_every_flow_that_is_on_no_loop_goes_on_to_a_later_layer(data):
    order = order_of(data)
    graph = networkx.DiGraph(
        (flow.from_id, flow.to_id) for flow in data.flows if flow.kind != "return"
    )
    loop = {key: at for at, of in enumerate(networkx.strongly_connected_components(graph))
            for key in of}  # fmt: skip
    for one, other in graph.edges:
        if loop[one] != loop[other]:
            assert order.places[one].layer < order.places[other].layer


@given(pictures.any_line())
def test_every_station_has_one_place_of_its_own(data):
    order = order_of(data)
    assert len(set(order.places.values())) == len(order.places)
    assert {*order.places, *order.apart} == {station.station_id for station in data.stations}
    assert len(order.places) + len(order.apart) == len(data.stations)
