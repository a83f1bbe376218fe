"""What a finding is: a rule that fired, the figures it rests on, and where to go to mend it.

A rule's words are written once, with the figures' names in braces; the names carry their units, so
a finding tells itself in the units of the line and compares by its figures, not by its wording.
"""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.line.figures import kind_of
from core.units import System, show_computed

Level = Literal["blocker", "fault", "advice"]
LEVELS: tuple[Level, ...] = ("blocker", "fault", "advice")
"""From the heaviest to the lightest."""
LEVEL_WORDS: Mapping[Level, str] = {"blocker": "Blocker", "fault": "Fault", "advice": "Advice"}
LEVEL_MEANINGS: Mapping[Level, str] = {
    "blocker": "do not energise or run",
    "fault": "will not do its job",
    "advice": "worth knowing",
}

Value = float | int | str

TYPED = frozenset(
    (
        "bus",
        "code",
        "codes",
        "drive_type",
        "enclosure",
        "due",
        "first",
        "input_name",
        "instrument",
        "meaning",
        "protection",
        "second",
        "serial",
        "shown",
        "stations",
        "supply",
        "terminal",
        "when",
    )
)
"""Names of figures that hold what somebody typed, which is the same in every language."""


@dataclass(frozen=True, slots=True)
class FindingRule:
    """What a rule says, follows, mends, and where it comes from.

    ``says``, ``follows`` and ``mend`` are sentences with names of figures in braces.
    """

    key: str
    level: Level
    says: str
    follows: str
    mend: str
    source: str


@dataclass(frozen=True, slots=True)
class Place:
    """The entry to look at first: a table, a record, a field."""

    table: str
    record_id: int
    field: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule that fired at a station, or for the whole line (``station_id`` None)."""

    rule: FindingRule
    station_id: int | None
    tag: str
    place: Place
    values: Mapping[str, Value] = field(default_factory=dict)

    @property
    def level(self) -> Level:
        """How heavy it is."""
        return self.rule.level

    @property
    def key(self) -> str:
        """Key of its rule."""
        return self.rule.key

    @property
    def mark(self) -> str:
        """Stands for this finding with these figures; another figure gives another mark.

        An acceptance is kept under the mark, so that it ends when the figures change.
        """
        told = [self.key, self.tag, {name: _rounded(value) for name, value in self.values.items()}]
        text = json.dumps(told, sort_keys=True, ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()[:16]

    def says(self, system: System) -> str:
        """What is wrong, with its figures in these units."""
        return self.told(self.rule.says, system)

    def follows(self, system: System) -> str:
        """What follows from it."""
        return self.told(self.rule.follows, system)

    def mend(self, system: System) -> str:
        """What would mend it."""
        return self.told(self.rule.mend, system)

    def told(self, words: str, system: System, tr: Callable[[str], str] = str) -> str:
        """A sentence of its rule, filled with its figures.

        Parameters
        ----------
        words : str
            The sentence, as its rule has it or as it is in another language.
        system : "metric" or "us"
            Units of the figures.
        tr : callable
            Gives the words among the figures in the language of the sentence.
        """
        shown = {name: _shown(name, value, system, tr) for name, value in self.values.items()}
        shown.setdefault("when", "")
        return words.format_map(shown)


def _shown(name: str, value: Value, system: System, tr: Callable[[str], str]) -> str:
    if isinstance(value, str):
        return value if name in TYPED else tr(value)
    if name.endswith("_share"):
        return str(show_computed(value, "ratio", system))
    return str(show_computed(value, kind_of(name), system))


def _rounded(value: Value) -> Value:
    # Far below what anybody reads, far above the noise of floating point.
    return value if isinstance(value, str) else float(f"{value:.6g}")
