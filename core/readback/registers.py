"""From the registers of a drive to the text its keypad shows, and back.

A drive sends each setting as one or two words of 16 bits. How they make up the value (sign, word
order, bits of a word that are shared, counts of 0.1) stands in the drive type's list.
"""

import math
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from core.errors import InputError
from core.model import ListedSetting
from core.units import parse_number

Table = Literal["holding", "input"]
Words = tuple[int, ...]

WORD_BITS = 16
LAST_REGISTER = 0xFFFF
# More decimals than this on a keypad come from a scale such as 1/60, not from the drive.
_MOST_DECIMALS = 6
_WORDS = {"u16": 1, "s16": 1, "u32": 2, "s32": 2, "f32": 2}


@dataclass(frozen=True, slots=True)
class RegisterForm:
    """Where a setting stands in a drive's registers, and in which form.

    ``register`` is the number as it is sent on the bus, counted from zero. ``first_bit`` counts
    from the least significant bit of the one or two words; ``bits`` is None for all of them.
    ``scale`` is the keypad's value for one count.
    """

    register: int
    kind: str = "u16"
    high_first: bool = True
    first_bit: int = 0
    bits: int | None = None
    scale: float = 1.0
    table: Table = "holding"

    @property
    def words(self) -> int:
        """Registers that the setting takes."""
        return _WORDS[self.kind]

    @property
    def width(self) -> int:
        """Bits that hold the value."""
        return self.bits or WORD_BITS * self.words

    @property
    def last(self) -> int:
        """Its last register."""
        return self.register + self.words - 1

    @property
    def signed(self) -> bool:
        """Whether its highest bit is a sign."""
        return self.kind.startswith("s")

    @property
    def decimals(self) -> int:
        """Digits behind the point that the keypad shows, by the scale."""
        exponent = Decimal(repr(self.scale)).normalize().as_tuple().exponent
        return min(max(0, -int(exponent)), _MOST_DECIMALS)


def form_of(listed: ListedSetting) -> RegisterForm | None:
    """Where and how the bus carries a listed setting.

    Parameters
    ----------
    listed : ListedSetting
        The line of the drive type's list

    Returns
    -------
    RegisterForm or None
        None where the list names no register

    Raises
    ------
    InputError
        The list contradicts itself: bits outside of the words, bits of a floating-point number,
        a second word behind the last register.
    """
    if listed.register is None:
        return None
    width = WORD_BITS * _WORDS[listed.register_form]
    is_field = listed.register_first_bit is not None or listed.register_bits is not None
    first_bit = listed.register_first_bit or 0
    bits = (listed.register_bits or 1) if is_field else None
    form = RegisterForm(
        listed.register,
        listed.register_form,
        listed.register_words == "high_first",
        first_bit,
        bits,
        listed.register_scale or 1.0,
        "input" if listed.register_table == "input" else "holding",
    )
    if form.last > LAST_REGISTER:
        raise _unfit(listed, f"register {form.register} is the last, and two are needed")
    if is_field and form.kind == "f32":
        raise _unfit(listed, "a floating-point number has no bit fields")
    if (end := first_bit + form.width) > width:
        raise _unfit(listed, f"bits {first_bit} to {end - 1} are not in {width} bits")
    return form


def _unfit(listed: ListedSetting, why: str) -> InputError:
    return InputError(
        f"{listed.code} cannot be read over the bus.",
        f"In the drive type's list, {why}.",
        "Mend its register in the list.",
    )


# --- reading --------------------------------------------------------------------------------


def decode(words: Sequence[int], form: RegisterForm) -> str:
    """The text that the keypad shows for the words of a setting.

    Parameters
    ----------
    words : sequence of int
        The registers of the setting, in the order of their numbers
    form : RegisterForm
        How they make up the value

    Returns
    -------
    str
        The value with as many decimals as its scale has, with a decimal point

    Raises
    ------
    InputError
        The words are no number (a floating-point NaN or infinity).

    Notes
    -----
    The product of count and scale is exact: no binary rounding comes between the drive and the
    text. A scale of more than six decimals, such as one sixtieth, is shown rounded to six.

    Examples
    --------
    >>> decode([450], RegisterForm(109, scale=0.1))
    '45.0'
    >>> decode([0x0000, 0xC248], RegisterForm(200, "f32", high_first=False))
    '-50'
    >>> decode([0b0110_0000], RegisterForm(7, first_bit=5, bits=2))
    '3'
    """
    raw = _joined(words, form)
    scale = Decimal(repr(form.scale))
    if form.kind == "f32":
        return _plain(_shortest(raw) * scale)
    raw = raw >> form.first_bit & (1 << form.width) - 1
    if form.signed and raw >> form.width - 1:
        raw -= 1 << form.width
    return f"{raw * scale:.{form.decimals}f}"


def _joined(words: Sequence[int], form: RegisterForm) -> int:
    if len(words) != form.words or not all(0 <= word <= 0xFFFF for word in words):
        raise ValueError(f"{list(words)} are not the {form.words} words of {form.kind}")
    raw = 0
    for word in words if form.high_first else reversed(words):
        raw = raw << WORD_BITS | word
    return raw


def _shortest(raw: int) -> Decimal:
    """The shortest decimal number that is this floating-point number."""
    packed = raw.to_bytes(4, "big")
    number: float = struct.unpack(">f", packed)[0]
    if not math.isfinite(number):
        raise InputError(
            "The value was not taken.",
            f"The drive sent {number}, which is no number.",
            "Check form and word order of its register in the list.",
        )
    texts = (f"{number:.{digits}g}" for digits in range(6, 10))  # nine always suffice
    return next(Decimal(text) for text in texts if struct.pack(">f", float(text)) == packed)


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


# --- writing, for simulated drives ------------------------------------------------------------


def encode(shown: str, form: RegisterForm, present: Sequence[int] = ()) -> Words:
    """The words in which a drive would send what its keypad shows.

    Parameters
    ----------
    shown : str
        A bare number in the keypad's unit
    form : RegisterForm
        How words make up the value
    present : sequence of int
        What the words hold now, so that the bits of other settings stay; zeros where empty

    Returns
    -------
    tuple of int
        The registers of the setting, in the order of their numbers

    Raises
    ------
    InputError
        No number, no whole count of the scale, or more than the bits hold.

    Notes
    -----
    The program never writes to a drive. This is for simulated drives and for tests.

    Examples
    --------
    >>> encode("45,0", RegisterForm(109, scale=0.1))
    (450,)
    >>> encode("-1", RegisterForm(5, "s32", high_first=False))
    (65535, 65535)
    """
    number = Decimal(repr(parse_number(shown))) / Decimal(repr(form.scale))
    if form.kind == "f32":
        return _split(_float_bits(shown, float(number)), form)
    count = int(number.to_integral_value())
    if abs(number - count) > Decimal("1e-6"):
        raise _not_sent(shown, f"it is no whole count of {form.scale:g}")
    lowest = -(1 << form.width - 1) if form.signed else 0
    if not lowest <= count < lowest + (1 << form.width):
        raise _not_sent(shown, f"it does not fit into {form.width} bits")
    mask = (1 << form.width) - 1 << form.first_bit
    kept = _joined(present or (0,) * form.words, form) & ~mask
    return _split(kept | count << form.first_bit & mask, form)


def _float_bits(shown: str, number: float) -> int:
    try:
        return int.from_bytes(struct.pack(">f", number), "big")
    except OverflowError:
        raise _not_sent(shown, "it is larger than 32 bits can hold") from None


def _split(raw: int, form: RegisterForm) -> Words:
    words = tuple(raw >> WORD_BITS * place & 0xFFFF for place in range(form.words))
    return words[::-1] if form.high_first else words


def _not_sent(shown: str, why: str) -> InputError:
    return InputError("The value was not taken.", f"'{shown}' cannot be sent: {why}.", "")
