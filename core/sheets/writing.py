"""Sheets onto the disk: whole, or not at all."""

import contextlib
import os
from pathlib import Path

from core.errors import LinebookError


class SheetCancelledError(LinebookError):
    """The user stopped the writing of a sheet; nothing was written."""

    def __init__(self) -> None:
        super().__init__("The sheet was not written.", "It was cancelled.", "")


def write_whole(target: Path, content: bytes) -> None:
    """Write a file aside, sync it and put it in place in one go.

    Parameters
    ----------
    target : Path
        The file; one that stands there is replaced.
    content : bytes
        All of it.

    Raises
    ------
    LinebookError
        The system refused; an older file of this name is untouched.
    """
    partial = target.with_name(f"{target.name}.part")
    try:
        with open(partial, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(partial, target)
    except OSError as error:
        raise LinebookError(
            f"{target.name} was not written.",
            f"The system says: {error.strerror or error}.",
            "Close it in other programs, or choose another folder; look for space on the disk.",
        ) from error
    finally:
        with contextlib.suppress(OSError):
            partial.unlink(missing_ok=True)
