"""A serial bus of drives: how long characters, gaps and polls last, and what its ends carry."""

from core.calc import checks
from core.calc.sourced import Fit
from core.errors import RangeError

__all__ = [
    "character_bits",
    "character_time_s",
    "exchange_time_s",
    "idle_voltage_v",
    "poll_time_s",
    "read_lengths",
    "silent_gap_s",
    "termination_fit",
    "unit_load_fit",
]

SPEED_MIN_BD, SPEED_MAX_BD = 300, 1_000_000
# Above this the specification fixes the gaps, so that short characters do not starve a processor.
SPEED_FIXED_GAPS_BD = 19200
GAPS = {"frame": (3.5, 1.75e-3), "character": (1.5, 0.75e-3)}

UNIT_LOADS_MAX = 32.0
UNIT_LOAD_OHM = 12e3
TERMINATION_OHM = 120.0
# A receiver must read at least this much as a definite state.
IDLE_MIN_V = 0.2


def character_bits(parity: str, stop_bits: int | None = None) -> int:
    """Bits that one character takes on the line.

    Parameters
    ----------
    parity : str
        ``even``, ``odd`` or ``none`` [-]
    stop_bits : int | None
        1 or 2; None takes what the specification asks for: 2 without parity, else 1 [-]

    Returns
    -------
    int
        Start, eight data, parity and stop bits: 11 by the specification [-]

    Raises
    ------
    RangeError
        Unknown parity, or stop bits neither 1 nor 2

    Notes
    -----
    Many devices send no parity with one stop bit, ten bits in all, against the specification. All
    on a bus must agree.

    Examples
    --------
    >>> character_bits("even"), character_bits("none"), character_bits("none", 1)
    (11, 11, 10)

    References
    ----------
    .. [1] MODBUS over Serial Line V1.02, 2.5.1 (from memory)
    """
    if parity not in ("even", "odd", "none"):
        raise RangeError(
            "The character was not computed.", f"{parity!r} is no parity.", "Give even, odd, none."
        )
    if stop_bits is None:
        stop_bits = 2 if parity == "none" else 1
    checks.whole(stop_bits, 1, 2, "the number of stop bits")
    return 1 + 8 + (parity != "none") + stop_bits


def character_time_s(speed_bd: int, bits: int = 11) -> float:
    r"""Time that one character takes.

    .. math:: t_c = \frac{n}{v}

    Parameters
    ----------
    speed_bd : int
        Speed of the bus [Bd]
    bits : int
        Bits of a character, by :func:`character_bits` [-]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    RangeError
        Speed outside of 300 to 1 000 000 Bd, or bits outside of 10 to 12

    Examples
    --------
    >>> round(1e3 * character_time_s(9600), 4)
    1.1458

    References
    ----------
    .. [1] One bit for each baud on a two-level line
    """
    checks.whole(speed_bd, SPEED_MIN_BD, SPEED_MAX_BD, "the speed of the bus in Bd")
    checks.whole(bits, 10, 12, "the number of bits of a character")
    return bits / speed_bd


def silent_gap_s(speed_bd: int, bits: int = 11, gap: str = "frame") -> float:
    r"""Silence that ends a frame, or that may at most stand between characters of one.

    .. math:: t = 3.5\,t_c \text{ between frames}, \qquad t = 1.5\,t_c \text{ within}

    Parameters
    ----------
    speed_bd : int
        Speed of the bus [Bd]
    bits : int
        Bits of a character [-]
    gap : str
        ``frame`` or ``character`` [-]

    Returns
    -------
    float
        Time; above 19200 Bd fixed at 1.75 ms and 0.75 ms [s]

    Raises
    ------
    RangeError
        An unknown gap, or a value that :func:`character_time_s` refuses

    Examples
    --------
    >>> round(1e3 * silent_gap_s(9600), 3), 1e3 * silent_gap_s(38400)
    (4.01, 1.75)

    References
    ----------
    .. [1] MODBUS over Serial Line V1.02, 2.5.1.1 (from memory)
    """
    if gap not in GAPS:
        raise RangeError(
            "The gap was not computed.", f"{gap!r} is no gap.", "Give frame or character."
        )
    characters, fixed_s = GAPS[gap]
    character_s = character_time_s(speed_bd, bits)
    return fixed_s if speed_bd > SPEED_FIXED_GAPS_BD else characters * character_s


def read_lengths(registers: int) -> tuple[int, int]:
    """Characters of the request and the reply that read holding registers.

    Parameters
    ----------
    registers : int
        Registers read at once [-]

    Returns
    -------
    tuple[int, int]
        Characters of request and reply, address and check included [-]

    Raises
    ------
    RangeError
        Registers outside of 1 to 125

    Notes
    -----
    Writing one register takes 8 and 8.

    Examples
    --------
    >>> read_lengths(2)
    (8, 9)

    References
    ----------
    .. [1] MODBUS Application Protocol V1.1b3, 6.3 (from memory)
    """
    checks.whole(registers, 1, 125, "the number of registers")
    return 8, 5 + 2 * registers


def exchange_time_s(
    request_characters: int,
    reply_characters: int,
    speed_bd: int,
    bits: int = 11,
    turnaround_s: float = 0.010,
) -> float:
    r"""Time of one request and its reply, until the next may begin.

    .. math:: t = (n_1 + n_2) t_c + t_{drive} + 2 t_{gap}

    Parameters
    ----------
    request_characters : int
        Characters of the request [-]
    reply_characters : int
        Characters of the reply [-]
    speed_bd : int
        Speed of the bus [Bd]
    bits : int
        Bits of a character [-]
    turnaround_s : float
        Time that the drive takes before it answers, beyond the gap [s]

    Returns
    -------
    float
        Time, an estimate as far as the drive's own time is [s]

    Raises
    ------
    RangeError
        Characters outside of 4 to 256, turnaround below zero, or a value that
        :func:`character_time_s` refuses

    Notes
    -----
    10 ms for the drive is common practice; its manual may tell another time.

    Examples
    --------
    >>> round(1e3 * exchange_time_s(8, 9, 19200), 2)
    23.75

    References
    ----------
    .. [1] MODBUS over Serial Line V1.02, 2.5.1.1 (from memory)
    """
    checks.whole(request_characters, 4, 256, "the number of characters of the request")
    checks.whole(reply_characters, 4, 256, "the number of characters of the reply")
    checks.not_negative(turnaround_s, "the time the drive takes", "s")
    characters_s = (request_characters + reply_characters) * character_time_s(speed_bd, bits)
    return characters_s + turnaround_s + 2.0 * silent_gap_s(speed_bd, bits)


def poll_time_s(
    exchange_times_s: tuple[float, ...], silent: int = 0, timeout_s: float = 1.0
) -> float:
    r"""Time until every drive on a bus has been asked once.

    .. math:: T = \sum_i t_i + n_{silent} \, t_{timeout}

    Parameters
    ----------
    exchange_times_s : tuple[float, ...]
        Time of each exchange, by :func:`exchange_time_s` [s]
    silent : int
        Drives that do not answer, such as those switched off [-]
    timeout_s : float
        How long the controller waits for one of those [s]

    Returns
    -------
    float
        Time of a round [s]

    Raises
    ------
    RangeError
        An exchange or a timeout not above zero, or silent drives outside of 0 to 247

    Notes
    -----
    A new speed reaches a drive one round late at worst. One silent drive can slow the whole line
    more than all others together.

    Examples
    --------
    >>> poll_time_s((0.02, 0.02), silent=1, timeout_s=0.5)
    0.54

    References
    ----------
    .. [1] One exchange at a time on a shared line
    """
    for time_s in exchange_times_s:
        checks.positive(time_s, "the time of an exchange", "s")
    checks.whole(silent, 0, 247, "the number of silent drives")
    checks.positive(timeout_s, "the timeout", "s")
    return sum(exchange_times_s) + silent * timeout_s


def unit_load_fit(unit_loads: tuple[float, ...]) -> Fit:
    """Whether a driver can carry all receivers on its line.

    Parameters
    ----------
    unit_loads : tuple[float, ...]
        Unit loads of each device: 1, or 0.5, 0.25 or 0.125 for lighter ones [-]

    Returns
    -------
    Fit
        Unit loads needed and allowed [-]

    Raises
    ------
    RangeError
        A unit load outside of 0 to 10

    Notes
    -----
    The controller counts as one. Take 1 where the manual tells nothing. More needs a repeater.

    Examples
    --------
    >>> unit_load_fit((1.0,) * 33).fits
    False

    References
    ----------
    .. [1] TIA/EIA-485-A, 32 unit loads of 12 kΩ (from memory)
    """
    for load in unit_loads:
        checks.in_range(load, 0.0, 10.0, "the unit load of a device")
    needed = sum(unit_loads)
    fits = needed <= UNIT_LOADS_MAX
    words = "the line carries all devices" if fits else "too many devices for one line"
    return Fit(fits, needed, UNIT_LOADS_MAX, words)


def termination_fit(at_controller: bool, at_last_drive: bool, in_between: int = 0) -> Fit:
    """Whether a line is terminated at both its ends and nowhere else.

    Parameters
    ----------
    at_controller : bool
        Whether the end at the controller is terminated [-]
    at_last_drive : bool
        Whether the end at the last drive is terminated [-]
    in_between : int
        Terminations switched on elsewhere [-]

    Returns
    -------
    Fit
        Terminations needed and at hand [-]

    Raises
    ------
    RangeError
        Terminations in between outside of 0 to 247

    Notes
    -----
    The line runs from device to device, without star or long branches. If the controller sits in
    the middle, its end is the other last drive.

    Examples
    --------
    >>> termination_fit(True, False).reason
    'not terminated at the last drive'

    References
    ----------
    .. [1] MODBUS over Serial Line V1.02, 3.4.5 (from memory)
    """
    checks.whole(in_between, 0, 247, "the number of terminations in between")
    at_hand = bool(at_controller) + bool(at_last_drive) + in_between
    faults = [
        words
        for wrong, words in (
            (not at_controller, "not terminated at the controller"),
            (not at_last_drive, "not terminated at the last drive"),
            (in_between > 0, "terminated in between"),
        )
        if wrong
    ]
    return Fit(not faults, 2, at_hand, ", ".join(faults) or "terminated at both ends")


def idle_voltage_v(
    bias_ohm: float,
    bias_supply_v: float = 5.0,
    terminations: int = 2,
    unit_loads: float = UNIT_LOADS_MAX,
) -> float:
    r"""Voltage between the two wires while nobody sends.

    .. math:: U = U_B \frac{R}{R + 2 R_B}, \qquad
        \frac{1}{R} = \frac{n_T}{120\,\Omega} + \frac{n_L}{12\,\mathrm{k}\Omega}

    Parameters
    ----------
    bias_ohm : float
        Each of the two biasing resistors [Ohm]
    bias_supply_v : float
        Voltage across the pair and the line [V]
    terminations : int
        Terminating resistors of 120 Ω on the line [-]
    unit_loads : float
        Unit loads on the line [-]

    Returns
    -------
    float
        Voltage; 0.2 V or more is a definite idle state [V]

    Raises
    ------
    RangeError
        A resistance or voltage not above zero, terminations outside of 0 to 4, unit loads below
        zero, or nothing at all on the line

    Notes
    -----
    Below 0.2 V receivers may take noise for characters; many modern ones need no bias. One pair
    on the whole bus.

    Examples
    --------
    >>> round(idle_voltage_v(650.0, unit_loads=0.0), 3)
    0.221

    References
    ----------
    .. [1] MODBUS over Serial Line V1.02, 3.4.6: 450 to 650 Ω (from memory); TIA/EIA-485-A
    """
    checks.positive(bias_ohm, "the biasing resistance", "Ω")
    checks.positive(bias_supply_v, "the voltage of the bias", "V")
    checks.whole(terminations, 0, 4, "the number of terminations")
    checks.not_negative(unit_loads, "the number of unit loads")
    conductance = terminations / TERMINATION_OHM + unit_loads / UNIT_LOAD_OHM
    checks.positive(conductance, "the load of the line", "S")
    line_ohm = 1.0 / conductance
    return bias_supply_v * line_ohm / (line_ohm + 2.0 * bias_ohm)
