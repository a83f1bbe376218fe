"""Earth continuity: what an earth conductor reads by its length and section."""

from core.calc import checks

__all__ = ["JOINTS_OHM", "expected_resistance_ohm", "highest_resistance_ohm"]

COPPER_20_OHM_M = 0.017241e-6
"""Resistivity of annealed copper at 20 °C, IEC 60028 (from memory)."""
_WARM = 1.08
"""At some 40 °C: temperature coefficient 0.00393 1/K, IEC 60028 (from memory)."""
JOINTS_OHM = 0.05
"""What terminals, joints and probes may add; common practice."""


def expected_resistance_ohm(length_m: float, area_m2: float) -> float:
    r"""Resistance of a copper earth conductor at 20 °C.

    .. math:: R = \frac{\rho_{20} L}{A}

    Parameters
    ----------
    length_m : float
        Length, one way [m]
    area_m2 : float
        Cross-section [m²]

    Returns
    -------
    float
        Resistance [Ω]

    Raises
    ------
    RangeError
        Length below zero or area not above zero

    Examples
    --------
    >>> round(expected_resistance_ohm(25.0, 2.5e-6), 4)
    0.1724

    References
    ----------
    .. [1] IEC 60028: standard resistance of copper (from memory); Ohm's law
    """
    checks.not_negative(length_m, "the length", "m")
    checks.positive(area_m2, "the cross-section", "m²")
    return COPPER_20_OHM_M * length_m / area_m2


def highest_resistance_ohm(
    length_m: float, area_m2: float, joints_ohm: float = JOINTS_OHM
) -> float:
    r"""Highest reading that still fits the conductor: warm, with its joints.

    .. math:: R_{max} = 1.08 \frac{\rho_{20} L}{A} + R_{joints}

    Parameters
    ----------
    length_m : float
        Length, one way [m]
    area_m2 : float
        Cross-section [m²]
    joints_ohm : float
        What terminals and probes may add [Ω]

    Returns
    -------
    float
        Resistance [Ω]

    Raises
    ------
    RangeError
        Length or joints below zero, or area not above zero

    Notes
    -----
    IEC 60204-1, 18.2.2 asks for a value in keeping with length and section, no fixed number; what
    a fault then carries is judged by the loop impedance, not here.

    Examples
    --------
    >>> round(highest_resistance_ohm(25.0, 2.5e-6), 4)
    0.2362

    References
    ----------
    .. [1] IEC 60204-1:2016, 18.2.2 (from memory)
    """
    checks.not_negative(joints_ohm, "the resistance of the joints", "Ω")
    return _WARM * expected_resistance_ohm(length_m, area_m2) + joints_ohm
