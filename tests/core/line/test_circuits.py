"""Branch circuits under both wiring rules, every step by hand."""

import dataclasses
from math import sqrt

import pytest

from core.line import compute_line
from core.line.circuits import trade_size
from core.sheets.catalogue import translator
from tests.core.line.findings.sound import MM2, change, line

AWG = {"14": 2.08 * MM2, "12": 3.31 * MM2, "10": 5.26 * MM2}


def figures(held):
    (entry,) = compute_line(held).stations
    return entry.figures


def given(figure):
    """The inputs of a figure as people read them."""
    return {each.label: each.shown("metric") for each in figure.given}


# --- NEC: a 2 hp motor on a single-phase 240 V drive with 16.2 A rated input ------------------

LAID = {
    "conductor_m2": AWG["10"],
    "earth_m2": AWG["10"],
    "insulation": "90",
    "method": "pvc",
    "ambient_k": 313.15,
    "company": 3,
    "length_m": 30.0,
}


def nec(kind=None, motor=None, drive=None, **laid):
    held = change(
        motor={"power_w": 1491.4, **(motor or {})},
        power_in={**LAID, **laid},
        drive={
            "supply_lines": "L1 L2",
            "protection_a": 30.0,
            "protection_kind": "breaker",
            **(drive or {}),
        },
    )
    rated = {"input_current_1ph_a": 16.2, "terminals_for": "75", "protection_max_a": None}
    return figures(
        line(
            held,
            kind={**rated, **(kind or {})},
            supply={"kind": "split_120_240", "frequency_hz": 60.0},
            wiring_rules="nec",
        )
    )


def test_nec_design_current_is_125_percent_of_the_rated_input():
    # 430.122(A): 1.25 * 16.2 = 20.25 A
    assert nec()["branch_design_current_a"].value == pytest.approx(20.25)


def test_nec_conductor_on_75_degree_terminals():
    # 14 AWG: 25 A (90 °C) * 0.91 (40 °C) = 22.75 A, but its 75 °C column has 20 A: too little.
    # 12 AWG: 30 * 0.91 = 27.3 A, held to 25 A: enough for 20.25 A.
    found = nec()
    assert trade_size(found["conductor_needed_m2"].value) == "12 AWG"
    # 10 AWG as entered: 40 * 0.91 = 36.4 A, held to 35 A.
    assert found["conductor_allowed_a"].value == pytest.approx(35.0)
    assert not found["conductor_allowed_a"].is_estimate


def test_nec_conductor_without_a_marking_of_the_terminals_takes_60_degrees_and_says_so():
    # 110.14(C)(1): 12 AWG has 20 A in the 60 °C column, below 20.25 A; 10 AWG has 30 A.
    found = nec(kind={"terminals_for": None})
    assert trade_size(found["conductor_needed_m2"].value) == "10 AWG"
    assert found["conductor_allowed_a"].value == pytest.approx(30.0)
    assert "60 °C" in found["conductor_allowed_a"].assumed


def test_nec_bundling_counts_conductors():
    # Nine conductors: 70 %. 12 AWG: 30 * 0.91 * 0.7 = 19.11 A; 10 AWG: 40 * 0.91 * 0.7 = 25.48 A.
    found = nec(company=9)
    assert trade_size(found["conductor_needed_m2"].value) == "10 AWG"
    assert found["conductor_allowed_a"].value == pytest.approx(25.48)


def test_nec_device_by_the_motor_and_by_the_marking():
    # 2 hp, 230 V: 6.8 A (Table 430.250); 250 % = 17 A; next standard size 20 A.
    assert nec()["protection_highest_a"].value == pytest.approx(20.0)
    assert nec(kind={"protection_max_a": 15.0})["protection_highest_a"].value == 15.0
    # A fuse with time delay: 175 % = 11.9 A; next size 15 A.
    delay = nec(drive={"protection_kind": "delay_fuse"})["protection_highest_a"]
    assert delay.value == pytest.approx(15.0)
    assert "inverse-time" in nec(drive={"protection_kind": None})["protection_highest_a"].assumed


def test_nec_table_limit_stands_beside_the_marking():
    # The table alone: 20 A, whatever the maker allows.
    assert nec()["protection_by_table_a"].value == pytest.approx(20.0)
    assert nec(kind={"protection_max_a": 30.0})["protection_by_table_a"].value == 20.0
    assert nec(kind={"protection_max_a": 15.0})["protection_by_table_a"].value == 20.0
    assert nec(motor={"power_w": None})["protection_by_table_a"].lacks == ("power",)


def test_nec_words_stand_among_the_inputs():
    found = nec()
    assert given(found["conductor_allowed_a"])["insulation"] == "90 °C"
    assert given(found["conductor_allowed_a"])["terminals"] == "75 °C"
    assert given(found["protection_highest_a"])["device"] == "inverse-time breaker"
    fuse = nec(drive={"protection_kind": "delay_fuse"})
    assert given(fuse["protection_by_table_a"])["device"] == "fuse with time delay"
    assert given(found["branch_drop_share"])["raceway"] == "PVC conduit"
    assert given(found["branch_drop_share"])["phases"] == "1"


def test_nec_earth_conductor_follows_the_device():
    # Table 250.122: up to 20 A 12 AWG, up to 60 A 10 AWG.
    assert trade_size(nec()["earth_needed_m2"].value) == "10 AWG"
    twenty = nec(drive={"protection_a": 20.0}, conductor_m2=AWG["12"])
    assert trade_size(twenty["earth_needed_m2"].value) == "12 AWG"


def test_nec_drop_there_and_back():
    # Chapter 9 Table 9, 10 AWG in PVC: 3.9 + j0.164 Ω/km; at 0.95: 3.756 Ω/km.
    # 2 * 16.2 A * 0.030 km * 3.756 = 3.65 V of 240 V = 1.52 %
    drop = nec()["branch_drop_share"]
    assert drop.value == pytest.approx(0.01521, rel=0.01)
    assert not drop.assumed
    assert "PVC" in nec(method=None)["branch_drop_share"].assumed


def test_nec_names_what_was_not_entered():
    found = nec(insulation=None, ambient_k=None, conductor_m2=None)
    assert found["conductor_needed_m2"].value is None
    assert found["conductor_needed_m2"].lacks == ("insulation", "ambient")
    assert found["conductor_allowed_a"].lacks == ("area", "insulation", "ambient")
    earth = found["earth_needed_m2"].lacks
    assert earth == ("line conductor", "smallest line conductor")
    assert [translator("es")(word) for word in earth] == [
        "conductor de línea",
        "conductor de línea más pequeño",
    ]
    assert "430.122" in found["branch_design_current_a"].source
    assert "NEC 2023" in found["conductor_allowed_a"].source


# --- IEC: 0.75 kW on a single-phase 230 V drive with 9 A rated input ---------------------------


def iec(**parts):
    return figures(line(change(**parts)))


def test_iec_branch_worked_by_hand():
    # 60364-4-43 433.1: 9 A ≤ C10 at least. B2, PVC, two loaded, 2.5 mm²: 23 A * 0.94 * 0.80.
    found = iec()
    assert found["branch_design_current_a"].value == 9.0
    assert found["protection_lowest_a"].value == 10.0
    assert found["conductor_allowed_a"].value == pytest.approx(17.296)
    # C16 needs 16 A: 1.5 mm² has 16.5 * 0.752 = 12.4 A, 2.5 mm² has 17.3 A.
    assert found["conductor_needed_m2"].value == pytest.approx(2.5 * MM2)
    assert found["earth_needed_m2"].value == pytest.approx(2.5 * MM2)


def test_iec_words_stand_among_the_inputs():
    found = iec()
    laid = {"insulation": "PVC", "method": "B2", "loaded conductors": "2", "circuits": "2"}
    assert laid.items() <= given(found["conductor_allowed_a"]).items()
    assert laid.items() <= given(found["conductor_needed_m2"]).items()
    assert given(found["conductor_needed_m2"])["device"] == "breaker"
    three = iec(drive={"supply_lines": "L1 L2 L3"}, power_in={"insulation": "xlpe", "method": "E"})
    told = given(three["conductor_allowed_a"])
    assert (told["insulation"], told["method"]) == ("XLPE", "E")
    assert told["loaded conductors"] == "3"
    assert given(iec(drive={"protection_kind": "fuse"})["protection_lowest_a"])["device"] == "fuse"


def test_iec_three_loaded_conductors_and_xlpe():
    # B2, three loaded, 2.5 mm²: PVC 20 A at 30 °C alone; XLPE 26 A * 0.96 (35 °C) * 0.80.
    three = {"supply_lines": "L1 L2 L3"}
    cool = {"ambient_k": 303.15, "company": 1}
    kind = {"input_phases": "3", "input_current_3ph_a": 5.2}
    held = line(change(drive=three, power_in=cool), kind=kind)
    assert figures(held)["conductor_allowed_a"].value == pytest.approx(20.0)
    held = line(change(drive=three, power_in={"insulation": "xlpe"}), kind=kind)
    assert figures(held)["conductor_allowed_a"].value == pytest.approx(26 * 0.96 * 0.8)


def test_iec_large_leakage_asks_for_10_mm2_of_earth():
    # 60364-5-54 543.7: above 10 mA at least 10 mm² copper.
    (entry,) = compute_line(line(kind={"leakage_a": 0.012})).stations
    assert entry.value("earth_needed_m2") == pytest.approx(10 * MM2)
    unknown = figures(line(kind={"leakage_a": None}))["earth_needed_m2"]
    assert "below 10 mA" in unknown.assumed


def test_iec_drop_by_annex_g():
    # 2 * (0.0225 * 20 / 2.5 * 0.95 + 0.08e-3 * 20 * 0.3122) * 9 A = 3.087 V of 230 V
    by_hand = 2 * (0.0225 * 20 / 2.5 * 0.95 + 0.08e-3 * 20 * sqrt(1 - 0.95**2)) * 9 / 230
    assert by_hand == pytest.approx(0.01342, abs=1e-5)
    assert iec()["branch_drop_share"].value == pytest.approx(by_hand)


def test_iec_names_what_was_not_entered():
    found = iec(
        power_in={"insulation": None, "method": "pvc", "company": None},
        drive={"protection_a": None},
    )
    assert found["conductor_allowed_a"].lacks == ("circuits", "insulation", "method")
    assert found["conductor_needed_m2"].lacks == ("protection", "circuits", "insulation", "method")
    bare = iec(power_in={"conductor_m2": None})["earth_needed_m2"]
    assert bare.lacks == ("line conductor",)


def test_a_station_without_any_power_cable_lacks_all_of_it():
    held = change(cables=())
    found = figures(line(held))
    assert found["conductor_allowed_a"].value is None
    assert found["branch_drop_share"].lacks == ("length", "area")


# --- both -----------------------------------------------------------------------------------


def test_running_current_at_half_load():
    # 3.1 A * √((0.5 * 0.78)² + 1 - 0.78²) = 3.1 * √(0.1521 + 0.3916) = 2.286 A
    assert iec()["running_current_a"].value == pytest.approx(2.286, abs=0.001)


def test_running_current_of_two_motors_is_their_sum():
    plate = line().stations[0].motors[0]
    two = (plate, dataclasses.replace(plate, id=2, tag="M2"))
    assert iec(motors=two)["running_current_a"].value == pytest.approx(2 * 2.286, abs=0.002)


def test_input_current_that_was_not_entered_is_an_estimate_that_says_so():
    # 750 W / (0.78 * 0.95 * 230 V * 0.6) = 7.33 A
    found = figures(line(kind={"input_current_1ph_a": None}))["input_current_a"]
    assert found.value == pytest.approx(7.334, abs=0.002)
    assert found.is_estimate
    assert "not entered" in found.assumed
    assert not iec()["input_current_a"].is_estimate


def test_input_current_of_one_phase_is_never_that_of_three():
    kind = {"input_phases": "1_or_3", "input_current_1ph_a": 9.0, "input_current_3ph_a": 5.2}
    assert figures(line(kind=kind))["input_current_a"].value == 9.0
    three = change(drive={"supply_lines": "L1 L2 L3"})
    assert figures(line(three, kind=kind))["input_current_a"].value == 5.2
