"""Words of a drive and the text of its keypad: by hand, both ways, and what is refused."""

import doctest
import math
import struct
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.errors import InputError
from core.model import ListedSetting
from core.readback import blocks, client, faults, registers
from core.readback.registers import RegisterForm, decode, encode, form_of

# Worked by hand from two's complement and IEEE 754 binary32 (sign, 8 bits exponent, 23 bits).
BY_HAND = [
    (RegisterForm(1), (65535,), "65535"),
    (RegisterForm(1, scale=0.1), (450,), "45.0"),
    (RegisterForm(1, scale=0.01), (5,), "0.05"),
    (RegisterForm(1, scale=0.5), (3,), "1.5"),
    (RegisterForm(1, scale=10.0), (12,), "120"),
    (RegisterForm(1, "s16"), (0xFFFF,), "-1"),
    (RegisterForm(1, "s16", scale=0.1), (0x8000,), "-3276.8"),
    (RegisterForm(1, "u32"), (1, 2), "65538"),
    (RegisterForm(1, "u32", False), (1, 2), "131073"),
    (RegisterForm(1, "s32", scale=0.01), (0xFFFF, 0xFF9C), "-1.00"),
    (RegisterForm(1, "s32", False), (0xFFFE, 0xFFFF), "-2"),
    (RegisterForm(1, "f32"), (0x42C8, 0x0000), "100"),
    (RegisterForm(1, "f32"), (0x3DCC, 0xCCCD), "0.1"),
    (RegisterForm(1, "f32", False), (0x0000, 0xC248), "-50"),
    (RegisterForm(1, "f32", scale=0.1), (0x42C8, 0x0000), "10"),
    (RegisterForm(1, first_bit=0, bits=1), (0b10,), "0"),
    (RegisterForm(1, first_bit=1, bits=1), (0b10,), "1"),
    (RegisterForm(1, first_bit=4, bits=4), (0xABCD,), "12"),
    (RegisterForm(1, "s16", first_bit=4, bits=4), (0xABCD,), "-4"),
    (RegisterForm(1, "u32", first_bit=14, bits=4), (0x0002, 0x8000), "10"),
]


@pytest.mark.parametrize(("form", "words", "shown"), BY_HAND)
def test_words_are_shown_as_worked_by_hand(form, words, shown):
    assert decode(words, form) == shown


@pytest.mark.parametrize(("form", "words", "shown"), BY_HAND)
def test_a_shown_value_is_sent_in_the_same_bits(form, words, shown):
    empty = encode("0", form, words)
    assert decode(empty, form) in ("0", f"{0:.{form.decimals}f}")
    assert encode(shown, form, empty) == words


def test_decimal_comma_is_sent_like_a_point():
    assert encode("45,5", RegisterForm(1, scale=0.1)) == (455,)


def test_a_scale_without_end_is_rounded_to_six_decimals():
    # 1234 / 60 = 20.5666...
    assert decode([1234], RegisterForm(1, scale=1 / 60)) == "20.566667"


@given(
    raw=st.integers(0, 0xFFFF_FFFF),
    kind=st.sampled_from(["u16", "s16", "u32", "s32"]),
    high_first=st.booleans(),
    places=st.integers(0, 4),
)
def test_every_count_comes_back_and_is_the_exact_product(raw, kind, high_first, places):
    width = 16 if kind.endswith("16") else 32
    raw &= (1 << width) - 1
    form = RegisterForm(9, kind, high_first, scale=10.0**-places)
    high, low = raw >> 16, raw & 0xFFFF
    words = (raw,) if width == 16 else (high, low) if high_first else (low, high)
    # Independent of the code: two's complement by struct.
    code = {"u16": ">H", "s16": ">h", "u32": ">I", "s32": ">i"}[kind]
    count = struct.unpack(code, raw.to_bytes(width // 8, "big"))[0]
    shown = decode(words, form)
    assert Fraction(shown) == Fraction(count, 10**places)
    if len(shown.lstrip("-")) < 10:
        assert encode(shown, form) == words


@given(raw=st.integers(0, 0xFFFF_FFFF))
def test_every_floating_point_number_is_shown_so_that_it_reads_back(raw):
    number = struct.unpack(">f", raw.to_bytes(4, "big"))[0]
    assume(math.isfinite(number))
    shown = decode((raw >> 16, raw & 0xFFFF), RegisterForm(1, "f32"))
    assert "e" not in shown
    assert struct.pack(">f", float(shown)) == struct.pack(">f", number + 0.0 if number else 0.0)


@given(
    kept=st.integers(0, 0xFFFF),
    first=st.integers(0, 15),
    bits=st.integers(1, 16),
    value=st.integers(0, 0xFFFF),
)
def test_a_bit_field_leaves_the_other_bits_alone(kept, first, bits, value):
    assume(first + bits <= 16)
    value &= (1 << bits) - 1
    form = RegisterForm(3, first_bit=first, bits=bits)
    (word,) = encode(str(value), form, [kept])
    assert decode([word], form) == str(value)
    field = ((1 << bits) - 1) << first
    assert word & ~field == kept & ~field


@pytest.mark.parametrize("word", [0x7FC0, 0x7F80, 0xFF80])
def test_a_floating_point_that_is_no_number_is_refused(word):
    with pytest.raises(InputError, match="no number"):
        decode((word, 0), RegisterForm(1, "f32"))


@pytest.mark.parametrize("words", [(), (1, 2), (70000,), (-1,)])
def test_words_that_are_none_are_a_fault_of_the_program(words):
    with pytest.raises(ValueError, match="are not the 1 words"):
        decode(words, RegisterForm(1))


@pytest.mark.parametrize(
    ("shown", "form", "why"),
    [
        ("45.05", RegisterForm(1, scale=0.1), "no whole count of 0.1"),
        ("65536", RegisterForm(1), "16 bits"),
        ("-1", RegisterForm(1), "16 bits"),
        ("32768", RegisterForm(1, "s16"), "16 bits"),
        ("4", RegisterForm(1, bits=2), "2 bits"),
        ("fast", RegisterForm(1), "does not begin with a number"),
        ("1e39", RegisterForm(1, "f32"), "larger than 32 bits"),
    ],
)
def test_what_cannot_be_sent_is_refused(shown, form, why):
    with pytest.raises(InputError, match=why):
        encode(shown, form)


def test_form_of_a_listed_setting():
    listed = ListedSetting(
        1, "a", register=7, register_scale=0.1, register_form="s32", register_words="low_first",
        register_table="input",
    )  # fmt: skip
    assert form_of(listed) == RegisterForm(7, "s32", False, 0, None, 0.1, "input")
    assert form_of(ListedSetting(1, "a", register=0)) == RegisterForm(0)
    assert form_of(ListedSetting(1, "a")) is None


def test_a_first_bit_alone_means_one_bit_and_bits_alone_begin_at_zero():
    one = form_of(ListedSetting(1, "a", register=7, register_first_bit=3))
    assert (one.first_bit, one.bits) == (3, 1)
    low = form_of(ListedSetting(1, "a", register=7, register_bits=3))
    assert (low.first_bit, low.bits) == (0, 3)


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"register": 65535, "register_form": "u32"}, "65535 is the last"),
        ({"register_form": "f32", "register_bits": 4}, "no bit fields"),
        ({"register_first_bit": 15, "register_bits": 2}, "bits 15 to 16 are not in 16 bits"),
        ({"register_form": "u32", "register_bits": 32, "register_first_bit": 1}, "not in 32 bits"),
    ],
)
def test_a_list_that_contradicts_itself_is_told(fields, why):
    with pytest.raises(InputError, match=why):
        form_of(ListedSetting(1, "a", **{"register": 7} | fields))


@pytest.mark.parametrize("module", [blocks, client, faults, registers])
def test_examples_in_the_docstrings_run(module):
    results = doctest.testmod(module)
    assert results.attempted > 0
    assert results.failed == 0
