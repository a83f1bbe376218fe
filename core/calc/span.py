"""The range of hertz that the travel of a knob covers, and a narrower one that covers what is used.

Travel is a share: of a knob, of a signal, or of the counts of a converter. The scaling itself is in
:mod:`core.calc.reference`.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.calc import checks
from core.calc.reference import FREQUENCY_MAX_HZ, ratio_for_frequency
from core.errors import RangeError

__all__ = ["Travel", "resolution_hz", "suggest_span", "travel"]

# A hair of room, so that 49.999999999 counts as 50 where an end is rounded.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Travel:
    """What a span does to the frequencies that are planned.

    >>> Travel(0.6, 0.5, 0.75).used
    0.25
    """

    resolution_hz: float
    """Change of frequency by the least that can be set [Hz]"""
    lowest: float
    """Share of travel at which the first of the planned frequencies lies [-]"""
    highest: float
    """Share of travel at which the last of them lies [-]"""

    @property
    def used(self) -> float:
        """Share of travel between the two."""
        return self.highest - self.lowest


def resolution_hz(bottom_hz: float, top_hz: float, share: float) -> float:
    r"""Change of frequency by the least change of travel that can be set.

    .. math:: \Delta f = x \, |f_{top} - f_{bottom}|

    Parameters
    ----------
    bottom_hz : float
        Frequency at the bottom of the travel [Hz]
    top_hz : float
        Frequency at the top of the travel [Hz]
    share : float
        Least change that can be set, as a share of the whole travel, *x*: of a dial one half of a
        division or so; of a converter 1 over its number of steps [-]

    Returns
    -------
    float
        Frequency of that change [Hz]

    Raises
    ------
    RangeError
        A frequency outside of 0 to 1000 Hz, or a share outside of 0 to 1 or zero

    Notes
    -----
    A knob with a dial of 100 divisions is set by hand to about half a division: 0.005 (common
    practice). For a converter of so many bits see :func:`core.calc.signals.resolution_hz`.

    Examples
    --------
    >>> resolution_hz(0.0, 60.0, 0.01), resolution_hz(30.0, 45.0, 0.01)
    (0.6, 0.15)

    References
    ----------
    .. [1] Straight scaling of a reference
    """
    _check_frequency(bottom_hz, "the frequency at the bottom of the travel")
    _check_frequency(top_hz, "the frequency at the top of the travel")
    checks.ratio(share, "the least change of travel", zero=False)
    return share * abs(top_hz - bottom_hz)


def suggest_span(
    planned_hz: Sequence[float],
    minimum_hz: float,
    limit_hz: float,
    margin_share: float = 0.15,
    round_to_hz: float = 1.0,
) -> tuple[float, float]:
    r"""Frequencies for both ends of the travel, so that it covers what is used.

    .. math:: f_{bottom} = \max\left(f_{min}, (1 - m) \min_i f_i\right), \qquad
        f_{top} = \min\left(f_{lim}, (1 + m) \max_i f_i\right)

    both rounded outward, but never past their limit.

    Parameters
    ----------
    planned_hz : Sequence[float]
        Frequencies of this drive in all recipes [Hz]
    minimum_hz : float
        Lowest frequency that the motor's cooling allows at its load, :math:`f_{min}` [Hz]
    limit_hz : float
        Highest that motor, gear and machine allow, :math:`f_{lim}` [Hz]
    margin_share : float
        Room on either side, as a share of the frequency there, *m* [-]
    round_to_hz : float
        Both ends are set in steps of this [Hz]

    Returns
    -------
    tuple[float, float]
        Frequency at bottom and top of the travel [Hz]

    Raises
    ------
    RangeError
        Nothing planned, a planned frequency below the minimum or above the limit, a minimum that is
        not below the limit, a margin outside of 0 to 1, a step not above zero, or ends that
        coincide

    Notes
    -----
    A station whose travel begins above zero does not stop at the bottom of its knob: it runs there.
    Stopping is left to the run command and the emergency stop, and the label at the knob must say
    so. The margin is for a setting after the planned one; 15 % is by judgement.

    Examples
    --------
    >>> suggest_span((34.0, 40.0), 20.0, 60.0)
    (28.0, 46.0)

    References
    ----------
    .. [1] Straight scaling of a reference; the limits are those of the calling station
    """
    low_hz, high_hz = _planned_ends_hz(planned_hz)
    _check_frequency(minimum_hz, "the minimum frequency")
    _check_frequency(limit_hz, "the highest frequency")
    checks.ratio(margin_share, "the margin")
    checks.positive(round_to_hz, "the step of the ends", "Hz")
    if not minimum_hz < limit_hz:
        raise _no_span(
            f"The minimum, {minimum_hz:.4g} Hz, is not below the limit, {limit_hz:.4g} Hz.",
            "Correct one of the two.",
        )
    _check_within(low_hz, high_hz, minimum_hz, limit_hz)
    bottom_hz = max(minimum_hz, _step_below(low_hz * (1.0 - margin_share), round_to_hz))
    top_hz = min(limit_hz, -_step_below(-high_hz * (1.0 + margin_share), round_to_hz))
    if not bottom_hz < top_hz:
        raise _no_span(
            f"Both ends come to {bottom_hz:.4g} Hz.", "Leave some margin, so that there is travel."
        )
    return bottom_hz, top_hz


def travel(planned_hz: Sequence[float], bottom_hz: float, top_hz: float, share: float) -> Travel:
    r"""Where the planned frequencies lie in the travel of a span, and how finely they are set.

    .. math:: x_i = \frac{f_i - f_{bottom}}{f_{top} - f_{bottom}}

    Parameters
    ----------
    planned_hz : Sequence[float]
        Frequencies of this drive in all recipes [Hz]
    bottom_hz : float
        Frequency at the bottom of the travel [Hz]
    top_hz : float
        Frequency at the top of the travel; lower than the other for a reversed reference [Hz]
    share : float
        Least change that can be set, as a share of the whole travel [-]

    Returns
    -------
    Travel
        Resolution and the shares of travel in use [Hz, -]

    Raises
    ------
    RangeError
        Nothing planned, a planned frequency that the span cannot ask for, both ends equal, a
        frequency outside of 0 to 1000 Hz, or a share outside of 0 to 1 or zero

    Notes
    -----
    Taken for the span as it is and for the one suggested, it tells before and after.

    Examples
    --------
    >>> before = travel((34.0, 40.0), 0.0, 60.0, 0.005)
    >>> after = travel((34.0, 40.0), 28.0, 46.0, 0.005)
    >>> round(before.used, 3), round(after.used, 3)
    (0.1, 0.333)
    >>> round(before.resolution_hz, 3), round(after.resolution_hz, 3)
    (0.3, 0.09)

    References
    ----------
    .. [1] Straight scaling of a reference
    """
    places = sorted(
        ratio_for_frequency(frequency_hz, bottom_hz, top_hz)
        for frequency_hz in _planned_ends_hz(planned_hz)
    )
    return Travel(resolution_hz(bottom_hz, top_hz, share), places[0], places[-1])


def _planned_ends_hz(planned_hz: Sequence[float]) -> tuple[float, float]:
    if not planned_hz:
        raise _no_span("No frequency is planned for this drive.", "Plan a speed for it first.")
    for frequency_hz in planned_hz:
        _check_frequency(frequency_hz, "a planned frequency")
    return min(planned_hz), max(planned_hz)


def _check_within(low_hz: float, high_hz: float, minimum_hz: float, limit_hz: float) -> None:
    if low_hz < minimum_hz - _ROUNDING:
        raise _no_span(
            f"{low_hz:.4g} Hz is planned; the motor must not run below {minimum_hz:.4g} Hz.",
            "Plan it faster, raise the gear ratio, or cool the motor by a fan of its own.",
        )
    if high_hz > limit_hz + _ROUNDING:
        raise _no_span(
            f"{high_hz:.4g} Hz is planned; more than {limit_hz:.4g} Hz is not allowed.",
            "Plan it slower, or lower the gear ratio.",
        )


def _step_below(value_hz: float, step_hz: float) -> float:
    return math.floor(value_hz / step_hz + _ROUNDING) * step_hz


def _check_frequency(frequency_hz: float, name: str) -> None:
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, name, "Hz")


def _no_span(why: str, fix: str) -> RangeError:
    return RangeError("No span was found.", why, fix)
