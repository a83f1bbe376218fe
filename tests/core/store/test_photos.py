"""Photographs in a file: undone and redone, dropped when nothing names them, told when altered."""

import contextlib
import datetime
import sqlite3
from pathlib import Path

import pytest

from core.errors import InputError, LineFileError
from core.photos import take_bytes
from core.records import canonical_text, line_of
from core.store import LineFile, actions
from core.store.photo_actions import add_photos
from core.store.photos import named_in
from core.store.schema import FORMAT
from tests.core.drawn_photos import as_file, plate
from tests.core.store.guards import ask

NOON = datetime.datetime(2026, 11, 25, 12, 0)


def drawn(seed=1):
    return take_bytes(as_file(plate(seed=seed)), f"plate-{seed}.jpg")


@pytest.fixture
def book(path):
    with LineFile.open(path) as opened:
        actions.add_station(opened)
        yield opened


def add(book, *seeds, **more):
    station = book.line.stations[0].id
    return add_photos(book, station, [drawn(seed) for seed in seeds], now=NOON, **more)


def photos(book):
    return book.line.stations[0].photos


def held(path):
    return [digest for (digest,) in ask(path, "SELECT sha256 FROM photo_content")]


def freeze(book):
    return book.freeze("as_commissioned", "R. Vale", "Handover", canonical_text(book.line, FORMAT))


def execute(path, *statement):
    with contextlib.closing(sqlite3.connect(path)) as raw:
        raw.execute(*statement)
        raw.commit()


# --- adding ---------------------------------------------------------------------------------


def test_an_added_photograph_says_what_it_is(book):
    add(book, 1, shows="motor_plate", person="R. Vale")
    [photo] = photos(book)
    assert (photo.shows, photo.person, photo.caption) == ("motor_plate", "R. Vale", "")
    assert (photo.width_px, photo.height_px) == (640, 480)
    assert photo.added_at == "2026-11-25 12:00"
    assert book.photo(photo.sha256) == drawn(1).content
    assert photo.size_bytes == len(drawn(1).content)


def test_several_are_one_step_in_their_order(book):
    add(book, 3, 1, 2)
    assert [photo.sha256 for photo in photos(book)] == [drawn(n).sha256 for n in (3, 1, 2)]
    assert book.undo_name == "Add 3 photographs"
    book.undo()
    assert photos(book) == ()


def test_one_that_is_there_is_not_added_twice(book):
    add(book, 1)
    add(book, 1, 2)
    assert len(photos(book)) == 2
    with pytest.raises(InputError, match="has this photograph already"):
        add(book, 1)


def test_nothing_is_added_to_a_station_that_is_gone(book):
    with pytest.raises(InputError, match="not there any more"):
        add_photos(book, 99, [drawn()])


def test_two_stations_with_the_same_photograph_keep_it_once(book, path):
    actions.add_station(book)
    for station in book.line.stations:
        add_photos(book, station.id, [drawn()])
    book.close()
    assert held(path) == [drawn().sha256]


def test_the_line_is_read_without_the_bytes(book, path):
    add(book, 1)
    book.close()
    assert drawn().content not in repr(LineFile.read(path)).encode()
    assert LineFile.read_photos(path, [drawn().sha256]) == {drawn().sha256: drawn().content}


# --- undo -----------------------------------------------------------------------------------


def test_removing_and_adding_can_be_undone_and_redone_with_the_bytes(book):
    [number] = add(book, 1)
    actions.remove_record(book, "photo", number)
    assert photos(book) == ()
    book.undo()
    assert book.photo(photos(book)[0].sha256) == drawn().content
    book.undo()
    assert photos(book) == ()
    book.redo()
    assert book.photo(photos(book)[0].sha256) == drawn().content


def test_removing_its_station_can_be_undone(book):
    add(book, 1, 2)
    actions.remove_station(book, book.line.stations[0].id)
    book.undo()
    assert [book.photo(photo.sha256) for photo in photos(book)] == [
        drawn(1).content,
        drawn(2).content,
    ]


def test_what_is_typed_about_it_is_a_step_and_it_can_be_moved(book):
    first, second = add(book, 1, 2)
    actions.set_fields(book, "photo", first, caption="As delivered", shows="drive_plate")
    actions.move_record(book, "photo", first, 1)
    assert [photo.id for photo in photos(book)] == [second, first]
    assert photos(book)[1].caption == "As delivered"


def test_the_history_tells_it(book):
    add(book, 1)
    newest = book.history(1)[0]
    assert (newest.step, newest.place) == ("Add photograph", "ST01")
    assert drawn().sha256 in newest.new


# --- what is kept ---------------------------------------------------------------------------


def test_a_removed_photograph_leaves_the_file_when_it_is_closed(book, path):
    [number] = add(book, 1)
    actions.remove_record(book, "photo", number)
    assert book.photo(drawn().sha256) == drawn().content
    book.close()
    assert held(path) == []
    assert drawn().content[200:400] not in path.read_bytes()


def test_an_undone_photograph_leaves_the_file_when_it_is_closed(book, path):
    add(book, 1)
    book.undo()
    book.close()
    assert held(path) == []


def test_what_a_killed_program_left_goes_at_the_next_opening(book, path):
    add(book, 1)
    book.close()
    execute(path, "DELETE FROM photo")
    LineFile.open(path).close()
    assert held(path) == []


def test_what_a_frozen_record_names_stays_for_ever(book, path):
    numbers = add(book, 1, 2)
    record = freeze(book)
    for number in numbers:
        actions.remove_record(book, "photo", number)
    add(book, 3)
    book.close()
    LineFile.open(path).close()
    assert set(held(path)) == {drawn(seed).sha256 for seed in (1, 2, 3)}
    assert named_in(record.content) == {drawn(1).sha256, drawn(2).sha256}


def test_a_file_without_anything_to_drop_is_not_written_to(book, path):
    add(book, 1)
    freeze(book)
    book.close()
    before = path.read_bytes()
    LineFile.open(path).close()
    assert path.read_bytes() == before


def test_a_copy_of_the_file_has_them(book, tmp_path):
    add(book, 1)
    book.save_copy(tmp_path / "copy.linebook")
    with LineFile.open(tmp_path / "copy.linebook") as copy:
        assert copy.photo(drawn().sha256) == drawn().content


# --- frozen records -------------------------------------------------------------------------


def test_a_record_carries_digest_and_caption_but_no_bytes(book):
    [number] = add(book, 1, shows="wiring")
    actions.set_fields(book, "photo", number, caption="Strip X1")
    record = freeze(book)
    assert f'"sha256":"{drawn().sha256}"' in record.content
    assert '"caption":"Strip X1"' in record.content
    assert len(record.content) < 10_000 < len(drawn().content)
    assert line_of(record.content) == book.line


def test_a_file_made_from_a_record_has_its_photographs(book, tmp_path):
    [number] = add(book, 1)
    line = line_of(freeze(book).content)
    actions.remove_record(book, "photo", number)
    contents = book.photos(line.photo_digests)
    with LineFile.create_from(tmp_path / "aside.linebook", line, contents) as aside:
        assert aside.line == line
        assert aside.photo(drawn().sha256) == drawn().content


def test_changes_of_a_copy_bring_their_photographs_along(book, tmp_path):
    book.save_copy(tmp_path / "copy.linebook")
    with LineFile.open(tmp_path / "copy.linebook") as copy:
        add(copy, 1)
        book.repeat("Take over", copy.done, copy.photos(copy.line.photo_digests))
    assert book.photo(photos(book)[0].sha256) == drawn().content


# --- altered outside ------------------------------------------------------------------------


def test_an_altered_record_keeps_every_photograph_that_it_may_have_named(book, path):
    add(book, 1)
    freeze(book)
    actions.remove_record(book, "photo", photos(book)[0].id)
    book.close()
    [(whole,)] = ask(path, "SELECT content FROM frozen_record")
    # Another program wrote the same JSON with spaces: no digest is found in it any more.
    spaced = whole.replace(":", ": ")
    execute(path, "UPDATE frozen_record SET content = ?", [spaced])
    LineFile.open(path).close()
    assert held(path) == [drawn().sha256]
    execute(path, "UPDATE frozen_record SET content = ?", [whole])
    with LineFile.open(path) as again:
        assert again.frozen()[0].is_sound
        assert again.photo_faults() == {}
        assert again.photo(drawn().sha256) == drawn().content


def test_bytes_altered_outside_are_told(book, path):
    add(book, 1, 2)
    book.close()
    assert LineFile.read_photo_faults(path) == {}
    execute(path, "UPDATE photo_content SET content = x'FFD8' WHERE sha256 = ?", [drawn(2).sha256])
    assert LineFile.read_photo_faults(path) == {drawn(2).sha256: "altered"}
    with LineFile.open(path) as again:
        assert again.photo_faults() == {drawn(2).sha256: "altered"}
        assert again.photo(drawn(1).sha256) == drawn(1).content
        with pytest.raises(LineFileError, match="altered outside Linebook"):
            again.photo(drawn(2).sha256)
        assert set(again.photos(again.line.photo_digests)) == {drawn(1).sha256}


def test_one_changed_bit_is_told(book, path):
    add(book, 1)
    book.close()
    content = bytearray(drawn().content)
    content[len(content) // 2] ^= 1
    execute(path, "UPDATE photo_content SET content = ?", [bytes(content)])
    assert LineFile.read_photo_faults(path) == {drawn().sha256: "altered"}


def test_a_record_that_is_no_text_any_more_takes_nothing_along(book, path):
    [number] = add(book, 1)
    freeze(book)
    actions.remove_record(book, "photo", number)
    book.close()
    # Its digest still stands in it, between bytes that are no UTF-8.
    execute(path, "UPDATE frozen_record SET content = CAST(x'ff' || content || x'ff' AS TEXT)")
    LineFile.open(path).close()
    assert held(path) == [drawn().sha256]
    assert LineFile.read_photo_faults(path) == {}
    execute(path, "DELETE FROM photo_content")
    assert LineFile.read_photo_faults(path) == {drawn().sha256: "missing"}


def test_a_text_in_place_of_bytes_is_told(book, path):
    add(book, 1)
    book.close()
    execute(path, "UPDATE photo_content SET content = 'text'")
    assert LineFile.read_photo_faults(path) == {drawn().sha256: "altered"}


def test_bytes_taken_out_are_told_for_the_line_and_for_records(book, path):
    [number] = add(book, 1)
    freeze(book)
    actions.remove_record(book, "photo", number)
    add(book, 2)
    book.close()
    execute(path, "DELETE FROM photo_content")
    gone = {drawn(seed).sha256: "missing" for seed in (1, 2)}
    assert LineFile.read_photo_faults(path) == gone
    with LineFile.open(path) as again, pytest.raises(LineFileError, match="not in the file"):
        again.photo(drawn(2).sha256)


def test_adding_it_again_mends_what_was_altered(book, path):
    add(book, 1)
    book.close()
    execute(path, "UPDATE photo_content SET content = x'00'")
    with LineFile.open(path) as again:
        actions.add_station(again)
        add_photos(again, again.line.stations[1].id, [drawn()])
        assert again.photo_faults() == {}


def test_an_older_file_has_none(tmp_path):
    import shutil

    old = Path(__file__).parent / "old_files" / "0004_filled.linebook"
    path = Path(shutil.copy(old, tmp_path / "old.linebook"))
    assert LineFile.read_photos(path, ["0" * 64]) == {}
    assert LineFile.read_photo_faults(path) == {}
