"""Findings about the plan as cards; in a trial, what it changes against the file."""

import pytest

from app.speeds_findings import PlanFindings, TrialTable, of_plan
from core.line import compute_line
from core.line.findings import find
from core.line.turning import turned
from core.records.comparing import compare
from core.records.consequences import consequences
from core.store import LineFile
from tests.app.keyboard import enter, show_active
from tests.app.sample_copy import copied


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    return compute_line(LineFile.read(copied(tmp_path_factory.mktemp("sample"))))


@pytest.fixture(scope="module")
def trial(file):
    dryer = next(held for held in file.stations if held.tag == "A07")
    return compute_line(turned(file.line, dryer, 0.95), file)


def test_only_findings_about_the_plan_are_shown(qtbot, trial):
    cards = PlanFindings()
    qtbot.addWidget(cards)
    found = find(trial)
    cards.show_findings(found, "us")
    keys = [card.finding.key for card in cards.cards]
    assert keys == [entry.key for entry in of_plan(found)]
    assert "speed-not-as-wanted" in keys
    assert len(keys) < len(found.found)


def test_the_same_findings_keep_their_cards(qtbot, file, trial):
    cards = PlanFindings()
    qtbot.addWidget(cards)
    cards.show_findings(find(trial), "us")
    before = list(cards.cards)
    cards.show_findings(find(trial), "us")
    assert cards.cards == before
    cards.show_findings(find(trial), "metric")
    assert not set(cards.cards) & set(before)
    cards.show_findings(find(file), "us")
    assert len(cards.cards) < len(before)


def test_a_card_leads_to_its_field_and_can_be_accepted(qtbot, trial):
    cards = PlanFindings()
    qtbot.addWidget(cards)
    cards.show_findings(find(trial), "us")
    card = cards.cards[0]
    with qtbot.waitSignal(cards.asked) as asked:
        card.go_button.click()
    assert asked.args == [card.finding]
    card.person.setText("E. Example")
    card.reason.setText("Tried out")
    with qtbot.waitSignal(cards.accepted) as accepted:
        card.take_button.click()
    assert accepted.args[1:3] == ["E. Example", "Tried out"]


@pytest.fixture
def table(qtbot):
    table = TrialTable()
    qtbot.addWidget(table)
    table.resize(800, 300)
    return table


def rows(table):
    return [
        tuple(table.item(row, column).text() for column in range(3))
        for row in range(table.rowCount())
    ]


def test_changes_come_first_then_what_follows_then_findings(table, file, trial):
    table.show_consequences(consequences(compare(file.line, trial.line), file, trial), "us")
    told = rows(table)
    assert {tag for tag, _, _ in told} == {"A07"}
    kinds = list(dict.fromkeys(kind for _, kind, _ in told))
    assert kinds == ["≠ changed", "→ follows", "✗ now says"]
    assert any("was 48.4 Hz" in text for _, _, text in told)
    assert any(text.startswith("Fault: The reference as set now") for _, _, text in told)


def test_what_is_mended_is_told_too(table, file, trial):
    table.show_consequences(consequences(compare(trial.line, file.line), trial, file), "us")
    assert "✓ no longer" in [kind for _, kind, _ in rows(table)]


def test_enter_leads_to_the_station(table, file, trial, qtbot):
    table.show_consequences(consequences(compare(file.line, trial.line), file, trial), "us")
    show_active(qtbot, table)
    table.setFocus()
    table.setCurrentCell(1, 2)
    with qtbot.waitSignal(table.station_chosen) as chosen:
        enter()
    assert chosen.args == ["A07"]


def test_nothing_changed_is_an_empty_table(table, file):
    table.show_consequences(consequences(compare(file.line, file.line), file, file), "us")
    assert table.rowCount() == 0
