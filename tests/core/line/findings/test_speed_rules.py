"""Lost signals."""

import dataclasses

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
