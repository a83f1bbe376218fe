"""A typed text as the value of a field, for forms, grids and spreadsheets alike."""

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Any

from core.errors import InputError
from core.model.fields import FieldSpec
from core.units import System, parse_number, parse_quantity, show, unit_of

_YES, _NO = {"yes", "y", "true", "1", "x"}, {"no", "n", "false", "0"}


def read_entry(field: FieldSpec, text: str, system: System) -> Any:
    """Read a typed text as the value of a field that is no reference.

    Parameters
    ----------
    field : FieldSpec
        What is entered
    text : str
        As typed, not blank
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
    if field.sort == "quantity":
        return _bounded(field, parsed(text.strip(), field.kind, system), system)
    return check_entered(field, _READERS.get(field.sort, _as_it_is)(field, text))


def check_entered(field: FieldSpec, value: Any) -> Any:
    """Check a value as its field does, and the form of a text that somebody enters now.

    Raises
    ------
    InputError
        The field refuses it, or it is no list of choices where one is wanted.
    """
    checked = field.check(value)
    if field.pairs and checked:
        _check_pairs(field, checked)
    return checked


def _check_pairs(field: FieldSpec, text: str) -> None:
    """Refuse what is neither pairs of value and meaning nor a list of plain values."""
    parts = [part.strip() for part in text.split(";") if part.strip()]
    values = [part.partition("=")[0].strip() for part in parts]
    if len(parts) > 1 and not any("=" in part or " " in part for part in parts):
        wrong = ""  # the keypad shows the value and there is no more to say: 2; 4; 8
    else:
        wrong = next(filter(None, map(_fault_of_pair, parts)), "" if parts else f"'{text}'")
    twice = next((value for n, value in enumerate(values) if value in values[:n]), "")
    if wrong or twice:
        raise field.refusal(wrong or f"the value '{twice}' twice", _PAIRS_FIX)


def _fault_of_pair(part: str) -> str:
    value, sign, meaning = (half.strip() for half in part.partition("="))
    if not sign:
        return f"'{part}', which has no = between a value and its meaning"
    if not value or not meaning:
        return f"'{part}', which lacks the {'meaning' if value else 'value'}"
    if _NEXT_PAIR.search(meaning):
        return f"'{part}', which has no ; between its pairs"
    return ""


_PAIRS_FIX = (
    "Type each value as the keypad shows it, = and its meaning, with ; between, such as "
    "0 = keypad; 1 = analogue input."
)
# A second pair behind a sign that is not the one that parts them: 0 = off, 1 = on
# A name of a quantity, as in "quadratic, n = 2", begins no pair; a number or code of digits does.
_NEXT_PAIR = re.compile(r"[,|]\s*[+-]?\d[\w.+-]*\s*=")


def with_unit(text: str, kind: str, system: System) -> str:
    """A typed quantity with its unit: that of the line behind a bare number."""
    return f"{text} {unit_of(kind, system)}".strip() if is_bare(text) else text


def is_bare(text: str) -> bool:
    """Whether a text is a number without a unit."""
    try:
        parse_number(text)
    except InputError:
        return False
    return True


@lru_cache(maxsize=4096)
def parsed(text: str, kind: str, system: System) -> float:
    """A quantity from its text, remembered, as spreadsheets say the same again and again."""
    return parse_quantity(text, kind, system)


def _bounded(field: FieldSpec, value: float, system: System) -> float:
    try:
        return float(field.check(value))
    except InputError:
        low, high = (
            None if bound is None else str(show(bound, field.kind, system))
            for bound in (field.minimum, field.maximum)
        )
        least = f"{'more than' if field.above else 'not less than'} {low}" if low else ""
        most = f"{high} at the most" if high else ""
        bounds = " and ".join(part for part in (least, most) if part)
        found = str(show(value, field.kind, system))
        raise field.refusal(found, f"It has to be {bounds}.") from None


def _as_it_is(_field: FieldSpec, text: str) -> str:
    return text


def _flag(field: FieldSpec, text: str) -> bool:
    word = text.strip().casefold()
    if word not in _YES | _NO:
        raise field.refusal(f"'{text.strip()}'", "Say yes or no.")
    return word in _YES


def _choice(field: FieldSpec, text: str) -> str:
    word = " ".join(text.split()).casefold()
    for spell in _SPELLINGS:
        found = [key for key, shown in field.choices.items() if spell(key, shown) == word]
        if len(found) == 1:
            return found[0]
    return text.strip()


# A choice may be written in full, as the stored word, or without its remark in brackets.
_SPELLINGS: tuple[Callable[[str, str], str], ...] = (
    lambda _key, shown: shown.casefold(),
    lambda key, _shown: key.casefold(),
    lambda _key, shown: re.sub(r"\s*\(.*\)$", "", shown).casefold(),
)


_READERS: dict[str, Callable[[FieldSpec, str], Any]] = {
    "whole": lambda _field, text: parse_number(text),
    "flag": _flag,
    "choice": _choice,
    "date": lambda _field, text: text.strip(),
}
