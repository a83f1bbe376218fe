"""Leakage current of drives: what it asks of the protective conductor and of an RCD."""

from dataclasses import dataclass

from core.calc import checks
from core.calc.sourced import Fit
from core.errors import RangeError

__all__ = ["EarthDemand", "earth_demand", "leakage_fit", "rcd_type_fit"]

# What the standing leakage may be of an RCD's rated residual current: IEC 60364-5-53, 531.3.2 (from
# memory). It may trip from half of it on.
STANDING_SHARE_MAX = 0.3
RCD_RATINGS_MAX_A = 30.0

TOUCH_LIMIT_A = 0.0035
HIGH_LEAKAGE_A = 0.010

# Types of RCD in rising order: each also sees what those before it see.
RCD_ORDER = ("none", "ac", "a", "f", "b")

# The least type that still trips on a fault behind the rectifier of a drive fed this way.
_NEEDED = {"line_neutral": "f", "line_line": "b", "three_phase": "b"}
_WHY = {
    "line_neutral": "a fault behind a single-phase drive holds mixed frequencies",
    "line_line": "a fault behind a rectifier between two lines holds smooth direct current",
    "three_phase": "a fault behind a three-phase rectifier holds smooth direct current",
}


@dataclass(frozen=True, slots=True)
class EarthDemand:
    """What a protective conductor current asks for.

    ``level`` is 0 (nothing beyond the usual), 1 (above 3.5 mA) or 2 (above 10 mA).
    """

    level: int
    words: str
    source: str


def leakage_fit(leakages_a: tuple[float, ...], rcd_rated_a: float) -> Fit:
    r"""Whether the standing leakage of all that an RCD feeds leaves it from tripping by itself.

    .. math:: \sum_i I_i \le 0.3 \, I_{\Delta n}

    Parameters
    ----------
    leakages_a : tuple[float, ...]
        Leakage of each drive and load behind it [A]
    rcd_rated_a : float
        Rated residual current of the RCD [A]

    Returns
    -------
    Fit
        Sum of leakage and what is allowed [A]

    Raises
    ------
    RangeError
        A leakage below zero, or a rated residual current not above zero or above 30 A

    Notes
    -----
    The arithmetic sum: cautious, since currents of different phases partly cancel. Leakage grows
    with the length of the motor cable, its screen and the switching frequency.

    Examples
    --------
    >>> leakage_fit((0.0035, 0.0035, 0.0035), 0.030).fits
    False

    References
    ----------
    .. [1] IEC 60364-5-53, 531.3.2 (from memory)
    """
    for leakage_a in leakages_a:
        checks.not_negative(leakage_a, "the leakage current", "A")
    checks.positive(rcd_rated_a, "the rated residual current", "A")
    checks.in_range(rcd_rated_a, 0.0, RCD_RATINGS_MAX_A, "the rated residual current", "A")
    needed_a, allowed_a = sum(leakages_a), STANDING_SHARE_MAX * rcd_rated_a
    fits = needed_a <= allowed_a * (1.0 + 1e-9)
    found = "within" if fits else "above"
    return Fit(fits, needed_a, allowed_a, f"standing leakage {found} 30 % of the RCD's rating")


def rcd_type_fit(rcd_type: str, feed: str, upstream_types: tuple[str, ...] = ()) -> Fit:
    """Whether an RCD still trips on a fault behind a drive, and none before it is blinded.

    Parameters
    ----------
    rcd_type : str
        ``none``, ``ac``, ``a``, ``f`` or ``b`` [-]
    feed : str
        What feeds the drive's rectifier: ``line_neutral``, ``line_line`` or ``three_phase`` [-]
    upstream_types : tuple[str, ...]
        Types of the RCDs before it on the same way [-]

    Returns
    -------
    Fit
        Type needed and type at hand, as places in none, AC, A, F, B [-]

    Raises
    ------
    RangeError
        An unknown type or feed

    Notes
    -----
    No RCD at all fits here: whether one is needed is another rule. A drive without any rectifier
    fault current, by its maker's statement, may allow less; the statement wins. Where US rules
    ask for ground-fault protection, ask the drive's maker too.

    Examples
    --------
    >>> rcd_type_fit("a", "line_neutral").fits
    False
    >>> rcd_type_fit("b", "three_phase", ("a",)).reason.partition(":")[0]
    'an RCD before it is blinded'

    References
    ----------
    .. [1] IEC 62423 (types F and B), BS 7671, 531.3.3 (seen as quoted); IEC 60364-5-53, 531.3.3
       (from memory)
    """
    for kind in (rcd_type, *upstream_types):
        _check_known(kind, RCD_ORDER, "type of RCD")
    _check_known(feed, tuple(_NEEDED), "feed of a drive")
    needed = RCD_ORDER.index(_NEEDED[feed])
    chain = [RCD_ORDER.index(kind) for kind in (rcd_type, *upstream_types) if kind != "none"]
    if not chain:
        return Fit(True, needed, 0, "there is no RCD")
    weakest = min(chain)
    if weakest >= needed:
        return Fit(True, needed, weakest, "the type of RCD suits the drive's rectifier")
    if rcd_type != "none" and chain[0] < needed:
        return Fit(False, needed, chain[0], f"the RCD may be blinded: {_WHY[feed]}")
    return Fit(False, needed, weakest, f"an RCD before it is blinded: {_WHY[feed]}")


def earth_demand(leakage_a: float) -> EarthDemand:
    """What the protective conductor of a drive must be, by its leakage current.

    Parameters
    ----------
    leakage_a : float
        Current in the protective conductor in normal use [A]

    Returns
    -------
    EarthDemand
        Level, the demand in words, and its source [-]

    Raises
    ------
    RangeError
        Leakage below zero or above 1 A, which would be no leakage

    Notes
    -----
    Drives with a filter commonly leak more than 3.5 mA: without a statement of the maker take it
    so. On a plug, an earth pin that opens leaves the whole current to whoever touches the case.

    Examples
    --------
    >>> earth_demand(0.005).level
    1

    References
    ----------
    .. [1] IEC 61800-5-1, 4.3.5.5.2 for 3.5 mA (from memory); IEC 60364-5-54, 543.7 for 10 mA (seen
       as quoted)
    """
    checks.in_range(leakage_a, 0.0, 1.0, "the leakage current", "A")
    if leakage_a > HIGH_LEAKAGE_A:
        return EarthDemand(
            2,
            "fixed wiring; protective conductor of at least 10 mm² copper, or a second one of the "
            "same size to a terminal of its own",
            "IEC 60364-5-54, 543.7",
        )
    if leakage_a > TOUCH_LIMIT_A:
        return EarthDemand(
            1,
            "fixed connection, and 10 mm² copper or a second protective conductor, or supply "
            "that switches off when the conductor breaks",
            "IEC 61800-5-1 (from memory)",
        )
    return EarthDemand(0, "protective conductor as for any load of this circuit", "IEC 61800-5-1")


def _check_known(value: str, known: tuple[str, ...], what: str) -> None:
    if value not in known:
        raise RangeError(
            "The RCD was not judged.",
            f"{value!r} is no {what}.",
            f"Give one of {', '.join(known)}.",
        )
