"""The table of the plan: its columns, its figures, and what the trial has otherwise."""

import pytest
from PySide6.QtCore import Qt

from app.speeds_table import DIFFERS, SpeedsTable
from core.line import compute_line
from core.line.turning import turned
from core.store import LineFile
from tests.app.keyboard import enter, press, show_active
from tests.app.sample_copy import copied


@pytest.fixture(scope="module")
def results(tmp_path_factory):
    return compute_line(LineFile.read(copied(tmp_path_factory.mktemp("sample"))))


@pytest.fixture
def table(qtbot, results):
    table = SpeedsTable()
    qtbot.addWidget(table)
    table.resize(1000, 400)
    table.show_plan(results.plan, "us")
    show_active(qtbot, table)
    return table


def cells(table, row):
    return [table.item(row, column).text() for column in range(table.columnCount())]


def at(results, tag):
    return next(held for held in results.stations if held.tag == tag)


def test_numbers_stand_at_the_right_and_look_computed(table):
    typed, computed = table.item(0, 1), table.item(0, 3)
    assert computed.textAlignment() & Qt.AlignmentFlag.AlignRight
    assert computed.font().italic()
    assert not typed.font().italic()
    assert computed.background() != typed.background()


def test_units_stand_in_the_headings_and_follow_the_line(table, results):
    assert table.horizontalHeaderItem(4).text() == "Planned\nft/min"
    before = float(cells(table, 1)[4])
    table.show_plan(results.plan, "metric")
    assert table.horizontalHeaderItem(4).text() == "Planned\nm/s"
    # 1 ft/min is 0.00508 m/s (NIST SP 811).
    assert float(cells(table, 1)[4]) == pytest.approx(before * 0.00508, rel=1e-3)


def test_only_what_the_trial_has_otherwise_is_marked(table, results):
    line = turned(results.line, at(results, "A07"), 0.9)
    trial = compute_line(line, results)
    table.show_plan(trial.plan, "us", results.plan)
    assert table.columnCount() == 15
    marked = {
        cells(table, row)[0]
        for row in range(table.rowCount())
        if any(text.startswith(DIFFERS) for text in cells(table, row)[10:])
    }
    assert marked == {"A07"}
    table.show_plan(results.plan, "us")
    assert table.columnCount() == 10


def test_the_chosen_cell_stays_when_the_plan_is_shown_anew(table, results):
    table.setCurrentCell(5, 6)
    reached = []
    table.station_reached.connect(reached.append)
    table.show_plan(results.plan, "us")
    assert (table.currentRow(), table.currentColumn()) == (5, 6)
    assert reached == []


def test_a_width_that_somebody_set_stays(table, results):
    table.setColumnWidth(4, 123)
    table.show_plan(results.plan, "us")
    assert table.columnWidth(4) == 123


def test_arrows_and_enter_reach_name_and_figures(table, qtbot):
    table.setFocus()
    table.setCurrentCell(0, 2)
    with qtbot.waitSignal(table.station_chosen):
        enter()
    press(Qt.Key.Key_Right)
    with qtbot.waitSignal(table.figure_asked) as asked:
        enter()
    assert asked.args[0].key == "fruit_flow_1_s"


def test_enter_on_what_is_not_known_asks_nothing(table, results):
    row = [cells(table, place)[0] for place in range(table.rowCount())].index("A07")
    table.setCurrentCell(row, 9)
    asked = []
    table.figure_asked.connect(asked.append)
    table.setFocus()
    enter()
    # A brush bed without culls or a length has no capacity; its figure says what is lacking.
    assert all(figure.value is None and (figure.lacks or figure.problem) for figure in asked)
