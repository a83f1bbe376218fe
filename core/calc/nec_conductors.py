"""What a copper conductor may carry by the NEC, and the smallest that carries a current.

The steps follow the code: the current of the table in the column of the insulation, corrected for
heat and for company in the raceway, then capped by the column of the terminals.
"""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import ZERO_C_K, Row, first_reaching, remembered, rows
from core.calc.nec_sizes import EDITION, SIZES, Size, size_of_area
from core.errors import RangeError

__all__ = [
    "AllowedCurrent",
    "allowed_current",
    "ambient_factor",
    "bundling_factor",
    "conductor_for_current",
    "current_carrying_conductors",
    "table_current_a",
    "terminal_rating_k",
]

# The three columns of the tables, by the temperature that insulation or terminal stands.
_COLUMNS = {60: "c60", 75: "c75", 90: "c90"}
RATINGS_K = tuple(celsius + ZERO_C_K for celsius in _COLUMNS)

SMALL_CIRCUIT_A = 100.0
CONDUCTORS_MAX = 500


@dataclass(frozen=True, slots=True)
class AllowedCurrent:
    """The steps from a conductor to the current it may carry, currents in A, temperatures in K.

    ``remarks`` names the tables that were not seen in a copy.
    """

    size: Size
    insulation_k: float
    table_a: float
    ambient_factor: float
    bundling_factor: float
    corrected_a: float
    terminal_k: float
    terminal_limit_a: float
    allowed_a: float
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


def table_current_a(area_m2: float, rating_k: float) -> float:
    """Current of the table before any correction.

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size from 14 AWG to 600 kcmil [m²]
    rating_k : float
        Temperature rating of insulation or terminal: 60 °C, 75 °C or 90 °C in kelvin [K]

    Returns
    -------
    float
        Ampacity at 30 °C ambient with up to three current-carrying conductors [A]

    Raises
    ------
    RangeError
        No such size or no such column

    Notes
    -----
    14 and 12 AWG at 60 °C, 3 and 1 AWG at 90 °C changed in 2011; copies of the older table are
    still about. Copper in raceway, cable or earth, up to 2000 V.

    Examples
    --------
    >>> table_current_a(3.31e-6, 348.15)
    25.0

    References
    ----------
    .. [1] NEC 2023 Table 310.16
    """
    return _current_row(size_of_area(area_m2)).numbers[f"{_column(rating_k)}_a"]


def ambient_factor(ambient_k: float, rating_k: float) -> float:
    r"""Factor for the ambient temperature.

    .. math:: F \approx \sqrt{\frac{\vartheta_c - \vartheta_a}{\vartheta_c - 30\,^\circ\mathrm{C}}}

    Parameters
    ----------
    ambient_k : float
        Highest ambient temperature along the run [K]
    rating_k : float
        Temperature rating of the insulation: 60 °C, 75 °C or 90 °C in kelvin [K]

    Returns
    -------
    float
        Factor on the current of the table, above 1 below 26 °C [-]

    Raises
    ------
    RangeError
        No such column, or the ambient is too hot for this insulation

    Notes
    -----
    Taken from the table in steps of 5 K: 31 °C counts as 35 °C. The formula lies within 0.006 of
    it; the rows above 60 °C were taken from it.

    Examples
    --------
    >>> ambient_factor(313.15, 348.15)
    0.88

    References
    ----------
    .. [1] NEC 2023 Table 310.15(B)(1)(1); formula 310.15(B)(2)
    """
    return _ambient_row(ambient_k, rating_k).numbers[_column(rating_k)]


def bundling_factor(conductors: int) -> float:
    """Factor for more than three current-carrying conductors together.

    Parameters
    ----------
    conductors : int
        Current-carrying conductors in the raceway or cable [-]

    Returns
    -------
    float
        Factor on the current of the table [-]

    Raises
    ------
    RangeError
        No whole number from 1 to 500

    Notes
    -----
    Holds for runs longer than 0.6 m (24 in). Which neutrals count:
    :func:`current_carrying_conductors`.

    Examples
    --------
    >>> bundling_factor(3), bundling_factor(4)
    (1.0, 0.8)

    References
    ----------
    .. [1] NEC 2023 Table 310.15(C)(1)
    """
    return _bundling_row(conductors).numbers["factor"]


def current_carrying_conductors(
    lines: int, neutral: bool, wye: bool, mainly_nonlinear: bool
) -> int:
    """How many conductors of one circuit count as current-carrying.

    Parameters
    ----------
    lines : int
        Ungrounded conductors of the circuit, 1 to 3 [-]
    neutral : bool
        Whether a neutral runs with them [-]
    wye : bool
        Whether the supply is a four-wire wye, such as 208Y/120 [-]
    mainly_nonlinear : bool
        Whether most of the load is drives and the like [-]

    Returns
    -------
    int
        Conductors to be counted [-]

    Raises
    ------
    RangeError
        Lines outside of 1 to 3, or one line without neutral

    Notes
    -----
    A neutral counts with one line, where it carries all of the current; with two lines of a wye;
    and with three where drives make its harmonics. With both legs of 120/240 V it does not count.

    Examples
    --------
    >>> current_carrying_conductors(2, neutral=True, wye=False, mainly_nonlinear=True)
    2
    >>> current_carrying_conductors(3, neutral=True, wye=True, mainly_nonlinear=True)
    4

    References
    ----------
    .. [1] NEC 2023 310.15(E)(1) to (3)
    """
    checks.whole(lines, 1, 3, "the number of line conductors")
    if lines == 1 and not neutral:
        raise RangeError(
            "The circuit was not used.",
            "One line without a neutral is no circuit.",
            "Give it a neutral or a second line.",
        )
    counts = {1: True, 2: wye, 3: mainly_nonlinear}[lines]
    return lines + int(neutral and counts)


def terminal_rating_k(circuit_a: float, marked_k: float | None) -> float:
    """Temperature column that the terminals allow.

    Parameters
    ----------
    circuit_a : float
        Rating of the circuit [A]
    marked_k : float | None
        Temperature the terminals of both ends are listed and marked for; None if not marked [K]

    Returns
    -------
    float
        60 °C, 75 °C or 90 °C in kelvin [K]

    Raises
    ------
    RangeError
        Current not above zero, or no such column

    Notes
    -----
    Without marking 60 °C up to 100 A and 75 °C above. The lowest rating of the whole run counts:
    breaker, terminal block and drive.

    Examples
    --------
    >>> terminal_rating_k(40.0, None), terminal_rating_k(150.0, None)
    (333.15, 348.15)

    References
    ----------
    .. [1] NEC 2023 110.14(C)(1)
    """
    checks.positive(circuit_a, "the rating of the circuit", "A")
    if marked_k is not None:
        return _rating_k(marked_k)
    return RATINGS_K[0] if circuit_a <= SMALL_CIRCUIT_A else RATINGS_K[1]


def allowed_current(
    area_m2: float, insulation_k: float, ambient_k: float, conductors: int, terminal_k: float
) -> AllowedCurrent:
    r"""What one conductor may carry where it lies, step by step.

    .. math:: I = \min(I_{ins} \cdot F_a \cdot F_b,\; I_{term})

    Parameters
    ----------
    area_m2 : float
        Area of the copper, of a trade size [m²]
    insulation_k : float
        Temperature rating of the insulation: 60 °C, 75 °C or 90 °C in kelvin [K]
    ambient_k : float
        Highest ambient temperature along the run [K]
    conductors : int
        Current-carrying conductors in the raceway or cable [-]
    terminal_k : float
        Temperature rating of the terminals, as terminal_rating_k gives it [K]

    Returns
    -------
    AllowedCurrent
        All steps [A, K and -]

    Raises
    ------
    RangeError
        One of the inputs is outside of its table

    Notes
    -----
    The column of the insulation is the start for corrections only; the result never exceeds the
    uncorrected current in the column of the terminals.

    Examples
    --------
    >>> steps = allowed_current(2.08e-6, 363.15, 318.15, 3, 348.15)
    >>> round(steps.corrected_a, 2), steps.terminal_limit_a, steps.allowed_a
    (21.75, 20.0, 20.0)

    References
    ----------
    .. [1] NEC 2023 Table 310.16, 310.15(B), 310.15(C), 110.14(C)
    """
    size = size_of_area(area_m2)
    current, heat = _current_row(size), _ambient_row(ambient_k, insulation_k)
    company = _bundling_row(conductors)
    table_a = current.numbers[f"{_column(insulation_k)}_a"]
    heat_factor = heat.numbers[_column(insulation_k)]
    corrected_a = table_a * heat_factor * company.numbers["factor"]
    limit_a = current.numbers[f"{_column(terminal_k)}_a"]
    return AllowedCurrent(
        size=size,
        insulation_k=_rating_k(insulation_k),
        table_a=table_a,
        ambient_factor=heat_factor,
        bundling_factor=company.numbers["factor"],
        corrected_a=corrected_a,
        terminal_k=_rating_k(terminal_k),
        terminal_limit_a=limit_a,
        allowed_a=min(corrected_a, limit_a),
        remarks=remembered(current, heat, company),
    )


def conductor_for_current(
    current_a: float,
    insulation_k: float,
    ambient_k: float,
    conductors: int,
    marked_k: float | None,
) -> AllowedCurrent:
    """The smallest conductor that may carry a current where it lies.

    Parameters
    ----------
    current_a : float
        Current the code asks for, 125 % already taken where it applies [A]
    insulation_k : float
        Temperature rating of the insulation: 60 °C, 75 °C or 90 °C in kelvin [K]
    ambient_k : float
        Highest ambient temperature along the run [K]
    conductors : int
        Current-carrying conductors in the raceway or cable [-]
    marked_k : float | None
        Temperature the terminals of both ends are marked for; None if not marked [K]

    Returns
    -------
    AllowedCurrent
        All steps for the size found, 14 AWG or larger [A, K and -]

    Raises
    ------
    RangeError
        One of the inputs is outside of its table, or 600 kcmil does not suffice

    Notes
    -----
    The current also decides by which rule the terminals count. Motor circuits are not bound by
    the small-conductor limit 240.4(D), see 240.4(G).

    Examples
    --------
    >>> conductor_for_current(45.0, 348.15, 303.15, 3, 348.15).size.name
    '8 AWG'

    References
    ----------
    .. [1] NEC 2023 310.14, 310.15, 110.14(C); smallest power conductor Table 310.3(A) (from memory)
    """
    terminal_k = terminal_rating_k(current_a, marked_k)
    for size in SIZES:
        steps = allowed_current(size.area_m2, insulation_k, ambient_k, conductors, terminal_k)
        if current_a <= steps.allowed_a * (1.0 + 1e-9):
            return steps
    raise RangeError(
        "No conductor was found.",
        f"One of 600 kcmil may carry {steps.allowed_a:.4g} A here; {current_a:.4g} A is needed.",
        "Use fewer conductors in one raceway, several feeders, or parallel conductors.",
    )


def _rating_k(temperature_k: float) -> float:
    for rating_k in RATINGS_K:
        if abs(temperature_k - rating_k) < 0.5:
            return rating_k
    raise RangeError(
        "The temperature rating was not used.",
        f"It is {temperature_k - ZERO_C_K:.4g} °C; 60 °C, 75 °C or 90 °C is needed.",
        "Take the rating printed on the conductor or marked on the terminal.",
    )


def _column(temperature_k: float) -> str:
    return _COLUMNS[round(_rating_k(temperature_k) - ZERO_C_K)]


def _current_row(size: Size) -> Row:
    return next(row for row in rows("nec_310_16") if row.words["size"] == size.name)


def _ambient_row(ambient_k: float, rating_k: float) -> Row:
    checks.positive(ambient_k, "the ambient temperature", "K")
    column = _column(rating_k)
    table = tuple(row for row in rows("nec_310_15_b_1") if column in row.numbers)
    return first_reaching(
        table, "ambient_max_c", ambient_k - ZERO_C_K, "the ambient temperature", "°C"
    )


def _bundling_row(conductors: int) -> Row:
    checks.whole(conductors, 1, CONDUCTORS_MAX, "the number of current-carrying conductors")
    return first_reaching(rows("nec_310_15_c_1"), "conductors_max", conductors, "the number")
