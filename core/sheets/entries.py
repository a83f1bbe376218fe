"""How stored records are written on a sheet: labels, units and choices from their declarations."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from core.line.findings import Finding
from core.model import RECORDS, RECORDS_BY_CLASS, FieldSpec, Line
from core.sheets.document import Cell, Column, Grid, KeyValue, KeyValues
from core.sheets.words import Say, words_in
from core.units import System, show, show_computed

_LONG_SORTS = ("text", "long_text", "choice", "ref")


@dataclass(frozen=True, slots=True)
class Entries:
    """Writes the records of one line in its units and the language of its sheets."""

    line: Line
    say: Say

    @classmethod
    def of(cls, line: Line) -> "Entries":
        """For a line, in its own language."""
        return cls(line, words_in(line.language))

    @property
    def system(self) -> System:
        """The unit system of the line."""
        return "us" if self.line.unit_system == "us" else "metric"

    @property
    def missing(self) -> Cell:
        """What stands where nobody has entered anything."""
        return Cell(self.say("not_entered"), tone="quiet")

    def tr(self, text: str, where: str = "") -> str:
        """A text of the program, such as a label, in the language of the sheets."""
        return self.say.tr(text, where)

    def label(self, table: str, field: str = "") -> str:
        """What a field is called on every sheet, or a kind of record."""
        spec = RECORDS[table]
        if not field:
            return self.tr(spec.label)
        return self.tr(spec.field(field).label, f"{table}.{field}")

    def says(self, finding: Finding) -> str:
        """What a finding says is wrong."""
        return finding.told(self.tr(finding.rule.says), self.system, self.tr)

    def follows(self, finding: Finding) -> str:
        """What follows from a finding."""
        return finding.told(self.tr(finding.rule.follows), self.system, self.tr)

    def mend(self, finding: Finding) -> str:
        """What would mend a finding."""
        return finding.told(self.tr(finding.rule.mend), self.system, self.tr)

    def source(self, finding: Finding) -> str:
        """Where a rule comes from."""
        return finding.told(self.tr(finding.rule.source), self.system, self.tr)

    def text(self, text: str) -> Cell:
        """A text, or that it is missing."""
        return Cell(text) if text.strip() else self.missing

    def quantity(self, value: float | None, kind: str) -> Cell:
        """A value in SI, in the unit of the line, or that it is missing."""
        if value is None:
            return self.missing
        shown = show(value, kind, self.system)
        return Cell(shown.number, number_of(shown.number), shown.unit)

    def computed(self, value: float | None, kind: str) -> Cell:
        """A computed value, rounded for reading, or that there is none."""
        if value is None:
            return Cell("–", tone="quiet")
        shown = show_computed(value, kind, self.system)
        return Cell(shown.number, number_of(shown.number), shown.unit)

    def field(self, spec: FieldSpec, value: Any) -> Cell:
        """The value of one field, or that it is missing."""
        if value is None or value == "":
            return self.missing
        return _WRITERS[spec.sort](self, spec, value)

    def rows(
        self,
        record: Any,
        *,
        skip: Iterable[str] = (),
        keep: Iterable[str] | None = None,
        around: Mapping[str, Any] | None = None,
    ) -> tuple[KeyValue, ...]:
        """Every field of a record that means something, with its label.

        Parameters
        ----------
        record : record of the line file
            What is written.
        skip : iterable of str
            Names of fields that stand elsewhere.
        keep : iterable of str, optional
            Names of the only fields that are wanted.
        around : mapping
            Values outside of the record on which the meaning of a field may depend.
        """
        kind, values = RECORDS_BY_CLASS[type(record)], _values(record, around)
        specs = kind.fields
        typed = {spec.label: values[spec.name] for spec in specs if spec.sort == "typed"}
        wanted = set(values if keep is None else keep) - set(skip)
        return tuple(
            KeyValue(
                self.label(kind.table, spec.name),
                cell := self.field(spec, values[spec.name]),
                self._as_typed(typed.get(spec.name, ""), cell),
            )
            for spec in specs
            if spec.sort != "typed" and spec.name in wanted and spec.applies(values)
        )

    def record(self, record: Any, columns: int = 2, **how: Any) -> KeyValues:
        """The entries of a record as a part of a sheet."""
        return KeyValues(self.rows(record, **how), columns)

    def grid(self, records: Sequence[Any]) -> Grid:
        """Records of one kind as a table, a column for each of their fields."""
        kind = RECORDS_BY_CLASS[type(records[0])]
        specs = kind.fields
        columns = tuple(
            Column(
                self.label(kind.table, spec.name),
                1.0 if spec.sort in _LONG_SORTS else 0.7,
                "right" if spec.is_number else "left",
                units=spec.sort == "quantity",
            )
            for spec in specs
        )
        rows = tuple(
            tuple(self.field(spec, getattr(record, spec.name)) for spec in specs)
            for record in records
        )
        return Grid(columns, rows)

    def name_of(self, table: str, record_id: int) -> str:
        """The name of a record that another one refers to."""
        found: Any = _FINDERS[table](self.line, record_id)
        return str(found.tag if table == "station" else found.name) or self.say("no_name")

    def _as_typed(self, typed: str, cell: Cell) -> str:
        if not typed.strip() or typed.strip() in (cell.text, cell.with_unit):
            return ""
        return self.say("as_typed", text=typed.strip())

    def _quantity(self, spec: FieldSpec, value: Any) -> Cell:
        return self.quantity(value, spec.kind)

    def _whole(self, _spec: FieldSpec, value: Any) -> Cell:
        return Cell(str(value), float(value))

    def _text(self, _spec: FieldSpec, value: Any) -> Cell:
        return self.text(str(value))

    def _choice(self, spec: FieldSpec, value: Any) -> Cell:
        return Cell(self.tr(spec.choices.get(value, str(value)), "choice"))

    def _flag(self, _spec: FieldSpec, value: Any) -> Cell:
        return Cell(self.say("yes" if value else "no"))

    def _ref(self, spec: FieldSpec, value: Any) -> Cell:
        return Cell(self.name_of(spec.target, value))


def number_of(shown: str) -> float | None:
    """The number that a plain decimal text stands for; None for any other text."""
    bare = shown.strip().removeprefix("-").replace(".", "", 1)
    return float(shown) if bare.isascii() and bare.isdigit() else None


def _values(record: Any, around: Mapping[str, Any] | None) -> dict[str, Any]:
    specs = RECORDS_BY_CLASS[type(record)].fields
    return {**(around or {}), **{spec.name: getattr(record, spec.name) for spec in specs}}


_Writer = Callable[[Entries, FieldSpec, Any], Cell]
_WRITERS: Mapping[str, _Writer] = {
    "quantity": Entries._quantity,
    "whole": Entries._whole,
    "text": Entries._text,
    "long_text": Entries._text,
    "date": Entries._text,
    "typed": Entries._text,
    "choice": Entries._choice,
    "flag": Entries._flag,
    "ref": Entries._ref,
}
_FINDERS: Mapping[str, Callable[[Line, int], Any]] = {
    "drive_type": Line.drive_type,
    "enclosure": Line.enclosure,
    "supply": Line.supply,
    "bus": Line.bus,
    "station": Line.station,
}
