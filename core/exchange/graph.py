"""The records of a line as an import meets them: by name, by holder, by key."""

from collections import defaultdict
from typing import Any

from core.exchange.layout import name_field
from core.exchange.plan import Handle, Pending
from core.model import RECORDS, Line

ROOT = "line"


class Graph:
    """A line that an import adds to, record by record, while it is planned.

    Nothing is written: added records are entered with the values that they will have.
    """

    def __init__(self, line: Line) -> None:
        self.line = line
        self.root: Handle = line.id
        self._held: dict[tuple[str, Handle], list[Handle]] = defaultdict(list)
        self._values: dict[tuple[str, Handle], dict[str, Any]] = {}
        self._named: dict[str, dict[str, Handle]] = defaultdict(dict)
        self._folded: dict[str, dict[str, list[Handle]]] = {}
        self._by_key: dict[tuple[str, Handle, str], dict[Any, list[Handle]]] = {}
        self._enter_old(ROOT, line, None)

    def values(self, table: str, handle: Handle) -> dict[str, Any]:
        """The fields of a record as they are, or will be."""
        return self._values[table, handle]

    def held(self, table: str, parent: Handle) -> list[Handle]:
        """The records of a table that one record holds, in order."""
        return self._held[table, parent]

    def single(self, table: str, parent: Handle) -> Handle:
        """The record that another one holds exactly once."""
        if isinstance(parent, Pending):
            return Pending(table, parent.number)
        return self.held(table, parent)[0]

    def name(self, table: str, handle: Handle) -> str:
        """The name of a record that has a name of its own."""
        return str(self._values[table, handle][name_field(table).name])

    def names(self, table: str) -> list[str]:
        """Every name of a table."""
        return list(self._named[table])

    def named(self, table: str, name: str) -> Handle | None:
        """The record of this name; case matters only where two names differ in it alone."""
        exact = self._named[table].get(name)
        if exact is not None:
            return exact
        if table not in self._folded:
            folded = self._folded[table] = defaultdict(list)
            for known, handle in self._named[table].items():
                folded[known.casefold()].append(handle)
        alike = self._folded[table].get(name.casefold(), [])
        return alike[0] if len(alike) == 1 else None

    def keyed(self, table: str, parent: Handle, field: str, value: Any) -> list[Handle]:
        """The records that one record held from the start, with this value in a field."""
        place = (table, parent, field)
        if place not in self._by_key:
            index = self._by_key[place] = defaultdict(list)
            for handle in self.held(table, parent):
                if isinstance(handle, int):
                    index[self._values[table, handle][field]].append(handle)
        return self._by_key[place].get(value, [])

    def enter(
        self, table: str, handle: Handle, parent: Handle | None, values: dict[str, Any]
    ) -> None:
        """Enter a record that will be added, with what it will hold exactly once."""
        defaults = {field.name: field.default for field in RECORDS[table].fields}
        self._enter(table, handle, parent, {**defaults, **values})
        for child in RECORDS[table].children:
            if not child.many:
                self.enter(child.table, self.single(child.table, handle), handle, {})

    def change(self, table: str, handle: Handle, values: dict[str, Any]) -> None:
        """Give a record the values that it will have."""
        self._values[table, handle].update(values)

    def _enter(
        self, table: str, handle: Handle, parent: Handle | None, values: dict[str, Any]
    ) -> None:
        self._values[table, handle] = values
        if parent is not None:
            self._held[table, parent].append(handle)
        if RECORDS[table].parent == ROOT and any(f.unique for f in RECORDS[table].fields):
            self._named[table][str(values[name_field(table).name])] = handle
            self._folded.pop(table, None)

    def _enter_old(self, table: str, record: Any, parent: Handle | None) -> None:
        spec = RECORDS[table]
        values = {field.name: getattr(record, field.name) for field in spec.fields}
        self._enter(table, record.id, parent, values)
        for child in spec.children:
            held = getattr(record, child.name)
            for entry in held if child.many else (held,):
                self._enter_old(child.table, entry, record.id)
