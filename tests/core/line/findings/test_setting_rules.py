"""The list of settings against what was entered."""

import dataclasses

from core.model import Setting
from tests.core.line.findings.sound import LISTED, change, fires, keyed, line, quiet, settings


def without(code, **changes):
    return tuple(
        dataclasses.replace(entry, **changes) if entry.code == code else entry for entry in LISTED
    )


def test_setting_outside_list_fires():
    entry = fires("setting-outside-list", line(keyed(hz_max=130)))
    assert "Setting hz-max shows 130; its list allows 10 to 120 Hz" in entry.says("metric")
    entry = fires("setting-outside-list", line(keyed(range=7)))
    assert "shows 7; its list allows 0 = 0-10 V; 1" in entry.says("metric")
    kind = {"listed_settings": without("hz-max", minimum="")}
    entry = fires("setting-outside-list", line(keyed(hz_max=130), kind=kind))
    assert "allows at most 120 Hz" in entry.says("metric")


def test_setting_outside_list_quiet():
    quiet("setting-outside-list", line(keyed(hz_max=120)))


def test_setting_not_in_list_fires():
    more = (*settings(), Setting(99, "old-code", "1", 1.0))
    entry = fires("setting-not-in-list", line(change(drive={"settings": more})))
    assert entry.level == "advice"
    assert "Setting old-code is entered" in entry.says("metric")


def test_setting_not_in_list_quiet():
    quiet("setting-not-in-list", line())
    # A drive type whose list nobody entered yet says nothing about codes.
    quiet("setting-not-in-list", line(kind={"listed_settings": ()}))


def test_nameplate_not_at_keypad_fires():
    entry = fires("nameplate-not-at-keypad", line(keyed(volts=None, limit=None)))
    assert entry.level == "advice"
    assert "not entered: volts, limit." in entry.says("metric")


def test_nameplate_not_at_keypad_quiet():
    quiet("nameplate-not-at-keypad", line())
    quiet("nameplate-not-at-keypad", line(change(keyed(volts=None), motors=())))
