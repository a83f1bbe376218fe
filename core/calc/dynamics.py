"""Starting and stopping: inertia, shortest ramps, and the energy that stopping gives back."""

from dataclasses import dataclass

from core.calc import checks
from core.calc.drive_input import stored_energy_j
from core.errors import RangeError

__all__ = [
    "Deceleration",
    "acceleration_time_s",
    "belt_inertia_kg_m2",
    "bus_margin_j",
    "deceleration_time_s",
    "ramp_travel_m",
    "reflected_inertia_kg_m2",
    "stopping_energy_j",
    "stopping_power_w",
]


@dataclass(frozen=True, slots=True)
class Deceleration:
    """The shortest even ramp to a stop without a braking resistor."""

    time_s: float
    braking_torque_n_m: float
    """Torque that the motor brakes with during the ramp; zero where the load stops by itself."""
    bus_energy_j: float
    """Energy that raises the voltage of the bus."""
    limit: str
    """What sets the time: ``torque`` of motor and drive, or the ``bus`` voltage."""


def reflected_inertia_kg_m2(load_inertia_kg_m2: float, ratio: float) -> float:
    r"""Inertia of a load as the motor's shaft feels it.

    .. math:: J' = \frac{J}{i^2}

    Parameters
    ----------
    load_inertia_kg_m2 : float
        Inertia at the load's own shaft [kg m²]
    ratio : float
        Turns of the motor for one of that shaft, *i* [-]

    Returns
    -------
    float
        Inertia at the motor's shaft [kg m²]

    Raises
    ------
    RangeError
        Inertia below zero, or ratio not above zero

    Notes
    -----
    Add the motor's own inertia, which outweighs a geared load more often than not.

    Examples
    --------
    >>> reflected_inertia_kg_m2(2.0, 20.0)
    0.005

    References
    ----------
    .. [1] Equal kinetic energy
    """
    checks.not_negative(load_inertia_kg_m2, "the inertia of the load", "kg·m²")
    checks.positive(ratio, "the ratio")
    return load_inertia_kg_m2 / ratio**2


def belt_inertia_kg_m2(mass_kg: float, surface_speed_m_s: float, motor_speed_rad_s: float) -> float:
    r"""Inertia at the motor's shaft of a belt, a chain and the fruit on them.

    .. math:: J' = m \left(\frac{v}{\omega}\right)^2

    Parameters
    ----------
    mass_kg : float
        Everything that moves along: belt, slats, fruit [kg]
    surface_speed_m_s : float
        Its speed [m/s]
    motor_speed_rad_s : float
        Speed of the motor at the same moment [rad/s]

    Returns
    -------
    float
        Inertia at the motor's shaft [kg m²]

    Raises
    ------
    RangeError
        Mass or surface speed below zero, or motor speed not above zero

    Examples
    --------
    >>> belt_inertia_kg_m2(100.0, 1.0, 100.0)
    0.01

    References
    ----------
    .. [1] Equal kinetic energy
    """
    checks.not_negative(mass_kg, "the mass", "kg")
    checks.not_negative(surface_speed_m_s, "the surface speed", "m/s")
    checks.positive(motor_speed_rad_s, "the motor's speed", "rad/s")
    return mass_kg * (surface_speed_m_s / motor_speed_rad_s) ** 2


def acceleration_time_s(
    inertia_kg_m2: float, speed_rad_s: float, motor_torque_n_m: float, load_torque_n_m: float = 0.0
) -> float:
    r"""Shortest time from standstill to a speed, with a constant torque.

    .. math:: t = \frac{J \omega}{M - M_L}

    Parameters
    ----------
    inertia_kg_m2 : float
        Inertia at the motor's shaft, its own included [kg m²]
    speed_rad_s : float
        Speed to be reached [rad/s]
    motor_torque_n_m : float
        Torque that the motor may give on the drive's overload [N m]
    load_torque_n_m : float
        Torque that the load takes meanwhile [N m]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    RangeError
        Inertia, speed or load torque below zero, motor torque not above zero, or not above the
        load's: nothing would start

    Notes
    -----
    Good up to base frequency. Must end within the time that the drive allows its overload.

    Examples
    --------
    >>> round(acceleration_time_s(0.02, 157.08, 5.0), 3)
    0.628

    References
    ----------
    .. [1] Newton's second law for rotation
    """
    checks.not_negative(inertia_kg_m2, "the inertia", "kg·m²")
    checks.not_negative(speed_rad_s, "the speed", "rad/s")
    checks.positive(motor_torque_n_m, "the torque of the motor", "N·m")
    checks.not_negative(load_torque_n_m, "the torque of the load", "N·m")
    if not motor_torque_n_m > load_torque_n_m:
        raise RangeError(
            "The ramp was not computed.",
            f"The motor gives {motor_torque_n_m:.4g} N·m and the load takes "
            f"{load_torque_n_m:.4g} N·m: it would not start.",
            "Lighten the load, raise the gear ratio, or use a larger drive or motor.",
        )
    return inertia_kg_m2 * speed_rad_s / (motor_torque_n_m - load_torque_n_m)


def stopping_energy_j(inertia_kg_m2: float, speed_rad_s: float) -> float:
    r"""Energy that must go somewhere when a load is stopped.

    .. math:: E = \frac{1}{2} J \omega^2

    Parameters
    ----------
    inertia_kg_m2 : float
        Inertia at the motor's shaft, its own included [kg m²]
    speed_rad_s : float
        Speed before stopping [rad/s]

    Returns
    -------
    float
        Kinetic energy [J]

    Raises
    ------
    RangeError
        Inertia or speed below zero

    Examples
    --------
    >>> round(stopping_energy_j(0.02, 157.08), 1)
    246.7

    References
    ----------
    .. [1] Kinetic energy of rotation
    """
    checks.not_negative(inertia_kg_m2, "the inertia", "kg·m²")
    checks.not_negative(speed_rad_s, "the speed", "rad/s")
    return 0.5 * inertia_kg_m2 * speed_rad_s**2


def stopping_power_w(inertia_kg_m2: float, speed_rad_s: float, time_s: float) -> float:
    r"""Highest power on an even ramp to a stop, at its beginning: twice the mean.

    .. math:: P = \frac{J \omega^2}{t}

    Parameters
    ----------
    inertia_kg_m2 : float
        Inertia at the motor's shaft, its own included [kg m²]
    speed_rad_s : float
        Speed before stopping [rad/s]
    time_s : float
        Length of the ramp [s]

    Returns
    -------
    float
        Power that inertia gives back at first [W]

    Raises
    ------
    RangeError
        Inertia or speed below zero, or time not above zero

    Notes
    -----
    Before what friction and losses take. A braking resistor must stand this peak and half of it
    on average over the ramp.

    Examples
    --------
    >>> round(stopping_power_w(0.02, 157.08, 1.0), 1)
    493.5

    References
    ----------
    .. [1] Kinetic energy of rotation over an even ramp
    """
    checks.positive(time_s, "the deceleration time", "s")
    return 2.0 * stopping_energy_j(inertia_kg_m2, speed_rad_s) / time_s


def bus_margin_j(bus_f: float, bus_v: float, bus_trip_v: float) -> float:
    r"""Energy that the bus takes up before the drive trips on overvoltage.

    .. math:: E = \frac{1}{2} C \left(U_{trip}^2 - U_{DC}^2\right)

    Parameters
    ----------
    bus_f : float
        Capacitance of the bus [F]
    bus_v : float
        Voltage of the bus before braking, at the highest supply voltage [V]
    bus_trip_v : float
        Voltage at which the drive trips [V]

    Returns
    -------
    float
        Energy [J]

    Raises
    ------
    RangeError
        Capacitance or bus voltage not above zero, or a trip level that is not above it

    Examples
    --------
    >>> bus_margin_j(1e-3, 300.0, 400.0)
    35.0

    References
    ----------
    .. [1] Energy of a capacitor
    """
    checks.positive(bus_v, "the voltage of the bus", "V")
    checks.positive(bus_trip_v, "the trip level", "V")
    if not bus_trip_v > bus_v:
        raise RangeError(
            "The margin of the bus was not computed.",
            f"The trip level, {bus_trip_v:.4g} V, is not above the bus, {bus_v:.4g} V.",
            "Compare the supply voltage with the drive's input range.",
        )
    return stored_energy_j(bus_trip_v, bus_f) - stored_energy_j(bus_v, bus_f)


def deceleration_time_s(
    inertia_kg_m2: float,
    speed_rad_s: float,
    braking_torque_n_m: float,
    bus_margin_j: float,
    load_torque_n_m: float = 0.0,
    losses_w: float = 0.0,
) -> Deceleration:
    r"""Shortest even ramp to a stop that neither torque nor bus voltage forbids.

    On a ramp of length *t* the motor brakes with :math:`M_B = J \omega / t - M_L`. Power beyond the
    losses *P* charges the bus, as long as there is any:

    .. math:: E = \frac{1}{2} M_B \, \omega \, t \left(1 - \frac{P}{M_B \, \omega}\right)^2
        \quad \text{for } M_B \, \omega > P, \text{ else } 0

    The shortest *t* has :math:`M_B` within the torque limit and *E* within the margin of the bus.

    Parameters
    ----------
    inertia_kg_m2 : float
        Inertia at the motor's shaft, its own included [kg m²]
    speed_rad_s : float
        Speed before stopping [rad/s]
    braking_torque_n_m : float
        Torque that motor and drive can brake with [N m]
    bus_margin_j : float
        Energy that the bus may take up, by :func:`bus_margin_j` [J]
    load_torque_n_m : float
        Torque with which the load itself brakes [N m]
    losses_w : float
        Losses of motor and drive while braking, taken as constant [W]

    Returns
    -------
    Deceleration
        What limits, with time, braking torque and energy into the bus [s, N m, J]

    Raises
    ------
    RangeError
        A value below zero, torque or inertia or speed not above zero, or a load that neither
        friction nor losses stop and whose energy the bus cannot take: it needs a braking resistor

    Notes
    -----
    Losses must be stated or assumed by the caller; taking none is cautious. The bus is taken as
    fed by nothing else and as full at the end of the ramp, as without any other drive on it.
    Many drives stretch the ramp by themselves; then this is the time it really takes.

    Examples
    --------
    >>> ramp = deceleration_time_s(0.02, 150.0, 7.5, 35.0, load_torque_n_m=1.0, losses_w=50.0)
    >>> round(ramp.time_s, 2), ramp.limit
    (1.66, 'bus')

    References
    ----------
    .. [1] Energy balance of shaft, losses and bus over an even ramp
    """
    for value, name, unit in (
        (inertia_kg_m2, "the inertia", "kg·m²"),
        (speed_rad_s, "the speed", "rad/s"),
        (braking_torque_n_m, "the braking torque", "N·m"),
    ):
        checks.positive(value, name, unit)
    checks.not_negative(bus_margin_j, "the margin of the bus", "J")
    checks.not_negative(load_torque_n_m, "the torque of the load", "N·m")
    checks.not_negative(losses_w, "the losses", "W")
    momentum = inertia_kg_m2 * speed_rad_s

    def ramp(time_s: float, limit: str) -> Deceleration:
        torque_n_m = max(0.0, momentum / time_s - load_torque_n_m)
        energy_j = _bus_energy_j(torque_n_m * speed_rad_s, time_s, losses_w)
        return Deceleration(time_s, torque_n_m, energy_j, limit)

    by_torque = ramp(momentum / (braking_torque_n_m + load_torque_n_m), "torque")
    if by_torque.bus_energy_j <= bus_margin_j:
        return by_torque
    resisting_n_m = load_torque_n_m + losses_w / speed_rad_s
    if resisting_n_m == 0.0:
        raise RangeError(
            "No deceleration time was found.",
            "Neither load nor losses take up the energy, and the bus cannot.",
            "Use a braking resistor, let the load coast, or state the losses.",
        )
    # At the longer end nothing reaches the bus; energy falls steadily in between.
    short_s, long_s = by_torque.time_s, momentum / resisting_n_m
    for _halving in range(80):
        middle_s = (short_s + long_s) / 2.0
        if ramp(middle_s, "bus").bus_energy_j > bus_margin_j:
            short_s = middle_s
        else:
            long_s = middle_s
    return ramp(long_s, "bus")


def ramp_travel_m(surface_speed_m_s: float, time_s: float) -> float:
    r"""How far fruit still travels on an even ramp to a stop, or from one to speed.

    .. math:: s = \frac{v\,t}{2}

    Parameters
    ----------
    surface_speed_m_s : float
        Surface speed at the fast end of the ramp [m/s]
    time_s : float
        Length of the ramp [s]

    Returns
    -------
    float
        Distance [m]

    Raises
    ------
    RangeError
        Speed or time below zero

    Notes
    -----
    Where a station stops later than the one after it, the fruit of the difference piles up there.

    Examples
    --------
    >>> ramp_travel_m(0.8, 5.0)
    2.0

    References
    ----------
    .. [1] Even acceleration
    """
    checks.not_negative(surface_speed_m_s, "the surface speed", "m/s")
    checks.not_negative(time_s, "the time of the ramp", "s")
    return 0.5 * surface_speed_m_s * time_s


def _bus_energy_j(first_power_w: float, time_s: float, losses_w: float) -> float:
    """Energy into the bus where braking power falls evenly from its first value to zero."""
    if first_power_w <= losses_w:
        return 0.0
    return 0.5 * first_power_w * time_s * (1.0 - losses_w / first_power_w) ** 2
