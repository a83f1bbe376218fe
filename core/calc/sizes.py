"""Sizes of fruit: which share a class gets, how much it weighs, how often it is sorted wrong.

Diameters are taken as normally distributed. Fruit of one orchard and one pick come near it; what
was sorted before, or mixed from two orchards, does not: count classes there.
"""

import math
from itertools import pairwise

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "mass_per_metre_kg_m",
    "mass_share_between",
    "misplaced_share",
    "share_between",
    "shares_of_classes",
]

# Beyond so many spreads nothing is left that a double would show.
_REACH = 9.0
_STEPS = 400


def share_between(
    low_m: float | None, high_m: float | None, mean_m: float, spread_m: float
) -> float:
    r"""Share of the fruit, by count, whose diameter lies within a class.

    .. math:: \Phi\left(\frac{b - \mu}{\sigma}\right) - \Phi\left(\frac{a - \mu}{\sigma}\right)

    Parameters
    ----------
    low_m : float | None
        Lower bound of the class; None for none [m]
    high_m : float | None
        Upper bound of the class; None for none [m]
    mean_m : float
        Mean diameter [m]
    spread_m : float
        Standard deviation of the diameter [m]

    Returns
    -------
    float
        Share [-]

    Raises
    ------
    RangeError
        Mean not above zero, spread or a bound below zero, or a class that is empty

    Notes
    -----
    Measure 50 fruit for mean and spread. Without spread a class gets all or nothing; the lower
    bound belongs to it, the upper one to the next.

    Examples
    --------
    >>> round(share_between(0.060, 0.070, 0.065, 0.005), 4)
    0.6827
    >>> share_between(0.065, None, 0.065, 0.005)
    0.5

    References
    ----------
    .. [1] Normal distribution, textbooks of statistics
    """
    low, high = _in_spreads(low_m, high_m, mean_m, spread_m)
    return _between(low, high)


def shares_of_classes(
    bounds_m: tuple[float, ...], mean_m: float, spread_m: float
) -> tuple[float, ...]:
    r"""Share of the fruit, by count, in each class that given bounds make.

    Parameters
    ----------
    bounds_m : tuple[float, ...]
        Bounds between neighbouring classes, rising [m]
    mean_m : float
        Mean diameter [m]
    spread_m : float
        Standard deviation of the diameter [m]

    Returns
    -------
    tuple[float, ...]
        Shares from the smallest class to the largest, one more than bounds; together 1 [-]

    Raises
    ------
    RangeError
        Mean not above zero, spread or a bound below zero, or bounds that do not rise

    Examples
    --------
    >>> [round(share, 3) for share in shares_of_classes((0.060, 0.070), 0.065, 0.005)]
    [0.159, 0.683, 0.159]

    References
    ----------
    .. [1] Normal distribution, textbooks of statistics
    """
    ends = (None, *bounds_m, None)
    return tuple(share_between(low, high, mean_m, spread_m) for low, high in pairwise(ends))


def mass_share_between(
    low_m: float | None, high_m: float | None, mean_m: float, spread_m: float
) -> float:
    r"""Share of the mass of the fruit that lies within a class of diameters.

    .. math:: \frac{\int_a^b D^3 \, \varphi(D) \, dD}{\mu^3 + 3 \mu \sigma^2}

    Parameters
    ----------
    low_m : float | None
        Lower bound of the class; None for none [m]
    high_m : float | None
        Upper bound of the class; None for none [m]
    mean_m : float
        Mean diameter [m]
    spread_m : float
        Standard deviation of the diameter, at most a quarter of the mean [m]

    Returns
    -------
    float
        Share of the mass [-]

    Raises
    ------
    RangeError
        Mean not above zero, spread outside of zero to a quarter of the mean, a bound below zero, or
        a class that is empty

    Notes
    -----
    Takes fruit of all sizes as alike in shape and density. With a spread of more than a quarter of
    the mean, fruit of less than no size would count.

    Examples
    --------
    >>> round(mass_share_between(0.065, None, 0.065, 0.005), 3)
    0.591

    References
    ----------
    .. [1] Moments of the normal distribution between limits, worked out for this program
    """
    low, high = _in_spreads(low_m, high_m, mean_m, spread_m)
    checks.in_range(spread_m, 0.0, mean_m / 4.0, "the spread of the diameter", "m")
    zeroth = _between(low, high)
    at_low, at_high = _density(low), _density(high)
    first = at_low - at_high
    second = zeroth + _times(low, at_low) - _times(high, at_high)
    third = 2.0 * first + _times(low, _times(low, at_low)) - _times(high, _times(high, at_high))
    ratio = spread_m / mean_m
    cubes = zeroth + 3.0 * ratio * first + 3.0 * ratio**2 * second + ratio**3 * third
    # Far off both ends differences of nothing may leave less than nothing.
    return min(1.0, max(0.0, cubes / (1.0 + 3.0 * ratio**2)))


def mass_per_metre_kg_m(flow_1_s: float, mass_kg: float, speed_m_s: float) -> float:
    r"""Mass of fruit on one metre of a belt.

    .. math:: m' = \frac{q \, m}{v}

    Parameters
    ----------
    flow_1_s : float
        Fruit on this belt [1/s]
    mass_kg : float
        Mean mass of one of them [kg]
    speed_m_s : float
        Speed of the belt [m/s]

    Returns
    -------
    float
        Mass on a metre [kg/m]

    Raises
    ------
    RangeError
        Flow below zero, or mass or speed not above zero

    Notes
    -----
    Exact in a steady state. On a belt that fruit falls on along its length it is the load at its
    end; the mean over the length is half of it.

    Examples
    --------
    >>> round(mass_per_metre_kg_m(6.0, 0.15, 0.25), 9)
    3.6

    References
    ----------
    .. [1] Little's law on one metre
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    checks.positive(mass_kg, "the mass of one fruit", "kg")
    checks.positive(speed_m_s, "the speed of the belt", "m/s")
    return flow_1_s * mass_kg / speed_m_s


def misplaced_share(bound_m: float, mean_m: float, spread_m: float, standard_m: float) -> float:
    r"""Share of all fruit that ends on the wrong side of a bound as its size is measured unsurely.

    .. math:: \int \varphi(D) \, \Phi\left(-\frac{|D - b|}{u}\right) dD

    Parameters
    ----------
    bound_m : float
        Bound between two classes [m]
    mean_m : float
        Mean diameter [m]
    spread_m : float
        Standard deviation of the diameter [m]
    standard_m : float
        Standard uncertainty of one measurement, *u* [m]

    Returns
    -------
    float
        Share of the fruit, of either side together [-]

    Raises
    ------
    RangeError
        Bound below zero, mean or spread not above zero, or uncertainty below zero

    Notes
    -----
    Errors are normal, without bias, and do not depend on the size. With a bound at the mean it is
    :math:`\arctan(u / \sigma) / \pi`. Fruit that is not round has no one diameter: its own spread
    from view to view is part of the uncertainty.

    Examples
    --------
    >>> round(misplaced_share(0.065, 0.065, 0.005, 0.001), 4)
    0.0628

    References
    ----------
    .. [1] Two normal distributions, integrated by Simpson's rule
    """
    checks.not_negative(bound_m, "the bound of the class", "m")
    checks.positive(mean_m, "the mean diameter", "m")
    checks.positive(spread_m, "the spread of the diameter", "m")
    checks.not_negative(standard_m, "the uncertainty of the diameter", "m")
    if standard_m == 0.0:
        return 0.0
    bound, width = (bound_m - mean_m) / spread_m, standard_m / spread_m
    middle = min(max(bound, -_REACH), _REACH)
    low, high = max(-_REACH, bound - _REACH * width), min(_REACH, bound + _REACH * width)
    # Two parts, as the curve has a corner at the bound.
    return math.fsum(
        _misplaced_within(start, end, bound, width)
        for start, end in ((low, middle), (middle, high))
        if start < end
    )


def _misplaced_within(start: float, end: float, bound: float, width: float) -> float:
    """Misplaced fruit of sizes between two others, all in spreads of the diameter."""
    step = (end - start) / _STEPS
    total = 0.0
    for i in range(_STEPS + 1):
        weight = 1.0 if i in (0, _STEPS) else 4.0 if i % 2 else 2.0
        size = start + i * step
        total += weight * _density(size) * _below(-abs(size - bound) / width)
    return total * step / 3.0


def _in_spreads(
    low_m: float | None, high_m: float | None, mean_m: float, spread_m: float
) -> tuple[float, float]:
    """Bounds of a class as distances from the mean, in spreads; infinite where there is none."""
    checks.positive(mean_m, "the mean diameter", "m")
    checks.not_negative(spread_m, "the spread of the diameter", "m")
    for bound in (low_m, high_m):
        if bound is not None:
            checks.not_negative(bound, "the bound of the class", "m")
    if low_m is not None and high_m is not None and low_m >= high_m:
        raise RangeError(
            "The share of the class was not computed.",
            f"It runs from {1e3 * low_m:.6g} mm to {1e3 * high_m:.6g} mm and holds nothing.",
            "Give its lower bound first.",
        )
    return (
        -math.inf if low_m is None else _distance(low_m - mean_m, spread_m),
        math.inf if high_m is None else _distance(high_m - mean_m, spread_m),
    )


def _distance(difference_m: float, spread_m: float) -> float:
    if spread_m:
        return difference_m / spread_m
    return math.inf if difference_m > 0.0 else -math.inf


def _between(low: float, high: float) -> float:
    # Both ends above the mean: from the other side, where small shares keep their digits.
    return _below(-low) - _below(-high) if low > 0.0 else _below(high) - _below(low)


def _below(distance: float) -> float:
    return 0.5 * math.erfc(-distance / math.sqrt(2.0))


def _density(distance: float) -> float:
    return math.exp(-distance * distance / 2.0) / math.sqrt(2.0 * math.pi)


def _times(distance: float, density: float) -> float:
    """Product that is nothing where there is no density, however far that is."""
    return distance * density if density else 0.0
