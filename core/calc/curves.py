"""Straight lines between the points of a table."""

from bisect import bisect_left
from functools import cache
from itertools import pairwise

from core.calc import checks
from core.errors import RangeError
from core.tables import load_table

__all__ = ["Points", "at", "check_points", "table_points"]

Points = tuple[tuple[float, float], ...]


def check_points(points: Points, name: str) -> None:
    """Refuse points that make no curve.

    Parameters
    ----------
    points : tuple[tuple[float, float], ...]
        Argument and value of each point, arguments rising [any two units]
    name : str
        What the curve is, with its article, for the message [-]

    Returns
    -------
    None
        The points passed

    Raises
    ------
    RangeError
        Fewer than two points, a point that is no number, or arguments that do not rise

    Examples
    --------
    >>> check_points(((0.0, 1.0), (5.0, 0.75)), "the curve")

    References
    ----------
    .. [1] Definition of a function by its points
    """
    for point in points:
        for value in point:
            checks.finite(value, f"a point of {name}")
    if len(points) < 2 or any(left[0] >= right[0] for left, right in pairwise(points)):
        raise RangeError(
            f"{name[:1].upper()}{name[1:]} was not used.",
            "A curve needs two points or more, from left to right.",
            "Correct its points.",
        )


def at(points: Points, argument: float) -> float:
    r"""Value of a curve between two of its points.

    .. math:: y = y_1 + (y_2 - y_1) \frac{x - x_1}{x_2 - x_1}

    Parameters
    ----------
    points : tuple[tuple[float, float], ...]
        Argument and value of each point, arguments rising [any two units]
    argument : float
        Where the value is wanted [unit of the arguments]

    Returns
    -------
    float
        Value there [unit of the values]

    Raises
    ------
    RangeError
        The points make no curve, or the argument lies outside of them: nothing is extrapolated

    Examples
    --------
    >>> at(((0.0, 1.0), (0.05, 0.75)), 0.025)
    0.875

    References
    ----------
    .. [1] Linear interpolation
    """
    check_points(points, "the curve")
    checks.in_range(argument, points[0][0], points[-1][0], "the place on the curve")
    right = max(1, bisect_left(points, argument, key=lambda point: point[0]))
    (x_low, y_low), (x_high, y_high) = points[right - 1], points[right]
    share = (argument - x_low) / (x_high - x_low)
    return (1.0 - share) * y_low + share * y_high


@cache
def table_points(table: str, argument: str, value: str) -> Points:
    """Two columns of a published table as the points of a curve, read once.

    Parameters
    ----------
    table : str
        File name in core/tables without ``.csv`` [-]
    argument : str
        Column of the arguments, rising [-]
    value : str
        Column of the values [-]

    Returns
    -------
    tuple[tuple[float, float], ...]
        Argument and value of each row [units of the two columns]

    Raises
    ------
    FileNotFoundError
        There is no such table

    Examples
    --------
    >>> table_points("voltage_unbalance_derating", "percent", "factor")[-1]
    (5.0, 0.75)

    References
    ----------
    .. [1] Each table names its source in every row
    """
    return tuple((float(row[argument]), float(row[value])) for row in load_table(table))
