"""Uncertainty of what is measured or computed, by the rules of the GUM.

A budget lists what contributes: each with its standard uncertainty, the sensitivity of the result
to it, and the degrees of freedom behind it. First order: where a result is far from straight over
the width of an input, its budget is too good.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations

from core.calc import checks
from core.calc.student import coverage_factor
from core.errors import RangeError

__all__ = [
    "Budget",
    "Contribution",
    "combine",
    "effective_dof",
    "expanded_uncertainty",
    "probability_outside",
    "sensitivity",
    "spread_of_readings",
    "standard_from_expanded",
    "standard_from_limits",
    "standard_from_triangle",
]

Matrix = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Contribution:
    """One row of a budget, before it is combined."""

    name: str
    standard: float
    """Standard uncertainty, in the unit of the input."""
    sensitivity: float = 1.0
    """Change of the result for a change of the input; it may be negative."""
    dof: float = math.inf
    """Degrees of freedom; infinite where the limits are held for sure."""

    @property
    def in_result(self) -> float:
        """What it adds to the result, with its sign, in the unit of the result."""
        return self.sensitivity * self.standard


@dataclass(frozen=True, slots=True)
class Budget:
    """Contributions and what they combine to."""

    rows: tuple[Contribution, ...]
    standard: float
    """Combined standard uncertainty, in the unit of the result."""
    dof: float
    """Effective degrees of freedom; NaN where correlation leaves none defined."""
    correlated: bool

    @property
    def shares(self) -> tuple[float, ...]:
        """Each row's own share of the combined variance; with correlation they miss 1."""
        variance = self.standard**2
        return tuple(row.in_result**2 / variance if variance else 0.0 for row in self.rows)


def standard_from_limits(half_width: float) -> float:
    r"""Standard uncertainty of a value that lies anywhere between two limits.

    .. math:: u = \frac{a}{\sqrt 3}

    Parameters
    ----------
    half_width : float
        Half the distance between the limits, *a*; a tolerance, or half a step of a display [any
        unit]

    Returns
    -------
    float
        Standard uncertainty [the same unit]

    Raises
    ------
    RangeError
        Half width below zero or no number

    Examples
    --------
    >>> round(standard_from_limits(0.4), 3)
    0.231

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7
    """
    checks.not_negative(half_width, "the half width")
    return half_width / math.sqrt(3.0)


def standard_from_triangle(half_width: float) -> float:
    r"""Standard uncertainty of a value between two limits, most likely in the middle.

    .. math:: u = \frac{a}{\sqrt 6}

    Parameters
    ----------
    half_width : float
        Half the distance between the limits, *a* [any unit]

    Returns
    -------
    float
        Standard uncertainty [the same unit]

    Raises
    ------
    RangeError
        Half width below zero or no number

    Notes
    -----
    Also that of the difference of two readings with one and the same rectangular step.

    Examples
    --------
    >>> round(standard_from_triangle(0.6), 4)
    0.2449

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.9
    """
    checks.not_negative(half_width, "the half width")
    return half_width / math.sqrt(6.0)


def standard_from_expanded(expanded: float, factor: float = 2.0) -> float:
    r"""Standard uncertainty behind one that a certificate states with its coverage factor.

    .. math:: u = \frac{U}{k}

    Parameters
    ----------
    expanded : float
        Uncertainty as stated, *U* [any unit]
    factor : float
        Coverage factor, *k* [-]

    Returns
    -------
    float
        Standard uncertainty [the same unit]

    Raises
    ------
    RangeError
        Stated uncertainty below zero, or factor outside of 1 to 20

    Examples
    --------
    >>> standard_from_expanded(240e-6, 3.0)
    8e-05

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.3
    """
    checks.not_negative(expanded, "the stated uncertainty")
    checks.in_range(factor, 1.0, 20.0, "the coverage factor")
    return expanded / factor


def spread_of_readings(readings: tuple[float, ...]) -> Contribution:
    r"""Standard uncertainty of the mean of repeated readings, with its degrees of freedom.

    .. math:: u = \sqrt{\frac{\sum_i (x_i - \bar x)^2}{n (n - 1)}}, \qquad \nu = n - 1

    Parameters
    ----------
    readings : tuple[float, ...]
        Readings of one value, each taken afresh [any unit]

    Returns
    -------
    Contribution
        A row for a budget, sensitivity 1 [the same unit]

    Raises
    ------
    RangeError
        Fewer than two readings, or one that is no number

    Notes
    -----
    What all readings share, such as the meter's own error, does not show here: it is a row of its
    own.

    Examples
    --------
    >>> spread_of_readings((49.0, 50.0, 51.0)).dof
    2

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.2.3
    """
    count = len(readings)
    if count < 2:
        raise RangeError(
            "The spread was not computed.",
            f"There are {count} readings; one tells nothing of spread.",
            "Read at least twice, better five times.",
        )
    for reading in readings:
        checks.finite(reading, "a reading")
    mean = math.fsum(readings) / count
    squares = math.fsum((reading - mean) ** 2 for reading in readings)
    standard = math.sqrt(squares / (count * (count - 1)))
    return Contribution("repeated readings", standard, 1.0, count - 1)


def sensitivity(model: Callable[[float], float], value: float, standard: float) -> float:
    r"""Change of a result for a change of one input, taken over the input's own uncertainty.

    .. math:: c = \frac{f(x + u) - f(x - u)}{2 u}

    Parameters
    ----------
    model : Callable[[float], float]
        The result as a function of this input, all others held [any unit]
    value : float
        Best estimate of the input [any unit]
    standard : float
        Its standard uncertainty; zero takes a millionth of the value [unit of value]

    Returns
    -------
    float
        Sensitivity, with its sign [unit of result over unit of value]

    Raises
    ------
    RangeError
        Value no number, uncertainty below zero, a result that is no number, or what the model
        itself refuses at the edge of the uncertainty

    Examples
    --------
    >>> round(sensitivity(lambda diameter_m: 3.0 * diameter_m, 0.1, 0.001), 9)
    3.0

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.3, note 2
    """
    checks.finite(value, "the input")
    checks.not_negative(standard, "the standard uncertainty")
    step = standard or 1e-6 * max(abs(value), 1e-6)
    change = model(value + step) - model(value - step)
    checks.finite(change, "the change of the result")
    return change / (2.0 * step)


def combine(
    rows: tuple[Contribution, ...],
    correlation: tuple[tuple[float, ...], ...] | None = None,
) -> Budget:
    r"""Combined standard uncertainty of a result.

    .. math:: u_c^2 = \sum_i \sum_j c_i u_i \, c_j u_j \, r_{ij}

    Parameters
    ----------
    rows : tuple[Contribution, ...]
        What contributes [units of the inputs]
    correlation : tuple[tuple[float, ...], ...] | None
        Correlation coefficients, a row and a column for each contribution; None for none [-]

    Returns
    -------
    Budget
        Rows, combined standard uncertainty and degrees of freedom [unit of the result]

    Raises
    ------
    RangeError
        No rows, an uncertainty below zero, a sensitivity that is no number, degrees of freedom
        below 1, or a matrix that is no correlation matrix

    Notes
    -----
    Two stations on one reference share its error: written as correlation 1 it cancels in their
    ratio; left out, the ratio looks worse than it is. The other way round, one meter used for
    both readings of a sum makes it worse than it looks.

    Examples
    --------
    >>> both = (Contribution("first", 3.0), Contribution("second", 4.0))
    >>> combine(both).standard
    5.0
    >>> combine(both, ((1.0, 1.0), (1.0, 1.0))).standard
    7.0

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), equations 10 and 16; G.2b for degrees of freedom
    """
    if not rows:
        raise RangeError("No budget was made.", "It has no rows.", "Add what contributes.")
    for row in rows:
        checks.not_negative(row.standard, f"the uncertainty of {row.name}")
        checks.finite(row.sensitivity, f"the sensitivity to {row.name}")
        checks.positive(row.dof, f"the degrees of freedom of {row.name}", endless=True)
        checks.in_range(row.dof, 1.0, math.inf, f"the degrees of freedom of {row.name}")
    parts = [row.in_result for row in rows]
    variance = math.fsum(part**2 for part in parts)
    if correlation is None:
        standard = math.sqrt(variance)
        return Budget(rows, standard, effective_dof(rows, standard), False)
    _check_correlation(correlation, len(rows))
    pairs = [(i, j) for i, j in combinations(range(len(rows)), 2) if correlation[i][j] != 0.0]
    variance += math.fsum(2.0 * parts[i] * parts[j] * correlation[i][j] for i, j in pairs)
    # Full correlation can cancel everything; rounding must not make less than nothing of it.
    standard = math.sqrt(max(0.0, variance))
    dof = effective_dof(rows, standard) if not pairs else _dof_if_all_known(rows)
    return Budget(rows, standard, dof, bool(pairs))


def effective_dof(rows: tuple[Contribution, ...], combined: float) -> float:
    r"""Degrees of freedom of a combined uncertainty, after Welch and Satterthwaite.

    .. math:: \nu = \frac{u_c^4}{\sum_i (c_i u_i)^4 / \nu_i}

    Parameters
    ----------
    rows : tuple[Contribution, ...]
        What contributes, none correlated with another [units of the inputs]
    combined : float
        Combined standard uncertainty [unit of the result]

    Returns
    -------
    float
        Effective degrees of freedom, infinite where every row's are [-]

    Raises
    ------
    RangeError
        Combined uncertainty below zero

    Examples
    --------
    >>> effective_dof((Contribution("readings", 2.0, dof=9),), 2.0)
    9.0

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), equation G.2b
    """
    checks.not_negative(combined, "the combined uncertainty")
    weight = math.fsum(row.in_result**4 / row.dof for row in rows)
    return combined**4 / weight if weight > 0.0 else math.inf


def expanded_uncertainty(budget: Budget, probability: float = 0.95) -> float:
    r"""Half width of the interval that holds the true value with a probability.

    .. math:: U = t_p(\nu) \, u_c

    Parameters
    ----------
    budget : Budget
        Budget of :func:`combine` [unit of the result]
    probability : float
        Probability, such as 0.95 [-]

    Returns
    -------
    float
        Expanded uncertainty [unit of the result]

    Raises
    ------
    RangeError
        Probability outside of 0 to 0.9999, or correlated rows with few readings behind them, whose
        degrees of freedom are not defined

    Examples
    --------
    >>> round(expanded_uncertainty(combine((Contribution("limits", 1.0),))), 2)
    1.96

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), G.6.4
    """
    if math.isnan(budget.dof):
        raise RangeError(
            "The expanded uncertainty was not computed.",
            "Its rows are correlated and rest on few readings.",
            "State the combined standard uncertainty, or take more readings.",
        )
    return coverage_factor(probability, budget.dof) * budget.standard


def probability_outside(value: float, standard: float, low: float, high: float) -> float:
    r"""Probability that the true value lies outside of a band.

    .. math:: p = \Phi\left(\frac{a - y}{u}\right) + 1 - \Phi\left(\frac{b - y}{u}\right)

    Parameters
    ----------
    value : float
        Result, *y* [any unit]
    standard : float
        Its standard uncertainty, *u* [the same unit]
    low : float
        Lower end of the band; ``-math.inf`` for none [the same unit]
    high : float
        Upper end of the band; ``math.inf`` for none [the same unit]

    Returns
    -------
    float
        Probability, by the normal distribution [-]

    Raises
    ------
    RangeError
        Value no number, uncertainty below zero, or a band that is empty

    Notes
    -----
    Without uncertainty it is 0 or 1; the ends belong to the band. Whether a ratio of two stations
    may vanish or turn round is this question with one end at 1.

    Examples
    --------
    >>> round(probability_outside(50.0, 1.0, 48.04, 51.96), 3)
    0.05

    References
    ----------
    .. [1] Normal distribution; JCGM 106:2012, 7.2
    """
    checks.finite(value, "the result")
    checks.not_negative(standard, "the standard uncertainty")
    if not low < high:
        raise RangeError(
            "The probability was not computed.",
            f"The band from {low:.6g} to {high:.6g} is empty.",
            "Give its lower end first.",
        )
    if standard == 0.0:
        return 0.0 if low <= value <= high else 1.0
    scale = standard * math.sqrt(2.0)
    below = 0.5 * math.erfc((value - low) / scale)
    above = 0.5 * math.erfc((high - value) / scale)
    return below + above


def _dof_if_all_known(rows: tuple[Contribution, ...]) -> float:
    return math.inf if all(math.isinf(row.dof) for row in rows) else math.nan


def _check_correlation(matrix: Matrix, size: int) -> None:
    """Refuse what no set of quantities could have: it would make variances below zero."""
    if len(matrix) != size or any(len(row) != size for row in matrix):
        raise _no_correlation(f"It must have {size} rows and columns")
    for i, j in combinations(range(size), 2):
        if not (-1.0 <= matrix[i][j] <= 1.0 and matrix[i][j] == matrix[j][i]):
            raise _no_correlation("Its cells must lie within -1 to 1 and mirror each other")
    if any(matrix[i][i] != 1.0 for i in range(size)):
        raise _no_correlation("Each quantity has correlation 1 with itself")
    if not _is_positive(matrix):
        raise _no_correlation("No set of quantities is correlated like this")


def _is_positive(matrix: Matrix) -> bool:
    """Whether no combination of the quantities has a variance below zero (Cholesky)."""
    rest = [list(row) for row in matrix]
    for k in range(len(rest)):
        pivot = rest[k][k]
        if pivot < -1e-9:
            return False
        if pivot <= 1e-9:
            # Nothing is left of this quantity, so nothing may be left of its ties either.
            if any(abs(rest[i][k]) > 1e-6 for i in range(k + 1, len(rest))):
                return False
            continue
        for i in range(k + 1, len(rest)):
            share = rest[i][k] / pivot
            for j in range(k + 1, len(rest)):
                rest[i][j] -= share * rest[k][j]
    return True


def _no_correlation(why: str) -> RangeError:
    return RangeError(
        "The correlation was not used.", f"{why}.", "Correct the matrix of correlations."
    )
