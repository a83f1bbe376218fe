"""Files written aside: whole in their place, or not there at all."""

import os
import sys
from pathlib import Path

import pytest

from core.store import files
from tests.core.store.guards import ask, rows_of


def test_what_was_written_aside_takes_the_place(tmp_path: Path) -> None:
    target = tmp_path / "a"
    target.write_text("old")
    with files.aside(target) as partial:
        partial.write_text("new")
        assert target.read_text() == "old"
    assert target.read_text() == "new"
    assert list(tmp_path.iterdir()) == [target]


def write_half(partial: Path) -> None:
    partial.write_text("new")
    files.journal_of(partial).write_text("journal")
    raise ZeroDivisionError


def test_failure_leaves_the_old_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "a"
    target.write_text("old")
    with pytest.raises(ZeroDivisionError), files.aside(target) as partial:
        write_half(partial)
    assert target.read_text() == "old"
    assert list(tmp_path.iterdir()) == [target]


def test_leftovers_of_a_killed_program_are_no_hindrance(tmp_path: Path) -> None:
    target = tmp_path / "a"
    for left in ("a.part", "a.part-journal"):
        (tmp_path / left).write_text("left over")
    with files.aside(target) as partial:
        assert not partial.exists()
        partial.write_text("new")
    assert list(tmp_path.iterdir()) == [target]


def test_folder_is_synced_so_that_the_new_name_lasts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[int] = []
    monkeypatch.setattr("core.store.files.os.fsync", lambda h: synced.append(os.fstat(h).st_ino))
    with files.aside(tmp_path / "a") as partial:
        partial.write_text("new")
    wanted = [(tmp_path / "a").stat().st_ino, tmp_path.stat().st_ino]
    assert synced == (wanted[:1] if sys.platform == "win32" else wanted)


def test_copy_is_whole_with_the_rights_of_its_source(filled: Path, tmp_path: Path) -> None:
    filled.chmod(0o600)
    target = tmp_path / "copy"
    files.copy_whole(filled, target)
    assert rows_of(target) == rows_of(filled)
    assert ask(target, "PRAGMA user_version") == ask(filled, "PRAGMA user_version")
    assert target.stat().st_mode == filled.stat().st_mode


def test_file_is_the_same_whichever_way_it_is_reached(path: Path, tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(path)
    assert files.file_id(link) == files.file_id(path)
    other = tmp_path / "other"
    other.write_bytes(path.read_bytes())
    assert files.file_id(other) != files.file_id(path)
