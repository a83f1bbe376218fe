"""Where a pump runs against its pipes and lift, at any speed of its drive."""

import math
from dataclasses import dataclass

from core.calc import checks, curves
from core.errors import RangeError

__all__ = [
    "PumpCurve",
    "PumpPoint",
    "SystemCurve",
    "operating_point",
    "pump_curve",
    "speed_for_point_rad_s",
    "speed_to_lift_rad_s",
    "system_curve",
]


@dataclass(frozen=True, slots=True)
class PumpCurve:
    """Head of a pump over its flow at rated speed, as a parabola."""

    shutoff_m: float
    """Head at no flow."""
    linear_s_m2: float
    """Head added for each cubic metre per second."""
    square_s2_m5: float
    """Head added for its square; below zero."""

    def head_m(self, flow_m3_s: float, speed_share: float = 1.0) -> float:
        """Head at a flow and a share of rated speed, by the affinity laws."""
        return (
            speed_share**2 * self.shutoff_m
            + speed_share * self.linear_s_m2 * flow_m3_s
            + self.square_s2_m5 * flow_m3_s**2
        )


@dataclass(frozen=True, slots=True)
class SystemCurve:
    """Head that pipes, nozzles and lift ask of a pump."""

    static_m: float
    """Lift from surface to surface, asked at any flow."""
    friction_s2_m5: float
    """Head for each square of the flow."""

    def head_m(self, flow_m3_s: float) -> float:
        """Head at a flow."""
        return self.static_m + self.friction_s2_m5 * flow_m3_s**2


@dataclass(frozen=True, slots=True)
class PumpPoint:
    """Where a pump runs."""

    flow_m3_s: float
    head_m: float


def pump_curve(points: tuple[tuple[float, float], ...]) -> PumpCurve:
    r"""Curve of a pump through two or three of its points at rated speed.

    .. math:: H = H_0 + b\,Q + c\,Q^2

    Parameters
    ----------
    points : tuple[tuple[float, float], ...]
        Flow and head of each point, flow rising; with two points the middle term is left out
        [m3/s and m]

    Returns
    -------
    PumpCurve
        Parabola through the points [m, s/m2, s2/m5]

    Raises
    ------
    RangeError
        Not two or three points, a value below zero, flows that do not rise, or a parabola that
        does not bend down or has no head at no flow

    Notes
    -----
    Points from the pump's own curve or measured; not to be trusted far outside of them.

    Examples
    --------
    >>> curve = pump_curve(((0.0, 6.0), (0.02, 4.0)))
    >>> round(curve.shutoff_m, 6), round(curve.square_s2_m5, 6)
    (6.0, -5000.0)

    References
    ----------
    .. [1] Interpolation by Newton's divided differences
    """
    _check_curve_points(points)
    if len(points) == 2:
        (q1, h1), (q2, h2) = points
        square = (h2 - h1) / (q2**2 - q1**2)
        curve = PumpCurve(h1 - square * q1**2, 0.0, square)
    else:
        (q1, h1), (q2, h2), (q3, h3) = points
        first, second = (h2 - h1) / (q2 - q1), (h3 - h2) / (q3 - q2)
        square = (second - first) / (q3 - q1)
        linear = first - square * (q1 + q2)
        curve = PumpCurve(h1 - linear * q1 - square * q1**2, linear, square)
    if not (curve.square_s2_m5 < 0.0 < curve.shutoff_m):
        raise RangeError(
            "The pump's curve was not used.",
            "Its points do not lie on a line that bends down from a head at no flow.",
            "Correct the points, or give the head at no flow and one point.",
        )
    return curve


def system_curve(static_m: float, flow_m3_s: float, head_m: float) -> SystemCurve:
    r"""Curve of pipes and lift through one measured or designed point.

    .. math:: H = H_{st} + k\,Q^2, \qquad k = \frac{H - H_{st}}{Q^2}

    Parameters
    ----------
    static_m : float
        Lift from surface to surface; 0 where one tank is turned over [m]
    flow_m3_s : float
        Flow of the point [m3/s]
    head_m : float
        Head of the pump at that flow [m]

    Returns
    -------
    SystemCurve
        Lift and friction [m, s2/m5]

    Raises
    ------
    RangeError
        Lift below zero, flow not above zero, or head below the lift

    Notes
    -----
    With all valves as they stood. Friction that goes with the square of the flow: turbulent flow
    in pipes, fittings and nozzles.

    Examples
    --------
    >>> round(system_curve(12.0, 0.040, 20.0).friction_s2_m5, 6)
    5000.0

    References
    ----------
    .. [1] Textbooks of pumps
    """
    checks.not_negative(static_m, "the lift", "m")
    checks.positive(flow_m3_s, "the flow of water", "m³/s")
    checks.finite(head_m, "the head", "m")
    checks.in_range(static_m, 0.0, head_m, "the lift", "m")
    return SystemCurve(static_m, (head_m - static_m) / flow_m3_s**2)


def operating_point(
    pump: PumpCurve, system: SystemCurve, speed_rad_s: float, rated_speed_rad_s: float
) -> PumpPoint:
    r"""Where pump and system meet at a speed.

    .. math:: s^2 H_0 + s\,b\,Q + c\,Q^2 = H_{st} + k\,Q^2, \qquad s = n / n_N

    Parameters
    ----------
    pump : PumpCurve
        Curve at rated speed [m, s/m2, s2/m5]
    system : SystemCurve
        Lift and friction [m, s2/m5]
    speed_rad_s : float
        Speed of the pump [rad/s]
    rated_speed_rad_s : float
        Speed of the curve [rad/s]

    Returns
    -------
    PumpPoint
        Flow and head; no flow below the speed that reaches the lift [m3/s and m]

    Raises
    ------
    RangeError
        Speed below zero, or rated speed not above zero

    Notes
    -----
    Steady and without cavitation. Below :func:`speed_to_lift_rad_s` the pump churns the same water
    and heats it, and a foot valve or check valve must hold the column.

    Examples
    --------
    >>> pump = PumpCurve(6.0, 0.0, -5000.0)
    >>> point = operating_point(pump, SystemCurve(1.0, 7500.0), 150.0, 150.0)
    >>> round(point.flow_m3_s, 6), round(point.head_m, 6)
    (0.02, 4.0)

    References
    ----------
    .. [1] Textbooks of pumps; affinity laws for the curve at another speed
    """
    checks.not_negative(speed_rad_s, "the speed of the pump", "rad/s")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    share = speed_rad_s / rated_speed_rad_s
    spare_m = share**2 * pump.shutoff_m - system.static_m
    if spare_m <= 0.0:
        return PumpPoint(0.0, share**2 * pump.shutoff_m)
    # One root is above zero, since the head to spare is and the parabola bends down.
    bend, slope = system.friction_s2_m5 - pump.square_s2_m5, share * pump.linear_s_m2
    flow_m3_s = (slope + math.sqrt(slope**2 + 4.0 * bend * spare_m)) / (2.0 * bend)
    return PumpPoint(flow_m3_s, system.head_m(flow_m3_s))


def speed_for_point_rad_s(
    pump: PumpCurve, system: SystemCurve, flow_m3_s: float, rated_speed_rad_s: float
) -> float:
    r"""Speed of the pump for a wanted flow with lift: :func:`operating_point` turned round.

    .. math:: s^2 H_0 + s\,b\,Q = H_{st} + (k - c)\,Q^2, \qquad n = s\,n_N

    Parameters
    ----------
    pump : PumpCurve
        Curve at rated speed [m, s/m2, s2/m5]
    system : SystemCurve
        Lift and friction [m, s2/m5]
    flow_m3_s : float
        Wanted flow [m3/s]
    rated_speed_rad_s : float
        Speed of the curve [rad/s]

    Returns
    -------
    float
        Speed of the pump [rad/s]

    Raises
    ------
    RangeError
        The flow is below zero, or the rated speed not above zero

    Notes
    -----
    As for :func:`operating_point`. May lie above rated speed: look at power then, which rises with
    the cube.

    Examples
    --------
    >>> pump = PumpCurve(6.0, 0.0, -5000.0)
    >>> round(speed_for_point_rad_s(pump, SystemCurve(1.0, 7500.0), 0.02, 150.0), 6)
    150.0

    References
    ----------
    .. [1] Textbooks of pumps; affinity laws for the curve at another speed
    """
    checks.not_negative(flow_m3_s, "the wanted flow", "m³/s")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    needed_m = system.head_m(flow_m3_s) - pump.square_s2_m5 * flow_m3_s**2
    half = pump.linear_s_m2 * flow_m3_s / 2.0
    share = (math.sqrt(half**2 + pump.shutoff_m * needed_m) - half) / pump.shutoff_m
    return share * rated_speed_rad_s


def speed_to_lift_rad_s(pump: PumpCurve, static_m: float, rated_speed_rad_s: float) -> float:
    r"""Speed below which a pump delivers nothing.

    .. math:: n_0 = n_N \sqrt{\frac{H_{st}}{H_0}}

    Parameters
    ----------
    pump : PumpCurve
        Curve at rated speed [m, s/m2, s2/m5]
    static_m : float
        Lift from surface to surface [m]
    rated_speed_rad_s : float
        Speed of the curve [rad/s]

    Returns
    -------
    float
        Speed of the pump [rad/s]

    Raises
    ------
    RangeError
        The lift is below zero, or the rated speed not above zero

    Notes
    -----
    Keep the drive's minimum frequency above it.

    Examples
    --------
    >>> round(speed_to_lift_rad_s(PumpCurve(6.0, 0.0, -5000.0), 1.5, 150.0), 6)
    75.0

    References
    ----------
    .. [1] Affinity laws of centrifugal pumps
    """
    checks.not_negative(static_m, "the lift", "m")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    return rated_speed_rad_s * math.sqrt(static_m / pump.shutoff_m)


def _check_curve_points(points: curves.Points) -> None:
    for flow_m3_s, head_m in points:
        checks.not_negative(flow_m3_s, "a flow of the pump's curve", "m³/s")
        checks.not_negative(head_m, "a head of the pump's curve", "m")
    if len(points) not in (2, 3):
        raise RangeError(
            "The pump's curve was not used.",
            f"It has {len(points)} points; two or three are needed.",
            "Give the head at no flow and one or two more points.",
        )
    curves.check_points(points, "the pump's curve")
