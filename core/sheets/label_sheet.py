"""Label sheets: where each label lies on its sheet, and how a text is made to fit on it."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from core.sheets.drawing import Drawing, Item, Words
from core.sheets.drawn_text import wrapped

_MM, _INCH = 72.0 / 25.4, 72.0
PAPERS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"a4": (210 * _MM, 297 * _MM), "letter": (8.5 * _INCH, 11 * _INCH)}
)
"""Width and height of the sheets: ISO 216 and US Letter [pt]."""
SAFE = 5.0 * _MM
"""Many printers leave such a margin of the paper white."""

_INSET = 1.8 * _MM
_LEAD = 1.22
_SMALLER = 0.94
_LARGEST = 0.22
"""Height of the first line of a label against the label, from 12 to 20 pt.

Larger ones would fit, but then each label has another size, as its texts are long or short.
"""
_LEAST = 6.0
"""Before a word is broken its line is set smaller, but not below this [pt]."""
_REST = 0.62
"""Height of the other lines of a label against its first one."""


@dataclass(frozen=True, slots=True)
class LabelGrid:
    """Labels in rows and columns, the whole of them in the middle of the sheet. Lengths in pt."""

    paper: str
    across: int
    down: int
    width: float
    height: float
    gap_across: float = 0.0
    gap_down: float = 0.0

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.across * self.down

    @property
    def margins(self) -> tuple[float, float]:
        """Left and top margin of the sheet [pt]."""
        wide, high = PAPERS[self.paper]
        used_wide = self.across * self.width + (self.across - 1) * self.gap_across
        used_high = self.down * self.height + (self.down - 1) * self.gap_down
        return (wide - used_wide) / 2, (high - used_high) / 2

    def corner(self, place: int) -> tuple[float, float]:
        """Left and top of a label, counted from 0 along the rows [pt]."""
        left, top = self.margins
        row, column = divmod(place, self.across)
        return (
            left + column * (self.width + self.gap_across),
            top + row * (self.height + self.gap_down),
        )

    def room(self, place: int) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of where a label may be printed on [pt].

        Notes
        -----
        Away from the edges of the label, and from the edge of the paper, to which no printer that
        leaves a margin can print.
        """
        left, top = self.corner(place)
        wide, high = PAPERS[self.paper]
        return (
            max(left + _INSET, SAFE),
            max(top + _INSET, SAFE),
            min(left + self.width - _INSET, wide - SAFE),
            min(top + self.height - _INSET, high - SAFE),
        )


LARGE: Mapping[str, LabelGrid] = MappingProxyType(
    {
        "a4": LabelGrid("a4", 3, 8, 70 * _MM, 37 * _MM),
        "letter": LabelGrid("letter", 3, 10, 2.625 * _INCH, 1.0 * _INCH, 0.125 * _INCH),
    }
)
"""For stations; by paper."""
SMALL: Mapping[str, LabelGrid] = MappingProxyType(
    {
        "a4": LabelGrid("a4", 5, 13, 38.1 * _MM, 21.2 * _MM, 2.5 * _MM),
        "letter": LabelGrid("letter", 4, 20, 1.75 * _INCH, 0.5 * _INCH, 0.3 * _INCH),
    }
)
"""For wires; by paper."""


@dataclass(frozen=True, slots=True)
class Label:
    """One label: its first line is large and strong, the others are smaller."""

    lines: tuple[str, ...]


def sheet_count(grid: LabelGrid, labels: int, first: int = 1) -> int:
    """How many sheets so many labels need, if the first one goes on label ``first``.

    Examples
    --------
    >>> sheet_count(SMALL["a4"], 65), sheet_count(SMALL["a4"], 65, first=2)
    (1, 2)
    """
    return math.ceil((labels + first - 1) / grid.count) if labels else 0


def label_pages(grid: LabelGrid, labels: Iterable[Label], first: int = 1) -> tuple[Drawing, ...]:
    """Draw labels on whole sheets, at their true places.

    Parameters
    ----------
    grid : LabelGrid
        How the labels lie.
    labels : iterable of Label
        In their order, along the rows.
    first : int
        Place of the first one on the first sheet, from 1; the places before were used already.
    """
    largest = min(max(_LARGEST * grid.height, 12.0), 20.0)
    pages: list[list[Item]] = []
    for number, label in enumerate(labels, start=first - 1):
        page, place = divmod(number, grid.count)
        while len(pages) <= page:
            pages.append([])
        pages[page] += fitted(label, grid.room(place), largest)
    return tuple(Drawing(*PAPERS[grid.paper], tuple(items)) for items in pages)


def fitted(
    label: Label, room: tuple[float, float, float, float], largest: float
) -> tuple[Words, ...]:
    """The texts of a label in the middle of its room, as large as they all fit.

    Parameters
    ----------
    label : Label
        What stands on it.
    room : tuple of float
        Left, top, right and bottom [pt].
    largest : float
        Height of its first line at most [pt].
    """
    left, top, right, bottom = room
    size = largest
    while (lines := _lines(label, size, right - left)) and _height(lines) > bottom - top:
        size *= _SMALLER
    y, words = (top + bottom - _height(lines)) / 2, []
    for text, high, strong in lines:
        at = ((left + right) / 2, y + 0.9 * high)
        words.append(Words(at, text, high, "middle", strong=strong))
        y += high * _LEAD
    return tuple(words)


def _lines(label: Label, size: float, width: float) -> list[tuple[str, float, bool]]:
    """Every line with its height and whether it is strong."""
    found = []
    for number, text in enumerate(label.lines):
        high, strong = (size * _REST, False) if number else (size, True)
        # A word that would be broken, as a wire number, is rather set smaller.
        while strong and high > _LEAST and not _whole(text, high, width):
            high *= _SMALLER
        found += [(line, high, strong) for line in wrapped(text, high, width, strong)]
    return found


def _whole(text: str, size: float, width: float) -> bool:
    """Whether no word of a text has to be broken."""
    return " ".join(wrapped(text, size, width, True)) == " ".join(text.split())


def _height(lines: list[tuple[str, float, bool]]) -> float:
    return sum(high * _LEAD for _, high, _ in lines)
