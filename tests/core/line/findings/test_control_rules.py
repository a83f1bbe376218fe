"""Starting, stopping, and what happens when power returns."""

import dataclasses

import pytest

from core.model import DigitalInput, Terminal
from tests.core.line.findings.sound import (
    LISTED,
    STATION,
    TYPE,
    change,
    fires,
    keyed,
    line,
    quiet,
)

INPUTS = STATION.digital_inputs


def wired(*more, **controls):
    return change(digital_inputs=(*INPUTS, *more), controls=controls)


def test_two_inputs_one_function_fires():
    held = wired(DigitalInput(3, "X4", "start"))
    entry = fires("two-inputs-one-function", line(held))
    assert "Inputs X2 and X4 both mean start (3-wire)." in entry.says("metric")


def test_two_inputs_one_function_quiet():
    quiet("two-inputs-one-function", line(wired(DigitalInput(3, "X4", "reset"))))
    others = (DigitalInput(3, "X4", "other"), DigitalInput(4, "X5", "other"))
    quiet("two-inputs-one-function", line(wired(*others)))


def test_one_terminal_two_wires_fires():
    entry = fires("one-terminal-two-wires", line(wired(DigitalInput(3, "X2", "reset"))))
    assert "terminal X2 is used by 2 digital inputs" in entry.says("metric")


def test_one_terminal_two_wires_quiet():
    quiet("one-terminal-two-wires", line(wired(DigitalInput(3, "X4", "reset"))))
    unnamed = (DigitalInput(3, "", "reset"), DigitalInput(4, "", "jog"))
    quiet("one-terminal-two-wires", line(wired(*unnamed)))


def test_no_stop_fires():
    entry = fires("no-stop", line(change(digital_inputs=INPUTS[:1])))
    assert entry.level == "blocker"
    assert "started by push button (3-wire), and no input stops it" in entry.says("metric")
    held = change(digital_inputs=(), controls={"start_mode": "two_wire"})
    assert fires("no-stop", line(held))
    bus = change(digital_inputs=(), controls={"start_mode": "bus", "emergency_stop": "none"})
    assert "started by the bus" in fires("no-stop", line(bus)).says("metric")


def test_no_stop_quiet():
    quiet("no-stop", line())
    forward = (DigitalInput(1, "X2", "forward"),)
    quiet("no-stop", line(change(digital_inputs=forward, controls={"start_mode": "two_wire"})))
    quiet("no-stop", line(change(digital_inputs=(), controls={"start_mode": "bus"})))


def test_stop_contact_open_fires():
    stop = dataclasses.replace(INPUTS[1], contact="open")
    entry = fires("stop-contact-open", line(change(digital_inputs=(INPUTS[0], stop))))
    assert "The stop at terminal X3" in entry.says("metric")


def test_stop_contact_open_quiet():
    quiet("stop-contact-open", line())


def test_restarts_by_itself_fires():
    entry = fires("restarts-by-itself", line(keyed(again=1)))
    assert entry.level == "blocker"
    assert "(again = 1: yes)" in entry.says("metric")
    entry = fires("restarts-by-itself", line(change(controls={"restarts": "yes"})))
    assert "(as entered under controls)" in entry.says("metric")


def test_restarts_by_itself_quiet():
    quiet("restarts-by-itself", line())


def with_words(meaning, **changes):
    listed = tuple(
        dataclasses.replace(entry, options=meaning and f"5 = {meaning}", **changes)
        if entry.code == "again"
        else entry
        for entry in LISTED
    )
    return line(keyed(again=5), kind={"listed_settings": listed})


@pytest.mark.parametrize(
    "words",
    ["on", "automatic", "Restart after 2 s", "enabled", "starts with the run contact held"],
)
def test_restarts_by_itself_fires_on_words_that_mean_a_restart(words):
    assert fires("restarts-by-itself", with_words(words))


@pytest.mark.parametrize(
    "words",
    ["off", "no restart", "restart inhibited", "waits for a new start", "disabled", "not allowed"],
)
def test_restarts_by_itself_is_quiet_on_words_that_mean_none(words):
    quiet("restarts-by-itself", with_words(words))


def test_restarts_by_itself_from_the_factory_says_so():
    listed = tuple(
        dataclasses.replace(entry, factory="1") if entry.code == "again" else entry
        for entry in LISTED
    )
    held = line(keyed(again=None), kind={"listed_settings": listed})
    assert "factory value, not entered" in fires("restarts-by-itself", held).says("metric")


def test_emergency_stop_by_input_fires():
    held = change(controls={"emergency_stop": "digital_input"})
    assert fires("emergency-stop-by-input", line(held)).level == "blocker"
    wire = DigitalInput(3, "X4", "emergency_stop", "closed")
    assert fires("emergency-stop-by-input", line(wired(wire, emergency_stop="none")))


def test_emergency_stop_by_input_quiet():
    # A contactor does it; the input only tells the drive.
    quiet("emergency-stop-by-input", line(wired(DigitalInput(3, "X4", "emergency_stop", "closed"))))


def test_stop_category_2_emergency_fires():
    assert fires("stop-category-2-emergency", line(change(controls={"stop_category": "2"})))


def test_stop_category_2_emergency_quiet():
    quiet("stop-category-2-emergency", line())
    none = {"stop_category": "2", "emergency_stop": "none"}
    quiet("stop-category-2-emergency", line(change(controls=none)))


def test_start_not_from_terminals_fires():
    entry = fires("start-not-from-terminals", line(keyed(run=0)))
    assert "wired for push buttons; setting run takes start and stop from keypad" in entry.says(
        "us"
    )


def test_start_not_from_terminals_quiet():
    quiet("start-not-from-terminals", line())
    quiet("start-not-from-terminals", line(change(keyed(run=2), controls={"start_mode": "bus"})))


def test_emergency_stop_not_entered_fires():
    entry = fires("emergency-stop-not-entered", line(change(controls={"emergency_stop": None})))
    assert entry.level == "advice"


def test_emergency_stop_not_entered_quiet():
    quiet("emergency-stop-not-entered", line(change(controls={"emergency_stop": "none"})))
    # A station about whose controls nothing is entered yet needs no reminder of one of them.
    untouched = {"start_mode": None, "emergency_stop": None}
    quiet("emergency-stop-not-entered", line(change(controls=untouched)))


def test_emergency_stop_without_terminal_fires():
    held = change(controls={"emergency_stop": "safety_function"})
    entry = fires("emergency-stop-without-terminal", line(held))
    assert "drive type S drive lists no such terminal" in entry.says("metric")


def test_emergency_stop_without_terminal_quiet():
    held = change(controls={"emergency_stop": "safety_function"})
    safe = (*TYPE.terminals, Terminal(9, "SI1", "safety_in"))
    quiet("emergency-stop-without-terminal", line(held, kind={"terminals": safe}))
    quiet("emergency-stop-without-terminal", line(held, kind={"terminals": ()}))
