"""A reference read at several points, up and down: zero, span, linearity, hysteresis."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "Calibrated",
    "Reading",
    "calibrate",
    "corrected_ends_hz",
    "other_end_hz",
    "signal_at_ends",
]


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


def signal_at_ends(
    found: Calibrated, set_bottom_hz: float, set_top_hz: float
) -> tuple[float, float]:
    r"""Where the signal really stands at 0 and 100 % of the reference, as shares of its span.

    .. math:: u_0 = \frac{f_0 - b}{t - b}, \qquad u_1 = \frac{f_0 + s - b}{t - b}

    Parameters
    ----------
    found : Calibrated
        As read [Hz]
    set_bottom_hz : float
        Setting of the bottom, *b*, while it was read [Hz]
    set_top_hz : float
        Setting of the top, *t*, while it was read [Hz]

    Returns
    -------
    tuple[float, float]
        Share of the signal's span at 0 % and at 100 % of the reference [-]

    Raises
    ------
    RangeError
        Both settings are the same, or the span as read is zero

    Examples
    --------
    >>> run = [Reading(x / 4, 57 * x / 4 + 1.5) for x in range(5)]
    >>> signal_at_ends(calibrate(run, 0.0, 60.0), 0.0, 60.0)
    (0.025, 0.975)

    References
    ----------
    .. [1] Linear scaling between two settings; algebra
    """
    width = set_top_hz - set_bottom_hz
    if not found.span_hz or not width:
        raise RangeError(
            "The ends were not corrected.",
            "The frequency does not change with the reference.",
            "Look at wiring and input setting first.",
        )
    at_bottom = (found.zero_hz - set_bottom_hz) / width
    return at_bottom, at_bottom + found.span_hz / width


def corrected_ends_hz(
    found: Calibrated,
    bottom_hz: float,
    top_hz: float,
    set_bottom_hz: float | None = None,
    set_top_hz: float | None = None,
) -> tuple[float, float]:
    """What to set at both ends of the reference so that zero and span come right.

    Parameters
    ----------
    found : Calibrated
        As read with the present settings [Hz]
    bottom_hz : float
        What is wanted at 0 % of the reference [Hz]
    top_hz : float
        What is wanted at 100 % of the reference [Hz]
    set_bottom_hz : float | None
        Setting of the bottom while it was read; None where it is what is wanted [Hz]
    set_top_hz : float | None
        Setting of the top while it was read; None where it is what is wanted [Hz]

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
    at_bottom, at_top = signal_at_ends(
        found,
        bottom_hz if set_bottom_hz is None else set_bottom_hz,
        top_hz if set_top_hz is None else set_top_hz,
    )
    slope = (top_hz - bottom_hz) / (at_top - at_bottom)
    start = bottom_hz - slope * at_bottom
    return start, start + slope


def other_end_hz(kept_hz: float, signal_share: float, wanted_hz: float) -> float:
    r"""What to set at one end of the reference where the other one has to stay.

    .. math:: e = k + \frac{f - k}{u}

    Parameters
    ----------
    kept_hz : float
        The end that stays, *k* [Hz]
    signal_share : float
        Where the signal stands at the place that has to come right, counted from the end that
        stays, *u* [-]
    wanted_hz : float
        Frequency that is wanted at that place, *f* [Hz]

    Returns
    -------
    float
        Setting of the other end [Hz]

    Raises
    ------
    RangeError
        The signal stands at the end that stays, which no other setting moves

    Examples
    --------
    >>> other_end_hz(0.0, 0.96, 60.0)
    62.5

    References
    ----------
    .. [1] Linear scaling between two settings; algebra
    """
    for value, what in ((kept_hz, "the end kept"), (wanted_hz, "the frequency wanted")):
        checks.finite(value, what)
    checks.finite(signal_share, "the signal's share")
    if not signal_share:
        raise RangeError(
            "The end was not corrected.",
            "The signal stands at the other end there.",
            "Look at wiring and input setting first.",
        )
    return kept_hz + (wanted_hz - kept_hz) / signal_share


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
