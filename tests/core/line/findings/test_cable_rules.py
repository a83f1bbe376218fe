"""Screens and routes of signal and motor cables."""

from core.model import Cable
from tests.core.line.findings.sound import CABLES, change, fires, line, quiet


def bus_cable(**fields):
    return change(cables=(*CABLES, Cable(4, "bus", length_m=5.0, **fields)))


def test_screen_both_ends_fires():
    entry = fires("screen-both-ends", line(change(reference_cable={"screen": "both"})))
    assert entry.place.record_id == 3
    assert "The screen of the bus cable" in fires(
        "screen-both-ends", line(bus_cable(screen="both"))
    ).says("us")


def test_screen_both_ends_quiet():
    # That of the motor cable belongs earthed at both ends.
    quiet("screen-both-ends", line())
    quiet("screen-both-ends", line(bus_cable(screen="drive")))


def test_screen_nowhere_fires():
    assert fires("screen-nowhere", line(change(reference_cable={"screen": "open"})))
    assert fires("screen-nowhere", line(bus_cable(screen="open")))


def test_screen_nowhere_quiet():
    quiet("screen-nowhere", line())


def test_motor_screen_one_end_fires():
    entry = fires("motor-screen-one-end", line(change(motor_cable={"screen": "drive"})))
    assert entry.level == "advice"
    assert "is earthed at the drive only." in entry.says("metric")


def test_motor_screen_one_end_quiet():
    quiet("motor-screen-one-end", line(change(motor_cable={"screen": "both"})))
    quiet("motor-screen-one-end", line(change(motor_cable={"screen": "none"})))


def test_reference_without_screen_fires():
    entry = fires("reference-without-screen", line(change(reference_cable={"screen": "none"})))
    assert "is 10 m long and has no screen" in entry.says("metric")


def test_reference_without_screen_quiet():
    jumper = {"screen": "none", "length_m": 1.5}
    quiet("reference-without-screen", line(change(reference_cable=jumper)))
    quiet("reference-without-screen", line())


def test_reference_with_motor_leads_fires():
    entry = fires("reference-with-motor-leads", line(change(reference_cable={"route": "motor"})))
    assert "The reference cable is laid with motor leads." in entry.says("us")
    assert fires("reference-with-motor-leads", line(bus_cable(screen="drive", route="power")))


def test_reference_with_motor_leads_quiet():
    quiet("reference-with-motor-leads", line(change(reference_cable={"route": "controls"})))
