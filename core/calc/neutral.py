"""Harmonics, neutral currents and the balance of the lines of a supply.

Loads from line to neutral meet in the neutral. What meets there depends on the angle between the
lines, and on each harmonic by itself: that one rule covers 120/240 V three-wire services, two legs
of a wye and the whole wye.
"""

import cmath
import math
from dataclasses import dataclass

from core.calc import checks
from core.calc.lookups import chosen
from core.errors import RangeError

__all__ = [
    "LegBalance",
    "leg_balance",
    "line_currents_a",
    "neutral_current_a",
    "neutral_spectrum_a",
    "rms_a",
]

# Angle of each line's voltage against the first line's, in turns.
SERVICES = {"three_wire": (0.0, 1.0 / 2.0), "wye": (0.0, 1.0 / 3.0, 2.0 / 3.0)}

HARMONIC_MAX = 100


@dataclass(frozen=True, slots=True)
class LegBalance:
    """How evenly the lines are loaded [A], and the largest deviation from their mean [-]."""

    currents_a: tuple[float, ...]
    mean_a: float
    heaviest: int
    imbalance: float


def rms_a(spectrum_a: dict[int, float]) -> float:
    r"""Effective value of a current from its harmonics.

    .. math:: I = \sqrt{\sum_h I_h^2}

    Parameters
    ----------
    spectrum_a : dict[int, float]
        Effective value of each harmonic by its order, 1 for the fundamental [A]

    Returns
    -------
    float
        Effective value of the whole [A]

    Raises
    ------
    RangeError
        An order outside of 1 to 100 or a current below zero

    Examples
    --------
    >>> round(rms_a({1: 10.0, 3: 8.0, 5: 5.0}), 3)
    13.748

    References
    ----------
    .. [1] Parseval's theorem; IEC 60050-103-02-03 (root-mean-square value)
    """
    _check_spectrum(spectrum_a)
    return math.sqrt(sum(current_a**2 for current_a in spectrum_a.values()))


def neutral_spectrum_a(legs: tuple[dict[int, float], ...], service: str) -> dict[int, float]:
    r"""Each harmonic of the neutral's current.

    .. math:: I_{N,h} = \left| \sum_k I_{k,h}\, e^{\,j h \theta_k} \right|

    Parameters
    ----------
    legs : tuple[dict[int, float], ...]
        For each line its line-to-neutral load: harmonics by order; lines left out carry none [A]
    service : str
        three_wire (120/240 V) or wye (208Y/120 V, 400Y/230 V) [-]

    Returns
    -------
    dict[int, float]
        Effective value of each harmonic in the neutral by its order [A]

    Raises
    ------
    RangeError
        No such service, more lines than it has, an order outside of 1 to 100, a current below zero

    Notes
    -----
    Holds where the loads are alike, so that each harmonic stands at the same angle to its own
    line's voltage. On a three-wire service equal legs cancel every odd harmonic, the third
    included, and only even ones add; on a wye the third and its odd multiples add. Loads from line
    to line put nothing into the neutral.

    Examples
    --------
    >>> leg = {1: 10.0, 3: 8.0}
    >>> [round(amperes, 9) for amperes in neutral_spectrum_a((leg, leg), "three_wire").values()]
    [0.0, 0.0]
    >>> [round(amperes, 9) for amperes in neutral_spectrum_a((leg, leg, leg), "wye").values()]
    [0.0, 24.0]

    References
    ----------
    .. [1] Kirchhoff's current law; Masters, *Renewable and Efficient Electric Power Systems*,
       eq. 2.102, for the balanced wye
    """
    chosen(service, tuple(SERVICES), "the service")
    angles = SERVICES[service]
    if len(legs) > len(angles):
        raise RangeError(
            "The neutral current was not computed.",
            f"{len(legs)} lines were given; this service has {len(angles)}.",
            "Give each line once.",
        )
    for leg in legs:
        _check_spectrum(leg)
    orders = sorted({order for leg in legs for order in leg})
    return {
        order: abs(
            sum(
                leg.get(order, 0.0) * cmath.exp(2j * math.pi * order * angle)
                for leg, angle in zip(legs, angles, strict=False)
            )
        )
        for order in orders
    }


def neutral_current_a(legs: tuple[dict[int, float], ...], service: str) -> float:
    r"""Effective value of the neutral's current.

    .. math:: I_N = \sqrt{\sum_h I_{N,h}^2}

    Parameters
    ----------
    legs : tuple[dict[int, float], ...]
        For each line its line-to-neutral load: harmonics by order; lines left out carry none [A]
    service : str
        three_wire (120/240 V) or wye (208Y/120 V, 400Y/230 V) [-]

    Returns
    -------
    float
        Effective value [A]

    Raises
    ------
    RangeError
        As neutral_spectrum_a

    Notes
    -----
    In a balanced wye up to √3 times the current of a line, where all of it were third harmonic
    and fundamental.

    Examples
    --------
    >>> leg = {1: 10.0, 3: 8.0, 5: 5.0}
    >>> round(neutral_current_a((leg, leg), "wye"), 3)
    19.519

    References
    ----------
    .. [1] As neutral_spectrum_a
    """
    return rms_a(neutral_spectrum_a(legs, service))


def line_currents_a(loads: tuple[tuple[str, float], ...]) -> dict[str, float]:
    """Current in each line by adding the loads that hang on it.

    Parameters
    ----------
    loads : tuple[tuple[str, float], ...]
        For each load the conductors it is fed from, such as "L1 N" or "L1 L2", and its current [A]

    Returns
    -------
    dict[str, float]
        Sum for L1, L2 and L3 [A]

    Raises
    ------
    RangeError
        A conductor other than L1, L2, L3 or N, a load on no line, or a current below zero

    Notes
    -----
    Adds effective values, which is exact for like loads on a three-wire service. On a wye a load
    between two lines is 30° away from one to neutral, so the sum is up to 15 % too high: the safe
    side.

    Examples
    --------
    >>> line_currents_a((("L1 N", 7.0), ("L1 L2", 10.0)))
    {'L1': 17.0, 'L2': 10.0, 'L3': 0.0}

    References
    ----------
    .. [1] Common practice
    """
    sums = {"L1": 0.0, "L2": 0.0, "L3": 0.0}
    for conductors, current_a in loads:
        checks.not_negative(current_a, "the current of each load", "A")
        names = conductors.split()
        for name in names:
            chosen(name, (*sums, "N"), "the conductor")
        lines = [name for name in names if name in sums]
        if not lines or len(names) < 2:
            raise RangeError(
                "The load was not added.",
                f"{conductors!r} is no pair or set of conductors with a line in it.",
                "Name at least one line and where the current returns, such as L1 N.",
            )
        for line in lines:
            sums[line] += current_a
    return sums


def leg_balance(currents_a: tuple[float, ...]) -> LegBalance:
    r"""How evenly the lines of a supply are loaded.

    .. math:: u = \frac{\max_k |I_k - \bar I|}{\bar I}

    Parameters
    ----------
    currents_a : tuple[float, ...]
        Current in each line of the supply, two or three [A]

    Returns
    -------
    LegBalance
        Mean, number of the heaviest line from 0 on, largest deviation over the mean [A and -]

    Raises
    ------
    RangeError
        Not two or three lines, or a current below zero

    Notes
    -----
    The largest deviation from the mean counts, not the spread. Without any load it is balanced.

    Examples
    --------
    >>> leg_balance((60.0, 40.0)).imbalance
    0.2

    References
    ----------
    .. [1] Same form as the voltage unbalance of NEMA MG 1; common practice
    """
    checks.whole(len(currents_a), 2, 3, "the number of lines")
    for current_a in currents_a:
        checks.not_negative(current_a, "the current of each line", "A")
    mean_a = sum(currents_a) / len(currents_a)
    deviation_a = max(abs(current_a - mean_a) for current_a in currents_a)
    return LegBalance(
        currents_a=currents_a,
        mean_a=mean_a,
        heaviest=currents_a.index(max(currents_a)),
        imbalance=deviation_a / mean_a if mean_a > 0.0 else 0.0,
    )


def _check_spectrum(spectrum_a: dict[int, float]) -> None:
    for order, current_a in spectrum_a.items():
        checks.whole(order, 1, HARMONIC_MAX, "the order of a harmonic")
        checks.not_negative(current_a, "the current of each harmonic", "A")
