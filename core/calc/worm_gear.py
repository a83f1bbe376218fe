"""What a worm gear lets through, driven by its worm or by its load.

Rough checks, for boxes whose maker states nothing: lead angle and friction are seldom known well.
"""

import math

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "worm_back_efficiency",
    "worm_efficiency",
    "worm_locking_lead_rad",
]

PRESSURE_ANGLE_RAD = math.radians(20.0)


def worm_efficiency(
    lead_rad: float, friction: float, pressure_rad: float = PRESSURE_ANGLE_RAD
) -> float:
    r"""Efficiency of a worm gear that the worm drives.

    .. math:: \eta = \frac{\cos\varphi - \mu \tan\lambda}{\cos\varphi + \mu \cot\lambda}

    Parameters
    ----------
    lead_rad : float
        Lead angle of the worm [rad]
    friction : float
        Friction of worm on wheel while running, 0.03 to 0.08 [-]
    pressure_rad : float
        Normal pressure angle, 20 degrees as a rule [rad]

    Returns
    -------
    float
        Efficiency of the mesh [-]

    Raises
    ------
    RangeError
        Lead or pressure angle outside of 0 to 90 degrees, friction below zero, or so much of both
        that nothing would turn

    Notes
    -----
    A rough check only. The mesh alone, without bearings, seals and stirred oil. Cold, new and
    starting efficiency is lower than running.

    Examples
    --------
    >>> round(worm_efficiency(math.radians(5.0), 0.05), 3)
    0.619

    References
    ----------
    .. [1] Textbooks of machine elements, worm gears (seen in several)
    """
    _check_worm(lead_rad, friction, pressure_rad)
    flank = math.cos(pressure_rad)
    above = flank - friction * math.tan(lead_rad)
    if not above > 0.0:
        raise RangeError(
            "The efficiency of the worm gear was not computed.",
            "With so steep a worm and so much friction it would not turn.",
            "Check lead angle and friction.",
        )
    return above / (flank + friction / math.tan(lead_rad))


def worm_back_efficiency(
    lead_rad: float, friction: float, pressure_rad: float = PRESSURE_ANGLE_RAD
) -> float:
    r"""Efficiency of a worm gear that its load drives, as while stopping.

    .. math:: \eta' = \frac{\cos\varphi - \mu \cot\lambda}{\cos\varphi + \mu \tan\lambda}

    Parameters
    ----------
    lead_rad : float
        Lead angle of the worm [rad]
    friction : float
        Friction of worm on wheel [-]
    pressure_rad : float
        Normal pressure angle, 20 degrees as a rule [rad]

    Returns
    -------
    float
        Efficiency of the mesh; zero where it locks and no load can drive it back [-]

    Raises
    ------
    RangeError
        Lead or pressure angle outside of 0 to 90 degrees, or friction below zero

    Notes
    -----
    A rough check only. What is lost here helps to stop without a braking resistor. Never rely on a
    locking gear to hold a load above people: shaking lets it creep.

    Examples
    --------
    >>> worm_back_efficiency(math.radians(3.0), 0.08)
    0.0

    References
    ----------
    .. [1] Textbooks of machine elements, worm gears (seen in one)
    """
    _check_worm(lead_rad, friction, pressure_rad)
    flank = math.cos(pressure_rad)
    above = flank - friction / math.tan(lead_rad)
    return max(0.0, above / (flank + friction * math.tan(lead_rad)))


def worm_locking_lead_rad(friction: float, pressure_rad: float = PRESSURE_ANGLE_RAD) -> float:
    r"""Lead angle up to which a worm gear cannot be driven back.

    .. math:: \lambda = \arctan\frac{\mu}{\cos\varphi}

    Parameters
    ----------
    friction : float
        Friction of worm on wheel [-]
    pressure_rad : float
        Normal pressure angle, 20 degrees as a rule [rad]

    Returns
    -------
    float
        Lead angle [rad]

    Raises
    ------
    RangeError
        Friction below zero, or a pressure angle outside of 0 to 90 degrees

    Notes
    -----
    Nearly locking below it: such a box coasts to a stop hard. Shaking lets it creep.

    Examples
    --------
    >>> round(math.degrees(worm_locking_lead_rad(0.05)), 2)
    3.05

    References
    ----------
    .. [1] :func:`worm_back_efficiency` set to zero
    """
    checks.not_negative(friction, "the friction of the worm")
    checks.in_range(pressure_rad, 0.0, 1.5, "the pressure angle", "rad")
    return math.atan(friction / math.cos(pressure_rad))


def _check_worm(lead_rad: float, friction: float, pressure_rad: float) -> None:
    checks.positive(lead_rad, "the lead angle", "rad")
    checks.in_range(lead_rad, 0.0, 1.5, "the lead angle", "rad")
    checks.not_negative(friction, "the friction of the worm")
    checks.in_range(pressure_rad, 0.0, 1.5, "the pressure angle", "rad")
