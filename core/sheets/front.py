"""What every sheet has in common: which stations it is about, its first page, its frame."""

import dataclasses
import datetime
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from core.model import Line, Station
from core.sheets.document import Cell, Document, KeyValue, KeyValues, Part, Section
from core.sheets.entries import Entries
from core.sheets.words import words_in

_LINE_FIELDS = ("name", "site", "owner", "wiring_rules", "unit_system")


def chosen(line: Line, station_ids: Collection[int] | None) -> tuple[Station, ...]:
    """The stations that a sheet is about, in the order of the line.

    Parameters
    ----------
    line : Line
        The line.
    station_ids : collection of int or None
        Their ids; None for all.

    Raises
    ------
    KeyError
        There is no such station.
    """
    if station_ids is None:
        return line.stations
    wanted = {line.station(station_id).id for station_id in station_ids}
    return tuple(entry for entry in line.stations if entry.id in wanted)


def front_section(
    entries: Entries, today: datetime.date | None, parts: Sequence[Part], title: str = "overview"
) -> Section:
    """The first page: what line this is, and what the sheet wants to say first.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    today : date or None
        The day of printing.
    parts : sequence of Part
        What follows.
    title : str
        Key of its title among the words.
    """
    rows = entries.rows(entries.line, keep=_LINE_FIELDS)
    if today is not None:
        rows += (KeyValue(entries.say("printed_on"), Cell(today.isoformat())),)
    return Section(entries.say(title), (KeyValues(rows, columns=2), *parts))


def sheet_of(
    entries: Entries,
    title: str,
    subtitle: str,
    sections: Sequence[Section],
    *,
    landscape: bool = False,
) -> Document:
    """A document of this line.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    title, subtitle : str
        Keys among the words.
    sections : sequence of Section
        Its content.
    landscape : bool
        Whether the paper lies on its long side.
    """
    line, say = entries.line, entries.say
    return Document(
        title=say(title),
        subtitle=say(subtitle),
        line_name=line.name or say("no_name"),
        site=line.site,
        sections=tuple(sections),
        paper=line.paper,
        landscape=landscape,
        revision=say("not_frozen"),
        language=line.language,
    )


@dataclass(frozen=True, slots=True)
class Origin:
    """What a sheet says of the frozen record it is made of: at every foot, and on its cover."""

    foot: str
    cover: str = ""

    def on(self, document: Document) -> Document:
        """A document that names its origin."""
        return dataclasses.replace(document, revision=self.foot, seal=self.cover)


def record_origin(line: Line, name: str, digest: str, *, is_changed: bool = False) -> Origin:
    """What sheets of a frozen record say of it, in the place of the words for a line file.

    Parameters
    ----------
    line : Line
        The line of the record; its language is taken.
    name, digest : str
        Name of the record, and its SHA-256.
    is_changed : bool
        Whether something was changed in the private copy that is printed.
    """
    say = words_in(line.language)
    if is_changed:
        return Origin(say("record_changed", name=say.tr(name)))
    foot, cover = (
        say("record_line", name=say.tr(name), digest=part) for part in (digest[:16], digest)
    )
    return Origin(foot, cover)
