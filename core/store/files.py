"""Whole files on the disk: written aside, synced and put in place in one go.

Nobody ever sees half a file under a name that a user chose, and nothing is left beside it when
the writing fails.
"""

import contextlib
import os
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from pathlib import Path

from core.errors import LineFileError
from core.store.connection import connect

FileId = tuple[int, int]


def file_id(path: Path) -> FileId:
    """What names one file on this machine, whichever way it is reached."""
    found = path.stat()
    return found.st_dev, found.st_ino


def is_half_written(path: Path) -> bool:
    """Whether a writer was killed in the middle of a step; its journal then takes it back."""
    try:
        with journal_of(path).open("rb") as stream:
            return stream.read(1) not in (b"", b"\0")  # a spent journal begins with zeros
    except OSError:
        return False


def journal_of(path: Path) -> Path:
    """Where SQLite keeps what it needs to take a step back."""
    return path.with_name(path.name + "-journal")


@contextlib.contextmanager
def aside(target: Path, ending: str = ".part") -> Iterator[Path]:
    """A name to write to; what is written there takes the target's place when all went well."""
    partial = target.with_name(target.name + ending)
    _remove(partial)
    try:
        yield partial
        _sync(partial)
        os.replace(partial, target)
        _sync_folder(target.parent)
    finally:
        with contextlib.suppress(OSError):
            _remove(partial)


def copy_whole(source: Path, target: Path) -> None:
    """Copy a file through SQLite, so that the copy is whole, and put it in place in one go."""
    with aside(target) as partial:
        with (
            contextlib.closing(connect(source, mode="ro")) as raw,
            contextlib.closing(sqlite3.connect(partial)) as copy,
        ):
            raw.backup(copy)
        shutil.copymode(source, partial)


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


def _remove(partial: Path) -> None:
    partial.unlink(missing_ok=True)
    journal_of(partial).unlink(missing_ok=True)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _sync_folder(folder: Path) -> None:
    # A new name is on the disk only when its folder is; Windows offers no such call.
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
