"""Published and customary limits of handling fruit, each with where it comes from.

A limit says no more than its source: of the fruit it speaks of, on the surface it speaks of, and
whether the source asks for it, saw harm, saw it work, or it is a habit. What none of them speaks
of is not thereby safe.
"""

import math
from dataclasses import dataclass
from functools import cache

from core.calc import checks
from core.calc.lookups import chosen
from core.errors import RangeError
from core.model import choices
from core.tables import load_table

__all__ = ["BEARINGS", "Limit", "drop_limits", "left", "limits_for"]

BEARINGS = {
    "within": "the source asks to stay within",
    "harm": "the source saw harm from here on; less is not thereby shown to be safe",
    "worked": "the source saw it work; of other values it says nothing",
    "usual": "a habit of the trade, no limit",
}
"""What a source says of its values."""

ANY = "any"

# Factor and offset from the unit a source gives to SI.
_UNITS = {
    "": (1.0, 0.0),
    "%": (0.01, 0.0),
    "K": (1.0, 0.0),
    "kPa": (1e3, 0.0),
    "m/min": (1.0 / 60.0, 0.0),
    "m/s": (1.0, 0.0),
    "mg/L": (1e-3, 0.0),
    "min": (60.0, 0.0),
    "mm": (1e-3, 0.0),
    "r/min": (math.pi / 30.0, 0.0),
    "s": (1.0, 0.0),
    "°C": (1.0, 273.15),
}

_CITRUS = {
    "citrus",
    "clementine",
    "grapefruit",
    "kumquat",
    "lemon",
    "lime",
    "mandarin",
    "orange",
    "pomelo",
    "satsuma",
    "tangerine",
}

# The bare round bar is harder on fruit than a hard flat surface, and padding gentler than both
# (WSU postharvest information PC2000N): harm on the flat is harm on the bar as well.
_HARDER_THAN = {"bar": ("hard",)}

# A value that meets a limit after a round trip through units meets it.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit as its source gives it.

    >>> limits_for("brush_bed", "brush_speed", "lemons")[0].printed
    'at most 100 r/min'
    """

    quantity: str
    """What is limited, such as ``brush_speed``."""
    shown_as: str
    """Kind of quantity for showing it; empty where :attr:`printed` is all there is."""
    bearing: str
    """One of :data:`BEARINGS`."""
    low: float | None
    """Lower end in SI, if the source has one; for ``harm`` where harm begins."""
    high: float | None
    """Upper end in SI, if the source has one."""
    fruit: tuple[str, ...]
    """Fruit that the source speaks of; none where it is not said."""
    surface: str
    """Surface that the source speaks of, for drops; empty where it is not said."""
    printed: str
    """Its values in the unit of the source."""
    words: str
    """What the source says."""
    source: str
    status: str
    """Whether it was seen, or is from memory or common practice."""

    def holds(self, value: float) -> bool | None:
        """Whether a value in SI keeps it; None where the source says nothing of that value."""
        checks.finite(value, f"the {self.quantity.replace('_', ' ')}")
        slack = _SLACK * abs(value)
        above_low = self.low is None or value >= self.low - slack
        if self.bearing == "harm":
            return False if above_low else None
        within = above_low and (self.high is None or value <= self.high + slack)
        return True if within else None if self.bearing == "worked" else False

    def speaks_of(self, fruit: str) -> bool:
        """Whether the source speaks of a fruit, given in English words; always if it names none."""
        named = {_singular(word) for word in fruit.lower().replace(",", " ").split()}
        if named & _CITRUS:
            named.add("citrus")
        return not self.fruit or bool(named & set(self.fruit))


def limits_for(kind_of_station: str, quantity: str = "", fruit: str = "") -> tuple[Limit, ...]:
    """The limits on record for a kind of station.

    Parameters
    ----------
    kind_of_station : str
        Kind of station, such as ``brush_bed`` [-]
    quantity : str
        One quantity only, such as ``brush_speed``; all of them without [-]
    fruit : str
        Only limits whose source speaks of this fruit or names none; all of them without [-]

    Returns
    -------
    tuple[Limit, ...]
        Limits in the order of the table; none where none is on record [SI inside]

    Raises
    ------
    RangeError
        There is no such kind of station

    Notes
    -----
    Drops are limits of every kind of station; which of them counts goes by what fruit falls onto:
    :func:`drop_limits`. Local rules for food and water, and what the fruit itself shows a day
    after handling, come before any of these.

    Examples
    --------
    >>> [limit.printed for limit in limits_for("roller_conveyor", "turns_in_view")]
    ['at least 2']
    >>> sorted({limit.bearing for limit in limits_for("brush_bed", "brushing_time", "oranges")})
    ['harm', 'usual']

    References
    ----------
    .. [1] Each limit names its source
    """
    chosen(kind_of_station, tuple(choices.STATION_KINDS), "the kind of station")
    return tuple(
        limit
        for kinds, limit in _limits()
        if (kind_of_station in kinds or ANY in kinds)
        and quantity in ("", limit.quantity)
        and (not fruit or limit.speaks_of(fruit))
    )


def drop_limits(surface: str, fruit: str = "") -> tuple[Limit, ...]:
    """The limits on record for a fall onto a surface.

    Parameters
    ----------
    surface : str
        What fruit falls onto, such as ``hard`` or ``padded`` [-]
    fruit : str
        Only limits whose source speaks of this fruit or names none; all of them without [-]

    Returns
    -------
    tuple[Limit, ...]
        Limits whose source speaks of this surface or names none; for a bar those of a hard flat
        surface as well [m inside]

    Raises
    ------
    RangeError
        There is no such surface

    Notes
    -----
    Few heights are published, for few fruit. A limit for another surface than the one at hand is
    not returned, however near.

    Examples
    --------
    >>> [limit.printed for limit in drop_limits("hard", "peaches")]
    ['from 310 mm on', 'at most 50 mm']

    References
    ----------
    .. [1] Each limit names its source; for the order of surfaces WSU postharvest information
       network, PC2000N (seen)
    """
    chosen(surface, tuple(choices.DROP_SURFACES), "the surface that fruit falls onto")
    surfaces = ("", surface, *_HARDER_THAN.get(surface, ()))
    return tuple(
        limit
        for _kinds, limit in _limits()
        if limit.quantity == "drop"
        and limit.surface in surfaces
        and (not fruit or limit.speaks_of(fruit))
    )


def left(limits: tuple[Limit, ...], value: float) -> tuple[Limit, ...]:
    """Those of some limits that a value does not keep.

    Parameters
    ----------
    limits : tuple[core.calc.handling.Limit, ...]
        Limits of one quantity [SI inside]
    value : float
        The value, in SI [unit of the limits]

    Returns
    -------
    tuple[Limit, ...]
        Limits left, in their order; not those that say nothing of such a value [SI inside]

    Raises
    ------
    RangeError
        The value is no finite number, or the limits are of several quantities

    Examples
    --------
    >>> [limit.bearing for limit in left(drop_limits("hard", "peach"), 0.1)]
    ['usual']

    References
    ----------
    .. [1] Each limit names its source
    """
    quantities = sorted({limit.quantity for limit in limits})
    if len(quantities) > 1:
        raise RangeError(
            "The limits were not compared.",
            f"They are of several quantities: {', '.join(quantities)}.",
            "Compare the limits of one quantity at a time.",
        )
    checks.finite(value, "the value")
    return tuple(limit for limit in limits if limit.holds(value) is False)


@cache
def _limits() -> tuple[tuple[tuple[str, ...], Limit], ...]:
    """Kinds of station and limit of each row of the table."""
    return tuple(
        (
            tuple(row["kinds"].split()),
            Limit(
                quantity=row["quantity"],
                shown_as=row["shown_as"],
                bearing=row["bearing"],
                low=_si(row["low"], row["unit"]),
                high=_si(row["high"], row["unit"]),
                fruit=tuple(row["fruit"].split()),
                surface=row["surface"],
                printed=_printed(row["low"], row["high"], row["unit"], row["bearing"]),
                words=row["words"],
                source=row["source"],
                status=row["status"],
            ),
        )
        for row in load_table("handling_limits")
    )


def _si(text: str, unit: str) -> float | None:
    factor, offset = _UNITS[unit]
    return float(text) * factor + offset if text else None


def _printed(low: str, high: str, unit: str, bearing: str) -> str:
    if bearing == "harm":
        return f"from {low} {unit} on".replace("  ", " ")
    if low == high:
        return f"{low} {unit}".rstrip()
    if low and high:
        return f"{low} to {high} {unit}".rstrip()
    return f"{'at least' if low else 'at most'} {low or high} {unit}".rstrip()


def _singular(word: str) -> str:
    """An English word without its plural ending, as far as fruit go."""
    for plural, singular in (("ches", "ch"), ("oes", "o"), ("rries", "rry"), ("s", "")):
        if word.endswith(plural) and not word.endswith(("ss", "us")):
            return word.removesuffix(plural) + singular
    return word
