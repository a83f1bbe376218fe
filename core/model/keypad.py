"""A drive setting as its keypad shows it, read against its line in the drive type's list."""

import math
from dataclasses import dataclass
from typing import Literal

from core.errors import InputError
from core.model.plant import ListedSetting
from core.model.station import Setting
from core.units import parse_in_unit, parse_number

Standing = Literal["differs", "same", "not_entered", "unlisted", "factory_unknown"]
"""How an entered setting compares with the factory value of its line in the list."""


@dataclass(frozen=True, slots=True)
class KeypadValue:
    """What the keypad shows, and the same as a number in SI (None for words)."""

    shown: str
    value: float | None


def options_of(listed: ListedSetting) -> dict[str, str]:
    """The choices of a listed setting: shown value to meaning, in the list's order."""
    found = {}
    for part in listed.options.split(";"):
        shown, _, meaning = part.partition("=")
        if shown.strip():
            found[shown.strip()] = meaning.strip()
    return found


def meaning_of(shown: str, listed: ListedSetting | None) -> str:
    """What a shown value stands for where it is one of the choices of its list; else nothing."""
    return options_of(listed).get(shown.strip(), "") if listed else ""


def keypad_words(shown: str, unit: str, means: str = "") -> str:
    """A shown value with its unit, or with what a choice stands for.

    Examples
    --------
    >>> keypad_words("50", "Hz"), keypad_words("50.0 Hz", "Hz"), keypad_words("1", "", "0-20 mA")
    ('50 Hz', '50.0 Hz', '1 (0-20 mA)')
    """
    if means and means.casefold() != shown.strip().casefold():
        return f"{shown} ({means})"
    return shown if not unit or shown.endswith(unit) or not shown else f"{shown} {unit}"


def read_keypad(shown: str, listed: ListedSetting | None) -> KeypadValue:
    """Check a typed setting value and give it as number.

    Parameters
    ----------
    shown : str
        As typed; a unit may follow, the meaning of a choice may stand for its value.
    listed : ListedSetting or None
        The line of the list; without one, any text is taken and a bare number is kept as such.

    Raises
    ------
    InputError
        Not one of the choices, no number, or outside of the listed range.
    """
    shown = shown.strip()
    if listed is None:
        return KeypadValue(shown, _number_or_none(shown))
    options = options_of(listed)
    if options:
        return _read_option(shown, listed, options)
    if not (listed.unit or listed.minimum or listed.maximum):
        return KeypadValue(shown, _number_or_none(shown))
    value = parse_in_unit(shown, listed.unit, what=listed.code)
    _check_range(value, shown, listed)
    return KeypadValue(shown, value)


def factory_value(listed: ListedSetting) -> KeypadValue | None:
    """The factory value of a listed setting, if it has one that can be read."""
    if not listed.factory.strip():
        return None
    try:
        return read_keypad(listed.factory, listed)
    except InputError:
        return KeypadValue(listed.factory.strip(), None)


def standing(entered: Setting | None, listed: ListedSetting) -> Standing:
    """How an entered value compares with the factory value of its line in the list.

    Parameters
    ----------
    entered : Setting or None
        None where nobody entered a value.
    listed : ListedSetting
        The line of the drive type's list.
    """
    if entered is None or not entered.shown.strip():
        return "not_entered"
    factory = factory_value(listed)
    if factory is None:
        return "factory_unknown"
    if entered.value is not None and factory.value is not None:
        same = math.isclose(entered.value, factory.value, rel_tol=1e-9, abs_tol=1e-12)
    else:
        same = entered.shown.strip().casefold() == factory.shown.strip().casefold()
    return "same" if same else "differs"


def _read_option(shown: str, listed: ListedSetting, options: dict[str, str]) -> KeypadValue:
    if shown in options:
        return KeypadValue(shown, _number_or_none(shown))
    same = [key for key, meaning in options.items() if meaning.casefold() == shown.casefold()]
    number = _number_or_none(shown)
    same += [key for key in options if number is not None and _number_or_none(key) == number]
    if len(set(same)) == 1:
        return KeypadValue(same[0], _number_or_none(same[0]))
    offered = ", ".join(f"{key} ({meaning})" for key, meaning in options.items())
    raise InputError(
        f"{listed.code} was not taken.", f"'{shown}' is none of its choices.", f"Use {offered}."
    )


def _check_range(value: float, shown: str, listed: ListedSetting) -> None:
    sides = ((1.0, "below", listed.minimum), (-1.0, "above", listed.maximum))
    for sign, side, text in sides:
        limit = _limit(text, listed)
        if limit is not None and sign * (limit - value) > 1e-9 * max(1.0, abs(limit)):
            bound = f"{text.strip()} {listed.unit}".strip()
            raise InputError(
                f"{listed.code} was not taken.",
                f"'{shown}' is {side} the listed {bound}.",
                "Type a value inside, or mend the drive type's list if the list is wrong.",
            )


def _limit(text: str, listed: ListedSetting) -> float | None:
    try:
        return parse_in_unit(text, listed.unit, what=listed.code) if text.strip() else None
    except InputError:
        return None


def _number_or_none(shown: str) -> float | None:
    try:
        return parse_number(shown)
    except InputError:
        return None


def within_list(shown: str, listed: ListedSetting) -> bool:
    """Whether a shown value is one that its line in the list allows."""
    try:
        read_keypad(shown, listed)
    except InputError:
        return False
    return True
