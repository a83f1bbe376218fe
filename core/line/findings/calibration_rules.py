"""Findings about what was read: references off their limit, checks without readings, instruments.

They speak of the readings that are in the file; a line that nobody has read has none of them.
"""

import datetime
from collections import Counter
from collections.abc import Iterator

from core.line.calibrating import PLACES, READ, Calibration, calibration_of
from core.line.checks.instruments import calibration_on, called, instrument_named
from core.line.findings.base import Place
from core.line.findings.view import LineFound, LineView, line_rule
from core.line.station import StationResult
from core.model import Check, Instrument, Line
from core.model.choices import CALIBRATION_STATES


def _latest(whole: LineView, result: StationResult) -> Calibration | None:
    """The readings of a station as left, else as found; None where there are none."""
    for state in ("left", "found"):
        found = calibration_of(whole.results, result.station.id, state)
        if any(entry.point.frequency_hz is not None for entry in found.points):
            return found
    return None


def _read_stations(whole: LineView) -> Iterator[tuple[StationResult, Calibration]]:
    read = {point.station_id for point in whole.line.calibration_points}
    for result in whole.stations:
        found = _latest(whole, result) if result.station.id in read else None
        if found is not None:
            yield result, found


def _at_reference(result: StationResult) -> Place:
    return Place("speed_reference", result.station.reference.id, "source")


@line_rule(
    key="reference-off-limit",
    level="fault",
    says="{state}, the reference gives {read_hz} where {wanted_hz} is wanted; it can hold "
    "± {limit_hz}.",
    follows="The station runs at another speed than its reference says, and a plan that counts on "
    "it is wrong there.",
    mend="Set the ends as the calibration tells, or look for what loads the signal; then read "
    "again.",
    source="the readings, against the uncertainty of the chain (k = 2)",
)
def reference_off_limit(whole: LineView) -> Iterator[LineFound]:
    """The reading that lies the farthest out of the limit of its chain."""
    for result, found in _read_stations(whole):
        out = [entry for entry in found.points if entry.is_within is False]
        if not out:
            continue
        worst = max(out, key=lambda entry: abs(entry.deviation_hz or 0.0))
        yield (
            result.station,
            _at_reference(result),
            {
                "state": CALIBRATION_STATES[found.state],
                "read_hz": worst.point.frequency_hz or 0.0,
                "wanted_hz": worst.wanted_hz or 0.0,
                "limit_hz": found.limit_hz or 0.0,
            },
        )


@line_rule(
    key="calibration-not-read",
    level="advice",
    says="The check says that the reference was read at 0, 25, 50, 75 and 100 %, up and down; "
    "{count} of these {of} readings are in the file.",
    follows="At a later visit nobody can tell what the reference gave.",
    mend="Type the readings in Calibration, or answer the check again.",
    source="the readings in the file",
)
def calibration_not_read(whole: LineView) -> Iterator[LineFound]:
    """A check that is answered with yes, and readings that are not there."""
    said = {held.station_id for held in whole.line.checks if _says_read(held)}
    places = {(way, share) for way in READ for share in PLACES}
    read: dict[int | None, set[tuple[str, float | None]]] = {}
    for point in whole.line.calibration_points:
        if point.frequency_hz is not None:
            read.setdefault(point.station_id, set()).add((point.direction, point.share))
    for result in whole.stations:
        if result.station.id not in said or result.chain is None:
            continue
        count = len(places & read.get(result.station.id, set()))
        if count < len(places):
            yield (
                result.station,
                _at_reference(result),
                {"count": str(count), "of": str(len(places))},
            )


def _says_read(held: Check) -> bool:
    return held.name == "reference-calibrated" and held.answer == "yes"


@line_rule(
    key="instrument-overdue",
    level="advice",
    says="Readings taken with {instrument} after its calibration ran out on {due}: {count}.",
    follows="They may be off by more than their limits, and prove less than they say.",
    mend="Have it calibrated and read again, or enter the new date if it has been.",
    source="the day of each reading, against the date entered for the instrument",
)
def instrument_overdue(whole: LineView) -> Iterator[LineFound]:
    """Readings of checks and calibrations by an instrument whose calibration had run out."""
    by_id = {held.id: held for held in whole.line.instruments}
    counts = Counter(held.id for held in _overdue(whole.line))
    for instrument_id, count in counts.items():
        held = by_id[instrument_id]
        yield (
            None,
            Place("instrument", held.id, "calibration_due"),
            {"count": str(count), "instrument": called(held), "due": held.calibration_due or ""},
        )


def _overdue(line: Line) -> Iterator[Instrument]:
    """The instrument of every reading that it took too late."""
    readings = [(held.instrument, held.done_at) for held in line.checks if held.value is not None]
    readings += [
        (held.instrument, held.done_at)
        for held in line.calibration_points
        if held.frequency_hz is not None or held.speed_m_s is not None
    ]
    for text, done_at in readings:
        try:
            day = datetime.date.fromisoformat(done_at[:10])
        except ValueError:
            # Nobody can tell whether it was too late.
            continue
        held = instrument_named(line, text)
        if held is not None and calibration_on(line, text, day).standing == "overdue":
            yield held
