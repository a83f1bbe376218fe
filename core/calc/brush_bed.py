"""A bed of brushes that turn against each other: drift, scrub, and what they rest on.

Speeds of both sets of brushes are magnitudes at their surface: the forward set carries fruit on,
the reverse set holds it back. Drift and scrub are indexes, for beds that turn both ways only; what
rests on counting, exact for any bed, stands in :mod:`core.calc.brush_places`.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.uncertainty import Budget, Contribution, combine, spread_of_readings
from core.errors import RangeError

__all__ = [
    "TimedTravel",
    "drift_budget",
    "drift_index_m_s",
    "effective_diameter_m",
    "forward_speed_m_s",
    "reverse_speed_m_s",
    "scrub_index_m_s",
    "timed_travel",
    "travel_factor",
]


@dataclass(frozen=True, slots=True)
class TimedTravel:
    """The travel factor of a bed by marked fruit, with the budget of its uncertainty."""

    factor: float
    budget: Budget

    @property
    def standard(self) -> float:
        """Standard uncertainty of the factor."""
        return self.budget.standard


def drift_index_m_s(forward_m_s: float, reverse_m_s: float, travel_factor: float = 1.0) -> float:
    r"""Mean speed at which fruit is taken to pass a bed of brushes that turn both ways.

    .. math:: v_m = k \, \frac{V_1 - V_2}{2}

    Parameters
    ----------
    forward_m_s : float
        Surface speed of the brushes that turn forward, as a magnitude [m/s]
    reverse_m_s : float
        Surface speed of the brushes that turn against them, as a magnitude [m/s]
    travel_factor : float
        Factor by a timed fruit, :func:`travel_factor`; 1 until one was timed [-]

    Returns
    -------
    float
        Drift, negative where the reverse set is faster and fruit is held back [m/s]

    Raises
    ------
    RangeError
        A speed is below zero, or the factor not above zero

    Notes
    -----
    An index, not a speed: measure once, store the factor. It takes traction as proportional to
    the speed of slip, which wet bristles come near. With dry sliding the force of a brush does
    not depend on how fast it slips, and a small difference gives no proportional drift. A
    factor belongs to one fruit, wet or dry, one set of brushes and one speed. The difference of
    two large numbers: show it with its band, :func:`drift_budget`. Where all brushes turn the
    same way there is no drift to speak of: fruit spins in its valley and moves on when the
    next fruit pushes it; use :func:`core.calc.brush_places.time_by_places_s` there.

    Examples
    --------
    >>> round(drift_index_m_s(0.638, 0.539), 4)
    0.0495
    >>> round(drift_index_m_s(0.638, 0.539, 0.8), 4)
    0.0396

    References
    ----------
    .. [1] Mean of the two driving speeds under traction proportional to slip, worked out for this
       program; its sign, forward brushes a little faster, is common practice
    """
    checks.not_negative(forward_m_s, "the speed of the forward brushes", "m/s")
    checks.not_negative(reverse_m_s, "the speed of the reverse brushes", "m/s")
    checks.positive(travel_factor, "the travel factor")
    return travel_factor * (forward_m_s - reverse_m_s) / 2.0


def scrub_index_m_s(forward_m_s: float, reverse_m_s: float) -> float:
    r"""Speed at which bristles rub along fruit on brushes that turn both ways.

    .. math:: v_s = \frac{V_1 + V_2}{2}

    Parameters
    ----------
    forward_m_s : float
        Surface speed of the brushes that turn forward, as a magnitude [m/s]
    reverse_m_s : float
        Surface speed of the brushes that turn against them, as a magnitude [m/s]

    Returns
    -------
    float
        Scrub [m/s]

    Raises
    ------
    RangeError
        A speed is below zero

    Notes
    -----
    An index for comparing settings. Between a forward and a reverse brush both contacts drive the
    spin of the fruit in opposite senses: much scrub, little spin. How clean or how sore a fruit
    gets also rests on bristles, water, weight above it and time.

    Examples
    --------
    >>> round(scrub_index_m_s(0.638, 0.539), 4)
    0.5885

    References
    ----------
    .. [1] Half of the relative speed of the two surfaces, by definition
    """
    checks.not_negative(forward_m_s, "the speed of the forward brushes", "m/s")
    checks.not_negative(reverse_m_s, "the speed of the reverse brushes", "m/s")
    return (forward_m_s + reverse_m_s) / 2.0


def reverse_speed_m_s(forward_m_s: float, drift_m_s: float, travel_factor: float = 1.0) -> float:
    r"""Speed of the reverse brushes for a wanted drift: :func:`drift_index_m_s` turned round.

    .. math:: V_2 = V_1 - \frac{2 v_m}{k}

    Parameters
    ----------
    forward_m_s : float
        Surface speed of the brushes that turn forward, as a magnitude [m/s]
    drift_m_s : float
        Wanted drift [m/s]
    travel_factor : float
        Factor by a timed fruit; 1 until one was timed [-]

    Returns
    -------
    float
        Surface speed of the reverse brushes, as a magnitude [m/s]

    Raises
    ------
    RangeError
        The forward speed is below zero, the factor not above zero, or the drift more than the
        forward brushes give with the others at rest

    Notes
    -----
    An index, as :func:`drift_index_m_s` is.

    Examples
    --------
    >>> round(reverse_speed_m_s(0.638, 0.0495), 3)
    0.539

    References
    ----------
    .. [1] :func:`drift_index_m_s`
    """
    checks.not_negative(forward_m_s, "the speed of the forward brushes", "m/s")
    checks.finite(drift_m_s, "the wanted drift", "m/s")
    checks.positive(travel_factor, "the travel factor")
    reverse_m_s = forward_m_s - 2.0 * drift_m_s / travel_factor
    if reverse_m_s < 0.0:
        raise RangeError(
            "The speed of the reverse brushes was not computed.",
            f"Even with them at rest the forward brushes give {forward_m_s * travel_factor / 2:.4g}"
            f" m/s of drift; {drift_m_s:.4g} m/s is wanted.",
            "Raise the speed of the forward brushes, or ask for less drift.",
        )
    return reverse_m_s


def forward_speed_m_s(reverse_m_s: float, drift_m_s: float, travel_factor: float = 1.0) -> float:
    r"""Speed of the forward brushes for a wanted drift: :func:`drift_index_m_s` turned round.

    .. math:: V_1 = V_2 + \frac{2 v_m}{k}

    Parameters
    ----------
    reverse_m_s : float
        Surface speed of the brushes that turn against them, as a magnitude [m/s]
    drift_m_s : float
        Wanted drift [m/s]
    travel_factor : float
        Factor by a timed fruit; 1 until one was timed [-]

    Returns
    -------
    float
        Surface speed of the forward brushes, as a magnitude [m/s]

    Raises
    ------
    RangeError
        The reverse speed is below zero, the factor not above zero, or a backward drift that asks
        the forward brushes to turn in reverse

    Notes
    -----
    An index, as :func:`drift_index_m_s` is.

    Examples
    --------
    >>> round(forward_speed_m_s(0.539, 0.0495), 3)
    0.638

    References
    ----------
    .. [1] :func:`drift_index_m_s`
    """
    checks.not_negative(reverse_m_s, "the speed of the reverse brushes", "m/s")
    checks.finite(drift_m_s, "the wanted drift", "m/s")
    checks.positive(travel_factor, "the travel factor")
    forward_m_s = reverse_m_s + 2.0 * drift_m_s / travel_factor
    if forward_m_s < 0.0:
        raise RangeError(
            "The speed of the forward brushes was not computed.",
            f"A drift of {drift_m_s:.4g} m/s asks them to turn in reverse.",
            "Ask for a drift that carries fruit forward.",
        )
    return forward_m_s


def drift_budget(
    forward_m_s: float,
    reverse_m_s: float,
    forward_u_m_s: float,
    reverse_u_m_s: float,
    correlation: float = 0.0,
    travel_factor: float = 1.0,
    travel_factor_u: float = 0.0,
) -> Budget:
    r"""Standard uncertainty of the drift, with what it is made of.

    .. math:: u(v_m)^2 = \frac{k^2}{4}\left(u_1^2 + u_2^2 - 2 r u_1 u_2\right)
        + \left(\frac{V_1 - V_2}{2}\right)^2 u_k^2

    Parameters
    ----------
    forward_m_s : float
        Surface speed of the brushes that turn forward, as a magnitude [m/s]
    reverse_m_s : float
        Surface speed of the brushes that turn against them, as a magnitude [m/s]
    forward_u_m_s : float
        Standard uncertainty of the forward speed [m/s]
    reverse_u_m_s : float
        Standard uncertainty of the reverse speed [m/s]
    correlation : float
        Correlation of the two speeds; 1 where all of it is shared [-]
    travel_factor : float
        Factor by a timed fruit; 1 until one was timed [-]
    travel_factor_u : float
        Standard uncertainty of the factor [-]

    Returns
    -------
    Budget
        Contributions and combined standard uncertainty of the drift [m/s]

    Raises
    ------
    RangeError
        A speed or an uncertainty is below zero, the factor not above zero, or the correlation
        outside of -1 to 1

    Notes
    -----
    Drift is a difference of two large numbers: 1 % of each speed makes 8 % of the drift at a
    differential of 17 %, and 18 % of it at one of 8 %. A factor that nobody measured has no
    uncertainty that could be stated: then this holds the share of the speeds only.

    Examples
    --------
    >>> budget = drift_budget(0.638, 0.5386, 0.00638, 0.005386)
    >>> round(budget.standard / drift_index_m_s(0.638, 0.5386), 3)
    0.084

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), equations 10 and 16
    """
    index_m_s = drift_index_m_s(forward_m_s, reverse_m_s, travel_factor)
    half = travel_factor / 2.0
    rows = (
        Contribution("forward speed", forward_u_m_s, half),
        Contribution("reverse speed", reverse_u_m_s, -half),
        Contribution("travel factor", travel_factor_u, index_m_s / travel_factor),
    )
    shared = ((1.0, correlation, 0.0), (correlation, 1.0, 0.0), (0.0, 0.0, 1.0))
    return combine(rows, shared if correlation else None)


def travel_factor(length_m: float, time_s: float, drift_index_m_s: float) -> float:
    r"""Factor from the drift index to the speed at which a marked fruit passed the bed.

    .. math:: k = \frac{L / t}{v_m}

    Parameters
    ----------
    length_m : float
        Length of bed over which the fruit was timed [m]
    time_s : float
        Time that it took; the mean of several fruit [s]
    drift_index_m_s : float
        Drift index with a factor of 1 at the speeds that ran meanwhile [m/s]

    Returns
    -------
    float
        Travel factor [-]

    Raises
    ------
    RangeError
        Length, time or index is not above zero

    Notes
    -----
    Paint ten fruit and time them over the bed at normal feed. Store the factor with fruit, wet or
    dry, and date; measure again after any change of speed, brush or product.

    Examples
    --------
    >>> round(travel_factor(1.6, 40.0, 0.05), 9)
    0.8

    References
    ----------
    .. [1] Definition of the factor by this program
    """
    checks.positive(length_m, "the length", "m")
    checks.positive(time_s, "the time", "s")
    checks.positive(drift_index_m_s, "the drift index", "m/s")
    return length_m / time_s / drift_index_m_s


def timed_travel(
    length_m: float,
    times_s: tuple[float, ...],
    drift_index_m_s: float,
    length_u_m: float = 0.0,
    drift_index_u_m_s: float = 0.0,
) -> TimedTravel:
    r"""Travel factor by several marked fruit, with its standard uncertainty.

    .. math:: \left(\frac{u(k)}{k}\right)^2 = \left(\frac{u(L)}{L}\right)^2
        + \left(\frac{u(\bar t)}{\bar t}\right)^2 + \left(\frac{u(v_m)}{v_m}\right)^2

    Parameters
    ----------
    length_m : float
        Length of bed over which fruit was timed [m]
    times_s : tuple[float, ...]
        Time of each marked fruit, two or more [s]
    drift_index_m_s : float
        Drift index with a factor of 1 at the speeds that ran meanwhile [m/s]
    length_u_m : float
        Standard uncertainty of the length [m]
    drift_index_u_m_s : float
        Standard uncertainty of the index, by :func:`drift_budget` [m/s]

    Returns
    -------
    TimedTravel
        Factor and the budget of its standard uncertainty [-]

    Raises
    ------
    RangeError
        Fewer than two times, a length, time or index not above zero, or an uncertainty below zero

    Notes
    -----
    The uncertainty is that of the mean: single fruit spread wider, by the root of their number.
    By the mean of the times, as Little's law has it, not by the mean of the speeds.

    Examples
    --------
    >>> timed = timed_travel(1.6, (38.0, 40.0, 42.0), 0.05)
    >>> round(timed.factor, 9), round(timed.standard, 4)
    (0.8, 0.0231)

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.2.3 and 5.1.6
    """
    for time_s in times_s:
        checks.positive(time_s, "the time of a marked fruit", "s")
    spread = spread_of_readings(times_s)
    mean_s = math.fsum(times_s) / len(times_s)
    factor = travel_factor(length_m, mean_s, drift_index_m_s)
    rows = (
        Contribution("length", length_u_m, factor / length_m),
        Contribution("times of marked fruit", spread.standard, -factor / mean_s, spread.dof),
        Contribution("drift index", drift_index_u_m_s, -factor / drift_index_m_s),
    )
    return TimedTravel(factor, combine(rows))


def effective_diameter_m(diameter_m: float, wear_m: float = 0.0, bend_m: float = 0.0) -> float:
    r"""Diameter at which a brush carries fruit, after wear and under its weight.

    .. math:: d_{eff} = d - \Delta d - 2 b

    Parameters
    ----------
    diameter_m : float
        Free diameter when new [m]
    wear_m : float
        Loss of diameter by wear [m]
    bend_m : float
        Depth to which fruit presses into the bristles [m]

    Returns
    -------
    float
        Effective diameter [m]

    Raises
    ------
    RangeError
        The diameter is not above zero, wear or bend below zero, or nothing would be left

    Notes
    -----
    Surface speed falls with it at the same shaft speed, and drift with surface speed; two sets
    that wear unequally shift the drift by much more. Better than a guess of the bend: a wheel
    tachometer lightly pressed on, or :func:`travel_factor`, which then holds the bend too.

    Examples
    --------
    >>> round(effective_diameter_m(0.127, wear_m=0.004, bend_m=0.003), 6)
    0.117

    References
    ----------
    .. [1] Geometry; that it is less than the free diameter is common practice
    """
    checks.positive(diameter_m, "the diameter of the brush", "m")
    checks.not_negative(wear_m, "the wear", "m")
    checks.not_negative(bend_m, "the bend of the bristles", "m")
    left_m = diameter_m - wear_m - 2.0 * bend_m
    checks.positive(left_m, "what is left of the brush", "m")
    return left_m
