"""The speed reference on its way to the drive: converter steps, source resistance, current loop."""

import math

from core.calc import checks
from core.calc.reference import signal_at_span, span_fraction
from core.errors import RangeError

__all__ = [
    "dac_count",
    "dac_step",
    "dac_voltage_v",
    "divided_voltage_v",
    "loop_resistance_max_ohm",
    "resolution_hz",
    "source_voltage_v",
]

BITS_MIN, BITS_MAX = 1, 32

LOOP_CURRENT_MAX_A = 0.0205
"""Highest current that still is a measured value by NAMUR NE 43; a loop must carry it."""


def dac_step(bits: int, low: float, high: float) -> float:
    r"""Signal of one count (least significant bit) of a converter.

    .. math:: q = \frac{S_{high} - S_{low}}{2^n - 1}

    Parameters
    ----------
    bits : int
        Number of bits, *n* [-]
    low : float
        Output at count 0 [V or A]
    high : float
        Output at the highest count [V or A]

    Returns
    -------
    float
        One step [V or A]

    Raises
    ------
    RangeError
        Bits outside of 1 to 32, or the span does not rise

    Notes
    -----
    The highest count gives the full output here, as users of such a span mean it. Data sheets that
    divide by :math:`2^n` stop one step short of the full output.

    Examples
    --------
    >>> round(dac_step(8, 0.0, 5.1), 6)
    0.02

    References
    ----------
    .. [1] Common practice
    """
    checks.span(low, high)
    return (high - low) / _count_max(bits)


def dac_voltage_v(count: int, bits: int, low_v: float, high_v: float) -> float:
    r"""Output of a converter at a count.

    .. math:: V = V_{low} + \frac{N}{2^n - 1} (V_{high} - V_{low})

    Parameters
    ----------
    count : int
        Count written to the converter, *N* [-]
    bits : int
        Number of bits, *n* [-]
    low_v : float
        Output at count 0 [V]
    high_v : float
        Output at the highest count [V]

    Returns
    -------
    float
        Output without load [V]

    Raises
    ------
    RangeError
        Bits outside of 1 to 32, a count outside of what they hold, or the span does not rise

    Notes
    -----
    Without the converter's own errors of zero, gain and linearity.

    Examples
    --------
    >>> dac_voltage_v(255, 8, 0.0, 5.0)
    5.0

    References
    ----------
    .. [1] Common practice
    """
    highest = _count_max(bits)
    checks.whole(count, 0, highest, "the count")
    return signal_at_span(count / highest, low_v, high_v)


def dac_count(voltage_v: float, bits: int, low_v: float, high_v: float) -> int:
    r"""Count that comes nearest to a voltage: :func:`dac_voltage_v` turned round.

    .. math:: N = \mathrm{round}\left((2^n - 1) \frac{V - V_{low}}{V_{high} - V_{low}}\right)

    Parameters
    ----------
    voltage_v : float
        Wanted output [V]
    bits : int
        Number of bits, *n* [-]
    low_v : float
        Output at count 0 [V]
    high_v : float
        Output at the highest count [V]

    Returns
    -------
    int
        Count to write, off by half a step of voltage at most [-]

    Raises
    ------
    RangeError
        A voltage that the converter cannot give, bits outside of 1 to 32, or the span does not rise

    Examples
    --------
    >>> dac_count(2.5, 12, 0.0, 5.0)
    2048

    References
    ----------
    .. [1] Common practice
    """
    highest = _count_max(bits)
    fraction = span_fraction(voltage_v, low_v, high_v)
    if not -1e-9 <= fraction <= 1.0 + 1e-9:
        raise RangeError(
            "The count was not found.",
            f"{voltage_v:.6g} V is wanted; the converter gives {low_v:.6g} to {high_v:.6g} V.",
            "Choose a voltage within that range.",
        )
    return min(highest, max(0, math.floor(fraction * highest + 0.5)))


def divided_voltage_v(voltage_v: float, source_ohm: float, input_ohm: float) -> float:
    r"""Voltage that arrives at an input behind the source's own resistance.

    .. math:: V' = V \frac{R_{in}}{R_{in} + R_S}

    Parameters
    ----------
    voltage_v : float
        Voltage of the source without load [V]
    source_ohm : float
        Resistance of the source, wire included [Ohm]
    input_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]

    Returns
    -------
    float
        Voltage at the input [V]

    Raises
    ------
    RangeError
        The voltage is no finite number, the source resistance is below zero, or the input's is not
        above zero

    Examples
    --------
    >>> round(divided_voltage_v(10.0, 1e3, 19e3), 6)
    9.5

    References
    ----------
    .. [1] Ohm's law for resistors in series
    """
    checks.finite(voltage_v, "the voltage", "V")
    return voltage_v / _divider(source_ohm, input_ohm)


def source_voltage_v(input_v: float, source_ohm: float, input_ohm: float) -> float:
    r"""Voltage a source must give for a voltage at the input: :func:`divided_voltage_v` reversed.

    .. math:: V = V' \left(1 + \frac{R_S}{R_{in}}\right)

    Parameters
    ----------
    input_v : float
        Wanted voltage at the input [V]
    source_ohm : float
        Resistance of the source, wire included [Ohm]
    input_ohm : float
        Resistance of the reference input; ``math.inf`` for none [Ohm]

    Returns
    -------
    float
        Voltage of the source without load [V]

    Raises
    ------
    RangeError
        The voltage is no finite number, the source resistance is below zero, or the input's is not
        above zero

    Examples
    --------
    >>> round(source_voltage_v(9.5, 1e3, 19e3), 6)
    10.0

    References
    ----------
    .. [1] Ohm's law for resistors in series
    """
    checks.finite(input_v, "the voltage", "V")
    return input_v * _divider(source_ohm, input_ohm)


def loop_resistance_max_ohm(
    supply_v: float, transmitter_min_v: float, current_max_a: float = LOOP_CURRENT_MAX_A
) -> float:
    r"""Resistance that a current loop can carry: inputs in series, and both wires.

    .. math:: R_{max} = \frac{V_S - V_{min}}{I_{max}}

    Parameters
    ----------
    supply_v : float
        Lowest voltage of the loop's supply [V]
    transmitter_min_v : float
        Voltage that the transmitter itself needs [V]
    current_max_a : float
        Highest current the loop must carry [A]

    Returns
    -------
    float
        Highest total resistance [Ohm]

    Raises
    ------
    RangeError
        Supply or current not above zero, a current above 0.1 A (milliamperes given for amperes),
        or a transmitter that needs more than the supply gives

    Notes
    -----
    With more than this in the loop the signal stops short of its top, and nothing trips. Reckoned
    with 20.5 mA, not 20, so that a signal above range still shows.

    Examples
    --------
    >>> round(loop_resistance_max_ohm(24.0, 12.0), 1)
    585.4

    References
    ----------
    .. [1] Ohm's law; NAMUR NE 43 for the 20.5 mA
    """
    checks.positive(supply_v, "the loop supply", "V")
    checks.in_range(transmitter_min_v, 0.0, supply_v, "the voltage the transmitter needs", "V")
    checks.positive(current_max_a, "the highest current", "A")
    checks.in_range(current_max_a, 0.0, 0.1, "the highest current", "A")
    return (supply_v - transmitter_min_v) / current_max_a


def resolution_hz(bits: int, hz_at_low: float, hz_at_high: float) -> float:
    r"""Smallest change of frequency that a reference in steps can ask for.

    .. math:: \Delta f = \frac{|f_{high} - f_{low}|}{2^n - 1}

    Parameters
    ----------
    bits : int
        Number of bits, *n* [-]
    hz_at_low : float
        Frequency at count 0 [Hz]
    hz_at_high : float
        Frequency at the highest count [Hz]

    Returns
    -------
    float
        Frequency of one step [Hz]

    Raises
    ------
    RangeError
        Bits outside of 1 to 32, or a frequency that is no finite number

    Notes
    -----
    The two frequencies are those at the ends of the *converter's* span: a 5 V converter on a
    0-10 V input of 0 to 60 Hz covers 0 to 30 Hz.

    Examples
    --------
    >>> round(resolution_hz(8, 0.0, 60.0), 4)
    0.2353

    References
    ----------
    .. [1] Common practice
    """
    checks.finite(hz_at_low, "the frequency at the lowest count", "Hz")
    checks.finite(hz_at_high, "the frequency at the highest count", "Hz")
    return abs(hz_at_high - hz_at_low) / _count_max(bits)


def _count_max(bits: int) -> int:
    checks.whole(bits, BITS_MIN, BITS_MAX, "the number of bits")
    return (1 << int(bits)) - 1


def _divider(source_ohm: float, input_ohm: float) -> float:
    """How many times the source's voltage is that at the input."""
    checks.not_negative(source_ohm, "the resistance of the source", "Ω")
    checks.positive(input_ohm, "the resistance of the reference input", "Ω", endless=True)
    return 1.0 + source_ohm / input_ohm
