"""One difference between two lines, and all of them together, as records."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from core.model import RECORDS, Line
from core.model.keypad import keypad_words

Sort = Literal["added", "removed", "changed", "not_read"]
EMPTY = "(empty)"
"""Stands where nothing was entered."""


@dataclass(frozen=True, slots=True)
class Change:
    """One difference. ``where`` names what it is about; ``what`` the field or the record.

    ``before`` and ``after`` are the stored values, ``was`` and ``now`` the same as people read
    them. ``part`` is what of the place it is about, such as one cable. Of a setting, ``unit`` is
    its unit, and ``was_means`` and ``now_means`` tell what a choice stands for.
    """

    sort: Sort
    group: str
    table: str
    tag: str
    where: str
    what: str
    field: str
    before: Any
    after: Any
    was: str
    now: str
    note: str = ""
    part: str = ""
    unit: str = ""
    was_means: str = ""
    now_means: str = ""

    def sentence(self, tr: Callable[[str], str] = str) -> str:
        """The difference in words; ``tr`` gives them in another language than English."""
        return f"{tr(self.where)}: {self._words(tr)}" if self.where else self._words(tr)

    def brief(self, tr: Callable[[str], str] = str) -> str:
        """The difference in words where the station is named already."""
        return f"{tr(self.part)}: {self._words(tr)}" if self.part else self._words(tr)

    def _words(self, tr: Callable[[str], str]) -> str:
        head = tr(self.what)
        if self.sort == "added":
            return f"{head} {tr('added')}{f' ({self.now})' if self.now else ''}"
        if self.sort == "removed":
            return f"{head} {tr('removed')}{f' ({self.was})' if self.was else ''}"
        if self.sort == "not_read":
            return f"{head} {tr('not read')}"
        was, now = self.was_told(tr), self.now_told(tr)
        if was.endswith(f" {self.unit}") and now.endswith(f" {self.unit}"):
            was = was.removesuffix(f" {self.unit}")
        words = f"{head} {was} → {now}"
        return f"{words} ({tr(self.note)})" if self.note else words

    def was_told(self, tr: Callable[[str], str] = str) -> str:
        """What it was, with its unit or with what it stands for."""
        return self._told(self.was, self.was_means, tr)

    def now_told(self, tr: Callable[[str], str] = str) -> str:
        """What it is, with its unit or with what it stands for."""
        return self._told(self.now, self.now_means, tr)

    def _told(self, shown: str, means: str, tr: Callable[[str], str]) -> str:
        """In another language a choice is translated, what was typed is not."""
        fields = RECORDS[self.table].fields
        chosen = any(spec.sort in ("choice", "flag") and spec.name == self.field for spec in fields)
        told = tr(shown) if chosen or shown == EMPTY else shown
        return told if shown == EMPTY else keypad_words(told, self.unit, means)


@dataclass(frozen=True, slots=True)
class Difference:
    """All that differs between two lines, what matters most first."""

    before: Line
    after: Line
    changes: tuple[Change, ...]

    def of(self, group: str) -> tuple[Change, ...]:
        """The changes of one group."""
        return tuple(change for change in self.changes if change.group == group)

    def at(self, tag: str) -> tuple[Change, ...]:
        """The changes at one station."""
        return tuple(change for change in self.changes if change.tag == tag)

    @property
    def not_read(self) -> tuple[Change, ...]:
        """Settings that could not be read, so that nothing can be said of them."""
        return tuple(change for change in self.changes if change.sort == "not_read")
