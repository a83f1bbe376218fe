"""The picture to work in: choosing, opening, and drawing links by mouse and keyboard."""

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from app.speeds_line import LineView
from app.theme import LOOKS, apply_look
from core.sheets.line_picture import line_picture
from tests.app.keyboard import enter, press, show_active
from tests.core.sheets import pictures

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def view(qtbot, qapp):
    apply_look(qapp, "light")
    window = QWidget()
    column = QVBoxLayout(window)
    window.view, window.other = LineView(), QLineEdit()
    column.addWidget(window.view)
    column.addWidget(window.other)
    qtbot.addWidget(window)
    window.resize(1100, 700)
    view = window.view
    view.links, view.opened = [], []
    view.link_drawn.connect(lambda *ends: view.links.append(ends))
    view.station_chosen.connect(view.opened.append)
    show_active(qtbot, window)
    view.show_drawing(line_picture(pictures.demo(), view.reading_page))
    view.setFocus()
    view.holder = window  # lives as long as the view
    return view


def middle(view, station_id):
    box = QRectF(view.box_of(station_id))
    return (view.origin() + box.center() * view.scale_now()).toPoint()


def ground(view):
    return next(
        QPoint(x, y)
        for x in range(2, view.viewport().width(), 7)
        for y in range(2, view.viewport().height(), 7)
        if view.station_at(QPointF(x, y)) is None
    )


def drag(view, start, end):
    QTest.mousePress(view.viewport(), LEFT, pos=start)
    half = QPoint((start.x() + end.x()) // 2, (start.y() + end.y()) // 2)
    QTest.mouseMove(view.viewport(), half)
    QTest.mouseMove(view.viewport(), end)
    QTest.mouseRelease(view.viewport(), LEFT, pos=end)


def test_a_click_chooses_and_opens_nothing(view, qtbot):
    with qtbot.waitSignal(view.station_reached) as reached:
        QTest.mouseClick(view.viewport(), LEFT, pos=middle(view, 2))
    assert reached.args == [2]
    assert (view.opened, view.links) == ([], [])


def test_a_double_click_or_enter_opens(view):
    QTest.mouseDClick(view.viewport(), LEFT, pos=middle(view, 3))
    assert view.opened == [3]
    enter()
    assert view.opened == [3, 3]


def test_a_double_click_on_the_ground_opens_nothing(view):
    QTest.mouseDClick(view.viewport(), LEFT, pos=ground(view))
    assert view.opened == []


def test_a_drag_from_station_to_station_draws_a_link(view):
    drag(view, middle(view, 1), middle(view, 3))
    assert view.links == [(1, 3)]
    assert not view.is_linking


def test_a_drag_that_ends_on_the_ground_or_where_it_began_draws_none(view):
    drag(view, middle(view, 1), ground(view))
    start = middle(view, 1)
    QTest.mousePress(view.viewport(), LEFT, pos=start)
    QTest.mouseMove(view.viewport(), start + QPoint(0, 30))
    assert view.is_linking
    QTest.mouseRelease(view.viewport(), LEFT, pos=start)
    assert view.links == []
    assert not view.is_linking


def test_a_drag_of_the_ground_still_moves_the_picture(view, qtbot):
    view.set_zoom(3.0)
    bar = view.verticalScrollBar()
    bar.setValue(0)
    start = ground(view)
    drag(view, start, start - QPoint(0, 60))
    assert bar.value() > 0
    assert view.links == []


def test_a_link_is_drawn_by_keyboard(view):
    view.go_to(1)
    press(Qt.Key.Key_L)
    assert view.is_linking
    view.go_to(3)
    enter()
    assert view.links == [(1, 3)]
    assert view.opened == []


def test_escape_gives_a_link_up_and_keeps_the_station(view):
    view.go_to(1)
    press(Qt.Key.Key_L)
    press(Qt.Key.Key_Escape)
    assert not view.is_linking
    assert view.station_id == 1


def test_a_link_begun_by_key_can_end_with_a_click(view):
    view.go_to(1)
    press(Qt.Key.Key_L)
    QTest.mouseClick(view.viewport(), LEFT, pos=middle(view, 2))
    assert view.links == [(1, 2)]


def test_a_link_is_given_up_when_the_focus_goes(view):
    view.go_to(1)
    press(Qt.Key.Key_L)
    view.window().other.setFocus()
    assert not view.is_linking


@pytest.mark.parametrize("look", LOOKS)
def test_the_chosen_station_and_the_link_are_seen_in_every_look(view, qapp, look):
    apply_look(qapp, look)
    view.go_to(1)
    view.window().other.setFocus()
    chosen = view.viewport().grab().toImage()
    view._let_go()
    assert view.viewport().grab().toImage() != chosen
    view.setFocus()
    view.go_to(1)
    before = view.viewport().grab().toImage()
    press(Qt.Key.Key_L)
    view.go_to(4)
    view.go_to(1)
    press(Qt.Key.Key_L)
    view.go_to(2)
    linked = view.viewport().grab().toImage()
    view.give_up_link()
    assert linked != view.viewport().grab().toImage()
    assert before != linked
    apply_look(qapp, "light")
