"""What a sheet says, apart from how it is written: one description for paper and spreadsheet.

A `Document` holds sections, a section holds parts. A part is a plain frozen record that knows
nothing of its writers; each writer keeps a table from kind of part to the function that draws it,
so a new kind of part is one class here and one function per writer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.sheets.drawing import Drawing
from core.sheets.label_sheet import Label, LabelGrid

Align = Literal["left", "right"]
Tone = Literal["plain", "strong", "quiet"]
Level = Literal["danger", "warning", "caution", "notice"]
Medium = Literal["both", "paper", "spreadsheet"]

CAUTION_ORDER: tuple[Level, ...] = ("danger", "warning", "caution", "notice")
"""Signal words from the gravest on, as ANSI Z535.4 ranks them."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One entry: the text as people read it and, where it is a number, the number as well.

    ``number`` is in ``unit``, as shown, so that a spreadsheet can reckon with it. ``tone`` is how
    loud it stands; what matters is always told by words, the tone only helps the eye.
    """

    text: str = ""
    number: float | None = None
    unit: str = ""
    tone: Tone = "plain"

    @property
    def with_unit(self) -> str:
        """Text and unit as one."""
        return f"{self.text} {self.unit}" if self.unit else self.text


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; levels 1 to 3. One with ``bookmark`` stands in the outline of a PDF."""

    text: str
    level: int = 2
    bookmark: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety message in the order of ANSI Z535.6: hazard, what follows, how to avoid it."""

    level: Level
    signal_word: str
    hazard: str
    consequence: str
    avoidance: str


@dataclass(frozen=True, slots=True)
class KeyValue:
    """One entry with its label, and a remark where there is one."""

    label: str
    cell: Cell
    remark: str = ""


@dataclass(frozen=True, slots=True)
class KeyValues:
    """Entries with labels; on paper set in ``columns`` side by side, read downwards."""

    rows: tuple[KeyValue, ...]
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a grid.

    ``weight`` shares the width of the paper. ``units`` says that cells carry a unit each: on paper
    it follows the number, in a spreadsheet it has a column of its own.
    """

    heading: str
    weight: float = 1.0
    align: Align = "left"
    units: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table.

    Rows that follow one another with the same first ``heading_columns`` cells are one group: on
    paper these cells become its heading, and the next ``band_columns`` a line across the table. In
    a spreadsheet they stay columns like any other, to filter and sort by.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    heading_columns: int = 0
    band_columns: int = 0


@dataclass(frozen=True, slots=True)
class Contents:
    """What a document holds, chapter by chapter.

    ``begins`` has, for each row of the table, the title of the section that the chapter begins
    with. On paper each row tells the page it is on, below the heading ``page``, and leads there; a
    spreadsheet has a sheet for each section instead.
    """

    table: Grid
    begins: tuple[str, ...]
    page: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing under its caption; never shown larger than it was made.

    One that ``yields`` is made a little smaller to end a page; what is cut out keeps its size.
    """

    drawing: Drawing
    caption: str = ""
    yields: bool = True


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels on label sheets, from place ``first`` of the first sheet on; ``kind`` is what for.

    On paper they fill whole pages of the grid's own paper, without head and foot; so they are the
    only part of their section. In a spreadsheet they are a plain list.
    """

    grid: LabelGrid
    labels: tuple[Label, ...]
    kind: str = ""
    first: int = 1


@dataclass(frozen=True, slots=True)
class Photograph:
    """One photograph by the digest of its bytes, with what stands below it."""

    sha256: str
    caption: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Photographs:
    """Photographs in their order; on paper two side by side, none torn from its caption.

    ``title`` is their heading, which stays with the first of them.
    """

    items: tuple[Photograph, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class PageBreak:
    """A new page."""


@dataclass(frozen=True, slots=True)
class Gap:
    """An empty line."""


Part = (
    Heading
    | Paragraph
    | Caution
    | KeyValues
    | Grid
    | Contents
    | Picture
    | Labels
    | Photographs
    | PageBreak
    | Gap
)


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a document that begins on a new page, or has a worksheet of its own.

    ``medium`` leaves out what only repeats on paper, or in a spreadsheet, what stands elsewhere.
    """

    title: str
    parts: tuple[Part, ...]
    medium: Medium = "both"


@dataclass(frozen=True, slots=True)
class Document:
    """A whole sheet.

    ``paper`` is ``a4`` or ``letter``. ``revision`` says which state of the line is printed, at
    every foot; ``seal`` the same in full, on the first page. ``photos`` are the bytes of its
    photographs by their digest, as the line file keeps them; they are put beside the document
    before it is written.
    """

    title: str
    subtitle: str
    line_name: str
    site: str
    sections: tuple[Section, ...]
    paper: str = "a4"
    landscape: bool = False
    revision: str = ""
    seal: str = ""
    language: str = "en"
    photos: Mapping[str, bytes] = field(default_factory=dict, compare=False, repr=False)

    @property
    def photo_digests(self) -> frozenset[str]:
        """Digests of the photographs that it shows."""
        parts = (part for section in self.sections for part in section.parts)
        shown = (part.items for part in parts if isinstance(part, Photographs))
        return frozenset(item.sha256 for items in shown for item in items)

    def sections_for(self, medium: Medium) -> tuple[Section, ...]:
        """The sections that go on paper, or into a spreadsheet."""
        return tuple(part for part in self.sections if part.medium in ("both", medium))
