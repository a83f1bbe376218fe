"""What was changed away and back again between two moments: no difference, and yet worth a word."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol


class _Row(Protocol):
    @property
    def at(self) -> str: ...
    @property
    def table(self) -> str: ...
    @property
    def record_id(self) -> int: ...
    @property
    def place(self) -> str: ...
    @property
    def field(self) -> str: ...
    @property
    def old(self) -> str | None: ...
    @property
    def new(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class BackAndForth:
    """One field that stands where it stood, after so many changes; values as in the history."""

    place: str
    table: str
    field: str
    value: str | None
    between: tuple[str | None, ...]
    count: int


def back_and_forth(history: Iterable[_Row], since: str = "") -> Iterator[BackAndForth]:
    """Fields that were changed and stand again as they stood.

    Parameters
    ----------
    history : iterable of HistoryRow
        From `core.store`, in any order.
    since : str
        Only changes after this moment, as the history writes moments; all without it.

    Examples
    --------
    A knob that was turned up in the night and back in the morning.
    """
    by_field: dict[tuple[str, int, str], list[_Row]] = {}
    for row in history:
        if row.at > since and row.field:
            by_field.setdefault((row.table, row.record_id, row.field), []).append(row)
    for (table, _, field), rows in by_field.items():
        rows.sort(key=lambda row: row.at)
        first, last = rows[0], rows[-1]
        if len(rows) > 1 and first.old == last.new:
            between = tuple(dict.fromkeys(row.new for row in rows[:-1]))
            yield BackAndForth(last.place, table, field, last.new, between, len(rows))
