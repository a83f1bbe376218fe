"""What it takes to move a belt: pull, power and torque.

Pulls of short fruit conveyors are rough: friction of real beds differs by half and more, and
skirts, scrapers and tight belts add to it. Compare with the motor's measured current.
"""

import math

from core.calc import checks, curves
from core.calc.drivetrain import pitch_radius_m

__all__ = [
    "GRAVITY_M_S2",
    "belt_power_w",
    "drum_torque_n_m",
    "idler_pull_n",
    "length_factor",
    "motor_power_w",
    "motor_torque_n_m",
    "pull_for_torque_n",
    "slider_pull_n",
]

GRAVITY_M_S2 = 9.80665
"""Standard gravity."""

# Belt on small rollers at its return, 0.05 to 0.10.
RETURN_FRICTION = 0.05

# DIN 22101: 0.018 to 0.030 by state of the idlers.
IDLER_FRICTION = 0.020


def slider_pull_n(
    load_kg_m: float,
    belt_kg_m: float,
    length_m: float,
    rise_m: float,
    bed_friction: float,
    return_friction: float = RETURN_FRICTION,
) -> float:
    r"""Pull at the drum of a belt that slides on a bed, with light goods on it.

    .. math:: F = g \left[\mu_s (m_L + m_B) L + \mu_r m_B L + m_L H\right]

    Parameters
    ----------
    load_kg_m : float
        Goods on one metre of belt [kg/m]
    belt_kg_m : float
        Mass of one metre of belt [kg/m]
    length_m : float
        Distance of the end drums [m]
    rise_m : float
        Height from tail to head; below zero downhill [m]
    bed_friction : float
        Friction of belt on bed: bare fabric on steel 0.20 to 0.25, friction-coated 0.30 to 0.35,
        on metal rollers 0.05 to 0.15 [-]
    return_friction : float
        Friction of the return run on its rollers [-]

    Returns
    -------
    float
        Pull; below zero where the load drives the belt [N]

    Raises
    ------
    RangeError
        A mass or friction is below zero, the length not above zero, or the rise more than the
        length

    Notes
    -----
    A rough check only, 30 to 50 % either way: friction moves with dirt, wax and water. Without
    scrapers, skirts, bends of the belt and bearings. Friction is taken on the length as if level,
    which is near enough up to some 20 degrees.

    Examples
    --------
    >>> round(slider_pull_n(12.0, 3.0, 6.0, 0.0, 0.3), 1)
    273.6
    >>> round(slider_pull_n(12.0, 3.0, 6.0, 1.2, 0.3), 1)
    414.8

    References
    ----------
    .. [1] Simplified from the split of resistances in DIN 22101 and ISO 5048 (from memory); ranges
       of friction seen in a belting formula sheet
    """
    checks.not_negative(load_kg_m, "the load on the belt", "kg/m")
    checks.not_negative(belt_kg_m, "the mass of the belt", "kg/m")
    checks.not_negative(bed_friction, "the friction of the bed")
    checks.not_negative(return_friction, "the friction of the return run")
    _check_slope(length_m, rise_m)
    bed = bed_friction * (load_kg_m + belt_kg_m) * length_m
    back = return_friction * belt_kg_m * length_m
    return GRAVITY_M_S2 * (bed + back + load_kg_m * rise_m)


def length_factor(length_m: float) -> float:
    """Factor by which the secondary resistances of a short belt raise its pull.

    Parameters
    ----------
    length_m : float
        Distance of the end drums, 3 to 100 m [m]

    Returns
    -------
    float
        Length factor C [-]

    Raises
    ------
    RangeError
        The length lies outside of the table

    Notes
    -----
    The standards take it as reliable above about 80 m only; for a fruit belt of 3 to 10 m it is an
    order of magnitude. Straight lines between the lengths of the table.

    Examples
    --------
    >>> length_factor(10.0), round(length_factor(7.0), 6)
    (4.5, 5.5)

    References
    ----------
    .. [1] DIN 22101 and ISO 5048, length factors (from memory)
    """
    points = curves.table_points("belt_length_factor", "length_m", "factor")
    checks.in_range(length_m, points[0][0], points[-1][0], "the length of the belt", "m")
    return curves.at(points, length_m)


def idler_pull_n(
    load_kg_m: float,
    belt_kg_m: float,
    roller_kg_m: float,
    length_m: float,
    rise_m: float,
    length_factor: float,
    friction: float = IDLER_FRICTION,
) -> float:
    r"""Pull at the drum of a belt that runs on idler rollers.

    .. math:: F = C f L g \left[m_R + (2 m_G + m_L) \cos\delta\right] + m_L g H

    Parameters
    ----------
    load_kg_m : float
        Goods on one metre of belt [kg/m]
    belt_kg_m : float
        Mass of one metre of belt [kg/m]
    roller_kg_m : float
        Turning mass of all rollers, both runs, for one metre of conveyor [kg/m]
    length_m : float
        Distance of the end drums [m]
    rise_m : float
        Height from tail to head; below zero downhill [m]
    length_factor : float
        Factor C, by :func:`length_factor` [-]
    friction : float
        Friction of the rollers, 0.018 to 0.030 [-]

    Returns
    -------
    float
        Pull; below zero where the load drives the belt [N]

    Raises
    ------
    RangeError
        A mass or the friction is below zero, the length not above zero, the rise more than the
        length, or the factor below 1

    Notes
    -----
    A rough check only: for short belts the length factor is an order of magnitude.

    Examples
    --------
    >>> round(idler_pull_n(12.0, 3.0, 5.0, 10.0, 0.0, 4.5), 1)
    203.0

    References
    ----------
    .. [1] DIN 22101 and ISO 5048 (from memory)
    """
    checks.not_negative(load_kg_m, "the load on the belt", "kg/m")
    checks.not_negative(belt_kg_m, "the mass of the belt", "kg/m")
    checks.not_negative(roller_kg_m, "the mass of the rollers", "kg/m")
    checks.not_negative(friction, "the friction of the rollers")
    checks.in_range(length_factor, 1.0, 20.0, "the length factor")
    _check_slope(length_m, rise_m)
    level = math.sqrt(1.0 - (rise_m / length_m) ** 2)
    moved_kg_m = roller_kg_m + (2.0 * belt_kg_m + load_kg_m) * level
    along = length_factor * friction * length_m * moved_kg_m
    return GRAVITY_M_S2 * (along + load_kg_m * rise_m)


def belt_power_w(pull_n: float, speed_m_s: float) -> float:
    r"""Power at the drum.

    .. math:: P = F\,v

    Parameters
    ----------
    pull_n : float
        Pull of belt or chain [N]
    speed_m_s : float
        Its speed, as a magnitude [m/s]

    Returns
    -------
    float
        Power; below zero where the load drives [W]

    Raises
    ------
    RangeError
        The pull is no finite number, or the speed below zero

    Examples
    --------
    >>> round(belt_power_w(273.6, 0.4), 6)
    109.44

    References
    ----------
    .. [1] Definition of power
    """
    checks.finite(pull_n, "the pull", "N")
    checks.not_negative(speed_m_s, "the speed", "m/s")
    return pull_n * speed_m_s


def motor_power_w(pull_n: float, speed_m_s: float, efficiency: float) -> float:
    r"""Shaft power that the motor gives to move a belt.

    .. math:: P_M = \frac{F\,v}{\eta}

    Parameters
    ----------
    pull_n : float
        Pull of belt or chain [N]
    speed_m_s : float
        Its speed, as a magnitude [m/s]
    efficiency : float
        Efficiency of gearbox and chains together [-]

    Returns
    -------
    float
        Shaft power [W]

    Raises
    ------
    RangeError
        Pull or speed below zero, or efficiency outside of 0 to 1

    Notes
    -----
    An estimate. For a load that drives the motor, losses count the other way and this does not
    hold; it is refused.

    Examples
    --------
    >>> round(motor_power_w(273.6, 0.4, 0.65), 1)
    168.4

    References
    ----------
    .. [1] Definition of efficiency
    """
    checks.not_negative(pull_n, "the pull", "N")
    checks.ratio(efficiency, "the efficiency", zero=False)
    return belt_power_w(pull_n, speed_m_s) / efficiency


def drum_torque_n_m(pull_n: float, diameter_m: float, belt_thickness_m: float = 0.0) -> float:
    r"""Torque at the shaft of the driven drum or sprocket.

    .. math:: T = F \, \frac{D + t}{2}

    Parameters
    ----------
    pull_n : float
        Pull of belt or chain [N]
    diameter_m : float
        Diameter of the drum, or pitch diameter of the sprocket [m]
    belt_thickness_m : float
        Thickness of the belt; 0 for a chain [m]

    Returns
    -------
    float
        Torque, with the sign of the pull [N m]

    Raises
    ------
    RangeError
        The pull is no finite number, or a size that the pitch radius refuses

    Examples
    --------
    >>> round(drum_torque_n_m(150.0, 0.08), 9)
    6.0

    References
    ----------
    .. [1] Definition of torque
    """
    checks.finite(pull_n, "the pull", "N")
    return pull_n * pitch_radius_m(diameter_m, belt_thickness_m)


def motor_torque_n_m(drum_torque_n_m: float, ratio: float, efficiency: float) -> float:
    r"""Torque at the motor for a torque at the drum.

    .. math:: T_M = \frac{T}{i\,\eta}

    Parameters
    ----------
    drum_torque_n_m : float
        Torque at the drum's shaft [N m]
    ratio : float
        Total ratio, motor turns for one turn of the drum [-]
    efficiency : float
        Efficiency of gearbox and chains together [-]

    Returns
    -------
    float
        Torque at the motor [N m]

    Raises
    ------
    RangeError
        The torque is below zero, the ratio not above zero, or the efficiency outside of 0 to 1

    Notes
    -----
    While running. A worm gear starts at a lower efficiency, cold or new lower still.

    Examples
    --------
    >>> round(motor_torque_n_m(6.0, 60.0, 0.55), 4)
    0.1818

    References
    ----------
    .. [1] Definition of efficiency
    """
    checks.not_negative(drum_torque_n_m, "the torque at the drum", "N·m")
    checks.positive(ratio, "the total ratio")
    checks.ratio(efficiency, "the efficiency", zero=False)
    return drum_torque_n_m / (ratio * efficiency)


def pull_for_torque_n(
    motor_torque_n_m: float, ratio: float, efficiency: float, pitch_radius_m: float
) -> float:
    r"""Pull that a torque of the motor makes at the belt: what the measured current tells.

    .. math:: F = \frac{T_M\,i\,\eta}{r}

    Parameters
    ----------
    motor_torque_n_m : float
        Torque at the motor [N m]
    ratio : float
        Total ratio, motor turns for one turn of the drum [-]
    efficiency : float
        Efficiency of gearbox and chains together [-]
    pitch_radius_m : float
        Radius at which the belt runs on the drum [m]

    Returns
    -------
    float
        Pull [N]

    Raises
    ------
    RangeError
        The torque is below zero, ratio or radius not above zero, or efficiency outside of 0 to 1

    Examples
    --------
    >>> round(pull_for_torque_n(0.181818, 60.0, 0.55, 0.04), 1)
    150.0

    References
    ----------
    .. [1] :func:`motor_torque_n_m` and :func:`drum_torque_n_m` turned round
    """
    checks.not_negative(motor_torque_n_m, "the torque at the motor", "N·m")
    checks.positive(ratio, "the total ratio")
    checks.ratio(efficiency, "the efficiency", zero=False)
    checks.positive(pitch_radius_m, "the pitch radius", "m")
    return motor_torque_n_m * ratio * efficiency / pitch_radius_m


def _check_slope(length_m: float, rise_m: float) -> None:
    checks.positive(length_m, "the length of the belt", "m")
    checks.in_range(rise_m, -length_m, length_m, "the rise", "m")
