"""A disk that takes no more: the step is refused, what was stored stays, and work goes on."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.errors import LineFileError
from core.model import Line
from core.store import LineFile
from core.store.actions import add_station, set_fields
from tests.core.store.guards import NextFormat, ask, folder_bytes

NOTE = "x" * 4000
FULL = "The disk is full. What was stored before is safe."
BAD_DISK = "The disk did not take or give the data. What was stored before is safe."


def fill_up(book: LineFile) -> int:
    """Add stations with long notes until one is refused; gives how many were taken."""
    lines = [book.line]
    book.listeners.append(lambda _: lines.append(book.line))
    with pytest.raises(LineFileError) as refused:
        add_for_ever(book)
    book.listeners.pop()
    before = lines[-1]
    assert refused.value.what == f"'Add station {free_tag(before)}' was not stored."
    assert refused.value.why == FULL
    assert refused.value.fix == "Make room on the disk and try again."
    assert book.line is before
    return len(lines) - 1


def add_for_ever(book: LineFile) -> None:
    for _ in range(2000):
        add_station(book, notes=NOTE)


def free_tag(line: Line) -> str:
    return (
        f"ST{len({station.tag for station in line.stations if station.tag[2:4].isdigit()}) + 1:02d}"
    )


def make_small(book: LineFile, pages: int) -> None:
    with book._engine.connect() as conn:
        conn.exec_driver_sql(f"PRAGMA max_page_count={pages}")


def pages_of(book: LineFile) -> int:
    with book._engine.connect() as conn:
        return int(conn.exec_driver_sql("PRAGMA page_count").scalar_one())


def test_refused_step_leaves_graph_file_and_undo_list(path: Path) -> None:
    with LineFile.open(path) as book:
        set_fields(book, "line", 1, site="Before")
        make_small(book, pages_of(book) + 30)
        told = []
        book.listeners.append(told.append)
        taken = fill_up(book)
        assert len(book.line.stations) == taken > 0
        assert len(told) == taken
        names = book.undo_name, book.redo_name
        kept = book.line
    with LineFile.open(path) as again:
        assert again.line == kept
        assert again.line.site == "Before"
    assert names == (f"Add station ST{taken:02d}", None)
    assert ask(path, "PRAGMA integrity_check") == [("ok",)]


def test_next_edit_works_after_room_was_made(path: Path) -> None:
    with LineFile.open(path) as book:
        make_small(book, pages_of(book) + 30)
        taken = fill_up(book)
        make_small(book, 1_000_000)
        add_station(book, notes=NOTE)
        assert len(book.line.stations) == taken + 1
        kept = book.line
    assert LineFile.read(path) == kept


def test_undo_that_finds_no_room_can_be_tried_again(path: Path) -> None:
    with LineFile.open(path) as book:
        for _ in range(8):
            add_station(book, notes=NOTE)
        full = book.line
        make_small(book, pages_of(book))
        refusals = 0
        for _ in range(8):
            name = book.undo_name
            before = book.line
            try:
                book.undo()
            except LineFileError:
                refusals += 1
                assert (book.undo_name, book.line) == (name, before)
                break
        assert refusals == 1
        make_small(book, 1_000_000)
        while book.undo_name:
            book.undo()
        assert book.line.stations == ()
        while book.redo_name:
            book.redo()
        assert book.line == full
        copy = path.with_name("copy.linebook")
        book.save_copy(copy)
        assert LineFile.read(copy) == full


LIMITED = """
import resource, sys
from pathlib import Path
from core.errors import LineFileError
from core.model import Line
from core.store import LineFile
from core.store.actions import add_station
path = Path(sys.argv[1])
with LineFile.open(path) as book:
    most = int(sys.argv[2])
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))
    taken = 0
    while True:
        before = book.line
        try:
            add_station(book, notes="x" * 4000)
        except LineFileError as error:
            print(error.what)
            print(error.why)
            print(book.line is before)
            break
        taken += 1
    half = path.stat().st_size // 2
    resource.setrlimit(resource.RLIMIT_FSIZE, (half, resource.RLIM_INFINITY))
    try:
        book.save_copy(path.with_name("copy.linebook"))
    except LineFileError as error:
        print(error.what)
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    add_station(book, notes="after")
    print(taken + 1, len(book.line.stations))
"""


if sys.platform != "win32":  # which knows no limit of a file's size

    def test_limit_of_the_file_size_is_told_and_survived(path: Path) -> None:
        limit = path.stat().st_size + 200_000
        done = subprocess.run(
            [sys.executable, "-c", LIMITED, str(path), str(limit)],
            capture_output=True,
            text=True,
            cwd=Path(__file__).parents[3],
        )
        assert done.stderr == ""
        what, why, same, copy, counts = done.stdout.splitlines()
        assert what.endswith("was not stored.")
        assert why == BAD_DISK
        assert same == "True"
        assert copy == "copy.linebook was not written."
        made, found = counts.split()
        assert made == found
        assert len(LineFile.read(path).stations) == int(found)
        assert sorted(folder_bytes(path.parent)) == [path.name]


def mount(folder: Path) -> bool:
    """Put a disk of 2 MB at a folder, if the system lets us."""
    order = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(folder)]
    return os.geteuid() == 0 and subprocess.run(order, capture_output=True).returncode == 0


def unmount(folder: Path) -> None:
    subprocess.run(["umount", str(folder)], check=True)


def can_mount() -> bool:
    with tempfile.TemporaryDirectory() as folder:
        found = mount(Path(folder))
        if found:
            unmount(Path(folder))
    return found


@pytest.fixture
def small_disk(tmp_path: Path, filled_file: Path) -> Iterator[Path]:
    folder = tmp_path / "disk"
    folder.mkdir()
    assert mount(folder)
    try:
        shutil.copy(filled_file, folder / "shed.linebook")
        yield folder
    finally:
        unmount(folder)


def fill_disk(folder: Path, leave: int) -> None:
    """Take up all room on a small disk, but for some bytes."""
    left = shutil.disk_usage(folder).free - leave
    (folder / "ballast").write_bytes(bytes(left))


class RealDisk:
    """Run where a small disk can be mounted; elsewhere the tests above do."""

    def test_step_on_a_full_disk(self, small_disk: Path) -> None:
        path = small_disk / "shed.linebook"
        with LineFile.open(path) as book:
            fill_disk(small_disk, 300_000)
            taken = fill_up(book)
            kept = book.line
            (small_disk / "ballast").unlink()
            add_station(book, notes=NOTE)
            assert len(book.line.stations) == 2 + taken + 1
            assert book.line.stations[:-1] == kept.stations
            after = book.line
        assert LineFile.read(path) == after
        assert ask(path, "PRAGMA integrity_check") == [("ok",)]

    def test_copy_to_a_full_disk(self, small_disk: Path) -> None:
        fill_disk(small_disk, 100_000)
        with LineFile.open(small_disk / "shed.linebook") as book:
            with pytest.raises(LineFileError, match="disk is full") as error:
                book.save_copy(small_disk / "copy.linebook")
            assert error.value.what == "copy.linebook was not written."
        assert sorted(os.listdir(small_disk)) == ["ballast", "shed.linebook"]

    def test_new_file_on_a_full_disk(self, small_disk: Path) -> None:
        fill_disk(small_disk, 100_000)
        with pytest.raises(LineFileError, match="disk is full") as error:
            LineFile.create(small_disk / "new.linebook")
        assert error.value.what == "new.linebook was not made."
        assert sorted(os.listdir(small_disk)) == ["ballast", "shed.linebook"]

    @pytest.mark.parametrize("leave", [50_000, 320_000, 650_000])
    def test_upgrade_on_a_full_disk(
        self, leave: int, small_disk: Path, next_format: NextFormat
    ) -> None:
        """Full while the working copy is made, while it is changed, while the backup is made."""
        path = small_disk / "shed.linebook"
        before = path.read_bytes()
        next_format.add(BIG_CHANGE)
        fill_disk(small_disk, leave)
        with pytest.raises(LineFileError, match="disk is full") as error:
            LineFile.open(path)
        assert error.value.what == "shed.linebook was not upgraded."
        assert path.read_bytes() == before
        assert sorted(os.listdir(small_disk)) == ["ballast", "shed.linebook"]
        (small_disk / "ballast").unlink()
        LineFile.open(path).close()


BIG_CHANGE = """
    op.add_column("station", sa.Column("blob", sa.LargeBinary()))
    op.execute("UPDATE station SET blob = zeroblob(40000)")
"""

if sys.platform == "linux" and can_mount():
    TestRealDisk = RealDisk
