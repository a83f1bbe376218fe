"""The places of a bed of brushes: what fills them, the time fruit spends there, how it sits.

Little's law ties them: fruit on the bed is fruit fed by time on it, exact in a steady state. What
rests on a drift is no surer than the drift, which is an index.
"""

import math

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "capacity_1_s",
    "flow_for_time_1_s",
    "fruit_per_valley",
    "hold_up",
    "needed_drift_m_s",
    "places",
    "places_used_share",
    "time_by_places_s",
    "time_on_bed_s",
    "valley_climb_rad",
    "valley_turning_rad_s",
]


def fruit_per_valley(bed_width_m: float, diameter_m: float, packing_share: float) -> float:
    r"""How many fruit lie side by side between two brushes, on average.

    .. math:: n = \frac{W}{D} \, \varphi

    Parameters
    ----------
    bed_width_m : float
        Width of the bed, along the brushes [m]
    diameter_m : float
        Diameter of the fruit [m]
    packing_share : float
        Share of the width that fruit fills at most [-]

    Returns
    -------
    float
        Fruit in a valley, a mean and so no whole number [-]

    Raises
    ------
    RangeError
        Width or diameter not above zero, share outside of 0 to 1, or fruit wider than the bed

    Notes
    -----
    One layer. A share of 0.75 to 0.85 is common for round fruit fed evenly (from memory); count a
    valley at full feed.

    Examples
    --------
    >>> round(fruit_per_valley(1.2192, 0.06096, 0.8), 9)
    16.0

    References
    ----------
    .. [1] Counting
    """
    checks.positive(bed_width_m, "the width of the bed", "m")
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    checks.in_range(diameter_m, 0.0, bed_width_m, "the diameter of the fruit", "m")
    checks.ratio(packing_share, "the share of a valley that fruit fills", zero=False)
    return bed_width_m / diameter_m * packing_share


def places(valleys: int, per_valley: float) -> float:
    r"""Fruit that a bed holds when all its valleys are full.

    .. math:: N_{max} = z \, n

    Parameters
    ----------
    valleys : int
        Valleys of the bed: one for each brush where the last one makes a valley with what
        follows it, else one less [-]
    per_valley : float
        Fruit in a full valley, by :func:`fruit_per_valley` [-]

    Returns
    -------
    float
        Places [-]

    Raises
    ------
    RangeError
        No valley, or fruit in a valley not above zero

    Notes
    -----
    One layer; a flooded bed holds more, in a second layer that is not brushed.

    Examples
    --------
    >>> places(12, 16.0)
    192.0

    References
    ----------
    .. [1] Counting
    """
    checks.whole(valleys, 1, 1000, "the number of valleys")
    checks.positive(per_valley, "the fruit in a valley")
    return valleys * per_valley


def needed_drift_m_s(flow_1_s: float, brush_pitch_m: float, per_valley: float) -> float:
    r"""Drift with which full valleys carry just what is fed.

    .. math:: v_{req} = \frac{q \, p}{n}

    Parameters
    ----------
    flow_1_s : float
        Fruit fed [1/s]
    brush_pitch_m : float
        Distance from brush to brush, middle to middle [m]
    per_valley : float
        Fruit in a full valley, by :func:`fruit_per_valley` [-]

    Returns
    -------
    float
        Needed drift [m/s]

    Raises
    ------
    RangeError
        The flow is below zero, or pitch or fruit in a valley not above zero

    Notes
    -----
    With less drift the bed floods. Exact for even feed; feed in bursts needs more.

    Examples
    --------
    >>> round(needed_drift_m_s(5.903, 0.13335, 16.0), 4)
    0.0492

    References
    ----------
    .. [1] Continuity: a valley moves on by one pitch in p/v seconds
    """
    checks.not_negative(flow_1_s, "the fruit fed", "1/s")
    return flow_1_s * _metres_per_fruit(brush_pitch_m, per_valley)


def capacity_1_s(drift_m_s: float, brush_pitch_m: float, per_valley: float) -> float:
    r"""Fruit that a bed carries with full valleys: :func:`needed_drift_m_s` turned round.

    .. math:: q = \frac{n \, v_m}{p}

    Parameters
    ----------
    drift_m_s : float
        Drift [m/s]
    brush_pitch_m : float
        Distance from brush to brush, middle to middle [m]
    per_valley : float
        Fruit in a full valley, by :func:`fruit_per_valley` [-]

    Returns
    -------
    float
        Capacity [1/s]

    Raises
    ------
    RangeError
        The drift is below zero, or pitch or fruit in a valley not above zero

    Notes
    -----
    No surer than the drift it rests on, which is an index.

    Examples
    --------
    >>> round(capacity_1_s(0.0492, 0.13335, 16.0), 2)
    5.9

    References
    ----------
    .. [1] Continuity
    """
    checks.not_negative(drift_m_s, "the drift", "m/s")
    return drift_m_s / _metres_per_fruit(brush_pitch_m, per_valley)


def places_used_share(needed_m_s: float, drift_m_s: float) -> float:
    r"""Share of the places of a bed that are filled: the needed drift by the drift there is.

    .. math:: \frac{N}{N_{max}} = \frac{v_{req}}{v_m}

    Parameters
    ----------
    needed_m_s : float
        Drift that the fruit fed needs, by :func:`needed_drift_m_s` [m/s]
    drift_m_s : float
        Drift there is [m/s]

    Returns
    -------
    float
        Share of places filled; above 1 the bed floods [-]

    Raises
    ------
    RangeError
        The needed drift is below zero, or the drift not above zero

    Notes
    -----
    No surer than the drift, which is an index: a share near 1 is not known to be below it.

    Examples
    --------
    >>> round(places_used_share(0.0492, 0.0497), 2)
    0.99

    References
    ----------
    .. [1] :func:`hold_up` by :func:`places`, for a bed as long as its valleys
    """
    checks.not_negative(needed_m_s, "the drift that is needed", "m/s")
    checks.positive(drift_m_s, "the drift", "m/s")
    return needed_m_s / drift_m_s


def hold_up(flow_1_s: float, length_m: float, drift_m_s: float) -> float:
    r"""Fruit on a bed in a steady state.

    .. math:: N = q \, \frac{L}{v_m}

    Parameters
    ----------
    flow_1_s : float
        Fruit fed [1/s]
    length_m : float
        Length of the bed [m]
    drift_m_s : float
        Drift [m/s]

    Returns
    -------
    float
        Fruit on the bed [-]

    Raises
    ------
    RangeError
        The flow is below zero, or length or drift not above zero

    Notes
    -----
    Above the places of the bed it floods. No surer than the drift, which is an index. When feed
    stops, the last fruit stay: nothing pushes them on.

    Examples
    --------
    >>> round(hold_up(5.903, 1.6002, 0.0497), 1)
    190.1

    References
    ----------
    .. [1] Little, *A proof for the queuing formula L = λW*, Operations Research 9 (1961), 383
    """
    checks.not_negative(flow_1_s, "the fruit fed", "1/s")
    return flow_1_s * time_on_bed_s(length_m, drift_m_s)


def time_on_bed_s(length_m: float, drift_m_s: float) -> float:
    r"""Time of a fruit on the bed by its drift.

    .. math:: t = \frac{L}{v_m}

    Parameters
    ----------
    length_m : float
        Length of the bed [m]
    drift_m_s : float
        Drift [m/s]

    Returns
    -------
    float
        Mean time on the bed [s]

    Raises
    ------
    RangeError
        Length not above zero, or a drift that carries no fruit forward

    Notes
    -----
    An index while the travel factor is not measured. A mean: single fruit hop on or linger.

    Examples
    --------
    >>> round(time_on_bed_s(1.6, 0.05), 9)
    32.0

    References
    ----------
    .. [1] Even motion
    """
    checks.positive(length_m, "the length of the bed", "m")
    if not drift_m_s > 0.0:
        raise RangeError(
            "The time on the bed was not computed.",
            f"The drift is {drift_m_s:.4g} m/s: fruit leaves only when others push it.",
            "Let the forward brushes run a little faster than the reverse ones, "
            "or count fruit on the bed.",
        )
    checks.finite(drift_m_s, "the drift", "m/s")
    return length_m / drift_m_s


def time_by_places_s(places: float, flow_1_s: float) -> float:
    r"""Time of a fruit on the bed by counting, exact for any bed in a steady state.

    .. math:: t = \frac{N}{q}

    Parameters
    ----------
    places : float
        Fruit on the bed: counted, or :func:`places` for a full one [-]
    flow_1_s : float
        Fruit fed [1/s]

    Returns
    -------
    float
        Mean time on the bed [s]

    Raises
    ------
    RangeError
        The fruit on the bed is below zero, or the flow not above zero

    Notes
    -----
    The only exact statement on brushes, also where all of them turn the same way. With all places
    full it is the longest time this feed can have on this bed without flooding it. Fruit that falls
    off or is picked out does not count.

    Examples
    --------
    >>> round(time_by_places_s(192.0, 5.903), 1)
    32.5

    References
    ----------
    .. [1] Little, *A proof for the queuing formula L = λW*, Operations Research 9 (1961), 383
    """
    checks.not_negative(places, "the fruit on the bed")
    checks.positive(flow_1_s, "the fruit fed", "1/s")
    return places / flow_1_s


def flow_for_time_1_s(places: float, time_s: float) -> float:
    r"""Highest feed that leaves fruit a time on the bed: :func:`time_by_places_s` turned round.

    .. math:: q = \frac{N_{max}}{t}

    Parameters
    ----------
    places : float
        Places of the bed, by :func:`places` [-]
    time_s : float
        Shortest time wanted on brushes [s]

    Returns
    -------
    float
        Feed [1/s]

    Raises
    ------
    RangeError
        The places are below zero, or the time not above zero

    Notes
    -----
    Beyond this feed the bed either floods or lets fruit go too early, whatever the speeds: only
    more brushes, more width or less feed help.

    Examples
    --------
    >>> flow_for_time_1_s(192.0, 20.0)
    9.6

    References
    ----------
    .. [1] Little, *A proof for the queuing formula L = λW*, Operations Research 9 (1961), 383
    """
    checks.not_negative(places, "the places of the bed")
    checks.positive(time_s, "the time on the bed", "s")
    return places / time_s


def valley_turning_rad_s(surface_m_s: float, diameter_m: float) -> float:
    r"""Spin of a fruit in its valley where all brushes turn the same way.

    .. math:: \omega = \frac{2 V}{D}

    Parameters
    ----------
    surface_m_s : float
        Surface speed of the brushes [m/s]
    diameter_m : float
        Diameter of the fruit [m]

    Returns
    -------
    float
        Spin, against the turning of the brushes [rad/s]

    Raises
    ------
    RangeError
        The speed is no finite number, or the diameter not above zero

    Notes
    -----
    An upper value: round fruit that does not slip on its bristles. In such a bed the two contacts
    agree, so fruit turns, and does not travel by itself.

    Examples
    --------
    >>> round(valley_turning_rad_s(0.6, 0.06), 9)
    20.0

    References
    ----------
    .. [1] Rolling without slip
    """
    checks.finite(surface_m_s, "the surface speed", "m/s")
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    return 2.0 * surface_m_s / diameter_m


def valley_climb_rad(
    fruit_diameter_m: float, brush_diameter_m: float, brush_pitch_m: float
) -> float:
    r"""Slope that a fruit has to climb to leave its valley over the next brush.

    .. math:: \alpha = \arcsin\frac{p / 2}{r + R}

    Parameters
    ----------
    fruit_diameter_m : float
        Diameter of the fruit, 2 R [m]
    brush_diameter_m : float
        Diameter of the brushes, 2 r [m]
    brush_pitch_m : float
        Distance from brush to brush, middle to middle [m]

    Returns
    -------
    float
        Angle from the horizontal at the start of the climb [rad]

    Raises
    ------
    RangeError
        A size is not above zero, or fruit would fall through between the brushes

    Notes
    -----
    For round fruit on round, unyielding brushes. The angle is more than friction alone climbs on a
    smooth roller: give of the bristles and push from behind do the work, so time on the bed
    depends on feed, and the last fruit stay when feed stops.

    Examples
    --------
    >>> round(math.degrees(valley_climb_rad(0.060, 0.127, 0.133)), 1)
    45.3

    References
    ----------
    .. [1] Geometry of three circles
    """
    checks.positive(fruit_diameter_m, "the diameter of the fruit", "m")
    checks.positive(brush_diameter_m, "the diameter of the brushes", "m")
    checks.positive(brush_pitch_m, "the brush pitch", "m")
    reach_m = fruit_diameter_m + brush_diameter_m
    if not brush_pitch_m < reach_m:
        raise RangeError(
            "The valley was not computed.",
            f"Brushes of {1e3 * brush_diameter_m:.4g} mm, {1e3 * brush_pitch_m:.4g} mm apart, let "
            f"fruit of {1e3 * fruit_diameter_m:.4g} mm fall through.",
            "Check brush diameter, brush pitch and the size of the fruit.",
        )
    return math.asin(brush_pitch_m / reach_m)


def _metres_per_fruit(brush_pitch_m: float, per_valley: float) -> float:
    """Length of bed that one fruit takes up in full valleys."""
    checks.positive(brush_pitch_m, "the brush pitch", "m")
    checks.positive(per_valley, "the fruit in a valley")
    return brush_pitch_m / per_valley
