"""What a reading teaches: the field of the line that it can be taken over into."""

from dataclasses import dataclass

from core.calc import brush_bed
from core.errors import RangeError
from core.line import plan_rules
from core.line.checks.base import CheckItem
from core.line.results import LineResults


@dataclass(frozen=True, slots=True)
class Lesson:
    """A field, its value now, and the value that a reading gives it; in SI."""

    table: str
    record_id: int
    field: str
    label: str
    kind: str
    now: float | None
    value: float


def lesson_of(results: LineResults, item: CheckItem) -> Lesson | None:
    """What one reading teaches; None where it teaches nothing or nothing new."""
    held = item.result
    if held is None or held.answer != "reading" or held.value is None or item.station_id is None:
        return None
    made = _LESSONS.get(item.rule.key)
    lesson = made(results, item.station_id, held.value) if made else None
    if lesson is None or (lesson.now is not None and abs(lesson.now - lesson.value) < 1e-9):
        return None
    return lesson


def _fill(results: LineResults, station_id: int, value: float) -> Lesson | None:
    held = results.station(station_id).station.process
    return Lesson("process", held.id, "cup_fill", "Cups filled", "ratio", held.cup_fill, value)


def _diameter(results: LineResults, station_id: int, value: float) -> Lesson | None:
    held = results.station(station_id).station.drivetrain
    return Lesson(
        "drivetrain", held.id, "drum_diameter_m", "Diameter", "size", held.drum_diameter_m, value
    )


def _travel(results: LineResults, station_id: int, value: float) -> Lesson | None:
    """The factor by which a timed fruit travels faster or slower than the bare index says."""
    held = results.station(station_id).station.process
    drift = results.plan.entries[station_id].present.get(plan_rules.DRIFT.key)
    if drift is None or not drift.value or not held.carrying_length_m:
        return None
    try:
        bare = drift.value / (held.travel_factor or 1.0)
        factor = brush_bed.travel_factor(held.carrying_length_m, value, bare)
    except RangeError:
        return None
    return Lesson(
        "process",
        held.id,
        "travel_factor",
        "Travel factor",
        "factor",
        held.travel_factor,
        float(f"{factor:.4g}"),
    )


_LESSONS = {"cups-filled": _fill, "diameter": _diameter, "marked-fruit": _travel}
