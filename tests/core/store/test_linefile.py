"""One open line file: made, opened, copied, closed; its steps, its undo, its history."""

import contextlib
import datetime
import json
import shutil
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError

from core.errors import InputError, LineFileError
from core.model import Line
from core.store import Changes, LineFile, Step
from core.store.actions import add_station, remove_station, set_fields
from tests.core.store.guards import ask, folder_bytes, rows_of


def copied_line(book: LineFile) -> Line:
    """What a whole copy of an open file holds, read anew."""
    copy = book.path.with_name("reread.linebook")
    copy.unlink(missing_ok=True)
    book.save_copy(copy)
    line = LineFile.read(copy)
    copy.unlink()
    return line


# --- made and opened -------------------------------------------------------------------------


def test_new_file_holds_what_was_said(tmp_path: Path) -> None:
    path = tmp_path / "new.linebook"
    with LineFile.create(path, name="Shed", unit_system="us", paper="letter") as book:
        assert (book.line.name, book.line.unit_system, book.line.paper) == ("Shed", "us", "letter")
        assert (book.undo_name, book.redo_name) == (None, None)
        assert book.line.stations == ()
    assert LineFile.read(path).name == "Shed"
    assert sorted(folder_bytes(tmp_path)) == ["new.linebook"]


def test_history_tells_who_made_the_file_and_when(tmp_path: Path) -> None:
    with LineFile.create(tmp_path / "new.linebook", name="Shed") as book:
        (row,) = book.history()
    assert (row.step, row.table, row.place, row.old) == ("Make the file", "line", "line", None)
    assert json.loads(row.new or "")["name"] == "Shed"


@pytest.mark.parametrize(
    "name", ["a b.linebook", "50 % #1?.linebook", "Łódź ½.linebook", "it's.linebook", "file:x?a=b"]
)
def test_any_name_will_do(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    with LineFile.create(path) as book:
        set_fields(book, "line", 1, name="Shed")
        book.save_copy(tmp_path / f"copy of {name}")
    assert LineFile.read(path).name == LineFile.read(tmp_path / f"copy of {name}").name == "Shed"
    assert sorted(folder_bytes(tmp_path)) == sorted([name, f"copy of {name}"])


def test_relative_path_is_taken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with LineFile.create(Path("here.linebook"), name="Shed") as book:
        book.save_copy(Path("copy.linebook"))
    assert LineFile.read(Path("copy.linebook")).name == "Shed"


def test_present_file_is_not_made_again(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(LineFileError, match="already"):
        LineFile.create(path)
    assert path.read_bytes() == before


def test_file_in_a_missing_folder_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(LineFileError, match="no folder"):
        LineFile.create(tmp_path / "nowhere" / "a.linebook")


def test_refused_value_makes_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="Units was not taken"):
        LineFile.create(tmp_path / "a.linebook", unit_system="imperial")
    assert list(tmp_path.iterdir()) == []


def test_closed_file_takes_and_gives_nothing_more(path: Path) -> None:
    book = LineFile.open(path)
    book.close()
    book.close()
    with pytest.raises(RuntimeError, match="closed"), book.step("Late"):
        raise AssertionError("a step began on a closed file")
    with pytest.raises(RuntimeError, match="closed"):
        book.history()
    LineFile.open(path).close()


def test_open_and_close_change_no_byte(filled: Path) -> None:
    before = folder_bytes(filled.parent)
    LineFile.open(filled).close()
    LineFile.read(filled)
    assert folder_bytes(filled.parent) == before


def test_opening_again_gives_the_same_line(filled: Path) -> None:
    with LineFile.open(filled) as book:
        line = book.line
    assert LineFile.read(filled) == line


def half_written(path: Path) -> None:
    """Leave what a program leaves that is killed in the middle of a commit."""
    spare = path.with_name("spare")
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("PRAGMA cache_size=2")
        raw.execute("BEGIN IMMEDIATE")
        raw.execute("UPDATE line SET name = 'half done'")
        raw.execute("CREATE TABLE filler AS SELECT zeroblob(200000) AS a")
        shutil.copy(path, spare)
        shutil.copy(path.with_name(path.name + "-journal"), spare.with_name("spare-journal"))
    spare.replace(path)
    spare.with_name("spare-journal").replace(path.with_name(path.name + "-journal"))
    content = bytearray(path.read_bytes())
    content[28:32] = (len(content) // 4096 + 9).to_bytes(4, "big")  # page 1 told of more to come
    path.write_bytes(content)


def test_commit_that_was_cut_off_is_taken_back_on_opening(path: Path) -> None:
    half_written(path)
    with LineFile.open(path) as book:
        assert book.line.name == "Shed line"
    assert "filler" not in rows_of(path)
    assert sorted(folder_bytes(path.parent)) == [path.name]


def test_commit_that_was_cut_off_is_taken_back_on_reading(path: Path) -> None:
    half_written(path)
    assert LineFile.read(path).name == "Shed line"


def test_spent_journal_of_a_killed_program_is_taken_away(path: Path) -> None:
    journal = path.with_name(path.name + "-journal")
    journal.write_bytes(bytes(512) + b"spent" * 100)
    before = folder_bytes(path.parent)
    LineFile.read(path)
    assert folder_bytes(path.parent) == before
    LineFile.open(path).close()
    assert sorted(folder_bytes(path.parent)) == [path.name]


def test_plain_copy_by_another_program_holds_every_stored_step(path: Path) -> None:
    """The lone file is whole between steps: nothing waits in a file beside it."""
    with LineFile.open(path) as book:
        for number in range(20):
            set_fields(book, "line", 1, site=f"Site {number}")
            add_station(book)
        line = book.line
        copy = path.with_name("copy.linebook")
        shutil.copy(path, copy)
    assert LineFile.read(copy) == line


# --- steps -----------------------------------------------------------------------------------


def test_step_is_one_entry_one_telling_one_transaction(book: LineFile) -> None:
    told: list[Changes] = []
    book.listeners.append(told.append)
    with book.step("Set up") as step:
        first = step.add("station", tag="ST01")
        step.add("station", tag="ST02")
        step.set("line", book.line.id, site="North")
    assert book.undo_name == "Set up"
    assert [changes.step for changes in told] == ["Set up"]
    assert told[0].tables >= {"station", "drive", "line"}
    assert told[0].station_ids == {first, first + 1}
    book.undo()
    assert book.undo_name is None
    assert (book.line.stations, book.line.site) == ((), "")


def test_step_without_a_change_leaves_no_trace(book: LineFile) -> None:
    set_fields(book, "line", 1, site="North")
    before, history = book.line, book.history()
    told: list[Changes] = []
    book.listeners.append(told.append)
    book.undo()
    book.redo()
    told.clear()
    set_fields(book, "line", 1, site="North")
    with book.step("Nothing"):
        pass
    assert told == []
    assert book.undo_name == "Set site"
    assert book.line == before
    assert len(book.history()) == len(history) + 2


def spoil(step: Step, error: BaseException) -> None:
    step.set("line", 1, name="Spoilt")
    step.remove("motor", 1)
    step.add("station", tag="NEW")
    raise error


@pytest.mark.parametrize(
    "error", [InputError("No.", "", ""), ValueError("own"), KeyboardInterrupt()]
)
def test_error_inside_a_step_changes_nothing(error: BaseException, full_book: LineFile) -> None:
    set_fields(full_book, "line", 1, site="North")
    full_book.undo()
    before, history = full_book.line, full_book.history()
    told: list[Changes] = []
    full_book.listeners.append(told.append)
    with pytest.raises(type(error)), full_book.step("Spoilt") as step:
        spoil(step, error)
    assert full_book.line is before
    assert copied_line(full_book) == before
    assert full_book.history() == history
    assert (full_book.undo_name, full_book.redo_name) == (None, "Set site")
    assert told == []
    full_book.redo()
    assert full_book.line.site == "North"


def test_refused_value_changes_nothing(book: LineFile) -> None:
    before = book.line
    with pytest.raises(InputError, match="Site was not taken"):
        set_fields(book, "line", 1, name="New", site="x" * 201)
    assert copied_line(book) == book.line == before


def test_fault_of_the_program_in_a_step_is_no_user_error(book: LineFile) -> None:
    add_station(book)
    before = book.line
    with pytest.raises(IntegrityError), book.step("Second drive") as step:
        step.add("drive", 1)
    assert book.line is before


def test_step_inside_a_step_is_refused(book: LineFile) -> None:
    before = book.line
    with pytest.raises(RuntimeError, match="inside another step"), book.step("Outer"):
        set_fields(book, "line", 1, name="Inner")
    assert book.line is before
    set_fields(book, "line", 1, name="After")
    assert book.line.name == "After"


def test_listener_sees_the_new_line_and_the_new_names(book: LineFile) -> None:
    seen: list[tuple[str, str | None, str | None]] = []
    book.listeners.append(lambda _: seen.append((book.line.site, book.undo_name, book.redo_name)))
    set_fields(book, "line", 1, site="North")
    book.undo()
    book.redo()
    assert seen == [
        ("North", "Set site", None),
        ("", None, "Set site"),
        ("North", "Set site", None),
    ]


def test_listener_may_make_a_step_of_its_own(book: LineFile) -> None:
    def follow(changes: Changes) -> None:
        if changes.step == "Set site":
            set_fields(book, "line", 1, owner="Followed")

    book.listeners.append(follow)
    set_fields(book, "line", 1, site="North")
    assert book.undo_name == "Set owner"
    assert (book.line.site, book.line.owner) == ("North", "Followed")


def test_unbroken_undo_after_a_listener_failed(book: LineFile) -> None:
    set_fields(book, "line", 1, site="North")

    def fail(_: Changes) -> None:
        raise ZeroDivisionError

    book.listeners.append(fail)
    with pytest.raises(ZeroDivisionError):
        book.undo()
    book.listeners.clear()
    assert (book.line.site, book.undo_name, book.redo_name) == ("", None, "Set site")


# --- undo and history ------------------------------------------------------------------------


def test_undo_and_redo_of_nothing_do_nothing(book: LineFile) -> None:
    before = book.line
    book.undo()
    book.redo()
    assert book.line is before


def test_new_step_ends_what_could_be_redone(book: LineFile) -> None:
    set_fields(book, "line", 1, site="North")
    book.undo()
    set_fields(book, "line", 1, site="South")
    assert book.redo_name is None
    book.redo()
    assert book.line.site == "South"


def test_ids_are_the_same_after_undo_and_redo_and_never_given_twice(book: LineFile) -> None:
    first = add_station(book)
    drive = book.line.station(first).drive.id
    book.undo()
    book.redo()
    assert (book.line.stations[0].id, book.line.stations[0].drive.id) == (first, drive)
    book.undo()
    assert add_station(book) > first


def test_undo_brings_all_children_back(full_book: LineFile) -> None:
    before = full_book.line
    remove_station(full_book, 1)
    assert len(full_book.line.stations) == 1
    full_book.undo()
    assert full_book.line == before
    assert copied_line(full_book) == before


def test_history_says_who_when_what_from_and_to(book: LineFile) -> None:
    book.person = "Ana Prieto"
    start = datetime.datetime.now(datetime.UTC).replace(microsecond=0)
    station = add_station(book, tag="ST07", name="Brushes")
    motor = book.line.station(station).motors[0].id
    set_fields(book, "motor", motor, power_w=750.0, power_typed="0,75 kW")
    set_fields(book, "motor", motor, power_w=1100.0, power_typed="1,1 kW")
    newest = [row for row in book.history() if row.field == "power_w"]
    assert [(row.old, row.new) for row in newest] == [("750.0", "1100.0"), (None, "750.0")]
    row = newest[0]
    assert (row.person, row.step, row.table, row.record_id) == (
        "Ana Prieto",
        "Set rated power",
        "motor",
        motor,
    )
    assert row.place == "ST07"
    at = datetime.datetime.fromisoformat(row.at)
    assert at.utcoffset() == datetime.timedelta(0)
    assert start <= at <= datetime.datetime.now(datetime.UTC)


def test_history_of_adding_removing_and_undoing(book: LineFile) -> None:
    station = add_station(book, tag="ST07")
    remove_station(book, station)
    book.undo()
    rows = [row for row in book.history() if row.table in ("station", "motor")]
    assert [(row.step, row.table) for row in rows] == [
        ("Undo: Remove station ST07", "motor"),
        ("Undo: Remove station ST07", "station"),
        ("Remove station ST07", "station"),
        ("Remove station ST07", "motor"),
        ("Add station ST07", "motor"),
        ("Add station ST07", "station"),
    ]
    back, _, gone, motor_gone, motor_made, made = rows
    assert {row.place for row in rows} == {"ST07"}
    assert (made.old, json.loads(made.new or "")["tag"]) == (None, "ST07")
    assert (json.loads(gone.old or "")["tag"], gone.new) == ("ST07", None)
    held = [json.loads(text or "") for text in (motor_gone.old, motor_made.new, back.new)]
    assert held[0] == held[1] == held[2]
    assert held[0]["station_id"] == station


def test_history_outlives_the_program(path: Path) -> None:
    with LineFile.open(path) as book:
        set_fields(book, "line", 1, site="North")
        told = book.history()
    with LineFile.open(path) as book:
        assert book.history() == told
        assert book.undo_name is None
        assert len(book.history(newest=1)) == 1


# --- copies ----------------------------------------------------------------------------------


def test_copy_is_whole_and_a_file_of_its_own(full_book: LineFile, tmp_path: Path) -> None:
    target = tmp_path / "copy.linebook"
    full_book.save_copy(target)
    line, history = full_book.line, full_book.history()
    set_fields(full_book, "line", 1, name="Later")
    with LineFile.open(target) as copy:
        assert copy.line == line
        assert copy.history() == history
    assert ask(target, "PRAGMA integrity_check") == [("ok",)]


def test_copy_replaces_nothing(book: LineFile, tmp_path: Path) -> None:
    target = tmp_path / "there.linebook"
    target.write_text("kept")
    with pytest.raises(LineFileError, match="already"):
        book.save_copy(target)
    assert target.read_text() == "kept"


def test_copy_into_a_missing_folder_is_refused(book: LineFile, tmp_path: Path) -> None:
    with pytest.raises(LineFileError, match="no folder"):
        book.save_copy(tmp_path / "nowhere" / "copy.linebook")


def test_copy_that_cannot_take_its_place_leaves_nothing_behind(
    book: LineFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("core.store.files.os.replace", refuse)
    with pytest.raises(LineFileError, match="Permission denied"):
        book.save_copy(tmp_path / "copy.linebook")
    assert [name for name in sorted(p.name for p in tmp_path.iterdir()) if "copy" in name] == []
    set_fields(book, "line", 1, site="Still writes")
    assert book.line.site == "Still writes"
