"""The wiring drawings of a line: where each station's speed comes from, and its run and stop."""

import datetime
from collections.abc import Collection

from core.line import LineResults
from core.model import Line
from core.sheets.cautions import caution_parts
from core.sheets.document import Document, Heading, Paragraph, Part, Picture, Section
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.reference_drawing import wiring_drawings
from core.sheets.reference_legend import legend
from core.sheets.reference_plan import plan_of


def reference_drawings(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The wiring drawing of each station, on a page of its own.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Taken like every sheet does; the drawings follow from the entries alone.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    front: tuple[Part, ...] = (
        Paragraph(say("drawings_key")),
        *caution_parts(say),
        Heading(say("drawings_symbols"), 3),
        Picture(legend(say)),
    )
    sections = [front_section(entries, today, front)]
    for station in chosen(line, station_ids):
        drawings = wiring_drawings(plan_of(entries, station), say("continued", title="{title}"))
        parts = tuple(Picture(drawing) for drawing in drawings)
        sections.append(Section(f"{station.tag} {station.name}".strip(), parts))
    return sheet_of(entries, "reference_drawings", "drawings_subtitle", sections, landscape=True)
