"""The way of the fruit, and speeds that hang on one another."""

import dataclasses

from tests.core.line import fruit
from tests.core.line.findings.sound import fires, quiet
from tests.core.line.fruit import at, pair, recipe, row, way


def belts(*numbers):
    return [at(number) for number in numbers]


def test_flow_loop_fires():
    flows = way((1, 2), (2, 3), (3, 2))
    entry = fires("flow-loop", fruit.line(*belts(1, 2, 3), flows=flows))
    assert entry.says("metric") == "Fruit would go round: ST2, ST3."
    assert (entry.tag, entry.place.table) == ("ST2", "station")


def test_flow_loop_is_told_once_for_several_recipes():
    recipes = recipe(), recipe(id=2, name="Other")
    flows = way((1, 2), (2, 1))
    assert fires("flow-loop", fruit.line(*belts(1, 2), flows=flows, recipes=recipes))


def test_flow_loop_quiet():
    quiet("flow-loop", fruit.line(*belts(1, 2), flows=row(1, 2)))
    quiet("flow-loop", fruit.line(*belts(1, 2), flows=way((1, 2), (2, 1, "return"))))


def test_flow_apart_fires():
    entry = fires("flow-apart", fruit.line(*belts(1, 2, 3, 4), flows=row(1, 2)))
    assert "to or from ST3, ST4." in entry.says("us")
    assert entry.level == "advice"


def test_flow_apart_quiet():
    quiet("flow-apart", fruit.line(*belts(1, 2), at(3, "fan"), flows=row(1, 2)))
    quiet("flow-apart", fruit.line(*belts(1, 2)))


def test_flow_two_starts_fires():
    entry = fires("flow-two-starts", fruit.line(*belts(1, 2, 3), flows=way((1, 3), (2, 3))))
    assert "several stations: ST1, ST2." in entry.says("metric")


def test_flow_two_starts_quiet():
    flows = way((None, 1), (None, 2), (1, 3), (2, 3))
    quiet("flow-two-starts", fruit.line(*belts(1, 2, 3), flows=flows))
    rows = at(1, "brush_bed"), at(2, "brush_bed", turn="reverse"), at(3)
    flows = way((1, 3), (2, 3))
    quiet("flow-two-starts", fruit.line(*rows, flows=flows, pairs=(pair(),)))


def test_flow_dead_end_fires():
    stations = at(1), at(2, "cup_conveyor"), at(3, "take_away")
    entry = fires("flow-dead-end", fruit.line(*stations, flows=way((1, 2), (1, 3, "cull"))))
    assert "takes the fruit from ST2." in entry.says("metric")


def test_flow_dead_end_quiet():
    stations = at(1), at(2, "cup_conveyor"), at(3, "take_away")
    quiet("flow-dead-end", fruit.line(*stations, flows=row(1, 2, 3)))


def test_flow_shares_fires():
    flows = way((1, 2, "forward", 0.5), (1, 3, "forward", 0.4))
    entry = fires("flow-shares", fruit.line(*belts(1, 2, 3), flows=flows))
    assert "The shares of the links from ST1 do not" in entry.says("metric")


def test_flow_shares_quiet():
    for second in (0.5, None):
        flows = way((1, 2, "forward", 0.5), (1, 3, "forward", second))
        quiet("flow-shares", fruit.line(*belts(1, 2, 3), flows=flows))


def test_flow_feed_shares_fires():
    flows = way((None, 1, "forward", 0.5), (None, 2, "forward", 0.6), (1, 3), (2, 3))
    entry = fires("flow-feed-shares", fruit.line(*belts(1, 2, 3), flows=flows))
    assert "from outside, to ST1, ST2, do not" in entry.says("metric")


def test_flow_feed_shares_quiet():
    flows = way((None, 1, "forward", 0.4), (None, 2, "forward", 0.6), (1, 3), (2, 3))
    quiet("flow-feed-shares", fruit.line(*belts(1, 2, 3), flows=flows))
    quiet("flow-feed-shares", fruit.line(*belts(1, 2), flows=row(1, 2)))


def test_culls_stay_fires():
    held = fruit.line(*belts(1, 2), flows=row(1, 2), recipes=(recipe(culled=0.05),))
    entry = fires("culls-stay", held)
    assert (entry.station_id, entry.place.table) == (None, "line")


def test_culls_stay_quiet():
    flows = way((1, 2), (1, None, "cull"))
    quiet("culls-stay", fruit.line(*belts(1, 2), flows=flows, recipes=(recipe(culled=0.05),)))
    quiet("culls-stay", fruit.line(*belts(1, 2), flows=row(1, 2)))
    none = recipe(culled=0.0)
    quiet("culls-stay", fruit.line(*belts(1, 2), flows=row(1, 2), recipes=(none,)))


def following(*pairs, count=3):
    stations = [at(number, wanted="pair") for number in range(1, count)]
    return fruit.line(*stations, at(count, wanted="surface", wanted_m_s=0.4), pairs=pairs)


def test_plan_circular_fires():
    entry = fires("plan-circular", following(pair(1, 2), pair(2, 1, id=2, name="b")))
    assert "wait for one another: ST1, ST2." in entry.says("metric")


def test_plan_circular_quiet():
    quiet("plan-circular", following(pair(1, 2), pair(2, 3, id=2, name="b")))


def test_plan_no_partner_fires():
    entry = fires("plan-no-partner", following(pair(1, 3)))
    assert entry.says("metric").startswith("ST2 is to follow its pair, but stands in none")


def test_plan_no_partner_quiet():
    quiet("plan-no-partner", following(pair(1, 2), pair(2, 3, id=2, name="b")))


def test_plan_followed_twice_fires():
    pairs = pair(1, 2, wanted_differential=0.1), pair(1, 3, id=2, wanted_differential=0.2)
    entry = fires("plan-followed-twice", following(*pairs, pair(2, 3, id=3, name="c")))
    assert "several others at once: ST1, ST2, ST3." in entry.says("metric")


def test_plan_followed_twice_quiet():
    # One may be followed by two.
    quiet("plan-followed-twice", following(pair(1, 3), pair(2, 3, id=2, name="b")))


def bed(turn):
    rows = (
        at(2, "brush_bed", wanted="surface", wanted_m_s=0.6),
        at(3, "brush_bed", turn=turn, wanted="drift", wanted_drift=1.0),
    )
    return fruit.line(at(1), *rows, flows=way((1, 2), (1, 3)), pairs=(pair(2, 3),))


def test_plan_same_direction_fires():
    entry = fires("plan-same-direction", bed("forward"))
    assert "The rows ST3, ST2 turn the same way" in entry.says("metric")


def test_plan_same_direction_quiet():
    quiet("plan-same-direction", bed("reverse"))


def camera(turns, *, turn="forward", flows=None):
    spin = at(1, "spin_section", wanted="turns", wanted_turns=turns, turn=turn, view_length_m=0.5)
    cups = at(2, "cup_conveyor", wanted="surface", wanted_m_s=0.4)
    return fruit.line(spin, cups, at(3), flows=row(1, 2, 3) if flows is None else flows)


def test_plan_no_carrier_fires():
    entry = fires("plan-no-carrier", camera(1.5, flows=row(1, 3)))
    assert entry.says("metric").startswith("ST1 is to turn fruit in view, but no cup conveyor")


def test_plan_no_carrier_quiet():
    quiet("plan-no-carrier", camera(1.5))


def test_plan_wrong_turn_fires():
    # A spin belt at rest gives 0.5 / (π · 0.06) = 2.65 turns; more need it to run against the cups.
    entry = fires("plan-wrong-turn", camera(3.0))
    assert entry.says("metric") == "For the turns wanted ST1 would have to turn the other way."
    assert fires("plan-wrong-turn", camera(1.5, turn="reverse"))


def test_plan_wrong_turn_quiet():
    quiet("plan-wrong-turn", camera(1.5))
    quiet("plan-wrong-turn", camera(3.0, turn="reverse"))


def test_troubles_of_another_recipe_name_it():
    held = camera(1.5)
    turns = fruit.own(1, "turns", wanted_turns=3.0)
    fast = recipe(id=2, name="Large", fruit_diameter_m=0.06, speeds=(turns,))
    entry = fires("plan-wrong-turn", dataclasses.replace(held, recipes=(recipe(), fast)))
    assert entry.says("metric").startswith("Large: For the turns wanted")
