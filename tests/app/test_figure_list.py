"""Computed figures and how they look beside what is typed."""

import pytest
from PySide6.QtCore import Qt

from app.figure_list import FigureList, value_text, why_none
from app.working import WorkingPanel
from core.line import Figure, rules

SPEED = Figure(
    rules.SYNCHRONOUS_SPEED,
    188.49555921538757,  # 1800 rpm · 2π/60
    {"frequency_hz": 60.0, "poles": 4},
)
LACKING = Figure(rules.RATED_SLIP, None, lacks=("rated speed",))
GUESSED = Figure(rules.NOW_FREQUENCY, 30.0, assumed="hz-max at its factory value 60")


@pytest.fixture
def shown(qtbot):
    made = FigureList()
    qtbot.addWidget(made)
    made.show_figures([SPEED, LACKING, GUESSED], "us")
    made.resize(320, 200)
    made.show()
    return made


def test_a_figure_is_shown_in_the_units_of_the_line():
    assert value_text(SPEED, "us") == "1800 rpm"
    assert value_text(LACKING, "us") == "–"
    assert why_none(LACKING) == "Needs rated speed"


def test_each_row_says_what_it_is_what_it_lacks_and_what_it_rests_on(shown):
    names = [row.accessibleName().strip() for row in shown.rows]
    assert names == [
        "Synchronous speed: 1800 rpm",
        "Rated slip: – Needs rated speed",
        "Frequency as set: 30 Hz With hz-max at its factory value 60",
    ]


def test_rows_stay_and_spare_ones_hide(shown):
    first = shown.rows[0]
    shown.show_figures([LACKING], "us")
    assert shown.rows == [first]
    shown.show_figures([], "us")
    assert shown.isHidden()


@pytest.mark.parametrize("width", [140, 220, 500])
def test_a_narrow_row_is_as_high_as_its_wrapped_texts(shown, width):
    row = shown.rows[2]
    assert row.heightForWidth(width) >= row.heightForWidth(2000)
    name, below = row._places(width)
    assert below.bottom() <= row.heightForWidth(width)
    assert not name.intersects(below)


def test_a_click_asks_for_the_working(shown, qtbot):
    with qtbot.waitSignal(shown.asked) as asked:
        qtbot.mouseClick(shown.row("synchronous_speed_rad_s"), Qt.MouseButton.LeftButton)
    assert asked.args == [SPEED]


def test_the_working_names_formula_inputs_and_source(qtbot):
    panel = WorkingPanel()
    qtbot.addWidget(panel)
    panel.show_figure(SPEED, "us")
    for told in ("= 1800 rpm", "n₀ = 120·f / p", "frequency 60 Hz", "poles 4", "IEC 60034-1"):
        assert told in panel.text
    panel.show_figure(LACKING, "us")
    assert "Not computed: Needs rated speed" in panel.text
    panel.show_figure(GUESSED, "us")
    assert "Assumed: hz-max at its factory value 60" in panel.text


def test_words_stand_among_the_inputs_of_a_working(qtbot):
    panel = WorkingPanel()
    qtbot.addWidget(panel)
    given = {"ambient_k": 303.15, "insulation": "PVC", "method": "B2"}
    panel.show_figure(Figure(rules.SYNCHRONOUS_SPEED, 1.0, given), "metric")
    assert "Given: ambient 30 °C, insulation PVC, method B2" in panel.text


def test_typed_words_in_a_working_are_text_and_no_marking(qtbot):
    panel = WorkingPanel()
    qtbot.addWidget(panel)
    panel.show_figure(Figure(rules.NOW_FREQUENCY, 1.0, assumed="<img src=x> & co"), "us")
    assert "&lt;img src=x&gt; &amp; co" in panel.text
