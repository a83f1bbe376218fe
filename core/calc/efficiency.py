"""Efficiency where a plate tells none: the published limits of the classes."""

import math
from functools import cache
from itertools import pairwise

from core.calc import checks
from core.calc.curves import Points
from core.calc.sourced import Sourced
from core.errors import RangeError
from core.tables import load_table

__all__ = ["iec_efficiency", "motor_efficiency", "nema_efficiency", "small_motor_efficiency"]

HORSEPOWER_W = 745.69987

# kW and hp on a plate are rounded against each other (0.75 kW is 1.006 hp), so the ends of a table
# reach this much further.
PLATE_ROUNDING = 0.01

# Power in kW for which the two sets of coefficients hold. Between them the law gives nothing.
IEC_RANGES = {"low": (0.12, 0.55), "high": (0.75, 200.0)}


def iec_efficiency(power_w: float, ie_class: str, poles: int) -> float:
    r"""Least nominal efficiency of a three-phase 50 Hz motor of an IE class.

    .. math:: 100\,\eta = A x^3 + B x^2 + C x + D, \qquad x = \log_{10} \frac{P_N}{1\,\mathrm{kW}}

    Parameters
    ----------
    power_w : float
        Rated power [W]
    ie_class : str
        ``IE1``, ``IE2``, ``IE3`` or ``IE4`` [-]
    poles : int
        2, 4, 6 or 8 [-]

    Returns
    -------
    float
        Efficiency as a ratio, rounded to 0.1 % as the law does [-]

    Raises
    ------
    RangeError
        An unknown class or number of poles, or a power outside of 0.12 to 0.55 and 0.75 to 200 kW;
        for IE1, whose coefficients were not seen, a power that is no listed rating to 7.5 kW

    Notes
    -----
    At 50 Hz and rated load. A motor of the class has at least this within the tolerance of IEC
    60034-1; at part load and on a drive it has less.

    Examples
    --------
    >>> round(iec_efficiency(750.0, "IE3", 4), 3)
    0.825

    References
    ----------
    .. [1] IEC 60034-30-1:2014; coefficients in Regulation (EU) 2019/1781, Annex I, and UK SI
       2021/745, Schedule 16 (seen); IE1 by table, below 0.75 kW from memory
    """
    checks.positive(power_w, "the rated power", "W")
    kilowatts = power_w / 1e3
    if ie_class == "IE1":
        return _listed_ie1(kilowatts, poles)
    for name, (low, high) in IEC_RANGES.items():
        if low * (1.0 - 1e-9) <= kilowatts <= high * (1.0 + 1e-9):
            a, b, c, d = _coefficients(name, ie_class, poles)
            x = math.log10(kilowatts)
            return round(((a * x + b) * x + c) * x + d, 1) / 100.0
    raise RangeError(
        "The efficiency was not found.",
        f"The limits hold for 0.12 to 0.55 kW and for 0.75 to 200 kW; this is {kilowatts:.4g} kW.",
        "Enter the efficiency from the nameplate.",
    )


def nema_efficiency(power_w: float, nema_class: str, poles: int, *, enclosed: bool = True) -> float:
    """Nominal full-load efficiency of a three-phase 60 Hz motor by its NEMA class.

    Parameters
    ----------
    power_w : float
        Rated power [W]
    nema_class : str
        ``premium`` or ``energy_efficient`` [-]
    poles : int
        2, 4 or 6 [-]
    enclosed : bool
        Whether the motor is enclosed (TEFC, TENV), not open [-]

    Returns
    -------
    float
        Efficiency as a ratio [-]

    Raises
    ------
    RangeError
        An unknown class or number of poles, a power outside of 1 to 10 hp, or a motor for which the
        table is empty

    Notes
    -----
    Between two ratings: at their midpoint or above, the higher counts, else the lower. One per
    cent more at the ends, for plates in kilowatts.

    Examples
    --------
    >>> nema_efficiency(3 * 745.7, "premium", 4)
    0.895

    References
    ----------
    .. [1] NEMA MG 1, tables 12-11 and 12-12; 10 CFR 431.25 for the midpoint rule (seen)
    """
    return _by_horsepower(
        "nema_efficiency",
        power_w,
        motor_class=nema_class,
        construction="enclosed" if enclosed else "open",
        poles=str(poles),
    )


def small_motor_efficiency(power_w: float, winding: str, poles: int) -> float:
    """Average full-load efficiency that US law asks of a small open 60 Hz motor.

    Parameters
    ----------
    power_w : float
        Rated power [W]
    winding : str
        ``polyphase`` or ``capacitor_start`` [-]
    poles : int
        2, 4 or 6 [-]

    Returns
    -------
    float
        Efficiency as a ratio [-]

    Raises
    ------
    RangeError
        An unknown winding or number of poles, a power outside of 1/4 to 3 hp, or a motor for which
        the table is empty

    Notes
    -----
    Open motors only: small enclosed ones fall under no such limit and may have less. Between two
    ratings as in :func:`nema_efficiency`.

    Examples
    --------
    >>> small_motor_efficiency(0.5 * 745.7, "polyphase", 4)
    0.782

    References
    ----------
    .. [1] 10 CFR 431.446 (seen)
    """
    return _by_horsepower("small_motor_efficiency", power_w, winding=winding, poles=str(poles))


def motor_efficiency(
    power_w: float, poles: int, standard: str = "iec", plate_efficiency: float | None = None
) -> Sourced:
    """The efficiency to reckon with: the plate's, else a cautious estimate.

    Parameters
    ----------
    power_w : float
        Rated power [W]
    poles : int
        Number of poles [-]
    standard : str
        ``iec`` or ``nema``, by which the plate is made [-]
    plate_efficiency : float | None
        Efficiency on the nameplate, if it is there [-]

    Returns
    -------
    Sourced
        Efficiency as a ratio, and what it rests on [-]

    Raises
    ------
    RangeError
        Plate efficiency outside of 0 to 1, an unknown standard, or no estimate for this motor

    Notes
    -----
    The estimate takes the lower class of motors in common use (IE2, or energy efficient; below
    1 hp small open motors), since too low an efficiency only makes a current too high. Between
    0.55 and 0.75 kW the limit of 0.55 kW stands.

    Examples
    --------
    >>> motor_efficiency(750.0, 4, plate_efficiency=0.81).value
    0.81
    >>> guess = motor_efficiency(750.0, 4)
    >>> round(guess.value, 3), guess.basis
    (0.796, 'estimate')

    References
    ----------
    .. [1] :func:`iec_efficiency`, :func:`nema_efficiency`, :func:`small_motor_efficiency`
    """
    if plate_efficiency is not None:
        checks.ratio(plate_efficiency, "the efficiency", zero=False)
        return Sourced(plate_efficiency, "stated", "nameplate")
    checks.positive(power_w, "the rated power", "W")
    if standard == "iec":
        gap = IEC_RANGES["low"][1] < power_w / 1e3 < IEC_RANGES["high"][0]
        limit_power_w = 1e3 * IEC_RANGES["low"][1] if gap else power_w
        limit = iec_efficiency(limit_power_w, "IE2", poles)
        return Sourced(limit, "estimate", "taken as class IE2, IEC 60034-30-1")
    if standard == "nema":
        if power_w >= HORSEPOWER_W * (1.0 - PLATE_ROUNDING):
            limit = nema_efficiency(power_w, "energy_efficient", poles)
            return Sourced(limit, "estimate", "taken as energy efficient, NEMA MG 1 table 12-11")
        limit = small_motor_efficiency(power_w, "polyphase", poles)
        return Sourced(limit, "estimate", "taken as a small open motor, 10 CFR 431.446")
    raise RangeError(
        "The efficiency was not found.", f"{standard!r} is no standard here.", "Give iec or nema."
    )


@cache
def _coefficients(power_range: str, ie_class: str, poles: int) -> tuple[float, float, float, float]:
    for row in load_table("ie_coefficients"):
        if (row["range"], row["class"], row["poles"]) == (power_range, ie_class, str(poles)):
            return float(row["a"]), float(row["b"]), float(row["c"]), float(row["d"])
    raise RangeError(
        "The efficiency was not found.",
        f"No limit is listed for class {ie_class} and {poles} poles.",
        "Give IE1, IE2, IE3 or IE4 and 2, 4, 6 or 8 poles, or enter the nameplate's efficiency.",
    )


def _listed_ie1(kilowatts: float, poles: int) -> float:
    for row in load_table("ie1_efficiency"):
        listed = float(row["kw"])
        if row["poles"] == str(poles) and abs(kilowatts / listed - 1.0) <= 1e-6:
            return float(row["percent"]) / 100.0
    raise RangeError(
        "The efficiency was not found.",
        f"IE1 is listed for standard powers of 0.12 to 7.5 kW with 2, 4, 6 or 8 poles, not for "
        f"{kilowatts:.4g} kW with {poles}.",
        "Enter the efficiency from the nameplate.",
    )


@cache
def _ratings(table: str, keys: tuple[tuple[str, str], ...]) -> Points:
    """Horsepower and percent of the rows that agree with all keys."""
    return tuple(
        (float(row["hp"]), float(row["percent"]))
        for row in load_table(table)
        if all(row[key] == value for key, value in keys)
    )


def _by_horsepower(table: str, power_w: float, **keys: str) -> float:
    """The cell of a 60 Hz table, by the midpoint rule between its ratings."""
    checks.positive(power_w, "the rated power", "W")
    rows = _ratings(table, tuple(keys.items()))
    power_hp = power_w / HORSEPOWER_W
    low, high = (rows[0][0], rows[-1][0]) if rows else (0.0, 0.0)
    if not low * (1.0 - PLATE_ROUNDING) <= power_hp <= high * (1.0 + PLATE_ROUNDING):
        held = f"{low:.4g} to {high:.4g} hp" if rows else "nothing"
        raise RangeError(
            "The efficiency was not found.",
            f"For {', '.join(f'{key} {value}' for key, value in keys.items())} the table holds "
            f"{held}; this is {power_hp:.4g} hp.",
            "Enter the efficiency from the nameplate.",
        )
    # A plate's rounding may not push an exact midpoint down.
    reached = sum(
        power_hp >= (lower[0] + upper[0]) / 2.0 * (1.0 - 1e-6) for lower, upper in pairwise(rows)
    )
    return round(rows[reached][1] / 100.0, 6)
