"""From the motor shaft to the fruit: gears, chains, drums and conveyor chains.

Speeds may be negative: a roller in reverse moves its surface the other way.
"""

import math

from core.calc import checks

__all__ = [
    "chain_speed_m_s",
    "chordal_variation",
    "motor_speed_rad_s",
    "pitch_radius_m",
    "shaft_speed_for_chain_rad_s",
    "shaft_speed_for_surface_rad_s",
    "shaft_speed_rad_s",
    "sprocket_pitch_diameter_m",
    "surface_speed_m_s",
    "total_ratio",
]

TEETH_MIN, TEETH_MAX = 3, 1000


def total_ratio(gear_ratio: float, driver_teeth: float = 1.0, driven_teeth: float = 1.0) -> float:
    r"""Motor turns for one turn of the last shaft.

    .. math:: i = i_{gear} \, \frac{z_{driven}}{z_{driver}}

    Parameters
    ----------
    gear_ratio : float
        Motor turns for one turn of the gearbox's shaft; 1 without gearbox [-]
    driver_teeth : float
        Teeth of the driving sprocket, or any measure that both share, such as pitch diameter [-]
    driven_teeth : float
        Teeth of the driven sprocket, measured likewise [-]

    Returns
    -------
    float
        Total ratio [-]

    Raises
    ------
    RangeError
        A value is not above zero

    Notes
    -----
    No slip: true of gears, chains and toothed belts; a V-belt loses a per cent or so (from memory).

    Examples
    --------
    >>> total_ratio(60.0, 15, 36)
    144.0

    References
    ----------
    .. [1] Kinematics of gear and chain drives, common practice
    """
    checks.positive(gear_ratio, "the gear ratio")
    checks.positive(driver_teeth, "the number of teeth of the driving sprocket")
    checks.positive(driven_teeth, "the number of teeth of the driven sprocket")
    return gear_ratio * driven_teeth / driver_teeth


def shaft_speed_rad_s(motor_speed_rad_s: float, ratio: float) -> float:
    r"""Speed of the last shaft from the motor's speed.

    .. math:: \omega_{shaft} = \omega_{motor} / i

    Parameters
    ----------
    motor_speed_rad_s : float
        Speed of the motor shaft [rad/s]
    ratio : float
        Total ratio, motor turns for one turn of the shaft [-]

    Returns
    -------
    float
        Speed of the shaft [rad/s]

    Raises
    ------
    RangeError
        The ratio is not above zero, or the speed is no finite number

    Examples
    --------
    >>> round(shaft_speed_rad_s(144.0, 144.0), 9)
    1.0

    References
    ----------
    .. [1] Kinematics of gear and chain drives, common practice
    """
    checks.finite(motor_speed_rad_s, "the motor speed", "rad/s")
    checks.positive(ratio, "the total ratio")
    return motor_speed_rad_s / ratio


def motor_speed_rad_s(shaft_speed_rad_s: float, ratio: float) -> float:
    r"""Speed of the motor that gives the last shaft its speed.

    .. math:: \omega_{motor} = i \, \omega_{shaft}

    Parameters
    ----------
    shaft_speed_rad_s : float
        Speed of the last shaft [rad/s]
    ratio : float
        Total ratio, motor turns for one turn of the shaft [-]

    Returns
    -------
    float
        Speed of the motor shaft [rad/s]

    Raises
    ------
    RangeError
        The ratio is not above zero, or the speed is no finite number

    Examples
    --------
    >>> motor_speed_rad_s(1.5, 20.0)
    30.0

    References
    ----------
    .. [1] Kinematics of gear and chain drives, common practice
    """
    checks.finite(shaft_speed_rad_s, "the shaft speed", "rad/s")
    checks.positive(ratio, "the total ratio")
    return shaft_speed_rad_s * ratio


def pitch_radius_m(diameter_m: float, belt_thickness_m: float = 0.0) -> float:
    r"""Radius at which a belt keeps its length on a drum: half of its thickness above the drum.

    .. math:: r = \frac{D + t}{2}

    Parameters
    ----------
    diameter_m : float
        Outer diameter of drum, roller, brush or flat pulley [m]
    belt_thickness_m : float
        Thickness of the belt on it; 0 where the fruit lies on the roller itself [m]

    Returns
    -------
    float
        Pitch radius [m]

    Raises
    ------
    RangeError
        The diameter is not above zero, or the belt is thicker than the drum or thinner than 0

    Notes
    -----
    For a plain belt whose neutral line is its middle. A belt with one hard tension layer has its
    pitch line there.

    Examples
    --------
    >>> round(pitch_radius_m(0.080, 0.003), 6)
    0.0415

    References
    ----------
    .. [1] Geometry of flat belts, common practice
    """
    checks.positive(diameter_m, "the diameter", "m")
    checks.in_range(belt_thickness_m, 0.0, diameter_m, "the belt thickness", "m")
    return (diameter_m + belt_thickness_m) / 2.0


def surface_speed_m_s(
    shaft_speed_rad_s: float, diameter_m: float, belt_thickness_m: float = 0.0
) -> float:
    r"""Speed of a belt on its drum, or of a roller's or brush's own surface.

    .. math:: v = \omega \, \frac{D + t}{2}

    Parameters
    ----------
    shaft_speed_rad_s : float
        Speed of the drum's shaft [rad/s]
    diameter_m : float
        Outer diameter of drum, roller or brush [m]
    belt_thickness_m : float
        Thickness of the belt; 0 without belt [m]

    Returns
    -------
    float
        Surface speed, with the sign of the shaft speed [m/s]

    Raises
    ------
    RangeError
        The shaft speed is no finite number, or a size that :func:`pitch_radius_m` refuses

    Notes
    -----
    Without slip between drum and belt. A worn brush or drum is smaller than its drawing.

    Examples
    --------
    >>> round(surface_speed_m_s(10.0, 0.080, 0.003), 6)
    0.415

    References
    ----------
    .. [1] Geometry of flat belts, common practice
    """
    checks.finite(shaft_speed_rad_s, "the shaft speed", "rad/s")
    return shaft_speed_rad_s * pitch_radius_m(diameter_m, belt_thickness_m)


def shaft_speed_for_surface_rad_s(
    surface_speed_m_s: float, diameter_m: float, belt_thickness_m: float = 0.0
) -> float:
    r"""Shaft speed for a wanted surface speed: :func:`surface_speed_m_s` turned round.

    .. math:: \omega = \frac{2 v}{D + t}

    Parameters
    ----------
    surface_speed_m_s : float
        Wanted surface speed [m/s]
    diameter_m : float
        Outer diameter of drum, roller or brush [m]
    belt_thickness_m : float
        Thickness of the belt; 0 without belt [m]

    Returns
    -------
    float
        Speed of the drum's shaft [rad/s]

    Raises
    ------
    RangeError
        The surface speed is no finite number, or a size that :func:`pitch_radius_m` refuses

    Examples
    --------
    >>> round(shaft_speed_for_surface_rad_s(0.415, 0.080, 0.003), 6)
    10.0

    References
    ----------
    .. [1] Geometry of flat belts, common practice
    """
    checks.finite(surface_speed_m_s, "the surface speed", "m/s")
    return surface_speed_m_s / pitch_radius_m(diameter_m, belt_thickness_m)


def chain_speed_m_s(shaft_speed_rad_s: float, teeth: int, pitch_m: float) -> float:
    r"""Mean speed of a conveyor chain: each turn lays down one pitch per tooth.

    .. math:: \bar{v} = z \, p \, n = \frac{z \, p \, \omega}{2 \pi}

    Parameters
    ----------
    shaft_speed_rad_s : float
        Speed of the conveyor sprocket's shaft [rad/s]
    teeth : int
        Teeth of the conveyor sprocket [-]
    pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Mean chain speed, with the sign of the shaft speed [m/s]

    Raises
    ------
    RangeError
        The shaft speed is no finite number, fewer than 3 teeth, or a pitch not above zero

    Notes
    -----
    For a sprocket that takes one link per tooth. Within each tooth the speed swings by
    :func:`chordal_variation`. A worn chain has a longer pitch.

    Examples
    --------
    >>> round(chain_speed_m_s(2 * math.pi, 10, 0.0381), 6)
    0.381

    References
    ----------
    .. [1] Geometry of roller chains as in ASME B29.1 and ISO 606 (from memory)
    """
    checks.finite(shaft_speed_rad_s, "the shaft speed", "rad/s")
    return shaft_speed_rad_s * _advance_m_per_rad(teeth, pitch_m)


def shaft_speed_for_chain_rad_s(chain_speed_m_s: float, teeth: int, pitch_m: float) -> float:
    r"""Shaft speed for a wanted mean chain speed: :func:`chain_speed_m_s` turned round.

    .. math:: \omega = \frac{2 \pi \bar{v}}{z \, p}

    Parameters
    ----------
    chain_speed_m_s : float
        Wanted mean chain speed [m/s]
    teeth : int
        Teeth of the conveyor sprocket [-]
    pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Speed of the conveyor sprocket's shaft [rad/s]

    Raises
    ------
    RangeError
        The chain speed is no finite number, fewer than 3 teeth, or a pitch not above zero

    Examples
    --------
    >>> round(shaft_speed_for_chain_rad_s(0.381, 10, 0.0381) / (2 * math.pi), 6)
    1.0

    References
    ----------
    .. [1] Geometry of roller chains as in ASME B29.1 and ISO 606 (from memory)
    """
    checks.finite(chain_speed_m_s, "the chain speed", "m/s")
    return chain_speed_m_s / _advance_m_per_rad(teeth, pitch_m)


def sprocket_pitch_diameter_m(teeth: int, pitch_m: float) -> float:
    r"""Diameter of the circle on which the pins of a chain lie on their sprocket.

    .. math:: D = \frac{p}{\sin(\pi / z)}

    Parameters
    ----------
    teeth : int
        Teeth of the sprocket [-]
    pitch_m : float
        Pitch of the chain [m]

    Returns
    -------
    float
        Pitch diameter [m]

    Raises
    ------
    RangeError
        Fewer than 3 teeth, or a pitch not above zero

    Examples
    --------
    >>> round(sprocket_pitch_diameter_m(6, 0.05), 6)
    0.1

    References
    ----------
    .. [1] Geometry of roller chains as in ASME B29.1 and ISO 606 (from memory)
    """
    _check_sprocket(teeth, pitch_m)
    return pitch_m / math.sin(math.pi / teeth)


def chordal_variation(teeth: int) -> float:
    r"""How much a chain's speed swings with each tooth, as a share of its highest speed.

    .. math:: \frac{v_{max} - v_{min}}{v_{max}} = 1 - \cos\frac{\pi}{z}

    Parameters
    ----------
    teeth : int
        Teeth of the conveyor sprocket [-]

    Returns
    -------
    float
        Variation of speed [-]

    Raises
    ------
    RangeError
        Fewer than 3 teeth

    Notes
    -----
    The links lie as a polygon on the sprocket and pull at its corners (highest speed) and at its
    flats (lowest speed) in turn, while the shaft turns evenly.

    Examples
    --------
    >>> round(chordal_variation(12), 4)
    0.0341

    References
    ----------
    .. [1] Chordal action of roller chains, standard chain geometry (from memory)
    """
    checks.whole(teeth, TEETH_MIN, TEETH_MAX, "the number of teeth")
    return 1.0 - math.cos(math.pi / teeth)


def _check_sprocket(teeth: int, pitch_m: float) -> None:
    checks.whole(teeth, TEETH_MIN, TEETH_MAX, "the number of teeth")
    checks.positive(pitch_m, "the chain pitch", "m")


def _advance_m_per_rad(teeth: int, pitch_m: float) -> float:
    _check_sprocket(teeth, pitch_m)
    return teeth * pitch_m / (2.0 * math.pi)
