"""Readings of a calibration: one step each, half a table is kept, undo takes back."""

import datetime

import pytest

from core.store import LineFile, check_actions

ENDS = tuple(
    {"direction": direction, "share": share, "frequency_hz": 60.0 * share}
    for direction in ("wanted", "set")
    for share in (0.0, 1.0)
)


@pytest.fixture
def book(tmp_path, empty_file):
    path = tmp_path / "line.linebook"
    path.write_bytes(empty_file.read_bytes())
    with LineFile.open(path) as opened:
        with opened.step("Prepare") as step:
            step.add("station", tag="A01")
        yield opened


def enter(book, *readings, state="found", **more):
    check_actions.enter_readings(book, book.line.stations[0].id, state, readings, ENDS, **more)


def stored(book, state="found"):
    return [
        (point.direction, point.share, point.frequency_hz)
        for point in book.line.calibration_points
        if point.state == state
    ]


def up(share, hertz):
    return 0, {"direction": "up", "share": share, "frequency_hz": hertz}


def test_the_first_reading_brings_what_was_wanted_and_set(book):
    enter(book, up(0.0, 0.3))
    assert stored(book) == [
        ("up", 0.0, 0.3),
        ("wanted", 0.0, 0.0),
        ("wanted", 1.0, 60.0),
        ("set", 0.0, 0.0),
        ("set", 1.0, 60.0),
    ]
    enter(book, up(0.25, 15.1))
    assert len(stored(book)) == 6


def test_each_entry_is_one_step_and_undo_takes_it_back(book):
    enter(book, up(0.0, 0.3))
    enter(book, up(0.25, 15.1))
    book.undo()
    assert [point[2] for point in stored(book) if point[0] == "up"] == [0.3]
    book.undo()
    assert stored(book) == []


def test_a_reading_says_when_it_was_read(book):
    moment = datetime.datetime(2026, 11, 25, 14, 30)
    enter(book, up(0.0, 0.3), now=moment)
    enter(book, (0, {**up(0.25, 15.0)[1], "done_at": "yesterday"}), now=moment)
    times = [point.done_at for point in book.line.calibration_points if point.direction == "up"]
    assert times == ["2026-11-25 14:30", "yesterday"]


def test_a_changed_reading_keeps_its_point(book):
    enter(book, up(0.0, 0.3))
    point = book.line.calibration_points[0]
    enter(book, (point.id, {"frequency_hz": 0.4}))
    assert book.line.calibration_points[0].id == point.id
    assert stored(book)[0] == ("up", 0.0, 0.4)


def test_an_emptied_reading_goes_and_the_last_one_takes_the_ends_with_it(book):
    enter(book, up(0.0, 0.3))
    enter(book, (0, {"direction": "up", "share": 0.25, "frequency_hz": 15.0, "speed_m_s": 0.1}))
    first, second = (p for p in book.line.calibration_points if p.direction == "up")
    enter(book, (second.id, {"frequency_hz": None}))
    assert ("up", 0.25, None) in stored(book)  # its speed is a reading too
    enter(book, (second.id, {"speed_m_s": None}))
    enter(book, (first.id, {"frequency_hz": None}))
    assert stored(book) == []


def test_states_do_not_touch_each_other(book):
    enter(book, up(0.0, 0.3))
    enter(book, up(0.0, 0.1), state="left")
    assert stored(book)[0] == ("up", 0.0, 0.3)
    assert stored(book, "left")[0] == ("up", 0.0, 0.1)


def test_an_end_is_replaced_and_taken_back(book):
    station_id = book.line.stations[0].id
    for hertz in (6.0, 5.0):
        check_actions.set_calibration_end(book, station_id, "found", "wanted", 0.0, hertz)
        assert stored(book) == [("wanted", 0.0, hertz)]
    check_actions.set_calibration_end(book, station_id, "found", "wanted", 0.0, None)
    assert stored(book) == []


def test_an_end_that_was_set_before_the_first_reading_stays(book):
    station_id = book.line.stations[0].id
    check_actions.set_calibration_end(book, station_id, "found", "wanted", 1.0, 55.0)
    enter(book, up(0.0, 0.3))
    assert ("wanted", 1.0, 55.0) in stored(book)
    assert ("wanted", 1.0, 60.0) not in stored(book)
