"""The photographs of the stations, each under what it shows, as a sheet and a chapter."""

import datetime
from collections.abc import Collection, Iterator, Sequence

from core.line import LineResults
from core.model import RECORDS, Line, Photo, Station
from core.sheets.document import Document, Paragraph, Part, Photograph, Photographs
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of

_DIGITS_SHOWN = 16


def photo_sheet(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """The photographs of a line.

    Their bytes are no part of the line: put them beside the document, as ``photos``, before it is
    written.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    parts = tuple(_parts(entries, chosen(line, station_ids)))
    front = (Paragraph(entries.say("photographs_key")), *parts)
    sections = [front_section(entries, today, front)]
    return sheet_of(entries, "photographs", "photographs_subtitle", sections)


def _parts(entries: Entries, stations: Sequence[Station]) -> Iterator[Part]:
    with_some = [station for station in stations if station.photos]
    for station in with_some:
        items = tuple(_photograph(entries, photo) for photo in station.photos)
        yield Photographs(items, f"{station.tag} {station.name}".strip())
    without = [station.tag for station in stations if not station.photos]
    if without:
        yield Paragraph(entries.say("photo_without", tags=", ".join(without)), "quiet")


def _photograph(entries: Entries, photo: Photo) -> Photograph:
    shows = entries.field(RECORDS["photo"].field("shows"), photo.shows).text
    caption = f"{shows}: {photo.caption}" if photo.caption.strip() else shows
    return Photograph(photo.sha256, caption, _remark(entries, photo))


def _remark(entries: Entries, photo: Photo) -> str:
    say, moment = entries.say, ""
    if photo.taken_at.strip():
        moment = say("photo_taken", when=photo.taken_at)
    elif photo.added_at.strip():
        moment = say("photo_added", when=photo.added_at)
    digest = say("photo_digest", digest=photo.sha256[:_DIGITS_SHOWN])
    return " · ".join(part for part in (moment, photo.person, digest) if part.strip())
