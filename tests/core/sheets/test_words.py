import doctest
import string

import pytest

from core.line.findings.base import LEVEL_MEANINGS, LEVEL_WORDS, LEVELS
from core.sheets import words
from core.sheets.words import CATALOGUES, words_in


def test_blanks_are_filled_and_never_read_twice():
    assert words_in("en")("as_typed", text="{page} 3/4 hp") == "typed as {page} 3/4 hp"


def test_an_unknown_key_is_a_fault_of_the_program():
    with pytest.raises(KeyError):
        words_in("en")("no such key")


def test_a_language_without_a_key_shows_the_english_words():
    assert words_in("es")("page_of", page=1, pages=2)


def test_other_languages_have_the_same_blanks():
    english = CATALOGUES["en"]
    for catalogue in CATALOGUES.values():
        for key, text in catalogue.items():
            assert _blanks(text) == _blanks(english[key])


def test_levels_are_called_as_the_rules_call_them():
    say = words_in("en")
    for level in LEVELS:
        assert say(level).endswith(f" {LEVEL_WORDS[level]}")
        assert say(f"{level}_means") == LEVEL_MEANINGS[level]
        assert LEVEL_MEANINGS[level] in say("verdict_key")


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(words).failed == 0


def _blanks(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}
