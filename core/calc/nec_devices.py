"""Overcurrent devices by the NEC.

Rounding differs by rule: a branch device may go up to the next standard size, a feeder device
comes down to it.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import Row, chosen, first_reaching, remembered, rows
from core.calc.nec_sizes import EDITION, size_of_area
from core.errors import RangeError

__all__ = [
    "DriveDevice",
    "FeederDevice",
    "MotorDevice",
    "conductor_device_a",
    "drive_device",
    "feeder_device",
    "motor_device",
    "small_conductor_limit_a",
    "standard_rating_down_a",
    "standard_rating_up_a",
]

# Kinds of device, and which list of standard ratings each is chosen from.
DEVICES = {"breaker": "breaker", "delay_fuse": "fuse", "plain_fuse": "fuse"}
MOTORS = tuple(row.words["motor"] for row in rows("nec_430_52"))

NEXT_SIZE_UP_MAX_A = 800.0


@dataclass(frozen=True, slots=True)
class MotorDevice:
    """From the motor's table current to its short-circuit device: share [-], currents [A]."""

    share: float
    limit_a: float
    rating_a: float
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


@dataclass(frozen=True, slots=True)
class DriveDevice:
    """Branch device of a drive [A]: the motor's rule, the drive's marking, what is left of both.

    ``carries_input`` tells whether the device carries the drive's rated input current at all.
    """

    by_motor: MotorDevice
    marked_max_a: float | None
    rating_a: float
    carries_input: bool
    edition: str = EDITION


@dataclass(frozen=True, slots=True)
class FeederDevice:
    """Feeder device [A]: largest branch device, other motors and drives, other loads, limit."""

    largest_device_a: float
    rest_a: float
    other_a: float
    limit_a: float
    rating_a: float
    edition: str = EDITION


def standard_rating_up_a(current_a: float, device: str) -> float:
    """The standard rating that is not below a current.

    Parameters
    ----------
    current_a : float
        Current to be reached [A]
    device : str
        breaker, delay_fuse or plain_fuse [-]

    Returns
    -------
    float
        Standard rating [A]

    Raises
    ------
    RangeError
        Current not above zero, beyond 6000 A, or no such device

    Notes
    -----
    Breakers begin at 15 A here: the 10 A of the 2023 list is for lighting circuits only (from
    memory).

    Examples
    --------
    >>> standard_rating_up_a(55.0, "breaker"), standard_rating_up_a(3.9, "delay_fuse")
    (60.0, 6.0)

    References
    ----------
    .. [1] NEC 2023 240.6(A)
    """
    checks.positive(current_a, "the current", "A")
    return first_reaching(_ratings(device), "rating_a", current_a, "the current", "A").numbers[
        "rating_a"
    ]


def standard_rating_down_a(current_a: float, device: str) -> float:
    """The standard rating that is not above a current.

    Parameters
    ----------
    current_a : float
        Current that must not be exceeded [A]
    device : str
        breaker, delay_fuse or plain_fuse [-]

    Returns
    -------
    float
        Standard rating [A]

    Raises
    ------
    RangeError
        No standard rating is so small, or no such device

    Examples
    --------
    >>> standard_rating_down_a(562.0, "delay_fuse")
    500.0

    References
    ----------
    .. [1] NEC 2023 240.6(A)
    """
    checks.positive(current_a, "the current", "A")
    limit_a = current_a * (1.0 + 1e-9)
    fitting = [
        row.numbers["rating_a"] for row in _ratings(device) if row.numbers["rating_a"] <= limit_a
    ]
    if not fitting:
        raise RangeError(
            "No device was found.",
            f"There is no standard rating of {current_a:.4g} A or less.",
            "Use a device of the other kind, or one that the maker of the drive names.",
        )
    return max(fitting)


def small_conductor_limit_a(area_m2: float) -> float:
    """Highest device rating for a small conductor that feeds no motor.

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size [m²]

    Returns
    -------
    float
        15 A, 20 A or 30 A for 14, 12 and 10 AWG, else infinite [A]

    Raises
    ------
    RangeError
        No such size

    Notes
    -----
    Holds after all corrections. It does not bind motor circuits: 240.4(G).

    Examples
    --------
    >>> small_conductor_limit_a(2.08e-6)
    15.0

    References
    ----------
    .. [1] NEC 2023 240.4(D), 240.4(G)
    """
    name = size_of_area(area_m2).name
    limits = {row.words["size"]: row.numbers["device_max_a"] for row in rows("nec_240_4_d")}
    return limits.get(name, math.inf)


def conductor_device_a(area_m2: float, allowed_a: float, device: str) -> float:
    """Highest standard device that protects a conductor which feeds no motor.

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size [m²]
    allowed_a : float
        What the conductor may carry where it lies, see nec_conductors.allowed_current [A]
    device : str
        breaker, delay_fuse or plain_fuse [-]

    Returns
    -------
    float
        Standard rating [A]

    Raises
    ------
    RangeError
        No such size, no such device, or the conductor is too weak for any

    Notes
    -----
    Up to 800 A the next standard size up is permitted where the ampacity lies between two sizes;
    above, and for small conductors, it is not.

    Examples
    --------
    >>> conductor_device_a(3.31e-6, 25.0, "breaker"), conductor_device_a(8.37e-6, 42.0, "breaker")
    (20.0, 45.0)

    References
    ----------
    .. [1] NEC 2023 240.4(B), (C) and (D)
    """
    checks.positive(allowed_a, "what the conductor may carry", "A")
    up_a = standard_rating_up_a(allowed_a, device)
    if up_a > NEXT_SIZE_UP_MAX_A:
        up_a = standard_rating_down_a(allowed_a, device)
    return min(up_a, small_conductor_limit_a(area_m2))


def motor_device(full_load_current_a: float, device: str, motor: str) -> MotorDevice:
    r"""Short-circuit and ground-fault device of a motor's branch circuit.

    .. math:: I_{max} = s \cdot I_{FL}

    Parameters
    ----------
    full_load_current_a : float
        Full-load current of the motor by the code's table [A]
    device : str
        breaker, delay_fuse or plain_fuse [-]
    motor : str
        Row of the table: single_phase, polyphase, squirrel_cage, design_b_efficient ... [-]

    Returns
    -------
    MotorDevice
        Share, limit and the standard size, rounded up [- and A]

    Raises
    ------
    RangeError
        Current not above zero, no such device or no such motor

    Notes
    -----
    Where the limit is no standard size the next one UP is permitted (Exception No. 1). If the
    motor does not start on it, Exception No. 2 allows more; a motor on a drive never needs it.

    Examples
    --------
    >>> found = motor_device(22.0, "breaker", "polyphase")
    >>> found.limit_a, found.rating_a
    (55.0, 60.0)

    References
    ----------
    .. [1] NEC 2023 430.52(C)(1), Table 430.52(C)(1)
    """
    checks.positive(full_load_current_a, "the full-load current", "A")
    chosen(device, tuple(DEVICES), "the device")
    chosen(motor, MOTORS, "the motor")
    row = next(row for row in rows("nec_430_52") if row.words["motor"] == motor)
    share = row.numbers[device]
    limit_a = share * full_load_current_a
    rating_a = standard_rating_up_a(limit_a, device)
    return MotorDevice(share, limit_a, rating_a, remembered(row))


def drive_device(
    full_load_current_a: float,
    rated_input_current_a: float,
    device: str,
    marked_max_a: float | None,
) -> DriveDevice:
    """Branch device ahead of a drive.

    Parameters
    ----------
    full_load_current_a : float
        Full-load current of the drive's motor by the code's table [A]
    rated_input_current_a : float
        Rated input current of the drive [A]
    device : str
        breaker, delay_fuse or plain_fuse [-]
    marked_max_a : float | None
        Highest rating of this kind of device that the drive's maker names; None if unknown [A]

    Returns
    -------
    DriveDevice
        The motor's rule, the marking and the rating [- and A]

    Raises
    ------
    RangeError
        A current not above zero, no such device, or the marking is below every standard size

    Notes
    -----
    What the maker names is never exceeded, even where the motor's rule allows more. On a single
    phase the input current can exceed what the motor's rule gives: then ``carries_input`` is
    false, and the device has to follow the maker. The device protects the supply side only; the
    drive limits what its output can feed into a fault.

    Examples
    --------
    >>> found = drive_device(9.6, 20.0, "breaker", 30.0)
    >>> found.by_motor.limit_a, found.rating_a, found.carries_input
    (24.0, 25.0, True)

    References
    ----------
    .. [1] NEC 2023 430.130(A), 430.52 (the order of precedence from memory)
    """
    checks.positive(rated_input_current_a, "the rated input current", "A")
    by_motor = motor_device(full_load_current_a, device, "polyphase")
    rating_a = by_motor.rating_a
    if marked_max_a is not None and marked_max_a < rating_a:
        rating_a = standard_rating_down_a(marked_max_a, device)
    return DriveDevice(by_motor, marked_max_a, rating_a, rating_a >= rated_input_current_a)


def feeder_device(
    branches: tuple[tuple[float, float], ...], other_a: float, device: str
) -> FeederDevice:
    r"""Highest device of a feeder to several motors or drives.

    .. math:: I = I_{device,max} + \sum I_{rest} + I_{other}

    Parameters
    ----------
    branches : tuple[tuple[float, float], ...]
        For each branch its device and its motor's or drive's rated current [A]
    other_a : float
        Other loads [A]
    device : str
        Kind of the feeder device: breaker, delay_fuse or plain_fuse [-]

    Returns
    -------
    FeederDevice
        The parts, the limit and the standard size, rounded down [A]

    Raises
    ------
    RangeError
        No branch, a current out of range, or no standard size is so small

    Notes
    -----
    The largest branch device counts once, even where several are alike; of its branch the current
    is left out. Rounded DOWN: 430.62 knows no next size up.

    Examples
    --------
    >>> found = feeder_device(((350.0, 124.0), (350.0, 124.0), (200.0, 77.0), (30.0, 11.0)), 0.0,
    ...     "delay_fuse")
    >>> found.limit_a, found.rating_a
    (562.0, 500.0)

    References
    ----------
    .. [1] NEC 2023 430.62(A), 430.63
    """
    if not branches:
        raise RangeError(
            "The feeder device was not computed.",
            "No branch circuit is on it.",
            "Name at least one drive or motor.",
        )
    for device_a, current_a in branches:
        checks.positive(device_a, "the rating of each branch device", "A")
        checks.positive(current_a, "the rated current of each branch", "A")
    checks.not_negative(other_a, "the other load", "A")
    # Of equal devices the branch that lets the feeder be smaller is the one left out.
    largest_a, own_a = max(branches)
    rest_a = sum(current_a for _, current_a in branches) - own_a
    limit_a = largest_a + rest_a + other_a
    return FeederDevice(
        largest_a, rest_a, other_a, limit_a, standard_rating_down_a(limit_a, device)
    )


def _ratings(device: str) -> tuple[Row, ...]:
    chosen(device, tuple(DEVICES), "the device")
    return tuple(row for row in rows("nec_240_6") if row.words[DEVICES[device]] == "yes")
