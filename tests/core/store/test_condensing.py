"""Changes of a copy made in the file too: fewer of them, the same rows, one step."""

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from core.errors import InputError
from core.store import LineFile, actions
from core.store.condensing import condensed
from core.store.steps import Change
from tests.core.store.test_undo_property import MASTER, AnyActions


class AnyTrial(AnyActions):
    """Whatever is done to a copy can be done to its original in one step, and taken back."""

    def teardown(self) -> None:
        if not hasattr(self, "book"):
            return
        changes = condensed(self.book.done)
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "original.linebook"
            shutil.copy(MASTER.path(), path)
            with LineFile.open(path) as original:
                before = original.line
                original.repeat("Take over", changes)
                assert original.line == self.book.line
                if changes:
                    original.undo()
                assert original.line == before
                assert original.undo_name is None
        self.book.close()
        self.folder.cleanup()


TestAnyTrial = AnyTrial.TestCase
TestAnyTrial.settings = settings(
    max_examples=15,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def changed(before, after, record_id=1, table="station"):
    return Change(table, record_id, before, after)


def test_a_value_set_twice_is_set_once():
    changes = [changed({"name": "a"}, {"name": "b"}), changed({"name": "b"}, {"name": "c"})]
    assert condensed(changes) == [changed({"name": "a"}, {"name": "c"})]


def test_what_comes_back_to_where_it_was_is_left_out():
    changes = [changed({"name": "a"}, {"name": "b"}), changed({"name": "b"}, {"name": "a"})]
    assert condensed(changes) == []


def test_a_new_record_is_added_with_its_last_values():
    changes = [changed(None, {"id": 1, "name": ""}), changed({"name": ""}, {"name": "x"})]
    assert condensed(changes) == [changed(None, {"id": 1, "name": "x"})]


def test_other_records_are_not_mixed_up():
    changes = [
        changed({"name": "a"}, {"name": "b"}),
        changed({"name": "a"}, {"name": "b"}, record_id=2),
        changed({"name": "b"}, {"name": "c"}),
    ]
    assert condensed(changes) == [
        changed({"name": "a"}, {"name": "c"}),
        changed({"name": "a"}, {"name": "b"}, record_id=2),
    ]


def test_swapped_tags_keep_their_order_so_that_no_two_are_ever_the_same(filled):
    with LineFile.open(filled) as book:
        first, second = book.line.stations[:2]
        for station_id, tag in ((first.id, "?"), (second.id, first.tag), (first.id, second.tag)):
            actions.set_fields(book, "station", station_id, tag=tag)
        assert len(condensed(book.done)) == 3


def test_what_was_undone_is_not_among_what_is_done(filled):
    with LineFile.open(filled) as book:
        station = book.line.stations[0]
        actions.set_fields(book, "station", station.id, name="one")
        actions.set_fields(book, "station", station.id, name="two")
        book.undo()
        [change] = book.done
        assert change.after == {"name": "one"}


def test_nothing_to_repeat_makes_no_step(filled):
    with LineFile.open(filled) as book:
        book.repeat("Nothing", [])
        assert book.undo_name is None


@pytest.mark.parametrize(("record_id", "why"), [(999, "no station 999"), (0, "has changed since")])
def test_what_does_not_fit_changes_nothing(filled, record_id, why):
    with LineFile.open(filled) as book:
        first, before = book.line.stations[0], book.line
        fits = changed({"name": first.name}, {"name": "b"}, first.id)
        lost = changed({"name": "never so"}, {"name": "c"}, record_id or first.id)
        with pytest.raises(InputError, match=why):
            book.repeat("Misfit", [fits, lost])
        assert book.line is before
        assert book.undo_name is None
