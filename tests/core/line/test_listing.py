"""Results as plain data: what other programs read of supplies and enclosures."""

import json

import pytest

from core.line import compute_line, results_as_data
from core.line.service_rules import ALL_ENCLOSURE_RULES, ALL_SUPPLY_RULES
from tests.core.line.findings.sound import line, numbered


def data(**changes):
    held = (numbered(1), numbered(2, drive={"supply_lines": "L2 N"}))
    return results_as_data(compute_line(line(*held, **changes)))


def test_supplies_are_told_with_their_workings():
    (entry,) = data(supply={"demand": 1.0})["supplies"]
    assert entry["name"] == "hall"
    # Two drives of 9 A on L1 and L2 of a service of 63 A; mean 6 A, L3 without any is 100 % off.
    assert entry["figures"]["line_current_l1_a"] == pytest.approx(9.0)
    assert entry["figures"]["line_current_l3_a"] == 0.0
    assert entry["figures"]["heaviest_line_a"] == pytest.approx(9.0)
    assert entry["figures"]["service_used_share"] == pytest.approx(9 / 63)
    assert entry["figures"]["imbalance_share"] == pytest.approx(1.0)
    assert entry["figures"]["feeder_current_a"] == pytest.approx(9.0)
    working = entry["workings"]["line_current_l1_a"]
    assert working["given"] == {"ST1_input_a": 9.0, "demand_share": 1.0, "other_load_a": 0.0}
    assert working["formula"]
    assert working["source"]
    assert working["assumed"] == ""


def test_enclosures_are_told_with_their_workings():
    (entry,) = data()["enclosures"]
    assert entry["name"] == "panel"
    # 2 * 44 W; 10.978 W/K (test_place_rules): 197.6 W may be, 88 W are 8.016 K above 32 °C.
    assert entry["figures"]["heat_inside_w"] == pytest.approx(88.0)
    assert entry["figures"]["heat_allowed_w"] == pytest.approx(197.6, abs=0.05)
    assert entry["figures"]["inside_temperature_k"] == pytest.approx(305.15 + 8.016, abs=0.001)
    assert entry["workings"]["heat_inside_w"]["given"] == {
        "ST1_losses_heat_w": 44.0,
        "ST2_losses_heat_w": 44.0,
    }
    assert entry["workings"]["heat_allowed_w"]["given"]["material"] == "Painted steel"


@pytest.mark.parametrize("rules", ["iec", "nec"])
def test_every_figure_has_a_working_and_a_known_key(rules):
    told = data(wiring_rules=rules)
    for table, known in (("supplies", ALL_SUPPLY_RULES), ("enclosures", ALL_ENCLOSURE_RULES)):
        (entry,) = told[table]
        assert set(entry["figures"]) == {rule.key for rule in known}
        assert set(entry["workings"]) == set(entry["figures"])
    assert json.loads(json.dumps(told)) == told


def test_what_is_lacking_is_null_and_said():
    (entry,) = data(supply={"service_rating_a": None})["supplies"]
    assert entry["figures"]["service_used_share"] is None
    assert entry["workings"]["service_used_share"]["lacking"] == ["service rating"]
