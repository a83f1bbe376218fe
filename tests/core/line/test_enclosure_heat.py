"""The heat of all drives in an enclosure against what it carries away, worked by hand."""

import dataclasses

import pytest

from core.line import compute_line
from core.line.enclosure_heat import enclosure_heats
from tests.core.line.findings.sound import ENCLOSURE, change, line, numbered


def heat_of(number=1, kind=None, **changes):
    held = [numbered(each) for each in range(1, number + 1)]
    panel = dataclasses.replace(ENCLOSURE, **changes)
    (found,) = enclosure_heats(compute_line(line(*held, kind=kind, enclosures=(panel,))))
    return found


def test_enclosure_worked_by_hand():
    # electrical.md 6.1: 0.6 x 0.8 x 0.25 m on a wall: 1.4 * 0.6 * 1.05 + 1.8 * 0.25 * 0.8
    # = 1.242 m²; painted steel 5.5 W/(m² K): 6.831 W/K. 18 K may be: 122.96 W. 88 W: 12.88 K.
    found = heat_of(2, height_m=0.8, width_m=0.6, depth_m=0.25)
    assert found.heat_w == pytest.approx(88.0)
    assert found.allowed_w == pytest.approx(122.958, abs=0.01)
    assert found.inside_k == pytest.approx(305.15 + 12.882, abs=0.002)
    assert found.lacks == ()


def test_enclosure_with_a_fan():
    # 31.0 m³/h carry 100 W at 10 K (electrical.md 6.1): 10 W/K on top of 6.831 W/K.
    found = heat_of(2, height_m=0.8, width_m=0.6, depth_m=0.25, fan_flow_m3_s=31.0 / 3600)
    assert found.inside_k == pytest.approx(305.15 + 88 / 16.831, abs=0.02)


def test_enclosure_says_what_it_lacks_and_what_is_estimated():
    found = heat_of(1, kind={"losses_w": None}, width_m=None, material=None)
    assert found.lacks == ("width", "material")
    assert found.allowed_w is None
    assert found.estimated == ("ST1",)
    # 142 W are the reference losses of a 0.75 kW drive, from memory (core.calc.enclosure).
    assert found.heat_w == pytest.approx(142.0)


def test_enclosure_in_too_warm_a_place_carries_nothing():
    found = heat_of(1, ambient_max_k=323.15)
    assert found.allowed_w is None


def test_an_enclosure_in_too_warm_a_place_still_says_how_hot_it_gets():
    # 10.978 W/K (test_place_rules), 44 W: 4.008 K above 50 °C.
    found = heat_of(1, ambient_max_k=323.15)
    assert "as warm outside" in found.figures["heat_allowed_w"].problem
    assert found.inside_k == pytest.approx(327.158, abs=0.001)


def given(figure):
    return {each.name: each.value for each in figure.given}


def test_the_heat_tells_each_drive():
    figure = heat_of(2).figures["heat_inside_w"]
    assert figure.value == pytest.approx(88.0)
    assert given(figure) == {"ST1_losses_heat_w": 44.0, "ST2_losses_heat_w": 44.0}
    assert [each.shown("us") for each in figure.given] == ["44 W", "44 W"]
    assert not figure.is_estimate


def test_the_balance_tells_walls_temperatures_and_fan():
    figure = heat_of(1).figures["heat_allowed_w"]
    told = {each.label: each.shown("metric") for each in figure.given}
    assert told == {
        "height": "1000 mm",
        "width": "800 mm",
        "depth": "300 mm",
        "mounting": "Alone, on a wall",
        "material": "Painted steel",
        "highest ambient temperature": "32 °C",
        "allowed inside temperature": "50 °C",
        "fan flow": "0 m³/h",
        # 1.4 * 0.8 * 1.3 + 1.8 * 0.3 = 1.996 m²
        "effective area": "1.996 m²",
        "conductance": "5.5 W/(m²·K)",
    }
    assert not figure.is_estimate
    reached = heat_of(1).figures["inside_temperature_k"]
    assert given(reached)["losses_heat_w"] == pytest.approx(44.0)


def test_what_a_balance_rests_on_and_nobody_entered_is_said():
    still = heat_of(1, fan_flow_m3_s=None).figures["heat_allowed_w"]
    assert "no fan" in still.assumed
    blown = heat_of(1, fan_flow_m3_s=0.01).figures["heat_allowed_w"]
    assert "sea level" in blown.assumed
    assert given(blown)["altitude_m"] == 0.0
    guessed = heat_of(1, kind={"losses_w": None}).figures["inside_temperature_k"]
    assert "losses of ST1 by the motor's power" in guessed.assumed


def test_a_drive_whose_losses_nobody_knows_is_named_and_left_out():
    bare = change(numbered(2), motor={"power_w": None}, drive={"drive_type_id": None})
    (found,) = enclosure_heats(compute_line(line(numbered(1), bare)))
    assert (found.heat_w, found.estimated, found.unknown) == (44.0, (), ("ST2",))
    assert "without ST2" in found.figures["heat_inside_w"].assumed


def test_an_enclosure_too_large_for_the_rule_says_so():
    found = heat_of(1, height_m=20.0)
    assert found.allowed_w is None
    assert found.inside_k is None
    assert "height" in found.figures["heat_allowed_w"].problem
