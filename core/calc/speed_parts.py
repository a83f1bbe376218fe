"""What makes the surface speed of a station unsure, each cause as a part relative to the speed."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from core.calc import checks, uncertainty
from core.errors import RangeError

__all__ = [
    "Part",
    "diameter_part",
    "half_width_to_u",
    "slip_part",
    "speed_part",
    "wear_part",
]

_SHAPES: dict[str, Callable[[float], float]] = {
    "rectangular": uncertainty.standard_from_limits,
    "triangular": uncertainty.standard_from_triangle,
    "normal k=2": uncertainty.standard_from_expanded,
}


@dataclass(frozen=True, slots=True)
class Part:
    """One cause that makes a surface speed unsure.

    >>> Part("signal", 0.01, shared=True).relative_u
    0.01
    """

    name: str
    relative_u: float
    """Relative standard uncertainty of the speed that it causes [-]"""
    shared: float = 0.0
    """Correlation with the part of this name on the other side; True or 1: one error for both."""


def half_width_to_u(half_width: float, shape: str = "rectangular") -> float:
    r"""Standard uncertainty of a value from its limits, by how it is spread between them.

    .. math:: u = \frac{a}{\sqrt 3}, \quad \frac{a}{\sqrt 6} \quad \text{or} \quad \frac{a}{2}

    Parameters
    ----------
    half_width : float
        Half the distance between the limits, *a* [any unit]
    shape : str
        ``rectangular``, ``triangular``, or ``normal k=2`` for a stated expanded uncertainty [-]

    Returns
    -------
    float
        Standard uncertainty [the same unit]

    Raises
    ------
    RangeError
        Half width below zero or no number, or another shape

    Examples
    --------
    >>> half_width_to_u(0.01, "normal k=2")
    0.005

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.3, 4.3.7, 4.3.9
    """
    if shape not in _SHAPES:
        raise RangeError(
            "The limits were not used.",
            f"{shape!r} is no spread between limits that is known.",
            f"Choose one of: {', '.join(_SHAPES)}.",
        )
    return _SHAPES[shape](half_width)


def speed_part(
    frequency_u_hz: float,
    frequency_hz: float,
    name: str = "frequency",
    slip_hz: float = 0.0,
    shared: float = 0.0,
) -> Part:
    r"""Part of a frequency that is not sure: knob, signal, step, input of the drive.

    .. math:: \frac{u(v)}{v} = \frac{u(f)}{f - f_s}

    Parameters
    ----------
    frequency_u_hz : float
        Standard uncertainty of the frequency [Hz]
    frequency_hz : float
        Output frequency, *f* [Hz]
    name : str
        What makes it unsure, for the budget [-]
    slip_hz : float
        Frequency that the slip takes, :math:`f_s`; zero overlooks it [Hz]
    shared : float
        Correlation with the part of this name on the other side [-]

    Returns
    -------
    Part
        Part of a budget, relative to the speed [-]

    Raises
    ------
    RangeError
        Uncertainty or slip below zero, frequency not above the slip, or correlation outside of -1
        to 1

    Notes
    -----
    The error of a knob is one of its travel: in hertz it is the same at any speed, so a slow
    station is the less sure one.

    Examples
    --------
    >>> speed_part(0.6, 32.0, "knob", slip_hz=2.0).relative_u
    0.02

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.2; speed of a motor as in :mod:`core.calc.motor`
    """
    checks.not_negative(frequency_u_hz, "the uncertainty of the frequency", "Hz")
    checks.not_negative(slip_hz, "the frequency of the slip", "Hz")
    checks.finite(frequency_hz, "the frequency", "Hz")
    turning_hz = frequency_hz - slip_hz
    if not turning_hz > 0.0:
        raise RangeError(
            "The uncertainty of the speed was not computed.",
            f"At {frequency_hz:.4g} Hz with {slip_hz:.4g} Hz of slip the motor stands.",
            "Give a frequency at which it turns.",
        )
    return _part(name, frequency_u_hz / turning_hz, shared)


def slip_part(
    load_swing: float,
    rated_slip_rad_s: float,
    motor_speed_rad_s: float,
    shared: float = 0.0,
) -> Part:
    r"""Part of a load that swings: slip follows torque.

    .. math:: \frac{u(v)}{v} = \frac{1}{\sqrt 3} \, \frac{a_m \, \Delta\omega_N}{\omega}

    Parameters
    ----------
    load_swing : float
        How far the torque lies from what was reckoned with, either side, as a share of rated
        torque, :math:`a_m` [-]
    rated_slip_rad_s : float
        Rated slip as a speed, :math:`\Delta\omega_N` [rad/s]
    motor_speed_rad_s : float
        Speed of the motor, :math:`\omega` [rad/s]
    shared : float
        Correlation with the slip of the other side [-]

    Returns
    -------
    Part
        Part ``slip`` of a budget, relative to the speed [-]

    Raises
    ------
    RangeError
        Swing outside of 0 to 2, slip below zero, speed not above zero, or correlation outside of
        -1 to 1

    Notes
    -----
    For voltage in proportion to frequency. A drive that compensates slip leaves a part of it: give
    that part as the slip. Wet and dry fruit, cold grease and a filling bed are such swings; where
    the same fruit loads both stations they share some of it.

    Examples
    --------
    >>> round(slip_part(0.3, 60.0, 1200.0).relative_u, 5)
    0.00866

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7; slip in proportion to torque as in :mod:`core.calc.motor`
    """
    checks.in_range(load_swing, 0.0, 2.0, "the swing of the load")
    checks.not_negative(rated_slip_rad_s, "the rated slip", "rad/s")
    checks.positive(motor_speed_rad_s, "the motor's speed", "rad/s")
    half_width = load_swing * rated_slip_rad_s / motor_speed_rad_s
    return _part("slip", half_width_to_u(half_width), shared)


def diameter_part(within_m: float, diameter_m: float, shared: float = 0.0) -> Part:
    r"""Part of a drum or brush whose diameter is known within limits.

    .. math:: \frac{u(v)}{v} = \frac{a_D}{\sqrt 3 \, D}

    Parameters
    ----------
    within_m : float
        Limits of the diameter, either side, :math:`a_D` [m]
    diameter_m : float
        Diameter as reckoned with, *D* [m]
    shared : float
        Correlation with the diameter of the other side, as of drums from one batch [-]

    Returns
    -------
    Part
        Part ``diameter`` of a budget, relative to the speed [-]

    Raises
    ------
    RangeError
        Limits below zero, diameter not above zero or not above its limits, or correlation outside
        of -1 to 1

    Examples
    --------
    >>> round(diameter_part(0.001, 0.1).relative_u, 5)
    0.00577

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7
    """
    share = _share_of_diameter(within_m, diameter_m, "the limits of the diameter")
    return _part("diameter", half_width_to_u(share), shared)


def wear_part(wear_m: float, diameter_m: float, shared: float = 0.0) -> Part:
    r"""Part of wear that nobody has measured: it only ever makes the diameter smaller.

    .. math:: \frac{u(v)}{v} = \sqrt{\frac{w^2}{12} + \frac{w^2}{4}} \, \frac{1}{D}
        = \frac{w}{\sqrt 3 \, D}

    Parameters
    ----------
    wear_m : float
        Most that the diameter may have lost, *w* [m]
    diameter_m : float
        Diameter as reckoned with, that of the new surface, *D* [m]
    shared : float
        Correlation with the wear of the other side: near 1 where both were fitted on one day and
        wear alike [-]

    Returns
    -------
    Part
        Part ``wear`` of a budget, relative to the speed [-]

    Raises
    ------
    RangeError
        Wear below zero, diameter not above zero or not above its wear, or correlation outside of
        -1 to 1

    Notes
    -----
    Anything from none to all of the wear is as likely. The speed is still reckoned with the new
    diameter, so half of the wear stays in it as a bias, and counts beside the spread. Measure the
    diameter, correct the speed, and only the limits of that measurement are left.

    Examples
    --------
    >>> round(wear_part(0.006, 0.12).relative_u, 5)
    0.02887

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), F.2.4.5, for a correction that is known and not made
    """
    share = _share_of_diameter(wear_m, diameter_m, "the wear")
    spread, bias = half_width_to_u(0.5 * share), 0.5 * share
    return _part("wear", math.hypot(spread, bias), shared)


def _part(name: str, relative_u: float, shared: float) -> Part:
    checks.in_range(shared, -1.0, 1.0, f"the correlation of {name}")
    return Part(name, relative_u, shared)


def _share_of_diameter(width_m: float, diameter_m: float, name: str) -> float:
    checks.not_negative(width_m, name, "m")
    checks.positive(diameter_m, "the diameter", "m")
    share = width_m / diameter_m
    if not share < 1.0:
        raise RangeError(
            "The uncertainty of the speed was not computed.",
            f"The diameter is {diameter_m:.4g} m, {name} {width_m:.4g} m: nothing would be left.",
            "Correct one of the two.",
        )
    return share
