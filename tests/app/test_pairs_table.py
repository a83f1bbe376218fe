"""The table of the pairs: verdict in words, what makes it unsure, what would hold it."""

import dataclasses

import pytest

from app.pairs_table import PairsTable
from core.line import compute_line
from core.line.turning import turned
from core.store import LineFile
from tests.app.keyboard import enter, show_active
from tests.app.sample_copy import copied


@pytest.fixture(scope="module")
def line(tmp_path_factory):
    return LineFile.read(copied(tmp_path_factory.mktemp("sample")))


@pytest.fixture
def table(qtbot):
    table = PairsTable()
    qtbot.addWidget(table)
    table.resize(1000, 300)
    return table


def cells(table, row):
    return [table.table.item(row, at).text() for at in range(table.table.columnCount())]


def narrowed(line, **values):
    pairs = (line.pairs[0], dataclasses.replace(line.pairs[1], **values), *line.pairs[2:])
    return dataclasses.replace(line, pairs=pairs)


def test_wanted_planned_and_now_stand_side_by_side(table, line):
    table.show_pairs(compute_line(line).plan.pairs)
    # NOTES.md: singulator belts 7.5 % apart, within 3 %.
    assert cells(table, 1)[:5] == ["Singulator belts", "A10", "A11", "7.50", "3.00"]
    assert float(cells(table, 1)[5]) == pytest.approx(7.5, abs=0.01)
    assert cells(table, 1)[9] == "✓ holds"


def test_one_that_is_set_elsewhere_now_says_so(table, line):
    results = compute_line(line)
    left = next(held for held in results.stations if held.tag == "A10")
    moved = compute_line(turned(line, left, 0.95), results)
    table.show_pairs(moved.plan.pairs, results.plan.pairs)
    held = cells(table, 1)
    assert held[9] == "✓ holds; ✗ now set outside"
    assert held[10].startswith("≠")
    assert held[11] == "≠ ✓ holds"
    assert cells(table, 0)[10] == cells(table, 0)[7]


def test_one_that_cannot_hold_tells_its_budget_and_what_would(table, line):
    table.show_pairs(compute_line(narrowed(line, tolerance=0.004)).plan.pairs)
    table.table.setCurrentCell(1, 0)
    assert cells(table, 1)[9] == "✗ cannot hold it"
    told = table.detail.text()
    assert "slip" in told
    assert "→ Hertz over a bus or at the keypad: ±" in told


def test_one_without_a_band_is_not_judged(table, line):
    table.show_pairs(compute_line(narrowed(line, tolerance=None)).plan.pairs)
    assert cells(table, 1)[8:10] == ["–", "◇ no band entered"]


def test_without_pairs_it_says_where_they_are_entered(table):
    table.show_pairs(())
    assert "page Line" in table.detail.text()


def test_enter_asks_for_the_pair(table, line, qtbot):
    table.show_pairs(compute_line(line).plan.pairs)
    show_active(qtbot, table)
    table.table.setFocus()
    table.table.setCurrentCell(2, 0)
    with qtbot.waitSignal(table.pair_chosen) as asked:
        enter()
    assert asked.args == [line.pairs[2].id]
