"""A centrifugal pump on a drive by the affinity laws, for pipes without lift; and its power.

With a lift the two curves have to be crossed: :mod:`core.calc.pump_curve`.
"""

from core.calc import checks
from core.calc.conveying import GRAVITY_M_S2

__all__ = [
    "hydraulic_power_w",
    "pump_flow_m3_s",
    "pump_head_m",
    "pump_power_w",
    "shaft_power_w",
    "speed_for_flow_rad_s",
]

WATER_KG_M3 = 1000.0


def pump_flow_m3_s(rated_flow_m3_s: float, speed_rad_s: float, rated_speed_rad_s: float) -> float:
    r"""Flow of a pump at another speed, by the affinity laws.

    .. math:: Q = Q_N \frac{n}{n_N}

    Parameters
    ----------
    rated_flow_m3_s : float
        Flow at rated speed in the same pipes [m3/s]
    speed_rad_s : float
        Speed of the pump [rad/s]
    rated_speed_rad_s : float
        Speed at which the flow was rated or measured [rad/s]

    Returns
    -------
    float
        Flow [m3/s]

    Raises
    ------
    RangeError
        Flow or speed below zero, or rated speed not above zero

    Notes
    -----
    For pipes with friction only, such as a pump that turns over one tank. With a lift the flow
    falls faster and stops at a finite speed: see :mod:`core.calc.pump_curve`. A pump in reverse
    still pumps a little; nothing here holds for it.

    Examples
    --------
    >>> round(3600.0 * pump_flow_m3_s(60.0 / 3600.0, 110.0, 100.0), 6)
    66.0

    References
    ----------
    .. [1] Affinity laws of centrifugal pumps
    """
    checks.not_negative(rated_flow_m3_s, "the rated flow", "m³/s")
    return rated_flow_m3_s * _speed_share(speed_rad_s, rated_speed_rad_s)


def pump_head_m(rated_head_m: float, speed_rad_s: float, rated_speed_rad_s: float) -> float:
    r"""Head of a pump at another speed, by the affinity laws.

    .. math:: H = H_N \left(\frac{n}{n_N}\right)^2

    Parameters
    ----------
    rated_head_m : float
        Head at rated speed in the same pipes [m]
    speed_rad_s : float
        Speed of the pump [rad/s]
    rated_speed_rad_s : float
        Speed at which the head was rated or measured [rad/s]

    Returns
    -------
    float
        Head [m]

    Raises
    ------
    RangeError
        Head or speed below zero, or rated speed not above zero

    Notes
    -----
    For pipes with friction only, as :func:`pump_flow_m3_s`.

    Examples
    --------
    >>> round(pump_head_m(3.0, 110.0, 100.0), 6)
    3.63

    References
    ----------
    .. [1] Affinity laws of centrifugal pumps
    """
    checks.not_negative(rated_head_m, "the rated head", "m")
    return rated_head_m * _speed_share(speed_rad_s, rated_speed_rad_s) ** 2


def pump_power_w(rated_power_w: float, speed_rad_s: float, rated_speed_rad_s: float) -> float:
    r"""Shaft power of a pump at another speed, by the affinity laws.

    .. math:: P = P_N \left(\frac{n}{n_N}\right)^3

    Parameters
    ----------
    rated_power_w : float
        Shaft power at rated speed in the same pipes [W]
    speed_rad_s : float
        Speed of the pump [rad/s]
    rated_speed_rad_s : float
        Speed at which the power was rated or measured [rad/s]

    Returns
    -------
    float
        Shaft power [W]

    Raises
    ------
    RangeError
        Power or speed below zero, or rated speed not above zero

    Notes
    -----
    For pipes with friction only, at the same efficiency. A 50 Hz pump at 60 Hz takes 73 % more.

    Examples
    --------
    >>> round(pump_power_w(1000.0, 60.0, 50.0), 6)
    1728.0

    References
    ----------
    .. [1] Affinity laws of centrifugal pumps
    """
    checks.not_negative(rated_power_w, "the rated power", "W")
    return rated_power_w * _speed_share(speed_rad_s, rated_speed_rad_s) ** 3


def speed_for_flow_rad_s(
    flow_m3_s: float, rated_flow_m3_s: float, rated_speed_rad_s: float
) -> float:
    r"""Speed of the pump for a wanted flow: :func:`pump_flow_m3_s` turned round.

    .. math:: n = n_N \frac{Q}{Q_N}

    Parameters
    ----------
    flow_m3_s : float
        Wanted flow [m3/s]
    rated_flow_m3_s : float
        Flow at rated speed in the same pipes [m3/s]
    rated_speed_rad_s : float
        Speed at which the flow was rated or measured [rad/s]

    Returns
    -------
    float
        Speed of the pump [rad/s]

    Raises
    ------
    RangeError
        Flow below zero, or rated flow or rated speed not above zero

    Notes
    -----
    For pipes with friction only, as :func:`pump_flow_m3_s`.

    Examples
    --------
    >>> round(speed_for_flow_rad_s(0.012, 0.015, 150.0), 9)
    120.0

    References
    ----------
    .. [1] Affinity laws of centrifugal pumps
    """
    checks.not_negative(flow_m3_s, "the wanted flow", "m³/s")
    checks.positive(rated_flow_m3_s, "the rated flow", "m³/s")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    return rated_speed_rad_s * flow_m3_s / rated_flow_m3_s


def hydraulic_power_w(flow_m3_s: float, head_m: float, density_kg_m3: float = WATER_KG_M3) -> float:
    r"""Power in the water that leaves a pump.

    .. math:: P = \rho\,g\,Q\,H

    Parameters
    ----------
    flow_m3_s : float
        Flow [m3/s]
    head_m : float
        Head [m]
    density_kg_m3 : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Hydraulic power [W]

    Raises
    ------
    RangeError
        Flow or head below zero, or density not above zero

    Examples
    --------
    >>> round(hydraulic_power_w(60.0 / 3600.0, 3.0), 1)
    490.3

    References
    ----------
    .. [1] Work of lifting
    """
    checks.not_negative(flow_m3_s, "the flow of water", "m³/s")
    checks.not_negative(head_m, "the head", "m")
    checks.positive(density_kg_m3, "the density of the water", "kg/m³")
    return density_kg_m3 * GRAVITY_M_S2 * flow_m3_s * head_m


def shaft_power_w(hydraulic_power_w: float, efficiency: float) -> float:
    r"""Power that the pump takes from its motor.

    .. math:: P_{shaft} = P / \eta

    Parameters
    ----------
    hydraulic_power_w : float
        Power in the water, by :func:`hydraulic_power_w` [W]
    efficiency : float
        Efficiency of the pump; 0.5 to 0.7 for small ones at their best point [-]

    Returns
    -------
    float
        Shaft power [W]

    Raises
    ------
    RangeError
        Power below zero, or efficiency outside of 0 to 1

    Notes
    -----
    An estimate; efficiency falls on both sides of the best point and with a worn impeller.

    Examples
    --------
    >>> round(shaft_power_w(490.3, 0.6), 1)
    817.2

    References
    ----------
    .. [1] Definition of efficiency; the range from memory
    """
    checks.not_negative(hydraulic_power_w, "the hydraulic power", "W")
    checks.ratio(efficiency, "the efficiency of the pump", zero=False)
    return hydraulic_power_w / efficiency


def _speed_share(speed_rad_s: float, rated_speed_rad_s: float) -> float:
    checks.not_negative(speed_rad_s, "the speed of the pump", "rad/s")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    return speed_rad_s / rated_speed_rad_s
