"""A chain of cups: how many pass, and how well they are filled.

Counting, exact on paper. Where a cup is and when to let go stands in :mod:`core.calc.cup_drop`.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.student import coverage_factor
from core.errors import RangeError

__all__ = [
    "FillCount",
    "cups_rate_1_s",
    "filled_share_from_counts",
    "fruit_rate_1_s",
    "share_limits",
    "speed_for_fruit_m_s",
]

LANES_MAX = 1000
COUNT_MAX = 1_000_000


@dataclass(frozen=True, slots=True)
class FillCount:
    """What a count of cups tells, with standard uncertainties of the count alone."""

    filled_share: float
    """Share of the cups that carry exactly one fruit."""
    standard: float
    doubles_share: float
    """Share of the cups that carry two fruit or more."""
    doubles_standard: float
    fruit_per_cup: float
    """Fruit over cups, each double taken as two."""


def cups_rate_1_s(speed_m_s: float, cup_pitch_m: float) -> float:
    r"""Cups that pass in each lane.

    .. math:: n = v / p

    Parameters
    ----------
    speed_m_s : float
        Speed of the chain [m/s]
    cup_pitch_m : float
        Distance from cup to cup [m]

    Returns
    -------
    float
        Cups in each lane [1/s]

    Raises
    ------
    RangeError
        Speed below zero, or pitch not above zero

    Notes
    -----
    Exact for the mean. A sprocket of few teeth makes the speed swing within each link.

    Examples
    --------
    >>> round(cups_rate_1_s(0.63, 0.09), 9)
    7.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    return speed_m_s / cup_pitch_m


def fruit_rate_1_s(speed_m_s: float, cup_pitch_m: float, lanes: int, filled_share: float) -> float:
    r"""Fruit that cups carry.

    .. math:: q = \frac{z \, \varphi \, v}{p}

    Parameters
    ----------
    speed_m_s : float
        Speed of the chain [m/s]
    cup_pitch_m : float
        Distance from cup to cup [m]
    lanes : int
        Lanes of cups [-]
    filled_share : float
        Share of the cups that carry one fruit [-]

    Returns
    -------
    float
        Fruit over all lanes [1/s]

    Raises
    ------
    RangeError
        Speed below zero, pitch not above zero, no lane, or share outside of 0 to 1

    Notes
    -----
    Doubles are left out: they are no fruit that is sorted. Count the fill, do not guess it: 70 to
    85 % is common (from memory).

    Examples
    --------
    >>> round(fruit_rate_1_s(0.5, 0.1, 2, 0.8), 9)
    8.0

    References
    ----------
    .. [1] Counting
    """
    checks.whole(lanes, 1, LANES_MAX, "the number of lanes")
    checks.ratio(filled_share, "the share of filled cups")
    return lanes * filled_share * cups_rate_1_s(speed_m_s, cup_pitch_m)


def speed_for_fruit_m_s(
    flow_1_s: float, cup_pitch_m: float, lanes: int, filled_share: float
) -> float:
    r"""Speed of the cups for so many fruit: :func:`fruit_rate_1_s` turned round.

    .. math:: v = \frac{q \, p}{z \, \varphi}

    Parameters
    ----------
    flow_1_s : float
        Fruit over all lanes [1/s]
    cup_pitch_m : float
        Distance from cup to cup [m]
    lanes : int
        Lanes of cups [-]
    filled_share : float
        Share of the cups that carry one fruit [-]

    Returns
    -------
    float
        Speed of the chain [m/s]

    Raises
    ------
    RangeError
        Flow below zero, pitch not above zero, no lane, or share not above 0 and up to 1

    Notes
    -----
    The fill falls as the chain is pushed: count it at the speed that comes out.

    Examples
    --------
    >>> round(speed_for_fruit_m_s(8.0, 0.1, 2, 0.8), 9)
    0.5

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    checks.whole(lanes, 1, LANES_MAX, "the number of lanes")
    checks.ratio(filled_share, "the share of filled cups", zero=False)
    return flow_1_s * cup_pitch_m / (lanes * filled_share)


def filled_share_from_counts(cups: int, empty: int, doubles: int) -> FillCount:
    r"""Fill and doubles of cups that were counted, such as 200 of them at full feed.

    .. math:: \varphi = \frac{N - N_0 - N_2}{N}, \qquad
        u(\varphi) = \sqrt{\frac{\varphi (1 - \varphi)}{N}}

    Parameters
    ----------
    cups : int
        Cups that passed, *N* [-]
    empty : int
        Cups among them without fruit [-]
    doubles : int
        Cups among them with two fruit or more [-]

    Returns
    -------
    FillCount
        Shares and their standard uncertainties [-]

    Raises
    ------
    RangeError
        No cups, counts below zero or no whole numbers, or more of them than cups

    Notes
    -----
    Binomial: each cup filled by chance, whatever its neighbours carry. Fruit that comes in bunches
    scatters more. A count of none leaves an uncertainty of zero, which is too good: take
    :func:`share_limits`.

    Examples
    --------
    >>> count = filled_share_from_counts(200, 36, 4)
    >>> count.filled_share, round(count.standard, 4), count.doubles_share
    (0.8, 0.0283, 0.02)

    References
    ----------
    .. [1] Variance of a binomial share, textbooks of statistics
    """
    checks.whole(cups, 1, COUNT_MAX, "the number of cups")
    checks.whole(empty, 0, COUNT_MAX, "the number of empty cups")
    checks.whole(doubles, 0, COUNT_MAX, "the number of doubles")
    single = cups - empty - doubles
    if single < 0:
        raise RangeError(
            "The fill was not computed.",
            f"Of {cups} cups, {empty} empty ones and {doubles} doubles are too many.",
            "Count each cup once.",
        )
    filled, double = single / cups, doubles / cups
    return FillCount(
        filled,
        _binomial(filled, cups),
        double,
        _binomial(double, cups),
        (single + 2 * doubles) / cups,
    )


def share_limits(count: int, cups: int, probability: float = 0.95) -> tuple[float, float]:
    r"""Limits between which a share of all cups lies, by a count of some of them.

    .. math::
        \frac{\hat p + \frac{z^2}{2N} \pm z \sqrt{\frac{\hat p (1 - \hat p)}{N}
        + \frac{z^2}{4 N^2}}}{1 + z^2/N}

    Parameters
    ----------
    count : int
        Cups that were found so, such as doubles [-]
    cups : int
        Cups that were looked at, *N* [-]
    probability : float
        Probability that the limits hold the share [-]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit [-]

    Raises
    ------
    RangeError
        No cups, more found than looked at, or probability outside of 0 to 0.9999

    Notes
    -----
    Sound for small counts and for none, unlike a binomial share with twice its standard
    uncertainty. No double in 200 cups still allows 1.9 % of them.

    Examples
    --------
    >>> low, high = share_limits(0, 200)
    >>> low, round(high, 4)
    (0.0, 0.0188)

    References
    ----------
    .. [1] Wilson (1927); NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1
    """
    checks.whole(cups, 1, COUNT_MAX, "the number of cups")
    checks.whole(count, 0, cups, "the number of cups found so")
    z = coverage_factor(probability, math.inf)
    share, squared = count / cups, z * z / cups
    half = z * math.sqrt((share * (1.0 - share) + squared / 4.0) / cups)
    middle = share + squared / 2.0
    low, high = (middle - half) / (1.0 + squared), (middle + half) / (1.0 + squared)
    # At the ends the limit is the end itself; rounding must not leave a trace of it.
    return (low if count else 0.0), (high if count < cups else 1.0)


def _binomial(share: float, cups: int) -> float:
    return math.sqrt(share * (1.0 - share) / cups)
