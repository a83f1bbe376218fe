"""From rows to the graph: order, gaps, and the collector left as it was found."""

import dataclasses
import gc
import sqlite3
from pathlib import Path

import pytest

from core.collector import without_collector
from core.model import RECORDS
from core.store import LineFile
from tests.core.store.guards import ask


def test_records_come_in_the_order_of_their_position(filled: Path) -> None:
    with sqlite3.connect(filled) as raw:
        for table in ("station", "motor", "setting", "listed_setting", "person"):
            raw.execute(f"UPDATE {table} SET position = 10 - position")
    raw.close()
    line = LineFile.read(filled)
    assert [station.id for station in line.stations] == [2, 1]
    assert [motor.id for motor in line.stations[0].motors] == [4, 3]
    assert [setting.id for setting in line.stations[1].drive.settings] == [2, 1]
    assert [listed.id for listed in line.drive_types[0].listed_settings] == [2, 1]
    assert [person.id for person in line.people] == [2, 1]


def test_equal_positions_are_read_alike_every_time(filled: Path) -> None:
    with sqlite3.connect(filled) as raw:
        raw.execute("UPDATE station SET position = 0")
    raw.close()
    assert [station.id for station in LineFile.read(filled).stations] == [1, 2]


def test_values_have_the_types_of_their_declarations(filled: Path) -> None:
    line = LineFile.read(filled)
    types = {"quantity": float, "whole": int, "flag": bool, "ref": int}
    motor, bus = line.stations[0].motors[0], line.buses[0]
    for record, table in ((motor, "motor"), (bus, "bus"), (line.stations[0].drive, "drive")):
        for field in RECORDS[table].fields:
            assert type(getattr(record, field.name)) is types.get(field.sort, str), field.name


def test_whole_graph_is_frozen(filled: Path) -> None:
    line = LineFile.read(filled)
    with pytest.raises(dataclasses.FrozenInstanceError):
        line.name = "New"  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError):
        line.stations[0].drive.serial = "New"  # type: ignore[misc]
    assert isinstance(line.stations, tuple)


def failwithout_collector() -> None:
    assert not gc.isenabled()
    raise ZeroDivisionError


@pytest.mark.parametrize("was_on", [True, False])
def test_collector_is_left_as_it_was(was_on: bool) -> None:
    try:
        (gc.enable if was_on else gc.disable)()
        with pytest.raises(ZeroDivisionError), without_collector():
            failwithout_collector()
        assert gc.isenabled() is was_on
    finally:
        gc.enable()


def test_more_records_than_one_question_may_name_are_read_again(book: LineFile) -> None:
    with book.step("Fill") as step:
        for number in range(1201):
            step.add("person", name=f"Person {number}")
    with book.step("Change all") as step:
        for person in book.line.people:
            step.set("person", person.id, role="Fitter")
    assert {person.role for person in book.line.people} == {"Fitter"}
    assert [person.name for person in book.line.people[::400]] == [
        "Person 0",
        "Person 400",
        "Person 800",
        "Person 1200",
    ]


def test_file_keeps_a_number_to_its_last_bit(book: LineFile, tmp_path: Path) -> None:
    values = [0.1 + 0.2, 1e-300, 123456.7890123456, 5e-324, 1.7976931348623157e308]
    with book.step("Fill") as step:
        for number, value in enumerate(values):
            step.add("station", tag=f"ST{number}", wanted_hz=value)
    target = tmp_path / "copy.linebook"
    book.save_copy(target)
    assert [station.wanted_hz for station in LineFile.read(target).stations] == values
    assert [row[0] for row in ask(target, "SELECT wanted_hz FROM station")] == values
