"""The handover book: every sheet that stays with the line, as one document."""

import dataclasses
import datetime
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from itertools import chain

from core.line import LineResults
from core.model import Line
from core.sheets.branch_schedule import branch_schedule
from core.sheets.cautions import caution_parts
from core.sheets.check_sheets import check_results
from core.sheets.document import (
    Caution,
    Cell,
    Column,
    Contents,
    Document,
    Grid,
    KeyValues,
    PageBreak,
    Paragraph,
    Part,
    Picture,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.findings_sheet import findings_sheet
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.knob_cards import knob_cards
from core.sheets.parameter_record import parameter_record
from core.sheets.photo_sheet import photo_sheet
from core.sheets.reference_sheet import reference_drawings
from core.sheets.service_sheets import spares, swap_sheet
from core.sheets.speed_plan import speed_plan
from core.sheets.wiring_schedule import wiring_schedule
from core.sheets.workings import workings

_SHORT, _LONG_GRID = 16, 8
"""Rows and parts up to which the opening of a chapter is no page of its own; rows of a table."""
_Builder = Callable[[Line, LineResults, Collection[int] | None, datetime.date | None], Document]
_CHAPTERS: tuple[tuple[str, _Builder], ...] = (
    ("speed_plan", speed_plan),
    ("parameter_record", parameter_record),
    ("wiring_schedule", wiring_schedule),
    ("reference_drawings", reference_drawings),
    ("branch_schedule", branch_schedule),
    ("check_results", check_results),
    ("findings", findings_sheet),
    ("swap_sheet", swap_sheet),
    ("spares", spares),
    ("knob_cards", knob_cards),
    ("photographs", photo_sheet),
    ("workings", workings),
)


def handover_book(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The handover book of a line.

    Parameters
    ----------
    line : Line
        Best rebuilt from its as-commissioned record; else the line as it stands.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    has_photos = any(station.photos for station in chosen(line, station_ids))
    chapters = [
        (key, build(line, results, station_ids, today))
        for key, build in _CHAPTERS
        if key != "photographs" or has_photos
    ]
    parts = [_chapter(entries, key, document) for key, document in chapters]
    begins = tuple(
        next((held.title for held in sections if held.medium != "spreadsheet"), "")
        for sections in parts
    )
    front = _front(entries, [document for _, document in chapters], begins)
    sections = [front_section(entries, today, front), *chain.from_iterable(parts)]
    return sheet_of(entries, "handover_book", "book_subtitle", sections, landscape=True)


def _front(
    entries: Entries, chapters: Sequence[Document], begins: tuple[str, ...]
) -> tuple[Part, ...]:
    say = entries.say
    columns = (Column(say("chapter"), 1.2), Column(say("what_it_says"), 3.0))
    rows = tuple(
        (Cell(document.title, tone="strong"), Cell(document.subtitle)) for document in chapters
    )
    contents = Contents(Grid(columns, rows), begins, say("page"))
    cautions = tuple(caution_parts(say))
    return (Paragraph(say("book_key"), "quiet"), *cautions, PageBreak(), contents)


def _chapter(entries: Entries, key: str, document: Document) -> list[Section]:
    """The sections of one sheet; its first page says only what the cover of the book does not.

    What is left of a first page is no page of its own where it is short: it opens the next one.
    """
    first, *others = document.sections
    opening = tuple(_without_cover(entries, first.parts[1:]))
    # With nothing but pictures to follow, the opening would be lost: then it is a page as well.
    if opening and (_fills_a_page(opening) or not any(map(_can_be_opened, others))):
        others.insert(0, dataclasses.replace(first, title="", parts=opening))
    elif opening:
        others = _opened_by(opening, others)
    titles = _titles(document.title, others)
    return [
        dataclasses.replace(section, title=title)
        for section, title in zip(others, titles, strict=True)
    ]


def _without_cover(entries: Entries, parts: Iterable[Part]) -> Iterator[Part]:
    """What a first page holds apart from the cautions, which stand on the cover of the book."""
    for part in parts:
        if not isinstance(part, Caution) and getattr(part, "text", "") != entries.say("cautions"):
            yield part


def _fills_a_page(parts: Sequence[Part]) -> bool:
    longest = max((len(part.rows) for part in parts if isinstance(part, Grid)), default=0)
    rows = sum(len(part.rows) // part.columns for part in parts if isinstance(part, KeyValues))
    return longest > _LONG_GRID or rows + len(parts) > _SHORT


def _opened_by(opening: tuple[Part, ...], sections: Sequence[Section]) -> list[Section]:
    """Sections with some parts before the first on paper, and before the first spreadsheet.

    A picture fills its page; it stays alone.
    """
    wanting, found = {"paper", "spreadsheet"}, []
    for section in sections:
        meant = {"paper", "spreadsheet"} if section.medium == "both" else {section.medium}
        if meant & wanting and _can_be_opened(section):
            section = dataclasses.replace(section, parts=(*opening, *section.parts))
            wanting -= meant
        found.append(section)
    return found


def _can_be_opened(section: Section) -> bool:
    return not isinstance(section.parts[0], Picture)


def _titles(chapter: str, sections: Sequence[Section]) -> Iterator[str]:
    """A title for each section, that is also a place in the outline and a worksheet's name."""
    told: list[str] = []
    for section in sections:
        own = section.title
        title = chapter if own in ("", chapter) else f"{chapter}: {own}"
        told.append(title)
        same = told.count(title)
        yield f"{title} ({same})" if same > 1 else title
