"""Read a number as people type it, and refuse what could be read in two ways.

A decimal point and a decimal comma are both taken, as are fractions, mixed numbers, exponents and
thousands set apart by spaces. Nothing is ever evaluated: each form is one pattern.
"""

import math
import re
from collections.abc import Callable

from core.errors import InputError

LONGEST_INPUT = 40

# A fraction sign becomes a space and its two numbers, so that 1½ reads as the mixed number it is.
_FRACTION_SIGNS = (
    "½ 1/2, ⅓ 1/3, ⅔ 2/3, ¼ 1/4, ¾ 3/4, ⅕ 1/5, ⅖ 2/5, ⅗ 3/5, ⅘ 4/5, ⅙ 1/6, ⅚ 5/6, "
    "⅛ 1/8, ⅜ 3/8, ⅝ 5/8, ⅞ 7/8"
)
_SIGNS = str.maketrans(
    {pair[0]: pair[1:] for pair in _FRACTION_SIGNS.split(", ")}
    | dict.fromkeys("\u2212\u2013\u2010\u2011", "-")  # minus, en dash, hyphens
    | dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " ")  # no-break, figure and thin spaces
    | {"\u2044": "/"}
)

# Patterns stay text until first used: compiling them would double the time to import.
_FRACTION = r"(?:([0-9]+)(?: +|- ?))?([0-9]+)/([0-9]+)"
_GROUPED = r"([1-9][0-9]{0,2}(?: [0-9]{3})+)(?![0-9])([.,][0-9]+)?"
_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?"
# "1,500" may be one and a half or fifteen hundred; "0,500" and "1500,500" can only be decimals.
_THOUSANDS_OR_DECIMAL = r"[1-9][0-9]{0,2},[0-9]{3}(?![0-9])"
# More digits behind a number make it none, save for the 1 of a unit such as 1/min.
_MORE_DIGITS = r"(?! *1 */ *[A-Za-z])[ .,'/_*^+·×-]*[0-9]"


class UnreadableError(ValueError):
    """Why a text is no number; the caller knows what the number was meant for."""

    def __init__(self, why: str, fix: str = "") -> None:
        super().__init__(why)
        self.why, self.fix = why, fix


def parse_number(text: str, *, what: str = "The number") -> float:
    """Read a plain number.

    Parameters
    ----------
    text : str
        As typed: ``4.7``, ``4,7``, ``-3``, ``3/4``, ``1 1/2``, ``1½``, ``1e3``, ``1 500``
    what : str
        What the number is for, in the words of the screen

    Returns
    -------
    float
        The number, always finite

    Raises
    ------
    InputError
        No number, two readings (``1,500``), a zero denominator, too long or too large.

    Notes
    -----
    A point is always a decimal point: ``1.500`` is one and a half. A comma before exactly three
    digits is refused unless the digits before it rule out a thousand.

    Examples
    --------
    >>> parse_number("4,7"), parse_number("1½"), parse_number("1 500")
    (4.7, 1.5, 1500.0)
    """
    try:
        value, rest = split_number(text)
    except UnreadableError as fault:
        raise not_taken(what, fault.why, fault.fix or "Type a number such as 4.7 or 3/4.") from None
    if rest:
        raise not_taken(what, f"{quoted(text)} is not a plain number.", "Type the number alone.")
    return value


def split_number(text: str) -> tuple[float, str]:
    """Part a text into the number it begins with and what follows.

    Parameters
    ----------
    text : str
        A number, which a unit may follow

    Returns
    -------
    tuple of float and str
        The number and the rest without outer spaces

    Raises
    ------
    UnreadableError
        The text does not begin with exactly one number.

    Examples
    --------
    >>> split_number("1 1/2 in")
    (1.5, 'in')
    """
    _check_length(text)
    plain = text.translate(_SIGNS).strip()
    if not plain:
        raise UnreadableError("Nothing was typed.")
    sign = -1.0 if plain[0] == "-" else 1.0
    plain = plain[1:].lstrip() if plain[0] in "+-" else plain
    found, read = _form_of(plain, text)
    rest = plain[found.end() :]
    if re.match(_THOUSANDS_OR_DECIMAL, plain) or re.match(_MORE_DIGITS, rest):
        raise _two_readings(text, plain)
    return _finite(sign * read(found), text) + 0.0, rest.strip()  # + 0.0 makes -0 a plain 0


def quoted(text: str) -> str:
    """Give a typed text back for a message: short, printable, in quotes.

    Parameters
    ----------
    text : str
        Anything that was typed

    Returns
    -------
    str
        The text in single quotes

    Examples
    --------
    >>> quoted("5 kg")
    "'5 kg'"
    """
    plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in text.strip())
    short = plain if len(plain) <= LONGEST_INPUT else plain[: LONGEST_INPUT - 1] + "…"
    return f"'{short}'"


def not_taken(what: str, why: str, fix: str) -> InputError:
    """Make the error that says a typed value was refused.

    Parameters
    ----------
    what : str
        What the value is for; empty for no particular thing
    why : str
        The cause, a sentence
    fix : str
        What to type instead, a sentence

    Returns
    -------
    InputError
        The error, to be raised by the caller

    Examples
    --------
    >>> str(not_taken("rated power", "'5 kg' is a mass.", "Type a power."))
    "Rated power was not taken. '5 kg' is a mass. Type a power."
    """
    name = what or "The value"
    return InputError(f"{name[0].upper()}{name[1:]} was not taken.", why, fix)


def _form_of(plain: str, text: str) -> tuple[re.Match[str], "_Reader"]:
    for pattern, read in _FORMS:
        found = re.match(pattern, plain)
        if found:
            return found, read
    raise UnreadableError(f"{quoted(text)} does not begin with a number.")


def _check_length(text: str) -> None:
    if len(text) > LONGEST_INPUT:
        raise UnreadableError(
            f"{quoted(text)} is {len(text)} characters long.",
            f"Use {LONGEST_INPUT} characters at the most.",
        )


def _read_fraction(found: re.Match[str]) -> float:
    whole, numerator, denominator = (int(part or 0) for part in found.groups())
    if denominator == 0:
        raise UnreadableError(f"{quoted(found[0])} divides by zero.")
    if found[1] and numerator >= denominator:
        raise UnreadableError(f"{quoted(found[0])} is not a whole number and a fraction below one.")
    return (whole * denominator + numerator) / denominator


def _read_grouped(found: re.Match[str]) -> float:
    return float(found[1].replace(" ", "") + (found[2] or "").replace(",", "."))


def _read_decimal(found: re.Match[str]) -> float:
    value = float(found[0].replace(",", "."))
    if value == 0.0 and re.search(r"[1-9]", re.split(r"[eE]", found[0])[0]):
        raise UnreadableError(f"{quoted(found[0])} is too small to be told from zero.")
    return value


_Reader = Callable[[re.Match[str]], float]
_FORMS: tuple[tuple[str, _Reader], ...] = (
    (_FRACTION, _read_fraction),
    (_GROUPED, _read_grouped),
    (_DECIMAL, _read_decimal),
)


def _two_readings(text: str, plain: str) -> UnreadableError:
    comma = re.fullmatch(r"([1-9][0-9]{0,2}),([0-9]{3})(?![0-9.,eE]).*", plain)
    if comma:
        return UnreadableError(
            f"{quoted(text)} can be read as {comma[1]}.{comma[2]} or as {comma[1]}{comma[2]}.",
            f"Type {comma[1]}.{comma[2]} or {comma[1]}{comma[2]}.",
        )
    return UnreadableError(f"{quoted(text)} cannot be read as one number.")


def _finite(value: float, text: str) -> float:
    if not math.isfinite(value):
        raise UnreadableError(f"{quoted(text)} is too large.")
    return value
