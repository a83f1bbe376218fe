"""What a file is, before anything is opened: its header, its format, and the way to the newest.

The header is read as bytes, so a file that is not ours, or newer than this program, is refused
without SQLite ever touching it.
"""

import contextlib
import os
import sqlite3
import weakref
from dataclasses import dataclass
from pathlib import Path

from core.errors import LinebookError, LineFileError
from core.store.connection import connect, scalar
from core.store.faults import missing, os_fault, told
from core.store.files import FileId, aside, backup_name, copy_whole, file_id, is_half_written
from core.store.schema import APPLICATION_ID, FORMAT, metadata

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100

HELD: weakref.WeakValueDictionary[FileId, object] = weakref.WeakValueDictionary()
"""Files that this very process has open. To open one of them a second time, if only to look at
its header, would free the lock on it without a word: so the system's locks work."""


@dataclass(frozen=True, slots=True)
class Header:
    """What the first bytes of a line file say."""

    format: int


def read_header(path: Path) -> Header:
    """Look at the first bytes of a file and say what it is.

    Raises
    ------
    LineFileError
        The file is missing, is open already, is none of ours, is cut short, or was written by a
        newer Linebook.
    """
    what = f"{path.name} was not opened."
    try:
        _refuse_held(path, what)
        with path.open("rb") as stream:
            head = stream.read(_HEADER_BYTES)
        size = path.stat().st_size
    except FileNotFoundError:
        raise missing(path) from None
    except OSError as error:
        raise os_fault(error, what) from error
    application_id = int.from_bytes(head[68:72], "big")
    found = int.from_bytes(head[60:64], "big")
    ours = head[:16] == _MAGIC and application_id == APPLICATION_ID and found > 0
    if len(head) < _HEADER_BYTES or not ours:
        raise LineFileError(
            what,
            "It is no Linebook file." if head else "It is empty.",
            "Choose a file that ends in .linebook and was made by Linebook.",
        )
    page = int.from_bytes(head[16:18], "big")
    expected = (65536 if page == 1 else page) * int.from_bytes(head[28:32], "big")
    # A writer killed between two pages leaves a short file too; its journal makes it whole.
    if size < expected and not is_half_written(path):
        raise LineFileError(
            what,
            f"It is cut short: {size} of {expected} bytes are there.",
            "Leave it as it is and open the newest whole copy of it that you have.",
        )
    if found > FORMAT:
        raise LineFileError(
            what,
            f"A newer Linebook wrote it (file format {found}; this program knows {FORMAT}).",
            "Update this program. The file is unchanged.",
        )
    return Header(found)


def _refuse_held(path: Path, what: str) -> None:
    if file_id(path) in HELD:
        raise LineFileError(
            what, "This Linebook has it open already.", "Go on in its window, or close it first."
        )


def check_writable(path: Path) -> None:
    """Refuse a file that cannot be written to, before anything is typed.

    Raises
    ------
    LineFileError
        The file or its folder is write-protected.
    """
    if _may_write(path) and _may_write(path.parent):
        return
    raise LineFileError(
        f"{path.name} was not opened.",
        "It is write-protected, or its folder is.",
        "Copy it to a folder of your own, or lift the write protection.",
    )


def check_folder(folder: Path, what: str) -> None:
    """Refuse a folder in which no file can be made.

    Raises
    ------
    LineFileError
        The folder is missing or write-protected.
    """
    if not folder.is_dir():
        raise LineFileError(what, f"There is no folder {folder}.", "Make the folder first.")
    if not _may_write(folder):
        raise LineFileError(
            what, f"The folder {folder} is write-protected.", "Choose a folder of your own."
        )


def _may_write(path: Path) -> bool:
    return os.access(path, os.W_OK, effective_ids=os.access in os.supports_effective_ids)


def check_sound(path: Path) -> None:
    """Read the whole structure of a file once.

    Raises
    ------
    LineFileError
        SQLite finds the content damaged, or tables are missing.
    """
    what = f"{path.name} was not opened."
    with told(what), contextlib.closing(connect(path, mode="ro")) as raw:
        state = scalar(raw, "PRAGMA quick_check(1)")
        if scalar(raw, "PRAGMA user_version") == FORMAT and set(metadata.tables) - _tables(raw):
            state = "tables are missing"
    if state != "ok":
        raise LineFileError(
            what,
            f"Its content is damaged ({state}).",
            "Leave it as it is and open the newest copy of it that you have.",
        )


def upgrade(path: Path) -> Path | None:
    """Bring a file of an older format to the newest; the original is kept beside it.

    The work is done on a copy with references not enforced (a rebuilt table would take its
    children along), checked, and put in place in one go: whatever happens, the file is either the
    old one, byte for byte, or the new one.

    Returns
    -------
    pathlib.Path or None
        The backup that was kept; None when the file was already the newest.
    """
    header = read_header(path)
    if header.format == FORMAT:
        return None
    path = path.resolve()  # a link stays a link; the file it points to is replaced
    what = f"{path.name} was not upgraded."
    with told(what), aside(path, ".upgrading") as working:
        copy_whole(path, working)
        _migrate(working, what)
        _check_upgraded(path, working)
        backup = backup_name(path, header.format)
        copy_whole(path, backup)
    return backup


def _migrate(working: Path, what: str) -> None:
    from core.store.migrating import run_migrations

    try:
        with told(what):
            run_migrations(working)
    except LinebookError:
        raise
    except Exception as error:
        raise LineFileError(what, "A step of the upgrade failed on its content.", _SEND) from error


_SEND = "The file is unchanged. Send a copy of it to whoever looks after this program."


def _check_upgraded(before: Path, after: Path) -> None:
    with (
        contextlib.closing(connect(before, mode="ro")) as old,
        contextlib.closing(connect(after, mode="ro")) as new,
    ):
        loose = new.execute("PRAGMA foreign_key_check").fetchall()
        state = scalar(new, "PRAGMA integrity_check(1)")
        kept = _shared_tables(old, new)
        lost = [name for name in kept if _count(new, name) < _count(old, name)]
    if loose or state != "ok" or lost:
        raise LineFileError(
            f"{before.name} was not upgraded.",
            f"The upgraded copy did not hold together ({len(loose)} loose rows, "
            f"state {state}, rows lost in: {', '.join(lost) or 'none'}).",
            _SEND,
        )


def _shared_tables(old: sqlite3.Connection, new: sqlite3.Connection) -> list[str]:
    return sorted(_tables(old) & _tables(new) & set(metadata.tables))


def _tables(raw: sqlite3.Connection) -> set[str]:
    return {row[0] for row in raw.execute("SELECT name FROM sqlite_master WHERE type='table'")}


def _count(raw: sqlite3.Connection, table: str) -> int:
    return int(scalar(raw, f'SELECT count(*) FROM "{table}"'))
