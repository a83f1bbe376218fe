"""The V of two belts that puts fruit in one file: one belt a little faster than the other.

The mean of both speeds carries the fruit, their difference turns it and parts fruit that lie side
by side. The first belt is the one that is meant to be faster; a differential below zero says that
the second one is.
"""

import math

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "differential_share",
    "first_speed_m_s",
    "mean_speed_m_s",
    "second_speed_m_s",
    "separation_length_m",
    "turning_rad_s",
]

STILL = 2.0
"""Differential at which one of the two belts stands."""


def mean_speed_m_s(first_m_s: float, second_m_s: float) -> float:
    r"""Speed at which the V carries fruit.

    .. math:: \bar v = \frac{v_a + v_b}{2}

    Parameters
    ----------
    first_m_s : float
        Speed of the first belt [m/s]
    second_m_s : float
        Speed of the second belt [m/s]

    Returns
    -------
    float
        Mean speed [m/s]

    Raises
    ------
    RangeError
        A speed is below zero

    Notes
    -----
    Exact where fruit touches both belts and rolls about no cross axis. Fruit that lies on one belt
    alone moves with that belt; fruit that has just come on still lags, see
    :func:`core.calc.transfer.settled_share`.

    Examples
    --------
    >>> round(mean_speed_m_s(0.44, 0.40), 9)
    0.42

    References
    ----------
    .. [1] Rigid sphere on two moving contacts, worked out for this program
    """
    _check_speeds(first_m_s, second_m_s)
    return (first_m_s + second_m_s) / 2.0


def differential_share(first_m_s: float, second_m_s: float) -> float:
    r"""Difference of the two speeds as a share of their mean.

    .. math:: d = \frac{v_a - v_b}{\bar v}

    Parameters
    ----------
    first_m_s : float
        Speed of the first belt [m/s]
    second_m_s : float
        Speed of the second belt [m/s]

    Returns
    -------
    float
        Differential, below zero where the second belt is faster [-]

    Raises
    ------
    RangeError
        A speed is below zero, or both belts stand

    Notes
    -----
    A small difference of two large numbers: 1 % on each speed is 1.4 % of the mean, which is
    nearly half of a differential of 3 %. Show it with its band. Two drives on one signal do not
    keep it by themselves, as slip follows the load of each.

    Examples
    --------
    >>> round(differential_share(0.44, 0.40), 4)
    0.0952

    References
    ----------
    .. [1] Definition
    """
    mean = mean_speed_m_s(first_m_s, second_m_s)
    checks.positive(mean, "the mean speed of the two belts", "m/s")
    return (first_m_s - second_m_s) / mean


def first_speed_m_s(mean_m_s: float, differential_share: float) -> float:
    r"""Speed of the first belt for a mean and a differential.

    .. math:: v_a = \bar v \left(1 + \frac{d}{2}\right)

    Parameters
    ----------
    mean_m_s : float
        Mean speed [m/s]
    differential_share : float
        Difference of the two speeds as a share of their mean, -2 to 2 [-]

    Returns
    -------
    float
        Speed of the first belt [m/s]

    Raises
    ------
    RangeError
        Mean below zero, or a differential with which one belt would run backwards

    Examples
    --------
    >>> round(first_speed_m_s(0.42, 0.1), 9)
    0.441

    References
    ----------
    .. [1] Definition of mean and differential
    """
    _check_split(mean_m_s, differential_share)
    return mean_m_s * (1.0 + differential_share / 2.0)


def second_speed_m_s(mean_m_s: float, differential_share: float) -> float:
    r"""Speed of the second belt for a mean and a differential.

    .. math:: v_b = \bar v \left(1 - \frac{d}{2}\right)

    Parameters
    ----------
    mean_m_s : float
        Mean speed [m/s]
    differential_share : float
        Difference of the two speeds as a share of their mean, -2 to 2 [-]

    Returns
    -------
    float
        Speed of the second belt [m/s]

    Raises
    ------
    RangeError
        Mean below zero, or a differential with which one belt would run backwards

    Examples
    --------
    >>> round(second_speed_m_s(0.42, 0.1), 9)
    0.399

    References
    ----------
    .. [1] Definition of mean and differential
    """
    _check_split(mean_m_s, differential_share)
    return mean_m_s * (1.0 - differential_share / 2.0)


def turning_rad_s(
    first_m_s: float, second_m_s: float, diameter_m: float, slope_rad: float
) -> float:
    r"""Index of how fast fruit turns about the axis through the middle of the V.

    .. math:: \omega = \frac{v_a - v_b}{D \sin\beta}

    Parameters
    ----------
    first_m_s : float
        Speed of the first belt [m/s]
    second_m_s : float
        Speed of the second belt [m/s]
    diameter_m : float
        Diameter of the fruit [m]
    slope_rad : float
        Slope of each belt from the horizontal [rad]

    Returns
    -------
    float
        Turning, below zero where the second belt is faster [rad/s]

    Raises
    ------
    RangeError
        A speed is below zero, diameter not above zero, or slope not above 0 and up to a right angle

    Notes
    -----
    An index, not a speed: right in sign and size only. Measure once, store the factor. A round
    fruit touches the belts at two points :math:`D \sin\beta` apart. Left out: fruit slip, roll
    about the cross axis, touch the back of the next one and leave the middle of the V. Too much
    differential spins fruit out of the V and marks its skin; too little leaves bridges.

    Examples
    --------
    >>> import math
    >>> round(turning_rad_s(0.44, 0.40, 0.061, math.radians(45)) / (2 * math.pi), 3)
    0.148

    References
    ----------
    .. [1] Rigid sphere on two moving contacts without slip, worked out for this program
    """
    _check_speeds(first_m_s, second_m_s)
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    checks.positive(slope_rad, "the slope of the belts", "rad")
    checks.in_range(slope_rad, 0.0, math.pi / 2.0, "the slope of the belts", "rad")
    return (first_m_s - second_m_s) / (diameter_m * math.sin(slope_rad))


def separation_length_m(first_m_s: float, second_m_s: float, diameter_m: float) -> float:
    r"""Index of the length of V in which two fruit that lie side by side come one behind the other.

    .. math:: L = \frac{\bar v \, D}{\left|v_a - v_b\right|}

    Parameters
    ----------
    first_m_s : float
        Speed of the first belt [m/s]
    second_m_s : float
        Speed of the second belt [m/s]
    diameter_m : float
        Diameter of the fruit [m]

    Returns
    -------
    float
        Length on which one gains a diameter on the other [m]

    Raises
    ------
    RangeError
        A speed is below zero, diameter not above zero, or both belts equally fast

    Notes
    -----
    An index: it takes each fruit as carried by its own belt until they are apart. As soon as one
    drops into the middle it moves with the mean, gains half as much, and needs more length.
    There must be room in the file: at a mean pitch below the diameter no length parts them.

    Examples
    --------
    >>> round(separation_length_m(0.44, 0.40, 0.061), 4)
    0.6405

    References
    ----------
    .. [1] Two points on two belts, worked out for this program
    """
    mean = mean_speed_m_s(first_m_s, second_m_s)
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    difference = abs(first_m_s - second_m_s)
    if difference == 0.0:
        raise RangeError(
            "The length to part two fruit was not computed.",
            f"Both belts run at {first_m_s:.6g} m/s, so that fruit side by side stay so.",
            "Let one belt run a little faster.",
        )
    return mean * diameter_m / difference


def _check_speeds(first_m_s: float, second_m_s: float) -> None:
    checks.not_negative(first_m_s, "the speed of the first belt", "m/s")
    checks.not_negative(second_m_s, "the speed of the second belt", "m/s")


def _check_split(mean_m_s: float, differential_share: float) -> None:
    checks.not_negative(mean_m_s, "the mean speed of the two belts", "m/s")
    checks.in_range(differential_share, -STILL, STILL, "the differential of the two belts")
