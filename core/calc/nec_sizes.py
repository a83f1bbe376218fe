"""Conductor sizes of the NEC: names, areas and circular mils.

The line file holds a size as area of metal. The NEC thinks in trade sizes and in the circular mils
of its Chapter 9 Table 8, which are rounded; here the two meet.
"""

import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import first_reaching, rows
from core.errors import RangeError
from core.units import gauge_area

__all__ = [
    "EDITION",
    "SIZES",
    "Size",
    "size_named",
    "size_of_area",
    "size_with_circular_mils",
]

EDITION = "NEC 2023 (NFPA 70-2023)"

CIRCULAR_MIL_M2 = math.pi / 4.0 * 25.4e-6**2

# Neighbouring sizes differ by 9 % and more; a size typed in rounded mm² differs by less than 1 %.
_SAME_AREA = 0.01

# Table 8 rounds its circular mils to four digits, so a proportion of them can ask for a hair more
# than the size that is meant: 16 511 are needed where 8 AWG has 16 510.
_ROUNDING = 0.001


@dataclass(frozen=True, slots=True)
class Size:
    """A trade size: name, exact area of metal [m²], circular mils as Table 8 rounds them."""

    name: str
    area_m2: float
    circular_mils: float


def _area_m2(name: str) -> float:
    number, unit = name.split()
    if unit == "kcmil":
        return float(number) * 1000.0 * CIRCULAR_MIL_M2
    return gauge_area(1 - int(number[0]) if "/" in number else int(number))


SIZES = tuple(
    Size(row.words["size"], _area_m2(row.words["size"]), row.numbers["circular_mils"])
    for row in rows("nec_chapter_9_table_8")
)


def size_of_area(area_m2: float) -> Size:
    r"""The trade size that has an area.

    .. math:: A = \frac{\pi}{4} \left( 0.127\,\mathrm{mm} \cdot 92^{(36 - n) / 39} \right)^2

    Parameters
    ----------
    area_m2 : float
        Area of the conductor's metal [m²]

    Returns
    -------
    Size
        The size from 14 AWG to 600 kcmil within 1 % of the area [m² and circular mils]

    Raises
    ------
    RangeError
        Area not above zero, or no such size has it

    Notes
    -----
    The NEC tables know trade sizes only: a cable of 2.5 mm² lies between 14 and 12 AWG and is
    refused rather than taken for one of them.

    Examples
    --------
    >>> size_of_area(3.31e-6).name
    '12 AWG'

    References
    ----------
    .. [1] ASTM B258 (closed form of the gauge)
    .. [2] NEC 2023 Chapter 9 Table 8 (circular mils)
    """
    checks.positive(area_m2, "the area of the conductor", "m²")
    nearest = min(SIZES, key=lambda size: abs(size.area_m2 - area_m2))
    if abs(nearest.area_m2 - area_m2) > _SAME_AREA * nearest.area_m2:
        raise RangeError(
            "The conductor was not used.",
            f"{area_m2 * 1e6:.4g} mm² is no size of the NEC tables (14 AWG to 600 kcmil).",
            f"Enter a size such as {nearest.name}.",
        )
    return nearest


def size_named(name: str) -> Size:
    """The trade size of a name.

    Parameters
    ----------
    name : str
        As the tables write it: 12 AWG, 4/0 AWG, 250 kcmil [-]

    Returns
    -------
    Size
        The size [m² and circular mils]

    Raises
    ------
    RangeError
        The tables have no such name

    Examples
    --------
    >>> size_named("10 AWG").circular_mils
    10380.0

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 8
    """
    for size in SIZES:
        if size.name == name:
            return size
    raise RangeError(
        "The conductor was not used.",
        f"{name!r} is no size of the NEC tables.",
        "Enter a size such as 12 AWG or 250 kcmil.",
    )


def size_with_circular_mils(circular_mils: float) -> Size:
    """The smallest size with at least so many circular mils, but for rounding.

    Parameters
    ----------
    circular_mils : float
        Area that is needed [circular mils]

    Returns
    -------
    Size
        Smallest size that lacks no more than 0.1 % [m² and circular mils]

    Raises
    ------
    RangeError
        Area not above zero, or beyond 600 kcmil

    Notes
    -----
    Rounding rule: a size that lacks up to 0.1 % of what is needed is taken, because Table 8
    rounds its circular mils to four digits.

    Examples
    --------
    >>> size_with_circular_mils(16511.0).name, size_with_circular_mils(16600.0).name
    ('8 AWG', '6 AWG')

    References
    ----------
    .. [1] NEC 2023 Chapter 9 Table 8; the rounding rule is ours
    """
    checks.positive(circular_mils, "the area of the conductor", "circular mils")
    row = first_reaching(
        rows("nec_chapter_9_table_8"),
        "circular_mils",
        circular_mils * (1.0 - _ROUNDING),
        "the area of the conductor",
        "circular mils",
    )
    return size_named(row.words["size"])
