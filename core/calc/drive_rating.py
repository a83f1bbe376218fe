"""What a drive can give where it stands, and whether a motor fits it."""

from core.calc import checks
from core.calc.motor_current import LOAD_MAX, load_from_current
from core.calc.sourced import BASES, Fit, Sourced, stated_or
from core.errors import RangeError

__all__ = [
    "altitude_derating",
    "ambient_derating",
    "available_current_a",
    "current_fit",
    "feed_derating",
    "input_voltage_fit",
    "output_voltage_fit",
    "output_voltage_v",
    "overload_torque_share",
]

# Rules of thumb, common practice: they stand in for the maker's curves and say so.
ALTITUDE_FREE_M, ALTITUDE_MAX_M, ALTITUDE_STEP = 1000.0, 4000.0, 0.01 / 100.0
AMBIENT_SPAN_K, AMBIENT_STEP = 10.0, 0.02
SINGLE_PHASE_SHARE = 0.5

# A motor runs well within a tenth of its rated voltage: NEMA MG 1, 12.44; IEC 60034-1, zone B (from
# memory).
VOLTAGE_TOLERANCE = 0.10


def altitude_derating(altitude_m: float, stated: float | None = None) -> Sourced:
    r"""Share of its rated output current that a drive may give at an altitude.

    .. math:: k = 1 - 0.01 \, \frac{h - 1000\,\mathrm m}{100\,\mathrm m} \quad \text{above 1000 m}

    Parameters
    ----------
    altitude_m : float
        Altitude above sea level [m]
    stated : float | None
        The maker's own factor there, which wins [-]

    Returns
    -------
    Sourced
        Factor and what it rests on [-]

    Raises
    ------
    RangeError
        Altitude below -500 m or above 4000 m, or a stated factor outside of 0 to 1

    Notes
    -----
    A rule of thumb for thinner air. Above 2000 m clearances may bind too: ask the maker.

    Examples
    --------
    >>> altitude_derating(500.0).value
    1.0
    >>> altitude_derating(2000.0).value
    0.9

    References
    ----------
    .. [1] Common practice
    """
    checks.in_range(altitude_m, -500.0, ALTITUDE_MAX_M, "the altitude", "m")
    above_m = max(0.0, altitude_m - ALTITUDE_FREE_M)
    return _derating(
        stated, "the derating for altitude", 1.0 - ALTITUDE_STEP * above_m, "1 % per 100 m"
    )


def ambient_derating(
    ambient_k: float, rated_ambient_k: float, stated: float | None = None
) -> Sourced:
    r"""Share of its rated output current that a drive may give in warm air.

    .. math:: k = 1 - 0.02 \, \frac{T - T_N}{1\,\mathrm K} \quad \text{above } T_N

    Parameters
    ----------
    ambient_k : float
        Temperature of the air around the drive, inside its enclosure [K]
    rated_ambient_k : float
        Temperature up to which its rating holds [K]
    stated : float | None
        The maker's own factor there, which wins [-]

    Returns
    -------
    Sourced
        Factor and what it rests on [-]

    Raises
    ------
    RangeError
        A temperature not above zero kelvin, more than 10 K above the rated ambient with no stated
        factor, or a stated factor outside of 0 to 1

    Notes
    -----
    A rule of thumb, to 10 K above at most: beyond that only the maker can say.

    Examples
    --------
    >>> round(ambient_derating(318.15, 313.15).value, 6)
    0.9

    References
    ----------
    .. [1] Common practice
    """
    checks.positive(ambient_k, "the ambient temperature", "K")
    checks.positive(rated_ambient_k, "the rated ambient temperature", "K")
    above_k = max(0.0, ambient_k - rated_ambient_k)
    if stated is None:
        checks.in_range(above_k, 0.0, AMBIENT_SPAN_K, "the excess over the rated ambient", "K")
    return _derating(
        stated, "the derating for temperature", 1.0 - AMBIENT_STEP * above_k, "2 % per kelvin"
    )


def feed_derating(input_phases: str, supply_phases: int, stated: float | None = None) -> Sourced:
    """Share of its rated output current that a drive may give on the phases at hand.

    Parameters
    ----------
    input_phases : str
        Phases that the drive is made for: ``1``, ``3`` or ``1_or_3`` [-]
    supply_phases : int
        Phases that feed it, 1 or 3 [-]
    stated : float | None
        The maker's own factor for one phase, which wins [-]

    Returns
    -------
    Sourced
        Factor and what it rests on [-]

    Raises
    ------
    RangeError
        Unknown input phases, supply phases neither 1 nor 3, or a stated factor outside of 0 to 1

    Notes
    -----
    A drive made for three phases only carries about half its current on one, and only where its
    maker permits that; many trip on the missing phase. One made for either gives its rating.

    Examples
    --------
    >>> feed_derating("3", 1).value
    0.5
    >>> feed_derating("1", 1).value
    1.0

    References
    ----------
    .. [1] Common practice; why, in `core.calc.drive_input.single_phase_ratio`
    """
    if input_phases not in ("1", "3", "1_or_3") or supply_phases not in (1, 3):
        raise RangeError(
            "The derating was not found.",
            f"Input phases {input_phases!r} on {supply_phases} phases.",
            "Give 1, 3 or 1_or_3 for the drive and 1 or 3 for the supply.",
        )
    if input_phases != "3" or supply_phases == 3:
        return Sourced(1.0, "published", "made for these phases")
    return _derating(
        stated,
        "the derating on one phase",
        SINGLE_PHASE_SHARE,
        "half on one phase, only if the maker permits it",
    )


def available_current_a(rated_current_a: float, deratings: tuple[Sourced, ...]) -> Sourced:
    r"""Output current that a drive can give all day where it stands.

    .. math:: I = I_N \prod_i k_i

    Parameters
    ----------
    rated_current_a : float
        Rated output current of the drive [A]
    deratings : tuple[Sourced, ...]
        Factors for altitude, temperature, feed and whatever else there is [-]

    Returns
    -------
    Sourced
        Current; an estimate as soon as a rule of thumb lowers it [A]

    Raises
    ------
    RangeError
        Rated current not above zero, or a factor outside of 0 to 1

    Notes
    -----
    Factors are multiplied, which is cautious: makers often ask only for the lowest of some.

    Examples
    --------
    >>> available_current_a(10.0, (altitude_derating(2000.0), feed_derating("3", 1))).value
    4.5

    References
    ----------
    .. [1] Common practice
    """
    checks.positive(rated_current_a, "the rated output current", "A")
    current_a = rated_current_a
    for derating in deratings:
        checks.ratio(derating.value, "a derating factor", zero=False)
        current_a *= derating.value
    lowered = [derating for derating in deratings if derating.value < 1.0]
    if not lowered:
        return Sourced(rated_current_a, "stated", "rated output current")
    basis = max((derating.basis for derating in lowered), key=BASES.index)
    return Sourced(current_a, basis, "; ".join(derating.reason for derating in lowered))


def input_voltage_fit(supply_v: float, input_min_v: float, input_max_v: float) -> Fit:
    """Whether a supply lies within a drive's input range.

    Parameters
    ----------
    supply_v : float
        Voltage between the lines that feed the drive [V]
    input_min_v : float
        Lower end of the drive's input range [V]
    input_max_v : float
        Upper end of the drive's input range [V]

    Returns
    -------
    Fit
        Supply voltage needed: the nearer end of the range, and the one at hand [V]

    Raises
    ------
    RangeError
        A voltage not above zero, or a range that does not rise

    Notes
    -----
    The range as printed, with no tolerance on top: makers print theirs with the tolerance
    included or beside it.

    Examples
    --------
    >>> input_voltage_fit(480.0, 200.0, 240.0).fits
    False

    References
    ----------
    .. [1] The drive's own ratings
    """
    checks.positive(supply_v, "the supply voltage", "V")
    checks.positive(input_min_v, "the lowest input voltage", "V")
    checks.in_range(input_max_v, input_min_v, 1500.0, "the highest input voltage", "V")
    if supply_v < input_min_v:
        return Fit(False, input_min_v, supply_v, "the supply is below the drive's input range")
    if supply_v > input_max_v:
        return Fit(False, input_max_v, supply_v, "the supply is above the drive's input range")
    return Fit(True, supply_v, supply_v, "the supply lies within the drive's input range")


def output_voltage_v(
    supply_v: float, output_max_v: float | None = None, *, doubles: bool = False
) -> float:
    r"""Highest voltage that a drive can give its motor on a supply.

    .. math:: U_{out} = \min(k \, U, U_{max}), \qquad k = 1 \text{ or } 2

    Parameters
    ----------
    supply_v : float
        Voltage between the lines that feed the drive [V]
    output_max_v : float | None
        The drive's own highest output voltage, if it is known [V]
    doubles : bool
        Whether its input doubles the voltage [-]

    Returns
    -------
    float
        Voltage between motor leads, fundamental [V]

    Raises
    ------
    RangeError
        A voltage not above zero

    Notes
    -----
    At full load some per cent less. A 120 V class that doubles feeds a 230 V motor; one that does
    not would leave it at half its voltage.

    Examples
    --------
    >>> output_voltage_v(120.0, 230.0, doubles=True)
    230.0

    References
    ----------
    .. [1] A modulated bridge gives no more than its bus carries; common practice
    """
    checks.positive(supply_v, "the supply voltage", "V")
    possible_v = supply_v * (2.0 if doubles else 1.0)
    if output_max_v is None:
        return possible_v
    checks.positive(output_max_v, "the highest output voltage", "V")
    return min(possible_v, output_max_v)


def output_voltage_fit(output_v: float, motor_v: float) -> Fit:
    """Whether a motor, as connected, fits the voltage that a drive gives it.

    Parameters
    ----------
    output_v : float
        Highest output voltage, by :func:`output_voltage_v` [V]
    motor_v : float
        Rated voltage of the motor in the connection used [V]

    Returns
    -------
    Fit
        Motor voltage needed and drive voltage at hand [V]

    Raises
    ------
    RangeError
        A voltage not above zero

    Notes
    -----
    Within 10 %. Below, the motor goes weak before its rated frequency; above, the drive may drive
    it beyond its insulation and its iron, unless the settings hold the voltage down or the user
    means to run it above its rated frequency with rated flux.

    Examples
    --------
    >>> output_voltage_fit(208.0, 230.0).fits
    True
    >>> output_voltage_fit(230.0, 400.0).reason
    'the drive gives less than the motor is connected for'

    References
    ----------
    .. [1] NEMA MG 1, 12.44; IEC 60034-1, 7.3, zone B (from memory)
    """
    checks.positive(output_v, "the output voltage", "V")
    checks.positive(motor_v, "the rated voltage of the motor", "V")
    share = output_v / motor_v
    if share < 1.0 - VOLTAGE_TOLERANCE - 1e-9:
        return Fit(False, motor_v, output_v, "the drive gives less than the motor is connected for")
    if share > 1.0 + VOLTAGE_TOLERANCE + 1e-9:
        return Fit(False, motor_v, output_v, "the drive gives more than the motor is connected for")
    return Fit(True, motor_v, output_v, "the motor's connection fits")


def current_fit(motor_currents_a: tuple[float, ...], available_a: float) -> Fit:
    r"""Whether a drive gives enough current for all motors on it.

    .. math:: \sum_i I_i \le I

    Parameters
    ----------
    motor_currents_a : tuple[float, ...]
        Rated currents of the motors, in the connections used [A]
    available_a : float
        Current of :func:`available_current_a` [A]

    Returns
    -------
    Fit
        Current needed and available [A]

    Raises
    ------
    RangeError
        No motor, or a current not above zero

    Notes
    -----
    Amperes decide, not kilowatts. With several motors the drive cannot protect each: every motor
    needs an overload relay of its own (NEC 430.124, IEC 60204-1, 7.3), the drive must be set to
    plain V/f, and no motor may be switched in while it runs.

    Examples
    --------
    >>> current_fit((2.0, 2.0), 5.0).share
    0.8

    References
    ----------
    .. [1] Kirchhoff's current law, in phase, which is cautious
    """
    if not motor_currents_a:
        raise RangeError("The drive was not judged.", "There is no motor on it.", "Add its motor.")
    for current_a in motor_currents_a:
        checks.positive(current_a, "the rated current of the motor", "A")
    checks.positive(available_a, "the current of the drive", "A")
    needed_a = sum(motor_currents_a)
    several = " for all motors together" if len(motor_currents_a) > 1 else ""
    if needed_a <= available_a * (1.0 + 1e-9):
        return Fit(True, needed_a, available_a, f"the drive gives enough current{several}")
    return Fit(False, needed_a, available_a, f"the drive gives too little current{several}")


def overload_torque_share(
    output_current_a: float, overload: float, motor_current_a: float, power_factor: float
) -> float:
    r"""Torque that a drive's short overload lets its motor give, as a share of rated torque.

    .. math:: m = \frac{\sqrt{(k I_D / I_N)^2 - \sin^2\varphi}}{\cos\varphi}

    Parameters
    ----------
    output_current_a : float
        Output current of the drive, derated [A]
    overload : float
        Overload of the drive as a share of that current, *k*, such as 1.5 [-]
    motor_current_a : float
        Rated current of the motor in the connection used [A]
    power_factor : float
        Power factor of the motor at rated load [-]

    Returns
    -------
    float
        Share of rated torque, an estimate, held at 3 for a drive far too large [-]

    Raises
    ------
    RangeError
        A current not above zero, overload outside of 1 to 5, or power factor outside of 0 to 1

    Notes
    -----
    For as long as the drive allows its overload, at rated flux, and never above the motor's own
    breakdown torque.

    Examples
    --------
    >>> round(overload_torque_share(5.0, 1.5, 5.0, 0.8), 3)
    1.718

    References
    ----------
    .. [1] The relation of `core.calc.motor_current.load_from_current`
    """
    checks.positive(output_current_a, "the output current", "A")
    checks.in_range(overload, 1.0, 5.0, "the overload")
    checks.positive(motor_current_a, "the rated current of the motor", "A")
    # No motor follows the straight line as far as this; more current adds nothing.
    current_a = min(output_current_a * overload, LOAD_MAX * power_factor * motor_current_a)
    return load_from_current(motor_current_a, power_factor, current_a)


def _derating(stated: float | None, name: str, rule: float, reason: str) -> Sourced:
    if stated is not None:
        checks.ratio(stated, name, zero=False)
    basis = "published" if rule == 1.0 else "estimate"
    words = "within the rating" if rule == 1.0 else f"rule of thumb, {reason}"
    return stated_or(stated, name, Sourced(rule, basis, words))
