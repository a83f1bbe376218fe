"""A drawing in the window: by keyboard, by mouse, at any zoom, in every look."""

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QAccessible, QColor, QHelpEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QToolTip, QVBoxLayout, QWidget

from app.drawing_view import DrawingView
from app.theme import LOOKS, apply_look, colours
from core.sheets.drawing import Drawing, Group
from core.sheets.line_picture import line_picture
from tests.core.sheets import pictures


@pytest.fixture
def window(qtbot, qapp):
    apply_look(qapp, "light")
    window = QWidget()
    column = QVBoxLayout(window)
    window.before, window.view, window.after = QLineEdit(), DrawingView(), QLineEdit()
    for widget in (window.before, window.view, window.after):
        column.addWidget(widget)
    qtbot.addWidget(window)
    window.resize(900, 600)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    window.view.show_drawing(line_picture(pictures.demo(), window.view.reading_page))
    window.before.setFocus()
    return window


@pytest.fixture
def view(window):
    return window.view


def _box(view, key):
    """Where a station is in the view."""
    (group,) = [item for item in view.drawing.items
                if isinstance(item, Group) and item.station_id == key]  # fmt: skip
    box = QRectF(*group.box)
    return QRectF(view.origin() + box.topLeft() * view.scale_now(), box.size() * view.scale_now())


def _order(view):
    return [item.station_id for item in view.drawing.items if isinstance(item, Group)]


def _in_sight(view, key):
    return QRectF(view.viewport().rect()).contains(_box(view, key))


def test_tab_goes_through_all_stations_and_out(window, qtbot):
    view, seen = window.view, []
    for _ in range(16):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        assert view.hasFocus()
        seen.append(view.station_id)
        assert _in_sight(view, view.station_id)
    assert seen == _order(view)
    qtbot.keyClick(view, Qt.Key.Key_Tab)
    assert window.after.hasFocus()
    qtbot.keyClick(window.after, Qt.Key.Key_Backtab)
    assert view.hasFocus()
    assert view.station_id == seen[-1]


def test_escape_lets_tab_leave_at_once(window, qtbot):
    window.view.setFocus()
    qtbot.keyClick(window.view, Qt.Key.Key_Escape)
    qtbot.keyClick(window.view, Qt.Key.Key_Tab)
    assert window.after.hasFocus()


def test_arrows_go_to_the_nearest_station_that_way(view, qtbot):
    view.setFocus()
    view.go_to(4)
    for key, station in (
        (Qt.Key.Key_Down, 5),
        (Qt.Key.Key_Up, 4),
        (Qt.Key.Key_Left, 3),
        (Qt.Key.Key_Right, 4),
        (Qt.Key.Key_Home, _order(view)[0]),
        (Qt.Key.Key_Left, _order(view)[0]),
        (Qt.Key.Key_End, _order(view)[-1]),
    ):
        qtbot.keyClick(view, key)
        assert view.station_id == station


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_opens_the_present_station(view, qtbot, key):
    view.setFocus()
    view.go_to(9)
    with qtbot.waitSignal(view.station_chosen) as asked:
        qtbot.keyClick(view, key)
    assert asked.args == [9]


def test_a_click_opens_the_station_and_dragging_moves_the_drawing(view, qtbot):
    place = _box(view, 2).center().toPoint()
    with qtbot.waitSignal(view.station_chosen) as asked:
        qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert asked.args == [2]
    opened = []
    view.station_chosen.connect(opened.append)
    before = _box(view, 2).top()
    qtbot.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    qtbot.mouseMove(view.viewport(), place - QPoint(0, 60))
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=place - QPoint(0, 60))
    assert _box(view, 2).top() == pytest.approx(before - 60, abs=1)
    assert opened == []


def test_a_click_beside_the_stations_opens_nothing(view, qtbot):
    opened = []
    view.station_chosen.connect(opened.append)
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(2, 2))
    assert opened == []


def test_the_pointer_is_a_hand_over_a_station(view, qtbot):
    qtbot.mouseMove(view.viewport(), _box(view, 2).center().toPoint())
    assert view.viewport().cursor().shape() == Qt.CursorShape.PointingHandCursor
    qtbot.mouseMove(view.viewport(), QPoint(2, 2))
    assert view.viewport().cursor().shape() == Qt.CursorShape.ArrowCursor


def _wheel(view, place, notches, modifier):
    event = QWheelEvent(
        place, view.viewport().mapToGlobal(place), QPoint(), QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton, modifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view.viewport(), event)


def test_ctrl_and_the_wheel_zoom_about_the_pointer(view):
    view.set_zoom(1.5)
    place = QPointF(500.0, 300.0)
    under = view.to_points(place)
    _wheel(view, place, 2, Qt.KeyboardModifier.ControlModifier)
    assert view.zoom == pytest.approx(1.5 * 1.25**2)
    assert (view.to_points(place) - under).manhattanLength() < 1.5
    _wheel(view, place, -1, Qt.KeyboardModifier.NoModifier)
    assert view.zoom == pytest.approx(1.5 * 1.25**2)
    assert view.to_points(place).y() > under.y()


def test_keys_zoom_and_fit(view, qtbot):
    view.setFocus()
    start = view.zoom
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.zoom == pytest.approx(start * 1.25)
    qtbot.keyClick(view, Qt.Key.Key_Minus)
    assert view.zoom == pytest.approx(start)
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert all(_in_sight(view, key) for key in _order(view))
    assert view.verticalScrollBar().maximum() == 0
    qtbot.keyClick(view, Qt.Key.Key_1)
    assert view.zoom == pytest.approx(start, rel=0.01)
    assert view.horizontalScrollBar().maximum() == 0


def test_zoom_has_its_limits(view):
    view.set_zoom(1000.0)
    assert view.zoom == 6.0
    view.set_zoom(0.0)
    assert view.zoom == 0.05


def test_what_is_fitted_stays_so_when_the_window_grows(window, view):
    view.fit_whole()
    before = view.zoom
    window.resize(700, 400)
    assert view.zoom < before
    assert all(_in_sight(view, key) for key in _order(view))


def test_the_reading_page_makes_small_print_as_large_as_the_windows_text(window, view):
    drawing = line_picture(pictures.chain(40, name="Roller table"), view.reading_page)
    view.show_drawing(drawing)
    assert view.zoom == pytest.approx(1.5, rel=0.06)
    assert 6.4 * view.scale_now() == pytest.approx(view.fontMetrics().height(), rel=0.3)


def test_another_drawing_keeps_the_present_station_and_the_zoom(view):
    view.setFocus()
    view.go_to(9)
    view.set_zoom(2.0)
    view.show_drawing(line_picture(pictures.demo()))
    assert (view.station_id, view.zoom) == (9, 2.0)
    view.show_drawing(line_picture(pictures.chain(3)))
    assert view.station_id is None


def test_who_cannot_see_it_hears_it(view, qtbot):
    interface = QAccessible.queryAccessibleInterface(view)
    assert interface.text(QAccessible.Text.Name) == view.drawing.told
    assert "A07 Dryer polishing brushes" in view.accessibleName()
    with qtbot.waitSignal(view.station_reached) as reached:
        view.go_to(7)
    assert reached.args == [7]
    assert "Blocker · 1 open" in interface.text(QAccessible.Text.Description)


def test_the_pointer_at_rest_tells_the_station(view, monkeypatch):
    told = []
    monkeypatch.setattr(QToolTip, "showText", lambda _place, text, _widget: told.append(text))
    for place in (_box(view, 2).center().toPoint(), QPoint(2, 2)):
        there = view.viewport().mapToGlobal(place)
        QApplication.sendEvent(view.viewport(), QHelpEvent(QHelpEvent.Type.ToolTip, place, there))
    assert told[0].startswith("A02 Bar elevator out of tank, Elevator, planned 13.0 ft/min")
    assert told[1] == ""


@pytest.mark.parametrize("look", LOOKS)
def test_it_is_drawn_in_the_colours_of_the_look(qapp, view, look):
    apply_look(qapp, look)
    view.setFocus()
    view.go_to(1)
    image = view.viewport().grab().toImage()
    assert image.pixelColor(1, 1) == QColor(colours().base)
    seen = {
        image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())
    }
    assert QColor(colours().text).name() in seen
    assert QColor(colours().accent).name() in seen
    apply_look(qapp, "light")


def test_the_ring_shows_only_where_the_keyboard_is(window, view):
    view.setFocus()
    view.go_to(1)
    corner = (_box(view, 1).topLeft() + QPointF(20.0, -2.0 * view.scale_now())).toPoint()
    assert view.viewport().grab().toImage().pixelColor(corner) == QColor(colours().accent)
    window.before.setFocus()
    assert view.viewport().grab().toImage().pixelColor(corner) == QColor(colours().base)


def test_a_view_without_stations_takes_every_key(qtbot):
    view = DrawingView()
    qtbot.addWidget(view)
    view.show_drawing(Drawing(100.0, 50.0, ()))
    view.show()
    for key in (Qt.Key.Key_Right, Qt.Key.Key_End, Qt.Key.Key_Return, Qt.Key.Key_Plus):
        qtbot.keyClick(view, key)
    assert view.station_id is None
