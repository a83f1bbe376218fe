"""Spans of source and input: creep, dead zone, lost top, wrong kind."""

import dataclasses

import pytest

from tests.core.line.findings.sound import LISTED, STATION, TYPE, change, fires, keyed, line, quiet


def told(source, name, **fields):
    plain = dataclasses.replace(STATION.reference, source=source, input_name=name, now_a=None)
    return {"reference": dataclasses.replace(plain, **fields)}


def volts(low, high, **shown):
    return change(keyed(**shown), **told("voltage", "V", low_v=low, high_v=high))


def test_reference_creeps_fires():
    # 4 mA of 0-20 mA is 20 %. 16.8 mA is 84 % of 50 Hz = 42 Hz; of 4-20 mA it is 80 % = 40 Hz.
    entry = fires("reference-creeps", line(keyed(range=1)))
    assert entry.values["bottom_share"] == pytest.approx(0.2)
    assert entry.values["runs_hz"] == pytest.approx(42.0)
    assert entry.values["meant_hz"] == pytest.approx(40.0)
    assert "gives 4-20 mA, the input is set to 0-20 mA" in entry.says("metric")
    assert entry.follows("us").startswith("At 16.8 mA the drive runs at 42 Hz instead of 40 Hz")


def test_reference_creeps_is_told_at_half_travel_where_no_reading_is_entered():
    # 2-10 V into 0-10 V: half travel is 6 V = 60 % = 30 Hz instead of 25 Hz.
    entry = fires("reference-creeps", line(volts(2.0, 10.0, range=0)))
    assert entry.values["runs_hz"] == pytest.approx(30.0)
    assert entry.values["meant_hz"] == pytest.approx(25.0)


def test_reference_creeps_quiet():
    quiet("reference-creeps", line())
    quiet("reference-creeps", line(volts(2.0, 10.0, range=4)))


def test_reference_dead_zone_fires():
    # 0-20 mA into 4-20 mA: 4 of 20 mA do nothing.
    entry = fires("reference-dead-zone", line(change(reference={"low_a": 0.0})))
    assert entry.values["dead_share"] == pytest.approx(0.2)


def test_reference_dead_zone_quiet():
    quiet("reference-dead-zone", line(change(keyed(range=1), reference={"low_a": 0.0})))


def test_reference_top_not_reached_fires():
    # 5 V of 0-10 V is half: 25 of 50 Hz.
    entry = fires("reference-top-not-reached", line(volts(0.0, 5.0, range=0)))
    assert entry.values["top_share"] == pytest.approx(0.5)
    assert entry.values["reached_hz"] == pytest.approx(25.0)


def test_reference_top_not_reached_quiet():
    quiet("reference-top-not-reached", line(volts(0.0, 10.0, range=0)))
    quiet("reference-top-not-reached", line(volts(0.0, 5.0, range=3)))


def test_reference_top_cut_off_fires():
    # 0-10 V into 0-5 V: the upper half does nothing.
    entry = fires("reference-top-cut-off", line(volts(0.0, 10.0, range=3)))
    assert entry.values["lost_share"] == pytest.approx(0.5)
    assert "above 5 V more signal" in entry.says("metric")


def test_a_potentiometer_gives_the_span_of_its_supply():
    pot = change(keyed(range=3), **told("potentiometer", "V", pot_ohm=10e3))
    assert fires("reference-top-cut-off", line(pot)).values["source_span"] == "0-10 V"


def test_reference_top_cut_off_quiet():
    quiet("reference-top-cut-off", line(volts(0.0, 10.0, range=0)))


def test_reference_wrong_kind_fires():
    held = change(**told("voltage", "mA", low_v=0.0, high_v=10.0))
    entry = fires("reference-wrong-kind", line(held))
    assert entry.level == "blocker"
    assert "gives a voltage, reference input mA is set to a current" in entry.says("metric")
    # A potentiometer is a voltage source, whether or not its supply is entered.
    pot = change(**told("potentiometer", "mA", pot_ohm=10e3))
    assert fires("reference-wrong-kind", line(pot, kind={"reference_supply_v": None}))
    assert fires("reference-wrong-kind", line(keyed(range=0)))


def test_reference_wrong_kind_quiet():
    quiet("reference-wrong-kind", line())
    quiet("reference-wrong-kind", line(volts(0.0, 10.0, range=0)))


def test_a_range_setting_of_another_input_is_no_wrong_kind():
    # The setting knows currents only: it is about the current input, not about the voltage input.
    listed = tuple(
        dataclasses.replace(entry, options="1 = 0-20 mA; 2 = 4-20 mA")
        if entry.code == "range"
        else entry
        for entry in LISTED
    )
    held = line(volts(0.0, 10.0, range=2), kind={"listed_settings": listed})
    for key in ("reference-wrong-kind", "reference-switch-position", "reference-top-not-reached"):
        quiet(key, held)


def test_reference_switch_position_fires():
    inputs = tuple(
        dataclasses.replace(entry, switch_position="S1 to I") for entry in TYPE.reference_inputs
    )
    entry = fires(
        "reference-switch-position", line(keyed(range=0), kind={"reference_inputs": inputs})
    )
    assert "input mA is a current input; the range setting range says 0-10 V" in entry.says("us")
    assert "switch (S1 to I)" in entry.mend("us")


def test_reference_switch_position_quiet():
    quiet("reference-switch-position", line(keyed(range=1)))


def test_reference_not_from_input_fires():
    entry = fires("reference-not-from-input", line(keyed(**{"from": 0})))
    assert "A current signal is wired" in entry.says("metric")
    assert "takes the speed from keypad" in entry.says("metric")


def test_reference_not_from_input_quiet():
    quiet("reference-not-from-input", line())
    quiet("reference-not-from-input", line(change(keyed(**{"from": 0}), **told("keypad", ""))))


@pytest.mark.parametrize("ends", [(0.020, 0.020), (0.020, 0.004), (None, 0.020)])
def test_a_span_that_is_none_is_judged_by_no_rule(ends):
    held = line(change(reference={"low_a": ends[0], "high_a": ends[1]}))
    for key in ("reference-creeps", "reference-dead-zone", "reference-top-cut-off"):
        quiet(key, held)
