"""Frozen records in a line file: written once, read and verified, never changed.

What a record says is a text that `core.records` makes and reads; here it is kept as it is, beside
its SHA-256. A record that was altered outside the program is told by every reader of it.
"""

import datetime
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

import sqlalchemy as sa

from core.errors import InputError
from core.store.schema import FROZEN, HISTORY

KINDS = {"as_commissioned": "As commissioned", "as_found": "As found"}
"""Kinds of record: proved and handed over, or met at a later visit."""


@dataclass(frozen=True, slots=True)
class FrozenRecord:
    """One frozen record; ``sha256`` is what was written beside the content when it was frozen."""

    id: int
    kind: str
    revision: int
    at: str
    person: str
    reason: str
    content: str
    sha256: str

    @property
    def is_sound(self) -> bool:
        """Whether the content still is what was frozen."""
        return hashlib.sha256(self.content.encode()).hexdigest() == self.sha256

    @property
    def name(self) -> str:
        """Its name for people, such as ``As commissioned, revision 2``."""
        return f"{KINDS.get(self.kind, self.kind)}, revision {self.revision}"


def read_frozen(conn: sa.Connection) -> tuple[FrozenRecord, ...]:
    """Every frozen record, the oldest first."""
    question = sa.select(*FROZEN.c).order_by(FROZEN.c.id)
    return tuple(FrozenRecord(*row) for row in conn.execute(question))


def write_frozen(
    conn: sa.Connection, kind: str, person: str, reason: str, content: str
) -> FrozenRecord:
    """Keep a content as the next revision of its kind, and say so in the history.

    Raises
    ------
    InputError
        The kind is unknown, or person or reason are missing.
    """
    if kind not in KINDS:
        raise InputError("The record was not frozen.", f"'{kind}' is no kind of record.", "")
    for what, given in (("who freezes it", person), ("why", reason)):
        if not given.strip():
            raise InputError("The record was not frozen.", f"It is not said {what}.", "Enter it.")
    now = datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")
    revision = _newest(conn, kind) + 1
    digest = hashlib.sha256(content.encode()).hexdigest()
    values = {
        "kind": kind,
        "revision": revision,
        "at": now,
        "person": person.strip(),
        "reason": reason.strip(),
        "content": content,
        "sha256": digest,
    }
    made = conn.execute(sa.insert(FROZEN).values(**values))
    [record_id] = made.inserted_primary_key or (0,)
    record = FrozenRecord(
        int(record_id), kind, revision, now, person.strip(), reason.strip(), content, digest
    )
    conn.execute(
        sa.insert(HISTORY).values(
            at=now,
            person=person.strip(),
            step=f"Freeze: {record.name}",
            table_name="frozen_record",
            record_id=record.id,
            place=record.name,
            field="",
            old=None,
            new=f'"{digest}"',
        )
    )
    return record


def _newest(conn: sa.Connection, kind: str) -> int:
    question = sa.select(sa.func.max(FROZEN.c.revision)).where(FROZEN.c.kind == kind)
    return int(conn.execute(question).scalar() or 0)


def named(records: Sequence[FrozenRecord], name: str) -> FrozenRecord:
    """The record that a user means: an id, a kind with its revision, or a kind for its newest.

    Raises
    ------
    InputError
        There is no such record.

    Examples
    --------
    ``as_commissioned``, ``as_commissioned:2``, ``7``
    """
    kind, _, revision = name.partition(":")
    fitting = [
        held
        for held in records
        if (name.isdecimal() and held.id == int(name))
        or (held.kind == kind.replace("-", "_") and revision in ("", str(held.revision)))
    ]
    if not fitting:
        known = ", ".join(f"{held.kind}:{held.revision}" for held in records) or "none"
        raise InputError(f"There is no record '{name}'.", "", f"There are: {known}.")
    return fitting[-1]
