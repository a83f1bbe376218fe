"""Looking into a line file that is not opened: nobody is locked out, no byte is written."""

import contextlib
from collections.abc import Iterator
from pathlib import Path

import sqlalchemy as sa

from core.store import files, opening
from core.store.connection import make_engine
from core.store.faults import told


@contextlib.contextmanager
def looking(path: Path, what: str, oldest: int) -> Iterator[sa.Connection | None]:
    """A connection that only reads, to a file that is not opened; None where it is too old."""
    header = opening.read_header(path)
    with told(what):
        roll_back_leftover(path)
        opening.check_sound(path)
        if header.format < oldest:
            yield None
            return
        engine = make_engine(path, mode="ro")
        try:
            with engine.begin() as conn:
                yield conn
        finally:
            engine.dispose()


def try_lock(path: Path) -> None:
    """Lock a file and free it again; fails where another program has it open."""
    engine = make_engine(path)
    try:
        with engine.begin():
            pass
    finally:
        engine.dispose()


def roll_back_leftover(path: Path) -> None:
    """Take back what a killed writer left half done."""
    # A reader may not roll back what a killed writer left half done; a writer does by looking.
    if files.is_half_written(path):
        try_lock(path)
