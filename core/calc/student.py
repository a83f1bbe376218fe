"""Student's distribution for whole degrees of freedom: the coverage factor of an uncertainty."""

import math
from statistics import NormalDist

from core.calc import checks
from core.errors import RangeError

__all__ = ["central_probability", "coverage_factor"]

DOF_MAX = 10_000


def central_probability(factor: float, dof: float) -> float:
    r"""Probability that a value lies within so many standard deviations of the mean.

    For whole degrees of freedom :math:`\nu` and :math:`\theta = \arctan(t / \sqrt\nu)`:

    .. math::
        A &= \frac{2}{\pi} \left(\theta + \sin\theta \left(\cos\theta + \frac{2}{3} \cos^3\theta
        + \dots\right)\right) && \nu \text{ odd} \\
        A &= \sin\theta \left(1 + \frac{1}{2} \cos^2\theta + \frac{1 \cdot 3}{2 \cdot 4}
        \cos^4\theta + \dots\right) && \nu \text{ even}

    Parameters
    ----------
    factor : float
        Standard deviations to either side, *t* [-]
    dof : float
        Degrees of freedom; a fraction is cut off, ``math.inf`` is the normal distribution [-]

    Returns
    -------
    float
        Probability [-]

    Raises
    ------
    RangeError
        Factor below zero, or degrees of freedom below 1

    Notes
    -----
    Above 10 000 degrees of freedom the normal distribution stands; its coverage factor differs by
    about one part in ten thousand.

    Examples
    --------
    >>> round(central_probability(2.0, math.inf), 4)
    0.9545
    >>> round(central_probability(1.0, 1), 9)
    0.5

    References
    ----------
    .. [1] Abramowitz and Stegun, *Handbook of Mathematical Functions*, 26.7.3 and 26.7.4 (from
       memory)
    """
    checks.not_negative(factor, "the coverage factor")
    whole_dof = _whole(dof)
    if whole_dof is None:
        return math.erf(factor / math.sqrt(2.0))
    angle = math.atan(factor / math.sqrt(whole_dof))
    cosine, odd = math.cos(angle), whole_dof % 2
    # Each term has the one before it times cos² and a ratio of neighbouring whole numbers.
    term, total = (cosine if odd else 1.0), 0.0
    for power in range(1 + odd, whole_dof, 2):
        total += term
        term *= cosine**2 * power / (power + 1)
    series = math.sin(angle) * total
    return 2.0 / math.pi * (angle + series) if odd else series


def coverage_factor(probability: float, dof: float = math.inf) -> float:
    """Standard deviations to either side that hold a probability.

    Parameters
    ----------
    probability : float
        Probability within, such as 0.95 [-]
    dof : float
        Degrees of freedom; a fraction is cut off, ``math.inf`` is the normal distribution [-]

    Returns
    -------
    float
        Coverage factor [-]

    Raises
    ------
    RangeError
        Probability outside of 0 to 0.9999, or degrees of freedom below 1

    Examples
    --------
    >>> round(coverage_factor(0.95), 2)
    1.96
    >>> round(coverage_factor(0.99, 16.7), 2)
    2.92

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), table G.2; :func:`central_probability`, solved by halving
    """
    checks.in_range(probability, 0.0, 0.9999, "the probability")
    if _whole(dof) is None:
        return NormalDist().inv_cdf((1.0 + probability) / 2.0)
    low, high = 0.0, 1e4
    for _halving in range(80):
        middle = (low + high) / 2.0
        if central_probability(middle, dof) < probability:
            low = middle
        else:
            high = middle
    return high


def _whole(dof: float) -> int | None:
    """Degrees of freedom cut to a whole number; None for the normal distribution."""
    if not dof >= 1.0:
        raise RangeError(
            "The coverage factor was not found.",
            f"{dof:.4g} degrees of freedom; 1 or more are needed.",
            "Repeat the reading, or judge it as a limit (type B).",
        )
    return int(dof) if dof <= DOF_MAX else None
