"""What SQLite says when a file cannot be used, in the electrician's words.

Decided in one place by SQLite's own result code, so that every way into the file tells the same.
"""

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError

from core.errors import LineFileError

_BY_CODE = {
    "SQLITE_BUSY": (
        "It is open in another Linebook.",
        "Close it there first, or work on a copy.",
    ),
    "SQLITE_LOCKED": (
        "It is open in another Linebook.",
        "Close it there first, or work on a copy.",
    ),
    "SQLITE_NOTADB": (
        "It is no Linebook file.",
        "Choose a file that ends in .linebook and was made by Linebook.",
    ),
    "SQLITE_CORRUPT": (
        "Its content is damaged or cut short.",
        "Leave it as it is and open the newest copy of it that you have.",
    ),
    "SQLITE_READONLY": (
        "It is write-protected, or its folder is.",
        "Copy it to a folder of your own, or lift the write protection.",
    ),
    "SQLITE_FULL": (
        "The disk is full. What was stored before is safe.",
        "Make room on the disk and try again.",
    ),
    "SQLITE_IOERR": (
        "The disk did not take or give the data. What was stored before is safe.",
        "Check the disk and its free space, then try again.",
    ),
    "SQLITE_CANTOPEN": (
        "It is not there, is a folder, or may not be read.",
        "Check the name and the folder.",
    ),
    "SQLITE_PERM": ("You may not read it.", "Ask its owner for the right to read and write it."),
}


class DamagedError(Exception):
    """Rows that every line file has are not there."""


# What neither SQLite nor the driver gives a code of its own, by a part of its message.
_BY_MESSAGE = {
    "file is not a database": "SQLITE_NOTADB",
    "Could not decode to UTF-8": "SQLITE_CORRUPT",
}


def fault_for(error: sqlite3.Error, what: str) -> LineFileError | None:
    """The user's error for a SQLite error; None where SQLite's code points at a program fault.

    Parameters
    ----------
    error : sqlite3.Error
        As raised by the driver.
    what : str
        What did not happen ("shed.linebook was not opened.").
    """
    code = getattr(error, "sqlite_errorname", "") or ""
    for known, (why, fix) in _BY_CODE.items():
        if code == known or code.startswith(known + "_"):
            return LineFileError(what, why, fix)
    for part, known in _BY_MESSAGE.items():
        if part in str(error):
            return LineFileError(what, *_BY_CODE[known])
    return None


@contextlib.contextmanager
def told(what: str) -> Iterator[None]:
    """Turn SQLite's and the system's complaints inside into a :class:`LineFileError`."""
    try:
        yield
    except DBAPIError as error:
        if isinstance(error.orig, sqlite3.Error) and (fault := fault_for(error.orig, what)):
            raise fault from error
        raise
    except sqlite3.Error as error:
        if fault := fault_for(error, what):
            raise fault from error
        raise
    except DamagedError as error:
        raise LineFileError(what, *_BY_CODE["SQLITE_CORRUPT"]) from error
    except OSError as error:
        raise os_fault(error, what) from error


@contextlib.contextmanager
def told_unfit(what: str) -> Iterator[None]:
    """Turn what the file's own rules refuse of a line inside into a :class:`LineFileError`.

    Around the writing of a line that no step has checked, as one from a record that was altered.
    """
    try:
        yield
    except (IntegrityError, DataError, OverflowError, UnicodeEncodeError) as error:
        cause = getattr(error, "orig", None) or error
        raise LineFileError(
            what,
            f"What the line holds does not go together ({cause}).",
            "Take the line from a record that verifies, or from a copy of its file.",
        ) from error


def os_fault(error: OSError, what: str) -> LineFileError:
    """The user's error for a refusal by the operating system."""
    if isinstance(error, FileNotFoundError):
        return LineFileError(what, "It is not there.", "Check the name and the folder.")
    if isinstance(error, IsADirectoryError):
        return LineFileError(what, "It is a folder.", "Choose a file.")
    return LineFileError(
        what, f"The system says: {error.strerror or error}.", "Check the disk and your rights."
    )


def missing(path: Path) -> LineFileError:
    """The error for a file that is not there."""
    return LineFileError(
        f"{path.name} was not opened.", f"There is no file {path}.", "Check the name."
    )
