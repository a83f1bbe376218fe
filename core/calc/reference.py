"""The speed reference inside the drive: signal, share of the input's span, frequency.

A signal is in volts or in amperes; both ends of a span are in the same unit. A span may begin above
zero (live zero, 4-20 mA) or below (±10 V). What happens on the wire before is in
:mod:`core.calc.signals`.
"""

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "frequency_at_ratio_hz",
    "frequency_for_signal_hz",
    "input_ratio",
    "limited_frequency_hz",
    "ratio_for_frequency",
    "signal_at_span",
    "signal_for_frequency",
    "span_fraction",
]

FREQUENCY_MAX_HZ = 1000.0

# Room for the rounding of a frequency or signal that was itself computed from the end of a span.
_ROUNDING = 1e-9


def span_fraction(signal: float, low: float, high: float) -> float:
    r"""Where a signal lies in its span; below 0 or above 1 when it has left it.

    .. math:: x = \frac{S - S_{low}}{S_{high} - S_{low}}

    Parameters
    ----------
    signal : float
        Signal [V or A]
    low : float
        Signal at the bottom of the span [V or A]
    high : float
        Signal at the top of the span [V or A]

    Returns
    -------
    float
        Share of the span, not limited [-]

    Raises
    ------
    RangeError
        A value is no finite number, or the span does not rise

    Notes
    -----
    Not limited on purpose: with a live zero a negative share tells a broken wire from the lowest
    speed. For what a drive makes of it see :func:`input_ratio`.

    Examples
    --------
    >>> round(span_fraction(0.012, 0.004, 0.020), 9)
    0.5
    >>> span_fraction(0.0, 0.004, 0.020)
    -0.25

    References
    ----------
    .. [1] IEC 60381-1 (4-20 mA), IEC 60381-2 (0-10 V), from memory
    """
    checks.finite(signal, "the signal")
    checks.span(low, high)
    return (signal - low) / (high - low)


def signal_at_span(fraction: float, low: float, high: float) -> float:
    r"""Signal at a share of its span: :func:`span_fraction` turned round.

    .. math:: S = S_{low} + x \, (S_{high} - S_{low})

    Parameters
    ----------
    fraction : float
        Share of the span, *x* [-]
    low : float
        Signal at the bottom of the span [V or A]
    high : float
        Signal at the top of the span [V or A]

    Returns
    -------
    float
        Signal [V or A]

    Raises
    ------
    RangeError
        The share lies outside of 0 to 1, or the span does not rise

    Examples
    --------
    >>> round(signal_at_span(0.25, 0.004, 0.020), 9)
    0.008

    References
    ----------
    .. [1] IEC 60381-1 (4-20 mA), IEC 60381-2 (0-10 V), from memory
    """
    checks.ratio(fraction, "the share of the span")
    checks.span(low, high)
    return low * (1.0 - fraction) + high * fraction


def input_ratio(signal: float, input_low: float, input_high: float) -> float:
    r"""What a drive's reference input makes of a signal, limited at both ends of its own span.

    .. math:: u = \min\left(1, \max\left(0,
        \frac{S - S_{low}}{S_{high} - S_{low}}\right)\right)

    Parameters
    ----------
    signal : float
        Signal as it arrives [V or A]
    input_low : float
        Signal at the bottom of the span that the input is set to [V or A]
    input_high : float
        Signal at the top of that span [V or A]

    Returns
    -------
    float
        Share of the input's span, 0 to 1 [-]

    Raises
    ------
    RangeError
        A value is no finite number, or the span does not rise

    Notes
    -----
    The span is the input's, not the source's. A 4-20 mA source on an input left at 0-20 mA never
    goes below a fifth: the station creeps at "zero". A 0-5 V source on a 0-10 V input never goes
    above one half. Within the span :func:`signal_at_span` turns it round.

    Examples
    --------
    >>> input_ratio(0.004, 0.0, 0.020)
    0.2
    >>> input_ratio(11.0, 0.0, 10.0)
    1.0

    References
    ----------
    .. [1] Common practice; the drive's manual tells what its inputs do outside of their span
    """
    return min(1.0, max(0.0, span_fraction(signal, input_low, input_high)))


def frequency_at_ratio_hz(ratio: float, hz_at_low: float, hz_at_high: float) -> float:
    r"""Frequency that the drive's scaling gives to a share of the input's span.

    .. math:: f = f_{low} + u \, (f_{high} - f_{low})

    Parameters
    ----------
    ratio : float
        Share of the input's span, *u* [-]
    hz_at_low : float
        Frequency at the bottom of the reference [Hz]
    hz_at_high : float
        Frequency at the top of the reference; lower than the other for a reversed reference [Hz]

    Returns
    -------
    float
        Frequency before the drive's limits [Hz]

    Raises
    ------
    RangeError
        The share lies outside of 0 to 1, or a frequency outside of 0 to 1000 Hz

    Examples
    --------
    >>> frequency_at_ratio_hz(0.64, 10.0, 60.0)
    42.0

    References
    ----------
    .. [1] Common practice
    """
    checks.ratio(ratio, "the share of the reference")
    _check_frequency(hz_at_low, "the frequency at the bottom of the reference")
    _check_frequency(hz_at_high, "the frequency at the top of the reference")
    return hz_at_low * (1.0 - ratio) + hz_at_high * ratio


def ratio_for_frequency(frequency_hz: float, hz_at_low: float, hz_at_high: float) -> float:
    r"""Share of the input's span for a frequency: :func:`frequency_at_ratio_hz` turned round.

    .. math:: u = \frac{f - f_{low}}{f_{high} - f_{low}}

    Parameters
    ----------
    frequency_hz : float
        Wanted frequency [Hz]
    hz_at_low : float
        Frequency at the bottom of the reference [Hz]
    hz_at_high : float
        Frequency at the top of the reference [Hz]

    Returns
    -------
    float
        Share of the input's span [-]

    Raises
    ------
    RangeError
        The frequency lies outside of what the reference can ask for, both ends are equal, or one
        of them lies outside of 0 to 1000 Hz

    Examples
    --------
    >>> round(ratio_for_frequency(42.0, 10.0, 60.0), 9)
    0.64

    References
    ----------
    .. [1] Common practice
    """
    _check_frequency(hz_at_low, "the frequency at the bottom of the reference")
    _check_frequency(hz_at_high, "the frequency at the top of the reference")
    if hz_at_low == hz_at_high:
        raise RangeError(
            "The signal was not found.",
            f"The reference gives {hz_at_low:.6g} Hz at both ends.",
            "Set two different frequencies at the ends of the reference.",
        )
    lowest_hz, highest_hz = sorted((hz_at_low, hz_at_high))
    if not lowest_hz - _ROUNDING <= frequency_hz <= highest_hz + _ROUNDING:
        raise RangeError(
            "The signal was not found.",
            f"{frequency_hz:.6g} Hz is wanted; the reference spans {lowest_hz:.6g} to "
            f"{highest_hz:.6g} Hz.",
            "Change the frequencies at the ends of the reference, or the ratio of the drivetrain.",
        )
    return min(1.0, max(0.0, (frequency_hz - hz_at_low) / (hz_at_high - hz_at_low)))


def limited_frequency_hz(frequency_hz: float, min_hz: float, max_hz: float) -> float:
    r"""Frequency after the drive's own limits.

    .. math:: f' = \min(f_{max}, \max(f_{min}, f))

    Parameters
    ----------
    frequency_hz : float
        Frequency that the reference asks for [Hz]
    min_hz : float
        Minimum frequency of the drive [Hz]
    max_hz : float
        Maximum frequency of the drive [Hz]

    Returns
    -------
    float
        Output frequency once the ramp is over [Hz]

    Raises
    ------
    RangeError
        A frequency outside of 0 to 1000 Hz, or a minimum above the maximum

    Notes
    -----
    The limits do not change the scaling of the reference: below the minimum and above the maximum
    the knob turns and nothing happens.

    Examples
    --------
    >>> limited_frequency_hz(54.8, 15.0, 50.0)
    50.0

    References
    ----------
    .. [1] Common practice; some drives scale to the maximum instead, as their manual tells
    """
    _check_frequency(frequency_hz, "the frequency")
    _check_frequency(min_hz, "the minimum frequency")
    _check_frequency(max_hz, "the maximum frequency")
    if min_hz > max_hz:
        raise RangeError(
            "The frequency was not limited.",
            f"The minimum frequency, {min_hz:.6g} Hz, lies above the maximum, {max_hz:.6g} Hz.",
            "Correct one of the two settings.",
        )
    return min(max_hz, max(min_hz, frequency_hz))


def frequency_for_signal_hz(
    signal: float, input_low: float, input_high: float, hz_at_low: float, hz_at_high: float
) -> float:
    r"""From signal to frequency in one go: :func:`input_ratio`, :func:`frequency_at_ratio_hz`.

    .. math:: f = f_{low} + u(S) \, (f_{high} - f_{low})

    Parameters
    ----------
    signal : float
        Signal as it arrives at the drive [V or A]
    input_low : float
        Signal at the bottom of the span that the input is set to [V or A]
    input_high : float
        Signal at the top of that span [V or A]
    hz_at_low : float
        Frequency at the bottom of the reference [Hz]
    hz_at_high : float
        Frequency at the top of the reference [Hz]

    Returns
    -------
    float
        Frequency before the drive's limits [Hz]

    Raises
    ------
    RangeError
        As the two steps do

    Examples
    --------
    >>> round(frequency_for_signal_hz(0.01632, 0.0, 0.020, 0.0, 60.0), 2)
    48.96

    References
    ----------
    .. [1] Common practice
    """
    ratio = input_ratio(signal, input_low, input_high)
    return frequency_at_ratio_hz(ratio, hz_at_low, hz_at_high)


def signal_for_frequency(
    frequency_hz: float, input_low: float, input_high: float, hz_at_low: float, hz_at_high: float
) -> float:
    r"""Signal at the drive for a frequency: :func:`frequency_for_signal_hz` turned round.

    .. math:: S = S_{low} + \frac{f - f_{low}}{f_{high} - f_{low}} \, (S_{high} - S_{low})

    Parameters
    ----------
    frequency_hz : float
        Wanted frequency [Hz]
    input_low : float
        Signal at the bottom of the span that the input is set to [V or A]
    input_high : float
        Signal at the top of that span [V or A]
    hz_at_low : float
        Frequency at the bottom of the reference [Hz]
    hz_at_high : float
        Frequency at the top of the reference [Hz]

    Returns
    -------
    float
        Signal that must arrive at the drive [V or A]

    Raises
    ------
    RangeError
        The frequency lies outside of what the reference can ask for, or a span has no width

    Examples
    --------
    >>> round(signal_for_frequency(42.0, 0.0, 10.0, 10.0, 60.0), 6)
    6.4

    References
    ----------
    .. [1] Common practice
    """
    ratio = ratio_for_frequency(frequency_hz, hz_at_low, hz_at_high)
    return signal_at_span(ratio, input_low, input_high)


def _check_frequency(frequency_hz: float, name: str) -> None:
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, name, "Hz")
