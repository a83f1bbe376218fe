"""What a copper conductor may carry by IEC 60364-5-52, and the smallest that carries a current.

The steps follow the standard: the current of the table for insulation, loaded conductors and
method of installation, corrected for ambient temperature and for grouping.
"""

from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import ZERO_C_K, Row, chosen, first_reaching, remembered, rows
from core.errors import RangeError

__all__ = [
    "CableCurrent",
    "HarmonicSizing",
    "cable_current",
    "conductor_for_device",
    "grouping_factor",
    "harmonic_sizing",
    "table_current_a",
    "temperature_factor",
]

EDITION = "IEC 60364-5-52:2009"

# Highest conductor temperature in use, by insulation.
INSULATIONS_K = {"PVC": 70.0 + ZERO_C_K, "XLPE": 90.0 + ZERO_C_K}
METHODS = ("A1", "A2", "B1", "B2", "C", "D1", "D2", "E")
IN_GROUND = ("D1", "D2")

# Which grouping may be met with which method of installation.
ARRANGEMENTS = {
    "bunched": ("A1", "A2", "B1", "B2", "C", "E"),
    "single_layer": ("C",),
    "perforated_tray": ("E",),
    "ducts_touching": ("D1",),
    "buried_touching": ("D2",),
}
# From nine circuits on, one layer of cables loses no more (note to Table B.52.17, from memory).
_LAYERS = ("single_layer", "perforated_tray")
_LAYER_MAX = 9

_MM2 = 1e-6
_SAME_AREA = 0.01

# Third harmonic of the line current at which the neutral, not the line, decides (Annex E).
_HARMONIC_STEPS = (
    (0.15, 1.0, "line"),
    (0.33, 0.86, "line"),
    (0.45, 0.86, "neutral"),
    (1.0, 1.0, "neutral"),
)
_HARMONIC_REMARK = "IEC 60364-5-52:2009 Annex E Table E.52.1: from memory, check before use."


@dataclass(frozen=True, slots=True)
class CableCurrent:
    """The steps from a cable to the current it may carry, currents in A, area in m².

    ``remarks`` names the tables that were not seen in a copy.
    """

    area_m2: float
    table_a: float
    temperature_factor: float
    grouping_factor: float
    allowed_a: float
    remarks: tuple[str, ...] = ()
    edition: str = EDITION


@dataclass(frozen=True, slots=True)
class HarmonicSizing:
    """Neutral current by the third harmonic [A], and the current to size a four-core cable for."""

    neutral_a: float
    factor: float
    decides: str
    sizing_a: float
    remarks: tuple[str, ...] = (_HARMONIC_REMARK,)
    edition: str = EDITION


def table_current_a(area_m2: float, insulation: str, loaded: int, method: str) -> float:
    r"""Current of the table before any correction.

    .. math:: I \approx A \cdot S^m \text{ (Annex D)}

    Parameters
    ----------
    area_m2 : float
        Area of the copper, 1.5 mm² to 120 mm² in the standard's steps [m²]
    insulation : str
        PVC (70 °C) or XLPE (90 °C, also EPR) [-]
    loaded : int
        Loaded conductors, 2 for a single phase, 3 for three phases [-]
    method : str
        Reference method of installation, A1, A2, B1, B2, C, D1, D2 or E [-]

    Returns
    -------
    float
        Current at 30 °C in air or 20 °C in the ground (2.5 K m/W) [A]

    Raises
    ------
    RangeError
        No such size, insulation, number or method

    Notes
    -----
    A1 and A2: conduit in an insulating wall, single wires or cable; B1 and B2: conduit or trunking
    on a wall; C: cable clipped to a wall; D1 and D2: in the ground, ducted or direct; E: cable in
    free air. The power law lies within 2.5 % of the table up to 16 mm².

    Examples
    --------
    >>> table_current_a(2.5e-6, "PVC", 3, "B2")
    20.0

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Tables B.52.2 to B.52.5, B.52.10, B.52.12
    """
    return _current_row(area_m2, insulation, loaded, method).numbers[method]


def temperature_factor(ambient_k: float, insulation: str, method: str) -> float:
    r"""Factor for the ambient temperature.

    .. math:: k \approx \sqrt{\frac{\vartheta_c - \vartheta_a}{\vartheta_c - \vartheta_{ref}}}

    Parameters
    ----------
    ambient_k : float
        Highest temperature of the air, or of the ground, along the run [K]
    insulation : str
        PVC or XLPE [-]
    method : str
        Reference method of installation; D1 and D2 lie in the ground [-]

    Returns
    -------
    float
        Factor on the current of the table [-]

    Raises
    ------
    RangeError
        No such insulation or method, or more than 60 °C

    Notes
    -----
    Taken from the table in steps of 5 K: 31 °C counts as 35 °C.

    Examples
    --------
    >>> temperature_factor(313.15, "PVC", "B2")
    0.87

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Tables B.52.14 (air) and B.52.15 (ground)
    """
    row, column = _temperature_row(ambient_k, insulation, method)
    return row.numbers[column]


def grouping_factor(circuits: int, arrangement: str, method: str) -> float:
    """Factor for several loaded circuits or cables together.

    Parameters
    ----------
    circuits : int
        Circuits or multicore cables in the group, this one included [-]
    arrangement : str
        bunched, single_layer, perforated_tray, ducts_touching or buried_touching [-]
    method : str
        Reference method of installation, which the arrangement must fit [-]

    Returns
    -------
    float
        Factor on the current of the table [-]

    Raises
    ------
    RangeError
        No such arrangement or method, they do not fit, or too many circuits

    Notes
    -----
    Between two numbers of the table the larger number counts. A cable that carries less than 30 %
    of what it may in its group need not be counted (from memory).

    Examples
    --------
    >>> grouping_factor(4, "bunched", "B2"), grouping_factor(10, "bunched", "B2")
    (0.65, 0.45)

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Tables B.52.17, B.52.18, B.52.19
    """
    return _grouping_row(circuits, arrangement, method).numbers["factor"]


def cable_current(
    area_m2: float,
    insulation: str,
    loaded: int,
    method: str,
    ambient_k: float,
    circuits: int,
    arrangement: str,
) -> CableCurrent:
    r"""What a conductor may carry where it lies, step by step.

    .. math:: I_z = I_t \cdot k_\vartheta \cdot k_g

    Parameters
    ----------
    area_m2 : float
        Area of the copper, 1.5 mm² to 120 mm² in the standard's steps [m²]
    insulation : str
        PVC (70 °C) or XLPE (90 °C, also EPR) [-]
    loaded : int
        Loaded conductors, 2 or 3 [-]
    method : str
        Reference method of installation [-]
    ambient_k : float
        Highest ambient temperature along the run [K]
    circuits : int
        Circuits in the group, this one included [-]
    arrangement : str
        How the group lies, see grouping_factor [-]

    Returns
    -------
    CableCurrent
        All steps [A, m² and -]

    Raises
    ------
    RangeError
        One of the inputs is outside of its table

    Examples
    --------
    >>> steps = cable_current(2.5e-6, "PVC", 2, "B2", 313.15, 3, "bunched")
    >>> steps.table_a, steps.temperature_factor, steps.grouping_factor, round(steps.allowed_a, 3)
    (23.0, 0.87, 0.7, 14.007)

    References
    ----------
    .. [1] IEC 60364-5-52:2009 523 and Annex B
    """
    current = _current_row(area_m2, insulation, loaded, method)
    heat, column = _temperature_row(ambient_k, insulation, method)
    company = _grouping_row(circuits, arrangement, method)
    table_a = current.numbers[method]
    heat_factor, company_factor = heat.numbers[column], company.numbers["factor"]
    return CableCurrent(
        area_m2=current.numbers["mm2"] * _MM2,
        table_a=table_a,
        temperature_factor=heat_factor,
        grouping_factor=company_factor,
        allowed_a=table_a * heat_factor * company_factor,
        remarks=remembered(current, heat, company),
    )


def conductor_for_device(
    least_a: float,
    insulation: str,
    loaded: int,
    method: str,
    ambient_k: float,
    circuits: int,
    arrangement: str,
) -> CableCurrent:
    """The smallest conductor that its device protects.

    Parameters
    ----------
    least_a : float
        Least current the conductor must carry, see iec_devices.conductor_current_a [A]
    insulation : str
        PVC (70 °C) or XLPE (90 °C, also EPR) [-]
    loaded : int
        Loaded conductors, 2 or 3 [-]
    method : str
        Reference method of installation [-]
    ambient_k : float
        Highest ambient temperature along the run [K]
    circuits : int
        Circuits in the group, this one included [-]
    arrangement : str
        How the group lies, see grouping_factor [-]

    Returns
    -------
    CableCurrent
        All steps for the size found, 1.5 mm² or larger [A, m² and -]

    Raises
    ------
    RangeError
        One of the inputs is outside of its table, or 120 mm² does not suffice

    Examples
    --------
    >>> steps = conductor_for_device(16.0, "PVC", 2, "B2", 313.15, 3, "bunched")
    >>> round(steps.area_m2 * 1e6, 1), round(steps.allowed_a, 2)
    (4.0, 18.27)

    References
    ----------
    .. [1] IEC 60364-5-52:2009 523; smallest copper of a power circuit Table 52.2 (from memory)
    """
    checks.positive(least_a, "the current", "A")
    for area_m2 in _areas_m2(insulation, loaded):
        steps = cable_current(area_m2, insulation, loaded, method, ambient_k, circuits, arrangement)
        if least_a <= steps.allowed_a * (1.0 + 1e-9):
            return steps
    raise RangeError(
        "No conductor was found.",
        f"One of 120 mm² may carry {steps.allowed_a:.4g} A here; {least_a:.4g} A is needed.",
        "Group fewer circuits, choose another way of laying, or divide the load.",
    )


def harmonic_sizing(line_a: float, third_harmonic: float) -> HarmonicSizing:
    r"""Current to size a four- or five-core cable for, when its neutral carries third harmonics.

    .. math:: I_N = 3\, h_3\, I_L

    Parameters
    ----------
    line_a : float
        Current in each line, harmonics included [A]
    third_harmonic : float
        Third harmonic as a share of the line current [-]

    Returns
    -------
    HarmonicSizing
        Neutral current, factor, what decides, and the current to look up with three loaded
        conductors [A and -]

    Raises
    ------
    RangeError
        Current not above zero, or share outside of 0 to 1

    Notes
    -----
    For balanced three-phase runs with neutral, such as a 400Y/230 V feeder to single-phase drives.
    Above 10 % of ninth and further multiples of three the standard asks for more (from memory).

    Examples
    --------
    >>> found = harmonic_sizing(39.0, 0.20)
    >>> found.decides, round(found.sizing_a, 1)
    ('line', 45.3)

    References
    ----------
    .. [1] IEC 60364-5-52:2009 Annex E, Table E.52.1
    """
    checks.positive(line_a, "the line current", "A")
    checks.ratio(third_harmonic, "the third harmonic")
    neutral_a = 3.0 * third_harmonic * line_a
    factor, decides = next(step[1:] for step in _HARMONIC_STEPS if third_harmonic <= step[0])
    base_a = line_a if decides == "line" else neutral_a
    return HarmonicSizing(neutral_a, factor, decides, base_a / factor)


def _table(insulation: str, loaded: int) -> tuple[Row, ...]:
    chosen(insulation, tuple(INSULATIONS_K), "the insulation")
    checks.whole(loaded, 2, 3, "the number of loaded conductors")
    return tuple(
        row
        for row in rows("iec_60364_5_52_current")
        if row.words["insulation"] == insulation and row.numbers["loaded"] == loaded
    )


def _areas_m2(insulation: str, loaded: int) -> tuple[float, ...]:
    return tuple(row.numbers["mm2"] * _MM2 for row in _table(insulation, loaded))


def _current_row(area_m2: float, insulation: str, loaded: int, method: str) -> Row:
    checks.positive(area_m2, "the area of the conductor", "m²")
    chosen(method, METHODS, "the method of installation")
    for row in _table(insulation, loaded):
        if abs(row.numbers["mm2"] * _MM2 - area_m2) <= _SAME_AREA * area_m2:
            return row
    raise RangeError(
        "The conductor was not used.",
        f"{area_m2 / _MM2:.4g} mm² is no size of the IEC tables (1.5 mm² to 120 mm²).",
        "Enter a size such as 2.5 mm².",
    )


def _temperature_row(ambient_k: float, insulation: str, method: str) -> tuple[Row, str]:
    checks.positive(ambient_k, "the ambient temperature", "K")
    chosen(insulation, tuple(INSULATIONS_K), "the insulation")
    chosen(method, METHODS, "the method of installation")
    table = rows("iec_60364_5_52_temperature")
    ambient_c = ambient_k - ZERO_C_K
    row = first_reaching(table, "ambient_c", ambient_c, "the ambient temperature", "°C")
    return row, f"{'ground' if method in IN_GROUND else 'air'}_{insulation}"


def _grouping_row(circuits: int, arrangement: str, method: str) -> Row:
    checks.whole(circuits, 1, 1000, "the number of circuits")
    chosen(method, METHODS, "the method of installation")
    chosen(arrangement, tuple(ARRANGEMENTS), "the arrangement")
    chosen(method, ARRANGEMENTS[arrangement], f"the method for {arrangement.replace('_', ' ')}")
    counted = min(circuits, _LAYER_MAX) if arrangement in _LAYERS else circuits
    table = tuple(
        row for row in rows("iec_60364_5_52_grouping") if row.words["arrangement"] == arrangement
    )
    return first_reaching(table, "circuits", counted, "the number of circuits")
