"""Resistance of copper conductors by IEC 60228, voltage drop by IEC 60364-5-52 Annex G."""

from core.calc import checks
from core.calc.lookups import ZERO_C_K, chosen, rows
from core.calc.voltage_drop import (
    VoltageDrop,
    copper_factor,
    drop_impedance_ohm_m,
    voltage_drop,
)
from core.errors import RangeError

__all__ = [
    "annex_g_drop",
    "drop_limit",
    "loop_resistance_ohm",
    "resistance_ohm_m",
]

STRANDINGS = ("fixed", "fixed_coated", "flexible", "flexible_coated")

# IEC 60364-5-52:2009 Annex G: resistivity in normal service, reactance of a conductor.
SERVICE_RESISTIVITY_OHM_M = 22.5e-9
REACTANCE_OHM_M = 0.08e-3

# Table G.52.1: share of the voltage, by who feeds the installation and what is fed.
_LIMITS = {
    ("public", "lighting"): 0.03,
    ("public", "other"): 0.05,
    ("private", "lighting"): 0.06,
    ("private", "other"): 0.08,
}
_LONG_M, _LONG_SHARE_M, _LONG_MAX = 100.0, 0.00005, 0.005


def resistance_ohm_m(area_m2: float, conductor_k: float, stranding: str) -> float:
    r"""Highest direct-current resistance of a copper conductor of a standard size.

    .. math:: R = R_{20} \frac{234.5 + \vartheta}{254.5}

    Parameters
    ----------
    area_m2 : float
        Nominal area, 0.5 mm² to 120 mm² in the standard's steps [m²]
    conductor_k : float
        Temperature of the conductor [K]
    stranding : str
        fixed (class 1 and 2), fixed_coated, flexible (class 5) or flexible_coated [-]

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
    Coated is tinned. Sizes above 25 mm²: coated and flexible columns from memory.

    Examples
    --------
    >>> round(resistance_ohm_m(2.5e-6, 293.15, "fixed") * 1000, 3)
    7.41

    References
    ----------
    .. [1] IEC 60228:2004 Tables 1, 2, 3 and Annex A
    """
    checks.positive(area_m2, "the area of the conductor", "m²")
    chosen(stranding, STRANDINGS, "the stranding")
    for row in rows("iec_60228"):
        if abs(row.numbers["mm2"] * 1e-6 - area_m2) <= 0.01 * area_m2:
            ohm_km = row.numbers[stranding]
            return ohm_km / 1000.0 * copper_factor(20.0, conductor_k - ZERO_C_K)
    raise RangeError(
        "The resistance was not found.",
        f"{area_m2 * 1e6:.4g} mm² is no size of IEC 60228 (0.5 mm² to 120 mm²).",
        "Enter a size such as 2.5 mm².",
    )


def annex_g_drop(
    current_a: float,
    length_m: float,
    area_m2: float,
    power_factor: float,
    voltage_v: float,
    phases: int,
) -> VoltageDrop:
    r"""Voltage drop by the formula of Annex G.

    .. math:: u = b \left( \rho_1 \frac{L}{S} \cos\varphi + \lambda L \sin\varphi \right) I_B

    Parameters
    ----------
    current_a : float
        Design current in each line [A]
    length_m : float
        Length of the run, one way [m]
    area_m2 : float
        Area of the copper, any [m²]
    power_factor : float
        Displacement power factor of the load, lagging; 0.8 where it is not known [-]
    voltage_v : float
        Voltage at the start: line to line for three phases, across the load for one [V]
    phases : int
        1 for two conductors, 3 for a balanced three-phase run [-]

    Returns
    -------
    core.calc.voltage_drop.VoltageDrop
        Drop, share and voltage at the end [V and -]

    Raises
    ------
    RangeError
        A value out of range, phases neither 1 nor 3, or a drop larger than the voltage

    Notes
    -----
    With b = 1 the standard counts three phases from line to neutral; here the drop is line to
    line, √3 of it, and the share is the same. The reactance is not divided by the area.

    Examples
    --------
    >>> drop = annex_g_drop(4.6, 50.0, 2.5e-6, 0.8, 400.0, 3)
    >>> round(drop.drop_v, 2), round(100 * drop.share, 3)
    (2.89, 0.722)

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Annex G
    """
    checks.positive(area_m2, "the area of the conductor", "m²")
    ohm_m = drop_impedance_ohm_m(SERVICE_RESISTIVITY_OHM_M / area_m2, REACTANCE_OHM_M, power_factor)
    return voltage_drop(current_a, length_m, ohm_m, voltage_v, phases)


def drop_limit(length_m: float, supply: str, use: str) -> float:
    """Highest voltage drop from the origin of the installation to the load.

    Parameters
    ----------
    length_m : float
        Length of the wiring from the origin [m]
    supply : str
        public (from the low-voltage network) or private (own transformer) [-]
    use : str
        lighting or other [-]

    Returns
    -------
    float
        Drop as a share of the voltage [-]

    Raises
    ------
    RangeError
        Length below zero, or no such supply or use

    Notes
    -----
    Beyond 100 m 0.005 % may be added for each further metre, at most 0.5 %. Informative; starting
    motors may drop more.

    Examples
    --------
    >>> drop_limit(60.0, "public", "other")
    0.05

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Annex G Table G.52.1
    """
    checks.not_negative(length_m, "the length", "m")
    chosen(supply, ("public", "private"), "the supply")
    chosen(use, ("lighting", "other"), "the use")
    extra = min(max(length_m - _LONG_M, 0.0) * _LONG_SHARE_M, _LONG_MAX)
    return _LIMITS[supply, use] + extra


def loop_resistance_ohm(
    line_area_m2: float, earth_area_m2: float, length_m: float, conductor_k: float
) -> float:
    r"""Resistance of a run's line and protective conductor in series.

    .. math:: R_1 + R_2 = (r_L + r_{PE})\, L

    Parameters
    ----------
    line_area_m2 : float
        Area of the line conductor [m²]
    earth_area_m2 : float
        Area of the protective conductor [m²]
    length_m : float
        Length of the run, one way [m]
    conductor_k : float
        Temperature both are taken at [K]

    Returns
    -------
    float
        Resistance that adds to the loop impedance at the origin [Ω]

    Raises
    ------
    RangeError
        A value out of range or no such size

    Notes
    -----
    Reactance may be left out up to 35 mm². For a fault at the end of its clearing take the highest
    temperature in use, for a measured value the temperature it was measured at.

    Examples
    --------
    >>> round(loop_resistance_ohm(2.5e-6, 2.5e-6, 30.0, 293.15), 4)
    0.4446

    References
    ----------
    .. [1] IEC 60228:2004; common practice
    """
    checks.not_negative(length_m, "the length", "m")
    line, earth = (
        resistance_ohm_m(area_m2, conductor_k, "fixed") for area_m2 in (line_area_m2, earth_area_m2)
    )
    return (line + earth) * length_m
