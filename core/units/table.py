"""The closed table of units: what may be typed and what each is worth in SI.

The factors stand in ``units.csv`` and are made from the units library by
``python -m core.units.generate``; nothing here needs that library.
"""

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

# Beside the module rather than through importlib.resources, whose import alone costs 12 ms.
TABLE_PATH = Path(__file__).with_name("units.csv")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: ``si = value * factor + offset``.

    Attributes: ``unit_id`` is its stable name in code, ``symbol`` what is shown, ``dimension`` what
    it measures, in our own words (a torque is no energy, a rotation no frequency).
    """

    unit_id: str
    symbol: str
    dimension: str
    factor: float
    offset: float
    spellings: tuple[str, ...]

    def to_si(self, value: float) -> float:
        """The SI value of a number in this unit."""
        return value if self.is_si else _without_noise(value * self.factor + self.offset)

    def from_si(self, value_si: float) -> float:
        """The number in this unit of an SI value.

        A difference too small to be told from the rounding of a large offset is zero.
        """
        if self.is_si:
            return value_si
        above = value_si - self.offset
        return 0.0 if abs(above) < 1e-12 * abs(self.offset) else _without_noise(above / self.factor)

    @property
    def is_si(self) -> bool:
        """Whether a number in this unit is the SI value itself."""
        return self.factor == 1.0 and self.offset == 0.0


def _without_noise(value: float) -> float:
    """Keep the 15 digits a float carries for sure: 82 % is 0.82, not 0.8200000000000001."""
    return float(f"{value:.15g}")


def _load() -> dict[str, Unit]:
    with TABLE_PATH.open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file)
        return {row["id"]: _unit(row) for row in rows}


def _unit(row: dict[str, str]) -> Unit:
    return Unit(
        row["id"],
        row["symbol"],
        row["dimension"],
        float(row["factor"]),
        float(row["offset"]),
        tuple(row["spellings"].split(";")),
    )


UNITS: dict[str, Unit] = _load()
"""Every unit by its id, in the order of the file."""


# --- how a unit is recognised -------------------------------------------------------------

_SAME_SIGN = str.maketrans(
    {"µ": "u", "μ": "u", "\u2126": "Ω", "²": "2", "³": "3", "¹": "1", "⁻": "-", "º": "°", "˚": "°"}
    | dict.fromkeys("·⋅∙•×*", "·")
    | dict.fromkeys("\u2212\u2013\u2010\u2011", "-")
    | dict.fromkeys("″”“", '"')
    | dict.fromkeys("′’", "'")
    | dict.fromkeys("\u00a0\u2007\u2009\u202f", " ")
)
_POWER = r"\*\*|\^"
_PER = r"(?i)\s*/\s*|(?:^|\s+)per\s+"
# A hyphen joins two letters (lb-in) but is a sign before a digit (min-1).
_JOINT = r"(?:[\s·.]|-(?!\d))+"


def spelled_plainly(spelling: str) -> str:
    """Bring the many ways to write one unit to a single form.

    Parameters
    ----------
    spelling : str
        A unit as typed

    Returns
    -------
    str
        The same in plain signs; letters keep their case

    Examples
    --------
    >>> spelled_plainly("lb-in"), spelled_plainly("m³ / h"), spelled_plainly("ft per min.")
    ('lb·in', 'm3/h', 'ft/min')
    """
    plain = re.sub(_POWER, "", spelling.strip()).translate(_SAME_SIGN)
    plain = re.sub(_JOINT, "·", re.sub(_PER, "/", plain)).strip("·")
    return plain[1:] if plain.startswith("1/") else plain


def units_spelled(spelling: str, dimension: str = "") -> tuple[Unit, ...]:
    """The units that a spelling may mean, in the order of the table.

    Parameters
    ----------
    spelling : str
        A unit as typed
    dimension : str
        Keep to units of this dimension; empty for all

    Returns
    -------
    tuple of Unit
        The units; no two of one dimension

    Notes
    -----
    Case is overlooked, except in the first letter of a unit with the prefix milli or mega: it is
    all that tells mW from MW, and MA is refused rather than taken for mA.

    Examples
    --------
    >>> [unit.unit_id for unit in units_spelled("KW")], units_spelled("MA")
    (['kW'], ())
    """
    plain = spelled_plainly(spelling)
    index = _index()
    keys = plain, _folded(plain, kept=True), _folded(plain, kept=False)
    return tuple(
        next(index[name][key] for key in keys if key in index[name])
        for name in ([dimension] if dimension else index)
        if any(key in index[name] for key in keys)
    )


def units_of(dimension: str) -> tuple[Unit, ...]:
    """All units of a dimension, in the order of the table.

    Parameters
    ----------
    dimension : str
        A dimension named in the table

    Returns
    -------
    tuple of Unit
        Its units

    Examples
    --------
    >>> [unit.symbol for unit in units_of("temperature")]
    ['°C', '°F', 'K']
    """
    return tuple(unit for unit in UNITS.values() if unit.dimension == dimension)


@cache
def _index() -> dict[str, dict[str, Unit]]:
    """Per dimension, the unit of each spelling as it stands and with case overlooked."""
    index: dict[str, dict[str, Unit]] = {}
    for unit in UNITS.values():
        of_spelling = index.setdefault(unit.dimension, {})
        for spelling in map(spelled_plainly, unit.spellings):
            of_spelling[spelling] = unit
            of_spelling[_folded(spelling, kept=_is_prefixed(unit))] = unit
    return index


def _is_prefixed(unit: Unit) -> bool:
    """Whether the symbol is another unit's symbol behind the prefix m or M."""
    return unit.symbol[:1] in ("m", "M") and any(
        other.symbol == unit.symbol[1:] for other in units_of(unit.dimension)
    )


def _folded(spelling: str, *, kept: bool) -> str:
    """Overlook case, save for that of the first letter if ``kept``; the bar marks a folded key."""
    return f"{spelling[:1]}|{spelling[1:].casefold()}" if kept else f"|{spelling.casefold()}"
