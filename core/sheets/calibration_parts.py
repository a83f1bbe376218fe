"""Calibration of speed references on paper: points, figures, chart, what to set; blank rows."""

from collections.abc import Iterator, Sequence

from core.line import LineResults
from core.line.calibrating import (
    PLACES,
    READ,
    Calibration,
    calibration_of,
    is_wired,
)
from core.line.calibration_points import PointRead
from core.line.correcting import Correction, mending_of
from core.line.figures import Figure
from core.line.station import StationResult
from core.model.choices import CALIBRATION_STATES, DIRECTIONS
from core.sheets.calibration_chart import chart_of_calibrations
from core.sheets.charts import ChartWords
from core.sheets.document import Cell, Column, Grid, Heading, KeyValue, KeyValues, Part, Picture
from core.sheets.entries import Entries
from core.sheets.language import instrument_in
from core.sheets.words import words_of

_SIZE = (757.0, 210.0)


def calibration_parts(entries: Entries, results: LineResults, station_id: int) -> Iterator[Part]:
    """Everything that was read of one station's reference; nothing where nothing was read."""
    held = [calibration_of(results, station_id, state) for state in CALIBRATION_STATES]
    read = [calibration for calibration in held if calibration.points]
    if not read:
        return
    station = results.station(station_id).station
    yield Heading(f"{station.tag} {station.name}".strip(), bookmark=True)
    for calibration in read:
        yield Heading(entries.tr(CALIBRATION_STATES[calibration.state], "choice"), 3)
        yield _summary(entries, calibration)
        yield _points(entries, calibration.points)
        yield from _mending(entries, calibration)
    words = words_of(ChartWords, entries.say)
    yield Picture(chart_of_calibrations(read, words, _SIZE), entries.say("calibration_chart"))


def verdict_words(entries: Entries, calibration: Calibration) -> str:
    """Whether the readings of one state lie within the limit of the chain."""
    key = {True: "calibration_holds", False: "calibration_fails", None: "calibration_open"}
    return entries.say(key[calibration.holds])


def _summary(entries: Entries, calibration: Calibration) -> KeyValues:
    say = entries.say
    rows = [KeyValue(say("verdict"), Cell(verdict_words(entries, calibration), tone="strong"))]
    for name, ends in (("ends_wanted", calibration.wanted), ("ends_set", calibration.as_set)):
        if ends is not None:
            low, high = (
                entries.quantity(hertz, "frequency") for hertz in (ends.bottom_hz, ends.top_hz)
            )
            remark = say("ends_assumed") if ends.assumed else ""
            rows.append(KeyValue(say(name), Cell(f"{low.with_unit} … {high.with_unit}"), remark))
    rows += [_figure(entries, figure) for figure in calibration.figures.values()]
    return KeyValues(tuple(rows), columns=3)


def _figure(entries: Entries, figure: Figure) -> KeyValue:
    say, remark = entries.say, ""
    if figure.value is None:
        why = figure.problem or ", ".join(entries.tr(lack) for lack in figure.lacks)
        remark = entries.tr(why) if figure.problem else say("lacks", what=why)
    elif figure.assumed:
        remark = say("assumes", what=entries.tr(figure.assumed))
    return KeyValue(entries.tr(figure.label), entries.computed(figure.value, figure.kind), remark)


def _points(entries: Entries, points: Sequence[PointRead]) -> Grid:
    say = entries.say
    has_speed = any(entry.point.speed_m_s is not None for entry in points)
    columns = [
        Column(say("point_way"), 0.8),
        Column(say("point_travel"), 0.6, "right", units=True),
        Column(say("point_wanted"), 0.7, "right", units=True),
        Column(say("point_read"), 0.7, "right", units=True),
        Column(say("point_deviation"), 0.7, "right", units=True),
        Column(say("result"), 1.2),
    ]
    if has_speed:
        columns += [
            Column(say("point_speed"), 0.8, "right", units=True),
            Column(say("point_speed_computed"), 0.8, "right", units=True),
            Column(say("point_speed_off"), 0.7, "right", units=True),
        ]
    columns += [Column(say("instrument"), 1.1), Column(say("by"), 0.9), Column(say("at"), 1.0)]
    rows = []
    for entry in points:
        point = entry.point
        cells = [
            Cell(entries.tr(DIRECTIONS[point.direction], "choice")),
            entries.quantity(point.share, "ratio"),
            entries.computed(entry.wanted_hz, "frequency"),
            entries.quantity(point.frequency_hz, "frequency"),
            entries.computed(entry.deviation_hz, "frequency"),
            _result(entries, entry),
        ]
        if has_speed:
            cells += [
                entries.quantity(point.speed_m_s, "surface_speed"),
                entries.computed(entry.computed_m_s, "surface_speed"),
                entries.computed(entry.speed_share, "ratio"),
            ]
        instrument = instrument_in(say, point.instrument)
        cells += [Cell(instrument), Cell(point.person), Cell(point.done_at)]
        rows.append(tuple(cells))
    return Grid(tuple(columns), tuple(rows))


def _result(entries: Entries, entry: PointRead) -> Cell:
    return Cell(entries.tr(point_words(entry)), tone="plain" if entry.is_within else "strong")


BEYOND = "beyond the limits set now"


def point_words(entry: PointRead) -> str:
    """What is to be said of one reading, in English."""
    words = {True: "✓ within", False: "✗ out", None: ""}[entry.is_within]
    notes = [f"held by the {entry.held}"] if entry.held else []
    notes += [BEYOND] if entry.beyond else []
    return "; ".join(filter(None, (words, *notes)))


def _mending(entries: Entries, calibration: Calibration) -> Iterator[Part]:
    say, mending = entries.say, mending_of(calibration)
    if mending is None:
        return
    yield Heading(say("to_correct_within" if calibration.holds else "to_correct"), 3)
    if mending.corrections:
        columns = (
            Column(say("end"), 0.6),
            Column(say("code"), 0.8),
            Column(say("meaning"), 1.6),
            Column(say("setting_now"), 0.6, "right"),
            Column(say("setting_new"), 0.7, "right"),
            Column(say("unit"), 0.4),
            Column(say("remarks"), 3.0),
        )
        rows = tuple(_correction(entries, held) for held in mending.corrections)
        yield Grid(columns, rows)
    after = _figure(entries, mending.after)
    if mending.after_holds is False and not after.remark:
        after = KeyValue(after.label, after.cell, entries.tr(mending.after.note))
    yield KeyValues((after,))


def _correction(entries: Entries, held: Correction) -> tuple[Cell, ...]:
    say = entries.say
    new = held.new if held.is_change else say("stays" if held.new else "cannot_tell")
    return (
        Cell(say(f"end_{held.end}")),
        Cell(held.code or "–", tone="strong"),
        Cell(entries.tr(held.label)),
        Cell(held.now or "–"),
        Cell(new, tone="strong" if held.is_change else "quiet"),
        Cell(held.unit),
        Cell(" ".join(entries.tr(note) for note in held.notes), tone="quiet"),
    )


def blank_points(entries: Entries, result: StationResult) -> Iterator[Part]:
    """Rows to fill in by hand where a signal sets the speed: up and down, as found and as left."""
    if not is_wired(result):
        return
    say, limits = entries.say, result.limits
    yield Heading(say("calibration"))
    columns = (
        Column(say("point_way"), 1.0),
        Column(say("point_travel"), 0.7, "right", units=True),
        Column(say("expected"), 0.8, "right", units=True),
        Column(say("blank_found_hz"), 1.1),
        Column(say("blank_found_speed"), 1.1),
        Column(say("blank_left_hz"), 1.1),
        Column(say("blank_left_speed"), 1.1),
        Column(say("initials"), 0.6),
    )
    rows = []
    for way in READ:
        for share in PLACES if way == "up" else PLACES[::-1]:
            hertz = None
            if limits is not None:
                hertz = limits.bottom_hz + share * (limits.top_hz - limits.bottom_hz)
                hertz = min(max(hertz, limits.minimum_hz), limits.maximum_hz)
            rows.append(
                (
                    Cell(entries.tr(DIRECTIONS[way], "choice")),
                    entries.quantity(share, "ratio"),
                    entries.computed(hertz, "frequency"),
                    *(Cell("") for _ in range(5)),
                )
            )
    yield Grid(columns, tuple(rows))
