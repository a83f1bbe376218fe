"""All drives of a supply together, and the heat in an enclosure, worked by hand."""

import dataclasses
from math import sqrt

import pytest

from core.line import compute_line
from core.line.service import enclosure_heats, supply_loads
from tests.core.line.findings.sound import ENCLOSURE, change, line, numbered


def fed(*lines, amps=None, **supply):
    """Loads of a supply whose drives are fed from these lines; each asks 9 A or its own."""
    held = []
    for number, lines_of_drive in enumerate(lines, start=1):
        drive = {"supply_lines": lines_of_drive, "drive_type_id": number}
        held.append(numbered(number, drive=drive))
    kinds = tuple(
        dataclasses.replace(
            line().drive_types[0],
            id=number,
            name=f"S{number}",
            input_phases="1_or_3",
            input_current_1ph_a=amps[number - 1] if amps else 9.0,
            input_current_3ph_a=amps[number - 1] if amps else 9.0,
        )
        for number in range(1, len(lines) + 1)
    )
    rules = supply.pop("rules", "iec")
    whole = line(*held, supply=supply, wiring_rules=rules, drive_types=kinds)
    (load,) = supply_loads(compute_line(whole))
    return load


def test_split_phase_sums_each_leg():
    # L1: 16 + 10 = 26 A, L2: 16 + 4 = 20 A; mean 23 A, 3/23 = 13.0 % off; of 30 A: 86.7 %.
    load = fed(
        "L1 L2", "L1 N", "L2 N", amps=(16.0, 10.0, 4.0), kind="split_120_240", service_rating_a=30.0
    )
    assert load.line_a == pytest.approx({"L1": 26.0, "L2": 20.0})
    assert load.imbalance_share == pytest.approx(3 / 23)
    assert load.used_share == pytest.approx(26 / 30)


def test_neutral_of_a_three_wire_service_carries_the_difference():
    # Equal legs cancel every odd harmonic, the third included (electrical.md 7).
    assert fed("L1 N", "L2 N", kind="split_120_240").neutral_a == pytest.approx(0.0, abs=1e-9)
    # 10 and 4 A of like spectrum leave 6 A.
    load = fed("L1 N", "L2 N", amps=(10.0, 4.0), kind="split_120_240")
    assert load.neutral_a == pytest.approx(6.0)
    assert fed("L1 L2", kind="split_120_240").neutral_a == 0.0


def test_neutral_of_a_wye_adds_the_third_harmonic():
    # Of 9 A by 1 : 0.81 : 0.53 the parts are 6.4666, 5.2380, 3.4273 A.
    scale = sqrt(1 + 0.81**2 + 0.53**2)
    first, third, fifth = 9 / scale, 9 * 0.81 / scale, 9 * 0.53 / scale
    assert fed("L1 N", "L2 N", "L3 N").neutral_a == pytest.approx(3 * third)
    # Two legs: |1 + a| = 1 for first and fifth, 2 for the third: more than one line carries.
    by_hand = sqrt(first**2 + fifth**2 + (2 * third) ** 2)
    assert by_hand == pytest.approx(12.78, abs=0.01)
    assert fed("L1 N", "L2 N").neutral_a == pytest.approx(by_hand)
    # Half of the drives at once.
    assert fed("L1 N", "L2 N", "L3 N", demand=0.5).neutral_a == pytest.approx(1.5 * third)


def test_neutral_of_a_two_wire_supply_carries_all():
    assert fed("L1 N", "L1 N", kind="1ph_230").neutral_a == pytest.approx(18.0)


def test_three_phase_drive_loads_all_lines():
    load = fed("L1 L2 L3", "L2 N")
    assert load.line_a == pytest.approx({"L1": 9.0, "L2": 18.0, "L3": 9.0})


def test_demand_lowers_the_drives_and_other_load_stays():
    # 0.6 * 18 A + 5 A = 15.8 A; L2 and L3 carry the other load alone.
    load = fed("L1 N", "L1 N", demand=0.6, other_load_a=5.0)
    assert load.line_a == pytest.approx({"L1": 15.8, "L2": 5.0, "L3": 5.0})
    assert load.feeder_a == pytest.approx(15.8)


def test_feeder_under_the_nec_adds_a_quarter_of_the_largest():
    # NEC 430.24: 1.25 * 16.2 + 9.8 + 5.4 = 35.45 A
    load = fed("L1 L2", "L1 L2", "L1 L2", amps=(16.2, 9.8, 5.4), kind="split_120_240", rules="nec")
    assert load.feeder_a == pytest.approx(35.45)
    # At 80 %: 0.8 * 31.4 + 0.25 * 16.2 = 29.17 A, and 5 A of other load.
    load = fed(
        "L1 L2",
        "L1 L2",
        "L1 L2",
        amps=(16.2, 9.8, 5.4),
        kind="split_120_240",
        rules="nec",
        demand=0.8,
        other_load_a=5.0,
    )
    assert load.feeder_a == pytest.approx(34.17)


def test_what_is_not_known_is_named_and_left_out():
    bare = change(numbered(2), motor={"power_w": None}, drive={"drive_type_id": None})
    (load,) = supply_loads(compute_line(line(numbered(1), bare)))
    assert load.unknown == ("ST2",)
    assert load.heaviest_a == pytest.approx(9.0)


def test_an_estimated_input_current_is_marked():
    held = line(kind={"input_current_1ph_a": None})
    (load,) = supply_loads(compute_line(held))
    assert load.estimated == ("ST1",)


def test_a_supply_without_drives_carries_its_other_load():
    held = dataclasses.replace(line(supply={"other_load_a": 4.0}), stations=())
    (load,) = supply_loads(compute_line(held))
    assert (load.heaviest_a, load.feeder_a, load.used_share) == (4.0, 4.0, pytest.approx(4 / 63))


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
