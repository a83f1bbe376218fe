"""Findings about what was read: references off their limit, checks without readings, instruments.

They speak of the readings that are in the file; a line that nobody has read has none of them.
"""

import datetime
import re
from collections import Counter
from collections.abc import Iterator

from core.line.calibrating import PLACES, READ, Calibration, calibration_of
from core.line.calibration_points import PointRead
from core.line.checks.instruments import called, instrument_named, standing_on
from core.line.findings.base import Place
from core.line.findings.view import LineFound, LineView, line_rule
from core.line.station import StationResult
from core.model import Check, Line
from core.model.choices import CALIBRATION_STATES

_DAY_AT_END = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")


def _newest(whole: LineView, station_id: int) -> Iterator[tuple[Calibration, PointRead]]:
    """The readings of a station as they stand: at each place as left, else as found.

    A reading that nothing judges, such as one that the drive held, takes the place of no other.
    """
    left, found = (calibration_of(whole.results, station_id, key) for key in ("left", "found"))
    judged = {_place(entry) for entry in left.points if entry.is_within is not None}
    yield from ((left, entry) for entry in left.points)
    yield from ((found, entry) for entry in found.points if _place(entry) not in judged)


def _place(entry: PointRead) -> tuple[str, float | None]:
    return entry.point.direction, entry.point.share


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
    read = {point.station_id for point in whole.line.calibration_points}
    for result in whole.stations:
        if result.station.id not in read:
            continue
        out = [held for held in _newest(whole, result.station.id) if held[1].is_within is False]
        if not out:
            continue
        found, worst = max(out, key=lambda held: abs(held[1].deviation_hz or 0.0))
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
    read: dict[tuple[int | None, str], set[tuple[str, float | None]]] = {}
    for point in whole.line.calibration_points:
        if point.frequency_hz is not None:
            key = point.station_id, point.state
            read.setdefault(key, set()).add((point.direction, point.share))
    for result in whole.stations:
        if result.station.id not in said or result.chain is None:
            continue
        # All of them in one state: half as found and half as left say nothing of a whole.
        held = (read.get((result.station.id, state), set()) for state in CALIBRATION_STATES)
        count = max(len(places & points) for points in held)
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
    mend="Have it calibrated, and read again.",
    source="the day of each reading, against the date that it names or the instrument has",
)
def instrument_overdue(whole: LineView) -> Iterator[LineFound]:
    """Readings of checks and calibrations by an instrument whose calibration had run out."""
    by_id = {held.id: held for held in whole.line.instruments}
    for (instrument_id, due), count in Counter(_overdue(whole.line)).items():
        yield (
            None,
            Place("instrument", instrument_id, "calibration_due"),
            {"count": str(count), "instrument": called(by_id[instrument_id]), "due": due},
        )


def _overdue(line: Line) -> Iterator[tuple[int, str]]:
    """For every reading that came too late: its instrument, and the day that it was good until."""
    readings = [(held.instrument, held.done_at) for held in line.checks if held.value is not None]
    readings += [
        (held.instrument, held.done_at)
        for held in line.calibration_points
        if held.frequency_hz is not None or held.speed_m_s is not None
    ]
    for text, done_at in readings:
        held = instrument_named(line, text)
        due = _due(text) or (held.calibration_due if held else None)
        try:
            day = datetime.date.fromisoformat(done_at[:10])
        except ValueError:
            # Nobody can tell whether it was too late.
            continue
        if held is not None and due and standing_on(due, day).standing == "overdue":
            yield held.id, due


def _due(text: str) -> str:
    """The day that a reading itself names; a later calibration does not reach back to it."""
    found = _DAY_AT_END.search(text)
    return found.group() if found else ""
