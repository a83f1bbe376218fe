"""Dump tank and flume: water speed, what it carries, and how fruit rises in it.

Water is taken as fresh and cold. Speeds are means over the section; at walls, bends and under a
raft of fruit water is slower. The pump that drives it, :mod:`core.calc.pump`, is reached from here
as well; where it has to lift water too, see :mod:`core.calc.pump_curve`.
"""

import math

from core.calc import checks
from core.calc.conveying import GRAVITY_M_S2
from core.calc.pump import (
    WATER_KG_M3,
    hydraulic_power_w,
    pump_flow_m3_s,
    pump_head_m,
    pump_power_w,
    shaft_power_w,
    speed_for_flow_rad_s,
)
from core.calc.spacing import speed_for_cover_m_s, wide_rate_1_s
from core.calc.throughput import bins_rate_1_s
from core.errors import RangeError

__all__ = [
    "bins_carried_1_s",
    "flow_for_velocity_m3_s",
    "flume_velocity_m_s",
    "froude",
    "fruit_carried_1_s",
    "hydraulic_power_w",
    "manning_velocity_m_s",
    "orifice_flow_m3_s",
    "pump_flow_m3_s",
    "pump_head_m",
    "pump_power_w",
    "rise_speed_m_s",
    "shaft_power_w",
    "speed_for_flow_rad_s",
    "surfacing_length_m",
    "velocity_for_fruit_m_s",
]

# Sharp-edged round hole, 0.61 to 0.62 (from memory).
DISCHARGE = 0.62

# Fits the published rise of five lots of apples within 5 %. Smooth spheres held in a stream have
# 0.4 to 0.5; light spheres that rise freely zigzag, and have about 0.95 (Karamanev and Nikolov
# 1992, from memory).
RISE_DRAG = 0.85


def flume_velocity_m_s(flow_m3_s: float, width_m: float, depth_m: float) -> float:
    r"""Mean speed of the water in a flume.

    .. math:: V = \frac{Q}{b\,y}

    Parameters
    ----------
    flow_m3_s : float
        Flow of water [m3/s]
    width_m : float
        Width of the flume [m]
    depth_m : float
        Depth of the water [m]

    Returns
    -------
    float
        Mean water speed [m/s]

    Raises
    ------
    RangeError
        The flow is below zero, or width or depth not above zero

    Notes
    -----
    Exact as a mean over a rectangular section. With fruit in it less section is left and the depth
    rises. Time a floating fruit over 3 m to check: the surface in mid-stream is faster than the
    mean by a tenth or two (from memory).

    Examples
    --------
    >>> round(flume_velocity_m_s(60.0 / 3600.0, 0.5, 0.2), 4)
    0.1667

    References
    ----------
    .. [1] Continuity
    """
    checks.not_negative(flow_m3_s, "the flow of water", "m³/s")
    return flow_m3_s / _section_m2(width_m, depth_m)


def flow_for_velocity_m3_s(velocity_m_s: float, width_m: float, depth_m: float) -> float:
    r"""Flow for a wanted water speed: :func:`flume_velocity_m_s` turned round.

    .. math:: Q = V\,b\,y

    Parameters
    ----------
    velocity_m_s : float
        Wanted mean water speed [m/s]
    width_m : float
        Width of the flume [m]
    depth_m : float
        Depth of the water [m]

    Returns
    -------
    float
        Flow of water [m3/s]

    Raises
    ------
    RangeError
        The speed is below zero, or width or depth not above zero

    Notes
    -----
    The depth must stay as it is: a weir or the level of the tank holds it, not the pump.

    Examples
    --------
    >>> round(3600.0 * flow_for_velocity_m3_s(0.2, 0.5, 0.2), 6)
    72.0

    References
    ----------
    .. [1] Continuity
    """
    checks.not_negative(velocity_m_s, "the water speed", "m/s")
    return velocity_m_s * _section_m2(width_m, depth_m)


def froude(velocity_m_s: float, depth_m: float) -> float:
    r"""Froude number of water in a flume: its speed by that of a wave on it.

    .. math:: Fr = \frac{V}{\sqrt{g\,y}}

    Parameters
    ----------
    velocity_m_s : float
        Mean water speed [m/s]
    depth_m : float
        Depth of the water [m]

    Returns
    -------
    float
        Froude number; below 1 the flow is tranquil [-]

    Raises
    ------
    RangeError
        The speed is below zero, or the depth not above zero

    Notes
    -----
    Near 1 the surface stands in waves, and beyond it water that slows down does so in a jump.
    Flumes for fruit run near 0.1.

    Examples
    --------
    >>> round(froude(1.0 / 6.0, 0.2), 3)
    0.119

    References
    ----------
    .. [1] Textbooks of open-channel flow
    """
    checks.not_negative(velocity_m_s, "the water speed", "m/s")
    checks.positive(depth_m, "the depth of the water", "m")
    return velocity_m_s / math.sqrt(GRAVITY_M_S2 * depth_m)


def manning_velocity_m_s(width_m: float, depth_m: float, slope: float, roughness: float) -> float:
    r"""Speed that water takes by itself down an even slope, in a rectangular flume.

    .. math:: V = \frac{1}{n} R^{2/3} S^{1/2}, \qquad R = \frac{b\,y}{b + 2 y}

    Parameters
    ----------
    width_m : float
        Width of the flume [m]
    depth_m : float
        Depth of the water [m]
    slope : float
        Fall by length [-]
    roughness : float
        Manning's roughness *n*; 0.010 to 0.013 for smooth steel or plastic [s/m^(1/3)]

    Returns
    -------
    float
        Mean water speed [m/s]

    Raises
    ------
    RangeError
        A size, slope or roughness is not above zero

    Notes
    -----
    A rough check only. For a long even flume where depth has settled; in a short one the pump's
    flow and the outlet set depth and speed, by :func:`flume_velocity_m_s`.

    Examples
    --------
    >>> round(manning_velocity_m_s(5.0, 0.8, 0.0025, 0.015), 3)
    2.387

    References
    ----------
    .. [1] Manning's formula in metric units; roughness from memory
    """
    checks.positive(slope, "the slope")
    checks.positive(roughness, "the roughness")
    radius_m = _section_m2(width_m, depth_m) / (width_m + 2.0 * depth_m)
    return math.cbrt(radius_m) ** 2 * math.sqrt(slope) / roughness


def orifice_flow_m3_s(diameter_m: float, head_m: float, discharge: float = DISCHARGE) -> float:
    r"""Flow through a round hole under a head of water.

    .. math:: Q = C_d \frac{\pi d^2}{4} \sqrt{2 g h}

    Parameters
    ----------
    diameter_m : float
        Diameter of the hole [m]
    head_m : float
        Head above the middle of the hole [m]
    discharge : float
        Discharge coefficient; 0.61 to 0.62 for a sharp edge, more for a rounded one [-]

    Returns
    -------
    float
        Flow of water [m3/s]

    Raises
    ------
    RangeError
        Diameter not above zero, head below zero, or a coefficient outside of 0 to 1

    Notes
    -----
    A rough check only. For a hole small against its head that pours freely. A spray nozzle's own
    data come first.

    Examples
    --------
    >>> round(3600.0 * orifice_flow_m3_s(0.050, 1.5), 2)
    23.77

    References
    ----------
    .. [1] Torricelli; discharge coefficient from memory
    """
    checks.positive(diameter_m, "the diameter of the hole", "m")
    checks.not_negative(head_m, "the head", "m")
    checks.ratio(discharge, "the discharge coefficient", zero=False)
    return discharge * math.pi * diameter_m**2 / 4.0 * math.sqrt(2.0 * GRAVITY_M_S2 * head_m)


def fruit_carried_1_s(
    velocity_m_s: float, width_m: float, diameter_m: float, cover_share: float
) -> float:
    r"""Floating fruit that a flume carries past.

    .. math:: q = \frac{V\,b\,c}{D^2}

    Parameters
    ----------
    velocity_m_s : float
        Speed of the fruit, taken as that of the water [m/s]
    width_m : float
        Width of the flume [m]
    diameter_m : float
        Diameter of the fruit [m]
    cover_share : float
        Share of the places that carry a fruit, a place being a square as wide as a fruit [-]

    Returns
    -------
    float
        Fruit carried [1/s]

    Raises
    ------
    RangeError
        Speed below zero, width or diameter not above zero, fruit wider than the flume, or a share
        outside of 0 to 1

    Notes
    -----
    One layer that floats freely. A raft that fills the flume from wall to wall drags and bridges:
    its speed is lower than that of the water.

    Examples
    --------
    >>> round(fruit_carried_1_s(0.1, 0.5, 0.1, 0.4), 9)
    2.0

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(velocity_m_s, "the water speed", "m/s")
    checks.positive(width_m, "the width of the flume", "m")
    return wide_rate_1_s(velocity_m_s, width_m, diameter_m, cover_share)


def velocity_for_fruit_m_s(
    flow_1_s: float, width_m: float, diameter_m: float, cover_share: float
) -> float:
    r"""Water speed that carries a flow of fruit away: :func:`fruit_carried_1_s` turned round.

    .. math:: V = \frac{q\,D^2}{b\,c}

    Parameters
    ----------
    flow_1_s : float
        Fruit to be carried [1/s]
    width_m : float
        Width of the flume [m]
    diameter_m : float
        Diameter of the fruit [m]
    cover_share : float
        Share of the places that carry a fruit at most [-]

    Returns
    -------
    float
        Water speed [m/s]

    Raises
    ------
    RangeError
        Flow below zero, width or diameter not above zero, fruit wider than the flume, or a share
        outside of 0 to 1 or zero

    Notes
    -----
    As for :func:`fruit_carried_1_s`.

    Examples
    --------
    >>> round(velocity_for_fruit_m_s(2.0, 0.5, 0.1, 0.4), 9)
    0.1

    References
    ----------
    .. [1] Counting
    """
    checks.not_negative(flow_1_s, "the fruit to be carried", "1/s")
    checks.positive(width_m, "the width of the flume", "m")
    return speed_for_cover_m_s(flow_1_s, width_m, diameter_m, cover_share)


def bins_carried_1_s(flow_1_s: float, fruit_mass_kg: float, bin_mass_kg: float) -> float:
    r"""Bins whose fruit a flume carries away.

    .. math:: b = \frac{q\,m}{M}

    Parameters
    ----------
    flow_1_s : float
        Fruit carried, by :func:`fruit_carried_1_s` [1/s]
    fruit_mass_kg : float
        Mean mass of one fruit [kg]
    bin_mass_kg : float
        Net mass of fruit in a bin [kg]

    Returns
    -------
    float
        Bins [1/s]

    Raises
    ------
    RangeError
        The flow is below zero, or a mass not above zero

    Notes
    -----
    What the water could take; how fast bins are tipped and fruit spreads may be less.

    Examples
    --------
    >>> round(3600.0 * bins_carried_1_s(6.0, 0.1, 360.0), 9)
    6.0

    References
    ----------
    .. [1] Counting
    """
    return bins_rate_1_s(flow_1_s, fruit_mass_kg, bin_mass_kg)


def rise_speed_m_s(
    diameter_m: float,
    density_kg_m3: float,
    drag: float = RISE_DRAG,
    water_kg_m3: float = WATER_KG_M3,
) -> float:
    r"""Steady speed at which a light fruit rises in still water.

    .. math:: v = \sqrt{\frac{4}{3} \frac{g D}{C_D} \left(1 - \frac{\rho}{\rho_w}\right)}

    Parameters
    ----------
    diameter_m : float
        Diameter of a sphere of the fruit's volume [m]
    density_kg_m3 : float
        Density of the fruit itself, not of a heap of it [kg/m3]
    drag : float
        Drag coefficient on the fruit's cross-section [-]
    water_kg_m3 : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Rise speed [m/s]

    Raises
    ------
    RangeError
        A value is not above zero, or the fruit does not float

    Notes
    -----
    Within some 5 % for apples of 50 to 80 mm, on which its drag coefficient rests. A fruit that is
    barely lighter than water rises slowly and none too surely: small errors of density then
    count much. Fruit reaches this speed within a few diameters.

    Examples
    --------
    >>> round(rise_speed_m_s(0.0649, 829.0), 2)
    0.41

    References
    ----------
    .. [1] Balance of buoyancy, weight and drag of a sphere
    .. [2] Drag fitted to Int. J. Adv. Biol. Biomed. Res. 2 (2014) 1562 and Int. Agrophysics 22
       (2008) 225 (seen in their abstracts)
    """
    checks.positive(diameter_m, "the diameter of the fruit", "m")
    checks.positive(density_kg_m3, "the density of the fruit", "kg/m³")
    checks.positive(drag, "the drag coefficient")
    checks.positive(water_kg_m3, "the density of the water", "kg/m³")
    if not density_kg_m3 < water_kg_m3:
        raise RangeError(
            "The rise speed was not computed.",
            f"Fruit of {density_kg_m3:.4g} kg/m³ does not float in water of "
            f"{water_kg_m3:.4g} kg/m³.",
            "Raise the density of the water with a salt, or carry this fruit on a moving floor.",
        )
    lift = 1.0 - density_kg_m3 / water_kg_m3
    return math.sqrt(4.0 / 3.0 * GRAVITY_M_S2 * diameter_m / drag * lift)


def surfacing_length_m(depth_m: float, velocity_m_s: float, rise_m_s: float) -> float:
    r"""How far the water carries a fruit while it rises to the surface.

    .. math:: s = V \frac{h}{v}

    Parameters
    ----------
    depth_m : float
        Depth from which it rises [m]
    velocity_m_s : float
        Water speed [m/s]
    rise_m_s : float
        Rise speed, by :func:`rise_speed_m_s` [m/s]

    Returns
    -------
    float
        Distance [m]

    Raises
    ------
    RangeError
        Depth or water speed below zero, or rise speed not above zero

    Notes
    -----
    For single fruit from rest relative to the water, without its short run-up to speed. Fruit that
    falls in together rises more slowly.

    Examples
    --------
    >>> round(surfacing_length_m(0.8, 0.2, 0.4), 9)
    0.4

    References
    ----------
    .. [1] Even motion
    """
    checks.not_negative(depth_m, "the depth", "m")
    checks.not_negative(velocity_m_s, "the water speed", "m/s")
    checks.positive(rise_m_s, "the rise speed", "m/s")
    return velocity_m_s * depth_m / rise_m_s


def _section_m2(width_m: float, depth_m: float) -> float:
    checks.positive(width_m, "the width of the flume", "m")
    checks.positive(depth_m, "the depth of the water", "m")
    return width_m * depth_m
