"""Labels for wires, stations and knobs, laid out on common label sheets."""

import dataclasses
import datetime
from collections.abc import Collection, Iterator, Mapping, Sequence

from core.errors import LinebookError
from core.line import LineResults, wire_line
from core.model import RECORDS, Line, Station
from core.model.choices import PAPERS
from core.sheets.document import (
    Cell,
    Document,
    Heading,
    KeyValue,
    KeyValues,
    Labels,
    Paragraph,
    Part,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.label_sheet import LARGE, SMALL, Label, LabelGrid, sheet_count
from core.sheets.wiring_schedule import device_words

_MM, _INCH = 72.0 / 25.4, 72.0


def labels(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """Labels of a line: two for each wire, then one for each station and knob.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Taken like every sheet does; the labels follow from the entries alone.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    stations = chosen(line, station_ids)
    kinds = (
        ("wire_labels", SMALL[line.paper], tuple(wire_labels(entries, stations))),
        ("station_labels", LARGE[line.paper], tuple(station_labels(entries, stations))),
    )
    say = entries.say
    front: list[Part] = [Paragraph(say("labels_key"), "strong")]
    sections = []
    for key, grid, made in kinds:
        front += _told(entries, key, grid, made)
        if made:
            sections.append(Section(say(key), (Labels(grid, made, key),)))
    if not stations:
        front.append(Paragraph(say("no_stations"), "quiet"))
    return sheet_of(
        entries, "labels", "labels_subtitle", [front_section(entries, today, front), *sections]
    )


def starting_at(document: Document, wires: int = 1, stations: int = 1) -> Document:
    """The same labels, the first of each kind on another place of its sheet.

    Parameters
    ----------
    document : Document
        From `labels`; any other stays as it is.
    wires, stations : int
        Places on the first sheets, from 1 along the rows; those before were used already.

    Raises
    ------
    LinebookError
        A sheet has no such place.
    """
    firsts = {"wire_labels": wires, "station_labels": stations}
    sections = []
    for section in document.sections:
        parts = tuple(_moved(part, firsts) for part in section.parts)
        sections.append(dataclasses.replace(section, parts=parts))
    return dataclasses.replace(document, sections=tuple(sections))


def _moved(part: Part, firsts: Mapping[str, int]) -> Part:
    if not isinstance(part, Labels):
        return part
    first, count = firsts[part.kind], part.grid.count
    if not 1 <= first <= count:
        raise LinebookError(
            f"The labels do not begin at label {first}.",
            f"That sheet has {count} labels.",
            f"Give a number from 1 to {count}.",
        )
    return dataclasses.replace(part, first=first)


def wire_labels(entries: Entries, stations: Sequence[Station]) -> Iterator[Label]:
    """Two labels for each wire of some stations: its number, and where that end of it goes."""
    by_tag = {station.tag: station for station in stations}
    for wire in wire_line(entries.line).conductors:
        station = by_tag.get(wire.station)
        if station is None:
            continue
        for end in (wire.start, wire.end):
            device = device_words(entries, station, end.device)
            yield Label((wire.number, f"{device} {end.terminal}".strip()))


def station_labels(entries: Entries, stations: Sequence[Station]) -> Iterator[Label]:
    """A label for each station, and one for its knob where a potentiometer sets its speed."""
    for station in stations:
        lines = (station.tag, station.name, *_drive(entries, station), *_speed(entries, station))
        yield Label(tuple(line for line in lines if line.strip()))
        held = station.reference
        if held.source == "potentiometer":
            knob = entries.say("label_knob", device=held.device).strip()
            yield Label((knob, f"{station.tag} {station.name}".strip(), entries.say("reference")))


def _drive(entries: Entries, station: Station) -> Iterator[str]:
    drive_type = entries.line.drive_type(station.drive.drive_type_id)
    if drive_type is None:
        return
    yield drive_type.name
    if drive_type.discharge_wait_s is not None:
        wait = entries.quantity(drive_type.discharge_wait_s, "wait").with_unit
        yield entries.say("label_wait", value=wait)


def _speed(entries: Entries, station: Station) -> Iterator[str]:
    held = station.reference
    if held.source is not None:
        word = RECORDS["speed_reference"].field("source").choices[held.source]
        what = f"{entries.tr(word, 'choice')} {held.device}".strip()
        yield entries.say("label_speed_from", what=what)


# --- the first page -------------------------------------------------------------------------


def _told(entries: Entries, key: str, grid: LabelGrid, made: Sequence[Label]) -> Iterator[Part]:
    """What labels these are, and on which sheets they go."""
    say = entries.say
    size = say(
        "label_grid",
        across=grid.across,
        down=grid.down,
        width=_length(grid.width, grid.paper),
        height=_length(grid.height, grid.paper),
        paper=PAPERS[grid.paper],
    )
    gaps = [_length(gap, grid.paper) for gap in (grid.gap_across, grid.gap_down)]
    left, top = (_length(margin, grid.paper) for margin in grid.margins)
    sheets = sheet_count(grid, len(made))
    yield Heading(say(key))
    yield Paragraph(say(f"{key}_key"))
    yield KeyValues(
        (
            KeyValue(say("label_columns"), Cell(size, tone="strong")),
            KeyValue(say("label_gap"), Cell(say("label_gaps", across=gaps[0], down=gaps[1]))),
            KeyValue(say("label_margin"), Cell(say("label_margins", left=left, top=top))),
            KeyValue(say("label_count"), Cell(str(len(made)), float(len(made)))),
            KeyValue(say("label_sheets"), Cell(str(sheets), float(sheets))),
        )
    )


def _length(points: float, paper: str) -> str:
    """A length as such sheets are described, in millimetres or in inches."""
    if paper == "a4":
        return f"{round(points / _MM, 2):g} mm"
    return f"{round(points / _INCH, 4):g} in"
