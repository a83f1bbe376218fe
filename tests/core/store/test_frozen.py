"""Frozen records: written once, numbered by kind, verified, and not lost by anything."""

import hashlib
import sqlite3
from contextlib import closing

import pytest

from core.errors import InputError
from core.store import LineFile
from core.store.frozen import altered_words, named, usual_sides


@pytest.fixture
def book(path):
    with LineFile.open(path) as opened:
        yield opened


def freeze(book, content="{}", kind="as_commissioned"):
    return book.freeze(kind, "R. Vale", "Handover", content)


def test_a_record_keeps_its_content_and_its_digest(book):
    made = freeze(book, '{"a":1}')
    [held] = book.frozen()
    assert held == made
    assert held.content == '{"a":1}'
    # By hashlib itself, which is the independent implementation.
    assert held.sha256 == hashlib.sha256(b'{"a":1}').hexdigest()
    assert held.is_sound


def test_revisions_count_by_kind(book):
    for kind in ("as_commissioned", "as_found", "as_commissioned"):
        freeze(book, kind=kind)
    told = [(held.kind, held.revision) for held in book.frozen()]
    assert told == [("as_commissioned", 1), ("as_found", 1), ("as_commissioned", 2)]


def test_a_record_without_person_or_reason_is_refused(book):
    with pytest.raises(InputError, match="who freezes it"):
        book.freeze("as_commissioned", " ", "Handover", "{}")
    with pytest.raises(InputError, match="why"):
        book.freeze("as_commissioned", "R. Vale", "", "{}")
    with pytest.raises(InputError, match="no kind"):
        book.freeze("as_dreamt", "R. Vale", "Handover", "{}")
    assert book.frozen() == ()


def test_freezing_stands_in_the_history_and_is_no_step(book):
    made = freeze(book)
    newest = book.history(1)[0]
    assert newest.step == "Freeze: As commissioned, revision 1"
    assert made.sha256 in (newest.new or "")
    assert book.undo_name is None


def test_one_changed_byte_is_told(book, path):
    freeze(book, '{"speed":12.5}')
    book.close()
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("UPDATE frozen_record SET content = replace(content, '12.5', '12.6')")
        raw.commit()
    [held] = LineFile.read_frozen(path)
    assert not held.is_sound


def altered(path, statement):
    with closing(sqlite3.connect(path)) as raw:
        raw.execute(statement)
        raw.commit()
    return LineFile.read_frozen(path)


@pytest.mark.parametrize(
    "change",
    [
        "person = 'Somebody else'",
        "reason = 'Another reason'",
        "at = '2001-01-01T00:00:00+00:00'",
        "revision = 7",
        "kind = 'as_found'",
        "content = CAST(x'ff7b7d' AS TEXT)",  # no text any more
        # Another content with its right hash.
        f"content = '[]', sha256 = '{hashlib.sha256(b'[]').hexdigest()}'",
    ],
)
def test_what_was_altered_beside_the_content_is_told_too(book, path, change):
    freeze(book)
    assert book.frozen()[0].is_sound
    book.close()
    [held] = altered(path, f"UPDATE frozen_record SET {change}")
    assert not held.is_sound
    assert held.name in altered_words([held])


def test_a_record_that_the_history_knows_nothing_of_is_not_sound(book, path):
    freeze(book)
    book.close()
    [held] = altered(path, "DELETE FROM history WHERE table_name = 'frozen_record'")
    assert not held.is_sound


def test_sound_records_need_no_word(book):
    freeze(book)
    assert altered_words(book.frozen()) == ""


def test_a_copy_of_the_file_has_the_records(book, tmp_path):
    made = freeze(book)
    book.save_copy(tmp_path / "copy.linebook")
    assert LineFile.read_frozen(tmp_path / "copy.linebook") == (made,)


def test_a_record_is_named_by_id_kind_or_revision(book):
    first, found, second = (
        freeze(book),
        freeze(book, kind="as_found"),
        freeze(book),
    )
    records = book.frozen()
    assert named(records, str(first.id)) == first
    assert named(records, "as_commissioned") == second
    assert named(records, "as-commissioned:1") == first
    assert named(records, "as_found:1") == found
    with pytest.raises(InputError, match="There are: as_commissioned:1, as_found:1"):
        named(records, "as_found:9")


def test_one_mostly_compares_what_was_handed_over_with_what_was_met_since(book):
    assert usual_sides(book.frozen()) == (None, None)
    early = freeze(book, kind="as_found")
    assert usual_sides(book.frozen()) == (early, None)
    first = freeze(book)
    assert usual_sides(book.frozen()) == (first, None)
    freeze(book, kind="as_found")
    found = freeze(book, kind="as_found")
    assert usual_sides(book.frozen()) == (first, found)
    second = freeze(book)
    assert usual_sides(book.frozen()) == (second, None)


def test_an_altered_record_is_not_proposed(book, path):
    first = freeze(book)
    freeze(book, '{"a":2}')
    book.close()
    held = altered(path, "UPDATE frozen_record SET content = '{}' WHERE revision = 2")
    assert usual_sides(held) == (first, None)


def test_a_record_of_format_4_is_sound_though_its_history_told_no_reason(book, path):
    made = freeze(book)
    book.close()
    with closing(sqlite3.connect(path)) as conn, conn:
        # As version 4 wrote it: the digest alone, as JSON.
        conn.execute(
            "UPDATE history SET new = ? WHERE table_name = 'frozen_record'", (f'"{made.sha256}"',)
        )
    with LineFile.open(path) as again:
        assert [held.is_sound for held in again.frozen()] == [True]


def test_a_revision_is_never_given_twice_though_its_record_was_taken_out_outside(tmp_path):
    path = tmp_path / "line.linebook"
    with LineFile.create(path, name="Line") as book:
        for reason in ("one", "two"):
            book.freeze("as_commissioned", "R. Vale", reason, "{}")
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("DELETE FROM frozen_record WHERE revision = 2")
        raw.commit()
    with LineFile.open(path) as book:
        assert book.freeze("as_commissioned", "R. Vale", "three", "{}").revision == 3
        assert book.freeze("as_found", "R. Vale", "first", "{}").revision == 1


def test_a_record_that_was_taken_out_outside_is_told_and_never_stands_in_for_another(book, path):
    freeze(book, "[1]")
    freeze(book, "[2]")
    book.close()
    first, gone = altered(path, "DELETE FROM frozen_record WHERE content = '[2]'")
    assert first.is_sound
    assert not gone.is_sound
    assert gone.name == "As commissioned, revision 2"
    assert gone.name in altered_words([first, gone])
    # The newest is still the one that is missing; nothing older is taken for it in silence.
    assert named([first, gone], "as_commissioned") is gone
