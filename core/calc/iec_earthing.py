"""Disconnection of faults to earth and protective conductors by IEC 60364-4-41 and 5-54.

The loop of a drive's circuit ends at its input: what the drive feeds into a fault behind it is for
the drive to limit.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import chosen, first_reaching, remembered, rows

__all__ = [
    "EarthArea",
    "adiabatic_area_m2",
    "disconnection_time_s",
    "earth_area",
    "instant_trip_a",
    "loop_impedance_max_ohm",
]

SHOCK_EDITION = "IEC 60364-4-41:2005"
EARTH_EDITION = "IEC 60364-5-54:2011"

SYSTEMS = ("TN", "TT")

# Upper end of the instantaneous range, as a multiple of the rating.
CHARACTERISTICS = {"B": 5.0, "C": 10.0, "D": 20.0}

# Final circuits of table 41.1; above, and in distribution circuits, these times count.
FINAL_MAX_A = 32.0
_DISTRIBUTION_S = {"TN": 5.0, "TT": 1.0}

# k of copper: cored in a PVC cable, bare or separate with PVC, cored in XLPE, separate with XLPE.
MATERIAL_FACTORS = {
    "pvc_in_cable": 115.0,
    "pvc_separate": 143.0,
    "xlpe_in_cable": 143.0,
    "xlpe_separate": 176.0,
}
ADIABATIC_MAX_S = 5.0

# 543.7: where more than this flows in the protective conductor in use.
LEAKAGE_A, LEAKAGE_AREA_M2 = 0.010, 10e-6
SEPARATE_PROTECTED_M2, SEPARATE_BARE_M2 = 2.5e-6, 4e-6
_FLOOR_REMARK = "IEC 60364-5-54:2011 543.1.3 and 543.7.1: from memory, check before use."


@dataclass(frozen=True, slots=True)
class EarthArea:
    """Protective conductor [m²]: by the table, what raises it, what is needed of both."""

    by_table_m2: float
    floor_m2: float
    needed_m2: float
    remarks: tuple[str, ...] = ()
    edition: str = EARTH_EDITION


def disconnection_time_s(
    to_earth_v: float, system: str, device_a: float, final_circuit: bool
) -> float:
    """Longest time a fault to earth may last.

    Parameters
    ----------
    to_earth_v : float
        Nominal voltage from line to earth [V]
    system : str
        TN or TT [-]
    device_a : float
        Rated current of the device [A]
    final_circuit : bool
        Whether it feeds equipment and not a distribution board [-]

    Returns
    -------
    float
        Disconnection time [s]

    Raises
    ------
    RangeError
        50 V or less, current not above zero, or no such system

    Notes
    -----
    The table is for final circuits up to 32 A (up to 63 A with socket-outlets in newer editions);
    else 5 s in TN and 1 s in TT.

    Examples
    --------
    >>> disconnection_time_s(230.0, "TN", 16.0, True), disconnection_time_s(230.0, "TN", 63.0, True)
    (0.4, 5.0)

    References
    ----------
    .. [1] IEC 60364-4-41:2005 411.3.2, Table 41.1
    """
    checks.in_range(to_earth_v, 50.001, 1000.0, "the voltage to earth", "V")
    checks.positive(device_a, "the rating of the device", "A")
    chosen(system, SYSTEMS, "the earthing system")
    if not final_circuit or device_a > FINAL_MAX_A:
        return _DISTRIBUTION_S[system]
    row = first_reaching(
        rows("iec_60364_4_41"), "voltage_max_v", to_earth_v, "the voltage to earth", "V"
    )
    return row.numbers[f"{system}_s"]


def instant_trip_a(device_a: float, characteristic: str) -> float:
    r"""Current at which a circuit breaker is sure to trip at once.

    .. math:: I_a = 5,\; 10 \text{ or } 20 \cdot I_n

    Parameters
    ----------
    device_a : float
        Rated current of the breaker [A]
    characteristic : str
        B, C or D [-]

    Returns
    -------
    float
        Upper end of the instantaneous range [A]

    Raises
    ------
    RangeError
        Current not above zero, or no such characteristic

    Notes
    -----
    The upper end counts for protection, the lower (3, 5 and 10 times) for inrush.

    Examples
    --------
    >>> instant_trip_a(16.0, "C")
    160.0

    References
    ----------
    .. [1] IEC 60898-1:2015 Table 2
    """
    checks.positive(device_a, "the rating of the device", "A")
    chosen(characteristic, tuple(CHARACTERISTICS), "the characteristic")
    return CHARACTERISTICS[characteristic] * device_a


def loop_impedance_max_ohm(to_earth_v: float, trip_a: float, voltage_factor: float) -> float:
    r"""Highest earth fault loop impedance that lets a device trip in time.

    .. math:: Z_s \le \frac{c\, U_0}{I_a}

    Parameters
    ----------
    to_earth_v : float
        Nominal voltage from line to earth [V]
    trip_a : float
        Current that trips the device in the time asked for [A]
    voltage_factor : float
        1 by IEC, 0.95 by the United Kingdom's rules for low voltage [-]

    Returns
    -------
    float
        Highest loop impedance, measured hot or corrected [Ω]

    Raises
    ------
    RangeError
        Voltage or current not above zero, or a factor outside of 0.8 to 1

    Notes
    -----
    A loop measured cold must stay below about 0.8 of this (common practice, IEC 60364-6 Annex).
    Only the supply side of a drive can be judged this way.

    Examples
    --------
    >>> round(loop_impedance_max_ohm(230.0, 160.0, 1.0), 4)
    1.4375

    References
    ----------
    .. [1] IEC 60364-4-41:2005 411.4.4; factor 0.95 BS 7671 Table 41.3
    """
    checks.positive(to_earth_v, "the voltage to earth", "V")
    checks.positive(trip_a, "the tripping current", "A")
    checks.in_range(voltage_factor, 0.8, 1.0, "the voltage factor")
    return voltage_factor * to_earth_v / trip_a


def earth_area(
    line_area_m2: float, leakage_a: float | None, separate: bool, mechanically_protected: bool
) -> EarthArea:
    """Least copper protective conductor of a circuit by its line conductors.

    Parameters
    ----------
    line_area_m2 : float
        Area of the line conductors [m²]
    leakage_a : float | None
        Current in the protective conductor in use; None where it is not known [A]
    separate : bool
        Whether it runs outside of the cable or conduit of the lines [-]
    mechanically_protected : bool
        Whether a separate one is protected against damage [-]

    Returns
    -------
    EarthArea
        By the table, floor and result, before the next standard size [m²]

    Raises
    ------
    RangeError
        Area not above zero, or leakage below zero

    Notes
    -----
    Up to 16 mm² as the lines, then 16 mm², above 35 mm² half of them. Where more than 10 mA flows
    in use, which drives with filters soon reach together, 10 mm² of copper or a second protective
    conductor is asked for. Floors from memory.

    Examples
    --------
    >>> earth_area(2.5e-6, 0.0035, False, False).needed_m2
    2.5e-06
    >>> earth_area(2.5e-6, 0.028, False, False).needed_m2
    1e-05

    References
    ----------
    .. [1] IEC 60364-5-54:2011 543.1.2 Table 54.2, 543.1.3, 543.7.1
    """
    checks.positive(line_area_m2, "the area of the line conductors", "m²")
    if leakage_a is not None:
        checks.not_negative(leakage_a, "the current in the protective conductor", "A")
    row = first_reaching(
        rows("iec_60364_5_54"), "line_max_mm2", line_area_m2 * 1e6, "the area", "mm²"
    )
    by_table_m2 = (
        row.numbers["earth_mm2"] * 1e-6
        if "earth_mm2" in row.numbers
        else row.numbers["earth_share"] * line_area_m2
    )
    floors = [0.0]
    if separate:
        floors.append(SEPARATE_PROTECTED_M2 if mechanically_protected else SEPARATE_BARE_M2)
    if leakage_a is not None and leakage_a > LEAKAGE_A:
        floors.append(LEAKAGE_AREA_M2)
    floor_m2 = max(floors)
    remarks = remembered(row) + ((_FLOOR_REMARK,) if floor_m2 > by_table_m2 else ())
    return EarthArea(by_table_m2, floor_m2, max(by_table_m2, floor_m2), remarks)


def adiabatic_area_m2(fault_a: float, time_s: float, material_factor: float) -> float:
    r"""Least protective conductor by the heat of a fault.

    .. math:: S = \frac{\sqrt{I^2 t}}{k}

    Parameters
    ----------
    fault_a : float
        Fault current, rms [A]
    time_s : float
        Time until the device clears it, up to 5 s [s]
    material_factor : float
        k of conductor and insulation, see MATERIAL_FACTORS [A s½/mm²]

    Returns
    -------
    float
        Least area, before the next standard size [m²]

    Raises
    ------
    RangeError
        A value not above zero, or a time above 5 s

    Notes
    -----
    No heat leaves the conductor in so short a time. Below 0.1 s the energy that the device lets
    through, told by its maker, counts instead of I²t. The factors k are from memory.

    Examples
    --------
    >>> round(adiabatic_area_m2(1000.0, 0.1, 115.0) * 1e6, 3)
    2.75

    References
    ----------
    .. [1] IEC 60364-5-54:2011 543.1.2 and Annex A
    """
    checks.positive(fault_a, "the fault current", "A")
    checks.positive(time_s, "the clearing time", "s")
    checks.in_range(time_s, 0.0, ADIABATIC_MAX_S, "the clearing time", "s")
    checks.positive(material_factor, "the factor k")
    return math.sqrt(fault_a**2 * time_s) / material_factor * 1e-6
