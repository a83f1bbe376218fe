"""Conductor sizes by their trade names: American wire gauge, thousands of circular mils, mm².

A size is held as the area of its metal. A gauge number is no measure, so it is read here and not
by the unit table; the area follows the closed form of the gauge.
"""

import math
import re
from functools import cache

from core.units.kinds import System
from core.units.numbers import UnreadableError, quoted
from core.units.table import UNITS

# 4/0 is number -3; 40 is the thinnest that has a name.
THICKEST_GAUGE, THINNEST_GAUGE = -3, 40
# Above 4/0 the trade counts thousands of circular mils, in whole steps.
_SMALLEST_KCMIL, _LARGEST_KCMIL = 250, 2000

_SLASHED = r"([1-4])/0"
_ZEROS = r"0{1,4}"
_NUMBERED = r"[0-9]{1,2}"
_MARK = r"(?i)#|AWG|(?<=[0-9]) ?GA(?:UGE)?\b"


def gauge_area(gauge: int) -> float:
    r"""Area of a solid conductor of American wire gauge.

    .. math:: A = \frac{\pi}{4} d^2, \quad d = 0.005\,\mathrm{in} \cdot 92^{(36 - n) / 39}

    Parameters
    ----------
    gauge : int
        Gauge number n [1], with 1/0 = 0, 2/0 = -1, 3/0 = -2, 4/0 = -3

    Returns
    -------
    float
        Area [m²]

    Raises
    ------
    UnreadableError
        No such gauge.

    Notes
    -----
    Odd gauges that are not sold, such as 13, follow the same law. Stranded conductors of a gauge
    have the same area of metal and a larger diameter.

    Examples
    --------
    >>> round(gauge_area(12) * 1e6, 2)
    3.31

    References
    ----------
    ASTM B258, Standard nominal diameters and cross-sectional areas of AWG sizes of solid round
    wires used as electrical conductors.
    """
    if not THICKEST_GAUGE <= gauge <= THINNEST_GAUGE:
        raise UnreadableError(f"There is no {gauge} AWG.")
    diameter_m = 0.005 * 0.0254 * math.pow(92, (36 - gauge) / 39)
    return math.pi / 4 * diameter_m**2


def gauge_written(text: str, system: System) -> float | None:
    """Area of a gauge if the text names one.

    Parameters
    ----------
    text : str
        As typed: ``12 AWG``, ``AWG 12``, ``#12``, ``1/0``, ``4/0 AWG``
    system : "metric" or "us"
        In a US line a bare whole number is a gauge

    Returns
    -------
    float or None
        Area [m²]; None if the text has to be read as a number with its unit

    Raises
    ------
    UnreadableError
        No such gauge, a fraction, or a bare US number that is no gauge.

    Examples
    --------
    >>> gauge_written("#12", "metric") == gauge_written("12", "us") == gauge_area(12)
    True
    >>> gauge_written("2.5 mm2", "us") is None
    True
    """
    bare, marks = re.subn(_MARK, "", text)
    bare = bare.strip()
    gauge = _gauge_number(bare, bare_number=marks > 0 or system == "us")
    if gauge is not None:
        return gauge_area(gauge)
    if marks:
        raise UnreadableError(f"{quoted(text)} is no gauge.")
    if "/" in text:
        raise UnreadableError(f"{quoted(text)} is a fraction, which no conductor size is.")
    return None


def trade_name(area_m2: float) -> tuple[str, str] | None:
    """The gauge or kcmil size that has this area.

    Parameters
    ----------
    area_m2 : float
        Area [m²]

    Returns
    -------
    tuple of str and str, or None
        Number and unit (``("12", "AWG")``); None if no such size has the area

    Examples
    --------
    >>> trade_name(gauge_area(-3)), trade_name(2.5e-6)
    (('4/0', 'AWG'), None)
    """
    for gauge, area in _gauges().items():
        if math.isclose(area_m2, area, rel_tol=1e-6):
            return (str(gauge) if gauge > 0 else f"{1 - gauge}/0"), "AWG"
    kcmil = UNITS["kcmil"].from_si(area_m2)
    if (
        _SMALLEST_KCMIL - 0.5 < kcmil < _LARGEST_KCMIL + 0.5
        and abs(kcmil - round(kcmil)) < 1e-6 * kcmil
    ):
        return str(round(kcmil)), "kcmil"
    return None


def _gauge_number(text: str, *, bare_number: bool) -> int | None:
    slashed = re.fullmatch(_SLASHED, text)
    if slashed:
        return 1 - int(slashed[1])
    if re.fullmatch(_ZEROS, text) and (bare_number or len(text) > 1):
        return 1 - len(text)
    return int(text) if bare_number and re.fullmatch(_NUMBERED, text) else None


@cache
def _gauges() -> dict[int, float]:
    return {gauge: gauge_area(gauge) for gauge in range(THICKEST_GAUGE, THINNEST_GAUGE + 1)}
