"""A walk along the keypads: in order, forth and back, broken off and taken up, nothing lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.readback import start_walk
from core.readback.results import NOTHING_SHOWN, wanted_of
from core.readback.walk import NOT_REACHED, SKIPPED
from tests.core.readback.lines import LISTED, line_of, station

LINE = line_of(
    station(1, ("top", "60.0"), ("source", "1")), station(2, ("top", "47.5"), ("own", "x"))
)


def test_it_goes_station_by_station_in_keypad_order():
    walk = start_walk(LINE)
    assert [(step.wanted.station.id, step.code) for step in walk.steps] == [
        one.key for one in wanted_of(LINE)
    ]
    assert (walk.step.tag, walk.step.code, walk.step.commissioned) == ("S01", "top", "60.0")
    assert [step.code for step in walk.steps[:9]] == [listed.code for listed in LISTED]


def test_the_same_as_commissioned_needs_nothing_typed():
    walk = start_walk(LINE).enter("")
    assert walk.result().entry(1, "top").shown == "60.0"
    assert walk.step.code == "slow-up"
    assert start_walk(LINE).same().result() == walk.result()


def test_a_typed_value_is_checked_against_the_list_and_the_walk_stays_where_it_is_wrong():
    walk = start_walk(LINE)
    for wrong, why in (("500", "above the listed 400 Hz"), ("fast", "number"), ("3 s", "time")):
        with pytest.raises(InputError, match=why):
            walk.enter(wrong)
    assert walk.step.code == "top"
    entry = walk.enter("55,5 Hz").result().entry(1, "top")
    assert (entry.state, entry.shown, entry.value) == ("read", "55,5 Hz", 55.5)


def test_a_value_that_the_keypad_shows_although_the_list_forbids_it_is_not_lost():
    entry = start_walk(LINE).keep("500").result().entry(1, "top")
    assert (entry.state, entry.shown) == ("refused", "500")
    assert "above" in entry.reason
    assert start_walk(LINE).keep("50").result().entry(1, "top").state == "read"
    assert start_walk(LINE).keep(" ").result().entry(1, "top").reason == NOTHING_SHOWN


def test_there_is_no_same_without_a_commissioned_value():
    walk = start_walk(LINE).enter("")
    for nothing in ("", "  "):
        with pytest.raises(InputError, match="no commissioned value"):
            walk.enter(nothing)


def test_skipped_is_not_read_with_its_reason():
    result = start_walk(LINE).skip().skip("display broken").result()
    assert (result.entry(1, "top").state, result.entry(1, "top").reason) == ("not_read", SKIPPED)
    assert result.entry(1, "slow-up").reason == "display broken"
    assert result.entry(1, "source").reason == NOT_REACHED
    assert not result.complete


def test_back_shows_what_was_found_and_another_value_takes_its_place():
    walk = start_walk(LINE).enter("50").back()
    assert walk.entry.shown == "50"
    assert walk.forward().step.code == "slow-up"
    assert walk.enter("51").result().entry(1, "top").shown == "51"
    assert start_walk(LINE).back().place == 0


def test_nothing_is_passed_over_in_silence():
    with pytest.raises(InputError, match="Nothing was found"):
        start_walk(LINE).forward()


def test_a_station_without_power_is_left_at_once_and_what_was_read_there_stays():
    walk = start_walk(LINE).enter("").skip_station("no power")
    assert (walk.step.tag, walk.step.code) == ("S02", "top")
    result = walk.result()
    assert result.entry(1, "top").state == "read"
    assert {entry.reason for entry in result.of_station(1)[1:]} == {"no power"}
    again = walk.go_to(1).skip_station("no power")
    assert again.result().entry(1, "top").state == "read"


def test_go_to_a_station_or_a_setting():
    walk = start_walk(LINE)
    assert walk.go_to(2).step.code == "top"
    assert walk.go_to(2, "own").step.commissioned == "x"
    with pytest.raises(InputError, match="no such setting"):
        walk.go_to(1, "own")


def test_at_the_end_nothing_more_is_taken():
    walk = start_walk(LINE)
    while not walk.at_end:
        walk = walk.skip()
    assert (walk.step, walk.entry, walk.open_steps) == (None, None, 0)
    for move in (walk.same, walk.skip, walk.forward, lambda: walk.enter("1")):
        with pytest.raises(InputError, match="at its end"):
            move()
    assert walk.back().step.code == "own"


def test_commissioned_values_may_come_from_a_record():
    record = line_of(station(1, ("top", "42")), station(2))
    walk = start_walk(LINE, record)
    assert walk.step.commissioned == "42"
    assert walk.enter("").result().entry(1, "top").shown == "42"
    assert walk.go_to(2, "own").step.commissioned == ""


def test_a_walk_to_one_station_leaves_the_others_not_read():
    walk = start_walk(LINE, stations=[2])
    assert {step.tag for step in walk.steps} == {"S02"}
    while not walk.at_end:
        walk = walk.same() if walk.step.commissioned else walk.enter("1")
    result = walk.result()
    assert {entry.state for entry in result.of_station(2)} == {"read"}
    assert {entry.reason for entry in result.of_station(1)} == {NOT_REACHED}


def test_a_walk_goes_on_where_an_earlier_one_was_broken_off():
    first = start_walk(LINE).enter("50").skip().keep("9").result()
    walk = start_walk(LINE, found=first)
    assert walk.step.code == "slow-up"
    assert walk.entry is None
    result = walk.enter("5").result()
    shown = [result.entry(1, code).shown for code in ("top", "slow-up", "source")]
    assert shown == ["50", "5", "9"]


def test_open_steps_count_down():
    walk = start_walk(LINE)
    total = walk.open_steps
    assert walk.enter("").skip().open_steps == total - 2
    assert walk.enter("").back().enter("5").open_steps == total - 1


MOVES = {
    "same": lambda walk: walk.same(),
    "enter": lambda walk: walk.enter("1"),
    "keep": lambda walk: walk.keep("7000"),
    "skip": lambda walk: walk.skip(),
    "back": lambda walk: walk.back(),
    "forward": lambda walk: walk.forward(),
    "station": lambda walk: walk.skip_station(),
}


@given(st.lists(st.sampled_from(sorted(MOVES)), max_size=60))
def test_whatever_is_done_every_setting_has_one_entry_and_none_is_read_unseen(moves):
    walk, seen = start_walk(LINE), set()
    for move in moves:
        step = walk.step
        try:
            walk = MOVES[move](walk)
        except InputError:
            continue
        if move in ("same", "enter", "keep"):
            seen.add(step.wanted.key)
    result = walk.result()
    assert [entry.key for entry in result.entries] == [one.key for one in wanted_of(LINE)]
    assert {entry.key for entry in result.entries if entry.state != "not_read"} <= seen


def test_a_walk_takes_over_what_was_read_another_way_and_goes_to_the_rest():
    other = start_walk(LINE).enter("55").enter("3").keep("7").skip("no reply").result()
    walk = start_walk(LINE).enter("60.0").with_read(other)
    assert walk.result().entry(1, "top").shown == "60.0"  # what the hands typed stays
    assert walk.result().entry(1, "slow-up").shown == "3"
    # Refused and not read there, so still to be looked at.
    assert walk.step.code == "source"
    assert {code for _, code in walk.found} == {"top", "slow-up"}


def test_what_the_walk_skipped_is_filled_by_another_reading():
    other = start_walk(LINE).enter("55").result()
    walk = start_walk(LINE).skip("dark").with_read(other)
    assert walk.result().entry(1, "top").shown == "55"
