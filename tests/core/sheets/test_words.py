import doctest

import pytest

from core.line.findings.base import LEVEL_MEANINGS, LEVEL_WORDS, LEVELS
from core.sheets import words
from core.sheets.picture_data import PictureWords
from core.sheets.words import words_in, words_of


def test_blanks_are_filled_and_never_read_twice():
    assert words_in("en")("as_typed", text="{page} 3/4 hp") == "typed as {page} 3/4 hp"


def test_an_unknown_key_is_a_fault_of_the_program():
    with pytest.raises(KeyError):
        words_in("en")("no such key")


def test_another_language_has_its_words():
    assert words_in("es")("page_of", page=1, pages=2) == "Página 1 de 2"
    assert words_in("es").tr("Rated power") == "Potencia nominal"


def test_a_language_that_is_not_known_shows_the_english_words():
    assert words_in("xx")("page_of", page=1, pages=2) == "Page 1 of 2"


def test_one_english_word_may_have_two_meanings():
    say = words_in("es")
    assert (say("from"), say("inputs")) == ("Desde", "A partir de")


def test_a_drawing_gets_its_words_from_one_place():
    assert words_of(PictureWords, words_in("en")) == PictureWords()
    assert words_of(PictureWords, words_in("es")).bottleneck == "cuello de botella"


def test_levels_are_called_as_the_rules_call_them():
    say = words_in("en")
    for level in LEVELS:
        assert say(level).endswith(f" {LEVEL_WORDS[level]}")
        assert say(f"{level}_means") == LEVEL_MEANINGS[level]
        assert LEVEL_MEANINGS[level] in say("verdict_key")


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(words).failed == 0
