"""The looks are readable: contrast by WCAG 2.1, success criteria 1.4.3 and 1.4.11."""

import itertools

import pytest
from PySide6.QtGui import QColor, QFontMetrics
from PySide6.QtWidgets import QApplication

from app import theme
from app.theme import LOOKS, apply_look, colours


@pytest.fixture(params=list(LOOKS))
def look(request, qapp):
    before = qapp.palette(), qapp.font(), qapp.styleSheet()
    apply_look(qapp, request.param)
    yield request.param
    apply_look(qapp, "light")
    qapp.setPalette(before[0])
    qapp.setFont(before[1])
    qapp.setStyleSheet(before[2])


def luminance(name):
    """Relative luminance as WCAG 2.1 defines it."""
    parts = QColor(name).getRgbF()[:3]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_itself():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)  # WCAG 2.1: 1 to 21


def test_every_text_stands_out_from_its_ground(look):
    c = colours()
    grounds = (c.window, c.base)
    pairs = [
        *itertools.product((c.text, c.muted, c.wrong, c.accent), grounds),
        (c.computed_text, c.computed),
        (c.muted, c.computed),
        (c.on_accent, c.accent),
    ]
    least = 7.0 if look == "contrast" else 4.5
    for ink, ground in pairs:
        assert contrast(ink, ground) >= least, (ink, ground)


def test_shapes_of_states_stand_out_from_the_list(look):
    c = colours()
    for shape in (c.complete, c.started, c.muted):
        assert contrast(shape, c.base) >= 3.0, shape


def test_signal_words_are_readable():
    assert contrast("#ffffff", theme._SAFETY_RED) >= 4.5
    assert contrast("#000000", theme._SAFETY_ORANGE) >= 4.5


def test_high_contrast_has_wider_borders(look):
    assert ("2px solid" in QApplication.instance().styleSheet()) or look != "contrast"
    assert colours().border_px == (2 if look == "contrast" else 1)


def test_digits_are_all_of_one_width(look):
    metrics = QFontMetrics(QApplication.font())
    assert len({metrics.horizontalAdvance(digit) for digit in "0123456789"}) == 1


def test_an_unknown_look_is_the_light_one(qapp):
    sheet = qapp.styleSheet()
    apply_look(qapp, "no such look")
    assert colours().base == "#ffffff"
    assert colours().window == "#f3f4f6"
    qapp.setStyleSheet(sheet)
