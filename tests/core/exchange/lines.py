"""Lines of any content for the tests, and what two lines have to have in common."""

import random
from collections.abc import Iterator
from typing import Any

from hypothesis import strategies as st

from core.errors import InputError
from core.exchange.layout import APART
from core.model import RECORDS, FieldSpec, Line
from core.model.keypad import read_keypad
from core.units import parse_quantity

# Each has once been, or could be, taken for something else than the text that it is.
TRICKY_TEXTS = (
    "=1+1", "-M1", "+E1", "@SUM(A1)", "'", "''=x", "'s", "' x", "example: a", "Example:b",
    "1/2", "0012", "1e5", "TRUE", "yes", "#N/A", "_x0041_", "_x005F_", "\ufffe", "\uffff",
    '"quoted"', "a;b,c", "motor: x [kW]", "Ωµ½", "\u202eabc", "=\"", "\uff1d1+1",
    "2026-01-02", "sep=;", "<b>&amp;</b>", "%", "\\n", "x" * 200,
)  # fmt: skip
TRICKY_NOTES = ("one\ntwo\n", "\n", " ", "\t=1", "  =1+1  ", '"\n"', "'\n", "a\u2028b\n\n\nc")
TYPED_POWERS = ("3/4 hp", "0,75 kW", "1½ kW", "750 W", "1 1/2 hp", "0.37 kW", "5 PS")
BIN_RATES = ("6 bins/h", "0.3 bins/min", "7,5 bins/h")
CONDUCTORS = ("12 AWG", "1/0 AWG", "250 kcmil", "2.5 mm2", "0,75 mm²", "13 AWG")
CHOICES = ("", "0 = keypad; 1 = =SUM(A1); -2 = 'x'", "+1 = on", "2; 4; 8")
NUMBERS = (0.0, 1.0, 0.1, 1 / 3, 735.49875, 1e-9, 5e-324, 1e300, 2.0, 60.0, 273.15, 0.82)


class _Maker:
    """Builds a line from pools of texts and numbers that hypothesis has drawn."""

    def __init__(self, rng: random.Random, texts: list[str], numbers: list[float]) -> None:
        self.rng, self.texts, self.numbers = rng, texts, numbers
        self.next_id = 0
        self.ids: dict[str, list[int]] = {}

    def record(self, table: str, **given: Any) -> Any:
        spec = RECORDS[table]
        self.next_id += 1
        own_id = self.next_id
        values: dict[str, Any] = {"id": own_id}
        for field in spec.fields:
            if field.sort != "typed":
                values[field.name] = self.value(field)
        values |= given
        for field in spec.fields:
            if field.sort == "typed":
                self.add_typed(field, values)
        for child in spec.children:
            many = self.rng.choice((0, 0, 1, 2, 3)) if child.many else 1
            many = 0 if child.table in APART else many
            held = self.records(child.table, many)
            values[child.name] = held if child.many else held[0]
        return spec.cls(**values)

    def records(self, table: str, count: int) -> tuple[Any, ...]:
        unique = [field for field in RECORDS[table].fields if field.unique]
        targets = [self.ids.get(field.target, []) for field in unique if field.sort == "ref"]
        if targets:
            # One record for each of those that it points to, at the most.
            [pool] = targets
            chosen = self.rng.sample(pool, min(count, len(pool)))
            return tuple(self.record(table, **{unique[0].name: entry}) for entry in chosen)
        names = self.rng.sample(sorted(set(filter(None, map(self.as_name, self.texts)))), count)
        made = tuple(self.record(table, **{f.name: names[n] for f in unique}) for n in range(count))
        self.ids[table] = [entry.id for entry in made]
        return made

    def as_name(self, text: str) -> str:
        return str(RECORDS["station"].field("tag").check(text))

    def add_typed(self, field: FieldSpec, values: dict[str, Any]) -> None:
        values[field.name] = text = self.rng.choice(("", *TYPED_POWERS))
        if text:
            values[field.label] = parse_quantity(text, "power", "metric")

    def value(self, field: FieldSpec) -> Any:
        if field.pairs:
            return self.rng.choice(CHOICES)
        if field.sort in ("text", "long_text"):
            pool = self.texts + (list(TRICKY_NOTES) if field.sort == "long_text" else [])
            return field.check(self.rng.choice(["", *pool]))
        if field.sort == "choice":
            empty = [] if field.default is not None else [None]
            return self.rng.choice(list(field.choices) + empty)
        if field.sort == "flag":
            return self.rng.random() < 0.5
        if field.sort == "date":
            return self.rng.choice((None, "2026-11-25", "0001-01-01", "9999-12-31"))
        if field.sort == "ref":
            return self.rng.choice([None, *self.ids.get(field.target, [])])
        return self.number(field)

    def number(self, field: FieldSpec) -> float | int | None:
        typed = {"bin_rate": BIN_RATES, "conductor": CONDUCTORS}.get(field.kind)
        if typed:
            return parse_quantity(self.rng.choice(typed), field.kind, "metric")
        wanted = self.rng.choice([*self.numbers, *NUMBERS])
        if field.sort == "whole":
            wanted = int(wanted % 2**53)
        for number in (wanted, abs(wanted), wanted % 1 + 1):
            try:
                return field.check(number)  # type: ignore[no-any-return]
            except InputError:
                continue
        return None


def _with_settings(maker: _Maker, line: Line) -> Line:
    """Drive settings whose numbers are what their keypad texts mean."""
    import dataclasses

    stations = []
    for station in line.stations:
        drive_type = line.drive_type(station.drive.drive_type_id)
        settings = []
        for entry in station.drive.settings:
            listed = drive_type.listed(entry.code) if drive_type else None
            try:
                reading = read_keypad(entry.shown or "50", listed)
            except InputError:
                continue
            settings.append(dataclasses.replace(entry, shown=reading.shown, value=reading.value))
        drive = dataclasses.replace(station.drive, settings=tuple(settings))
        stations.append(dataclasses.replace(station, drive=drive))
    flows = [f for f in line.flows if f.from_station_id != f.to_station_id]
    return dataclasses.replace(line, stations=tuple(stations), flows=tuple(flows))


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """A line with any texts and numbers in every field that the file can hold."""
    signs = st.characters(exclude_categories=("Cs", "Cc"))
    texts = draw(st.lists(st.text(signs, max_size=20), min_size=2, max_size=8))
    numbers = draw(st.lists(st.floats(allow_nan=False, allow_infinity=False), max_size=8))
    rng = random.Random(draw(st.integers(0, 2**32)))
    maker = _Maker(rng, [*texts, *TRICKY_TEXTS], numbers)
    line: Line = maker.record("line")
    return _with_settings(maker, line)


def content(line: Line) -> dict[str, Any]:
    """All that a line holds, with references as places in their lists instead of ids."""
    places = {
        child.table: {entry.id: place for place, entry in enumerate(getattr(line, child.name))}
        for child in RECORDS["line"].children
    }
    return dict(_content("line", line, places))


def _content(
    table: str, record: Any, places: dict[str, dict[int, int]]
) -> Iterator[tuple[str, Any]]:
    spec = RECORDS[table]
    for field in spec.fields:
        value = getattr(record, field.name)
        known = field.sort == "ref" and value is not None
        yield field.name, places[field.target][value] if known else value
    for child in spec.children:
        held = getattr(record, child.name)
        entries = held if child.many else (held,)
        yield child.name, [dict(_content(child.table, entry, places)) for entry in entries]
