"""Voltage drop along a run, for both rule sets, and copper's resistance with temperature."""

import math
from dataclasses import dataclass

from core.calc import checks
from core.errors import RangeError

__all__ = [
    "VoltageDrop",
    "copper_factor",
    "drop_impedance_max_ohm_m",
    "drop_impedance_ohm_m",
    "voltage_drop",
]

# Zero of the resistance of annealed copper: 234.5 °C below zero (IEC 60228, IACS copper).
COPPER_ZERO_C = 234.5

COPPER_MAX_C = 250.0


@dataclass(frozen=True, slots=True)
class VoltageDrop:
    """Drop of voltage [V], as a share of the supply's [-], and what is left at the end [V].

    Line to line for three phases, across the load for one.
    """

    drop_v: float
    share: float
    end_v: float


def copper_factor(from_c: float, to_c: float) -> float:
    r"""How the resistance of copper changes with temperature.

    .. math:: \frac{R_2}{R_1} = \frac{234.5 + \vartheta_2}{234.5 + \vartheta_1}

    Parameters
    ----------
    from_c : float
        Temperature at which the resistance is known [°C]
    to_c : float
        Temperature at which it is wanted [°C]

    Returns
    -------
    float
        Factor on the resistance [-]

    Raises
    ------
    RangeError
        A temperature outside of -50 °C to 250 °C

    Notes
    -----
    The NEC writes it R2 = R1 (1 + 0.00323 (T2 - 75)) from 75 °C; 1 / (234.5 + 75) = 0.003231.

    Examples
    --------
    >>> round(copper_factor(20.0, 70.0), 4)
    1.1965

    References
    ----------
    .. [1] IEC 60228:2004 Annex A (temperature correction, from memory)
    """
    for celsius in (from_c, to_c):
        checks.in_range(celsius, -50.0, COPPER_MAX_C, "the conductor temperature", "°C")
    return (COPPER_ZERO_C + to_c) / (COPPER_ZERO_C + from_c)


def drop_impedance_ohm_m(
    resistance_ohm_m: float, reactance_ohm_m: float, power_factor: float
) -> float:
    r"""The part of a conductor's impedance that lowers the voltage at the load.

    .. math:: Z = R \cos\varphi + X \sin\varphi

    Parameters
    ----------
    resistance_ohm_m : float
        Resistance of one conductor [Ω/m]
    reactance_ohm_m : float
        Reactance of one conductor [Ω/m]
    power_factor : float
        Displacement power factor of the load, lagging [-]

    Returns
    -------
    float
        Impedance that counts [Ω/m]

    Raises
    ------
    RangeError
        Resistance not above zero, reactance below zero, or a power factor outside of 0 to 1

    Notes
    -----
    For a drive the displacement factor counts, which is near 1 with a rectifier; its lower true
    power factor comes from harmonics, which heat the wire but hardly move the fundamental.

    Examples
    --------
    >>> round(drop_impedance_ohm_m(2.0, 0.054, 0.85), 3)
    1.728

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 9 note 2 (effective Z)
    """
    checks.positive(resistance_ohm_m, "the resistance of the conductor", "Ω/m")
    checks.not_negative(reactance_ohm_m, "the reactance of the conductor", "Ω/m")
    checks.ratio(power_factor, "the power factor")
    return resistance_ohm_m * power_factor + reactance_ohm_m * math.sqrt(1.0 - power_factor**2)


def voltage_drop(
    current_a: float, length_m: float, impedance_ohm_m: float, voltage_v: float, phases: int
) -> VoltageDrop:
    r"""Voltage drop along a run.

    .. math:: \Delta U = 2\, I Z L \quad \text{or, three-phase,} \quad \sqrt{3}\, I Z L

    Parameters
    ----------
    current_a : float
        Current in each line [A]
    length_m : float
        Length of the run, one way [m]
    impedance_ohm_m : float
        Impedance of one conductor that counts, see drop_impedance_ohm_m [Ω/m]
    voltage_v : float
        Voltage at the start: line to line for three phases, across the load for one [V]
    phases : int
        1 for two conductors, 3 for a balanced three-phase run [-]

    Returns
    -------
    VoltageDrop
        Drop, share and voltage at the end [V and -]

    Raises
    ------
    RangeError
        A value out of range, phases neither 1 nor 3, or a drop larger than the voltage

    Notes
    -----
    Leaves out what is at right angles to the voltage: within 1 % for these runs, checked against a
    power-flow solution.

    Examples
    --------
    >>> round(voltage_drop(16.0, 100.0, 1.98e-3, 240.0, 1).drop_v, 3)
    6.336

    References
    ----------
    .. [1] Common practice; IEC 60364-5-52:2009 Annex G with b = 1 gives this drop over √3 for
       three phases, because it counts from line to neutral
    """
    checks.not_negative(current_a, "the current", "A")
    checks.not_negative(length_m, "the length", "m")
    checks.positive(impedance_ohm_m, "the impedance of the conductor", "Ω/m")
    checks.positive(voltage_v, "the voltage", "V")
    drop_v = _conductors(phases) * current_a * impedance_ohm_m * length_m
    checks.in_range(drop_v, 0.0, voltage_v, "the voltage drop", "V")
    return VoltageDrop(drop_v, drop_v / voltage_v, voltage_v - drop_v)


def drop_impedance_max_ohm_m(
    current_a: float, length_m: float, voltage_v: float, phases: int, share_max: float
) -> float:
    r"""The highest impedance of one conductor that keeps a voltage drop within a limit.

    .. math:: Z_{max} = \frac{s\, U}{2\, I L} \quad \text{or, three-phase,} \quad
        \frac{s\, U}{\sqrt{3}\, I L}

    Parameters
    ----------
    current_a : float
        Current in each line [A]
    length_m : float
        Length of the run, one way [m]
    voltage_v : float
        Voltage at the start: line to line for three phases, across the load for one [V]
    phases : int
        1 for two conductors, 3 for a balanced three-phase run [-]
    share_max : float
        Highest drop as a share of the voltage [-]

    Returns
    -------
    float
        Highest impedance that counts, see drop_impedance_ohm_m [Ω/m]

    Raises
    ------
    RangeError
        A value not above zero, a share above 1, or phases neither 1 nor 3

    Examples
    --------
    >>> round(drop_impedance_max_ohm_m(16.0, 100.0, 240.0, 1, 0.03) * 1000, 4)
    2.25

    References
    ----------
    .. [1] Inverse of voltage_drop
    """
    checks.positive(current_a, "the current", "A")
    checks.positive(length_m, "the length", "m")
    checks.positive(voltage_v, "the voltage", "V")
    checks.ratio(share_max, "the limit of the voltage drop", zero=False)
    return share_max * voltage_v / (_conductors(phases) * current_a * length_m)


def _conductors(phases: int) -> float:
    """How often the drop along one conductor counts between the lines of the load."""
    factor = {1: 2.0, 3: math.sqrt(3.0)}.get(phases)
    if factor is None:
        raise RangeError(
            "The voltage drop was not computed.",
            f"The run has {phases} phases; 1 or 3 is needed.",
            "Two lines of a three-phase supply count as one phase.",
        )
    return factor
