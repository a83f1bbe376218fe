"""From a stored value to the text of a cell and back, without loss.

A blank cell says nothing. A cell that holds only an apostrophe says "empty". An apostrophe before
a sign that spreadsheets take for the start of a formula (and before a space, a tab, a new line or
another apostrophe) keeps the text a text; it is taken off again when the cell is read.
"""

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from core.errors import LinebookError
from core.model import FieldSpec
from core.model.entry import is_bare, read_entry, with_unit
from core.units import KINDS, System, parse_quantity, show, unit_of, units_of

EMPTY = "'"
EXAMPLE = "example:"
YES_NO = ("yes", "no")

# The signs with which a formula may begin, in their wide forms too.
_FORMULA = r"[=+\-@\uff1d\uff0b\uff0d\uff20]"
_UNPLAIN = rf"['\s]|{EXAMPLE}"
_SHIELDED = re.compile(f"{_FORMULA}|{_UNPLAIN}", re.IGNORECASE)


def shield(text: str) -> str:
    """Put an apostrophe before a text that the import would not take as it stands."""
    return EMPTY + text if re.match(_UNPLAIN, text, re.IGNORECASE) else text


def guard(text: str) -> str:
    """Put an apostrophe before a text that a spreadsheet would run as a formula."""
    return EMPTY + text if re.match(_FORMULA, text) else text


def unshield(text: str) -> str:
    """Take the apostrophe of :func:`shield` or :func:`guard` off again.

    Examples
    --------
    >>> unshield("'=1+1"), unshield("'s-Gravenhage")
    ('=1+1', "'s-Gravenhage")
    """
    return text[1:] if text.startswith(EMPTY) and _SHIELDED.match(text, 1) else text


def is_example(text: str) -> bool:
    """Whether the first cell of a row says that the row only shows how to fill one in."""
    return text.strip().casefold().startswith(EXAMPLE)


# --- reading --------------------------------------------------------------------------------


def read_value(field: FieldSpec, text: str, system: System) -> Any:
    """Read the text of a cell as the value of a field that is no reference.

    Parameters
    ----------
    field : FieldSpec
        What the column holds
    text : str
        The cell, not blank
    system : "metric" or "us"
        Unit system of bare numbers

    Returns
    -------
    object
        The value as it is stored

    Raises
    ------
    InputError
        The text is no such value, or the value is out of bounds.
    """
    if text == EMPTY:
        return field.check(None)
    if field.pairs:
        return field.check(unshield(text))  # its form is asked for where it is no text of the line
    return read_entry(field, unshield(text), system)


def read_typed(field: FieldSpec, text: str, value: float | None, system: System) -> str:
    """The text to keep beside a quantity as typed; it always carries its unit.

    Empty for an empty cell, and for the form in which a value without a typed text is exported.
    """
    plain = unshield(text).strip()
    if value is None or plain == _in_si(field, value):
        return ""
    return with_unit(plain, field.kind, system)


def under_heading(field: FieldSpec, text: str, unit: str, system: System) -> str:
    """A bare number with the unit of its column's heading, where that is not the line's own."""
    if field.sort != "quantity" or not unit or unit == unit_of(field.kind, system):
        return text
    return f"{text.strip()} {unit}" if is_bare(text) else text


def nearest(name: str, known: Iterable[str]) -> str:
    """A sentence that offers the nearest known name, with a space before it; empty without one."""
    by_plain = {entry.casefold(): entry for entry in known}
    found = get_close_matches(name.casefold(), by_plain, 1)
    return f" Is '{by_plain[found[0]]}' meant?" if found else ""


# --- writing --------------------------------------------------------------------------------


def write_value(
    field: FieldSpec,
    value: Any,
    system: System,
    *,
    typed: str | None = None,
    names: Mapping[Any, str] | None = None,
) -> str:
    """Write a stored value so that :func:`read_value` gives the very same value.

    Parameters
    ----------
    field : FieldSpec
        What the column holds
    value : object
        The value as it is stored
    system : "metric" or "us"
        Unit system of the line
    typed : str, optional
        The text of a quantity as it was typed, used while it still means the value; None where
        the field keeps no such text
    names : mapping, optional
        The name of each record that a reference may point to, by its id

    Returns
    -------
    str
        The text of the cell, not yet shielded; blank for what is empty
    """
    if value is None:
        return ""
    if field.sort == "quantity":
        return exact_text(field, value, system, typed)
    if field.sort == "choice":
        return field.choices[value]
    if field.sort == "flag":
        return YES_NO[0 if value else 1]
    if field.sort == "ref":
        return (names or {})[value]
    return str(value)


def exact_text(field: FieldSpec, value: float, system: System, typed: str | None = None) -> str:
    """A text of a quantity that reads back as exactly this value.

    Parameters
    ----------
    field : FieldSpec
        The quantity
    value : float
        The value [SI]
    system : "metric" or "us"
        Unit system of the line
    typed : str, optional
        The text as typed; None where the field keeps no such text

    Returns
    -------
    str
        The typed text if it still means the value, or else the value as the line shows it if
        nothing is lost by that, or else the value with all its digits

    Notes
    -----
    A value of a kind that has no SI unit to type (bins, conductors) and that no typed text can
    have given is written to within its last digit.
    """
    offered = (text for text in _offered(field, value, system, typed) if text)
    return next((t for t in offered if _reads_as(t, field.kind, system) == value), "") or str(
        show(value, field.kind, system)
    )


def short(text: str, longest: int = 60) -> str:
    """A text cut to fit a line of a summary, with a sign that it was cut."""
    plain = " ".join(text.split())
    return plain if len(plain) <= longest else plain[: longest - 1] + "…"


def _offered(field: FieldSpec, value: float, system: System, typed: str | None) -> Iterator[str]:
    if typed is not None:
        yield with_unit(typed, field.kind, system) if typed else ""
        yield _in_si(field, value)
    yield str(show(value, field.kind, system))
    yield _in_si(field, value)
    for unit in units_of(KINDS[field.kind].dimension):
        number = unit.from_si(value)
        for close in (number, math.nextafter(number, math.inf), math.nextafter(number, -math.inf)):
            yield f"{close!r} {unit.symbol}"


def _in_si(field: FieldSpec, value: float) -> str:
    """All digits of a value in the SI unit of its kind; empty where it has none to type."""
    for unit in units_of(KINDS[field.kind].dimension):
        if unit.factor == 1.0 and unit.offset == 0.0:
            return f"{value!r} {unit.symbol}" if unit.symbol else f"{value!r} {unit.spellings[0]}"
    return ""


def _reads_as(text: str, kind: str, system: System) -> float | None:
    try:
        return parse_quantity(text, kind, system)
    except LinebookError:
        return None
