"""Two stations held at a ratio of surface speeds: how sure it is, and what makes it unsure.

Each side has a budget of parts, relative to its speed (:mod:`core.calc.speed_parts`). What both
sides share cancels in the ratio. First order (GUM), and speeds as sizes without direction: brushes
that turn against each other are compared by how fast they are.
"""

import math
from collections.abc import Sequence

from core.calc import checks, uncertainty
from core.calc.belt_pair import differential_share
from core.calc.speed_parts import Part, half_width_to_u
from core.errors import RangeError

__all__ = [
    "Part",
    "chance_outside",
    "chance_sign_changes",
    "contributions",
    "differential_share",
    "differential_u",
    "half_width_to_u",
    "ratio",
    "ratio_relative_u",
]


def ratio(first_m_s: float, second_m_s: float) -> float:
    r"""Ratio of the surface speeds of two stations.

    .. math:: r = \frac{v_1}{v_2}

    Parameters
    ----------
    first_m_s : float
        Surface speed of the first station [m/s]
    second_m_s : float
        Surface speed of the second station [m/s]

    Returns
    -------
    float
        Ratio, first over second [-]

    Raises
    ------
    RangeError
        A speed that is not above zero

    Examples
    --------
    >>> round(ratio(0.44, 0.4), 9)
    1.1

    References
    ----------
    .. [1] Definition
    """
    _check_speeds(first_m_s, second_m_s)
    return first_m_s / second_m_s


def ratio_relative_u(first: Sequence[Part], second: Sequence[Part]) -> float:
    r"""Relative standard uncertainty of the ratio of two speeds.

    .. math:: \left(\frac{u(r)}{r}\right)^2 = \sum_k \left( u_{1k}^2 + u_{2k}^2
        - 2 \, \rho_k \, u_{1k} \, u_{2k} \right)

    Parameters
    ----------
    first : Sequence[Part]
        Budget of the first station [-]
    second : Sequence[Part]
        Budget of the second station [-]

    Returns
    -------
    float
        Relative standard uncertainty of the ratio [-]

    Raises
    ------
    RangeError
        An uncertainty below zero, a correlation outside of -1 to 1, two parts of one name on a
        side, or sides that tell different correlations for one name

    Notes
    -----
    Parts of different names are independent. A part without a partner on the other side counts
    whole, whatever it says of sharing.

    Examples
    --------
    >>> knobs = (Part("knob", 0.01),)
    >>> round(ratio_relative_u(knobs, knobs), 5)
    0.01414
    >>> ratio_relative_u((Part("knob", 0.01, True),), (Part("knob", 0.01, True),))
    0.0

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.6 and 5.2.2
    """
    return math.sqrt(math.fsum(_variances(first, second).values()))


def differential_u(
    first_m_s: float, second_m_s: float, first: Sequence[Part], second: Sequence[Part]
) -> float:
    r"""Standard uncertainty of the differential of two speeds.

    .. math:: u(d) = \frac{4 \, v_1 v_2}{(v_1 + v_2)^2} \, \frac{u(r)}{r}

    Parameters
    ----------
    first_m_s : float
        Surface speed of the first station [m/s]
    second_m_s : float
        Surface speed of the second station [m/s]
    first : Sequence[Part]
        Budget of the first station [-]
    second : Sequence[Part]
        Budget of the second station [-]

    Returns
    -------
    float
        Standard uncertainty, in points of the differential [-]

    Raises
    ------
    RangeError
        As :func:`ratio` and :func:`ratio_relative_u`

    Notes
    -----
    Nearly the relative uncertainty of the ratio, however small the differential is: that is why a
    small differential is lost first. First order; good while each speed is known to some percent.

    Examples
    --------
    >>> knobs = (Part("knob", 0.01),)
    >>> round(differential_u(0.42, 0.38, knobs, knobs), 5)
    0.01411

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.2, with both derivatives of the differential, which are equal
       and opposite when taken relative to their speed
    """
    _check_speeds(first_m_s, second_m_s)
    sensitivity = 4.0 * first_m_s * second_m_s / (first_m_s + second_m_s) ** 2
    return sensitivity * ratio_relative_u(first, second)


def contributions(first: Sequence[Part], second: Sequence[Part]) -> tuple[tuple[str, float], ...]:
    r"""What makes the ratio unsure, the widest first.

    .. math:: w_k = \frac{u_{1k}^2 + u_{2k}^2 - 2 \, \rho_k \, u_{1k} \, u_{2k}}{(u(r) / r)^2}

    Parameters
    ----------
    first : Sequence[Part]
        Budget of the first station [-]
    second : Sequence[Part]
        Budget of the second station [-]

    Returns
    -------
    tuple[tuple[str, float], ...]
        Name and share of the variance of each part, both sides taken together [-]

    Raises
    ------
    RangeError
        As :func:`ratio_relative_u`

    Notes
    -----
    The shares make 1; all are zero where nothing is unsure. The same for ratio and differential.

    Examples
    --------
    >>> knob, slip = Part("knob", 0.02), Part("slip", 0.01)
    >>> contributions((slip, knob), (slip, knob))
    (('knob', 0.8), ('slip', 0.2))

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.2
    """
    variances = _variances(first, second)
    total = math.fsum(variances.values())
    shares = ((name, part / total if total else 0.0) for name, part in variances.items())
    return tuple(sorted(shares, key=lambda share: -share[1]))


def chance_outside(differential: float, u: float, low: float, high: float) -> float:
    r"""Chance that a differential lies outside of its band.

    .. math:: p = \Phi\left(\frac{d_{low} - d}{u}\right) + \Phi\left(\frac{d - d_{high}}{u}\right)

    Parameters
    ----------
    differential : float
        Differential as planned or set, *d* [-]
    u : float
        Its standard uncertainty [-]
    low : float
        Lower end of the band [-]
    high : float
        Upper end of the band [-]

    Returns
    -------
    float
        Chance by the normal distribution; 0 or 1 where nothing is unsure [-]

    Raises
    ------
    RangeError
        A differential outside of -2 to 2 (a percent figure is), uncertainty below zero, or an
        empty band

    Examples
    --------
    >>> round(chance_outside(0.08, 0.01, 0.06, 0.10), 4)
    0.0455

    References
    ----------
    .. [1] Normal distribution; JCGM 106:2012, 7.2
    """
    _check_differential(differential)
    return uncertainty.probability_outside(differential, u, low, high)


def chance_sign_changes(differential: float, u: float) -> float:
    r"""Chance that a differential has vanished or turned round.

    .. math:: p = \Phi\left(-\frac{|d|}{u}\right)

    Parameters
    ----------
    differential : float
        Differential as planned or set, *d* [-]
    u : float
        Its standard uncertainty [-]

    Returns
    -------
    float
        Chance by the normal distribution; one half for a differential of zero [-]

    Raises
    ------
    RangeError
        A differential outside of -2 to 2 (a percent figure is), or uncertainty below zero

    Notes
    -----
    Without uncertainty it is 0, or 1 for a differential that is zero to begin with. Once it turns
    round, fruit on brushes drifts backward, and a V of two belts turns fruit the other way.

    Examples
    --------
    >>> round(chance_sign_changes(0.03, 0.03), 3)
    0.159

    References
    ----------
    .. [1] Normal distribution; JCGM 106:2012, 7.2
    """
    _check_differential(differential)
    if u == 0.0:
        return 0.0 if differential else 1.0
    return uncertainty.probability_outside(abs(differential), u, 0.0, math.inf)


def _variances(first: Sequence[Part], second: Sequence[Part]) -> dict[str, float]:
    """What each name adds to the relative variance of the ratio, both sides taken together."""
    ours, theirs = _by_name(first), _by_name(second)
    return {
        name: _variance(ours.get(name), theirs.get(name)) for name in dict.fromkeys(ours | theirs)
    }


def _variance(ours: Part | None, theirs: Part | None) -> float:
    if ours is None or theirs is None:
        return math.fsum(part.relative_u**2 for part in (ours, theirs) if part is not None)
    if ours.shared != theirs.shared:
        raise RangeError(
            "The uncertainty of the ratio was not computed.",
            f"Of {ours.name} one side tells correlation {float(ours.shared):.3g}, the other "
            f"{float(theirs.shared):.3g}.",
            "A tie has two ends: give both sides the same figure.",
        )
    # Written so that rounding never makes it less than nothing.
    apart = (ours.relative_u - theirs.relative_u) ** 2
    return apart + 2.0 * (1.0 - ours.shared) * ours.relative_u * theirs.relative_u


def _by_name(parts: Sequence[Part]) -> dict[str, Part]:
    named: dict[str, Part] = {}
    for part in parts:
        checks.not_negative(part.relative_u, f"the uncertainty by {part.name}")
        checks.in_range(part.shared, -1.0, 1.0, f"the correlation of {part.name}")
        if part.name in named:
            raise RangeError(
                "The uncertainty of the ratio was not computed.",
                f"One side has two parts with the name {part.name}.",
                "Give each part a name of its own.",
            )
        named[part.name] = part
    return named


def _check_speeds(first_m_s: float, second_m_s: float) -> None:
    checks.positive(first_m_s, "the speed of the first station", "m/s")
    checks.positive(second_m_s, "the speed of the second station", "m/s")


def _check_differential(differential: float) -> None:
    checks.in_range(differential, -2.0, 2.0, "the differential")
