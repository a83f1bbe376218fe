"""The head of a station tells which one it is, however narrow the window is."""

import pytest

from app.jump_strip import JumpStrip
from app.station_head import StationHead
from app.station_sections import SECTIONS
from core.model import Station


@pytest.fixture
def head(qtbot):
    made = StationHead()
    qtbot.addWidget(made)
    made.show_station(Station(tag="ST14", name="Take-away belt behind the sizer"), "complete")
    made.show()
    return made


def test_the_name_is_cut_before_the_tag_is(head, qtbot):
    head.resize(1000, 40)
    qtbot.waitUntil(lambda: head.title.text() == "ST14  Take-away belt behind the sizer")
    head.resize(300, 40)
    qtbot.waitUntil(lambda: head.title.text().startswith("ST14"))
    assert not head.on_button.isVisible()
    assert head.title.width() >= head.title.fontMetrics().horizontalAdvance("ST14")


def test_it_tells_up_to_which_stage_the_station_is_proved(head):
    station = Station(tag="ST14", kind="take_away")
    head.show_station(station, "complete", "proved: Coupled")
    assert head.kind.text() == "Take-away, proved: Coupled"
    head.show_station(station, "complete")
    assert head.kind.text() == "Take-away"


def test_its_buttons_ask_for_the_neighbours(head, qtbot):
    steps = []
    head.stepped.connect(steps.append)
    head.resize(1000, 40)
    head.back_button.click()
    head.on_button.click()
    assert steps == [-1, 1]


@pytest.mark.parametrize(("width", "folded"), [(1200, False), (400, True)])
def test_the_strip_of_sections_folds_into_one_button(qtbot, width, folded):
    strip = JumpStrip(SECTIONS)
    qtbot.addWidget(strip)
    strip.resize(width, 30)
    strip.show()
    strip.show_chosen("drivetrain")
    assert all(button.isVisible() != folded for button in strip.buttons.values())
    assert strip.buttons["drivetrain"].isChecked()
    wide = strip.buttons["drivetrain"]
    qtbot.waitUntil(lambda: folded or wide.width() >= wide.sizeHint().width())
