"""What an import would do to a line, before anything is done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from core.exchange.layout import sheet_of
from core.model import RECORDS, Line


@dataclass(frozen=True, slots=True)
class Pending:
    """A record that the import will make: the one of this table in or under its nth addition."""

    table: str
    number: int


Handle = int | Pending
"""A record of the line by its id, or one that the import will make."""


@dataclass(frozen=True, slots=True)
class Add:
    """A record to add; references among its values may be pending."""

    handle: Pending
    parent: Handle | None
    values: Mapping[str, Any]
    name: str
    inside: str

    @property
    def table(self) -> str:
        """The table of the record."""
        return self.handle.table


@dataclass(frozen=True, slots=True)
class Set:
    """Fields of a record to set, with what the reader is told about each."""

    table: str
    target: Handle
    values: Mapping[str, Any]
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ImportPlan:
    """Every change an import would make, in order.

    Attributes: ``line`` is the line that the plan was made for; ``examples`` counts the rows that
    were passed over as examples; ``notes`` are remarks on what is taken as it stands.
    """

    line: Line
    changes: tuple[Add | Set, ...]
    examples: int = 0
    notes: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The name of the step that carries the plan out."""
        return "Import spreadsheet"

    @property
    def headline(self) -> str:
        """The whole plan in one line."""
        counts: dict[str, int] = {}
        for change in self.changes:
            if isinstance(change, Add):
                counts[change.table] = counts.get(change.table, 0) + 1
        values = sum(len(c.told) for c in self.changes if isinstance(c, Set))
        parts = [_counted(table, count) for table, count in counts.items()]
        told = [f"Adds {_joined(parts)}."] if parts else []
        told += [f"Changes {values} value{'s' * (values != 1)}."] if values else []
        return " ".join(told) or "Changes nothing."

    @property
    def summary(self) -> tuple[str, ...]:
        """The plan as lines to read: the whole in one line, then each change."""
        held: dict[tuple[str, str], list[str]] = {}
        lines: list[str] = []
        for change in self.changes:
            if isinstance(change, Set):
                lines += change.told
            elif change.inside:
                held.setdefault((change.table, change.inside), []).append(change.name)
            else:
                lines.append(f"adds {_one(change.table, change.name)}")
        lines += [f"adds {_several(table, names)} to {to}" for (table, to), names in held.items()]
        if self.examples:
            lines.append(f"passes over {_counted_word(self.examples, 'example row')}")
        return (self.headline, *lines, *(f"note: {note}" for note in self.notes))


@dataclass(slots=True)
class Draft:
    """A plan while it is being made."""

    changes: list[Add | Set] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def add(
        self,
        table: str,
        parent: Handle | None,
        values: Mapping[str, Any],
        name: str,
        inside: str = "",
    ) -> Pending:
        """Plan a record; gives its handle."""
        handle = Pending(table, len(self.changes))
        self.changes.append(Add(handle, parent, dict(values), name, inside))
        return handle

    def set(
        self, table: str, target: Handle, values: Mapping[str, Any], told: Iterable[str]
    ) -> None:
        """Plan new values of a record, if there are any."""
        if values:
            self.changes.append(Set(table, target, dict(values), tuple(told)))


def _one(table: str, name: str) -> str:
    return f"{RECORDS[table].label.lower()} {name}".strip()


def _several(table: str, names: list[str]) -> str:
    return _one(table, names[0]) if len(names) == 1 else _counted(table, len(names))


def _counted(table: str, count: int) -> str:
    if table == "motor":
        return _counted_word(count, RECORDS[table].label.lower())
    plural = sheet_of(table).title.lower() if table != "flow" else "flow links"
    return f"1 {RECORDS[table].label.lower()}" if count == 1 else f"{count} {plural}"


def _counted_word(count: int, word: str) -> str:
    return f"{count} {word}{'s' * (count != 1)}"


def _joined(parts: list[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
