"""How the changes of an import are told: in the words and units of the line."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.exchange.cells import short, write_value
from core.exchange.graph import Graph
from core.exchange.layout import sheet_of, typed_beside
from core.exchange.plan import Handle
from core.model import RECORDS, FieldSpec
from core.units import System, show


@dataclass(frozen=True, slots=True)
class Teller:
    """Tells what stands in records of a graph, with quantities in the units of one system."""

    graph: Graph
    system: System

    def told(self, table: str, handle: Handle, changed: Mapping[str, Any]) -> list[str]:
        """Each change of a record, such as ``rated power 0.5 hp -> 0.75 hp``."""
        before = self.graph.values(table, handle)
        after = {**before, **changed}
        return [
            f"{_within_a_sentence(field.label)} {self.shown(table, field, before)}"
            f" -> {self.shown(table, field, after)}"
            for field in RECORDS[table].fields
            if field.sort != "typed"
            and (field.name in changed or typed_beside(table, field.name) in changed)
        ]

    def label(self, table: str, values: Mapping[str, Any]) -> str:
        """How a record is called: by the field that tells it from its brothers."""
        if table == "flow":
            ends = (values.get("from_station_id"), values.get("to_station_id"))
            tags = ["(outside)" if e is None else self.graph.name("station", e) for e in ends]
            return " to ".join(tags)
        field = RECORDS[table].field(sheet_of(table).keys[0])
        if field.sort == "ref":
            held = values.get(field.name)
            return "" if held is None else short(self.graph.name(field.target, held))
        return short(write_value(field, values.get(field.name, field.default), self.system))

    def shown(self, table: str, field: FieldSpec, values: Mapping[str, Any]) -> str:
        """One value as the line shows it; a quantity that was typed, as typed."""
        value = values[field.name]
        if value in (None, ""):
            return "(empty)"
        if field.sort == "ref":
            return short(self.graph.name(field.target, value))
        if field.sort == "quantity":
            typed = str(values.get(typed_beside(table, field.name), ""))
            return typed or str(show(value, field.kind, self.system))
        return short(write_value(field, value, self.system))


def _within_a_sentence(label: str) -> str:
    return label if label[:2].isupper() else label[0].lower() + label[1:]
