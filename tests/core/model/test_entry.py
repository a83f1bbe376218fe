"""Text that is entered: a list of choices has to say which value means what."""

import pytest

from core.errors import InputError
from core.model import RECORDS, ListedSetting
from core.model.entry import read_entry
from core.model.keypad import options_of

CHOICES = RECORDS["listed_setting"].field("options")


@pytest.mark.parametrize(
    ("text", "options"),
    [
        ("0 = keypad; 1 = analogue input", {"0": "keypad", "1": "analogue input"}),
        ("0 = linear; 1 = quadratic, n = 2", {"0": "linear", "1": "quadratic, n = 2"}),
        ("0 = delta, I = 0.3 A; 1 = star", {"0": "delta, I = 0.3 A", "1": "star"}),
        ("A=ramp;02 = coast ;", {"A": "ramp", "02": "coast"}),
        ("0 = linear, no boost; 1 = U/f = const", {"0": "linear, no boost", "1": "U/f = const"}),
        ("3 = only one", {"3": "only one"}),
        ("2; 4; 8", {"2": "", "4": "", "8": ""}),
    ],
)
def test_a_list_of_choices_is_taken(text, options):
    stored = read_entry(CHOICES, text, "metric")
    assert options_of(ListedSetting(options=stored)) == options


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("0 keypad; 1 analogue", "'0 keypad', which has no ="),
        ("0 = keypad; 1 analogue", "'1 analogue', which has no ="),
        ("0 = off; 1", "'1', which has no ="),
        ("see the manual, page 40", "'see the manual, page 40', which has no ="),
        ("keypad", "'keypad', which has no ="),
        ("0 = ; 1 = on", "'0 =', which lacks the meaning"),
        ("= off; 1 = on", "'= off', which lacks the value"),
        ("0 = off, 1 = on", "'0 = off, 1 = on', which has no ;"),
        ("0 = off; 0 = on", "the value '0' twice"),
        (";", "';'"),
    ],
)
def test_what_is_no_list_of_choices_is_refused_with_the_form_that_is_wanted(text, found):
    with pytest.raises(InputError) as refused:
        read_entry(CHOICES, text, "metric")
    assert found in refused.value.why
    assert "0 = keypad; 1 = analogue input" in refused.value.fix


def test_the_stored_text_of_an_older_file_passes_as_any_text():
    assert CHOICES.check("0 keypad; 1 analogue") == "0 keypad; 1 analogue"
