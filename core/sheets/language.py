"""Sheets in another language than the line is stored with, as for a second crew years later.

A line, and so a frozen record of it, stores one language of its sheets. That is what they are
printed in unless another is asked for; what is stored, and with it the SHA-256 of a record, stays.
"""

import dataclasses
import re
from functools import cache

from core.errors import InputError
from core.model import Line
from core.model.choices import LANGUAGES
from core.sheets.words import Say, words_in


def printed_in(line: Line, language: str | None) -> Line:
    """The line as its sheets are made of it in a language.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record; it is not changed.
    language : str or None
        A language of sheets; None for the one that the line is stored with.

    Raises
    ------
    InputError
        Sheets are not to be had in this language.

    Examples
    --------
    >>> printed_in(Line(language="en"), "es").language
    'es'
    >>> printed_in(Line(language="es"), None).language
    'es'
    """
    if language is None:
        return line
    if language not in LANGUAGES:
        offered = ", ".join(f"{key} ({label})" for key, label in LANGUAGES.items())
        raise InputError(
            f"There are no sheets in the language '{language}'.", "", f"There are: {offered}."
        )
    return dataclasses.replace(line, language=language)  # type: ignore[type-var]


def instrument_in(say: Say, text: str) -> str:
    """The instrument of a reading, with the program's own words in the language of the sheet.

    A reading stores its instrument as one text, in the language that the line had on that day;
    see `core.sheets.check_sheets.instrument_text`.

    Examples
    --------
    >>> instrument_in(words_in("es"), "Multimeter M1, calibrated to 2027-03-31")
    'Multimeter M1, calibrado hasta 2027-03-31'
    >>> instrument_in(words_in("es"), "Multimeter M1")
    'Multimeter M1'
    """
    for language in LANGUAGES:
        if met := _calibrated(language).fullmatch(text):
            return say("calibrated_to", **met.groupdict())
    return text


@cache
def _calibrated(language: str) -> re.Pattern[str]:
    words = words_in(language)("calibrated_to", instrument="INSTRUMENT", day="DAY")
    met = re.escape(words).replace("INSTRUMENT", "(?P<instrument>.+)")
    return re.compile(met.replace("DAY", r"(?P<day>\S+)"))
