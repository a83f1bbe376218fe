"""Pictures above tables: wide, narrow and low, every part in reach, what is in sight kept."""

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLabel

from app.speeds_room import SharedRoom

WIDE, NARROW, LOW = QSize(1366, 700), QSize(700, 700), QSize(683, 300)


@pytest.fixture
def room(qtbot):
    room = SharedRoom()
    qtbot.addWidget(room)
    room.parts = {name: QLabel(name) for name in ("line", "chart", "one", "two", "three", "side")}
    room.show()
    return room


def arrange(room, size, *tables):
    def part(name):
        return room.parts[name], name

    tables = tables or ("one", "two", "three")
    room.arrange(size, [part("line"), part("chart")], [part(name) for name in tables], part("side"))


def titles(tabs):
    return [tabs.tabText(place) for place in range(tabs.count())]


def test_wide_it_stands_beside_narrow_behind_a_tab(room):
    arrange(room, WIDE)
    assert titles(room.below) == ["one", "two", "three"]
    assert room.parts["side"].isVisible()
    arrange(room, NARROW)
    assert titles(room.below) == ["one", "two", "side", "three"]
    assert not room.parts["side"].isVisible()


def test_low_everything_stands_behind_one_row_of_tabs(room):
    arrange(room, WIDE)
    arrange(room, LOW)
    assert titles(room.views) == ["line", "chart", "one", "two", "side", "three"]
    assert not room.below.isVisible()
    arrange(room, WIDE)
    assert titles(room.views) == ["line", "chart"]
    assert room.below.isVisible()


def test_low_and_wide_the_side_stays_in_sight(room):
    arrange(room, QSize(1366, 300))
    assert room.parts["side"].isVisible()
    assert not room.below.isVisible()


def test_what_is_in_front_stays_in_front(room):
    arrange(room, WIDE)
    room.bring(room.parts["chart"])
    room.bring(room.parts["two"])
    for size in (NARROW, LOW, WIDE):
        arrange(room, size)
        assert room.is_in_sight(room.parts["chart"])
    room.bring(room.parts["two"])
    arrange(room, WIDE, "three", "one", "two")
    assert room.is_in_sight(room.parts["two"])


def test_a_part_may_come_and_go(room):
    arrange(room, WIDE, "one", "two")
    assert not room.parts["three"].isVisible()
    arrange(room, WIDE, "one", "two", "three")
    room.bring(room.parts["three"])
    assert room.parts["three"].isVisible()
    arrange(room, WIDE, "one", "two")
    assert not room.parts["three"].isVisible()


def test_a_tab_is_told_of_and_named(room, qtbot):
    arrange(room, WIDE)
    with qtbot.waitSignal(room.turned_to):
        room.bring(room.parts["two"])
    room.retitle(room.parts["two"], "two (3)")
    assert titles(room.below) == ["one", "two (3)", "three"]


def test_it_asks_for_no_more_height_than_the_pictures(room):
    arrange(room, WIDE)
    assert room.minimumSizeHint().height() == room.views.minimumSizeHint().height()
