"""Fruit at a transfer from belt to belt: settling to the new speed, and what a fall does.

Both rest on a ball that rolls or falls freely; a soft or uneven fruit does less of either.
"""

import math

from core.calc import checks
from core.calc.conveying import GRAVITY_M_S2

__all__ = [
    "impact_energy_j",
    "impact_speed_m_s",
    "settled_share",
    "settling_length_m",
    "settling_time_s",
]

# Moment of inertia of a ball of even density over m·r².
BALL = 2.0 / 5.0


def settled_share(slope_rad: float) -> float:
    r"""Index: share of a step of belt speed that fruit gains at once, by sliding until it rolls.

    .. math:: k = \frac{1}{1 + \frac{5}{2} \cos^2\beta}

    Parameters
    ----------
    slope_rad : float
        Slope of each of two belts that form a V, from the horizontal; 0 on a flat belt [rad]

    Returns
    -------
    float
        Share, 2/7 on a flat belt [-]

    Raises
    ------
    RangeError
        Slope outside of 0 to a right angle

    Notes
    -----
    An index: a free round fruit of even density, which did not roll before. It does not depend on
    friction, which only sets how long the sliding lasts. Fruit that touches its neighbour, lies
    on a flat side or sits in a pocket does not roll and settles by sliding, at once.

    Examples
    --------
    >>> round(settled_share(0.0), 4)
    0.2857

    References
    ----------
    .. [1] Sliding ball that comes to roll, mechanics textbooks; V worked out for this program
    """
    checks.in_range(slope_rad, 0.0, math.pi / 2.0, "the slope of the belts", "rad")
    return 1.0 / (1.0 + math.cos(slope_rad) ** 2 / BALL)


def settling_time_s(step_m_s: float, rolling_resistance: float) -> float:
    r"""Index of how long fruit rolls on a flat belt until it moves with it.

    .. math:: t = \frac{|\Delta v|}{c \, g}

    Parameters
    ----------
    step_m_s : float
        Speed of the belt less that of the fruit as it comes on [m/s]
    rolling_resistance : float
        Force that slows rolling, over weight [-]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    RangeError
        Step no finite number, or resistance not above 0 and up to 1

    Notes
    -----
    An index: a free round fruit that does not spin as it comes on. Sliding is included, as friction
    of sliding has no leverage about the line of contact: what slows rolling has to take away the
    whole step there. A resistance of 0.02 to 0.10 is from memory: tilt the belt until a
    fruit keeps rolling; the tangent of that angle is its value.

    Examples
    --------
    >>> round(settling_time_s(0.25, 0.05), 2)
    0.51

    References
    ----------
    .. [1] Angular momentum about the line of contact, worked out for this program
    """
    checks.finite(step_m_s, "the step of speed", "m/s")
    checks.ratio(rolling_resistance, "the rolling resistance", zero=False)
    return abs(step_m_s) / (rolling_resistance * GRAVITY_M_S2)


def settling_length_m(speed_m_s: float, next_speed_m_s: float, rolling_resistance: float) -> float:
    r"""Index of the length of a flat belt that fruit needs until it moves with it.

    .. math:: L = t \left(v_2 - \frac{5}{14} \, (v_2 - v_1)\right), \qquad
        t = \frac{|v_2 - v_1|}{c \, g}

    Parameters
    ----------
    speed_m_s : float
        Speed of the fruit as it comes on, without spin [m/s]
    next_speed_m_s : float
        Speed of the belt [m/s]
    rolling_resistance : float
        Force that slows rolling, over weight [-]

    Returns
    -------
    float
        Length from where it comes on [m]

    Raises
    ------
    RangeError
        A speed below zero, or resistance not above 0 and up to 1

    Notes
    -----
    An index, as :func:`settling_time_s`; the sliding, which gives 2/7 of the step, is taken as over
    at once. On a belt shorter than this the gaps are left to chance; a V, cups or pockets carry
    fruit along and need less.

    Examples
    --------
    >>> round(settling_length_m(0.22, 0.34, 0.05), 4)
    0.0727

    References
    ----------
    .. [1] Even deceleration from 2/7 of the step to all of it, worked out for this program
    """
    checks.not_negative(speed_m_s, "the speed of the fruit", "m/s")
    checks.not_negative(next_speed_m_s, "the speed of the belt", "m/s")
    step = next_speed_m_s - speed_m_s
    mean = next_speed_m_s - (1.0 - settled_share(0.0)) / 2.0 * step
    return mean * settling_time_s(step, rolling_resistance)


def impact_speed_m_s(height_m: float) -> float:
    r"""Speed at the end of a fall.

    .. math:: v = \sqrt{2 \, g \, h}

    Parameters
    ----------
    height_m : float
        Height of the fall [m]

    Returns
    -------
    float
        Speed, straight down [m/s]

    Raises
    ------
    RangeError
        Height below zero

    Notes
    -----
    Without air, which at these heights takes off less than one per cent. What a fall does to fruit
    rests on the surface as well.

    Examples
    --------
    >>> round(impact_speed_m_s(0.10), 2)
    1.4

    References
    ----------
    .. [1] Free fall
    """
    checks.not_negative(height_m, "the height of the fall", "m")
    return math.sqrt(2.0 * GRAVITY_M_S2 * height_m)


def impact_energy_j(mass_kg: float, height_m: float) -> float:
    r"""Energy at the end of a fall.

    .. math:: E = m \, g \, h

    Parameters
    ----------
    mass_kg : float
        Mass of the fruit [kg]
    height_m : float
        Height of the fall [m]

    Returns
    -------
    float
        Energy [J]

    Raises
    ------
    RangeError
        Mass not above zero, or height below zero

    Examples
    --------
    >>> round(impact_energy_j(0.15, 0.10), 3)
    0.147

    References
    ----------
    .. [1] Free fall
    """
    checks.positive(mass_kg, "the mass of the fruit", "kg")
    checks.not_negative(height_m, "the height of the fall", "m")
    return mass_kg * GRAVITY_M_S2 * height_m
