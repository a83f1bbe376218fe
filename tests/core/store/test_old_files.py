"""A filled file of every released format, opened by the program of today."""

import dataclasses
import hashlib
import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import migrations
from core.model import RECORDS, RECORDS_BY_CLASS, Line
from core.records import line_of
from core.store import LineFile
from core.store.schema import FORMAT, metadata
from tests.core.store.filling import photo_bytes
from tests.core.store.guards import ask, differences
from tests.core.store.make_old_file import FOLDER

OLD_FILES = sorted(FOLDER.glob("*.linebook"))


@pytest.fixture(params=OLD_FILES, ids=lambda path: path.stem)
def old_file(request: pytest.FixtureRequest) -> Path:
    path: Path = request.param
    return path


@pytest.fixture
def copied(old_file: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(old_file, tmp_path / "old.linebook"))


def test_every_revision_has_a_filled_file() -> None:
    scripts = (Path(migrations.__file__).parent / "versions").glob("[0-9]*.py")
    assert {path.stem[:4] for path in OLD_FILES} == {script.stem[:4] for script in scripts}


def test_file_is_of_the_format_in_its_name(old_file: Path) -> None:
    assert int.from_bytes(old_file.read_bytes()[60:64], "big") == int(old_file.stem[:4])


def test_every_table_has_rows_and_every_column_a_value_of_its_own(old_file: Path) -> None:
    tables = [
        name
        for (name,) in ask(old_file, "SELECT name FROM sqlite_master WHERE type='table'")
        if name not in ("sqlite_sequence", "alembic_version", "frozen_record")
    ]
    # Frozen records have old files of their own.
    assert len(tables) == len(metadata.tables) - 1 or int(old_file.stem[:4]) < FORMAT
    for table in tables:
        for _, column, _, _, default, _ in ask(old_file, f"PRAGMA table_info({table})"):
            usual = "NULL" if default is None else default
            own = ask(old_file, f'SELECT count(*) FROM {table} WHERE "{column}" IS NOT {usual}')
            assert own[0][0] > 0, f"{table}.{column}"


def test_reading_gives_every_value_that_was_put_in(copied: Path, old_file: Path) -> None:
    written = json.loads(old_file.with_suffix(".json").read_text(encoding="utf-8"))
    if int(old_file.stem[:4]) < 3:
        _move_fruit(written)
    found = {table: dict(_rows_in(LineFile.read(copied), table)) for table in RECORDS}
    assert sum(len(rows) for rows in written.values()) > 50
    for table, rows in written.items():
        assert list(found[table]) == sorted(rows, key=int), table
        for record_id, values in rows.items():
            for name, value in values.items():
                if name != "position":
                    assert found[table][record_id][name] == value, f"{table} {record_id} {name}"


def test_opening_gives_the_same_line_as_reading(copied: Path) -> None:
    line = LineFile.read(copied)
    with LineFile.open(copied) as book:
        assert book.line == line


def test_history_comes_through(copied: Path, old_file: Path) -> None:
    told = ask(old_file, "SELECT count(*) FROM history")[0][0]
    with LineFile.open(copied) as book:
        history = book.history()
    assert len(history) == told > 100
    assert history[-1].step == "Make the file"
    assert {row.person for row in history} == {"tester"}


def test_frozen_records_come_through_and_still_verify(copied: Path, old_file: Path) -> None:
    # As `LineFile.freeze` told it when the file was made by the program of format 4.
    frozen = {"0004_frozen": "96cb6f02cb4b493eb429261b00ccb1e189cd001d94acb699dd3ad4d9b8b574b9"}
    with LineFile.open(copied) as book:
        held = book.frozen()
    wanted = [digest for stem, digest in frozen.items() if stem == old_file.stem]
    assert [hashlib.sha256(record.content.encode()).hexdigest() for record in held] == wanted
    assert [record.is_sound for record in held] == [True] * len(wanted)
    assert all(line_of(record.content).stations for record in held)


def test_bytes_of_photographs_come_through(copied: Path, old_file: Path) -> None:
    count = 4 if int(old_file.stem[:4]) >= 5 else 0
    with LineFile.open(copied) as book:
        held = book.photos(book.line.photo_digests)
    assert sorted(held.values()) == [photo_bytes(number) for number in range(1, count + 1)]


def test_opened_file_has_the_newest_tables(copied: Path) -> None:
    LineFile.open(copied).close()
    assert differences(copied) == []


def test_opened_file_can_be_written_to(copied: Path) -> None:
    with LineFile.open(copied) as book, book.step("Rename") as step:
        step.set("line", book.line.id, name="Now")
    assert LineFile.read(copied).name == "Now"


def _move_fruit(written: dict[str, dict[str, dict[str, Any]]]) -> None:
    """Where format 3 keeps the fruit of the line: in its first recipe."""
    [line] = written["line"].values()
    moved = (
        "fruit fruit_mass_kg fruit_diameter_m fruit_bulk_kg_m3 throughput bins_1_s bin_mass_kg "
        "mass_flow_kg_s fruit_1_s culled"
    )
    recipe = {name: line.pop(name) for name in moved.split()}
    written["recipe"] = {"1": {"id": 1, "name": recipe["fruit"], **recipe}}


def _rows_in(line: Line, table: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Id and fields of every record of one kind, with the id of the record that holds it."""
    found = [
        (record.id, {**_fields(record), **holder})
        for record, holder in _records(line, {})
        if RECORDS_BY_CLASS[type(record)].table == table
    ]
    return iter([(str(record_id), row) for record_id, row in sorted(found, key=lambda r: r[0])])


def _records(record: Any, holder: dict[str, int]) -> Iterator[tuple[Any, dict[str, int]]]:
    yield record, holder
    spec = RECORDS_BY_CLASS[type(record)]
    here = {} if spec.table == "line" else {f"{spec.table}_id": record.id}
    for child in spec.children:
        held = getattr(record, child.name)
        for entry in held if child.many else (held,):
            yield from _records(entry, here)


def _fields(record: Any) -> dict[str, Any]:
    kept = {field.name for field in RECORDS_BY_CLASS[type(record)].fields} | {"id"}
    return {f.name: getattr(record, f.name) for f in dataclasses.fields(record) if f.name in kept}
