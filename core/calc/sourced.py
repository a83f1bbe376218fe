"""A value beside what it rests on, so that an estimate never passes for a fact."""

from dataclasses import dataclass

from core.calc import checks
from core.errors import RangeError

__all__ = ["Fit", "Sourced", "stated_or", "total"]

# What a value can rest on, the surest first; a result is as weak as its weakest input.
BASES = ("stated", "published", "estimate")


@dataclass(frozen=True, slots=True)
class Sourced:
    """A value and what it rests on.

    >>> Sourced(0.62, "estimate", "no choke, common practice").is_estimate
    True
    """

    value: float
    """In SI."""
    basis: str
    """``stated`` by the user or the maker, ``published``, or ``estimate``."""
    reason: str
    """Where it comes from, in words."""

    @property
    def is_estimate(self) -> bool:
        """Whether it rests on an assumption that nobody stated."""
        return self.basis == "estimate"


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether something fits, with the figures that say so.

    >>> Fit(True, 3.0, 4.0, "enough current").share
    0.75
    """

    fits: bool
    needed: float
    """In SI."""
    available: float
    """In SI, of the same quantity."""
    reason: str
    """What was found, in words without figures."""

    @property
    def share(self) -> float:
        """What is needed, as a share of what is available; infinite where there is nothing."""
        return self.needed / self.available if self.available else float("inf")


def stated_or(stated: float | None, name: str, otherwise: Sourced) -> Sourced:
    """The value that somebody stated, else the other one.

    Parameters
    ----------
    stated : float | None
        Value by the maker or the user, if there is one [any unit]
    name : str
        What it is, with its article, for the message [-]
    otherwise : Sourced
        What counts where nothing was stated [unit of stated]

    Returns
    -------
    Sourced
        The stated value, or the other one unchanged [unit of stated]

    Raises
    ------
    RangeError
        The stated value is not above zero

    Examples
    --------
    >>> stated_or(0.9, "the derating", Sourced(0.8, "estimate", "rule of thumb")).value
    0.9

    References
    ----------
    .. [1] Order of trust of this program: what the maker states comes before any rule
    """
    if stated is None:
        return otherwise
    checks.positive(stated, name)
    return Sourced(stated, "stated", "as entered")


def total(parts: tuple[Sourced, ...]) -> Sourced:
    """The sum of values, resting on the weakest of them.

    Parameters
    ----------
    parts : tuple[Sourced, ...]
        The values, none below zero [one unit]

    Returns
    -------
    Sourced
        Their sum; zero of nothing [the same unit]

    Raises
    ------
    RangeError
        A value is below zero or no number, or its basis is unknown

    Examples
    --------
    >>> total((Sourced(40.0, "stated", "as entered"), Sourced(60.0, "estimate", "a guess"))).basis
    'estimate'

    References
    ----------
    .. [1] Sums of heat and of leakage current, taken without simultaneity or phase
    """
    for part in parts:
        checks.not_negative(part.value, "a part of the sum")
        if part.basis not in BASES:
            raise RangeError("The sum was not formed.", f"{part.basis!r} is no basis.", "")
    weakest = max((part.basis for part in parts), key=BASES.index, default="stated")
    guessed = sum(part.is_estimate for part in parts)
    reason = f"sum of {len(parts)}" + (f", {guessed} of them estimated" if guessed else "")
    return Sourced(sum(part.value for part in parts), weakest, reason)
