"""Present settings become an as-found record: from a table, from a walk; nothing goes missing."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.present_model import HEADINGS, PresentModel, rows_of
from app.visits_page import VisitsPage
from core.readback import start_walk
from core.records import line_of
from core.records.comparing import compare
from core.store import actions
from tests.app.keyboard import CTRL, enter, focused, press, show_active, tab, type_text
from tests.app.present_book import SETTINGS, commission, open_session, open_view, texts

TABLE = (
    "Remark;Value;Code;Station\n"
    ";50,5 Hz;hz-max;A01\n"
    "seen;Input;ref-from;A01\n"
    ";fast;ramp-up;A01\n"
    ";60;hz-max;A02\n"
    ";60;hz-max;Z9\n"
)


@pytest.fixture
def session(tmp_path, qtbot):
    made = open_session(tmp_path / "line.linebook")
    yield made
    made.close()


@pytest.fixture
def view(session, qtbot):
    return open_view(session, qtbot)


@pytest.fixture
def table(tmp_path):
    path = tmp_path / "present.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def read(view, path, qtbot):
    view.show_way("table")
    view.table.look_at(path)
    qtbot.waitUntil(lambda: view.table._job is None or not view.table.progress.isVisible())


def freeze(view, person="R. Vale", reason="Yearly visit"):
    view.freeze.person.setFocus()
    type_text(person)
    tab()
    type_text(reason)
    enter()


def test_the_model_is_sound(session, qtmodeltester):
    model = PresentModel()
    line = session.line
    model.show_rows(rows_of(line, line, start_walk(line).enter("").result(), ()))
    qtmodeltester.check(model)


def test_before_anything_is_read_nothing_can_be_frozen(view):
    assert view.result.head.text() == "Nothing was read yet."
    assert not view.freeze.freeze_button.isEnabled()


def test_a_table_tells_every_setting_and_names_every_cell_it_did_not_take(view, table, qtbot):
    read(view, table, qtbot)
    assert view.result.head.text() == "Found in present.csv"
    # Three are read; 'fast' is refused; the other fourteen have no row.
    assert view.result.counts.text() == "≠ 2 differ · ✓ 1 read · ○ 14 not read · ✗ 1 refused"
    assert view.result.model.rowCount() == SETTINGS
    told = view.table.faults.toPlainText().splitlines()
    assert len(told) == 2
    assert any("row 4, column Value" in line and "fast" in line for line in told)
    assert any("row 6, column Station" in line and "Z9" in line for line in told)
    assert texts(view, "Found")[:4] == ["50,5 Hz", "", "fast", "1"]
    assert texts(view, "Commissioned")[:2] == ["60 Hz", ""]
    assert texts(view, "Meaning")[0] == "Maximum frequency"
    assert "row 4" in texts(view, "Reason")[2]


def test_a_table_that_is_none_is_told_and_what_an_earlier_one_told_stays(
    view, table, tmp_path, qtbot
):
    read(view, table, qtbot)
    other = tmp_path / "other.csv"
    other.write_text("a;b\n1;2\n", encoding="utf-8")
    read(view, other, qtbot)
    assert "Refused: other.csv was not read" in view.table.head.text()
    assert view.result.head.text() == "Found in present.csv"


def test_rows_are_filtered_by_state_and_by_words(view, table, qtbot):
    read(view, table, qtbot)
    view.result.chosen.setFocus()
    press(Qt.Key.Key_End)
    assert view.result.chosen.currentText() == "✗ refused (1)"
    assert texts(view, "Code") == ["ramp-up"]
    press(Qt.Key.Key_Home)
    view.result.finder.setFocus()
    type_text("a02 hz")
    assert set(texts(view, "Station")) == {"A02"}
    assert texts(view, "Code") == ["hz-max", "hz-min", "jog-hz"]


def test_chosen_rows_are_copied_with_headings(view, table, qtbot):
    read(view, table, qtbot)
    view.result.table.selectRow(0)
    view.result.copy()
    head, row, _ = QGuiApplication.clipboard().text().split("\r\n")
    assert head.split("\t") == list(HEADINGS)
    assert row.split("\t")[:2] == ["A01", "hz-max"]


def test_what_was_found_is_frozen_whole(view, session, table, qtbot):
    read(view, table, qtbot)
    made = []
    view.frozen.connect(made.append)
    freeze(view)
    [record] = made
    assert record in session.book.frozen()
    assert (record.name, record.person, record.reason, record.is_sound) == (
        "As found, revision 1", "R. Vale", "Yearly visit", True,
    )  # fmt: skip
    found = line_of(record.content)
    before = line_of(session.book.frozen()[0].content)
    difference = compare(before, found)
    changed = {(c.tag, c.field) for c in difference.changes if c.sort != "not_read"}
    unread = {(c.tag, c.field) for c in difference.not_read}
    # hz-max 60 -> 50,5, ref-from factory 0 -> 1, ramp-up found as a word; all else was not read.
    assert changed == {("A01", "hz-max"), ("A01", "ref-from"), ("A01", "ramp-up")}
    assert len(unread) == 14
    assert "3 settings read, 1 refused, 14 not read" in view.freeze.told.text()
    assert focused() is view.freeze.compare_button


@pytest.mark.parametrize(("person", "reason", "missing"), [("", "x", "by"), ("R.", " ", "visit")])
def test_nothing_is_frozen_without_person_and_reason(
    view, session, table, qtbot, person, reason, missing
):
    read(view, table, qtbot)
    freeze(view, person, reason)
    assert len(session.book.frozen()) == 1
    assert missing in view.freeze.told.text()


def test_the_record_says_beforehand_what_it_will_not_know(view, table, qtbot):
    read(view, table, qtbot)
    assert "14 settings" in view.freeze.told.text()


def test_the_same_reading_stays_frozen_when_one_comes_back_to_it(view, table, qtbot):
    read(view, table, qtbot)
    freeze(view)
    view.hide()
    view.show()
    assert "As found, revision 1 is frozen" in view.freeze.told.text()
    assert view.freeze.compare_button.isVisible()


def test_comparison_is_asked_for_with_both_sides(view, table, qtbot):
    read(view, table, qtbot)
    freeze(view)
    with qtbot.waitSignal(view.compare_asked) as asked:
        press(Qt.Key.Key_Space)
    assert asked.args == ["as_commissioned:1", "as_found:1"]


def test_without_a_record_the_line_as_it_is_is_compared_with(tmp_path, table, qtbot):
    session = open_session(tmp_path / "bare.linebook", with_record=False)
    view = open_view(session, qtbot)
    read(view, table, qtbot)
    freeze(view)
    assert view.freeze.compare_button.text() == "Co&mpare with the line as it is"
    with qtbot.waitSignal(view.compare_asked) as asked:
        press(Qt.Key.Key_Space)
    assert asked.args == ["now", "as_found:1"]
    session.close()


def test_an_altered_record_is_passed_over_and_told(view, session):
    import sqlalchemy as sa

    commission(session.book, "R. Brook")
    with session.book._engine.begin() as conn:
        conn.execute(sa.text("UPDATE frozen_record SET content = '{}' WHERE revision = 2"))
    view.hide()
    view.show()
    words = view.walk.front.words.text()
    assert "As commissioned, revision 1" in words
    assert "revision 2 does not verify and is not used" in words


def test_what_a_table_left_open_is_read_at_the_keypads(view, table, qtbot):
    read(view, table, qtbot)
    view.result.rest_button.setFocus()
    press(Qt.Key.Key_Space)
    step = view.walk.walk.step
    assert (view.chosen, step.tag, step.code) == ("walk", "A01", "hz-min")
    assert focused() is view.walk.step.field
    # What the table told is part of the walk; its refused cell is looked at again.
    assert view.result.counts.text() == "≠ 2 differ · ✓ 1 read · ○ 15 not read · ✗ 0 refused"
    assert not view.result.rest_button.isVisible()


def test_a_change_after_the_reading_leaves_no_setting_out(view, session, table, qtbot):
    read(view, table, qtbot)
    session.do(actions.add_record, "listed_setting", session.line.drive_types[0].id, code="new")
    assert view.result.model.rowCount() == SETTINGS + 2  # at A01 and A03
    assert "16 not read" in view.result.counts.text()
    session.do(actions.remove_station, session.line.stations[0].id)
    assert "A01" not in texts(view, "Station")


def test_a_trial_has_no_drives_to_read(view, session, table, qtbot):
    read(view, table, qtbot)
    session.begin_trial()
    assert not view._room.isEnabled()
    assert "a trial on a copy" in view.aside.text()
    assert view.aside.isVisible()
    session.end_trial()
    assert view._room.isEnabled()
    assert not view.aside.isVisible()
    assert view.result.head.text() == "Found in present.csv"


def test_another_file_forgets_what_was_read(view, session, table, tmp_path, qtbot):
    read(view, table, qtbot)
    from tests.app.made_line import make_book

    session.take(make_book(tmp_path / "other.linebook", stations=2))
    assert view.result.head.text() == "Nothing was read yet."
    assert "9 settings at 2 stations" in view.walk.front.words.text()
    session.close()
    assert view.result.head.text() == "Nothing was read yet."


def test_where_there_is_room_for_one_they_stand_one_at_a_time(session, table, qtbot):
    view = open_view(session, qtbot, (683, 286))
    read(view, table, qtbot)
    assert view.buttons["found"].isVisible()
    assert not view.result.isVisible()
    press(Qt.Key.Key_4, CTRL)
    qtbot.waitUntil(view.result.isVisible)  # a button's shortcut clicks it a moment later
    assert not view.table.isVisible()
    view.resize(1366, 670)
    qtbot.waitUntil(lambda: view.table.isVisible() and view.result.isVisible())
    assert not view.buttons["found"].isVisible()
    press(Qt.Key.Key_3, CTRL)
    qtbot.waitUntil(view.bus.isVisible)


def test_the_page_takes_the_new_record_among_the_others_and_goes_to_compare(
    session, table, qtbot, monkeypatch
):
    page = VisitsPage(session)
    qtbot.addWidget(page)
    page.resize(1366, 670)
    show_active(qtbot, page)
    page.show_view("present")
    view = page.view("present")
    records = page.view("records")
    shown, sides = [], []
    monkeypatch.setattr(records, "show_line", lambda: shown.append(True))
    monkeypatch.setattr(
        page.view("compare"), "show_sides", lambda *names: sides.append(names), raising=False
    )
    read(view, table, qtbot)
    freeze(view)
    assert shown
    press(Qt.Key.Key_Space)
    assert page.chosen == "compare"
    assert sides == [("as_commissioned:1", "as_found:1")]
