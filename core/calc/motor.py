"""Induction motors on the mains and on a drive: speed, slip, torque and current."""

import math

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "frequency_for_speed_hz",
    "full_load_current_a",
    "poles_from_speed",
    "rated_slip_rad_s",
    "rated_torque_n_m",
    "slip",
    "speed_at_rad_s",
    "synchronous_speed_rad_s",
]

FREQUENCY_MAX_HZ = 1000.0
POLES_MAX = 24

# A nameplate outside of these slips is no induction motor's, or tells some other shaft's speed.
# Limits by judgement: small motors reach 15 %, large efficient ones stay above 0.3 %.
RATED_SLIP_MIN = 0.002
RATED_SLIP_MAX = 0.20

# IEC 60034-1, 9.4.1 asks of every motor 1.6 times its rated torque for 15 s (from memory), so up
# to there its working point is on the straight part of the torque curve.
STRAIGHT_LOAD_MAX = 1.6


def synchronous_speed_rad_s(frequency_hz: float, poles: int) -> float:
    r"""Speed of the rotating field of a three-phase winding.

    .. math:: \omega_s = \frac{4 \pi f}{p}

    Parameters
    ----------
    frequency_hz : float
        Frequency at the motor terminals [Hz]
    poles : int
        Number of poles, not of pole pairs [-]

    Returns
    -------
    float
        Synchronous speed [rad/s]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, or poles odd or outside of 2 to 24

    Notes
    -----
    In turns per minute this is the familiar 120 f / p.

    Examples
    --------
    >>> round(synchronous_speed_rad_s(60.0, 4) * 30 / math.pi, 6)
    1800.0

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, polyphase induction machines (from
       memory)
    """
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency", "Hz")
    _check_poles(poles)
    return 4.0 * math.pi * frequency_hz / poles


def poles_from_speed(rated_speed_rad_s: float, frequency_hz: float) -> int:
    r"""Number of poles from the nameplate: the nearest synchronous speed above the rated one.

    .. math:: p = 2 \left( \left\lceil \frac{2 \pi f}{\omega_N} \right\rceil - 1 \right)

    Parameters
    ----------
    rated_speed_rad_s : float
        Rated speed on the nameplate [rad/s]
    frequency_hz : float
        Rated frequency on the nameplate [Hz]

    Returns
    -------
    int
        Number of poles, an even number [-]

    Raises
    ------
    RangeError
        Speed or frequency is not above zero, or no induction motor of 2 to 24 poles has this speed:
        its slip would be below 0.2 % or above 20 %

    Notes
    -----
    The speed must be that of the motor's own shaft: a gearmotor's plate may tell the output speed
    only. The limits of slip are by judgement; motors of 60 W and more lie within them.

    Examples
    --------
    >>> poles_from_speed(1725 * math.pi / 30, 60.0)
    4
    >>> poles_from_speed(910 * math.pi / 30, 50.0)
    6

    References
    ----------
    .. [1] Common practice
    """
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    checks.positive(frequency_hz, "the rated frequency", "Hz")
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the rated frequency", "Hz")
    field_speed_rad_s = 2.0 * math.pi * frequency_hz
    pairs = math.ceil(field_speed_rad_s / rated_speed_rad_s) - 1
    nearest_rad_s = field_speed_rad_s / max(pairs, 1)
    plausible = RATED_SLIP_MIN <= 1.0 - rated_speed_rad_s / nearest_rad_s <= RATED_SLIP_MAX
    if not (plausible and 2 * pairs <= POLES_MAX):
        raise RangeError(
            "The number of poles was not found.",
            f"No induction motor turns {rated_speed_rad_s * 30 / math.pi:.6g} r/min at rated load "
            f"on {frequency_hz:.6g} Hz.",
            "Enter the rated speed of the motor's own shaft, not of a gearbox.",
        )
    return 2 * pairs


def slip(speed_rad_s: float, field_speed_rad_s: float) -> float:
    r"""Slip of a motor that drives its load.

    .. math:: s = \frac{\omega_s - \omega}{\omega_s}

    Parameters
    ----------
    speed_rad_s : float
        Speed of the shaft [rad/s]
    field_speed_rad_s : float
        Synchronous speed at the same frequency [rad/s]

    Returns
    -------
    float
        Slip, from 0 (synchronous) to 1 (standstill) [-]

    Raises
    ------
    RangeError
        Synchronous speed not above zero, or the shaft stands outside of 0 to synchronous speed

    Notes
    -----
    A load that drives the motor (negative slip) is not covered.

    Examples
    --------
    >>> round(slip(1440.0, 1500.0), 6)
    0.04

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, polyphase induction machines (from
       memory)
    """
    checks.positive(field_speed_rad_s, "the synchronous speed", "rad/s")
    checks.in_range(speed_rad_s, 0.0, field_speed_rad_s, "the speed", "rad/s")
    return 1.0 - speed_rad_s / field_speed_rad_s


def rated_slip_rad_s(rated_speed_rad_s: float, frequency_hz: float, poles: int) -> float:
    r"""How far the rated speed lies below the synchronous speed.

    .. math:: \Delta\omega_N = \omega_s(f_N) - \omega_N

    Parameters
    ----------
    rated_speed_rad_s : float
        Rated speed on the nameplate [rad/s]
    frequency_hz : float
        Rated frequency on the nameplate [Hz]
    poles : int
        Number of poles [-]

    Returns
    -------
    float
        Rated slip as a speed [rad/s]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, poles odd or outside of 2 to 24, or a slip that no
        induction motor has (below 0.2 % or above 20 %)

    Notes
    -----
    As a speed, not as a share, slip stays the same at any frequency while torque and flux do.

    Examples
    --------
    >>> slip_rad_s = rated_slip_rad_s(1740 * math.pi / 30, 60.0, 4)
    >>> round(slip_rad_s * 30 / math.pi, 6)
    60.0

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, polyphase induction machines (from
       memory)
    """
    field_speed_rad_s = synchronous_speed_rad_s(frequency_hz, poles)
    rated_slip = slip(rated_speed_rad_s, field_speed_rad_s)
    if not RATED_SLIP_MIN <= rated_slip <= RATED_SLIP_MAX:
        raise RangeError(
            "The rated slip was not found.",
            f"Rated speed and poles give {100 * rated_slip:.3g} % slip; an induction motor has "
            f"{100 * RATED_SLIP_MIN:g} to {100 * RATED_SLIP_MAX:g} %.",
            "Compare rated speed, rated frequency and poles with the nameplate.",
        )
    return field_speed_rad_s - rated_speed_rad_s


def rated_torque_n_m(power_w: float, rated_speed_rad_s: float) -> float:
    r"""Torque at the shaft at the rated point.

    .. math:: T = \frac{P}{\omega}

    Parameters
    ----------
    power_w : float
        Shaft power on the nameplate [W]
    rated_speed_rad_s : float
        Rated speed on the nameplate [rad/s]

    Returns
    -------
    float
        Rated torque [N m]

    Raises
    ------
    RangeError
        Power or speed is not above zero

    Examples
    --------
    >>> round(rated_torque_n_m(750.0, 1440 * math.pi / 30), 3)
    4.974

    References
    ----------
    .. [1] Definition of mechanical power; the trade's 9550 P[kW] / n[r/min] is its rounded form
    """
    checks.positive(power_w, "the rated power", "W")
    checks.positive(rated_speed_rad_s, "the rated speed", "rad/s")
    return power_w / rated_speed_rad_s


def full_load_current_a(
    power_w: float, voltage_v: float, power_factor: float, efficiency: float, phases: int = 3
) -> float:
    r"""Line current that a nameplate's power, power factor and efficiency amount to.

    .. math:: I = \frac{P}{\sqrt{3}\, U \cos\varphi\, \eta} \quad \text{or, single-phase,} \quad
        I = \frac{P}{U \cos\varphi\, \eta}

    Parameters
    ----------
    power_w : float
        Shaft power on the nameplate [W]
    voltage_v : float
        Voltage between lines, or single-phase voltage [V]
    power_factor : float
        Power factor at rated load [-]
    efficiency : float
        Efficiency at rated load, as a ratio and not in percent [-]
    phases : int
        3 or 1 [-]

    Returns
    -------
    float
        Current in each line [A]

    Raises
    ------
    RangeError
        Power or voltage not above zero, power factor or efficiency outside of 0 to 1, phases
        neither 1 nor 3

    Notes
    -----
    Use the current on the nameplate where there is one. Conductors and short-circuit protection
    under the NEC go by its tables 430.248 and 430.250, which are higher on purpose.

    Examples
    --------
    >>> round(full_load_current_a(750.0, 400.0, 0.75, 0.825), 3)
    1.75

    References
    ----------
    .. [1] Definition of three-phase active power with sinusoidal current and voltage
    """
    checks.positive(power_w, "the rated power", "W")
    checks.positive(voltage_v, "the voltage", "V")
    checks.ratio(power_factor, "the power factor", zero=False)
    checks.ratio(efficiency, "the efficiency", zero=False)
    if phases not in (1, 3):
        raise RangeError("The current was not computed.", f"{phases} phases.", "Give 1 or 3.")
    return power_w / (math.sqrt(phases) * voltage_v * power_factor * efficiency)


def speed_at_rad_s(
    frequency_hz: float,
    poles: int,
    rated_slip_rad_s: float,
    load_fraction: float,
    base_frequency_hz: float | None = None,
) -> float:
    r"""Speed of the motor shaft on a drive without slip compensation.

    .. math:: \omega = \omega_s(f) - \Delta\omega_N \, m \, \max(1, f / f_b)^2

    Parameters
    ----------
    frequency_hz : float
        Output frequency of the drive [Hz]
    poles : int
        Number of poles [-]
    rated_slip_rad_s : float
        Rated slip as a speed [rad/s]
    load_fraction : float
        Torque in use as a share of rated torque, *m* [-]
    base_frequency_hz : float | None
        Frequency above which the voltage no longer rises; None: voltage rises with frequency
        everywhere [Hz]

    Returns
    -------
    float
        Speed of the shaft; zero where the load would hold the motor at a standstill [rad/s]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, poles odd or outside of 2 to 24, slip or base frequency
        not above zero, or load outside of 0 to 1.6; above base outside of 0 to 1.6 (f_b / f)^2

    Notes
    -----
    Valid while voltage follows frequency up to base and stays constant above (flux falls with f,
    torque per slip with its square), on the straight part of the torque curve. Voltage boost and
    stator resistance, which matter below about a tenth of rated frequency, are neglected. With
    slip compensation on, the speed is closer to synchronous than this.

    Examples
    --------
    >>> rated_slip = (1800 - 1740) * math.pi / 30
    >>> round(speed_at_rad_s(54.0, 4, rated_slip, 1.0, 60.0) * 30 / math.pi, 6)
    1560.0

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, speed control of induction motors
       (from memory)
    """
    field_speed_rad_s = synchronous_speed_rad_s(frequency_hz, poles)
    loaded_slip_rad_s = _loaded_slip_rad_s(
        frequency_hz, rated_slip_rad_s, load_fraction, base_frequency_hz
    )
    return max(0.0, field_speed_rad_s - loaded_slip_rad_s)


def frequency_for_speed_hz(
    speed_rad_s: float,
    poles: int,
    rated_slip_rad_s: float,
    load_fraction: float,
    base_frequency_hz: float | None = None,
) -> float:
    r"""Frequency at which the shaft reaches a wanted speed: :func:`speed_at_rad_s` turned round.

    .. math:: f = \frac{p}{4 \pi} (\omega + m \, \Delta\omega_N) \quad \text{up to } f_b, \qquad
        m \, \Delta\omega_N \left(\frac{f}{f_b}\right)^2 - \frac{4 \pi}{p} f + \omega = 0
        \quad \text{above}

    Parameters
    ----------
    speed_rad_s : float
        Wanted speed of the motor shaft [rad/s]
    poles : int
        Number of poles [-]
    rated_slip_rad_s : float
        Rated slip as a speed [rad/s]
    load_fraction : float
        Torque in use as a share of rated torque, *m* [-]
    base_frequency_hz : float | None
        Frequency above which the voltage no longer rises; None: voltage rises with frequency
        everywhere [Hz]

    Returns
    -------
    float
        Output frequency of the drive [Hz]

    Raises
    ------
    RangeError
        Speed not above zero, the motor cannot carry this load so fast, or an input that
        :func:`speed_at_rad_s` refuses

    Notes
    -----
    Range as for :func:`speed_at_rad_s`. Zero speed is refused: a loaded motor stands still at any
    frequency up to its slip.

    Examples
    --------
    >>> rated_slip = (1800 - 1740) * math.pi / 30
    >>> round(frequency_for_speed_hz(1560 * math.pi / 30, 4, rated_slip, 1.0, 60.0), 6)
    54.0

    References
    ----------
    .. [1] The formula of :func:`speed_at_rad_s`, solved for *f*
    """
    checks.positive(speed_rad_s, "the wanted speed", "rad/s")
    _check_poles(poles)
    # Guards slip, load and base; the frequency itself is not known yet.
    slip_rad_s = _loaded_slip_rad_s(0.0, rated_slip_rad_s, load_fraction, base_frequency_hz)
    field_per_hz = 4.0 * math.pi / poles
    frequency_hz = (speed_rad_s + slip_rad_s) / field_per_hz
    if base_frequency_hz is not None and frequency_hz > base_frequency_hz:
        curvature = slip_rad_s / base_frequency_hz**2
        discriminant = field_per_hz**2 - 4.0 * curvature * speed_rad_s
        if discriminant < 0.0:
            raise _too_heavy(load_fraction)
        frequency_hz = 2.0 * speed_rad_s / (field_per_hz + math.sqrt(discriminant))
        _loaded_slip_rad_s(frequency_hz, rated_slip_rad_s, load_fraction, base_frequency_hz)
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency for this speed", "Hz")
    return frequency_hz


def _check_poles(poles: int) -> None:
    checks.whole(poles, 2, POLES_MAX, "the number of poles")
    if poles % 2:
        raise RangeError(
            "The number of poles was not used.",
            f"It is {poles}; poles come in pairs.",
            "Correct it.",
        )


def _loaded_slip_rad_s(
    frequency_hz: float,
    rated_slip_rad_s: float,
    load_fraction: float,
    base_frequency_hz: float | None,
) -> float:
    """Slip as a speed at this frequency and load, within the straight part of the curve."""
    checks.positive(rated_slip_rad_s, "the rated slip", "rad/s")
    checks.in_range(load_fraction, 0.0, STRAIGHT_LOAD_MAX, "the torque as a share of rated torque")
    if base_frequency_hz is None:
        return rated_slip_rad_s * load_fraction
    checks.positive(base_frequency_hz, "the base frequency", "Hz")
    slip_factor = load_fraction * max(1.0, frequency_hz / base_frequency_hz) ** 2
    if not slip_factor <= STRAIGHT_LOAD_MAX * (1.0 + 1e-12):
        raise _too_heavy(load_fraction)
    return rated_slip_rad_s * slip_factor


def _too_heavy(load_fraction: float) -> RangeError:
    return RangeError(
        "The speed was not computed.",
        f"{100 * load_fraction:.4g} % of rated torque is too much this far above the rated "
        "frequency, where the motor grows weak.",
        "Use a smaller gear ratio or a larger motor.",
    )
