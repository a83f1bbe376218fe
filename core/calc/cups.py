"""A chain of cups: how many pass, how well they are filled, where a cup is, when to let go.

Counting and geometry, exact on paper. A chain wears and runs unevenly on its sprocket: a sensor at
a cup sets the count right, and a trial at two speeds the lead of the drop.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.conveying import GRAVITY_M_S2
from core.calc.drivetrain import TEETH_MAX, TEETH_MIN
from core.calc.student import coverage_factor
from core.errors import RangeError

__all__ = [
    "FillCount",
    "count_drift_m",
    "cups_rate_1_s",
    "filled_share_from_counts",
    "fruit_rate_1_s",
    "lead_cups",
    "lead_m",
    "position_step_m",
    "pulses_per_cup",
    "share_limits",
    "speed_for_fruit_m_s",
    "throw_m",
    "timing_scatter_m",
]

LANES_MAX = 1000
PULSES_MAX = 1_000_000
COUNT_MAX = 1_000_000

# Both tracks of an encoder, rising and falling.
EDGES = 4


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


def pulses_per_cup(
    encoder_pulses: int, cup_pitch_m: float, chain_teeth: int, chain_pitch_m: float
) -> float:
    r"""Pulses of an encoder on the conveyor's shaft from one cup to the next.

    .. math:: n = \frac{P \, p_{cup}}{z \, p_{chain}}

    Parameters
    ----------
    encoder_pulses : int
        Pulses of the encoder in one turn, on one track [-]
    cup_pitch_m : float
        Distance from cup to cup [m]
    chain_teeth : int
        Teeth of the conveyor's sprocket, on the shaft of the encoder [-]
    chain_pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Pulses for one cup [-]

    Raises
    ------
    RangeError
        Pulses or teeth no sound count, or a pitch not above zero

    Notes
    -----
    Where it is no whole number the count of cups drifts, :func:`count_drift_m`: set it anew at
    every cup, or choose teeth and pitch to suit. A worn chain keeps its pulses for each link, as
    its sprocket takes link by link, but carries each cup further: the number of cups between camera
    and drop falls.

    Examples
    --------
    >>> pulses_per_cup(1024, 0.09525, 12, 0.03175)
    256.0

    References
    ----------
    .. [1] Geometry of chain and sprocket
    """
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    return cup_pitch_m / (EDGES * position_step_m(encoder_pulses, chain_teeth, chain_pitch_m))


def position_step_m(encoder_pulses: int, chain_teeth: int, chain_pitch_m: float) -> float:
    r"""Travel of the cups for each count, all edges of both tracks of an encoder counted.

    .. math:: s = \frac{z \, p_{chain}}{4 \, P}

    Parameters
    ----------
    encoder_pulses : int
        Pulses of the encoder in one turn, on one track [-]
    chain_teeth : int
        Teeth of the conveyor's sprocket, on the shaft of the encoder [-]
    chain_pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Step of the position [m]

    Raises
    ------
    RangeError
        Pulses or teeth no sound count, or pitch not above zero

    Notes
    -----
    A counter of one edge of one track steps four times as far, and cannot tell which way the chain
    goes. A fine step says nothing of play and wear of the chain.

    Examples
    --------
    >>> round(1e3 * position_step_m(1024, 12, 0.03175), 4)
    0.093

    References
    ----------
    .. [1] Geometry of chain and sprocket
    """
    checks.whole(encoder_pulses, 1, PULSES_MAX, "the number of encoder pulses")
    checks.whole(chain_teeth, TEETH_MIN, TEETH_MAX, "the number of teeth of the sprocket")
    checks.positive(chain_pitch_m, "the chain pitch", "m")
    return chain_teeth * chain_pitch_m / (EDGES * encoder_pulses)


def count_drift_m(pulses_per_cup: float, cup_pitch_m: float, cups: int) -> float:
    r"""How far a count by whole pulses is off after some cups, if nothing sets it right.

    .. math:: e = k \, p \, \frac{\left|n - [n]\right|}{n}

    Parameters
    ----------
    pulses_per_cup : float
        Pulses for one cup, by :func:`pulses_per_cup` [-]
    cup_pitch_m : float
        Distance from cup to cup [m]
    cups : int
        Cups that have passed since the count was right [-]

    Returns
    -------
    float
        Distance of the counted cup from the real one [m]

    Raises
    ------
    RangeError
        Pulses below 1, pitch not above zero, or no sound count of cups

    Notes
    -----
    *[n]* is the whole number next to *n*.

    Examples
    --------
    >>> round(1e3 * count_drift_m(640 / 3, 0.09525, 100), 2)
    14.88

    References
    ----------
    .. [1] Counting
    """
    checks.in_range(pulses_per_cup, 1.0, PULSES_MAX, "the number of pulses for one cup")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    checks.whole(cups, 0, COUNT_MAX, "the number of cups")
    return cups * cup_pitch_m * abs(pulses_per_cup - round(pulses_per_cup)) / pulses_per_cup


def lead_m(speed_m_s: float, latency_s: float) -> float:
    r"""How far ahead of its place the drop has to be ordered.

    .. math:: l = v \, t

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    latency_s : float
        Time from the order until the cup lets go [s]

    Returns
    -------
    float
        Lead [m]

    Raises
    ------
    RangeError
        Speed or time below zero

    Notes
    -----
    In proportion to the speed: where the place of the drop moves with the speed, the time entered
    is wrong. The way of the falling fruit comes on top, :func:`throw_m`.

    Examples
    --------
    >>> round(1e3 * lead_m(0.5, 0.045), 9)
    22.5

    References
    ----------
    .. [1] Definition of speed
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(latency_s, "the time until the cup lets go", "s")
    return speed_m_s * latency_s


def lead_cups(lead_m: float, cup_pitch_m: float) -> float:
    r"""A lead in cups.

    .. math:: l / p

    Parameters
    ----------
    lead_m : float
        Lead, by :func:`lead_m` [m]
    cup_pitch_m : float
        Distance from cup to cup [m]

    Returns
    -------
    float
        Lead in cups [-]

    Raises
    ------
    RangeError
        Lead below zero, or pitch not above zero

    Examples
    --------
    >>> round(lead_cups(0.0225, 0.09), 9)
    0.25

    References
    ----------
    .. [1] Geometry
    """
    checks.not_negative(lead_m, "the lead", "m")
    checks.positive(cup_pitch_m, "the cup pitch", "m")
    return lead_m / cup_pitch_m


def throw_m(speed_m_s: float, drop_height_m: float) -> float:
    r"""How far fruit flies on after its cup has let go.

    .. math:: x = v \, \sqrt{\frac{2 h}{g}}

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    drop_height_m : float
        Height of the fall [m]

    Returns
    -------
    float
        Distance along the travel [m]

    Raises
    ------
    RangeError
        Speed or height below zero

    Notes
    -----
    For a cup that lets go at once. One that tips rolls the fruit out sideways or back and takes its
    time; try it at two speeds.

    Examples
    --------
    >>> round(1e3 * throw_m(0.5, 0.15), 1)
    87.5

    References
    ----------
    .. [1] Free fall with a level start
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(drop_height_m, "the height of the fall", "m")
    return speed_m_s * math.sqrt(2.0 * drop_height_m / GRAVITY_M_S2)


def timing_scatter_m(speed_m_s: float, jitter_s: float) -> float:
    r"""How far the place of the drop scatters, to either side, as its time does.

    .. math:: \Delta x = v \, \Delta t

    Parameters
    ----------
    speed_m_s : float
        Speed of the cups [m/s]
    jitter_s : float
        Scatter of the time of the drop, to either side [s]

    Returns
    -------
    float
        Scatter of its place, to either side [m]

    Raises
    ------
    RangeError
        Speed or scatter below zero

    Notes
    -----
    A controller that looks once in a cycle scatters by half a cycle to either side of its mean.

    Examples
    --------
    >>> round(1e3 * timing_scatter_m(0.5, 0.005), 9)
    2.5

    References
    ----------
    .. [1] Definition of speed
    """
    checks.not_negative(speed_m_s, "the speed of the cups", "m/s")
    checks.not_negative(jitter_s, "the scatter of the time", "s")
    return speed_m_s * jitter_s


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
