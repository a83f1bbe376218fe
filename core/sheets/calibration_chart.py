"""The chart of a calibrated reference: deviation over its travel, up and down, found and left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.line.calibrating import READ, Calibration
from core.sheets.chart_axes import LABEL, Frame, ticks
from core.sheets.charts import SIZE, ChartWords
from core.sheets.drawing import Drawing, Ink, Item, Point, Shape, Stroke, Words
from core.sheets.drawn_text import text_width

_TRAVEL = (0.0, 25.0, 50.0, 75.0, 100.0)
_LEFT, _RIGHT, _BOTTOM = 52.0, 14.0, 34.0
_ROW = 13.0
_INKS: dict[str, Ink] = {"up": "series_1", "down": "series_2"}
_TALL, _WIDE = 4.2, 4.0


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading: place [%], deviation [Hz], and whether the drive held its frequency there."""

    share: float
    deviation: float
    held: bool = False


@dataclass(frozen=True, slots=True)
class Run:
    """The readings of one state in one direction."""

    state: str
    direction: str
    marks: tuple[Mark, ...]


def chart_of_calibrations(
    calibrations: Sequence[Calibration],
    words: ChartWords | None = None,
    size: tuple[float, float] = SIZE,
) -> Drawing:
    """Both states of one station in one chart.

    Parameters
    ----------
    calibrations : sequence of Calibration
        The states, the earlier one first.
    words : ChartWords, optional
        In the language of the reader; English without it.
    size : tuple of float
        Width and height [pt].
    """
    runs = [run for held in calibrations for run in runs_of(held)]
    limit = next((held.limit_hz for held in calibrations if held.limit_hz is not None), None)
    return calibration_chart(runs, limit, words or ChartWords(), size)


def runs_of(calibration: Calibration) -> Iterator[Run]:
    """The readings of one state as the chart takes them."""
    for direction in READ:
        marks = tuple(
            Mark(100.0 * (entry.point.share or 0.0), entry.deviation_hz, bool(entry.held))
            for entry in calibration.points
            if entry.point.direction == direction and entry.deviation_hz is not None
        )
        if marks:
            yield Run(calibration.state, direction, marks)


def calibration_chart(
    runs: Sequence[Run],
    limit: float | None,
    words: ChartWords | None = None,
    size: tuple[float, float] = SIZE,
) -> Drawing:
    """Deviations of readings; triangles point the way they were met, as found they are hollow."""
    words = words or ChartWords()
    values = [mark.deviation for run in runs for mark in run.marks]
    if not values:
        told = words.nothing.format(what=words.no_points)
        return Drawing(size[0], 40.0, (_words((size[0] / 2.0, 24.0), told, "middle"),), told)
    reach = max(*(abs(value) for value in values), limit or 0.0, 0.01)
    legend, below = _legend(runs, limit, words, size[0])
    top = below + 17.0
    frame = Frame(
        _LEFT,
        top,
        size[0] - _LEFT - _RIGHT,
        size[1] - top - _BOTTOM,
        _TRAVEL,
        ticks(-1.08 * reach, 1.08 * reach, 6),
    )
    items: list[Item] = [*legend, *frame.y_axis("Hz"), *frame.x_axis(words.travel), *frame.base()]
    if limit is not None:
        for level in (-limit, limit):
            ends = (frame.left, frame.at_y(level)), (frame.right, frame.at_y(level))
            items.append(Stroke(ends, "good", 1.4, (6.0, 3.0)))
    for run in runs:
        items += _drawn(frame, run)
    told = "; ".join(
        f"{_state(run, words)}, {_direction(run, words)}: "
        + ", ".join(f"{mark.share:g} % {mark.deviation:+.2f} Hz" for mark in run.marks)
        for run in runs
    )
    return Drawing(*size, tuple(items), told)


def _drawn(frame: Frame, run: Run) -> Iterator[Item]:
    counted = [mark for mark in run.marks if not mark.held]
    path = tuple(frame.at(mark.share, mark.deviation) for mark in counted)
    if len(path) > 1:
        dash = (2.0, 2.0) if run.state == "found" else ()
        yield Stroke(path, _INKS[run.direction], 0.9, dash)
    for mark in run.marks:
        at = frame.at(mark.share, mark.deviation)
        yield triangle(at, run.direction, hollow=run.state == "found")
        if mark.held:
            yield from _cross(at)


def triangle(at: Point, direction: str, *, hollow: bool) -> Shape:
    """A reading: its tip points the way the reference was turned."""
    across, level = at
    tip = -_TALL if direction == "up" else _TALL
    base = level - 0.75 * tip
    corners = ((across, level + tip), (across - _WIDE, base), (across + _WIDE, base))
    ink = _INKS[direction]
    return Shape(
        corners, "paper" if hollow else ink, ink if hollow else "ink", 1.3 if hollow else 0.5
    )


def _cross(at: Point) -> Iterator[Item]:
    across, level = at
    for sign in (-1.0, 1.0):
        ends = (across - 6.0, level - 6.0 * sign), (across + 6.0, level + 6.0 * sign)
        yield Stroke(ends, "ink", 1.0)


def _legend(
    runs: Sequence[Run], limit: float | None, words: ChartWords, width: float
) -> tuple[list[Item], float]:
    """What each mark means, in as many rows as it takes; and the base line of the last one."""
    entries: list[tuple[str, Run | None]] = [
        (f"{_state(run, words)}, {_direction(run, words)}", run) for run in runs
    ]
    if limit is not None:
        entries.append((f"{words.limit} {limit:.2f} Hz", None))
    if any(mark.held for run in runs for mark in run.marks):
        entries.append((words.held, None))
    items: list[Item] = []
    left, level = _LEFT, 12.0
    for text, run in entries:
        wide = 27.0 + text_width(text, LABEL)
        if left + wide > width and left > _LEFT:
            left, level = _LEFT, level + _ROW
        at = (left + 6.0, level - 3.0)
        if run is not None:
            items.append(triangle(at, run.direction, hollow=run.state == "found"))
        elif text == words.held:
            items += _cross(at)
        else:
            items.append(Stroke(((left, at[1]), (left + 12.0, at[1])), "good", 1.4, (4.0, 2.0)))
        items.append(_words((left + 16.0, level), text, "start"))
        left += wide
    return items, level


def _words(at: Point, text: str, anchor: str) -> Words:
    return Words(at, text, LABEL, "middle" if anchor == "middle" else "start", "ink")


def _state(run: Run, words: ChartWords) -> str:
    return words.as_found if run.state == "found" else words.as_left


def _direction(run: Run, words: ChartWords) -> str:
    return words.up if run.direction == "up" else words.down
