"""Findings stand beside the station, lead to their field, and can be accepted with a reason."""

from importlib.resources import files

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from app.finding_cards import LevelMark
from app.session import Session
from app.stations_page import StationsPage
from core.line.findings.base import LEVEL_MEANINGS, LEVEL_WORDS
from core.store import LineFile, actions


@pytest.fixture
def page(qtbot, tmp_path):
    path = tmp_path / "sample.linebook"
    path.write_bytes(files("sample_projects").joinpath("quillback_hollow.linebook").read_bytes())
    session = Session()
    session.take(LineFile.open(path))
    page = StationsPage(session)
    qtbot.addWidget(page)
    page.resize(1300, 700)
    page.show()
    yield page
    session.close()


def choose(page, tag):
    station = page.session.line.station_tagged(tag)
    page.choose(station.id)
    return station


def test_a_station_without_findings_has_no_card(page):
    choose(page, "A02")
    assert page.remarks.cards == []


class ShownWindows(QObject):
    """Notes every widget that is shown as a window of its own."""

    def __init__(self):
        super().__init__()
        self.names = []

    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.names.append(type(watched).__name__)
        return False


def test_cards_never_flash_up_as_windows_of_their_own(page):
    station = choose(page, "A02")
    shown = ShownWindows()
    QApplication.instance().installEventFilter(shown)
    page.session.do(actions.set_settings, {station.id: {"ref-range": "1"}})
    QApplication.instance().removeEventFilter(shown)
    assert page.remarks.cards, "the setting makes a finding"
    assert shown.names == []


def test_a_setting_that_makes_a_fault_brings_its_card_at_once(page):
    station = choose(page, "A02")
    page.session.do(actions.set_settings, {station.id: {"ref-range": "1"}})
    keys = [card.finding.key for card in page.remarks.cards]
    assert "reference-creeps" in keys
    # 4 mA of 0-20 mA is a fifth of 60 Hz, held up by the minimum of 15 Hz.
    (card,) = [card for card in page.remarks.cards if card.finding.key == "reference-creeps"]
    assert "4-20 mA" in card.text.text()
    assert "20 %" in card.text.text()
    page.session.undo()
    assert page.remarks.cards == []


def test_a_card_names_its_level_in_the_words_of_the_rules(page):
    choose(page, "A04")
    (card,) = page.remarks.cards
    shown = {label.text(): label.toolTip() for label in card.findChildren(QLabel)}
    assert shown[LEVEL_WORDS[card.finding.level]] == LEVEL_MEANINGS[card.finding.level]
    assert card.findChild(LevelMark).accessibleName() == LEVEL_WORDS[card.finding.level]


def test_go_to_the_field_puts_the_focus_there(page, qtbot):
    station = choose(page, "A04")
    (card,) = page.remarks.cards
    assert card.finding.key == "driven-part-too-fast"
    card.go_button.click()
    editor = page.station_page.forms["drivetrain"]
    qtbot.waitUntil(lambda: editor.isAncestorOf(page.focusWidget()))
    assert page.station_id == station.id


def test_accepting_takes_a_name_and_a_reason_and_stays_visible(page):
    choose(page, "A04")
    (card,) = page.remarks.cards
    refused = []
    page.session.refused.connect(refused.append)
    card.accept_button.click()
    card.take_button.click()
    assert len(refused) == 1
    card.person.setText("R. Vale")
    card.reason.setText("Knob has a stop at 55 Hz")
    card.take_button.click()
    (again,) = page.remarks.cards
    assert again.finding.mark in page.session.findings.accepted
    assert page.session.findings.at(page.station_id)[0] not in page.session.findings.open


def test_an_accepted_finding_returns_when_its_figures_change(page):
    station = choose(page, "A04")
    (card,) = page.remarks.cards
    page._accept(card.finding, "R. Vale", "knob stop", "2026-11-25")
    page.session.do(actions.set_settings, {station.id: {"hz-max": "59.00"}})
    found = page.session.findings.at(station.id)
    assert any(entry in page.session.findings.open for entry in found)


def test_the_best_drive_type_is_taken_with_one_key(page, qtbot):
    from PySide6.QtCore import Qt

    station = choose(page, "A02")
    page.ask_drive_choice()
    first = page.drive_choice.choices.item(0)
    assert "240 V 1-phase 1/2 hp" in first.text()
    assert "✓ fits" in first.text()
    page.session.do(actions.set_fields, "drive", station.drive.id, drive_type_id=None)
    page.ask_drive_choice()
    qtbot.keyClick(page.drive_choice.choices, Qt.Key.Key_Return)
    held = page.session.line.station(station.id).drive.drive_type_id
    assert page.session.line.drive_type(held).name == "240 V 1-phase 1/2 hp"
