"""Every text of the program that can stand on a sheet, in the languages other than English.

A language is one table of this folder with a row for each text: ``where`` hints at where the text
comes from, ``english`` is the text itself or the template it is made from, and the third column
says it in that language with the same ``{blanks}``. A text whose words depend on its place has a
second row that names the place, such as ``word:size`` or ``choice``.

Rows of ``composed`` and ``error`` are also met when their blanks are filled already. A blank whose
name begins with ``what`` then holds words of the program, and is translated as well; any other
holds a tag, a name or a figure and stays as it is: `_HELD` tells what each may hold. What no row
knows stays English.
"""

import csv
import re
import string
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

TABLES: Mapping[str, str] = {"es": "spanish"}
"""Table, and name of its third column, of each language."""
MET_WHEN_FILLED = ("composed", "error")
_JOINTS = ("\n", " · ", "; ", ", ", ": ")
"""Between texts that were put together, the strongest first; ends of sentences stand before."""
_SENTENCE_END = re.compile(r"(?<=[.!?]) (?=\S)")
_WORDS = "what"
_HELD = (
    ("tag", r"[^\s,;]+?"),
    ("number", r"[-+−]?[\d.]+"),
    ("value", r"(?:(?!\. )[^,;\n])+?"),
    ("", r"(?:(?!\. )[^;\n])+?"),
)
"""What a blank holds, by how its name begins: one word, a number, no list, no two sentences."""

Translate = Callable[..., str]
"""Gives a text of the program in one language: ``tr(text)``, or ``tr(text, where)``."""


@dataclass(frozen=True, slots=True)
class Row:
    """One text of the program and what it is called in the other language."""

    where: str
    english: str
    other: str


@dataclass(frozen=True, slots=True)
class _Pattern:
    """A template as it is met with its blanks filled."""

    met: re.Pattern[str]
    other: str

    @classmethod
    def of(cls, row: Row) -> "_Pattern":
        parts, seen = [], set()
        for words, name, _, _ in string.Formatter().parse(row.english):
            parts.append(re.escape(words))
            if name is not None:
                # A blank that comes twice holds the same text twice.
                parts.append(f"(?P={name})" if name in seen else f"(?P<{name}>{_held(name)})")
                seen.add(name)
        return cls(re.compile("".join(parts)), row.other)


class Catalogue:
    """The texts of one language."""

    def __init__(self, rows: Iterable[Row]) -> None:
        held = tuple(rows)
        self._placed = {(row.where, row.english): row.other for row in held}
        # The first row of a text holds wherever no other names the place.
        self._texts = {row.english: row.other for row in reversed(held)}
        filled = [row for row in held if row.where in MET_WHEN_FILLED and "{" in row.english]
        filled.sort(key=lambda row: len(re.sub(r"\{.*?\}", "", row.english)), reverse=True)
        self._patterns = tuple(_Pattern.of(row) for row in filled)
        self._met: dict[str, str] = {}

    def tr(self, text: str, where: str = "") -> str:
        """A text of the program in this language; one that is not known as it is.

        Parameters
        ----------
        text : str
            A text or template, or several that were put together.
        where : str
            The place it comes from, where its words depend on it.
        """
        known = self._placed.get((where, text)) if where else None
        if known is not None or (known := self._known(text)) is not None:
            return known
        if text not in self._met:
            self._met[text] = self._put_together(text)
        return self._met[text]

    def _known(self, text: str) -> str | None:
        if text in self._texts:
            return self._texts[text]
        # The same words at the beginning of a sentence, or inside of one.
        told = self._texts.get(_turned(text))
        return None if told is None else _turned(told)

    def _put_together(self, text: str) -> str:
        if not any(sign.isalpha() for sign in text):
            return text
        if (told := self._filled(text)) is not None:
            return told
        if (told := self._filled(_turned(text))) is not None:
            return _turned(told)
        for joint, pieces in _pieces(text):
            each = [self.tr(piece) for piece in pieces]
            if each != pieces:
                return joint.join(each)
        return text

    def _filled(self, text: str) -> str | None:
        for pattern in self._patterns:
            if found := pattern.met.fullmatch(text):
                return pattern.other.format(**self._blanks(found.groupdict()))
        return None

    def _blanks(self, found: Mapping[str, str]) -> dict[str, str]:
        return {
            name: self.tr(held) if name.startswith(_WORDS) else held for name, held in found.items()
        }


def _pieces(text: str) -> Iterator[tuple[str, list[str]]]:
    """The ways to part a text into what it was put together from, each with what joins it again."""
    for joint, pieces in ((" ", _SENTENCE_END.split(text)), *((j, text.split(j)) for j in _JOINTS)):
        if len(pieces) > 1:
            yield joint, pieces


def _held(name: str) -> str:
    return next(held for begin, held in _HELD if name.startswith(begin))


def translator(language: str) -> Translate:
    """What gives texts of the program in a language; English for one without a table.

    Parameters
    ----------
    language : str
        A language of sheets, as the line file stores it.

    Examples
    --------
    >>> translator("es")("Deceleration time")
    'Tiempo de desaceleración'
    >>> translator("en")("Deceleration time")
    'Deceleration time'
    """
    return _catalogue(language).tr if language in TABLES else _as_it_is


def rows_of(language: str) -> tuple[Row, ...]:
    """The rows of a language's table, in its order."""
    name = TABLES[language]
    text = files("core.sheets").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(
        Row(row["where"], row["english"], row[name])
        for row in csv.DictReader(text.splitlines(keepends=True))
    )


@cache
def _catalogue(language: str) -> Catalogue:
    return Catalogue(rows_of(language))


def _as_it_is(text: str, _where: str = "") -> str:
    return text


def _turned(text: str) -> str:
    return f"{text[:1].swapcase()}{text[1:]}"
