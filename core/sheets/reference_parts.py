"""The speed reference of one station on paper: its way in words, and its table of points."""

from collections.abc import Iterable, Iterator

from core.line import Point, StationResult
from core.model import RECORDS, ReferenceInput
from core.sheets.document import Cell, Column, Grid, Heading, KeyValue, KeyValues, Paragraph, Part
from core.sheets.entries import Entries

_HERTZ = ("keypad", "preset", "bus")
_POINT_COLUMNS = (
    ("point_travel", "fraction", "ratio"),
    ("point_voltage", "signal_v", "voltage"),
    ("point_voltage", "signal_a", "signal_current"),
    ("point_count", "count", "count"),
    ("point_frequency", "frequency_hz", "frequency"),
    ("point_motor", "motor_rad_s", "rotation"),
    ("point_shaft", "shaft_rad_s", "rotation"),
    ("point_surface", "surface_m_s", "surface_speed"),
)
_SOURCE_FIELDS = (
    "pot_ohm",
    "pot_taper",
    "low_v",
    "high_v",
    "low_a",
    "high_a",
    "source_ohm",
    "dac_bits",
    "loop_supply_v",
)
_INPUT_FIELDS = (
    "low_v",
    "high_v",
    "low_a",
    "high_a",
    "input_resistance_ohm",
    "resolution_bits",
    "switch_position",
)
_CABLE_FIELDS = ("cable_type", "conductor_m2", "length_m", "screen", "route")


def reference_parts(entries: Entries, result: StationResult) -> Iterator[Part]:
    """The speed reference of a station.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    result : StationResult
        The station and its figures.
    """
    say, held = entries.say, result.station.reference
    yield Heading(say("reference"), bookmark=True)
    yield entries.record(held)
    if held.source is not None:
        yield Heading(say("reference_way"), 3)
        yield KeyValues(tuple(_way(entries, result)))
    if result.points:
        yield Heading(say("points"), 3)
        yield _points(entries, result.points)
        yield Paragraph(say("points_key"), "quiet")
    elif held.source not in (None, "pid"):
        yield Paragraph(say("no_points"), "quiet")


def _way(entries: Entries, result: StationResult) -> Iterator[KeyValue]:
    say, station = entries.say, result.station
    held = station.reference
    source = entries.tr(RECORDS["speed_reference"].field("source").choices[held.source or ""])
    yield KeyValue(say("way_source"), Cell(_joined([source, held.device, *_short(entries, held)])))
    if held.source in _HERTZ:
        yield KeyValue(say("way_input"), Cell(say("way_hertz")))
    else:
        cable = station.cable("reference")
        words = _short(entries, cable, _CABLE_FIELDS) if cable else []
        yield KeyValue(say("way_cable"), entries.text(_joined(words)))
        yield KeyValue(say("way_input"), entries.text(_joined(_input(entries, result))))
    yield _frequency(entries, result)


def _input(entries: Entries, result: StationResult) -> list[str]:
    name = result.station.reference.input_name
    entry = result.drive_type.reference_input(name) if result.drive_type else None
    if entry is None:
        return [name]
    return [entry.name, _terminals(entry), *_short(entries, entry, _INPUT_FIELDS)]


def _terminals(entry: ReferenceInput) -> str:
    return " / ".join(end for end in (entry.terminal, entry.common_terminal) if end)


def _frequency(entries: Entries, result: StationResult) -> KeyValue:
    say, limits = entries.say, result.limits
    label = say("way_frequency")
    if result.station.reference.source == "pid":
        return KeyValue(label, Cell(say("way_setpoint")))
    if limits is None:
        return KeyValue(label, entries.missing)
    hertz = {
        "bottom": limits.bottom_hz,
        "top": limits.top_hz,
        "low": limits.minimum_hz,
        "high": limits.maximum_hz,
    }
    shown = {name: entries.quantity(value, "frequency").with_unit for name, value in hertz.items()}
    key = "way_limits" if result.station.reference.source in _HERTZ else "way_scaled"
    assumed = say("way_assumed", what=", ".join(limits.assumed)) if limits.assumed else ""
    return KeyValue(label, Cell(say(key, **shown)), assumed)


def _short(
    entries: Entries,
    record: object,
    fields: Iterable[str] = _SOURCE_FIELDS,
) -> list[str]:
    """What was entered in some fields of a record, each with its label."""
    return [
        f"{row.label}: {row.cell.with_unit}"
        for row in entries.rows(record, keep=fields)
        if row.cell != entries.missing
    ]


def _joined(words: Iterable[str]) -> str:
    return " · ".join(word for word in words if word.strip())


def _points(entries: Entries, points: tuple[Point, ...]) -> Grid:
    shown = [
        (key, name, kind)
        for key, name, kind in _POINT_COLUMNS
        if any(getattr(point, name) is not None for point in points)
    ]
    columns = tuple(
        Column(entries.say(key), align="right", units=kind != "count") for key, _, kind in shown
    )
    rows = tuple(
        tuple(_point(entries, getattr(point, name), kind) for _, name, kind in shown)
        for point in points
    )
    return Grid(columns, rows)


def _point(entries: Entries, value: float | None, kind: str) -> Cell:
    return entries.computed(value, kind)
