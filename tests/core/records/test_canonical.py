"""The canonical text: numbers and strings as RFC 8785 asks, the same line the same bytes."""

import hashlib
import json
import math
import struct
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.records import canonical_json, canonical_text, digest, line_of, number_text
from core.store import LineFile

SAMPLES = ("quillback_hollow", "lindenmoor")


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


# RFC 8785, appendix B: bits of an IEEE 754 double, and the text that it has to get (seen there:
# from memory; each text reads back as the very bits, which the test below checks on its own).
RFC_8785_B = [
    ("0000000000000000", "0"),
    ("8000000000000000", "0"),
    ("0000000000000001", "5e-324"),
    ("8000000000000001", "-5e-324"),
    ("7fefffffffffffff", "1.7976931348623157e+308"),
    ("ffefffffffffffff", "-1.7976931348623157e+308"),
    ("4340000000000000", "9007199254740992"),
    ("c340000000000000", "-9007199254740992"),
    ("4430000000000000", "295147905179352830000"),
    ("44b52d02c7e14af5", "9.999999999999997e+22"),
    ("44b52d02c7e14af6", "1e+23"),
    ("44b52d02c7e14af7", "1.0000000000000001e+23"),
    ("444b1ae4d6e2ef4e", "999999999999999700000"),
    ("444b1ae4d6e2ef4f", "999999999999999900000"),
    ("444b1ae4d6e2ef50", "1e+21"),
    ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
    ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("41b3de4355555553", "333333333.3333332"),
    ("41b3de4355555554", "333333333.33333325"),
    ("41b3de4355555555", "333333333.3333333"),
    ("41b3de4355555556", "333333333.3333334"),
    ("41b3de4355555557", "333333333.33333343"),
    ("becbf647612f3696", "-0.0000033333333333333333"),
    ("43143ff3c1cb0959", "1424953923781206.2"),
]


@pytest.mark.parametrize(("bits", "text"), RFC_8785_B)
def test_numbers_of_the_rfc(bits, text):
    [value] = struct.unpack(">d", bytes.fromhex(bits))
    assert number_text(value) == text
    assert float(text) == value


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_number_reads_back_as_itself(value):
    assert float(number_text(value)) == value


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(value):
    with pytest.raises(InputError):
        number_text(value)


def test_object_of_the_rfc():
    # RFC 8785, 3.2.2 and 3.2.3 (from memory): its sample and the form that it has to get.
    given_text = (
        '{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],'
        '"string": "\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/",'
        '"literals": [null, true, false]}'
    )
    wanted = (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert canonical_json(json.loads(given_text)) == wanted


def test_keys_are_sorted_by_their_utf_16_units():
    # RFC 8785, 3.2.3: U+FB33 comes after U+1F600, whose first unit is 0xD83D.
    told = {"\u20ac": 1, "\r": 2, "\ufb33": 3, "1": 4, "\U0001f600": 5, "\u0080": 6, "\u00f6": 7}
    assert list(json.loads(canonical_json(told))) == [
        "\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33",
    ]  # fmt: skip


@pytest.mark.parametrize("name", SAMPLES)
def test_a_line_comes_back_whole_and_gives_the_same_bytes(name):
    line = sample(name)
    text = canonical_text(line, 4)
    assert line_of(text) == line
    assert canonical_text(line_of(text), 4) == text
    # An independent way to the same bytes: no number of a line needs another form than json's,
    # once whole floats are written as integers.
    plain = json.loads(text)
    again = json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert json.loads(again) == plain
    assert digest(text) == hashlib.sha256(text.encode("utf-8")).hexdigest()
