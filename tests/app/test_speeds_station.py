"""The chosen station in the plan: wanted values, in the recipe too, and figures with workings."""

import pytest
from PySide6.QtCore import Qt

from app.session import Session
from app.speeds_station import StationPlan
from core.store import LineFile
from tests.app.keyboard import enter, replace_with, show_active
from tests.app.sample_copy import copied


@pytest.fixture
def session(qtbot, tmp_path):
    made = Session()
    made.take(LineFile.open(copied(tmp_path, "lindenmoor")))
    yield made
    made.close()


@pytest.fixture
def panel(session, qtbot):
    panel = StationPlan(session)
    qtbot.addWidget(panel)
    panel.resize(420, 900)

    def show():
        plan = session.results.plan
        station = session.line.station_tagged("B10")
        panel.show_entry(plan.entries[station.id], plan.recipe)

    session.changed.connect(lambda _changes: show())
    show()
    show_active(qtbot, panel)
    return panel


def test_wanted_values_are_edited_as_one_step(panel, session):
    before = session.line.station_tagged("B10").wanted_turns
    assert panel.form.shown_fields() == ("wanted", "wanted_turns")
    panel.form.focus_field("wanted_turns")
    replace_with("1.1")
    enter()
    assert session.line.station_tagged("B10").wanted_turns == pytest.approx(1.1)
    session.undo()
    assert session.line.station_tagged("B10").wanted_turns == before


def test_another_basis_brings_its_own_values(panel, session):
    editor = panel.form.editor("wanted")
    editor.input.setCurrentText("Frequency")
    editor.commit()
    assert panel.form.shown_fields() == ("wanted", "wanted_hz")
    assert session.line.station_tagged("B10").wanted == "frequency"


def test_a_speed_of_its_own_in_the_recipe_begins_as_on_the_line(panel, session, qtbot):
    other = session.line.recipes[1]
    assert panel.own is None
    assert panel.own_button.text() == "Want another speed with Plums"
    qtbot.mouseClick(panel.own_button, Qt.MouseButton.LeftButton)
    station = session.line.station_tagged("B10")
    [own] = session.line.recipes[0].speeds
    assert (own.station_id, own.wanted, own.wanted_turns) == (
        station.id,
        station.wanted,
        station.wanted_turns,
    )
    panel.own_form.focus_field("wanted_turns")
    replace_with("1.2")
    enter()
    assert session.line.recipes[0].speeds[0].wanted_turns == pytest.approx(1.2)
    assert session.line.station_tagged("B10").wanted_turns == station.wanted_turns
    assert session.line.recipes[1] is other
    panel.own_button.click()
    assert session.line.recipes[0].speeds == ()
    assert not panel.own_form.isVisible()


def test_figures_of_plan_and_present_open_their_working(panel, qtbot):
    # demo_b.csv: B10 at 41.6 Hz.
    figure = panel.figure("Planned", "frequency_wanted_hz")
    assert figure.value == pytest.approx(41.6, abs=0.05)
    assert panel.figure("Now", "frequency_now_hz").value == pytest.approx(41.6, abs=0.05)
    with qtbot.waitSignal(panel.figure_asked) as asked:
        panel.lists["Planned"].row("frequency_wanted_hz").click()
    assert asked.args == [figure]


def test_no_figure_stands_twice_in_a_list(panel):
    for figures in panel.lists.values():
        keys = [row.figure.key for row in figures.rows]
        assert len(keys) == len(set(keys))


def test_without_a_station_it_says_how_to_choose_one(panel):
    panel.show_entry(None, None)
    assert "Choose a station" in panel.head.text()
    assert not panel.form.isVisible()
    assert not panel.own_button.isVisible()
    assert panel.figure("Now", "frequency_now_hz") is None


def test_without_a_recipe_there_is_no_speed_of_its_own(panel, session):
    station = session.line.station_tagged("B10")
    panel.show_entry(session.results.plan.entries[station.id], None)
    assert not panel.own_button.isVisible()
    assert panel.form.isVisible()
