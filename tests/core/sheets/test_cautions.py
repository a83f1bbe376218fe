from core.line.checks import CHECKS
from core.sheets.cautions import cautions, level_of
from core.sheets.document import CAUTION_ORDER
from core.sheets.words import words_in


def test_cautions_go_from_the_gravest_on():
    levels = [caution.level for caution in cautions(words_in("en"))]
    assert levels == sorted(levels, key=CAUTION_ORDER.index)
    assert (levels[0], levels[-1]) == ("danger", "notice")


def test_the_signal_word_is_that_of_the_level():
    for caution in cautions(words_in("en")):
        assert caution.signal_word.lower() == caution.level


def test_the_cautions_of_the_product_book_are_there():
    words = " ".join(
        f"{caution.hazard} {caution.consequence} {caution.avoidance}"
        for caution in cautions(words_in("en"))
    ).lower()
    for subject in (
        "lock out",
        "prove dead",
        "capacitors",
        "label",
        "discharge tank",
        "start by themselves",
        "guards",
        "water",
        "residual-current",
        "emergency stop",
        "local code",
        "licensed person",
    ):
        assert subject in words


def test_every_caution_of_a_check_has_its_signal_word():
    keys = {entered.rule.caution for entered in CHECKS.values()} - {""}
    assert keys == {"shock", "start", "stop", "water"}
    # Live parts kill (ANSI Z535.4: danger); the others can (warning).
    assert {key: level_of(key) for key in keys} == {
        "shock": "danger", "start": "warning", "stop": "warning", "water": "warning",
    }  # fmt: skip
