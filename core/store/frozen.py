"""Frozen records in a line file: written once, read and verified, never changed.

What a record says is a text that `core.records` makes and reads; here it is kept as it is, beside
its SHA-256. A record that was altered outside the program is told by every reader of it.
"""

import dataclasses
import datetime
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from core.errors import InputError
from core.store.photos import named_in
from core.store.schema import FROZEN, HISTORY

KINDS = {"as_commissioned": "As commissioned", "as_found": "As found"}
"""Kinds of record: proved and handed over, or met at a later visit."""


@dataclass(frozen=True, slots=True)
class FrozenRecord:
    """One frozen record; ``sha256`` is what was written beside the content when it was frozen.

    ``is_as_told`` says whether the history of the file tells the same of it: when, who, why, hash.
    """

    id: int
    kind: str
    revision: int
    at: str
    person: str
    reason: str
    content: str
    sha256: str
    is_as_told: bool = True

    @property
    def is_sound(self) -> bool:
        """Whether the record still is what was frozen."""
        digest = hashlib.sha256(self.content.encode()).hexdigest()
        return self.is_as_told and digest == self.sha256

    @property
    def photo_digests(self) -> frozenset[str]:
        """Digests of the photographs that it names; their bytes stay in the file with it."""
        return named_in(self.content)

    @property
    def name(self) -> str:
        """Its name for people, such as ``As commissioned, revision 2``."""
        return f"{KINDS.get(self.kind, self.kind)}, revision {self.revision}"


def read_frozen(conn: sa.Connection) -> tuple[FrozenRecord, ...]:
    """Every frozen record, the oldest first; one that was altered is given too, and says so.

    So is one that only the history still knows of: it was taken out outside the program.
    """
    # As bytes, since one that was altered may be no text any more.
    columns = (
        column if isinstance(column.type, sa.Integer) else sa.cast(column, sa.LargeBinary)
        for column in FROZEN.c
    )
    told = _told_of(conn)
    held = [_read(row, told) for row in conn.execute(sa.select(*columns))]
    known = {record.id for record in held}
    gone = [_gone(number, head) for number, head in told.items() if number not in known]
    return tuple(sorted([*held, *gone], key=lambda record: record.id))


_Head = tuple[str, str, str, str]
_Told = Mapping[int, _Head]


def _read(row: Sequence[Any], told: _Told) -> FrozenRecord:
    values: list[Any] = [
        part.decode(errors="replace") if isinstance(part, bytes) else part for part in row
    ]
    record = FrozenRecord(*values)
    return dataclasses.replace(record, is_as_told=_is_as_told(record, told.get(record.id)))


def _gone(number: int, told: _Head) -> FrozenRecord:
    """What is left to say of a record that is not there any more."""
    name, at, person, _ = told
    title, _, revision = name.rpartition(", revision ")
    kind = next((key for key, word in KINDS.items() if word == title), "")
    counted = int(revision) if revision.isdecimal() else 0
    reason = "Taken out outside Linebook; only the history tells of it"
    return FrozenRecord(number, kind, counted, at, person, reason, "", "", is_as_told=False)


def _is_as_told(record: FrozenRecord, told: _Head | None) -> bool:
    """Whether the history tells the same of a record; up to format 4 it told no reason."""
    seals = (_sealed(record.reason, record.sha256), json.dumps(record.sha256))
    return told in [(record.name, record.at, record.person, seal) for seal in seals]


def _sealed(reason: str, digest: str) -> str:
    return json.dumps({"reason": reason, "sha256": digest}, ensure_ascii=False)


def _told_of(conn: sa.Connection) -> _Told:
    """What the history tells of each record, by its id."""
    names = ("record_id", "place", "at", "person", "new")
    columns = (
        HISTORY.c[name] if name == "record_id" else sa.cast(HISTORY.c[name], sa.LargeBinary)
        for name in names
    )
    rows = conn.execute(sa.select(*columns).where(HISTORY.c.table_name == FROZEN.name))
    return {row[0]: _texts(row[1:]) for row in rows}


def _texts(parts: Sequence[Any]) -> _Head:
    name, at, person, new = ((part or b"").decode(errors="replace") for part in parts)
    return name, at, person, new


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
    now = datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
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
            table_name=FROZEN.name,
            record_id=record.id,
            place=record.name,
            field="",
            old=None,
            new=_sealed(record.reason, digest),
        )
    )
    return record


def _newest(conn: sa.Connection, kind: str) -> int:
    """The highest revision that a kind ever had; paper may name one that was taken out outside."""
    question = sa.select(sa.func.max(FROZEN.c.revision)).where(FROZEN.c.kind == kind)
    begun = f"{KINDS[kind]}, revision "
    told = (name.removeprefix(begun) for name, *_ in _told_of(conn).values())
    return max(
        int(conn.execute(question).scalar() or 0),
        *(int(number) for number in told if number.isdecimal()),
        0,
    )


def altered_words(records: Sequence[FrozenRecord]) -> str:
    """A sentence that names the records which were altered outside the program; empty for none."""
    names = [record.name for record in records if not record.is_sound]
    if not names:
        return ""
    are = "is" if len(names) == 1 else "are"
    return (
        f"ALTERED OUTSIDE LINEBOOK: {'; '.join(names)} {are} not what was frozen, and {are} not "
        "used. Look for a copy of the file that verifies."
    )


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


def usual_sides(
    records: Sequence[FrozenRecord],
) -> tuple[FrozenRecord | None, FrozenRecord | None]:
    """What one mostly wants to compare: the newest as-commissioned record, and what came after.

    The second is the newest as-found record since then, or None for the line as it stands. Records
    that were altered outside the program are passed over.
    """
    sound = [record for record in records if record.is_sound]
    commissioned = [record for record in sound if record.kind == "as_commissioned"]
    before = next(reversed(commissioned or sound), None)
    found = [
        record
        for record in sound
        if before is not None and record.kind == "as_found" and record.id > before.id
    ]
    return before, found[-1] if found else None
