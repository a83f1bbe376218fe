"""A result holds every setting of the line, whatever was found."""

import dataclasses

import pytest

from core.model import Line, Station
from core.readback import start_walk
from core.readback.present import differing
from core.readback.results import (
    NEW_SINCE,
    NOT_LISTED,
    NOTHING_SHOWN,
    Entry,
    brought_to,
    gathered,
    not_read,
    taken,
    wanted_of,
)
from tests.core.readback.lines import KIND, LISTED, line_of, station

LINE = line_of(station(1), station(2, ("top", "60.0"), ("own", "3")))


def wanted(code, line=LINE):
    return next(one for one in wanted_of(line) if one.code == code)


def test_every_listed_setting_of_every_station_in_keypad_order_and_what_no_list_has():
    codes = [listed.code for listed in LISTED]
    assert [one.key for one in wanted_of(LINE)] == [
        *((1, code) for code in codes), *((2, code) for code in codes), (2, "own")
    ]  # fmt: skip


def test_nothing_found_is_all_not_read():
    result = gathered(LINE, [], "the reason")
    assert len(result.entries) == 2 * len(LISTED) + 1
    told = {(entry.state, entry.shown, entry.reason) for entry in result.entries}
    assert told == {("not_read", "", "the reason")}
    assert not result.complete
    assert result.counts == {"not_read": 19}


def test_the_reason_may_depend_on_the_setting():
    result = gathered(LINE, [], lambda one: NOT_LISTED if one.listed is None else "else")
    assert result.entry(2, "own").reason == NOT_LISTED
    assert result.entry(2, "top").reason == "else"


def test_a_station_without_a_list_is_named_and_leaves_the_result_incomplete():
    bare = gathered(Line(stations=(Station(7, "S07"),)), [], "")
    assert bare.entries == ()
    assert bare.without_list == (7,)
    assert not bare.complete


def test_complete_when_all_was_read():
    every = [Entry(*one.key, "read", "0") for one in wanted_of(LINE)]
    assert gathered(LINE, every, "").complete
    assert not gathered(LINE, every[1:], "").complete
    other = dataclasses.replace(every[0], state="refused")
    assert not gathered(LINE, [other, *every[1:]], "").complete


def test_entries_of_nothing_or_twice_are_faults_of_the_program():
    entry = Entry(1, "top", "read", "5")
    with pytest.raises(ValueError, match="two entries"):
        gathered(LINE, [entry, dataclasses.replace(entry, shown="6")], "")
    with pytest.raises(ValueError, match="no settings of this line"):
        gathered(LINE, [Entry(1, "bottom", "read", "5")], "")


def test_entries_are_found_by_station_and_code():
    result = gathered(LINE, [Entry(2, "top", "read", "60.0")], "")
    assert result.entry(2, "top").shown == "60.0"
    assert len(result.of_station(2)) == 10
    for missing in ((3, "top"), (1, "own")):
        with pytest.raises(KeyError):
            result.entry(*missing)


@pytest.mark.parametrize(
    ("code", "shown", "state", "kept", "value"),
    [
        ("top", "60.0", "read", "60.0", 60.0),
        ("top", "60,5 Hz", "read", "60,5 Hz", 60.5),
        ("source", "wire", "read", "1", 1.0),
        ("top", "500", "refused", "500", None),
        ("source", "7", "refused", "7", None),
        ("own", "anything", "read", "anything", None),
        ("top", "  ", "not_read", "", None),
    ],
)
def test_a_shown_text_is_checked_against_the_list(code, shown, state, kept, value):
    entry = taken(wanted(code), shown)
    assert (entry.state, entry.shown, entry.value) == (state, kept, value)
    assert bool(entry.reason) == (state != "read")


def test_what_was_not_read_shows_nothing():
    assert not_read(wanted("top"), "why") == Entry(1, "top", "not_read", "", "why")
    assert taken(wanted("top"), "").reason == NOTHING_SHOWN


def test_a_reading_is_brought_to_a_line_that_was_changed_after_it():
    line = line_of(station(1, ("top", "60.0")), station(2))
    walk = start_walk(line).enter("87.5").enter("3").go_to(2).enter("50")
    lower = dataclasses.replace(LISTED[0], maximum="80")
    new = dataclasses.replace(LISTED[8], code="new")
    kind = dataclasses.replace(KIND, listed_settings=(lower, *LISTED[1:], new))
    now = brought_to(line_of(station(1, ("top", "60.0")), drive_types=(kind,)), walk.result())
    assert now.entry(1, "top").state == "refused"  # 87.5 is above the mended 80
    assert now.entry(1, "slow-up").shown == "3"
    assert (now.entry(1, "new").state, now.entry(1, "new").reason) == ("not_read", NEW_SINCE)
    assert {entry.station_id for entry in now.entries} == {1}
    assert len(now.entries) == len(LISTED) + 1


def test_what_was_read_and_is_not_as_commissioned():
    found = [
        taken(one, shown)
        for one in wanted_of(LINE)
        if (shown := {(1, "top"): "50", (1, "trim"): "3", (2, "top"): "60,0", (2, "own"): "4"}
            .get(one.key))
    ]  # fmt: skip
    # S01 recorded nothing, so that its list tells: 50.0 Hz and 0.0 %; S02 recorded 60.0 Hz and 3.
    assert differing(LINE, gathered(LINE, found, "")) == {(1, "trim"), (2, "own")}


def test_what_was_not_read_or_refused_is_no_difference():
    found = [taken(one, "1000") for one in wanted_of(LINE) if one.code == "top"]
    assert {entry.state for entry in found} == {"refused"}
    assert differing(LINE, gathered(LINE, found, "")) == frozenset()
