"""Whether a signal source can drive what hangs on it: current loops and potentiometers."""

import math

from core.calc import checks
from core.calc.potentiometer import worst_bend
from core.calc.signals import LOOP_CURRENT_MAX_A
from core.errors import RangeError

__all__ = [
    "loop_current_top_a",
    "loop_margin_v",
    "loop_resistance_ohm",
    "pot_dissipation_w",
    "pot_ohm_max",
    "pot_ohm_min",
]


def loop_resistance_ohm(input_resistances_ohm: tuple[float, ...], wire_ohm: float = 0.0) -> float:
    r"""Resistance in a current loop: everything in series.

    .. math:: R = \sum_i R_i + R_{wire}

    Parameters
    ----------
    input_resistances_ohm : tuple[float, ...]
        Resistance of each input in the loop [Ohm]
    wire_ohm : float
        Resistance of both wires together [Ohm]

    Returns
    -------
    float
        Resistance of the loop [Ohm]

    Raises
    ------
    RangeError
        No input in the loop, an input not above zero, or wire below zero

    Notes
    -----
    Inputs that share a common with their drive cannot stand in series without an isolator.

    Examples
    --------
    >>> loop_resistance_ohm((250.0, 250.0), 10.0)
    510.0

    References
    ----------
    .. [1] Resistances in series
    """
    if not input_resistances_ohm:
        raise RangeError(
            "The loop was not computed.", "There is no input in it.", "Give the input's resistance."
        )
    for resistance_ohm in input_resistances_ohm:
        checks.positive(resistance_ohm, "the resistance of an input", "Ω")
    checks.not_negative(wire_ohm, "the resistance of the wires", "Ω")
    return sum(input_resistances_ohm) + wire_ohm


def loop_margin_v(
    supply_v: float,
    transmitter_min_v: float,
    loop_ohm: float,
    current_max_a: float = LOOP_CURRENT_MAX_A,
) -> float:
    r"""Voltage to spare in a loop at its highest current.

    .. math:: U = V_S - V_{min} - R I_{max}

    Parameters
    ----------
    supply_v : float
        Lowest voltage of the loop's supply [V]
    transmitter_min_v : float
        Voltage that the transmitter itself needs [V]
    loop_ohm : float
        Resistance in the loop, wires included [Ohm]
    current_max_a : float
        Highest current the loop must carry [A]

    Returns
    -------
    float
        Margin; below zero the signal stops short of its top [V]

    Raises
    ------
    RangeError
        Supply not above zero, transmitter voltage or resistance below zero, or current outside of
        0 to 0.1 A

    Examples
    --------
    >>> round(loop_margin_v(24.0, 12.0, 500.0), 2)
    1.75

    References
    ----------
    .. [1] Kirchhoff's voltage law
    """
    _check_loop(supply_v, transmitter_min_v, loop_ohm)
    checks.positive(current_max_a, "the highest current", "A")
    checks.in_range(current_max_a, 0.0, 0.1, "the highest current", "A")
    return supply_v - transmitter_min_v - loop_ohm * current_max_a


def loop_current_top_a(supply_v: float, transmitter_min_v: float, loop_ohm: float) -> float:
    r"""Current at which a loop runs out of voltage.

    .. math:: I = \frac{V_S - V_{min}}{R}

    Parameters
    ----------
    supply_v : float
        Lowest voltage of the loop's supply [V]
    transmitter_min_v : float
        Voltage that the transmitter itself needs [V]
    loop_ohm : float
        Resistance in the loop, wires included [Ohm]

    Returns
    -------
    float
        Highest current that the loop reaches; zero where the transmitter is not even awake [A]

    Raises
    ------
    RangeError
        Supply or resistance not above zero, or transmitter voltage below zero

    Notes
    -----
    What the station then does: it follows its reference up to this current and stays there.

    Examples
    --------
    >>> round(1e3 * loop_current_top_a(24.0, 12.0, 750.0), 3)
    16.0

    References
    ----------
    .. [1] Ohm's law
    """
    _check_loop(supply_v, transmitter_min_v, loop_ohm)
    checks.positive(loop_ohm, "the resistance of the loop", "Ω")
    return max(0.0, supply_v - transmitter_min_v) / loop_ohm


def pot_ohm_min(supply_v: float, supply_max_a: float, load_ohm: float = math.inf) -> float:
    r"""Lowest potentiometer that does not overload the drive's reference supply.

    .. math:: R_{min} = \frac{1}{I_{max} / V_S - 1 / R_L}

    Parameters
    ----------
    supply_v : float
        Voltage of the reference supply [V]
    supply_max_a : float
        Current that it may give [A]
    load_ohm : float
        Resistance of the reference input, which hangs on it too at full knob [Ohm]

    Returns
    -------
    float
        Resistance from end to end [Ohm]

    Raises
    ------
    RangeError
        A value not above zero, or an input that takes all the current by itself

    Notes
    -----
    With the wiper at its upper end, where the supply gives most. Allow for the pot's tolerance:
    a 5 kΩ one of 20 % may have 4 kΩ.

    Examples
    --------
    >>> pot_ohm_min(10.0, 0.010)
    1000.0

    References
    ----------
    .. [1] Ohm's law, potentiometer and input in parallel
    """
    checks.positive(supply_v, "the voltage of the reference supply", "V")
    checks.positive(supply_max_a, "the current of the reference supply", "A")
    checks.positive(load_ohm, "the resistance of the reference input", "Ω", endless=True)
    spare = supply_max_a / supply_v - 1.0 / load_ohm
    if not spare > 0.0:
        raise RangeError(
            "No potentiometer was found.",
            "The reference input alone takes all that the supply gives.",
            "Compare both with the drive's manual.",
        )
    return 1.0 / spare


def pot_ohm_max(load_ohm: float, fall_max: float) -> float:
    """Highest potentiometer whose scale its load does not bend too much.

    Parameters
    ----------
    load_ohm : float
        Resistance of the reference input [Ohm]
    fall_max : float
        Fall below the straight line that is still allowed, as a share of the supply [-]

    Returns
    -------
    float
        Resistance from end to end [Ohm]

    Raises
    ------
    RangeError
        Load not above zero, or allowed fall outside of 0.0001 to 0.3

    Notes
    -----
    The inverse of `core.calc.potentiometer.worst_bend`; at a small fall *e* about 27/4 *e* of the
    load. Bending moves no end of the scale, only what lies between.

    Examples
    --------
    >>> round(pot_ohm_max(100e3, 0.01449), -1)
    10000.0

    References
    ----------
    .. [1] `core.calc.potentiometer.worst_bend`, solved by halving
    """
    checks.positive(load_ohm, "the resistance of the reference input", "Ω")
    checks.in_range(fall_max, 1e-4, 0.3, "the allowed fall below the straight line")
    low, high = 0.0, 100.0
    for _halving in range(60):
        middle = (low + high) / 2.0
        if worst_bend(middle, 1.0).fall < fall_max:
            low = middle
        else:
            high = middle
    return low * load_ohm


def pot_dissipation_w(supply_v: float, pot_ohm: float) -> float:
    r"""Heat in a potentiometer across its supply.

    .. math:: P = \frac{V_S^2}{R_P}

    Parameters
    ----------
    supply_v : float
        Voltage of the reference supply [V]
    pot_ohm : float
        Resistance from end to end [Ohm]

    Returns
    -------
    float
        Power, to be compared with half of what the part is rated for [W]

    Raises
    ------
    RangeError
        A value not above zero

    Examples
    --------
    >>> pot_dissipation_w(10.0, 10e3)
    0.01

    References
    ----------
    .. [1] Joule's law; the half is common practice
    """
    checks.positive(supply_v, "the voltage of the reference supply", "V")
    checks.positive(pot_ohm, "the resistance of the potentiometer", "Ω")
    return supply_v**2 / pot_ohm


def _check_loop(supply_v: float, transmitter_min_v: float, loop_ohm: float) -> None:
    checks.positive(supply_v, "the loop supply", "V")
    checks.not_negative(transmitter_min_v, "the voltage the transmitter needs", "V")
    checks.not_negative(loop_ohm, "the resistance of the loop", "Ω")
