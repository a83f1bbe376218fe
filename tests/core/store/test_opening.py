"""Upgrading a file to the next format: the old one, byte for byte, or the new one, whole."""

import shutil
from pathlib import Path

import pytest

from core.errors import LineFileError
from core.store import LineFile, files, opening
from core.store.schema import FORMAT
from tests.core.store.guards import NextFormat, ask, folder_bytes, rows_of

ADD_COLUMN = """
    op.add_column("station", sa.Column("colour", sa.String(), server_default="grey"))
    op.execute("UPDATE station SET colour = 'blue' WHERE position = 0")
"""


def refused(path: Path) -> LineFileError:
    with pytest.raises(LineFileError) as error:
        LineFile.open(path)
    return error.value


def test_upgrade_keeps_the_content_and_a_backup_beside_it(
    filled: Path, next_format: NextFormat
) -> None:
    before, rows, line = filled.read_bytes(), rows_of(filled), LineFile.read(filled)
    next_format.add(ADD_COLUMN)
    with LineFile.open(filled) as book:
        assert book.line == line
    backup = filled.with_name(f"filled.format-{FORMAT}.backup.linebook")
    assert sorted(folder_bytes(filled.parent)) == sorted([filled.name, backup.name])
    assert len(backup.read_bytes()) == len(before)
    assert rows_of(backup) == rows
    after = rows_of(filled)
    assert [row[-1] for row in after["station"]] == ["blue", "grey"]
    assert [row[:-1] for row in after["station"]] == rows["station"]
    for table in set(rows) - {"station", "alembic_version"}:
        assert after[table] == rows[table], table


def test_backup_opens_in_the_program_that_wrote_it(filled: Path, next_format: NextFormat) -> None:
    line = LineFile.read(filled)
    with pytest.MonkeyPatch.context() as newer:
        newer_format = NextFormat(next_format.folder.parent / "newer", newer)
        newer_format.add(ADD_COLUMN)
        LineFile.open(filled).close()
    backup = filled.with_name(f"filled.format-{FORMAT}.backup.linebook")
    assert LineFile.read(backup) == line
    assert "newer Linebook" in refused(filled).why


def test_second_opening_has_nothing_left_to_do(filled: Path, next_format: NextFormat) -> None:
    next_format.add(ADD_COLUMN)
    LineFile.open(filled).close()
    before = folder_bytes(filled.parent)
    LineFile.open(filled).close()
    assert folder_bytes(filled.parent) == before
    assert opening.upgrade(filled) is None


def test_second_upgrade_keeps_the_first_backup(filled: Path, next_format: NextFormat) -> None:
    again = Path(shutil.copy(filled, filled.with_name("again")))
    next_format.add(ADD_COLUMN)
    LineFile.open(filled).close()
    shutil.move(again, filled)
    LineFile.open(filled).close()
    backups = {name for name in folder_bytes(filled.parent) if "backup" in name}
    stem = f"filled.format-{FORMAT}"
    assert backups == {f"{stem}.backup.linebook", f"{stem}-2.backup.linebook"}


@pytest.mark.parametrize(
    "body",
    [
        '    op.add_column("station", sa.Column("a", sa.String()))\n    op.execute("nonsense")',
        '    op.execute("DELETE FROM cable")',
        '    op.execute("UPDATE flow SET to_station_id = 99")',
        "    raise ValueError('a value that the step did not expect')",
        '    op.execute("UPDATE station SET lane = -1")',
    ],
    ids=["nonsense halfway", "rows lost", "loose reference", "own error", "out of bounds"],
)
def test_failing_upgrade_leaves_the_file_and_its_folder_as_they_were(
    body: str, filled: Path, next_format: NextFormat
) -> None:
    before = folder_bytes(filled.parent)
    next_format.add(body)
    error = refused(filled)
    assert error.what == "filled.linebook was not upgraded."
    assert "unchanged" in error.fix
    assert folder_bytes(filled.parent) == before


def test_reading_an_older_format_writes_nothing(filled: Path, next_format: NextFormat) -> None:
    line, before = LineFile.read(filled), folder_bytes(filled.parent)
    next_format.add(ADD_COLUMN)
    assert LineFile.read(filled) == line
    assert folder_bytes(filled.parent) == before


def test_newer_file_is_refused_untouched(filled: Path) -> None:
    ask(filled, f"PRAGMA user_version={FORMAT + 1}")
    before = folder_bytes(filled.parent)
    for way in (LineFile.open, LineFile.read):
        with pytest.raises(LineFileError) as error:
            way(filled)
        assert f"file format {FORMAT + 1}" in error.value.why
        assert error.value.fix == "Update this program. The file is unchanged."
    assert folder_bytes(filled.parent) == before


def test_link_to_an_old_file_stays_a_link(
    filled: Path, tmp_path: Path, next_format: NextFormat
) -> None:
    link = tmp_path / "link.linebook"
    link.symlink_to(filled)
    next_format.add(ADD_COLUMN)
    LineFile.open(link).close()
    assert link.is_symlink()
    assert int.from_bytes(filled.read_bytes()[60:64], "big") == FORMAT + 1


def test_upgrade_keeps_the_rights_of_the_file(filled: Path, next_format: NextFormat) -> None:
    filled.chmod(0o640)
    wanted = filled.stat().st_mode
    next_format.add(ADD_COLUMN)
    LineFile.open(filled).close()
    assert filled.stat().st_mode == wanted


def test_too_many_backups_are_refused(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "exists", lambda _self: True)
    with pytest.raises(LineFileError, match="999 copies"):
        files.backup_name(path, 1)
