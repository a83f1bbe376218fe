"""Reflected waves: what a drive's steep pulses do at the far end of the motor cable."""

from dataclasses import dataclass

from core.calc import checks

__all__ = [
    "InsulationLimit",
    "critical_length_m",
    "insulation_limit",
    "reflection_share",
    "terminal_peak_v",
]

# Speed of a pulse in a plastic-insulated cable: 1.5 to 1.7e8 m/s (common practice).
WAVE_SPEED_M_S = 1.6e8

LIGHT_M_S = 2.998e8


@dataclass(frozen=True, slots=True)
class InsulationLimit:
    """What a winding stands: the peak between its terminals, and how fast it may rise."""

    peak_v: float
    rise_time_min_s: float
    source: str


def critical_length_m(rise_time_s: float, wave_speed_m_s: float = WAVE_SPEED_M_S) -> float:
    r"""Length of motor cable from which a pulse is reflected to its full height.

    .. math:: l_c = \frac{v\,t_r}{2}

    Parameters
    ----------
    rise_time_s : float
        Time in which the drive's output switches, 10 to 90 % [s]
    wave_speed_m_s : float
        Speed of the pulse in the cable [m/s]

    Returns
    -------
    float
        Critical length [m]

    Raises
    ------
    RangeError
        Rise time not above zero or above 1 ms, or a speed outside of 0 to that of light

    Notes
    -----
    Modern output stages switch in 0.05 to 0.4 µs (common practice), so that a motor some ten
    metres away already sees it.

    Examples
    --------
    >>> round(critical_length_m(0.2e-6, 1.5e8), 9)
    15.0

    References
    ----------
    .. [1] Travelling-wave theory; Persson, *Transient effects in application of PWM inverters to
       induction motors*, IEEE Trans. Ind. Appl. 1992 (from memory)
    """
    checks.positive(rise_time_s, "the rise time", "s")
    checks.in_range(rise_time_s, 0.0, 1e-3, "the rise time", "s")
    checks.positive(wave_speed_m_s, "the speed of the pulse", "m/s")
    checks.in_range(wave_speed_m_s, 0.0, LIGHT_M_S, "the speed of the pulse", "m/s")
    return wave_speed_m_s * rise_time_s / 2.0


def reflection_share(motor_ohm: float, cable_ohm: float) -> float:
    r"""Share of a pulse that the motor sends back into the cable.

    .. math:: \Gamma = \frac{Z_M - Z_C}{Z_M + Z_C}

    Parameters
    ----------
    motor_ohm : float
        Surge impedance of the motor [Ohm]
    cable_ohm : float
        Surge impedance of the cable [Ohm]

    Returns
    -------
    float
        Reflection, 0.85 to 0.95 for small motors [-]

    Raises
    ------
    RangeError
        An impedance is not above zero

    Examples
    --------
    >>> round(reflection_share(2000.0, 80.0), 3)
    0.923

    References
    ----------
    .. [1] Travelling-wave theory of transmission lines
    """
    checks.positive(motor_ohm, "the surge impedance of the motor", "Ω")
    checks.positive(cable_ohm, "the surge impedance of the cable", "Ω")
    return (motor_ohm - cable_ohm) / (motor_ohm + cable_ohm)


def terminal_peak_v(
    bus_v: float, length_m: float, critical_length_m: float, reflection_share: float = 1.0
) -> float:
    r"""Highest voltage between the motor's terminals behind a cable.

    .. math:: \hat U = U_{DC} \left(1 + \Gamma \min\left(1, \frac{l}{l_c}\right)\right)

    Parameters
    ----------
    bus_v : float
        Voltage of the drive's DC bus, at its highest [V]
    length_m : float
        Length of the motor cable [m]
    critical_length_m : float
        Length from :func:`critical_length_m` [m]
    reflection_share : float
        Reflection at the motor; 1 is the worst [-]

    Returns
    -------
    float
        Peak [V]

    Raises
    ------
    RangeError
        Bus or critical length not above zero, length below zero, or reflection outside of 0 to 1

    Notes
    -----
    For one pulse that finds the cable at rest; pulses that come closer than the ringing lasts can
    add up to more than twice the bus. A reactor or filter at the drive lowers it.

    Examples
    --------
    >>> terminal_peak_v(325.0, 50.0, 15.0)
    650.0

    References
    ----------
    .. [1] Travelling-wave theory; Persson 1992, as for :func:`critical_length_m` (from memory)
    """
    checks.positive(bus_v, "the voltage of the DC bus", "V")
    checks.not_negative(length_m, "the length of the motor cable", "m")
    checks.positive(critical_length_m, "the critical length", "m")
    checks.ratio(reflection_share, "the reflection")
    return bus_v * (1.0 + reflection_share * min(1.0, length_m / critical_length_m))


def insulation_limit(rated_voltage_v: float, *, inverter_duty: bool) -> InsulationLimit:
    r"""Peak and rise time that a motor up to 600 V is built for.

    Inverter duty:

    .. math:: \hat U \le 1.1 \cdot 2 \sqrt 2 \, U_N = 3.111 \, U_N

    Parameters
    ----------
    rated_voltage_v : float
        Rated voltage of the motor, between lines [V]
    inverter_duty : bool
        Whether the maker states that it suits inverter feed by MG 1 part 31 [-]

    Returns
    -------
    InsulationLimit
        Highest peak [V] and shortest rise time [s]

    Raises
    ------
    RangeError
        Voltage not above zero or above 600 V

    Notes
    -----
    The general-purpose figures, 1000 V and 2 µs, bind both at once; a motor below 230 V hardly
    ever meets the first but nearly always the second. What the motor's maker states counts before
    either.

    Examples
    --------
    >>> round(insulation_limit(460.0, inverter_duty=True).peak_v)
    1431

    References
    ----------
    .. [1] NEMA MG 1, part 30 (30.2.2.8) and part 31 (31.4.4.2), seen as quoted in conference papers
    """
    checks.positive(rated_voltage_v, "the rated voltage", "V")
    checks.in_range(rated_voltage_v, 0.0, 600.0, "the rated voltage", "V")
    if inverter_duty:
        peak_v = 1.1 * 2.0 * 2.0**0.5 * rated_voltage_v
        return InsulationLimit(peak_v, 0.1e-6, "NEMA MG 1 part 31, inverter duty")
    return InsulationLimit(1000.0, 2e-6, "NEMA MG 1 part 30, general purpose")
