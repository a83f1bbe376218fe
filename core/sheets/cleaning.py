"""The one way by which a text comes onto a sheet.

Whatever a user typed, pasted or imported, it can neither break a sheet nor vanish from it in
silence: what cannot be shown is replaced by a sign that can be seen, what is cut says so.
"""

import re
import unicodedata
from collections.abc import Collection
from xml.sax.saxutils import escape

from core.model.fields import LONGEST_NOTE
from core.sheets.words import Say
from core.units.table import UNITS

REPLACEMENT = "\ufffd"
LONGEST = LONGEST_NOTE
"""No field holds more than this, so only a text put together from several is ever cut."""

# Marks that turn the direction of writing; they could show "01" as "10" (Unicode UAX 9).
_DIRECTION = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
# Controls of ISO 6429, halves of surrogate pairs, and code points that are no characters.
_UNPRINTABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
_SYMBOLS = sorted({unit.symbol for unit in UNITS.values() if unit.symbol}, key=len, reverse=True)
_BEFORE_UNIT = re.compile(
    rf"(?<=[0-9]) (?=(?:{'|'.join(map(re.escape, _SYMBOLS))})(?:[\s,;:.)]|$))"
)
_LINE_ENDS = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")


def clean(text: str, say: Say, longest: int = LONGEST) -> str:
    """A text without anything that breaks a writer.

    Parameters
    ----------
    text : str
        As stored.
    say : callable
        The words of the document's language.
    longest : int
        Characters that are kept; a longer text ends with how long it was [1].

    Examples
    --------
    >>> from core.sheets.words import words_in
    >>> clean("a\\tb\\x07", words_in("en"))
    'a b\ufffd'
    """
    text = _LINE_ENDS.sub("\n", text).replace("\t", " ")
    text = _UNPRINTABLE.sub(REPLACEMENT, _DIRECTION.sub("", text))
    text = unicodedata.normalize("NFC", text)
    if len(text) > longest:
        text = text[:longest] + say("cut", count=len(text))
    return text


def printable(cleaned: str, has_glyph: Collection[int]) -> str:
    """The text with a sign that can be seen for each that the font lacks.

    Parameters
    ----------
    cleaned : str
        From `clean`.
    has_glyph : collection of int
        Code points that the font can show.

    Examples
    --------
    >>> printable("3 漢", range(128))
    '3 �'
    """
    if cleaned.isascii():
        return cleaned
    return "".join(
        sign if sign == "\n" or ord(sign) in has_glyph else REPLACEMENT for sign in cleaned
    )


def markup(shown: str) -> str:
    """A text as the markup of a paragraph that shows exactly this text.

    Examples
    --------
    >>> markup("1 < 2\\n<b>")
    '1 &lt; 2<br/>&lt;b&gt;'
    """
    return escape(shown).replace("\n", "<br/>")


def kept_together(shown: str) -> str:
    """A text in whose lines no number parts from its unit.

    Examples
    --------
    >>> kept_together("16.9 %, 4 s after 2 belts") == "16.9\\u00a0%, 4\\u00a0s after 2 belts"
    True
    """
    return _BEFORE_UNIT.sub("\u00a0", shown)


def sheet_name(title: str, taken: set[str]) -> str:
    """A name that a worksheet may have, unlike those taken; it is entered among them.

    Notes
    -----
    At most 31 characters, none of ``[ ] : * ? / \\``, no apostrophe at an end, not "History"
    (ECMA-376 Part 1, 18.2.19, and the spreadsheet programs' own rules).
    """
    base = re.sub(r"[\[\]:*?/\\\n]", "-", title).strip(" '")[:31].strip(" '") or "-"
    if base.casefold() == "history":
        base = f"{base} -"
    name, number = base, 2
    while name.casefold() in taken:
        end = f" {number}"
        name, number = base[: 31 - len(end)] + end, number + 1
    taken.add(name.casefold())
    return name
