"""Freezing a line, and the line of a frozen record: only of one that still is what was frozen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from core.errors import InputError
from core.line import LineResults
from core.line.checks import checks_of
from core.line.findings import Findings
from core.line.findings.base import LEVEL_WORDS
from core.model import Line
from core.records.canonical import canonical_text
from core.records.rebuild import PRESENT, RecordError, line_of

_Record = TypeVar("_Record", covariant=True)


class Frozen(Protocol):
    """A frozen record as a file keeps it."""

    @property
    def name(self) -> str:
        """Its name for people."""

    @property
    def content(self) -> str:
        """The canonical text."""

    @property
    def is_sound(self) -> bool:
        """Whether it still is what was frozen."""


class Keeper(Protocol[_Record]):
    """A file that keeps records."""

    def freeze(self, kind: str, person: str, reason: str, content: str) -> _Record:
        """Keep a content for good."""


def freeze(book: Keeper[_Record], line: Line, kind: str, person: str, reason: str) -> _Record:
    """Freeze a line into a file, and give the record.

    Raises
    ------
    InputError
        Person or reason are missing, or the line holds something that could not be read again.
    LineFileError
        The disk did not take it.
    """
    content = canonical_text(line, PRESENT)
    try:
        # A record never changes: one that nobody could read again would be lost with its visit.
        line_of(content)
    except RecordError as fault:
        raise InputError(
            "The record was not frozen.", fault.why, "Mend that entry, then freeze."
        ) from fault
    return book.freeze(kind, person, reason, content)


def line_of_record(record: Frozen) -> Line:
    """The line of a frozen record that verifies.

    Raises
    ------
    RecordError
        It was altered outside Linebook, or cannot be read.
    """
    if not record.is_sound:
        raise RecordError(
            f"{record.name} is not used.",
            "It is not what was frozen: it was altered outside Linebook.",
            "Take the record from a copy of the file that verifies.",
        )
    return line_of(record.content)


@dataclass(frozen=True, slots=True)
class Standing:
    """What is not done on a line that is to be frozen; it may be frozen all the same.

    ``checks`` is the number of all checks, ``findings`` counts those that nobody accepted by level.
    """

    checks: int
    open_checks: int
    out_checks: int
    findings: Mapping[str, int]

    @property
    def is_clear(self) -> bool:
        """Whether nothing is left to do before it is frozen."""
        return not (self.open_checks or self.out_checks or self.blockers or self.faults)

    @property
    def blockers(self) -> int:
        """Blockers that nobody accepted."""
        return self.findings.get("blocker", 0)

    @property
    def faults(self) -> int:
        """Faults that nobody accepted."""
        return self.findings.get("fault", 0)

    def words(self) -> tuple[str, ...]:
        """What is left, one short sentence for each kind; a single one where nothing is."""
        told = []
        if self.open_checks:
            told.append(f"{self.open_checks} of {_counted(self.checks, 'check')} open.")
        if self.out_checks:
            told.append(f"{_counted(self.out_checks, 'check')} out of limits without a reason.")
        for word, count in (("blocker", self.blockers), ("fault", self.faults)):
            if count:
                told.append(f"{_counted(count, word)} not accepted.")
        return tuple(told) or ("Every check is done, and no blocker or fault stands open.",)


def standing_of(results: LineResults, findings: Findings) -> Standing:
    """What is not done on a line: checks that are open or out of limits, findings to accept."""
    states = [item.state for item in checks_of(results)]
    levels = [entry.level for entry in findings.open]
    return Standing(
        len(states),
        states.count("open"),
        states.count("out"),
        {level: levels.count(level) for level in LEVEL_WORDS},
    )


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
