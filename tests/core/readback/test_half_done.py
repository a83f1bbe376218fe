"""A walk that was broken off: kept as text, taken up where it stood, never with a stale number."""

import dataclasses
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.readback import gone_on, kept_text, start_walk
from tests.core.readback.lines import CHOICES, KIND, LISTED, line_of, station

LINE = line_of(station(1, ("top", "60.0"), ("source", "1")), station(2, ("top", "47.5")))


def again(walk, line=LINE):
    return gone_on(start_walk(line), kept_text(walk, "2026-11-25 14:10"))


def test_a_walk_goes_on_where_it_stood_with_all_that_it_found():
    walk = start_walk(LINE).enter("").enter("2,50 s").skip("display dark").keep("9").back()
    held = again(walk)
    assert held.walk == walk
    assert (held.begun, held.lost) == ("2026-11-25 14:10", ())
    assert held.walk.step.code == "turns"
    assert held.walk.result().entry(1, "source").reason == "display dark"
    assert held.walk.result().entry(1, "turns").state == "refused"


def test_a_walk_at_its_end_is_at_its_end_again():
    walk = start_walk(LINE)
    while not walk.at_end:
        walk = walk.skip()
    assert again(walk).walk.at_end


@given(st.lists(st.tuples(st.sampled_from(sorted(CHOICES)), st.sampled_from(["read", "skip"]))))
def test_whatever_was_found_comes_back(moves):
    walk = start_walk(LINE)
    for code, how in moves:
        walk = walk.go_to(1, code)
        walk = walk.enter(CHOICES[code][-1]) if how == "read" else walk.skip("no power")
    assert again(walk).walk == walk


def test_entries_are_read_against_the_lists_as_they_are_now():
    walk = start_walk(LINE).enter("87.5")
    assert walk.result().entry(1, "top").state == "read"
    lower = dataclasses.replace(LISTED[0], maximum="80")
    kind = dataclasses.replace(KIND, listed_settings=(lower, *LISTED[1:]))
    entry = again(walk, line_of(*LINE.stations, drive_types=(kind,))).walk.result().entry(1, "top")
    assert (entry.state, entry.shown, entry.value) == ("refused", "87.5", None)


def test_what_the_line_has_no_more_is_named_and_the_rest_is_kept():
    walk = start_walk(LINE).enter("").go_to(2).enter("47.5")
    other = dataclasses.replace(LINE.stations[1], tag="S09")
    for line in (line_of(LINE.stations[0]), line_of(LINE.stations[0], other)):
        held = again(walk, line)
        assert held.lost == ("S02 top",)
        assert held.walk.result().entry(1, "top").shown == "60.0"
        assert {key[0] for key in held.walk.found} == {1}


def test_a_setting_that_is_gone_under_the_hands_leaves_the_walk_at_the_first_open_one():
    walk = start_walk(LINE).enter("").go_to(2)
    held = again(walk, line_of(LINE.stations[0]))
    assert (held.walk.step.tag, held.walk.step.code) == ("S01", "slow-up")


def kept(**changes):
    return json.dumps(json.loads(kept_text(start_walk(LINE).enter(""), "")) | changes)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "damaged"),
        ("{", "damaged"),
        ("[]", "damaged"),
        ("{}", "damaged"),
        (kept(form=2), "Another version"),
        (kept(entries=None), "damaged"),
        (kept(entries=[{"station": 1}]), "damaged"),
        (kept(entries=[{"station": "1", "tag": "S01", "code": "top", "read": True, "text": "1"}]),
         "damaged"),
    ],
)  # fmt: skip
def test_a_text_that_is_no_walk_is_refused(text, why):
    with pytest.raises(InputError, match=why):
        gone_on(start_walk(LINE), text)


def test_a_number_written_into_the_text_counts_for_nothing():
    entry = {"station": 1, "tag": "S01", "code": "top", "read": True, "text": "50", "value": 999.0}
    found = gone_on(start_walk(LINE), kept(entries=[entry])).walk.result().entry(1, "top")
    assert (found.shown, found.value) == ("50", 50.0)


def test_what_was_set_aside_comes_back_with_its_station_and_gives_way_to_what_came_since():
    walk = start_walk(LINE).enter("").go_to(2).enter("47.5")
    gone = gone_on(start_walk(line_of(LINE.stations[0])), kept_text(walk, ""), is_same_line=True)
    assert (gone.lost, len(gone.aside)) == (("S02 top",), 1)
    text = kept_text(gone.walk, "")
    still = gone_on(
        start_walk(line_of(LINE.stations[0])), text, is_same_line=True, aside=gone.aside
    )
    assert (still.lost, still.aside, still.back) == ((), gone.aside, ())
    back = gone_on(start_walk(LINE), text, is_same_line=True, aside=still.aside)
    assert (back.lost, back.aside, back.back) == ((), (), ("S02 top",))
    assert back.walk.result().entry(2, "top").shown == "47.5"
    since = kept_text(back.walk.go_to(2).enter("46"), "")
    later = gone_on(start_walk(LINE), since, is_same_line=True, aside=still.aside)
    assert later.walk.result().entry(2, "top").shown == "46"
