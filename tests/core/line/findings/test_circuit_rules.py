"""The branch circuit: conductor, protection, earth, drop, residual-current device."""

import pytest

from tests.core.line.findings.sound import MM2, change, fires, line, quiet

TWO_LINES = {"supply_lines": "L1 L2"}


def test_branch_conductor_too_small_fires():
    # IEC B2, PVC, two loaded, 1.5 mm²: 16.5 A * 0.94 (35 °C) * 0.80 (2 circuits) = 12.41 A; C16.
    entry = fires("branch-conductor-too-small", line(change(power_in={"conductor_m2": 1.5 * MM2})))
    assert entry.level == "blocker"
    assert entry.values["allowed_a"] == pytest.approx(12.408, abs=0.001)
    assert entry.values["asked_a"] == 16.0
    assert entry.values["needed_m2"] == pytest.approx(2.5 * MM2)
    assert "smallest by the rules: 2.5 mm²" in entry.mend("metric")


def test_branch_conductor_too_small_quiet():
    # 2.5 mm²: 23 * 0.94 * 0.80 = 17.30 A.
    quiet("branch-conductor-too-small", line())


def test_branch_protection_fires():
    entry = fires("branch-protection", line(change(drive={"protection_a": 6.0})))
    assert "protection is 6 A; at least 9 A by the rules" in entry.says("metric")
    entry = fires("branch-protection", line(change(drive={"protection_a": 20.0})))
    assert "at most 16 A" in entry.says("metric")


def test_branch_protection_by_the_nec_where_no_marking_is_entered():
    # 1 hp, 230 V: 4.2 A by Table 430.250; 250 % = 10.5 A, next size 15 A.
    held = change(motor={"power_w": 745.7}, drive={"protection_a": 20.0})
    kind = {"protection_max_a": None}
    assert fires("branch-protection", line(held, kind=kind, wiring_rules="nec")).values[
        "limit_a"
    ] == pytest.approx(15.0)
    fits = change(held, drive={"protection_a": 15.0})
    quiet("branch-protection", line(fits, kind=kind, wiring_rules="nec"))


def test_branch_protection_quiet():
    quiet("branch-protection", line())
    quiet("branch-protection", line(change(drive={"protection_a": None})))


def one_hp(rating_a, marked_a=30.0, rules="nec"):
    # 1 hp, 230 V: 4.2 A by Table 430.250; 250 % = 10.5 A, next size 15 A.
    held = change(motor={"power_w": 745.7}, drive={"protection_a": rating_a})
    return line(held, kind={"protection_max_a": marked_a}, wiring_rules=rules)


def test_protection_above_430_52_fires():
    entry = fires("protection-above-430-52", one_hp(20.0))
    assert entry.level == "advice"
    assert entry.values == {
        "rating_a": 20.0,
        "marked_a": 30.0,
        "limit_a": pytest.approx(15.0),
        "input_a": 9.0,
    }
    assert "authority" in entry.mend("us")
    # At the marking itself; and not a word of branch-protection, which goes by the marking.
    fires("protection-above-430-52", one_hp(30.0))
    quiet("branch-protection", one_hp(30.0))


def test_protection_above_430_52_quiet():
    quiet("protection-above-430-52", one_hp(15.0))
    # Above the marking as well, or without one: branch-protection speaks.
    quiet("protection-above-430-52", one_hp(35.0))
    fires("branch-protection", one_hp(35.0))
    quiet("protection-above-430-52", one_hp(20.0, marked_a=None))
    # A marking below the table is the limit by itself.
    quiet("protection-above-430-52", one_hp(15.0, marked_a=15.0))
    quiet("protection-above-430-52", one_hp(20.0, rules="iec"))


def test_earth_conductor_too_small_fires():
    # Up to 16 mm² the earth conductor is as large as the line: 2.5 mm².
    entry = fires("earth-conductor-too-small", line(change(power_in={"earth_m2": 1.5 * MM2})))
    assert entry.values["needed_m2"] == pytest.approx(2.5 * MM2)


def test_earth_conductor_too_small_quiet():
    quiet("earth-conductor-too-small", line())


def test_voltage_drop_fires():
    # 2 * (0.0225 * 100 / 2.5 * 0.95 + 0.08e-3 * 100 * 0.3122) * 9 A = 15.43 V of 230 V = 6.71 %
    entry = fires("voltage-drop", line(change(power_in={"length_m": 100.0})))
    assert entry.level == "advice"
    assert entry.values["drop_share"] == pytest.approx(0.0671, abs=1e-4)


def test_voltage_drop_quiet():
    # 70 m: 4.70 % of the 5 % allowed here.
    quiet("voltage-drop", line(change(power_in={"length_m": 70.0})))


def test_voltage_drop_goes_by_the_rules_where_the_supply_states_no_limit():
    # 70 m is 4.7 %: within the 5 % of Annex G; the supply's own 3 % would forbid it.
    long = change(power_in={"length_m": 70.0})
    quiet("voltage-drop", line(long, supply={"drop_max": None}))
    assert fires("voltage-drop", line(long, supply={"drop_max": 0.03}))


def test_rcd_blinded_fires():
    entry = fires("rcd-blinded", line(supply={"rcd_type": "a"}))
    assert "is of type A; a drive fed this way asks for type F or B" in entry.says("metric")
    # Between two lines smooth direct current flows: type F does not see it.
    held = change(drive=TWO_LINES)
    assert "asks for type B." in fires("rcd-blinded", line(held, supply={"rcd_type": "f"})).says(
        "us"
    )


def test_rcd_blinded_quiet():
    quiet("rcd-blinded", line(supply={"rcd_type": "f"}))
    quiet("rcd-blinded", line(supply={"rcd_type": "none"}))
    quiet("rcd-blinded", line(change(drive=TWO_LINES), supply={"rcd_type": "b"}))
