"""What a motor can still do away from its rated frequency: voltage, flux and torque on a drive."""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.motor import FREQUENCY_MAX_HZ, STRAIGHT_LOAD_MAX
from core.errors import RangeError

__all__ = [
    "OtherSupply",
    "base_frequency_hz",
    "breakdown_torque_share",
    "flux_share",
    "frequency_max_for_load_hz",
    "load_torque_share",
    "motor_voltage_v",
    "on_other_supply",
    "torque_margin",
    "torque_share",
]

# IEC 60034-1, 7.3, zone B reaches 110 % of rated voltage at rated frequency (from memory): beyond
# that flux the iron saturates and the current at no load climbs steeply.
FLUX_SHARE_MAX = 1.10

LOAD_POWERS = {"constant_torque": 0, "quadratic": 2}


@dataclass(frozen=True, slots=True)
class OtherSupply:
    """A motor on another frequency and voltage than its plate tells, each as a share of rated."""

    flux: float
    speed: float
    """Synchronous speed."""
    torque: float
    """Continuous torque at rated current; cooling aside."""
    breakdown_torque: float
    power: float

    @property
    def saturates(self) -> bool:
        """Whether the flux is above what standard motors are built for."""
        return self.flux > FLUX_SHARE_MAX * (1.0 + 1e-12)


def base_frequency_hz(
    output_max_v: float, rated_voltage_v: float, rated_frequency_hz: float
) -> float:
    r"""Frequency up to which a drive can keep the motor's flux at its rated value.

    .. math:: f_b = f_N \frac{U_{max}}{U_N}

    Parameters
    ----------
    output_max_v : float
        Highest output voltage of the drive, between lines [V]
    rated_voltage_v : float
        Rated voltage of the motor in the connection used [V]
    rated_frequency_hz : float
        Rated frequency of the motor [Hz]

    Returns
    -------
    float
        Base frequency [Hz]

    Raises
    ------
    RangeError
        A value not above zero, or a base above 1000 Hz

    Notes
    -----
    At equal voltages it is the rated frequency. A 230/400 V motor in delta on a 400 V drive gets a
    base of 87 Hz: rated torque up to there, 1.73 times the power, and the current of the delta
    connection from the drive. Insulation, bearings, the driven part and the motor's highest speed
    must allow it, and the user must mean it.

    Examples
    --------
    >>> round(base_frequency_hz(400.0, 230.0, 50.0), 2)
    86.96

    References
    ----------
    .. [1] Constant ratio of voltage to frequency, textbooks of electric drives
    """
    checks.positive(output_max_v, "the highest output voltage", "V")
    _check_rated(rated_voltage_v, rated_frequency_hz)
    base_hz = rated_frequency_hz * output_max_v / rated_voltage_v
    checks.in_range(base_hz, 0.0, FREQUENCY_MAX_HZ, "the base frequency", "Hz")
    return base_hz


def motor_voltage_v(
    frequency_hz: float, output_max_v: float, rated_voltage_v: float, rated_frequency_hz: float
) -> float:
    r"""Voltage that a drive gives its motor on a straight V/f line.

    .. math:: U = \min\left(U_N \frac{f}{f_N},\; U_{max}\right)

    Parameters
    ----------
    frequency_hz : float
        Output frequency [Hz]
    output_max_v : float
        Highest output voltage of the drive, between lines [V]
    rated_voltage_v : float
        Rated voltage of the motor in the connection used [V]
    rated_frequency_hz : float
        Rated frequency of the motor [Hz]

    Returns
    -------
    float
        Fundamental of the voltage between lines [V]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, or another value not above zero

    Notes
    -----
    Without the boost that drives add at the lowest frequencies. A meter that does not filter shows
    more than this behind a drive.

    Examples
    --------
    >>> motor_voltage_v(30.0, 230.0, 230.0, 60.0)
    115.0
    >>> motor_voltage_v(90.0, 230.0, 230.0, 60.0)
    230.0

    References
    ----------
    .. [1] Constant ratio of voltage to frequency, textbooks of electric drives
    """
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency", "Hz")
    checks.positive(output_max_v, "the highest output voltage", "V")
    _check_rated(rated_voltage_v, rated_frequency_hz)
    return min(rated_voltage_v * frequency_hz / rated_frequency_hz, output_max_v)


def flux_share(
    voltage_v: float, frequency_hz: float, rated_voltage_v: float, rated_frequency_hz: float
) -> float:
    r"""Flux in the motor's iron as a share of its rated flux.

    .. math:: \frac{\Phi}{\Phi_N} = \frac{U / f}{U_N / f_N}

    Parameters
    ----------
    voltage_v : float
        Voltage at the motor, between lines [V]
    frequency_hz : float
        Its frequency [Hz]
    rated_voltage_v : float
        Rated voltage of the motor in the connection used [V]
    rated_frequency_hz : float
        Rated frequency of the motor [Hz]

    Returns
    -------
    float
        Share of rated flux [-]

    Raises
    ------
    RangeError
        Voltage below zero, another value not above zero, or a frequency above 1000 Hz

    Notes
    -----
    Voltage lost in the stator's resistance is neglected, which holds from about a tenth of rated
    frequency up.

    Examples
    --------
    >>> round(flux_share(400.0, 60.0, 400.0, 50.0), 4)
    0.8333

    References
    ----------
    .. [1] Faraday's law for a winding on sinusoidal voltage
    """
    checks.not_negative(voltage_v, "the voltage", "V")
    checks.positive(frequency_hz, "the frequency", "Hz")
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency", "Hz")
    _check_rated(rated_voltage_v, rated_frequency_hz)
    return (voltage_v / frequency_hz) / (rated_voltage_v / rated_frequency_hz)


def on_other_supply(
    voltage_v: float, frequency_hz: float, rated_voltage_v: float, rated_frequency_hz: float
) -> OtherSupply:
    r"""What becomes of a 50 Hz motor at 60 Hz, of a 60 Hz motor at 50 Hz, or of any such change.

    With :math:`\varphi` the flux of :func:`flux_share`, the torque at rated current falls with it
    and never counts above rated; breakdown torque goes with its square:

    .. math:: \frac{M}{M_N} = \min(1, \varphi), \quad \frac{M_K}{M_{K,N}} = \varphi^2, \quad
        \frac{P}{P_N} = \frac{M}{M_N} \frac{f}{f_N}

    Parameters
    ----------
    voltage_v : float
        Voltage at the motor, between lines [V]
    frequency_hz : float
        Its frequency [Hz]
    rated_voltage_v : float
        Rated voltage of the motor in the connection used [V]
    rated_frequency_hz : float
        Rated frequency of the motor [Hz]

    Returns
    -------
    OtherSupply
        Shares of rated flux, speed, torque, breakdown torque and power [-]

    Raises
    ------
    RangeError
        Voltage or another value not above zero, or a frequency above 1000 Hz

    Notes
    -----
    Cooling is left out: at lower speed the motor's own fan moves less air. More than 110 % of
    rated flux (:attr:`OtherSupply.saturates`) heats the motor even without load.

    Examples
    --------
    >>> on_other_supply(480.0, 60.0, 400.0, 50.0).power
    1.2
    >>> on_other_supply(460.0, 50.0, 460.0, 60.0).saturates
    True

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, speed control of induction motors
       (from memory); IEC 60034-1, 7.3 for the limit of flux (from memory)
    """
    checks.positive(voltage_v, "the voltage", "V")
    flux = flux_share(voltage_v, frequency_hz, rated_voltage_v, rated_frequency_hz)
    speed, torque = frequency_hz / rated_frequency_hz, min(1.0, flux)
    return OtherSupply(flux, speed, torque, flux**2, torque * speed)


def torque_share(frequency_hz: float, base_frequency_hz: float) -> float:
    r"""Continuous torque at rated current, as a share of rated torque.

    .. math:: \frac{M}{M_N} = \min\left(1, \frac{f_b}{f}\right)

    Parameters
    ----------
    frequency_hz : float
        Output frequency [Hz]
    base_frequency_hz : float
        Frequency above which the voltage no longer rises [Hz]

    Returns
    -------
    float
        Share of rated torque [-]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, or base not above zero

    Notes
    -----
    The limit by current alone. What an own-fan motor can cool at low speed is
    `core.calc.cooling`; near breakdown, :func:`breakdown_torque_share` sets the limit.

    Examples
    --------
    >>> torque_share(75.0, 60.0)
    0.8

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, speed control of induction motors
       (from memory)
    """
    return min(1.0, 1.0 / _weakening(frequency_hz, base_frequency_hz))


def breakdown_torque_share(frequency_hz: float, base_frequency_hz: float) -> float:
    r"""Breakdown torque as a share of what it is up to base.

    .. math:: \frac{M_K}{M_{K,N}} = \min\left(1, \left(\frac{f_b}{f}\right)^2\right)

    Parameters
    ----------
    frequency_hz : float
        Output frequency [Hz]
    base_frequency_hz : float
        Frequency above which the voltage no longer rises [Hz]

    Returns
    -------
    float
        Share of the breakdown torque at base [-]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, or base not above zero

    Examples
    --------
    >>> round(breakdown_torque_share(75.0, 60.0), 6)
    0.64

    References
    ----------
    .. [1] Fitzgerald, Kingsley, Umans, *Electric Machinery*, speed control of induction motors
       (from memory)
    """
    return _weakening(frequency_hz, base_frequency_hz) ** -2


def load_torque_share(
    frequency_hz: float, base_frequency_hz: float, load_fraction: float, load_kind: str
) -> float:
    r"""Torque that the load asks for at a frequency, as a share of the motor's rated torque.

    .. math:: m(f) = m_b \left(\frac{f}{f_b}\right)^k, \qquad k = 0 \text{ or } 2

    Parameters
    ----------
    frequency_hz : float
        Output frequency [Hz]
    base_frequency_hz : float
        Frequency at which the load is known [Hz]
    load_fraction : float
        Torque there, as a share of rated torque [-]
    load_kind : str
        ``constant_torque`` (belts, chains, brushes) or ``quadratic`` (pumps, fans) [-]

    Returns
    -------
    float
        Share of rated torque [-]

    Raises
    ------
    RangeError
        Frequency outside of 0 to 1000 Hz, base not above zero, load below zero or above 3, or an
        unknown kind of load

    Notes
    -----
    Starting a loaded belt or a stiff bed of brushes takes more than it takes to keep it moving. A
    pump against a head that stands still falls less than with the square.

    Examples
    --------
    >>> load_torque_share(30.0, 60.0, 0.8, "constant_torque")
    0.8
    >>> load_torque_share(30.0, 60.0, 0.8, "quadratic")
    0.2

    References
    ----------
    .. [1] Affinity laws of pumps and fans; constant friction for the rest (common practice)
    """
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency", "Hz")
    checks.positive(base_frequency_hz, "the base frequency", "Hz")
    checks.in_range(load_fraction, 0.0, 3.0, "the torque as a share of rated torque")
    if load_kind not in LOAD_POWERS:
        raise RangeError(
            "The load was not computed.",
            f"{load_kind!r} is no kind of load.",
            f"Give one of {', '.join(LOAD_POWERS)}.",
        )
    return load_fraction * (frequency_hz / base_frequency_hz) ** LOAD_POWERS[load_kind]


def torque_margin(available_share: float, needed_share: float) -> float:
    r"""How much more torque there is than the load asks for.

    .. math:: r = \frac{M_{available}}{M_{needed}} - 1

    Parameters
    ----------
    available_share : float
        Torque available, as a share of rated torque [-]
    needed_share : float
        Torque needed, as a share of rated torque [-]

    Returns
    -------
    float
        Margin: 0.25 is a quarter to spare, below zero is too little [-]

    Raises
    ------
    RangeError
        Available torque below zero, or needed torque not above zero

    Examples
    --------
    >>> round(torque_margin(1.0, 0.8), 6)
    0.25

    References
    ----------
    .. [1] Definition
    """
    checks.not_negative(available_share, "the torque available")
    checks.positive(needed_share, "the torque needed")
    return available_share / needed_share - 1.0


def frequency_max_for_load_hz(
    base_frequency_hz: float,
    load_fraction: float,
    breakdown_ratio: float = STRAIGHT_LOAD_MAX,
    reserve: float = 1.3,
) -> float:
    r"""Highest frequency at which the motor still carries a constant torque all day.

    .. math:: f_{max} = f_b \min\left(\frac{1}{m},\; \sqrt{\frac{k}{r\,m}}\right)

    Parameters
    ----------
    base_frequency_hz : float
        Frequency above which the voltage no longer rises [Hz]
    load_fraction : float
        Torque of the load as a share of rated torque, *m*, up to 1 [-]
    breakdown_ratio : float
        Breakdown torque over rated torque, *k*; the 1.6 that every motor must have unless the
        maker tells more [-]
    reserve : float
        How far breakdown torque must stay above the load, *r* [-]

    Returns
    -------
    float
        Frequency, base or above [Hz]

    Raises
    ------
    RangeError
        Base not above zero, load not above 0 or above 1, breakdown ratio below 1.6 or above 6,
        reserve below 1 or above the breakdown ratio, or a result above 1000 Hz

    Notes
    -----
    Torque only: the highest speed of the motor's bearings and fan and of the driven part come on
    top. The reserve of 1.3 is common practice.

    Examples
    --------
    >>> round(frequency_max_for_load_hz(60.0, 0.8, breakdown_ratio=2.5), 6)
    75.0

    References
    ----------
    .. [1] :func:`torque_share` and :func:`breakdown_torque_share`, solved for frequency; IEC
       60034-1, 9.4.1 for the 1.6 (from memory)
    """
    checks.positive(base_frequency_hz, "the base frequency", "Hz")
    checks.ratio(load_fraction, "the torque as a share of rated torque", zero=False)
    checks.in_range(breakdown_ratio, STRAIGHT_LOAD_MAX, 6.0, "the breakdown torque over rated")
    checks.in_range(reserve, 1.0, breakdown_ratio, "the reserve below breakdown torque")
    by_current, by_breakdown = 1.0 / load_fraction, breakdown_ratio / (reserve * load_fraction)
    highest_hz = base_frequency_hz * min(by_current, math.sqrt(by_breakdown))
    checks.in_range(highest_hz, 0.0, FREQUENCY_MAX_HZ, "the highest frequency", "Hz")
    return highest_hz


def _weakening(frequency_hz: float, base_frequency_hz: float) -> float:
    """Frequency over base where that is above one."""
    checks.in_range(frequency_hz, 0.0, FREQUENCY_MAX_HZ, "the frequency", "Hz")
    checks.positive(base_frequency_hz, "the base frequency", "Hz")
    return max(1.0, frequency_hz / base_frequency_hz)


def _check_rated(rated_voltage_v: float, rated_frequency_hz: float) -> None:
    checks.positive(rated_voltage_v, "the rated voltage", "V")
    checks.positive(rated_frequency_hz, "the rated frequency", "Hz")
