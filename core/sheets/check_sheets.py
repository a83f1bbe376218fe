"""Checks on paper: results with their readings, and blank field sheets to fill in by hand."""

import datetime
from collections.abc import Collection, Iterable, Iterator, Sequence

from core.line import LineResults
from core.line.checks import (
    CheckItem,
    CheckRule,
    checks_of,
    done_share,
    kept_count,
    station_state,
    station_wise,
)
from core.line.checks.instruments import called
from core.line.checks.listing import answer_text, expected_text
from core.model import Instrument, Line, Station
from core.model.choices import STAGES
from core.sheets.calibration_parts import blank_points, calibration_parts
from core.sheets.cautions import caution_parts
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    Paragraph,
    Part,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.language import instrument_in
from core.sheets.setting_rows import setting_rows
from core.sheets.words import words_in
from core.units import unit_of

_BOX = "□"


def instrument_text(line: Line, held: Instrument) -> str:
    """What a reading says of its instrument: name, serial number, the day it is calibrated to.

    The day goes into the reading itself, in the language of the line's sheets, so that a later
    calibration does not reach back to it.
    """
    if not held.calibration_due:
        return called(held)
    say = words_in(line.language)
    return say("calibrated_to", instrument=called(held), day=held.calibration_due)


def check_results(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """Checks and readings of a line, stage by stage, with room to sign.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results, from which the limits come.
    station_ids : collection of int, optional
        The stations wanted; all without it, and the checks of the line as a whole.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    items = _wanted(line, results, station_ids)
    summary = _front(entries, results, items, chosen(line, station_ids))
    front = (*summary, *caution_parts(entries.say))
    sections = [front_section(entries, today, front)]
    for stage, title in STAGES.items():
        held = [item for item in items if item.rule.stage == stage]
        if held:
            parts = (_results_grid(entries, held), *_signing(entries))
            sections.append(Section(entries.tr(title), parts))
    sections += _calibrations(entries, results, chosen(line, station_ids))
    return sheet_of(entries, "check_results", "check_results_subtitle", sections, landscape=True)


def field_sheets(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """Blank sheets to fill in at the line: every check with its limits, every setting.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results, from which limits and expected values come.
    station_ids : collection of int, optional
        The stations wanted; all without it, and the checks of the line as a whole.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    items = _wanted(line, results, station_ids)
    front = (Paragraph(entries.say("field_key")), *caution_parts(entries.say))
    sections = [front_section(entries, today, front)]
    held = {station and station.id: own for station, own in station_wise(items, line)}
    if None in held:
        sections.append(Section(entries.say("whole_line"), (_blank_checks(entries, held[None]),)))
    for station in chosen(line, station_ids):
        own = held.get(station.id)
        parts: list[Part] = [_blank_checks(entries, own)] if own else []
        parts += blank_points(entries, results.station(station.id))
        parts += _blank_settings(entries, results, station)
        sections.append(Section(f"{station.tag} {station.name}".strip(), tuple(parts)))
    return sheet_of(entries, "field_sheets", "field_subtitle", sections, landscape=True)


def _wanted(
    line: Line, results: LineResults, station_ids: Collection[int] | None
) -> list[CheckItem]:
    ids = {station.id for station in chosen(line, station_ids)}
    whole = station_ids is None
    return [
        item
        for item in checks_of(results)
        if (whole if item.station_id is None else item.station_id in ids)
    ]


def _front(
    entries: Entries,
    results: LineResults,
    items: Sequence[CheckItem],
    stations: Sequence[Station],
) -> Iterator[Part]:
    say = entries.say
    done, of = done_share(items)
    out = sum(item.state == "out" for item in items)
    kept = kept_count(items)
    yield KeyValues(
        (
            KeyValue(say("checks_done"), Cell(say("done_of", done=done, of=of), tone="strong")),
            KeyValue(say("checks_out"), Cell(str(out), out, tone="strong" if out else "plain")),
            KeyValue(say("checks_kept"), Cell(str(kept), kept)),
        ),
        columns=3,
    )
    every = checks_of(results)
    rows = []
    for station in stations:
        own = [item for item in items if item.station_id == station.id]
        part, whole = done_share(own)
        reached = station_state(every, station.id)
        rows.append(
            (
                Cell(station.tag, tone="strong"),
                Cell(station.name),
                Cell(say("done_of", done=part, of=whole)),
                _kept_cell(own),
                Cell(
                    entries.tr(STAGES[reached]) if reached else say("no_stage_done"), tone="quiet"
                ),
            )
        )
    columns = (
        Column(say("tag"), 0.5),
        Column(say("name"), 2.0),
        Column(say("checks_done"), 0.8),
        Column(say("checks_kept"), 0.9),
        Column(say("stage_reached"), 1.2),
    )
    yield Grid(columns, tuple(rows))


def _kept_cell(items: Sequence[CheckItem]) -> Cell:
    """How many readings stand out of their limits; blank for none, so that others are seen."""
    kept = kept_count(items)
    return Cell(str(kept), kept, tone="strong") if kept else Cell("")


def _results_grid(entries: Entries, items: Sequence[CheckItem]) -> Grid:
    say, tr, system = entries.say, entries.tr, entries.system
    columns = (
        Column(say("tag"), 0.5),
        Column(say("check"), 3.0),
        Column(say("limits"), 1.6),
        Column(say("result"), 1.6),
        Column(say("instrument"), 1.0),
        Column(say("by"), 0.8),
        Column(say("at"), 0.9),
    )
    rows = []
    for item in items:
        held = item.result
        loud = item.state == "out"
        rows.append(
            (
                Cell(item.tag or say("whole_line"), tone="strong"),
                Cell(entries.tr(item.rule.label)),
                Cell(tr(expected_text(item, system)), tone="quiet"),
                Cell(answer_text(item, system, tr), tone="strong" if loud else "plain"),
                Cell(instrument_in(say, held.instrument) if held else ""),
                Cell(held.person if held else ""),
                Cell(held.done_at if held else ""),
            )
        )
    return Grid(columns, tuple(rows))


def _calibrations(
    entries: Entries, results: LineResults, stations: Sequence[Station]
) -> Iterator[Section]:
    parts = [
        part for station in stations for part in calibration_parts(entries, results, station.id)
    ]
    if parts:
        key = Paragraph(entries.say("calibration_key"), tone="quiet")
        yield Section(entries.say("calibrations"), (key, *parts, *_signing(entries)))


def _signing(entries: Entries) -> Iterator[Part]:
    say = entries.say
    line = "_" * 22
    yield KeyValues(
        (
            KeyValue(say("sign_done"), Cell(line)),
            KeyValue(say("sign_witness"), Cell(line)),
            KeyValue(say("sign_day"), Cell(line)),
        ),
        columns=3,
    )


def _blank_checks(entries: Entries, items: Sequence[CheckItem]) -> Grid:
    say, tr, system = entries.say, entries.tr, entries.system
    columns = (
        Column(say("stage"), 0.8),
        Column(say("check"), 2.8),
        Column(say("how"), 2.2),
        Column(say("limits"), 1.4),
        Column(say("reading"), 1.0),
        Column(say("instrument"), 0.8),
        Column(say("initials"), 0.7),
    )
    rows = tuple(
        (
            Cell(tr(STAGES[item.rule.stage]), tone="quiet"),
            Cell(tr(item.rule.label), tone="strong"),
            Cell(_how(entries, item.rule), tone="quiet"),
            Cell(tr(expected_text(item, system))),
            Cell(_blank_answer(entries, item.rule)),
            Cell(""),
            Cell(""),
        )
        for item in items
    )
    return Grid(columns, rows)


def _blank_answer(entries: Entries, rule: CheckRule) -> str:
    """Room for an answer: boxes to tick, or blank for a reading."""
    say = entries.say
    if rule.warm:
        return say("at_temperature", unit=unit_of("temperature", entries.system))
    if rule.kind or rule.options:
        return ""
    return _boxes([say("yes"), say("no")])


def _how(entries: Entries, rule: CheckRule) -> str:
    """How it is done; the boxes of a choice stand below, where there is room for their words."""
    how = entries.tr(rule.how)
    if not rule.options:
        return how
    return f"{how}\n{_boxes([entries.tr(word) for word in rule.options.values()])}"


def _boxes(words: Iterable[str]) -> str:
    # A box stays in the line of its first word.
    return "  ".join(f"{_BOX}\u00a0{word}" for word in words)


def _blank_settings(entries: Entries, results: LineResults, station: Station) -> Iterator[Part]:
    say = entries.say
    rows = setting_rows(station, results.station(station.id).drive_type)
    if not rows:
        return
    yield Heading(say("settings"))
    columns = (
        Column(say("code"), 1.0),
        Column(say("meaning"), 2.6),
        Column(say("expected"), 0.9),
        Column(say("unit_or_choice"), 1.4),
        Column(say("found"), 1.2),
        Column(say("initials"), 0.7),
    )
    yield Grid(
        columns,
        tuple(
            (
                Cell(row.code, tone="strong"),
                Cell(row.meaning),
                Cell(row.shown or row.factory or "–", tone="plain" if row.shown else "quiet"),
                Cell(row.stands_for or row.factory_stands_for, tone="quiet"),
                Cell(""),
                Cell(""),
            )
            for row in rows
        ),
    )
