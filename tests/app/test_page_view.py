"""The page view: what it draws, how it is turned, zoomed and kept small."""

import io

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtWidgets import QApplication
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from app.page_view import LARGEST_ZOOM, SMALLEST_ZOOM, PageView, PdfPages

RED, BLUE = QColor(255, 0, 0), QColor(0, 0, 255)


def pdf(pages=3, size=A4):
    """Pages whose left half is red and whose right half is blue."""
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=size)
    for _ in range(pages):
        canvas.setFillColorRGB(1, 0, 0)
        canvas.rect(0, 0, size[0] / 2, size[1], stroke=0, fill=1)
        canvas.setFillColorRGB(0, 0, 1)
        canvas.rect(size[0] / 2, 0, size[0] / 2, size[1], stroke=0, fill=1)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


@pytest.fixture
def view(qtbot):
    made = PageView()
    qtbot.addWidget(made)
    made.resize(600, 500)
    made.show()
    made.show_pdf(pdf())
    return made


def test_an_image_has_the_size_and_the_colours_of_the_page(qtbot):
    pages = PdfPages(pdf())
    image = pages.image(0, 72)
    # A4 is 595.28 by 841.89 points, so as many dots at 72 dots per inch.
    assert (image.width(), image.height()) == (pytest.approx(595, abs=1), pytest.approx(842, abs=1))
    assert image.pixelColor(100, 400) == RED
    assert image.pixelColor(500, 400) == BLUE
    pages.close()


def test_the_first_page_fills_the_width(view):
    assert (view.page, view.page_count) == (1, 3)
    shown = view.grab().toImage()
    ratio = view.devicePixelRatioF()
    assert shown.pixelColor(int(100 * ratio), int(250 * ratio)) == RED
    assert shown.pixelColor(int(500 * ratio), int(250 * ratio)) == BLUE
    assert view.horizontalScrollBar().maximum() == 0


def test_page_keys_turn_pages_and_stop_at_the_ends(view, qtbot):
    view.setFocus()
    for key, page in (
        (Qt.Key.Key_PageDown, 2),
        (Qt.Key.Key_PageDown, 3),
        (Qt.Key.Key_PageDown, 3),
        (Qt.Key.Key_PageUp, 2),
        (Qt.Key.Key_End, 3),
        (Qt.Key.Key_Home, 1),
        (Qt.Key.Key_PageUp, 1),
    ):
        qtbot.keyClick(view, key)
        assert view.page == page


def test_scrolling_tells_the_page(view, qtbot):
    with qtbot.waitSignal(view.page_changed) as told:
        view.verticalScrollBar().setValue(view.verticalScrollBar().maximum())
    assert told.args == [3]


def test_zoom_has_bounds_and_keeps_the_place(view):
    view.go_to(2)
    view.set_zoom(2.0)
    assert view.zoom == 2.0
    assert view.page == 2
    assert view.horizontalScrollBar().maximum() > 0
    view.set_zoom(100.0)
    assert view.zoom == LARGEST_ZOOM
    view.set_zoom(0.0)
    assert view.zoom == SMALLEST_ZOOM


def test_ctrl_and_the_wheel_zoom(view):
    before = view.zoom
    where = QPointF(100, 100)
    turn = QWheelEvent(
        where,
        view.viewport().mapToGlobal(where),
        QPoint(0, 0),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view.viewport(), turn)
    assert view.zoom == pytest.approx(before * 1.25)


def test_a_new_size_keeps_the_width_fitted(view):
    before = view.zoom
    view.resize(900, 500)
    assert view.zoom > before
    assert view.horizontalScrollBar().maximum() == 0


def test_only_a_few_images_are_kept(view, qtbot):
    view.show_pdf(pdf(pages=40))
    for page in range(1, 41):
        view.go_to(page)
        view.grab()
    assert len(view._images) <= 10


def test_only_pages_in_sight_are_drawn(view):
    view.show_pdf(pdf(pages=40))
    view.grab()
    assert {place for place, _ in view._images} == {0}


def test_nothing_to_show_is_no_page(view):
    view.show_pdf(None)
    assert (view.page, view.page_count) == (0, 0)
    view.grab()
