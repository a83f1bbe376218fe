"""Motor and drive currents by the NEC: what conductors and feeders must be made for.

The tables of the code size conductors and short-circuit protection of motors; the nameplate sizes
the overload; the rated input current of a drive sizes what feeds it.
"""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import first_reaching, remembered, rows
from core.calc.nec_sizes import EDITION
from core.errors import RangeError

__all__ = [
    "FeederCurrent",
    "TableCurrent",
    "drive_output_current_a",
    "drive_supply_current_a",
    "feeder_current",
    "motor_table_current",
    "overload_limit_a",
]

CONTINUOUS = 1.25
HP_W = 745.6998715822702  # 550 ft lbf/s

# A rating in kW that rounds an hp rating, such as 1.5 kW for 2 hp, belongs to that hp rating.
_SAME_POWER = 0.02

# Systems for which the listed currents are permitted, by the columns' headings.
_VOLTAGES = {
    "v115": (110.0, 120.0),
    "v200": (200.0, 200.0),
    "v208": (208.0, 208.0),
    "v230": (220.0, 240.0),
    "v460": (440.0, 480.0),
    "v575": (550.0, 600.0),
}

SERVICE_FACTOR_HIGH = 1.15
RISE_LOW_K = 40.0


@dataclass(frozen=True, slots=True)
class TableCurrent:
    """Full-load current of the code's tables [A], with the row and column it stands in."""

    current_a: float
    table: str
    horsepower: float
    system_v: float
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


@dataclass(frozen=True, slots=True)
class FeederCurrent:
    """The parts of a feeder's current [A]: 125 % of the largest, the rest, other loads, total."""

    largest_a: float
    rest_a: float
    other_a: float
    total_a: float
    edition: str = EDITION


def motor_table_current(power_w: float, voltage_v: float, phases: int) -> TableCurrent:
    """Full-load current of the code's tables, for conductors and short-circuit protection.

    Parameters
    ----------
    power_w : float
        Shaft power on the nameplate [W]
    voltage_v : float
        Voltage the motor is fed with [V]
    phases : int
        Phases of the motor, 1 or 3 [-]

    Returns
    -------
    TableCurrent
        Current with its row and column [A, hp and V]

    Raises
    ------
    RangeError
        No row or no column fits; then the nameplate's current is the only one there is

    Notes
    -----
    A power between two rows takes the larger; one up to 2 % above a row, such as 1.5 kW for 2 hp,
    takes that row. The table is deliberately high. A motor for less than 1200 r/min or of high
    torque may need more than the table: then its nameplate counts (430.6(A)(1)). Multispeed motors
    likewise.

    Examples
    --------
    >>> motor_table_current(746.0, 230.0, 3).current_a
    4.2

    References
    ----------
    .. [1] NEC 2023 430.6(A)(1), Tables 430.248 and 430.250
    """
    checks.positive(power_w, "the rated power", "W")
    column = _voltage_column(voltage_v)
    table = tuple(
        row
        for row in rows("nec_430_motor_currents")
        if row.numbers["phases"] == phases and column in row.numbers
    )
    if not table:
        raise _no_table(f"{phases} phases at {voltage_v:g} V")
    horsepower = power_w / HP_W / (1.0 + _SAME_POWER)
    row = first_reaching(table, "hp", horsepower, "the rated power", "hp")
    return TableCurrent(
        current_a=row.numbers[column],
        table=row.source,
        horsepower=row.numbers["hp"],
        system_v=float(column[1:]),
        remarks=remembered(row),
    )


def drive_supply_current_a(rated_input_current_a: float) -> float:
    r"""Current that the conductors from the branch device to a drive must carry.

    .. math:: I = 1.25\, I_{in}

    Parameters
    ----------
    rated_input_current_a : float
        Input current on the drive's plate or in its manual, for the phases it is fed with [A]

    Returns
    -------
    float
        Least ampacity of the supply conductors [A]

    Raises
    ------
    RangeError
        Current not above zero

    Notes
    -----
    The RATED input current, not the motor's and not one found from the load: on a single phase it
    is well above √3 times the motor's current. A drive with bypass needs the larger of this and
    125 % of the motor's current.

    Examples
    --------
    >>> drive_supply_current_a(36.0)
    45.0

    References
    ----------
    .. [1] NEC 2023 430.122(A)
    """
    checks.positive(rated_input_current_a, "the rated input current", "A")
    return CONTINUOUS * rated_input_current_a


def drive_output_current_a(full_load_current_a: float) -> float:
    r"""Current that the conductors from a drive to its motor must carry.

    .. math:: I = 1.25\, I_{FL}

    Parameters
    ----------
    full_load_current_a : float
        Full-load current of the motor by the code's table, see motor_table_current [A]

    Returns
    -------
    float
        Least ampacity of the output conductors [A]

    Raises
    ------
    RangeError
        Current not above zero

    Notes
    -----
    For a drive marked as suitable for output motor conductor protection 125 % of its rated output
    current counts instead (from memory): give that current here.

    Examples
    --------
    >>> drive_output_current_a(9.6)
    12.0

    References
    ----------
    .. [1] NEC 2023 430.122(B), 430.6(A)
    """
    checks.positive(full_load_current_a, "the full-load current", "A")
    return CONTINUOUS * full_load_current_a


def feeder_current(
    currents_a: tuple[float, ...], continuous_a: float, other_a: float
) -> FeederCurrent:
    r"""Current that a feeder to several motors or drives must carry.

    .. math:: I = 1.25\, I_{max} + \sum I_{rest} + 1.25\, I_{cont} + I_{other}

    Parameters
    ----------
    currents_a : tuple[float, ...]
        Rated input current of each drive, full-load current of each motor without drive [A]
    continuous_a : float
        Other loads that run three hours or more [A]
    other_a : float
        Other loads that do not [A]

    Returns
    -------
    FeederCurrent
        The parts and their sum [A]

    Raises
    ------
    RangeError
        No drive or motor, or a current below zero

    Notes
    -----
    125 % of the largest one only, the rest as they are. All on the same conductor: on three-wire
    and three-phase services take each line on its own. A demand that the authority accepts may
    lower the sum (430.26).

    Examples
    --------
    >>> feeder_current((124.0, 124.0, 77.0, 11.0), 0.0, 0.0).total_a
    367.0

    References
    ----------
    .. [1] NEC 2023 430.24; drives by rated input current 430.122(D) (from memory)
    """
    _check_currents(currents_a)
    checks.not_negative(continuous_a, "the continuous other load", "A")
    checks.not_negative(other_a, "the other load", "A")
    largest_a = max(currents_a)
    parts = (
        CONTINUOUS * largest_a,
        sum(currents_a) - largest_a,
        CONTINUOUS * continuous_a + other_a,
    )
    return FeederCurrent(*parts, total_a=sum(parts))


def overload_limit_a(
    nameplate_current_a: float, service_factor: float, temperature_rise_k: float | None
) -> float:
    r"""Highest setting of a separate overload relay.

    .. math:: I = 1.25\, I_N \text{ or } 1.15\, I_N

    Parameters
    ----------
    nameplate_current_a : float
        Current on the motor's nameplate, not of the table [A]
    service_factor : float
        Service factor on the nameplate [-]
    temperature_rise_k : float | None
        Temperature rise marked on the nameplate; None if not marked [K]

    Returns
    -------
    float
        Highest trip current to select [A]

    Raises
    ------
    RangeError
        Current not above zero, or service factor outside of 1 to 2

    Notes
    -----
    125 % with a service factor of 1.15 or more or a marked rise of 40 K or less, else 115 %.
    For motors of more than 1 hp, and for smaller ones that start by themselves. Several motors on
    one drive need one relay each; the drive's own overload knows their sum only (430.124(C)).

    Examples
    --------
    >>> overload_limit_a(4.0, 1.15, None), round(overload_limit_a(4.0, 1.0, None), 3)
    (5.0, 4.6)

    References
    ----------
    .. [1] NEC 2023 430.32(A)(1), 430.124 (from memory)
    """
    checks.positive(nameplate_current_a, "the nameplate current", "A")
    checks.in_range(service_factor, 1.0, 2.0, "the service factor")
    cool = temperature_rise_k is not None and temperature_rise_k <= RISE_LOW_K
    share = 1.25 if service_factor >= SERVICE_FACTOR_HIGH or cool else 1.15
    return share * nameplate_current_a


def _check_currents(currents_a: tuple[float, ...]) -> None:
    if not currents_a:
        raise RangeError(
            "The feeder was not computed.",
            "No drive or motor is on it.",
            "Name at least one drive or motor.",
        )
    for current_a in currents_a:
        checks.positive(current_a, "the rated current of each drive", "A")


def _voltage_column(voltage_v: float) -> str:
    checks.positive(voltage_v, "the voltage", "V")
    for column, (low_v, high_v) in _VOLTAGES.items():
        if low_v <= voltage_v <= high_v:
            return column
    raise _no_table(f"{voltage_v:g} V")


def _no_table(what: str) -> RangeError:
    return RangeError(
        "No current was found in the tables of the NEC.",
        f"They have no column for {what}.",
        "Use the current on the motor's nameplate.",
    )
