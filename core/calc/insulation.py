"""Insulation resistance: what it has to be, and what a reading at one temperature is at another."""

from core.calc import checks

__all__ = [
    "REFERENCE_K",
    "at_reference_ohm",
    "iec_60364_6_least_ohm",
    "iec_60364_6_test_v",
    "ieee_43_least_ohm",
]

REFERENCE_K = 313.15
"""40 °C, to which IEEE 43 refers readings of windings."""

_EXTRA_LOW_V, _LOW_V = 50.0, 500.0


def iec_60364_6_test_v(nominal_v: float) -> float:
    """DC test voltage for a circuit of a nominal voltage.

    Parameters
    ----------
    nominal_v : float
        Nominal voltage of the circuit [V]

    Returns
    -------
    float
        Test voltage [V]

    Raises
    ------
    RangeError
        Voltage not above zero

    Notes
    -----
    The drive must be disconnected: its electronics do not stand any of these voltages.

    Examples
    --------
    >>> iec_60364_6_test_v(400.0)
    500.0

    References
    ----------
    .. [1] IEC 60364-6:2016, table 6A (from memory): SELV and PELV 250 V, up to and including 500 V
       500 V, above 500 V 1000 V
    """
    checks.positive(nominal_v, "the nominal voltage", "V")
    if nominal_v <= _EXTRA_LOW_V:
        return 250.0
    return 500.0 if nominal_v <= _LOW_V else 1000.0


def iec_60364_6_least_ohm(nominal_v: float) -> float:
    """Lowest insulation resistance of a circuit at the test voltage.

    Parameters
    ----------
    nominal_v : float
        Nominal voltage of the circuit [V]

    Returns
    -------
    float
        Resistance [Ω]

    Raises
    ------
    RangeError
        Voltage not above zero

    Examples
    --------
    >>> iec_60364_6_least_ohm(400.0)
    1000000.0

    References
    ----------
    .. [1] IEC 60364-6:2016, table 6A (from memory): 0.5 MΩ for SELV and PELV, else 1 MΩ
    """
    checks.positive(nominal_v, "the nominal voltage", "V")
    return 0.5e6 if nominal_v <= _EXTRA_LOW_V else 1e6


def ieee_43_least_ohm(rated_v: float, form_wound: bool = False) -> float:
    r"""Lowest insulation resistance of a winding, at 40 °C after one minute.

    .. math:: R_{1\,min} = 5\ \mathrm{M\Omega} \quad\text{or}\quad 100\ \mathrm{M\Omega}

    Parameters
    ----------
    rated_v : float
        Rated voltage of the machine [V]
    form_wound : bool
        Whether its coils are form wound; small motors are random wound [-]

    Returns
    -------
    float
        Resistance at 40 °C [Ω]

    Raises
    ------
    RangeError
        Voltage not above zero

    Examples
    --------
    >>> ieee_43_least_ohm(230.0)
    5000000.0

    References
    ----------
    .. [1] IEEE 43-2013, table 3 (from memory): 5 MΩ for random-wound machines and those below 1 kV,
       100 MΩ for form-wound coils made after about 1970 and for armatures
    """
    checks.positive(rated_v, "the rated voltage", "V")
    return 100e6 if form_wound and rated_v >= 1000.0 else 5e6


def at_reference_ohm(
    reading_ohm: float, temperature_k: float, reference_k: float = REFERENCE_K
) -> float:
    r"""A reading referred to the reference temperature.

    .. math:: R_{40} = R_T \cdot 0.5^{(40 - T)/10}

    Parameters
    ----------
    reading_ohm : float
        Insulation resistance as read [Ω]
    temperature_k : float
        Temperature of the winding at the test [K]
    reference_k : float
        Temperature to refer it to [K]

    Returns
    -------
    float
        Resistance at the reference temperature [Ω]

    Raises
    ------
    RangeError
        Reading below zero, or a temperature at or below absolute zero

    Notes
    -----
    Insulation resistance halves for every 10 K more: an approximation for older (thermoplastic)
    insulation; thermoset windings change less. Below the dew point a reading says nothing.

    Examples
    --------
    >>> at_reference_ohm(100e6, 293.15)
    25000000.0

    References
    ----------
    .. [1] IEEE 43-2013, 6.3.2 (from memory): the resistance halves for each 10 °C
    """
    checks.not_negative(reading_ohm, "the reading", "Ω")
    checks.positive(temperature_k, "the temperature", "K")
    checks.positive(reference_k, "the reference temperature", "K")
    return float(reading_ohm * 0.5 ** ((reference_k - temperature_k) / 10.0))
