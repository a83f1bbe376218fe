"""Files that cannot be used, each a real one: a clear refusal, and not one byte changed."""

import contextlib
import os
import random
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from core.errors import LineFileError
from core.store import LineFile
from core.store.schema import APPLICATION_ID
from tests.core.store.guards import ask, folder_bytes

WAYS = [LineFile.open, LineFile.read]
NOBODY = 65534


@pytest.fixture(params=WAYS, ids=["open", "read"])
def way(request: pytest.FixtureRequest) -> Callable[[Path], object]:
    chosen: Callable[[Path], object] = request.param
    return chosen


def refusal(way: Callable[[Path], object], path: Path) -> LineFileError:
    """The error of a way into the file, after the look at what an error has to be."""
    with pytest.raises(LineFileError) as caught:
        way(path)
    error = caught.value
    assert path.name in error.what
    for part in (error.what, error.why, error.fix):
        assert part[:1].isupper() or part.startswith(path.name)
        assert part.endswith(".")
    for word in ("Traceback", "sqlite3", "SQLITE", "Error", "None"):
        assert word not in str(error)
    return error


def other_database(path: Path) -> None:
    with contextlib.closing(sqlite3.connect(path)) as raw:
        raw.executescript("CREATE TABLE notes (a TEXT); INSERT INTO notes VALUES ('kept');")


FOREIGN: dict[str, Callable[[Path], object]] = {
    "text": lambda path: path.write_text("ST01;0.75 kW;belt\n" * 40),
    "short text": lambda path: path.write_text("x"),
    "document": lambda path: path.write_bytes(b"%PDF-1.7\n" + bytes(range(256)) * 8),
    "spreadsheet": lambda path: path.write_bytes(b"PK\x03\x04" + bytes(2000)),
    "zero bytes": lambda path: path.write_bytes(b""),
    "random bytes": lambda path: path.write_bytes(random.Random(7).randbytes(9000)),
    "all zeros": lambda path: path.write_bytes(bytes(8192)),
    "another database": other_database,
    "header only": lambda path: path.write_bytes(b"SQLite format 3\x00"),
}


@pytest.mark.parametrize("kind", FOREIGN)
def test_foreign_file_is_refused_untouched(
    kind: str, way: Callable[[Path], object], tmp_path: Path
) -> None:
    path = tmp_path / "foreign.linebook"
    FOREIGN[kind](path)
    before = folder_bytes(tmp_path)
    error = refusal(way, path)
    assert error.why == ("It is empty." if kind == "zero bytes" else "It is no Linebook file.")
    assert folder_bytes(tmp_path) == before


@pytest.mark.parametrize("kept", [100, 101, 4095, 4096, 8192, 0.3, 0.5, 0.9, -4096, -1])
def test_truncated_file_is_refused_untouched(
    kept: float, way: Callable[[Path], object], filled: Path
) -> None:
    whole = filled.read_bytes()
    length = int(kept * len(whole)) if isinstance(kept, float) else int(kept) % len(whole)
    filled.write_bytes(whole[:length])
    before = folder_bytes(filled.parent)
    error = refusal(way, filled)
    assert error.why == f"It is cut short: {length} of {len(whole)} bytes are there."
    assert folder_bytes(filled.parent) == before


def test_file_cut_inside_its_header_is_refused(way: Callable[[Path], object], path: Path) -> None:
    path.write_bytes(path.read_bytes()[:60])
    assert refusal(way, path).why == "It is no Linebook file."


@pytest.mark.parametrize("page", [1, 2, 5, 20])
def test_flipped_page_is_refused_untouched(
    page: int, way: Callable[[Path], object], filled: Path
) -> None:
    content = bytearray(filled.read_bytes())
    start = (page - 1) * 4096 + (100 if page == 1 else 0)
    content[start : page * 4096] = bytes(byte ^ 0xFF for byte in content[start : page * 4096])
    filled.write_bytes(content)
    before = folder_bytes(filled.parent)
    assert "damaged" in refusal(way, filled).why
    assert folder_bytes(filled.parent) == before


def test_text_that_is_no_text_any_more_is_refused(
    way: Callable[[Path], object], filled: Path
) -> None:
    ask_and_store(filled, "UPDATE station SET name = CAST(x'ff41fe' AS TEXT)")
    assert "damaged" in refusal(way, filled).why


@pytest.mark.parametrize(
    "damage",
    [
        "DELETE FROM drivetrain",
        "DELETE FROM line",
        "DROP TABLE cable",
        "DELETE FROM setting; DELETE FROM drive",
    ],
)
def test_file_without_rows_that_every_file_has_is_refused(
    damage: str, way: Callable[[Path], object], filled: Path
) -> None:
    ask_and_store(filled, damage)
    before = folder_bytes(filled.parent)
    assert "damaged" in refusal(way, filled).why
    assert folder_bytes(filled.parent) == before


def test_empty_database_with_our_mark_is_refused(
    way: Callable[[Path], object], tmp_path: Path
) -> None:
    path = tmp_path / "marked.linebook"
    ask_and_store(path, f"PRAGMA application_id={APPLICATION_ID}; CREATE TABLE a (b)")
    assert refusal(way, path).why == "It is no Linebook file."
    ask_and_store(path, "PRAGMA user_version=1")
    assert "damaged" in refusal(way, path).why


def test_refused_file_is_free_for_others(filled: Path) -> None:
    ask_and_store(filled, "DELETE FROM drivetrain")
    refusal(LineFile.open, filled)
    ask_and_store(filled, "INSERT INTO drivetrain (station_id) VALUES (1), (2)")
    LineFile.open(filled).close()


def test_folder_is_refused(way: Callable[[Path], object], tmp_path: Path) -> None:
    folder = tmp_path / "folder.linebook"
    folder.mkdir()
    assert refusal(way, folder).why == "It is a folder."
    assert list(folder.iterdir()) == []


def test_missing_file_is_refused_and_not_made(
    way: Callable[[Path], object], tmp_path: Path
) -> None:
    path = tmp_path / "missing.linebook"
    assert str(path) in refusal(way, path).why
    assert list(tmp_path.iterdir()) == []


def test_missing_folder_is_refused(way: Callable[[Path], object], tmp_path: Path) -> None:
    assert refusal(way, tmp_path / "nowhere" / "a.linebook").fix == "Check the name."


def test_name_that_is_too_long_is_refused(way: Callable[[Path], object], tmp_path: Path) -> None:
    assert "too long" in refusal(way, tmp_path / ("x" * 300 + ".linebook")).why


@contextlib.contextmanager
def ordinary_user() -> Iterator[None]:
    """Rights bind again: the superuser, for whom nothing is protected, steps down meanwhile."""
    if os.name == "nt" or os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def open_folder(tmp_path: Path, filled_file: Path) -> Iterator[Path]:
    """A folder that anybody may enter, whoever runs the tests, with a filled file."""
    import tempfile

    folder = Path(tempfile.mkdtemp(prefix="linebook-test-"))
    shutil.copy(filled_file, folder / "shed.linebook")
    if os.name != "nt" and os.geteuid() == 0:
        os.chown(folder, NOBODY, -1)
        os.chown(folder / "shed.linebook", NOBODY, -1)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_write_protected_file_is_refused_for_editing_but_read(open_folder: Path) -> None:
    path = open_folder / "shed.linebook"
    line = LineFile.read(path)
    path.chmod(0o444)
    before = folder_bytes(open_folder)
    with ordinary_user():
        error = refusal(LineFile.open, path)
        assert LineFile.read(path) == line
    assert error.why == "It is write-protected, or its folder is."
    assert folder_bytes(open_folder) == before
    path.chmod(0o644)


def test_write_protected_folder_is_refused_for_editing_but_read(open_folder: Path) -> None:
    path = open_folder / "shed.linebook"
    line = LineFile.read(path)
    open_folder.chmod(0o555)
    with ordinary_user():
        error = refusal(LineFile.open, path)
        assert LineFile.read(path) == line
        with pytest.raises(LineFileError, match="write-protected"):
            LineFile.create(open_folder / "new.linebook")
    assert error.fix.startswith("Copy it to a folder of your own")
    assert sorted(folder_bytes(open_folder)) == ["shed.linebook"]


def test_unreadable_file_is_refused(open_folder: Path, way: Callable[[Path], object]) -> None:
    path = open_folder / "shed.linebook"
    path.chmod(0o000)
    with ordinary_user():
        assert "Permission denied" in refusal(way, path).why
    path.chmod(0o644)


def test_copy_into_a_write_protected_folder_is_refused(open_folder: Path, book: LineFile) -> None:
    open_folder.chmod(0o555)
    with ordinary_user(), pytest.raises(LineFileError, match="write-protected"):
        book.save_copy(open_folder / "copy.linebook")
    assert sorted(folder_bytes(open_folder)) == ["shed.linebook"]


HOLD = """
import sys
from pathlib import Path
from core.store import LineFile
book = LineFile.open(Path(sys.argv[1]))
print("open", flush=True)
sys.stdin.readline()
with book.step("Rename") as step:
    step.set("line", book.line.id, name="Renamed there")
book.close()
print("closed", flush=True)
"""


@contextlib.contextmanager
def held_elsewhere(path: Path) -> Iterator[subprocess.Popen[str]]:
    other = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[3],
    )
    with other:
        assert other.stdout is not None
        assert other.stdout.readline() == "open\n"
        yield other
        other.kill()


def test_file_open_in_another_linebook_is_refused_until_it_is_closed(
    way: Callable[[Path], object], filled: Path
) -> None:
    with held_elsewhere(filled) as other:
        assert other.stdin is not None
        assert other.stdout is not None
        error = refusal(way, filled)
        assert error.why == "It is open in another Linebook."
        assert error.fix == "Close it there first, or work on a copy."
        other.stdin.write("\n")
        other.stdin.flush()
        assert other.stdout.readline() == "closed\n"
    assert LineFile.read(filled).name == "Renamed there"
    LineFile.open(filled).close()


def test_file_is_free_after_the_other_linebook_was_killed(filled: Path) -> None:
    with held_elsewhere(filled) as other:
        refusal(LineFile.open, filled)
        other.kill()
        other.wait()
    LineFile.open(filled).close()
    assert sorted(folder_bytes(filled.parent)) == [filled.name]


TRY = """
import sys
from pathlib import Path
from core.errors import LineFileError
from core.store import LineFile
try:
    LineFile.open(Path(sys.argv[1]))
except LineFileError as error:
    print(error.why)
"""


def tried_elsewhere(path: Path) -> str:
    return subprocess.run(
        [sys.executable, "-c", TRY, str(path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[3],
    ).stdout.strip()


def test_second_opening_in_this_program_is_refused_and_does_not_free_the_lock(
    way: Callable[[Path], object], book: LineFile, tmp_path: Path
) -> None:
    """POSIX frees every lock of a process on a file when it closes any handle of it."""
    link = tmp_path / "link.linebook"
    link.symlink_to(book.path)
    for name in (book.path, link):
        assert refusal(way, name).why == "This Linebook has it open already."
    with pytest.raises(LineFileError):
        book.save_copy(book.path)
    with pytest.raises(LineFileError):
        LineFile.create(book.path)
    assert tried_elsewhere(book.path) == "It is open in another Linebook."


def test_closed_file_can_be_opened_again_in_this_program(path: Path) -> None:
    LineFile.open(path).close()
    with LineFile.open(path):
        assert tried_elsewhere(path) == "It is open in another Linebook."
    assert tried_elsewhere(path) == ""


def test_program_whose_line_file_was_dropped_without_closing_can_open_it_again(path: Path) -> None:
    LineFile.open(path)._engine.dispose()
    LineFile.open(path).close()


def test_file_that_another_tool_set_to_another_journal_is_set_back(path: Path) -> None:
    ask(path, "PRAGMA journal_mode=WAL")
    with LineFile.open(path) as book, book.step("Rename") as step:
        step.set("line", book.line.id, name="Now")
    assert path.read_bytes()[18:20] == b"\x01\x01"
    assert sorted(folder_bytes(path.parent)) == [path.name]


def ask_and_store(path: Path, script: str) -> None:
    with contextlib.closing(sqlite3.connect(path)) as raw:
        raw.executescript(script)
