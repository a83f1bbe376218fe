"""How slowly a motor with its own fan may turn under load before it grows too hot.

No published curve holds for every motor: the maker's curve, or the lowest frequency that the maker
allows, comes first. Where neither was entered there is a rule of thumb, which says that it is one.
"""

from dataclasses import dataclass

from core.calc import checks
from core.calc.curves import Points, at, check_points
from core.calc.motor import FREQUENCY_MAX_HZ
from core.errors import RangeError

__all__ = [
    "CoolingCurve",
    "cooled_torque_share",
    "cooling_curve",
    "frequency_min_for_load_hz",
]

# Common practice, from memory: the lower ends of what is quoted for a motor with its own fan.
# Frequency and torque, each as a share of rated. No standard's curve was seen.
RULE_OF_THUMB: Points = ((0.1, 0.5), (0.25, 0.7), (0.5, 0.85), (1.0, 1.0))


@dataclass(frozen=True, slots=True)
class CoolingCurve:
    """Continuous torque, as a share of rated, that a motor can cool at each frequency.

    ``basis`` is ``stated`` (the motor maker's curve or lowest frequency) or ``estimate``.
    """

    points: Points
    basis: str
    reason: str

    @property
    def is_estimate(self) -> bool:
        """Whether it is the rule of thumb, which fails nothing by itself."""
        return self.basis == "estimate"


def cooling_curve(
    rated_frequency_hz: float,
    stated_points: tuple[tuple[float, float], ...] = (),
    stated_frequency_min_hz: float | None = None,
) -> CoolingCurve:
    """The curve to go by: the maker's own, else the maker's lowest frequency, else a rule of thumb.

    Parameters
    ----------
    rated_frequency_hz : float
        Rated frequency of the motor [Hz]
    stated_points : tuple[tuple[float, float], ...]
        The maker's curve: frequency and share of rated torque of each point; empty for none [Hz, -]
    stated_frequency_min_hz : float | None
        Lowest frequency that the maker allows at rated torque [Hz]

    Returns
    -------
    CoolingCurve
        The curve and what it rests on [Hz, -]

    Raises
    ------
    RangeError
        Rated frequency not above zero, a lowest frequency outside of 0 to rated, or points whose
        frequency does not rise, whose torque falls or leaves 0 to 1.5

    Notes
    -----
    The rule of thumb holds rated torque at rated frequency, 85 % at half, 70 % at a quarter and
    50 % at a tenth, where it ends. A motor with a forced fan, or one made for a range of speeds,
    is bound by what its maker states only.

    Examples
    --------
    >>> cooling_curve(60.0).points[-1], cooling_curve(60.0).basis
    ((60.0, 1.0), 'estimate')
    >>> cooling_curve(50.0, stated_frequency_min_hz=10.0).points
    ((10.0, 1.0), (50.0, 1.0))

    References
    ----------
    .. [1] Common practice, from memory; NEMA MG 1, 30.2.2 and IEC TS 60034-25 show curves of
       example machines, which were not seen
    """
    checks.positive(rated_frequency_hz, "the rated frequency", "Hz")
    if stated_points:
        _check_curve(stated_points)
        return CoolingCurve(stated_points, "stated", "the motor maker's curve, as entered")
    if stated_frequency_min_hz is not None:
        lowest_hz = stated_frequency_min_hz
        checks.positive(lowest_hz, "the lowest frequency", "Hz")
        checks.in_range(lowest_hz, 0.0, rated_frequency_hz, "the lowest frequency", "Hz")
        points = tuple((hz, 1.0) for hz in sorted({lowest_hz, rated_frequency_hz}))
        return CoolingCurve(points, "stated", "the lowest frequency the motor maker allows")
    points = tuple((share * rated_frequency_hz, torque) for share, torque in RULE_OF_THUMB)
    return CoolingCurve(points, "estimate", "rule of thumb for own-fan motors, common practice")


def cooled_torque_share(frequency_hz: float, curve: CoolingCurve) -> float:
    """Continuous torque that the motor can cool at a frequency, as a share of rated torque.

    Parameters
    ----------
    frequency_hz : float
        Output frequency [Hz]
    curve : CoolingCurve
        The curve of :func:`cooling_curve` [Hz, -]

    Returns
    -------
    float
        Share of rated torque [-]

    Raises
    ------
    RangeError
        Frequency below the curve, which tells nothing there, or above 1000 Hz

    Notes
    -----
    Above the curve's last point the value of that point stands: the fan turns faster there. Field
    weakening, which lowers torque above base, is `core.calc.motor_limits.torque_share`.

    Examples
    --------
    >>> round(cooled_torque_share(30.0, cooling_curve(60.0)), 6)
    0.85

    References
    ----------
    .. [1] Linear interpolation between the points of the curve
    """
    checks.in_range(frequency_hz, curve.points[0][0], FREQUENCY_MAX_HZ, "the frequency", "Hz")
    if len(curve.points) == 1:
        return curve.points[0][1]
    return at(curve.points, min(frequency_hz, curve.points[-1][0]))


def frequency_min_for_load_hz(load_fraction: float, curve: CoolingCurve) -> float:
    """Lowest frequency at which the motor can cool a load all day.

    Parameters
    ----------
    load_fraction : float
        Torque of the load at that frequency, as a share of rated torque [-]
    curve : CoolingCurve
        The curve of :func:`cooling_curve` [Hz, -]

    Returns
    -------
    float
        Frequency; the first point of the curve for a load it carries everywhere [Hz]

    Raises
    ------
    RangeError
        Load below zero, or above the highest torque of the curve

    Notes
    -----
    :func:`cooled_torque_share` turned round, for a torque that does not change with speed.

    Examples
    --------
    >>> round(frequency_min_for_load_hz(0.7, cooling_curve(60.0)), 6)
    15.0

    References
    ----------
    .. [1] Linear interpolation between the points of the curve
    """
    checks.not_negative(load_fraction, "the torque as a share of rated torque")
    highest = curve.points[-1][1]
    if load_fraction > highest:
        raise RangeError(
            "No frequency was found.",
            f"The load is {100 * load_fraction:.4g} % of rated torque; by {curve.reason} the motor "
            f"cools {100 * highest:.4g} % at most.",
            "Lighten the load, raise the gear ratio, or use a larger motor or one with a forced "
            "fan.",
        )
    right = next(i for i, (_hz, torque) in enumerate(curve.points) if torque >= load_fraction)
    if right == 0:
        return curve.points[0][0]
    (hz_low, torque_low), (hz_high, torque_high) = curve.points[right - 1], curve.points[right]
    share = (load_fraction - torque_low) / (torque_high - torque_low)
    return hz_low + share * (hz_high - hz_low)


def _check_curve(points: Points) -> None:
    check_points(points, "the cooling curve")
    checks.positive(points[0][0], "the lowest frequency of the cooling curve", "Hz")
    torques = [torque for _hz, torque in points]
    for torque in torques:
        checks.in_range(torque, 0.0, 1.5, "a torque of the cooling curve")
    if torques != sorted(torques):
        raise RangeError(
            "The cooling curve was not used.",
            "Its torque falls as the motor turns faster; a fan cools the other way.",
            "Leave out what lies above the rated frequency and correct the rest.",
        )
