"""The handover book: every sheet that stays with the line, as one document."""

import dataclasses
import datetime
from collections.abc import Callable, Collection, Sequence

from core.line import LineResults
from core.model import Line
from core.sheets.branch_schedule import branch_schedule
from core.sheets.cautions import caution_parts
from core.sheets.check_sheets import check_results
from core.sheets.document import Cell, Column, Document, Grid, Paragraph, Part, Section
from core.sheets.entries import Entries
from core.sheets.findings_sheet import findings_sheet
from core.sheets.front import front_section, sheet_of
from core.sheets.parameter_record import parameter_record
from core.sheets.service_sheets import knob_cards, spares, swap_sheet
from core.sheets.speed_plan import speed_plan
from core.sheets.wiring_schedule import wiring_schedule
from core.sheets.workings import workings

_Builder = Callable[[Line, LineResults, Collection[int] | None, datetime.date | None], Document]
_CHAPTERS: tuple[tuple[str, _Builder], ...] = (
    ("speed_plan", speed_plan),
    ("parameter_record", parameter_record),
    ("wiring_schedule", wiring_schedule),
    ("branch_schedule", branch_schedule),
    ("check_results", check_results),
    ("findings", findings_sheet),
    ("swap_sheet", swap_sheet),
    ("spares", spares),
    ("knob_cards", knob_cards),
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
    chapters = [(key, build(line, results, station_ids, today)) for key, build in _CHAPTERS]
    sections = [front_section(entries, today, _front(entries, chapters))]
    for key, document in chapters:
        sections += _chapter(entries, key, document)
    return sheet_of(entries, "handover_book", "book_subtitle", sections, landscape=True)


def _front(entries: Entries, chapters: Sequence[tuple[str, Document]]) -> tuple[Part, ...]:
    say = entries.say
    columns = (Column(say("chapter"), 1.2), Column(say("what_it_says"), 3.0))
    rows = tuple(
        (Cell(document.title, tone="strong"), Cell(document.subtitle)) for _, document in chapters
    )
    return (Grid(columns, rows), Paragraph(say("book_key"), "quiet"), *caution_parts(say))


def _chapter(entries: Entries, key: str, document: Document) -> list[Section]:
    """The sections of one sheet; its first page stays only where it says more than the cover."""
    kept: list[Section] = []
    titles: list[str] = []
    for place, section in enumerate(document.sections):
        parts = section.parts
        if place == 0:
            # Line, site and cautions stand on the cover of the book.
            cautions = set(map(id, caution_parts(entries.say)))
            parts = tuple(
                part
                for part in parts[1:]
                if id(part) not in cautions and type(part).__name__ != "Caution"
            )
            parts = tuple(part for part in parts if not _is_caution_heading(entries, part))
            if not parts:
                continue
        title = f"{document.title}: {section.title}"
        same = titles.count(title)
        titles.append(title)
        if same:
            title = f"{title} ({same + 1})"  # a worksheet's name, and a place in the outline
        kept.append(dataclasses.replace(section, title=title, parts=parts))
    return kept


def _is_caution_heading(entries: Entries, part: Part) -> bool:
    return getattr(part, "text", "") == entries.say("cautions")
