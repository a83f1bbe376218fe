"""Any actions in any order: undone and done again, and read anew, the line is the very same."""

import shutil
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from core.errors import InputError
from core.model import RECORDS, Line
from core.store import LineFile
from core.store.actions import (
    PARTS,
    add_record,
    add_station,
    duplicate_drive_type,
    move_record,
    remove_record,
    set_feeds,
    set_fields,
    set_many,
    set_settings,
    take_over,
)
from core.store.reading import read_line
from tests.core.store.test_linefile import copied_line

NUMBERS = st.integers(0, 9)
WORDS = st.text(st.characters(exclude_categories=["C"]), max_size=12)
HELD_BY_STATION = ("motor", "preset", "digital_input", "output", "cable")
HELD_BY_LINE = ("person", "instrument", "supply", "enclosure", "bus", "drive_type")
REFERENCES = {
    "supply_id": "supplies",
    "enclosure_id": "enclosures",
    "bus_id": "buses",
    "drive_type_id": "drive_types",
}


class AnyActions(RuleBasedStateMachine):
    """Does what a user may do, right or wrong, and keeps the lines that came of it."""

    @initialize()
    def open_file(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        path = Path(self.folder.name) / "any.linebook"
        shutil.copy(MASTER.path(), path)
        self.book = LineFile.open(path)
        self.lines: list[Line] = [self.book.line]

    def teardown(self) -> None:
        if not hasattr(self, "book"):
            return
        self.undo_all_and_redo_all()
        self.book.close()
        assert LineFile.read(self.book.path) == self.book.line
        self.folder.cleanup()

    def do(self, action: object, *args: object, **values: object) -> None:
        """Run one action; a refusal has to leave everything as it was."""
        before, name = self.book.line, self.book.undo_name
        try:
            action(self.book, *args, **values)  # type: ignore[operator]
        except InputError:
            assert self.book.line is before
            assert self.book.undo_name == name
            return
        if self.book.line is not before:
            self.lines.append(self.book.line)

    def station(self, number: int) -> int:
        stations = self.book.line.stations
        return stations[number % len(stations)].id if stations else 99

    @rule(place=st.none() | NUMBERS)
    def add_a_station(self, place: int | None) -> None:
        self.do(add_station, at=place)

    @rule(number=NUMBERS)
    def remove_a_station(self, number: int) -> None:
        if self.book.line.stations:
            self.do(remove_record, "station", self.station(number))

    @rule(number=NUMBERS, tag=st.sampled_from(["ST01", "ST02", "X", ""]), name=WORDS)
    def rename_a_station(self, number: int, tag: str, name: str) -> None:
        self.do(set_fields, "station", self.station(number), tag=tag, name=name)

    @rule(number=NUMBERS, place=NUMBERS)
    def move_a_station(self, number: int, place: int) -> None:
        self.do(move_record, "station", self.station(number), place)

    @rule(table=st.sampled_from(HELD_BY_STATION), number=NUMBERS)
    def add_to_a_station(self, table: str, number: int) -> None:
        self.do(add_record, table, self.station(number))

    @rule(table=st.sampled_from(HELD_BY_LINE), name=WORDS)
    def add_to_the_line(self, table: str, name: str) -> None:
        self.do(add_record, table, name=name)

    @rule(
        table=st.sampled_from(sorted(set(RECORDS) - {"line", "station"})), number=st.integers(1, 4)
    )
    def remove_any(self, table: str, number: int) -> None:
        singles = {c.table for spec in RECORDS.values() for c in spec.children if not c.many}
        if table not in singles:
            self.do(remove_record, table, number)

    @rule(number=NUMBERS, name=st.sampled_from(sorted(REFERENCES)), which=NUMBERS)
    def choose_what_a_drive_refers_to(self, number: int, name: str, which: int) -> None:
        offered = [entry.id for entry in getattr(self.book.line, REFERENCES[name])] or [None]
        if self.book.line.stations:
            drive = self.book.line.station(self.station(number)).drive
            self.do(set_fields, "drive", drive.id, **{name: offered[which % len(offered)]})

    @rule(number=NUMBERS, power=st.floats(-1.0, 5000.0), again=NUMBERS)
    def paste_powers(self, number: int, power: float, again: int) -> None:
        motors = [motor for s in self.book.line.stations for motor in s.motors]
        chosen = motors[number : number + again]
        self.do(set_many, "Paste", [("motor", motor.id, {"power_w": power}) for motor in chosen])

    @rule(
        number=NUMBERS,
        values=st.dictionaries(st.sampled_from("ABC"), st.sampled_from(["", "1", "x"])),
    )
    def set_drive_settings(self, number: int, values: dict[str, str]) -> None:
        if self.book.line.stations:
            self.do(set_settings, {self.station(number): values})

    @rule(number=NUMBERS, others=st.lists(NUMBERS, max_size=3))
    def say_what_a_station_feeds(self, number: int, others: list[int]) -> None:
        if self.book.line.stations:
            tags = [self.book.line.station(self.station(other)).tag for other in others]
            self.do(set_feeds, self.station(number), tags)

    @rule(
        source=NUMBERS,
        takers=st.lists(NUMBERS, max_size=3),
        parts=st.sets(st.sampled_from(list(PARTS))),
    )
    def make_like(self, source: int, takers: list[int], parts: set[str]) -> None:
        if self.book.line.stations:
            ids = [self.station(taker) for taker in takers]
            self.do(take_over, self.station(source), ids, sorted(parts))

    @rule(number=NUMBERS)
    def copy_a_drive_type(self, number: int) -> None:
        if types := self.book.line.drive_types:
            self.do(duplicate_drive_type, types[number % len(types)].id)

    @rule()
    @precondition(lambda self: len(self.lines) > 1)
    def undo_one(self) -> None:
        self.book.undo()
        assert self.book.line == self.lines[-2]
        self.lines.pop()

    @rule()
    @precondition(lambda self: len(self.lines) > 1)
    def undo_all_and_redo_all(self) -> None:
        end = self.book.line
        for before in reversed(self.lines[:-1]):
            self.book.undo()
            assert self.book.line == before
        assert self.book.undo_name is None
        for after in self.lines[1:]:
            self.book.redo()
            assert self.book.line == after
        assert self.book.line == end

    @invariant()
    def graph_is_what_the_file_holds(self) -> None:
        if hasattr(self, "book"):
            with self.book._live.begin() as conn:
                assert read_line(conn) == self.book.line

    @rule()
    def copy_holds_the_same(self) -> None:
        assert copied_line(self.book) == self.book.line


class _Master:
    """A filled file, made when it is first asked for."""

    def __init__(self) -> None:
        self._folder: tempfile.TemporaryDirectory[str] | None = None

    def path(self) -> Path:
        if self._folder is None:
            from tests.core.store.filling import fill

            self._folder = tempfile.TemporaryDirectory()
            with LineFile.create(Path(self._folder.name) / "master.linebook") as book:
                fill(book)
        return Path(self._folder.name) / "master.linebook"


MASTER = _Master()

TestAnyActions = AnyActions.TestCase
TestAnyActions.settings = settings(
    max_examples=15,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
