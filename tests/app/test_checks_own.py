"""Own checks: typed in, limits in the unit of what is read, carried to the next line."""

import math

import pytest
from PySide6.QtCore import Qt

from app.checks_own import OwnChecks
from app.import_dialog import ImportDialog
from app.session import Session
from core.line import compute_line
from core.line.checks import checks_of
from core.store import LineFile
from tests.app.sample_copy import copied


@pytest.fixture
def session(qtbot, tmp_path):
    made = Session()
    made.take(LineFile.open(copied(tmp_path)))
    yield made
    made.close()


@pytest.fixture
def own(session, qtbot):
    made = OwnChecks(session)
    qtbot.addWidget(made)
    made.resize(1000, 400)
    session.changed.connect(lambda _changes: made.show_line(session.line))
    made.show_line(session.line)
    made.show()
    return made


def put(own, row, **texts):
    model = own.panel.model
    columns = {column.spec.name: at for at, column in enumerate(model.columns)}
    for name, text in texts.items():
        assert model.setData(model.index(row, columns[name]), text, Qt.ItemDataRole.EditRole)


def shown(own, row, name):
    model = own.panel.model
    columns = [column.spec.name for column in model.columns]
    return model.index(row, columns.index(name)).data()


def fill(own):
    put(own, 0, name="Belt tracks straight", stage="Coupled")
    put(own, 1, name="Brush speed", form="A reading", kind="Rotation", low="90", high="100 rpm")


def test_limits_are_typed_in_the_unit_of_what_is_read(own, session):
    fill(own)
    first, second = session.line.own_checks
    assert (first.name, first.stage, first.form) == ("Belt tracks straight", "coupled", "yes_no")
    # 90 rpm are 90 * 2 pi / 60 rad/s.
    assert second.low == pytest.approx(90 * 2 * math.pi / 60)
    assert second.high == pytest.approx(100 * 2 * math.pi / 60)
    assert shown(own, 1, "low") == "90 rpm"
    found = [i for i in checks_of(session.results) if i.rule.label == "Brush speed"]
    assert len(found) == len(session.line.stations)


def test_a_limit_of_another_kind_is_refused(own, session):
    fill(own)
    model = own.panel.model
    column = [held.spec.name for held in model.columns].index("low")
    model.setData(model.index(1, column), "3 V", Qt.ItemDataRole.EditRole)
    assert session.line.own_checks[1].low == pytest.approx(90 * 2 * math.pi / 60)


def test_own_checks_go_to_the_next_line_in_a_file(own, session, qtbot, tmp_path):
    fill(own)
    path = tmp_path / "own checks.xlsx"
    assert own.save_button.isEnabled()
    own.save(path)
    assert own.told_label.text() == "✓ 2 own checks saved in own checks.xlsx."
    kept = session.line.own_checks
    (tmp_path / "next").mkdir()
    session.take(LineFile.open(copied(tmp_path / "next", "lindenmoor")))
    own.show_line(session.line)
    before = session.line
    assert before.own_checks == ()
    assert not own.save_button.isEnabled()
    own.bring(path)
    [dialog] = own.findChildren(ImportDialog)
    qtbot.waitUntil(dialog.take_button.isEnabled)
    assert "Adds 2 own checks." in dialog.head.text()
    dialog.take_over()
    names = [(held.name, held.stage, held.kind, held.low) for held in session.line.own_checks]
    assert names == [(held.name, held.stage, held.kind, held.low) for held in kept]
    # Nothing else of the other line came along.
    assert session.line.stations == before.stations
    assert session.line.people == before.people
    session.undo()
    assert session.line.own_checks == ()


def test_the_saved_file_holds_this_one_sheet(own, session, tmp_path):
    import openpyxl

    fill(own)
    own.save(tmp_path / "own.xlsx")
    book = openpyxl.load_workbook(tmp_path / "own.xlsx", read_only=True)
    assert "Own checks" in book.sheetnames
    assert not {"Line", "Stations", "People", "Checks"} & set(book.sheetnames)


def test_removing_an_own_check_takes_it_off_every_station(own, session):
    fill(own)
    own.panel.grid.view.setCurrentIndex(own.panel.model.index(0, 0))
    own.panel.grid.view.select_block(0, 0, 1, 1)
    own.panel.remove_rows()
    assert [held.name for held in session.line.own_checks] == ["Brush speed"]
    labels = {i.rule.label for i in checks_of(compute_line(session.line))}
    assert "Belt tracks straight" not in labels
