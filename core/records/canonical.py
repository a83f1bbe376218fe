"""The whole line as one canonical text: the same line always gives the same bytes.

JSON in the form of RFC 8785: keys in the order of their UTF-16 units, no spare space, numbers as
ECMAScript writes them, strings with the fewest escapes. What is hashed is this text, byte for
byte; so a record can be verified by any program, without Linebook.
"""

import hashlib
import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

from core.errors import InputError
from core.model import RECORDS_BY_CLASS, Line

KIND = "linebook-record"


def canonical_text(line: Line, file_format: int) -> str:
    """A line with everything that it holds, as canonical JSON.

    Parameters
    ----------
    line : Line
        The line.
    file_format : int
        Number of the file format whose fields it has.

    Raises
    ------
    InputError
        It holds a number that JSON has no form for.
    """
    return canonical_json({"kind": KIND, "format": file_format, "line": plain(line)})


def digest(text: str) -> str:
    """SHA-256 over the UTF-8 bytes of a text, as lower-case hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def plain(record: Any) -> dict[str, Any]:
    """A record with all that it holds as plain data: its id, its fields, its children in order."""
    spec = RECORDS_BY_CLASS[type(record)]
    told: dict[str, Any] = {"id": record.id}
    for field in spec.fields:
        told[field.name] = getattr(record, field.name)
    for child in spec.children:
        held = getattr(record, child.name)
        told[child.name] = [plain(entry) for entry in held] if child.many else plain(held)
    return told


def canonical_json(value: Any) -> str:
    """Plain data in the form of RFC 8785.

    Examples
    --------
    >>> canonical_json({"b": 1.0, "a": [True, None, "é"]})
    '{"a":[true,null,"é"],"b":1}'
    """
    if value is None or isinstance(value, bool | str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, int | float):
        return number_text(value)
    if isinstance(value, Mapping):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be"))
        parts = (f"{canonical_json(key)}:{canonical_json(value[key])}" for key in keys)
        return "{" + ",".join(parts) + "}"
    assert isinstance(value, Sequence)
    return "[" + ",".join(canonical_json(entry) for entry in value) + "]"


def number_text(value: float | int) -> str:
    """A number as ECMAScript writes it: the shortest digits that read back as the same double.

    Raises
    ------
    InputError
        It is no number, or endless.

    Examples
    --------
    >>> [number_text(number) for number in (0.1, 1e21, 1e-7, 60.0, -0.0, 123456789.5)]
    ['0.1', '1e+21', '1e-7', '60', '0', '123456789.5']
    """
    number = float(value)
    if not math.isfinite(number):
        raise InputError("The record was not made.", f"{value} is no number.", "Correct the entry.")
    if number == 0.0:
        return "0"
    sign = "-" if number < 0 else ""
    mantissa, _, exponent = f"{abs(number)!r}".partition("e")
    whole, _, part = mantissa.partition(".")
    part = "" if part == "0" else part
    digits = (whole + part).lstrip("0")
    # The point stands after this many digits; zeros before the first digit count down.
    point = len(whole) + int(exponent or 0) - (len(whole + part) - len((whole + part).lstrip("0")))
    digits = digits.rstrip("0") or "0"
    return sign + _placed(digits, point)


def _placed(digits: str, point: int) -> str:
    """Digits with the point behind ``point`` of them, by the rules of ECMA-262, 6.1.6.1.20."""
    count = len(digits)
    if count <= point <= 21:
        return digits + "0" * (point - count)
    if 0 < point <= 21:
        return f"{digits[:point]}.{digits[point:]}"
    if -6 < point <= 0:
        return f"0.{'0' * -point}{digits}"
    power = point - 1
    head = digits[0] if count == 1 else f"{digits[0]}.{digits[1:]}"
    return f"{head}e{'+' if power > 0 else '-'}{abs(power)}"
