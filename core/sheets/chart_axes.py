"""Axes of charts: round ticks, scales, grid, and the frame that a chart is drawn in."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.sheets.drawing import Item, Point, Stroke, Words

LABEL, TITLE = 7.5, 9.0
"""Sizes of the words at an axis, and of what names it [pt]."""
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def ticks(low: float, high: float, most: int = 8) -> tuple[float, ...]:
    """Round values from ``low`` or below to ``high`` or above, at most so many and one more.

    Examples
    --------
    >>> ticks(0.0, 0.58, 6)
    (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6)
    >>> ticks(-0.03, 0.21, 5)
    (-0.05, 0.0, 0.05, 0.1, 0.15, 0.2, 0.25)
    """
    if not high > low:
        around = 0.5 * max(abs(low), 1e-6)
        low, high = low - around, low + around
    rough = (high - low) / max(1, most)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * factor for factor in _STEPS if power * factor >= rough * 0.999999)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(round(number * step, 12) for number in range(first, last + 1))


def tick_text(value: float, all_ticks: Sequence[float]) -> str:
    """A tick with as many places as tell it from the next one."""
    step = all_ticks[1] - all_ticks[0] if len(all_ticks) > 1 else 1.0
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    if round(step * 10**places, 6) != int(round(step * 10**places, 6)):
        places += 1
    return f"{value:.{places}f}"


@dataclass(frozen=True, slots=True)
class Frame:
    """The box that values are drawn in; ``x`` and ``y`` are ticks from end to end."""

    left: float
    top: float
    width: float
    height: float
    x: tuple[float, ...]
    y: tuple[float, ...]

    @property
    def bottom(self) -> float:
        """Lower edge."""
        return self.top + self.height

    @property
    def right(self) -> float:
        """Right edge."""
        return self.left + self.width

    def at_x(self, value: float) -> float:
        """Where a value stands across."""
        low, high = self.x[0], self.x[-1]
        return self.left + (min(max(value, low), high) - low) / (high - low) * self.width

    def at_y(self, value: float) -> float:
        """Where a value stands upwards."""
        low, high = self.y[0], self.y[-1]
        return self.bottom - (min(max(value, low), high) - low) / (high - low) * self.height

    def at(self, x: float, y: float) -> Point:
        """Where a pair of values stands."""
        return self.at_x(x), self.at_y(y)

    def y_axis(self, unit: str) -> Iterator[Item]:
        """Grid lines, values and the unit at the left."""
        for value in self.y:
            height = self.at_y(value)
            yield Stroke(((self.left, height), (self.right, height)), "faint", 0.5)
            text = tick_text(value, self.y)
            yield Words((self.left - 4.0, height + LABEL * 0.35), text, LABEL, "end", "quiet")
        yield Words((self.left - 4.0, self.top - 8.0), unit, LABEL, "end", "quiet")

    def x_axis(self, words: str) -> Iterator[Item]:
        """Grid lines, values and words below."""
        for value in self.x:
            across = self.at_x(value)
            yield Stroke(((across, self.top), (across, self.bottom)), "faint", 0.5)
            text = tick_text(value, self.x)
            yield Words((across, self.bottom + LABEL + 3.0), text, LABEL, "middle", "quiet")
        middle = self.left + self.width / 2.0
        yield Words((middle, self.bottom + 2.6 * LABEL), words, LABEL, "middle", "quiet")

    def base(self) -> Iterator[Item]:
        """The lines at the left and at zero, or at the bottom where zero is not in sight."""
        yield Stroke(((self.left, self.top), (self.left, self.bottom)), "ink", 0.8)
        zero = self.at_y(0.0) if self.y[0] <= 0.0 <= self.y[-1] else self.bottom
        yield Stroke(((self.left, zero), (self.right, zero)), "ink", 0.8)
