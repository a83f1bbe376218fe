"""All drives of a supply together, and its feeder, worked by hand."""

import dataclasses
from math import sqrt

import pytest

from core.line import compute_line
from core.line.service import supply_loads
from tests.core.line.findings.sound import MM2, change, line, numbered


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


# --- workings -------------------------------------------------------------------------------


def given(figure):
    return {each.name: each.value for each in figure.given}


def test_the_load_of_a_line_tells_each_drive_on_it():
    # 0.5 * (16 + 10) A + 2 A = 15 A; the drive on L2 is no part of it.
    load = fed("L1 N", "L1 N", "L2 N", amps=(16.0, 10.0, 7.0), demand=0.5, other_load_a=2.0)
    figure = load.figures["line_current_l1_a"]
    assert figure.value == pytest.approx(15.0)
    assert given(figure) == {
        "ST1_input_a": 16.0,
        "ST2_input_a": 10.0,
        "demand_share": 0.5,
        "other_load_a": 2.0,
    }
    assert [each.label for each in figure.given] == [
        "ST1 input",
        "ST2 input",
        "demand",
        "other load",
    ]
    assert not figure.is_estimate


def test_heaviest_line_and_share_of_the_rating_tell_what_they_rest_on():
    load = fed("L1 N", "L2 N", amps=(16.0, 10.0), demand=1.0, service_rating_a=40.0)
    assert given(load.figures["heaviest_line_a"]) == {
        "load_in_L1_a": 16.0,
        "load_in_L2_a": 10.0,
        "load_in_L3_a": 0.0,
    }
    used = load.figures["service_used_share"]
    assert used.value == pytest.approx(0.4)
    assert given(used) == {"heaviest_line_a": 16.0, "service_rating_a": 40.0}
    bare = fed("L1 N", service_rating_a=None).figures["service_used_share"]
    assert (bare.value, bare.lacks) == (None, ("service rating",))


def test_the_feeder_under_the_nec_names_its_line_and_only_the_drives_on_it():
    # L1 bears more in sum, L2 with the quarter on its one large drive:
    # L1: 8 + 8 + 0.25 * 8 = 18 A; L2: 15 + 0.25 * 15 = 18.75 A.
    load = fed(
        "L1 N", "L1 N", "L2 N", amps=(8.0, 8.0, 15.0), kind="split_120_240", rules="nec", demand=1.0
    )
    figure = load.figures["feeder_current_a"]
    assert figure.value == pytest.approx(18.75)
    assert given(figure) == {
        "ST3_input_a": 15.0,
        "demand_share": 1.0,
        "other_load_a": 0.0,
        "line": "L2",
    }
    assert "430.24" in figure.source
    assert "IEC 60364-4-43" in fed("L1 N").figures["feeder_current_a"].source


def test_the_neutral_tells_the_drives_on_it_and_that_its_spectrum_is_assumed():
    figure = fed("L1 N", "L2 L3", amps=(9.0, 5.0), demand=1.0).figures["neutral_current_a"]
    assert given(figure) == {
        "ST1_L1_to_N_a": 9.0,
        "demand_share": 1.0,
        "third_harmonic_share": 0.81,
        "fifth_harmonic_share": 0.53,
    }
    assert "spectrum" in figure.assumed
    # Two wires carry the same current, whatever its form.
    assert not fed("L1 N", kind="1ph_230", demand=1.0).figures["neutral_current_a"].is_estimate
    assert "neutral_current_a" not in fed("L1 L2", kind="3ph_240d").figures


def test_what_a_supply_rests_on_and_nobody_entered_is_said():
    bare = change(numbered(2), motor={"power_w": None}, drive={"drive_type_id": None})
    held = line(numbered(1), bare, supply={"kind": "3ph_400y_230"})
    (load,) = supply_loads(compute_line(held))
    told = load.figures["line_current_l1_a"].assumed
    assert "without ST2, whose input current is not known" in told
    assert "all drives at once" in told
    (load,) = supply_loads(compute_line(line(kind={"input_current_1ph_a": None})))
    assert "input currents of ST1 estimated" in load.figures["line_current_l1_a"].assumed
    assert "estimated" not in load.figures["line_current_l2_a"].assumed
    (load,) = supply_loads(compute_line(line(supply={"kind": None})))
    assert "kind of supply was not entered" in load.figures["line_current_l1_a"].assumed


def test_two_stations_of_one_tag_are_both_counted():
    twin = dataclasses.replace(numbered(2), tag="ST1")
    (load,) = supply_loads(compute_line(line(numbered(1), twin, supply={"demand": 1.0})))
    assert load.heaviest_a == pytest.approx(18.0)


# --- what the feeder may carry --------------------------------------------------------------


def feeder(rules="iec", lines="L1 N", **supply):
    held = change(numbered(1), drive={"supply_lines": lines})
    (load,) = supply_loads(compute_line(line(held, supply=supply, wiring_rules=rules)))
    return load


def test_feeder_by_iec_tables_where_it_is_entered():
    # Three loaded conductors of 2.5 mm² XLPE on a tray: 32 A (60364-5-52 Table B.52.12).
    entered = {"feeder_insulation": "xlpe", "feeder_method": "E"}
    load = feeder(feeder_conductor_m2=2.5 * MM2, **entered)
    assert load.feeder_is_laid_as_entered
    assert load.feeder_allowed.value == pytest.approx(32.0)
    assert given(load.feeder_allowed) == {
        "area_m2": 2.5 * MM2,
        "insulation": "XLPE",
        "method": "E",
        "ambient_k": 303.15,
        "loaded_conductors": 3,
    }
    assert "PVC" not in load.feeder_allowed.assumed
    assert "30 °C around" in load.feeder_allowed.assumed


@pytest.mark.parametrize(
    "entered",
    [
        {},
        {"feeder_insulation": "xlpe"},
        {"feeder_method": "E"},
        {"feeder_insulation": "90", "feeder_method": "E"},
        {"feeder_insulation": "xlpe", "feeder_method": "steel"},
    ],
    ids=["nothing", "insulation only", "method only", "insulation of the NEC", "NEC raceway"],
)
def test_feeder_stays_an_estimate_where_the_iec_tables_do_not_know_what_is_entered(entered):
    # PVC on a wall, three loaded, 2.5 mm²: 24 A (Table B.52.4, method C).
    load = feeder(feeder_conductor_m2=2.5 * MM2, **entered)
    assert not load.feeder_is_laid_as_entered
    assert load.feeder_allowed.value == pytest.approx(24.0)
    assert "PVC, on a wall" in load.feeder_allowed.assumed


def test_feeder_by_the_nec_where_it_is_entered():
    # 1/0 AWG, Table 310.16: 170 A at 90 °C, held to 150 A of 75 °C terminals above 100 A.
    entered = {"feeder_insulation": "90", "feeder_method": "pvc", "kind": "split_120_240"}
    area = 53.49 * MM2
    load = feeder("nec", "L1 L2", feeder_conductor_m2=area, service_rating_a=150.0, **entered)
    assert load.feeder_is_laid_as_entered
    assert load.feeder_allowed.value == pytest.approx(150.0)
    assert given(load.feeder_allowed)["laid"] == "Conduit, PVC"
    # 60 °C conductors: 125 A, less than the terminals.
    cool = {**entered, "feeder_insulation": "60"}
    load = feeder("nec", "L1 L2", feeder_conductor_m2=area, service_rating_a=150.0, **cool)
    assert load.feeder_allowed.value == pytest.approx(125.0)


def test_feeder_by_the_nec_counts_a_neutral_full_of_harmonics():
    # 310.15(E)(3): four conductors, 80 %: 10 AWG of 90 °C has 40 A * 0.8 = 32 A, of 60 °C
    # terminals 30 A; of 75 °C insulation 35 A * 0.8 = 28 A.
    entered = {"feeder_insulation": "75", "feeder_method": "pvc"}
    awg_10 = 5.26 * MM2
    assert feeder("nec", feeder_conductor_m2=awg_10, **entered).feeder_allowed.value == (
        pytest.approx(28.0)
    )
    # Between lines the neutral is not used: 35 A, held to 30 A.
    between = feeder("nec", "L1 L2", feeder_conductor_m2=awg_10, **entered)
    assert between.feeder_allowed.value == pytest.approx(30.0)


def test_feeder_of_no_size_of_the_tables_says_so():
    load = feeder(feeder_conductor_m2=3.3 * MM2)
    assert load.feeder_allowed.value is None
    assert "no size" in load.feeder_allowed.problem
    assert feeder(feeder_conductor_m2=None).feeder_allowed is None
