"""Lost signals, speeds out of reach, speeds that are not as wanted."""

import dataclasses

import pytest

from tests.core.line.findings.sound import STATION, change, fires, keyed, line, quiet


def test_reference_loss_not_set_fires():
    unknown = change(keyed(lost=0), reference={"loss_action": "unknown"})
    entry = fires("reference-loss-not-set", line(unknown))
    assert "live zero of 4 mA; what the drive does when it is lost is not known" in entry.says("us")
    nothing = change(keyed(lost=0), reference={"loss_action": "nothing"})
    assert "is nothing." in fires("reference-loss-not-set", line(nothing)).says("metric")


def test_reference_loss_not_set_of_a_voltage_with_live_zero():
    plain = dataclasses.replace(
        STATION.reference, source="voltage", input_name="V", loss_action="unknown", now_a=None
    )
    two_ten = dataclasses.replace(plain, low_v=2.0, high_v=10.0)
    held = change(keyed(lost=0, range=4), reference=two_ten)
    assert fires("reference-loss-not-set", line(held)).values["zero"] == "2 V"
    zero_ten = dataclasses.replace(plain, low_v=0.0, high_v=10.0)
    quiet("reference-loss-not-set", line(change(keyed(lost=0, range=0), reference=zero_ten)))


def test_reference_loss_not_set_quiet():
    quiet("reference-loss-not-set", line())
    # The drive's own setting tells what it does, though nobody repeated it under the reference.
    quiet("reference-loss-not-set", line(change(reference={"loss_action": "unknown"})))
    dead_zero = change(keyed(range=1), reference={"low_a": 0.0, "loss_action": "unknown"})
    quiet("reference-loss-not-set", line(dead_zero))


def test_reference_loss_not_as_set_fires():
    entry = fires("reference-loss-not-as-set", line(keyed(lost=0)))
    assert "entered to stop; setting lost shows 0 (nothing)" in entry.says("metric")
    entry = fires("reference-loss-not-as-set", line(keyed(lost=None)))
    assert "(nothing, factory value, not entered)" in entry.says("metric")


def test_reference_loss_not_as_set_quiet():
    quiet("reference-loss-not-as-set", line(keyed(lost=1)))


def test_wanted_speed_out_of_reach_fires():
    # A minimum above the wanted frequency, and a maximum below it.
    entry = fires("wanted-speed-out-of-reach", line(keyed(hz_min=42)))
    assert "needs 40 Hz; the drive runs from 42 Hz to 50 Hz" in entry.says("metric")
    assert fires("wanted-speed-out-of-reach", line(keyed(hz_max=38)))


def test_wanted_speed_out_of_reach_quiet():
    quiet("wanted-speed-out-of-reach", line(keyed(hz_min=40)))
    quiet("wanted-speed-out-of-reach", line(keyed(hz_max=40)))


def test_speed_not_as_wanted_fires():
    # 14.8 mA: 10.8/16 of 50 Hz = 33.75 Hz, 84.4 % of 40 Hz.
    entry = fires("speed-not-as-wanted", line(change(reference={"now_a": 0.0148})))
    assert entry.values["now_hz"] == pytest.approx(33.75)
    assert entry.values["now_share"] == pytest.approx(0.84375)
    assert entry.place.field == "now_a"


def test_speed_not_as_wanted_quiet():
    # 16.3 mA: 38.4 Hz, 96 % of 40 Hz.
    quiet("speed-not-as-wanted", line(change(reference={"now_a": 0.0163})))
    quiet("speed-not-as-wanted", line(change(reference={"now_a": None})))
