"""What a drive takes from the supply, and the voltage and charge behind its rectifier."""

import math

from core.calc import checks
from core.calc.sourced import Sourced
from core.errors import RangeError

__all__ = [
    "assumed_power_factor",
    "bus_voltage_v",
    "discharge_time_s",
    "discharged_voltage_v",
    "input_current_a",
    "needed_input_a",
    "single_phase_ratio",
    "stored_charge_c",
    "stored_energy_j",
]

# Below this a charged capacitor counts as safe to touch (IEC 60204-1, 6.2.4, from memory).
SAFE_VOLTAGE_V = 60.0

# True power factors of diode rectifiers with bus capacitors: the low, cautious side of what the
# simulation in tests/published/rectifier.py gives. Bare, with 0.1 to 0.4 mH of supply, 0.60 to 0.65
# on one phase and 0.54 to 0.70 on three; with a choke 0.70 to 0.78 and 0.89 to 0.94.
_POWER_FACTORS = {(1, False): 0.60, (1, True): 0.70, (3, False): 0.60, (3, True): 0.88}


def assumed_power_factor(phases: int, *, choke: bool) -> Sourced:
    """True power factor at a drive's input, where nobody stated it.

    Parameters
    ----------
    phases : int
        Phases that feed the rectifier, 1 or 3 [-]
    choke : bool
        Whether a choke stands in its supply or its DC link [-]

    Returns
    -------
    Sourced
        Displacement and distortion together, always an estimate [-]

    Raises
    ------
    RangeError
        Phases neither 1 nor 3

    Notes
    -----
    The displacement factor that data sheets print near 0.95 or above leaves out the harmonics
    and must not be used here.

    Examples
    --------
    >>> assumed_power_factor(1, choke=False).value
    0.6

    References
    ----------
    .. [1] Bridge with bus capacitors, simulated with 0.1 to 8 mH in each line (computed)
    """
    _check_phases(phases)
    with_choke = "with a choke" if choke else "without a choke"
    return Sourced(
        _POWER_FACTORS[phases, bool(choke)],
        "estimate",
        f"assumed for a {phases}-phase rectifier {with_choke}",
    )


def needed_input_a(
    shaft_power_w: float,
    motor_efficiency: float,
    drive_efficiency: float,
    voltage_v: float,
    true_power_factor: float,
    phases: int = 1,
) -> float:
    r"""Current that a drive takes from its supply to give the motor's shaft its power.

    .. math:: I = \frac{P}{\eta_M \eta_D U \lambda} \quad \text{on one phase,} \quad
        I = \frac{P}{\sqrt 3\, \eta_M \eta_D U \lambda} \quad \text{on three}

    Parameters
    ----------
    shaft_power_w : float
        Power in use at the motor's shaft [W]
    motor_efficiency : float
        Efficiency of the motor [-]
    drive_efficiency : float
        Efficiency of the drive [-]
    voltage_v : float
        Supply voltage at the drive's input terminals [V]
    true_power_factor : float
        Active over apparent power with all harmonics, :math:`\lambda` [-]
    phases : int
        Phases that feed the drive, 1 or 3 [-]

    Returns
    -------
    float
        RMS current with its harmonics, an estimate [A]

    Raises
    ------
    RangeError
        Power below zero, voltage not above zero, an efficiency or the power factor outside of 0 to
        1, or phases neither 1 nor 3

    Notes
    -----
    Not the motor's current, and not :math:`\sqrt 3` of it. Conductors and protection go by the
    drive's RATED input current: :func:`input_current_a` takes it where it is known.

    Examples
    --------
    >>> round(needed_input_a(1500.0, 0.853, 0.95, 240.0, 0.62), 2)
    12.44

    References
    ----------
    .. [1] Definition of active power and of the true power factor
    """
    checks.not_negative(shaft_power_w, "the shaft power", "W")
    checks.ratio(motor_efficiency, "the efficiency of the motor", zero=False)
    checks.ratio(drive_efficiency, "the efficiency of the drive", zero=False)
    checks.positive(voltage_v, "the supply voltage", "V")
    checks.ratio(true_power_factor, "the true power factor", zero=False)
    _check_phases(phases)
    power_w = shaft_power_w / (motor_efficiency * drive_efficiency)
    return power_w / (math.sqrt(phases) * voltage_v * true_power_factor)


def input_current_a(rated_input_a: float | None, estimated_input_a: float | None) -> Sourced:
    """The input current that sizes a drive's supply: the rated one, else an estimate that says so.

    Parameters
    ----------
    rated_input_a : float | None
        Rated input current of the drive for this number of phases, by its maker [A]
    estimated_input_a : float | None
        Current of :func:`needed_input_a` at the drive's rated power [A]

    Returns
    -------
    Sourced
        Current and what it rests on [A]

    Raises
    ------
    RangeError
        A current is not above zero, or there is none

    Examples
    --------
    >>> input_current_a(12.0, 10.3).value
    12.0
    >>> input_current_a(None, 10.3).basis
    'estimate'

    References
    ----------
    .. [1] NEC 2023, 430.122(A): the rated input current of the power conversion equipment counts
    """
    if rated_input_a is not None:
        checks.positive(rated_input_a, "the rated input current", "A")
        return Sourced(rated_input_a, "stated", "rated input current of the drive")
    if estimated_input_a is None:
        raise RangeError(
            "The input current was not found.",
            "Neither a rated nor an estimated input current is at hand.",
            "Enter the drive's rated input current from its plate or manual.",
        )
    checks.positive(estimated_input_a, "the estimated input current", "A")
    return Sourced(estimated_input_a, "estimate", "from shaft power and assumed power factor")


def single_phase_ratio(power_factor_3ph: float, power_factor_1ph: float) -> float:
    r"""Line current on one phase over that on three, for the same power and voltage.

    .. math:: \frac{I_1}{I_3} = \sqrt 3 \, \frac{\lambda_3}{\lambda_1}

    Parameters
    ----------
    power_factor_3ph : float
        True power factor on three phases [-]
    power_factor_1ph : float
        True power factor on one phase [-]

    Returns
    -------
    float
        Ratio of the currents [-]

    Raises
    ------
    RangeError
        A power factor outside of 0 to 1

    Notes
    -----
    Why a drive made for three phases cannot give its rated current on one: its rectifier, its
    terminals and its capacitors would carry this much more.

    Examples
    --------
    >>> round(single_phase_ratio(0.65, 0.65), 4)
    1.7321

    References
    ----------
    .. [1] Equal active power in both cases
    """
    checks.ratio(power_factor_3ph, "the true power factor on three phases", zero=False)
    checks.ratio(power_factor_1ph, "the true power factor on one phase", zero=False)
    return math.sqrt(3.0) * power_factor_3ph / power_factor_1ph


def bus_voltage_v(supply_v: float, *, doubles: bool = False) -> float:
    r"""Voltage of the DC bus of an idle drive.

    .. math:: U_{DC} = \sqrt 2 \, U \quad \text{or, doubled,} \quad 2 \sqrt 2 \, U

    Parameters
    ----------
    supply_v : float
        RMS supply voltage, between the lines that feed the drive [V]
    doubles : bool
        Whether the input doubles the voltage, as 120 V classes with 230 V output do [-]

    Returns
    -------
    float
        Bus voltage at no load [V]

    Raises
    ------
    RangeError
        Voltage not above zero

    Notes
    -----
    Under load it sags; while a motor is being braked it rises. It stays on the terminals after
    the supply is off: wait and measure.

    Examples
    --------
    >>> round(bus_voltage_v(120.0, doubles=True), 1)
    339.4

    References
    ----------
    .. [1] Peak of a sinusoidal voltage; full-wave voltage doubler
    """
    checks.positive(supply_v, "the supply voltage", "V")
    return (2.0 if doubles else 1.0) * math.sqrt(2.0) * supply_v


def discharged_voltage_v(time_s: float, start_v: float, bleeder_ohm: float, bus_f: float) -> float:
    r"""Voltage left on the bus some time after the supply is off.

    .. math:: U = U_0 \, e^{-t / RC}

    Parameters
    ----------
    time_s : float
        Time since the supply went off [s]
    start_v : float
        Voltage at that moment [V]
    bleeder_ohm : float
        Resistance that discharges the capacitors [Ohm]
    bus_f : float
        Capacitance of the bus [F]

    Returns
    -------
    float
        Voltage left [V]

    Raises
    ------
    RangeError
        Time below zero, or another value not above zero

    Notes
    -----
    Says how long it takes at least. Before touching anything: the wait on the drive's label, then
    measure. A broken bleeder discharges nothing.

    Examples
    --------
    >>> discharged_voltage_v(0.0, 325.0, 33e3, 1e-3)
    325.0

    References
    ----------
    .. [1] Discharge of a capacitor through a resistor
    """
    checks.not_negative(time_s, "the time", "s")
    checks.positive(start_v, "the voltage of the bus", "V")
    return start_v * math.exp(-time_s / _time_constant_s(bleeder_ohm, bus_f))


def discharge_time_s(
    start_v: float, bleeder_ohm: float, bus_f: float, safe_v: float = SAFE_VOLTAGE_V
) -> float:
    r"""Time until the bus has fallen to a safe voltage: :func:`discharged_voltage_v` turned round.

    .. math:: t = R C \ln \frac{U_0}{U}

    Parameters
    ----------
    start_v : float
        Voltage when the supply goes off [V]
    bleeder_ohm : float
        Resistance that discharges the capacitors [Ohm]
    bus_f : float
        Capacitance of the bus [F]
    safe_v : float
        Voltage that counts as safe [V]

    Returns
    -------
    float
        Time; zero where the voltage is safe already [s]

    Raises
    ------
    RangeError
        A value is not above zero

    Notes
    -----
    More than 5 s asks for a warning with the time on the panel. The drive's label wins over this.

    Examples
    --------
    >>> round(discharge_time_s(325.0, 33e3, 1e-3), 2)
    55.75

    References
    ----------
    .. [1] Discharge of a capacitor through a resistor; 60 V and 5 s by IEC 60204-1, 6.2.4 (from
       memory)
    """
    checks.positive(start_v, "the voltage of the bus", "V")
    checks.positive(safe_v, "the safe voltage", "V")
    return _time_constant_s(bleeder_ohm, bus_f) * max(0.0, math.log(start_v / safe_v))


def stored_charge_c(voltage_v: float, bus_f: float) -> float:
    r"""Charge on the capacitors of the bus.

    .. math:: Q = C U

    Parameters
    ----------
    voltage_v : float
        Voltage of the bus [V]
    bus_f : float
        Capacitance of the bus [F]

    Returns
    -------
    float
        Charge [C]

    Raises
    ------
    RangeError
        Voltage below zero, or capacitance not above zero

    Notes
    -----
    Up to 60 µC counts as harmless by the same clause as the 60 V (from memory).

    Examples
    --------
    >>> round(stored_charge_c(340.0, 470e-6), 4)
    0.1598

    References
    ----------
    .. [1] Definition of capacitance
    """
    checks.not_negative(voltage_v, "the voltage of the bus", "V")
    checks.positive(bus_f, "the capacitance of the bus", "F")
    return bus_f * voltage_v


def stored_energy_j(voltage_v: float, bus_f: float) -> float:
    r"""Energy in the capacitors of the bus.

    .. math:: E = \frac{1}{2} C U^2

    Parameters
    ----------
    voltage_v : float
        Voltage of the bus [V]
    bus_f : float
        Capacitance of the bus [F]

    Returns
    -------
    float
        Energy [J]

    Raises
    ------
    RangeError
        Voltage below zero, or capacitance not above zero

    Examples
    --------
    >>> stored_energy_j(400.0, 1e-3)
    80.0

    References
    ----------
    .. [1] Energy of a capacitor
    """
    return 0.5 * voltage_v * stored_charge_c(voltage_v, bus_f)


def _time_constant_s(bleeder_ohm: float, bus_f: float) -> float:
    checks.positive(bleeder_ohm, "the discharging resistance", "Ω")
    checks.positive(bus_f, "the capacitance of the bus", "F")
    return bleeder_ohm * bus_f


def _check_phases(phases: int) -> None:
    if phases not in (1, 3):
        raise RangeError("The current was not computed.", f"{phases} phases.", "Give 1 or 3.")
