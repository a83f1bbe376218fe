"""Guards that the calculations share: each lets a value pass or tells what is needed.

Every comparison is written so that NaN fails it.
"""

import math

from core.errors import RangeError

__all__ = ["finite", "in_range", "not_negative", "positive", "ratio", "span", "whole"]

# Messages speak the electrician's unit where the SI unit is nobody's daily one.
_SHOWN_AS = {"rad/s": (30.0 / math.pi, "r/min")}


def finite(value: float, name: str, unit: str = "") -> None:
    """Refuse a value that is no finite number.

    Parameters
    ----------
    value : float
        Value to be checked [any unit]
    name : str
        What it is, with its article, for the message [-]
    unit : str
        SI unit of the value, for the message [-]

    Returns
    -------
    None
        The value passed

    Raises
    ------
    RangeError
        The value is NaN or infinite

    Examples
    --------
    >>> finite(-1.5, "the signal", "V")
    """
    if not math.isfinite(value):
        raise _refusal(value, name, unit, "a finite number is needed")


def positive(value: float, name: str, unit: str = "", *, endless: bool = False) -> None:
    """Refuse a value that is not above zero.

    Parameters
    ----------
    value : float
        Value to be checked [any unit]
    name : str
        What it is, with its article, for the message [-]
    unit : str
        SI unit of the value, for the message [-]
    endless : bool
        Whether infinity may pass, such as the resistance of an input that draws nothing [-]

    Returns
    -------
    None
        The value passed

    Raises
    ------
    RangeError
        The value is zero, negative, NaN, or infinite where that may not be

    Examples
    --------
    >>> positive(400.0, "the voltage", "V")
    >>> positive(0.0, "the voltage", "V")
    Traceback (most recent call last):
    core.errors.RangeError: The voltage was not used. It is 0 V; more than 0 V is needed. \
Correct this value.
    """
    if not (value > 0.0 and (endless or value < math.inf)):
        raise _refusal(value, name, unit, f"more than {_shown(0.0, unit)} is needed")


def not_negative(value: float, name: str, unit: str = "") -> None:
    """Refuse a value that is below zero or no finite number.

    Parameters
    ----------
    value : float
        Value to be checked [any unit]
    name : str
        What it is, with its article, for the message [-]
    unit : str
        SI unit of the value, for the message [-]

    Returns
    -------
    None
        The value passed

    Raises
    ------
    RangeError
        The value is negative, NaN or infinite

    Examples
    --------
    >>> not_negative(0.0, "the resistance of the source", "Ω")
    """
    if not 0.0 <= value < math.inf:
        raise _refusal(value, name, unit, f"{_shown(0.0, unit)} or more is needed")


def in_range(value: float, low: float, high: float, name: str, unit: str = "") -> None:
    """Refuse a value outside of two limits, which themselves pass.

    Parameters
    ----------
    value : float
        Value to be checked [any unit]
    low : float
        Lowest value that passes [unit of value]
    high : float
        Highest value that passes [unit of value]
    name : str
        What it is, with its article, for the message [-]
    unit : str
        SI unit of the value, for the message [-]

    Returns
    -------
    None
        The value passed

    Raises
    ------
    RangeError
        The value lies outside of the limits or is NaN

    Examples
    --------
    >>> in_range(50.0, 0.0, 400.0, "the frequency", "Hz")
    """
    if not low <= value <= high:
        limits = f"{_shown(low, unit)} to {_shown(high, unit)}"
        raise _refusal(value, name, unit, f"{limits} is needed")


def ratio(value: float, name: str, *, zero: bool = True) -> None:
    """Refuse a value that is no share of one; a percent figure is such a value.

    Parameters
    ----------
    value : float
        Value to be checked [-]
    name : str
        What it is, with its article, for the message [-]
    zero : bool
        Whether zero may pass [-]

    Returns
    -------
    None
        The value passed

    Raises
    ------
    RangeError
        The value lies outside of 0 to 1, is NaN, or is zero where that may not be

    Examples
    --------
    >>> ratio(0.904, "the efficiency")
    >>> ratio(90.4, "the efficiency")
    Traceback (most recent call last):
    core.errors.RangeError: The efficiency was not used. It is 90.4; a share of 1 is needed \
(0.9, not 90). Correct this value.
    """
    if not (0.0 <= value <= 1.0 and (zero or value > 0.0)):
        above = "" if zero else " above 0"
        raise _refusal(value, name, "", f"a share of 1{above} is needed (0.9, not 90)")


def span(low: float, high: float) -> None:
    """Refuse a signal span that does not rise.

    Parameters
    ----------
    low : float
        Signal at the bottom of the span [V or A]
    high : float
        Signal at the top of the span [V or A]

    Returns
    -------
    None
        The span passed

    Raises
    ------
    RangeError
        The bottom is not below the top, or an end is no finite number

    Examples
    --------
    >>> span(0.004, 0.020)
    """
    finite(low, "the bottom of the span")
    finite(high, "the top of the span")
    if not low < high:
        raise RangeError(
            "The span was not used.",
            f"Its bottom, {low:.6g}, is not below its top, {high:.6g}.",
            "Give the lower signal first; a reversed reference is set by its two frequencies.",
        )


def whole(value: int, low: int, high: int, name: str) -> None:
    """Refuse a count that is no whole number between two limits, which themselves pass.

    Parameters
    ----------
    value : int
        Count to be checked [-]
    low : int
        Lowest count that passes [-]
    high : int
        Highest count that passes [-]
    name : str
        What is counted, with its article, for the message [-]

    Returns
    -------
    None
        The count passed

    Raises
    ------
    RangeError
        The count is no whole number, lies outside of the limits or is NaN

    Examples
    --------
    >>> whole(4, 2, 24, "the number of poles")
    """
    if not (low <= value <= high and value == int(value)):
        raise _refusal(value, name, "", f"a whole number from {low} to {high} is needed")


def _shown(value: float, unit: str) -> str:
    factor, shown_unit = _SHOWN_AS.get(unit, (1.0, unit))
    return f"{value * factor:.6g} {shown_unit}".rstrip()


def _refusal(value: float, name: str, unit: str, need: str) -> RangeError:
    found = "It is no number" if math.isnan(value) else f"It is {_shown(value, unit)}"
    return RangeError(
        f"{name[:1].upper()}{name[1:]} was not used.", f"{found}; {need}.", "Correct this value."
    )
