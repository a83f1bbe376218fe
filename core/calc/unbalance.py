"""How unequal three voltages or currents are, and what that takes from a motor."""

import math

from core.calc import checks
from core.calc.curves import at, table_points
from core.errors import RangeError

__all__ = ["derating", "negative_sequence", "unbalance"]

# NEMA MG 1, 14.36.1: a motor should not run at all above this.
UNBALANCE_MAX = 0.05


def unbalance(first: float, second: float, third: float) -> float:
    r"""Unbalance of three voltages between lines, or of three line currents.

    .. math:: u = \frac{\max_i |V_i - \bar V|}{\bar V}

    Parameters
    ----------
    first : float
        First of the three [V or A]
    second : float
        Second of the three [V or A]
    third : float
        Third of the three [V or A]

    Returns
    -------
    float
        Largest deviation from the mean, as a share of the mean [-]

    Raises
    ------
    RangeError
        A value is below zero or no number, or all three are zero

    Notes
    -----
    The LARGEST deviation counts, not the span between extremes. Voltages are those between lines.
    For currents nothing but the arithmetic is the same: at the mains the unbalance of the currents
    is some 6 to 10 times that of the voltages; behind a drive it tells of the motor or a joint.

    Examples
    --------
    >>> round(100 * unbalance(462.0, 463.0, 455.0), 3)
    1.087

    References
    ----------
    .. [1] NEMA MG 1, 12.45 and 14.36 (seen in a public copy)
    """
    values = (first, second, third)
    for value in values:
        checks.not_negative(value, "a voltage or current")
    mean = sum(values) / 3.0
    checks.positive(mean, "the mean of the three")
    return max(abs(value - mean) for value in values) / mean


def negative_sequence(first_v: float, second_v: float, third_v: float) -> float:
    r"""Negative-sequence voltage over positive-sequence voltage, from three magnitudes.

    .. math:: \mathrm{VUF} = \sqrt{\frac{1 - \sqrt{3 - 6 \beta}}{1 + \sqrt{3 - 6 \beta}}}, \qquad
        \beta = \frac{\sum V_i^4}{\left(\sum V_i^2\right)^2}

    Parameters
    ----------
    first_v : float
        Voltage between the first two lines [V]
    second_v : float
        Voltage between the second and third line [V]
    third_v : float
        Voltage between the third and first line [V]

    Returns
    -------
    float
        Ratio of the two sequence voltages [-]

    Raises
    ------
    RangeError
        A voltage is not above zero, or the three close no triangle

    Notes
    -----
    What European limits of supply quality are stated in; not the figure of :func:`unbalance`, on
    which the NEMA derating curve stands.

    Examples
    --------
    >>> round(negative_sequence(230.0, 230.0, 230.0), 9)
    0.0

    References
    ----------
    .. [1] IEC 61000-4-30, 5.7 (from memory)
    """
    values = (first_v, second_v, third_v)
    for value in values:
        checks.positive(value, "a voltage between lines", "V")
    if 2.0 * max(values) > sum(values):
        raise RangeError(
            "The unbalance was not computed.",
            "Three voltages between lines form a triangle; these do not.",
            "Measure again between lines, all three with one meter.",
        )
    beta = sum(value**4 for value in values) / sum(value**2 for value in values) ** 2
    root = math.sqrt(max(0.0, 3.0 - 6.0 * beta))
    # Rounding must not make a negative of three equal voltages.
    return math.sqrt(max(0.0, 1.0 - root) / (1.0 + root))


def derating(voltage_unbalance: float) -> float:
    """Share of its rated power that a motor may give on unequal voltages.

    Parameters
    ----------
    voltage_unbalance : float
        Unbalance of the voltages between lines, by :func:`unbalance` [-]

    Returns
    -------
    float
        Derating factor, to be trusted to 0.02 [-]

    Raises
    ------
    RangeError
        Unbalance below zero, or above 5 %, where no motor should run

    Notes
    -----
    For motors straight on the mains. Points read off a printed curve, joined by straight lines. The
    text asks for no derating up to 1 %, where the curve stands at 0.98 already.

    Examples
    --------
    >>> derating(0.02)
    0.95

    References
    ----------
    .. [1] NEMA MG 1, figure 14-1, as read off in `core/tables/voltage_unbalance_derating.csv`
    """
    checks.in_range(voltage_unbalance, 0.0, UNBALANCE_MAX, "the voltage unbalance")
    curve = table_points("voltage_unbalance_derating", "percent", "factor")
    # The last point must take 5 % whatever its binary form.
    return at(curve, min(100.0 * voltage_unbalance, curve[-1][0]))
