"""From typed text to SI and from SI to shown text: the only place where units are left behind.

A value is stored as an SI float. The unit system of a line decides what is shown and what a bare
number means, and never touches what is stored.
"""

import math
from dataclasses import dataclass
from decimal import Decimal

from core.errors import RangeError
from core.units.conductor import gauge_written, trade_name
from core.units.kinds import KINDS, Kind, System
from core.units.numbers import UnreadableError, not_taken, quoted, split_number
from core.units.table import UNITS, Unit, units_of, units_spelled

# A value this close to a short number was typed as that number, in one system or the other.
_TYPED_DIGITS, _TYPED_CLOSENESS = 6, 1e-9
_PLAIN_FROM, _PLAIN_BELOW = 1e-6, 1e9


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as shown: number and unit apart, for columns; ``str()`` joins them.

    ``str()`` of it, typed into a field of the same kind, is the same value in either system. The
    number alone is not: ``12`` of ``12 AWG`` would be 12 mm² in a metric line.
    """

    number: str
    unit: str

    def __str__(self) -> str:
        return f"{self.number} {self.unit}" if self.unit else self.number


def parse_quantity(text: str, kind: Kind | str, system: System, *, what: str = "") -> float:
    """Read a typed quantity.

    Parameters
    ----------
    text : str
        A number with any unit of the kind, or bare in the unit the line shows
    kind : Kind or str
        Kind of quantity, or its name
    system : "metric" or "us"
        Unit system of the line
    what : str
        What the value is for, in the words of the screen

    Returns
    -------
    float
        The value [SI unit of the kind]

    Raises
    ------
    InputError
        No number, two readings, an unknown unit, a unit of another dimension, a temperature below
        absolute zero, a fraction of a thing that is counted.

    Notes
    -----
    A bare share is in per cent: ``82`` is 82 %. Up to 1 it could as well be the plain ratio (0.82),
    so it is refused; zero is zero in both.

    Examples
    --------
    >>> round(parse_quantity("3/4 hp", "power", "metric"), 2)
    559.27
    >>> parse_quantity("0,75", "power", "metric")
    750.0
    """
    kind = KINDS[kind] if isinstance(kind, str) else kind
    try:
        return _read(text, kind, system)
    except UnreadableError as fault:
        raise not_taken(what, fault.why, fault.fix or f"Type {kind.what}.") from None


def show(value_si: float, kind: Kind | str, system: System) -> Shown:
    """Write a stored value in the unit of the line.

    Parameters
    ----------
    value_si : float
        The value [SI unit of the kind]
    kind : Kind or str
        Kind of quantity, or its name
    system : "metric" or "us"
        Unit system of the line

    Returns
    -------
    Shown
        Number and unit

    Raises
    ------
    RangeError
        The value is not finite.

    Notes
    -----
    A value that is a number of up to six digits in the shown unit is shown with all of them, so
    that what was typed comes back as typed. Any other is rounded to the digits of its kind, never
    before the decimal point. Kinds that have larger units are shown in one of them where the very
    same number is shorter there.

    Examples
    --------
    >>> str(show(750.0, "power", "metric")), str(show(750.0, "power", "us"))
    ('0.75 kW', '1.006 hp')
    >>> str(show(10000.0, "resistance", "us")), str(show(1234.5, "resistance", "us"))
    ('10 kΩ', '1234.5 Ω')
    """
    kind = KINDS[kind] if isinstance(kind, str) else kind
    return _in_larger(_shown(value_si, kind, system), kind, system)


def _shown(value_si: float, kind: Kind, system: System) -> Shown:
    if not math.isfinite(value_si):
        raise RangeError("Nothing can be shown.", f"{value_si} is no value.", "Mend its inputs.")
    if kind.name == "conductor":
        named = trade_name(value_si)
        return Shown(*named) if named else _in_unit(value_si, UNITS[kind.metric_unit], kind.digits)
    return _in_unit(value_si, UNITS[kind.unit_id(system)], kind.digits)


def show_computed(value_si: float, kind: Kind | str, system: System) -> Shown:
    """Write a computed value: rounded to the digits of its kind, whatever its number.

    Parameters
    ----------
    value_si : float
        The value [SI unit of the kind]
    kind : Kind or str
        Kind of quantity, or its name
    system : "metric" or "us"
        Unit system of the line

    Returns
    -------
    Shown
        Number and unit

    Raises
    ------
    RangeError
        The value is not finite.

    Notes
    -----
    A computed 51.4125 Hz shows as 51.41 Hz; a typed one, which :func:`show` writes, keeps what
    was typed.

    Examples
    --------
    >>> str(show_computed(51.4125, "frequency", "us")), str(show(51.4125, "frequency", "us"))
    ('51.41 Hz', '51.4125 Hz')
    """
    kind = KINDS[kind] if isinstance(kind, str) else kind
    shown = _shown(value_si, kind, system)
    try:
        number = float(shown.number)
    except ValueError:
        return shown
    digits = max(kind.digits, len(f"{abs(number):.0f}"))
    rounded = Shown(_digits(float(f"{number:.{digits}g}"), digits), shown.unit)
    return _in_larger(rounded, kind, system)


def unit_of(kind: Kind | str, system: System) -> str:
    """The unit a line shows for a kind, which is also the unit of a bare number.

    Parameters
    ----------
    kind : Kind or str
        Kind of quantity, or its name
    system : "metric" or "us"
        Unit system of the line

    Returns
    -------
    str
        The unit's symbol; empty for plain numbers

    Examples
    --------
    >>> unit_of("surface_speed", "us"), unit_of("conductor", "us"), unit_of("factor", "us")
    ('ft/min', 'AWG', '')
    """
    kind = KINDS[kind] if isinstance(kind, str) else kind
    unit_id = kind.unit_id(system)
    return UNITS[unit_id].symbol if unit_id else "AWG"


def parse_in_unit(text: str, unit: str, *, what: str = "") -> float:
    """Read a value whose unit is known beforehand, such as one from a keypad.

    Parameters
    ----------
    text : str
        A bare number in that unit, or a number with any unit of the same dimension
    unit : str
        The unit: an id of the table, or as written in a manual (``Hz``, ``%``, ``1/min``); where
        it is empty or unknown the number is taken as it is
    what : str
        What the value is for

    Returns
    -------
    float
        The value [SI]

    Raises
    ------
    InputError
        No number, two readings, or a unit that does not go with the one asked for.

    Notes
    -----
    A spelling that stands for several dimensions is the first of them in the table: ``°C`` is a
    temperature and ``1/min`` a rotation. A bare share is never ambiguous here: 0.5 in ``%`` is
    half a per cent.

    Examples
    --------
    >>> parse_in_unit("250", "ms"), parse_in_unit("0.25 s", "ms"), parse_in_unit("7", "steps")
    (0.25, 0.25, 7.0)
    """
    known = _unit_named(unit)
    example = f"Type a number{f' in {unit.strip()}' if unit.strip() else ''}."
    try:
        number, spelled = split_number(text)
        if known is None:
            return _plain(number, spelled, unit, text)
        meant = _unit_meant(text, spelled, known.dimension) if spelled else known
        return _in_si(number, meant, text)
    except UnreadableError as fault:
        raise not_taken(what, fault.why, fault.fix or example) from None


def value_in_unit(value_si: float, unit: str) -> float:
    """The number of a stored value in a given unit, such as that of a keypad.

    Parameters
    ----------
    value_si : float
        The value [SI]
    unit : str
        The unit, named as for `parse_in_unit`

    Returns
    -------
    float
        The value [that unit]; the value itself where the unit is empty or unknown

    Examples
    --------
    >>> value_in_unit(0.25, "ms")
    250.0
    """
    known = _unit_named(unit)
    return value_si if known is None else known.from_si(value_si)


# --- reading --------------------------------------------------------------------------------


def _read(text: str, kind: Kind, system: System) -> float:
    gauge_m2 = gauge_written(text, system) if kind.name == "conductor" else None
    if gauge_m2 is not None:
        return gauge_m2
    number, spelled = split_number(text)
    unit = _unit_meant(text, spelled, kind.dimension) if spelled else _bare(number, kind, system)
    value = _in_si(number, unit, text)
    if kind.whole and value != int(value):
        raise UnreadableError(f"{quoted(text)} is not a whole number.")
    if kind.name == "conductor" and value <= 0:
        raise UnreadableError(f"{quoted(text)} is no conductor size.")
    return value


def _bare(number: float, kind: Kind, system: System) -> Unit:
    unit_id = kind.unit_id(system)
    if not unit_id:
        raise UnreadableError(f"'{number:g}' is no gauge and has no unit.")
    if 0 < abs(number) <= kind.bare_above:
        percent = f"{number:.6g} %", f"{number * 100:.6g} %"
        raise UnreadableError(
            f"'{number:.6g}' can mean {percent[0]} or {percent[1]}.",
            f"Type {percent[0]} or {percent[1]}.",
        )
    return UNITS[unit_id]


def _unit_meant(text: str, spelled: str, dimension: str) -> Unit:
    """The one unit of a dimension that a spelling means."""
    meant = units_spelled(spelled, dimension)
    if meant:
        return meant[0]
    others = tuple(dict.fromkeys(unit.dimension for unit in units_spelled(spelled)))
    if others:
        raise UnreadableError(f"{quoted(text)} is {' or '.join(map(_with_article, others))}.")
    symbols = ", ".join(unit.symbol for unit in units_of(dimension) if unit.symbol)
    known = f"; known here: {symbols}" if symbols else ""
    raise UnreadableError(f"{quoted(spelled)} is no unit of {_with_article(dimension)}{known}.")


def _in_si(number: float, unit: Unit, text: str) -> float:
    value = unit.to_si(number)
    if not math.isfinite(value):
        raise UnreadableError(f"{quoted(text)} is too large.")
    if unit.dimension == "temperature" and value < 0:
        raise UnreadableError(f"{quoted(text)} is below absolute zero.")
    return value


def _plain(number: float, spelled: str, unit: str, text: str) -> float:
    if spelled and spelled != unit.strip():
        raise UnreadableError(f"{quoted(text)} is not a number in the unit listed.")
    return number


def _unit_named(name: str) -> Unit | None:
    name = name.strip()
    if name in UNITS:
        return UNITS[name]
    return next(iter(units_spelled(name)), None) if name else None


def _with_article(dimension: str) -> str:
    words = dimension.replace("_", " ")
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


# --- showing --------------------------------------------------------------------------------


def _in_unit(value_si: float, unit: Unit, digits: int) -> Shown:
    return Shown(_digits(unit.from_si(value_si), digits), unit.symbol)


def _in_larger(shown: Shown, kind: Kind, system: System) -> Shown:
    """The same in a larger unit of the kind, if it is at least one there and shorter to write."""
    best = shown
    for unit in map(UNITS.__getitem__, kind.larger):
        value_si = UNITS[kind.unit_id(system)].to_si(float(shown.number))
        other = _in_unit(value_si, unit, kind.digits)
        is_same = math.isclose(unit.to_si(float(other.number)), value_si, rel_tol=1e-12)
        is_short = len(other.number) < len(best.number)
        if is_same and is_short and abs(unit.from_si(value_si)) >= 1:
            best = other
    return best


def _digits(value: float, digits: int) -> str:
    if value == 0:
        return "0"
    if math.isclose(float(f"{value:.{_TYPED_DIGITS}g}"), value, rel_tol=_TYPED_CLOSENESS):
        digits = _TYPED_DIGITS
    if not _PLAIN_FROM <= abs(value) < _PLAIN_BELOW:
        return f"{value:.{digits}g}"
    before_point = math.floor(math.log10(abs(value))) + 1
    plain = f"{Decimal(f'{value:.{max(digits, before_point) - 1}e}'):f}"
    return plain.rstrip("0").rstrip(".") if "." in plain else plain
