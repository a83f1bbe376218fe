"""What a comparison needs, gathered in the window's thread, and worked out off it."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.session import Session
from core.line import LineResults
from core.model import Line
from core.records.back_and_forth import ToldBackAndForth
from core.records.comparing import Difference
from core.records.consequences import Consequence
from core.records.put_back import PutBack
from core.store import FrozenRecord, HistoryRow

NOW, TRIAL = "now", "trial"
"""Sides that are no record: the line as it stands in the file, and the trial in its place."""
NOW_NAME, TRIAL_NAME = "The line as it stands in the file", "The trial"
_HISTORY_ROWS = 100_000


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two: a record, or a line that is at hand with its results."""

    key: str
    name: str
    record: FrozenRecord | None = None
    results: LineResults | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """All that is told of two sides."""

    before: Side
    after: Side
    difference: Difference
    consequences: tuple[Consequence, ...]
    put_back: tuple[PutBack, ...]
    turned: tuple[ToldBackAndForth, ...]


def sides_of(session: Session) -> list[Side]:
    """What can be compared: the line as it stands, a trial, the records from the newest on."""
    results = session.results_of_file or session.results
    sides = [Side(NOW, NOW_NAME, results=results)]
    if session.can_take_over:
        sides.append(Side(TRIAL, TRIAL_NAME, results=session.results))
    records = reversed(session.file_book.frozen())
    return [*sides, *(Side(str(record.id), record.name, record) for record in records)]


def history_of(session: Session, before: Side, after: Side) -> Sequence[HistoryRow]:
    """The history of the file where something may have been turned and turned back between."""
    if before.record is None or after.key == TRIAL:
        return ()
    return session.file_book.history(_HISTORY_ROWS)


def compared(before: Side, after: Side, history: Sequence[HistoryRow]) -> Compared:
    """Compare two sides; touches no file.

    Raises
    ------
    RecordError
        One of them is a record that was altered, or cannot be read.
    """
    from core.records.back_and_forth import back_and_forth, told_back_and_forth
    from core.records.comparing import compare
    from core.records.consequences import consequences
    from core.records.put_back import put_back

    difference = compare(_line(before), _line(after))
    turned: tuple[ToldBackAndForth, ...] = ()
    if before.record is not None:
        until = after.record.at if after.record is not None else ""
        found = back_and_forth(history, before.record.at, until)
        turned = told_back_and_forth(found, difference.after)
    return Compared(
        before,
        after,
        difference,
        consequences(difference, before.results, after.results),
        put_back(difference),
        turned,
    )


def _line(side: Side) -> Line:
    from core.records.keeping import line_of_record

    if side.record is not None:
        return line_of_record(side.record)
    assert side.results is not None
    return side.results.line
