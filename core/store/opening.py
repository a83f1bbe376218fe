"""What a file is, before anything is opened: its header, its format, and the way to the newest.

The header is read as bytes, so a file that is not ours, or newer than this program, is refused
without SQLite ever touching it.
"""

import contextlib
import os
import sqlite3
from dataclasses import dataclass
from pathlib import Path

from core.errors import LineFileError
from core.store.connection import connect, scalar
from core.store.faults import missing, os_fault, told
from core.store.schema import APPLICATION_ID, FORMAT, metadata

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100


@dataclass(frozen=True, slots=True)
class Header:
    """What the first bytes of a line file say."""

    format: int


def read_header(path: Path) -> Header:
    """Look at the first bytes of a file and say what it is.

    Raises
    ------
    LineFileError
        The file is missing, is none of ours, is cut short, or was written by a newer Linebook.
    """
    what = f"{path.name} was not opened."
    try:
        with path.open("rb") as stream:
            head = stream.read(_HEADER_BYTES)
        size = path.stat().st_size
    except FileNotFoundError:
        raise missing(path) from None
    except OSError as error:
        raise os_fault(error, what) from error
    application_id = int.from_bytes(head[68:72], "big")
    if len(head) < _HEADER_BYTES or head[:16] != _MAGIC or application_id != APPLICATION_ID:
        raise LineFileError(
            what,
            "It is no Linebook file." if head else "It is empty.",
            "Choose a file that ends in .linebook and was made by Linebook.",
        )
    page = int.from_bytes(head[16:18], "big")
    expected = (65536 if page == 1 else page) * int.from_bytes(head[28:32], "big")
    if size < expected:
        raise LineFileError(
            what,
            f"It is cut short: {size} of {expected} bytes are there.",
            "Leave it as it is and open the newest whole copy of it that you have.",
        )
    found = int.from_bytes(head[60:64], "big")
    if found > FORMAT:
        raise LineFileError(
            what,
            f"A newer Linebook wrote it (file format {found}; this program knows {FORMAT}).",
            "Update this program. The file is unchanged.",
        )
    return Header(found)


def check_writable(path: Path) -> None:
    """Refuse a file that cannot be written to, before anything is typed.

    Raises
    ------
    LineFileError
        The file or its folder is write-protected.
    """
    if os.access(path, os.W_OK) and os.access(path.parent, os.W_OK):
        return
    raise LineFileError(
        f"{path.name} was not opened.",
        "It is write-protected, or its folder is.",
        "Copy it to a folder of your own, or lift the write protection.",
    )


def check_sound(path: Path) -> None:
    """Read the whole structure of a file once.

    Raises
    ------
    LineFileError
        SQLite finds the content damaged.
    """
    what = f"{path.name} was not opened."
    with told(what), contextlib.closing(connect(path, mode="ro")) as raw:
        state = scalar(raw, "PRAGMA quick_check(1)")
    if state != "ok":
        raise LineFileError(
            what,
            f"Its content is damaged ({state}).",
            "Leave it as it is and open the newest copy of it that you have.",
        )


def backup_name(path: Path, from_format: int) -> Path:
    """Where the copy goes that is kept before an upgrade; never an existing file."""
    for number in range(1, 1000):
        again = "" if number == 1 else f"-{number}"
        name = path.with_name(f"{path.stem}.format-{from_format}{again}.backup{path.suffix}")
        if not name.exists():
            return name
    raise LineFileError(
        f"{path.name} was not opened.",
        "Its folder already holds 999 copies from earlier upgrades.",
        "Move the old copies elsewhere.",
    )


def copy_whole(source: Path, target: Path) -> None:
    """Copy a file through SQLite, so that the copy is whole, and put it in place in one go."""
    partial = target.with_name(target.name + ".part")
    partial.unlink(missing_ok=True)
    try:
        with (
            contextlib.closing(connect(source, mode="ro")) as raw,
            contextlib.closing(sqlite3.connect(partial)) as copy,
        ):
            raw.backup(copy)
        sync_file(partial)
        os.replace(partial, target)
    finally:
        partial.unlink(missing_ok=True)


def sync_file(path: Path) -> None:
    """Wait until a file's bytes are on the disk."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


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
    what = f"{path.name} was not upgraded."
    working = path.with_name(path.name + ".upgrading")
    with told(what):
        copy_whole(path, working)
        try:
            _migrate(working)
            _check_upgraded(path, working)
            backup = backup_name(path, header.format)
            copy_whole(path, backup)
            os.replace(working, path)
        finally:
            working.unlink(missing_ok=True)
    return backup


def _migrate(path: Path) -> None:
    from core.store.migrating import run_migrations

    run_migrations(path)


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
            "The file is unchanged. Send it, or a copy of it, to whoever keeps this program.",
        )


def _shared_tables(old: sqlite3.Connection, new: sqlite3.Connection) -> list[str]:
    names = [
        {row[0] for row in raw.execute("SELECT name FROM sqlite_master WHERE type='table'")}
        for raw in (old, new)
    ]
    ours = set(metadata.tables)
    return sorted(names[0] & names[1] & ours)


def _count(raw: sqlite3.Connection, table: str) -> int:
    return int(scalar(raw, f'SELECT count(*) FROM "{table}"'))
