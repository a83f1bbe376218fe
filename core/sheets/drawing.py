"""A drawing, apart from who draws it: plain shapes for paper, window and spreadsheet alike.

Lengths are in points (1/72 inch), y grows downwards, angles are in degrees clockwise. Colours are
inks with a meaning; each painter has its own value for every ink, so that the same drawing is
right on paper, in daylight, in the dark and at high contrast.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Ink = Literal[
    "ink",
    "quiet",
    "faint",
    "paper",
    "accent",
    "blocker",
    "fault",
    "advice",
    "good",
    "series_1",
    "series_2",
    "series_3",
    "series_4",
]
"""What a colour stands for; ``paper`` is the ground, the series are those of a chart."""

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points; ``dash`` gives lengths of dash and gap."""

    points: tuple[Point, ...]
    ink: Ink = "ink"
    width: float = 0.8
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed polygon; ``fill`` None leaves it open to the ground, ``ink`` None draws no edge."""

    points: tuple[Point, ...]
    fill: Ink | None = None
    ink: Ink | None = "ink"
    width: float = 0.8


@dataclass(frozen=True, slots=True)
class Round:
    """A circle, or with ``sweep`` below 360 an arc from ``start``.

    An arc is filled up to its chord, which is not drawn itself.
    """

    centre: Point
    radius: float
    fill: Ink | None = None
    ink: Ink | None = "ink"
    width: float = 0.8
    start: float = 0.0
    sweep: float = 360.0


@dataclass(frozen=True, slots=True)
class Words:
    """A text on its base line; ``turn`` turns it about its anchor."""

    at: Point
    text: str
    size: float = 8.0
    anchor: Anchor = "start"
    ink: Ink = "ink"
    strong: bool = False
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together; ``station_id`` is what a click on them means, ``tip`` its words.

    ``box`` is left, top, width and height of where the click counts.
    """

    items: tuple["Item", ...]
    station_id: int | None = None
    tip: str = ""
    box: tuple[float, float, float, float] | None = None


Item = Stroke | Shape | Round | Words | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole drawing; ``told`` says in words what it shows, for who cannot see it."""

    width: float
    height: float
    items: tuple[Item, ...]
    told: str = ""

    def flat(self) -> Iterator[Stroke | Shape | Round | Words]:
        """Every shape, groups opened."""
        yield from _flat(self.items)


def _flat(items: tuple[Item, ...]) -> Iterator[Stroke | Shape | Round | Words]:
    for item in items:
        if isinstance(item, Group):
            yield from _flat(item.items)
        else:
            yield item
