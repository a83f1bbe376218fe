"""A reference read at several points, up and down: zero, span, linearity, hysteresis."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.calc import checks
from core.errors import RangeError

__all__ = ["Calibrated", "Reading", "calibrate", "corrected_ends_hz"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: place of the reference, frequency read, and whether it was met going up."""

    share: float
    frequency_hz: float
    upwards: bool = True


@dataclass(frozen=True, slots=True)
class Calibrated:
    """What a set of readings says, every deviation in hertz.

    ``zero_hz`` and ``span_hz`` are those of the best straight line; their errors are against the
    ends that are wanted. Linearity is the largest distance from a line: from the best one, and
    from the one through the readings at both ends (terminal based).
    """

    zero_hz: float
    span_hz: float
    zero_error_hz: float
    span_error_hz: float
    linearity_best_hz: float
    linearity_terminal_hz: float
    hysteresis_hz: float
    worst_hz: float
    worst_share: float


def calibrate(readings: Sequence[Reading], bottom_hz: float, top_hz: float) -> Calibrated:
    r"""Evaluate the readings of one reference.

    .. math:: f = f_0 + s\,x, \qquad s = \frac{\sum (x - \bar x)(f - \bar f)}{\sum (x - \bar x)^2}

    Parameters
    ----------
    readings : Sequence[Reading]
        At two places of the reference at least; up and down where hysteresis is asked for [-, Hz]
    bottom_hz : float
        Frequency that is wanted at 0 % of the reference [Hz]
    top_hz : float
        Frequency that is wanted at 100 % of the reference [Hz]

    Returns
    -------
    Calibrated
        Zero, span, linearity, hysteresis, worst deviation [Hz]

    Raises
    ------
    RangeError
        Fewer than two different places, or a number that is none

    Notes
    -----
    Hysteresis is the largest difference between the mean of the readings going up and of those
    going down at the same place; without both it is zero. Readings held by a minimum or maximum
    frequency do not belong in: they are no fault of the reference.

    Examples
    --------
    >>> run = [Reading(x / 4, 60 * x / 4 + 0.3) for x in range(5)]
    >>> found = calibrate(run, 0.0, 60.0)
    >>> round(found.zero_error_hz, 9), round(abs(found.linearity_best_hz), 9)
    (0.3, 0.0)

    References
    ----------
    .. [1] IEC 61298-2:2008, 4.1 (conformity, terminal based and best fit; hysteresis; from memory)
    """
    for reading in readings:
        checks.finite(reading.share, "a place of the reference")
        checks.finite(reading.frequency_hz, "a frequency read")
    places = sorted({reading.share for reading in readings})
    if len(places) < 2:
        raise RangeError(
            "The reference was not evaluated.",
            f"It was read at {len(places)} place.",
            "Read it at two places at least, better at five.",
        )
    zero, span = _best_line(readings)
    ideal = [bottom_hz + reading.share * (top_hz - bottom_hz) for reading in readings]
    off = [reading.frequency_hz - want for reading, want in zip(readings, ideal, strict=True)]
    worst = max(range(len(off)), key=lambda place: abs(off[place]))
    low, high = (_mean_at(readings, place) for place in (places[0], places[-1]))
    slope = (high - low) / (places[-1] - places[0])
    return Calibrated(
        zero_hz=zero,
        span_hz=span,
        zero_error_hz=zero - bottom_hz,
        span_error_hz=span - (top_hz - bottom_hz),
        linearity_best_hz=_largest(readings, zero, span),
        linearity_terminal_hz=_largest(readings, low - slope * places[0], slope),
        hysteresis_hz=max(_differences(readings, places), default=0.0),
        worst_hz=off[worst],
        worst_share=readings[worst].share,
    )


def corrected_ends_hz(found: Calibrated, bottom_hz: float, top_hz: float) -> tuple[float, float]:
    """What to set at both ends of the reference so that zero and span come right.

    Parameters
    ----------
    found : Calibrated
        As read with the present settings [Hz]
    bottom_hz : float
        The present setting of the bottom, which is also what is wanted there [Hz]
    top_hz : float
        The present setting of the top, which is also what is wanted there [Hz]

    Returns
    -------
    tuple[float, float]
        New settings for the bottom and the top of the reference [Hz]

    Raises
    ------
    RangeError
        The span as read is zero: no setting mends that

    Notes
    -----
    The drive scales its signal linearly between both settings, so an error of the signal is
    mended by the opposite error of the settings.

    Examples
    --------
    >>> run = [Reading(x / 4, 57 * x / 4 + 1) for x in range(5)]
    >>> ends = corrected_ends_hz(calibrate(run, 0.0, 60.0), 0.0, 60.0)
    >>> [round(end, 3) for end in ends]
    [-1.053, 62.105]

    References
    ----------
    .. [1] Linear scaling between two settings; algebra
    """
    wanted = top_hz - bottom_hz
    if not found.span_hz or not wanted:
        raise RangeError(
            "The ends were not corrected.",
            "The frequency does not change with the reference.",
            "Look at wiring and input setting first.",
        )
    # What the signal really does: fractions of the span at 0 and 100 % of the reference.
    at_bottom = (found.zero_hz - bottom_hz) / wanted
    at_top = (found.zero_hz + found.span_hz - bottom_hz) / wanted
    slope = wanted / (at_top - at_bottom)
    start = bottom_hz - slope * at_bottom
    return start, start + slope


def _best_line(readings: Sequence[Reading]) -> tuple[float, float]:
    count = len(readings)
    mean_x = math.fsum(reading.share for reading in readings) / count
    mean_f = math.fsum(reading.frequency_hz for reading in readings) / count
    spread = math.fsum((reading.share - mean_x) ** 2 for reading in readings)
    moment = math.fsum((r.share - mean_x) * (r.frequency_hz - mean_f) for r in readings)
    span = moment / spread
    return mean_f - span * mean_x, span


def _largest(readings: Sequence[Reading], zero_hz: float, span_hz: float) -> float:
    return max(abs(r.frequency_hz - zero_hz - span_hz * r.share) for r in readings)


def _mean_at(readings: Sequence[Reading], share: float, upwards: bool | None = None) -> float:
    fitting = [
        reading.frequency_hz
        for reading in readings
        if reading.share == share and upwards in (None, reading.upwards)
    ]
    return math.fsum(fitting) / len(fitting) if fitting else math.nan


def _differences(readings: Sequence[Reading], places: Sequence[float]) -> list[float]:
    pairs = [(_mean_at(readings, x, True), _mean_at(readings, x, False)) for x in places]
    return [abs(up - down) for up, down in pairs if not math.isnan(up + down)]
