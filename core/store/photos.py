"""Bytes of photographs in a line file: kept by their digest, verified whenever they are read.

They stand apart from the line, so that reading a line loads no picture, and undo and frozen
records find them by the digest. What nothing names any more is dropped when a file is opened or
closed, while no step of a session can bring it back.
"""

import contextlib
import hashlib
import re
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from core.errors import LineFileError
from core.store.schema import FROZEN, PHOTO_CONTENT, TABLES

Fault = Literal["missing", "altered"]
FAULT_WORDS: Mapping[Fault, str] = {
    "missing": "It is not in the file.",
    "altered": "It was altered outside Linebook.",
}
"""Why a photograph cannot be shown, in words."""

_MOST_VALUES = 500
# As canonical JSON writes it; what else may stand there is no digest of a photograph.
_NAMED = re.compile(r'"sha256":"([0-9a-f]{64})"')


def digest_of(content: bytes) -> str:
    """The digest by which bytes are kept: SHA-256, in lower-case hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def put_content(conn: sa.Connection, content: bytes) -> str:
    """Keep bytes, once whatever their number of photographs; gives their digest.

    Bytes that were altered outside are made whole again by those that are put.
    """
    digest = digest_of(content)
    held = PHOTO_CONTENT.c
    found = conn.execute(sa.select(held.content).where(held.sha256 == digest)).scalar_one_or_none()
    if found is None:
        conn.execute(sa.insert(PHOTO_CONTENT).values(sha256=digest, content=content))
    elif found != content:
        here = sa.update(PHOTO_CONTENT).where(held.sha256 == digest)
        conn.execute(here.values(content=content))
    return digest


def read_content(conn: sa.Connection, digest: str) -> bytes:
    """The bytes of a digest.

    Raises
    ------
    LineFileError
        They are missing, or are not those that were put.
    """
    held = PHOTO_CONTENT.c
    found = conn.execute(sa.select(held.content).where(held.sha256 == digest)).scalar_one_or_none()
    if (fault := _fault_of(digest, found)) is not None:
        raise LineFileError(
            "The photograph cannot be shown.",
            FAULT_WORDS[fault],
            "Take it from an older copy of the file, or photograph anew.",
        )
    return bytes(found or b"")


def read_contents(conn: sa.Connection, digests: Iterable[str]) -> dict[str, bytes]:
    """The bytes of many digests; those that are missing or altered are left out."""
    return {
        digest: content
        for digest, content in _contents(conn, digests)
        if _fault_of(digest, content) is None
    }


def read_faults(conn: sa.Connection) -> dict[str, Fault]:
    """What is wrong with the bytes that the line or a frozen record names, by digest."""
    wanted = _in_line(conn) | _in_records(conn)
    faults: dict[str, Fault] = dict.fromkeys(sorted(wanted), "missing")
    for digest, content in _contents(conn, wanted):
        fault = _fault_of(digest, content)
        if fault is None:
            del faults[digest]
        else:
            faults[digest] = fault
    return faults


def drop_unused(conn: sa.Connection) -> int:
    """Drop the bytes that neither the line nor a frozen record names; gives how many were.

    Only for a file of which no step can be undone: undo may name them again. Nothing is dropped
    while a record is not what was frozen: it may have named more, and be made whole again.
    """
    if not _are_records_whole(conn):
        return 0
    kept = set(conn.execute(sa.select(PHOTO_CONTENT.c.sha256)).scalars())
    unused = kept - _in_line(conn) if kept else kept
    unused = unused - _in_records(conn) if unused else unused
    for part in _parts(unused):
        conn.execute(sa.delete(PHOTO_CONTENT).where(PHOTO_CONTENT.c.sha256.in_(part)))
    return len(unused)


def tidy(engine: sa.Engine) -> None:
    """Drop the bytes that nothing names, and with them what the disk could still tell of them.

    It is housekeeping: where the disk does not take it, the next opening does it, and nobody needs
    to be told.
    """
    with contextlib.suppress(DBAPIError, sqlite3.Error):
        with engine.begin() as conn:
            dropped = drop_unused(conn)
        if dropped:
            with engine.connect() as conn:
                # Not through SQLAlchemy, which would begin a transaction: VACUUM runs in none.
                conn.connection.cursor().execute("VACUUM")


def named_in(content: str) -> frozenset[str]:
    """Digests of the photographs that the content of a frozen record names."""
    return frozenset(_NAMED.findall(content))


def _in_line(conn: sa.Connection) -> set[str]:
    return set(conn.execute(sa.select(TABLES["photo"].c.sha256)).scalars())


def _in_records(conn: sa.Connection) -> set[str]:
    # As bytes, since the content of a record that was altered may be no text any more.
    contents = conn.execute(sa.select(sa.cast(FROZEN.c.content, sa.LargeBinary))).scalars()
    return {
        digest
        for content in contents
        for digest in named_in((content or b"").decode(errors="replace"))
    }


def _are_records_whole(conn: sa.Connection) -> bool:
    """Whether the content of every frozen record is the one that was hashed when it was frozen."""
    columns = (sa.cast(column, sa.LargeBinary) for column in (FROZEN.c.content, FROZEN.c.sha256))
    return all(
        hashlib.sha256(content or b"").hexdigest().encode() == digest
        for content, digest in map(tuple, conn.execute(sa.select(*columns)))
    )


def _fault_of(digest: str, content: bytes | None) -> Fault | None:
    if content is None:
        return "missing"
    # Someone with other tools may have put a text there.
    same = isinstance(content, bytes) and digest_of(content) == digest
    return None if same else "altered"


def _contents(conn: sa.Connection, digests: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    held = PHOTO_CONTENT.c
    for part in _parts(digests):
        question = sa.select(held.sha256, held.content).where(held.sha256.in_(part))
        yield from ((digest, content) for digest, content in conn.execute(question))


def _parts(digests: Iterable[str]) -> Iterator[list[str]]:
    """In a bounded number at a time, since SQLite takes no more values in one statement."""
    wanted = sorted(set(digests))
    for start in range(0, len(wanted), _MOST_VALUES):
        yield wanted[start : start + _MOST_VALUES]
