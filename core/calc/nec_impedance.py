"""Resistance and reactance of copper conductors by the NEC's tables."""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import ZERO_C_K, Row, chosen, remembered, rows
from core.calc.nec_sizes import EDITION, SIZES, Size, size_of_area
from core.calc.voltage_drop import (
    VoltageDrop,
    drop_impedance_max_ohm_m,
    drop_impedance_ohm_m,
    voltage_drop,
)
from core.errors import RangeError

__all__ = [
    "Impedance",
    "conductor_for_drop",
    "dc_resistance_ohm_m",
    "impedance",
]

RACEWAYS = {"pvc": "x_pvc_aluminium", "aluminium": "x_pvc_aluminium", "steel": "x_steel"}
STRANDINGS = ("solid", "solid_coated", "stranded", "stranded_coated")

_THOUSAND_FEET_M = 304.8
TABLE_8_C = 75.0
COPPER_SLOPE = 0.00323


@dataclass(frozen=True, slots=True)
class Impedance:
    """Resistance and reactance of one conductor, line to neutral [Ω/m]."""

    resistance_ohm_m: float
    reactance_ohm_m: float
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


def dc_resistance_ohm_m(area_m2: float, conductor_k: float, stranding: str) -> float:
    r"""Direct-current resistance of a copper conductor.

    .. math:: R = R_{75} \left( 1 + 0.00323\, (\vartheta - 75\,^\circ\mathrm{C}) \right)

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size [m²]
    conductor_k : float
        Temperature of the conductor [K]
    stranding : str
        solid, solid_coated, stranded or stranded_coated [-]

    Returns
    -------
    float
        Resistance of one conductor [Ω/m]

    Raises
    ------
    RangeError
        No such size or stranding, or a temperature outside of -50 °C to 250 °C

    Notes
    -----
    Solid is not stranded: 1.93 against 1.98 Ω for 1000 ft of 12 AWG. The table has solid up to
    8 AWG. At 60 Hz these sizes differ little from direct current.

    Examples
    --------
    >>> round(dc_resistance_ohm_m(3.31e-6, 348.15, "stranded") * 304.8, 4)
    1.98

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 8 and its note 2 (0.00323 from memory)
    """
    chosen(stranding, STRANDINGS, "the stranding")
    celsius = conductor_k - ZERO_C_K
    checks.in_range(celsius, -50.0, 250.0, "the conductor temperature", "°C")
    size = size_of_area(area_m2)
    numbers = _row_of(size, "nec_chapter_9_table_8").numbers
    if stranding not in numbers:
        raise RangeError(
            "The resistance was not found.",
            f"The table has no {stranding.replace('_', ', ')} conductor of {size.name}.",
            "Choose a stranded one.",
        )
    return numbers[stranding] / _THOUSAND_FEET_M * (1.0 + COPPER_SLOPE * (celsius - TABLE_8_C))


def impedance(area_m2: float, raceway: str) -> Impedance:
    """Impedance of a copper conductor in a raceway at 60 Hz and 75 °C.

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size [m²]
    raceway : str
        pvc (also cable without metal), aluminium or steel [-]

    Returns
    -------
    Impedance
        Resistance and reactance to neutral [Ω/m]

    Raises
    ------
    RangeError
        No such size or raceway

    Notes
    -----
    Three single conductors in the raceway. The values are to neutral: for two conductors count
    both, for three phases √3 of one.

    Examples
    --------
    >>> found = impedance(3.31e-6, "pvc")
    >>> round(found.resistance_ohm_m * 304.8, 6), round(found.reactance_ohm_m * 304.8, 6)
    (2.0, 0.054)

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 9
    """
    chosen(raceway, tuple(RACEWAYS), "the raceway")
    row = _row_of(size_of_area(area_m2), "nec_chapter_9_table_9")
    return Impedance(
        resistance_ohm_m=row.numbers[f"r_{raceway}"] / _THOUSAND_FEET_M,
        reactance_ohm_m=row.numbers[RACEWAYS[raceway]] / _THOUSAND_FEET_M,
        remarks=remembered(row),
    )


def conductor_for_drop(
    current_a: float,
    length_m: float,
    voltage_v: float,
    phases: int,
    power_factor: float,
    raceway: str,
    share_max: float,
) -> tuple[Size, VoltageDrop]:
    """The smallest conductor that keeps the voltage drop below a limit.

    Parameters
    ----------
    current_a : float
        Current in each line [A]
    length_m : float
        Length of the run, one way [m]
    voltage_v : float
        Voltage at the start: line to line for three phases, across the load for one [V]
    phases : int
        1 or 3 [-]
    power_factor : float
        Displacement power factor of the load [-]
    raceway : str
        pvc (also cable without metal), aluminium or steel [-]
    share_max : float
        Highest drop as a share of the voltage [-]

    Returns
    -------
    tuple[core.calc.nec_sizes.Size, core.calc.voltage_drop.VoltageDrop]
        Size and the drop along it [m² and V]

    Raises
    ------
    RangeError
        A value out of range, or 600 kcmil does not suffice

    Notes
    -----
    By voltage drop only; what the conductor may carry is another matter. 3 % for a branch and 5 %
    with its feeder are recommendations of the code's notes, not rules.

    Examples
    --------
    >>> size, drop = conductor_for_drop(10.0, 45.72, 120.0, 1, 0.85, "pvc", 0.03)
    >>> size.name, round(drop.drop_v, 3)
    ('10 AWG', 3.139)

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 9; informational notes at 210.19 and 215.2
    """
    checks.ratio(share_max, "the limit of the voltage drop", zero=False)
    ohm_m_max = drop_impedance_max_ohm_m(current_a, length_m, voltage_v, phases, share_max)
    for size in SIZES:
        found = impedance(size.area_m2, raceway)
        ohm_m = drop_impedance_ohm_m(found.resistance_ohm_m, found.reactance_ohm_m, power_factor)
        if ohm_m <= ohm_m_max:
            return size, voltage_drop(current_a, length_m, ohm_m, voltage_v, phases)
    raise RangeError(
        "No conductor was found.",
        f"Even 600 kcmil drops more than {100 * share_max:.3g} %.",
        "Shorten the run, feed it with a higher voltage, or divide the load.",
    )


def _row_of(size: Size, table: str) -> Row:
    return next(row for row in rows(table) if row.words["size"] == size.name)
