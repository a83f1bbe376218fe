"""What SQLite and the system complain of, in the electrician's words."""

import errno
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError, OperationalError

from core.errors import InputError, LineFileError
from core.store import faults


def sqlite_error(name: str) -> sqlite3.OperationalError:
    error = sqlite3.OperationalError("in SQLite's words")
    error.sqlite_errorname = name
    return error


KNOWN = {
    "SQLITE_BUSY": "another Linebook",
    "SQLITE_BUSY_RECOVERY": "another Linebook",
    "SQLITE_LOCKED": "another Linebook",
    "SQLITE_NOTADB": "no Linebook file",
    "SQLITE_CORRUPT": "damaged",
    "SQLITE_CORRUPT_INDEX": "damaged",
    "SQLITE_READONLY": "write-protected",
    "SQLITE_READONLY_DIRECTORY": "write-protected",
    "SQLITE_FULL": "disk is full",
    "SQLITE_IOERR_WRITE": "disk did not take",
    "SQLITE_IOERR_FSYNC": "disk did not take",
    "SQLITE_CANTOPEN": "not there",
    "SQLITE_PERM": "may not read",
}


@pytest.mark.parametrize("name", KNOWN)
@pytest.mark.parametrize("wrapped", [True, False], ids=["by SQLAlchemy", "bare"])
def test_known_complaint_becomes_the_users_error(name: str, wrapped: bool) -> None:
    cause = sqlite_error(name)
    with pytest.raises(LineFileError, match=KNOWN[name]) as told, faults.told("It failed."):
        raise OperationalError("SELECT 1", {}, cause) if wrapped else cause
    assert told.value.what == "It failed."
    assert told.value.why.endswith(".")
    assert told.value.fix.endswith(".")


@pytest.mark.parametrize(
    "error",
    [
        sqlite_error("SQLITE_ERROR"),
        sqlite_error("SQLITE_MISUSE"),
        sqlite3.ProgrammingError("Cannot operate on a closed database."),
        IntegrityError("INSERT", {}, sqlite3.IntegrityError("UNIQUE constraint failed")),
        OperationalError("SELECT", {}, sqlite_error("SQLITE_ERROR")),
        ValueError("own"),
        KeyError("own"),
    ],
    ids=str,
)
def test_fault_of_the_program_stays_one(error: Exception) -> None:
    with pytest.raises(type(error)) as raised, faults.told("It failed."):
        raise error
    assert raised.value is error


def test_refusal_inside_passes_as_it_is() -> None:
    refusal = InputError("Tag was not taken.", "", "")
    with pytest.raises(InputError) as raised, faults.told("It failed."):
        raise refusal
    assert raised.value is refusal


@pytest.mark.parametrize(
    ("error", "why"),
    [
        (FileNotFoundError(errno.ENOENT, "No such file"), "It is not there."),
        (IsADirectoryError(errno.EISDIR, "Is a directory"), "It is a folder."),
        (
            OSError(errno.ENOSPC, "No space left on device"),
            "The system says: No space left on device.",
        ),
        (PermissionError("odd"), "The system says: odd."),
    ],
)
def test_complaint_of_the_system_is_told(error: OSError, why: str) -> None:
    with pytest.raises(LineFileError) as told, faults.told("It failed."):
        raise error
    assert told.value.why == why


def test_damaged_rows_are_told() -> None:
    with pytest.raises(LineFileError, match="damaged"), faults.told("It failed."):
        raise faults.DamagedError("part of drive 3 is missing")


@pytest.mark.parametrize("make", [faults.missing])
def test_missing_file_is_named_with_its_folder(make: Callable[[Path], LineFileError]) -> None:
    assert "There is no file /lines/shed.linebook." in str(make(Path("/lines/shed.linebook")))
