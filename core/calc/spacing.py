"""Fruit in file and fruit lying over a belt: pitch, gap, how many pass.

Counting is exact: no fruit is made or lost where it passes from one belt to the next. A pitch is a
mean, and says nothing of the smallest gap, which decides on doubles and empty places.
"""

import math

from core.calc import checks

__all__ = [
    "cover_share",
    "fruit_per_metre",
    "fruit_rate_at_1_s",
    "gap_m",
    "pitch_after_m",
    "pitch_at_m",
    "pitch_spread_m",
    "speed_for_cover_m_s",
    "speed_for_pitch_m_s",
    "wide_rate_1_s",
]

LANES_MAX = 1000


def speed_for_pitch_m_s(
    flow_1_s: float, lanes: int, pitch_m: float, filled_share: float = 1.0
) -> float:
    r"""Speed at which places of a pitch carry so many fruit in file.

    .. math:: v = \frac{q \, p}{z \, \varphi}

    Parameters
    ----------
    flow_1_s : float
        Fruit over all lanes [1/s]
    lanes : int
        Lanes side by side [-]
    pitch_m : float
        Distance from place to place [m]
    filled_share : float
        Share of the places that carry a fruit [-]

    Returns
    -------
    float
        Speed [m/s]

    Raises
    ------
    RangeError
        Flow below zero, no lane, pitch not above zero, or share not above 0 and up to 1

    Notes
    -----
    Exact where the lanes share the fruit evenly. Touching fruit have a pitch of one diameter.

    Examples
    --------
    >>> round(speed_for_pitch_m_s(7.0, 1, 0.09), 9)
    0.63

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    return flow_1_s * pitch_m / _places(lanes, pitch_m, filled_share, zero=False)


def fruit_rate_at_1_s(
    speed_m_s: float, lanes: int, pitch_m: float, filled_share: float = 1.0
) -> float:
    r"""Fruit that places of a pitch carry in file: :func:`speed_for_pitch_m_s` turned round.

    .. math:: q = \frac{z \, \varphi \, v}{p}

    Parameters
    ----------
    speed_m_s : float
        Speed [m/s]
    lanes : int
        Lanes side by side [-]
    pitch_m : float
        Distance from place to place [m]
    filled_share : float
        Share of the places that carry a fruit [-]

    Returns
    -------
    float
        Fruit over all lanes [1/s]

    Raises
    ------
    RangeError
        Speed below zero, no lane, pitch not above zero, or share outside of 0 to 1

    Examples
    --------
    >>> round(fruit_rate_at_1_s(0.63, 1, 0.09), 9)
    7.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(speed_m_s, "the speed", "m/s")
    return speed_m_s * _places(lanes, pitch_m, filled_share) / pitch_m


def pitch_at_m(speed_m_s: float, lanes: int, flow_1_s: float) -> float:
    r"""Mean distance of fruit in file, middle to middle.

    .. math:: p = \frac{z \, v}{q}

    Parameters
    ----------
    speed_m_s : float
        Speed [m/s]
    lanes : int
        Lanes side by side [-]
    flow_1_s : float
        Fruit over all lanes [1/s]

    Returns
    -------
    float
        Mean pitch [m]

    Raises
    ------
    RangeError
        Speed or flow not above zero, or no lane

    Notes
    -----
    A mean over all that passes, exact as such. Where it is below the diameter the fruit do not fit
    in file.

    Examples
    --------
    >>> round(pitch_at_m(0.63, 1, 7.0), 9)
    0.09

    References
    ----------
    .. [1] Counting
    """
    checks.positive(speed_m_s, "the speed", "m/s")
    checks.whole(lanes, 1, LANES_MAX, "the number of lanes")
    checks.positive(flow_1_s, "the fruit", "1/s")
    return speed_m_s * lanes / flow_1_s


def pitch_after_m(pitch_m: float, speed_m_s: float, next_speed_m_s: float) -> float:
    r"""Mean pitch after fruit has passed to a belt of another speed.

    .. math:: p_2 = p_1 \, \frac{v_2}{v_1}

    Parameters
    ----------
    pitch_m : float
        Mean pitch before [m]
    speed_m_s : float
        Speed before [m/s]
    next_speed_m_s : float
        Speed after [m/s]

    Returns
    -------
    float
        Mean pitch after [m]

    Raises
    ------
    RangeError
        Pitch or a speed not above zero

    Notes
    -----
    Exact for the mean once every fruit has settled at the new speed. Each gap is so wide only if
    all fruit lag alike; :func:`pitch_spread_m` tells what an uneven lag does, and
    :func:`settling_length_m` how long a belt they need.

    Examples
    --------
    >>> round(pitch_after_m(0.061, 0.22, 0.34375), 6)
    0.095313

    References
    ----------
    .. [1] Counting: as many fruit come off as came on
    """
    checks.positive(pitch_m, "the pitch", "m")
    checks.positive(speed_m_s, "the speed before", "m/s")
    checks.positive(next_speed_m_s, "the speed after", "m/s")
    return pitch_m * next_speed_m_s / speed_m_s


def pitch_spread_m(lag_spread_m: float) -> float:
    r"""Spread of the pitch after a transfer at which fruit lag unevenly.

    .. math:: s_p = \sqrt 2 \, s_{lag}

    Parameters
    ----------
    lag_spread_m : float
        Standard deviation of the distance that a fruit falls behind until it has settled [m]

    Returns
    -------
    float
        Standard deviation that the transfer adds to the pitch [m]

    Raises
    ------
    RangeError
        Spread below zero

    Notes
    -----
    Neighbours lag independently of each other. The mean lag, the same for all, changes no pitch.

    Examples
    --------
    >>> round(pitch_spread_m(0.010), 5)
    0.01414

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.2: variance of a difference
    """
    checks.not_negative(lag_spread_m, "the spread of the lag", "m")
    return math.sqrt(2.0) * lag_spread_m


def gap_m(pitch_m: float, diameter_m: float) -> float:
    r"""Mean gap between fruit in file.

    .. math:: g = p - D

    Parameters
    ----------
    pitch_m : float
        Mean pitch [m]
    diameter_m : float
        Diameter of the fruit, along the file [m]

    Returns
    -------
    float
        Mean gap, below zero where the fruit do not fit in file [m]

    Raises
    ------
    RangeError
        Pitch or diameter not above zero

    Notes
    -----
    A mean, which says nothing of the smallest gap. Below zero fruit crowd, ride up or lie side by
    side.

    Examples
    --------
    >>> round(gap_m(0.095, 0.061), 9)
    0.034

    References
    ----------
    .. [1] Geometry
    """
    checks.positive(pitch_m, "the pitch", "m")
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    return pitch_m - diameter_m


def fruit_per_metre(flow_1_s: float, speed_m_s: float) -> float:
    r"""Fruit on one metre of a belt, over all its width.

    .. math:: n = q / v

    Parameters
    ----------
    flow_1_s : float
        Fruit [1/s]
    speed_m_s : float
        Speed [m/s]

    Returns
    -------
    float
        Fruit on a metre [1/m]

    Raises
    ------
    RangeError
        Flow below zero, or speed not above zero

    Notes
    -----
    Little's law on one metre, exact in a steady state. It is also what a belt that stops holds on
    each metre.

    Examples
    --------
    >>> fruit_per_metre(6.0, 0.5)
    12.0

    References
    ----------
    .. [1] Little's law
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    checks.positive(speed_m_s, "the speed", "m/s")
    return flow_1_s / speed_m_s


def wide_rate_1_s(speed_m_s: float, width_m: float, diameter_m: float, cover_share: float) -> float:
    r"""Fruit that a wide belt carries, lying over it in one layer.

    .. math:: q = \frac{v \, W \, \varphi}{D^2}

    Parameters
    ----------
    speed_m_s : float
        Speed [m/s]
    width_m : float
        Width that carries fruit [m]
    diameter_m : float
        Diameter of the fruit [m]
    cover_share : float
        Share of the belt that is covered, each fruit taken as the square around it [-]

    Returns
    -------
    float
        Fruit [1/s]

    Raises
    ------
    RangeError
        Speed below zero, width or diameter not above zero, share outside of 0 to 1, or fruit wider
        than the belt

    Notes
    -----
    An estimate: full cover by squares is 1; round fruit in staggered rows could come to 1.15, fruit
    that lies as it falls stays well below 1.

    Examples
    --------
    >>> round(wide_rate_1_s(0.2, 0.8, 0.08, 0.5), 9)
    12.5

    References
    ----------
    .. [1] Counting of squares
    """
    checks.not_negative(speed_m_s, "the speed", "m/s")
    checks.ratio(cover_share, "the share of the belt that is covered")
    return speed_m_s * cover_share * _squares_per_metre(width_m, diameter_m)


def speed_for_cover_m_s(
    flow_1_s: float, width_m: float, diameter_m: float, cover_share: float
) -> float:
    r"""Speed at which so many fruit cover a share of a wide belt.

    .. math:: v = \frac{q \, D^2}{W \, \varphi}

    Parameters
    ----------
    flow_1_s : float
        Fruit [1/s]
    width_m : float
        Width that carries fruit [m]
    diameter_m : float
        Diameter of the fruit [m]
    cover_share : float
        Share of the belt that is covered, each fruit taken as the square around it [-]

    Returns
    -------
    float
        Speed [m/s]

    Raises
    ------
    RangeError
        Flow below zero, width or diameter not above zero, share not above 0 and up to 1, or fruit
        wider than the belt

    Notes
    -----
    :func:`wide_rate_1_s` turned round, and no surer.

    Examples
    --------
    >>> round(speed_for_cover_m_s(12.5, 0.8, 0.08, 0.5), 9)
    0.2

    References
    ----------
    .. [1] Counting of squares
    """
    checks.not_negative(flow_1_s, "the fruit", "1/s")
    checks.ratio(cover_share, "the share of the belt that is covered", zero=False)
    return flow_1_s / (cover_share * _squares_per_metre(width_m, diameter_m))


def cover_share(flow_1_s: float, speed_m_s: float, width_m: float, diameter_m: float) -> float:
    r"""Share of a wide belt that fruit covers, each taken as the square around it.

    .. math:: \varphi = \frac{q \, D^2}{v \, W}

    Parameters
    ----------
    flow_1_s : float
        Fruit [1/s]
    speed_m_s : float
        Speed [m/s]
    width_m : float
        Width that carries fruit [m]
    diameter_m : float
        Diameter of the fruit [m]

    Returns
    -------
    float
        Share; above 1 where one layer does not hold the fruit [-]

    Raises
    ------
    RangeError
        Flow below zero, speed, width or diameter not above zero, or fruit wider than the belt

    Notes
    -----
    :func:`wide_rate_1_s` turned round, and no surer.

    Examples
    --------
    >>> round(cover_share(12.5, 0.2, 0.8, 0.08), 9)
    0.5

    References
    ----------
    .. [1] Counting of squares
    """
    return fruit_per_metre(flow_1_s, speed_m_s) / _squares_per_metre(width_m, diameter_m)


def _places(lanes: int, pitch_m: float, filled_share: float, *, zero: bool = True) -> float:
    """Filled places in each pitch of length, over all lanes."""
    checks.whole(lanes, 1, LANES_MAX, "the number of lanes")
    checks.positive(pitch_m, "the pitch", "m")
    checks.ratio(filled_share, "the share of filled places", zero=zero)
    return lanes * filled_share


def _squares_per_metre(width_m: float, diameter_m: float) -> float:
    """Squares of one diameter that lie on a metre of belt."""
    checks.positive(width_m, "the width of the belt", "m")
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    checks.in_range(diameter_m, 0.0, width_m, "the diameter of the fruit", "m")
    return width_m / diameter_m / diameter_m
