"""Published tables in typed form, and how a value finds its row.

Each row keeps where it comes from, so that a result can say which of its figures were not seen in
a copy of the standard.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from core.calc import checks
from core.errors import RangeError
from core.tables import load_table

__all__ = ["Row", "chosen", "first_reaching", "remembered", "rows"]

ZERO_C_K = 273.15

# A limit that is met exactly must be met after a round trip through other units too.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table: its numbers and its words by column; an empty cell is in neither."""

    numbers: Mapping[str, float]
    words: Mapping[str, str]
    source: str
    status: str


@cache
def rows(name: str) -> tuple[Row, ...]:
    """The rows of a table with their numbers parsed, once for each table.

    Parameters
    ----------
    name : str
        File name in core/tables without ``.csv`` [-]

    Returns
    -------
    tuple[Row, ...]
        Rows in the order of the file [-]

    Raises
    ------
    FileNotFoundError
        There is no such table

    Examples
    --------
    >>> rows("nec_310_16")[0].words["size"], rows("nec_310_16")[0].numbers["c75_a"]
    ('14 AWG', 20.0)

    References
    ----------
    .. [1] None: how our own files are read
    """
    return tuple(_typed(row) for row in load_table(name))


def first_reaching(
    table: tuple[Row, ...], column: str, value: float, name: str, unit: str = ""
) -> Row:
    """The first row whose number is not below a value.

    Parameters
    ----------
    table : tuple[core.calc.lookups.Row, ...]
        Rows with a rising column; one with an empty cell has no upper end [-]
    column : str
        Name of the rising column [-]
    value : float
        Value that has to be reached [unit of the column]
    name : str
        What it is, with its article, for the message [-]
    unit : str
        Unit of the column, for the message [-]

    Returns
    -------
    Row
        The row found [-]

    Raises
    ------
    RangeError
        The value is NaN or lies beyond the last row

    Examples
    --------
    >>> first_reaching(rows("nec_250_122"), "device_max_a", 25.0, "the device").words["size"]
    '10 AWG'

    References
    ----------
    .. [1] Common practice: between two rows of a table of limits the safer one counts
    """
    checks.finite(value, name, unit)
    for row in table:
        if column not in row.numbers or value <= row.numbers[column] * (1.0 + _SLACK):
            return row
    end = max((row.numbers[column] for row in table), default=0.0)
    raise RangeError(
        f"{name[:1].upper()}{name[1:]} was not used.",
        f"It is {value:.6g} {unit}".rstrip()
        + f"; the table ends at {end:.6g} {unit}".rstrip()
        + ".",
        "Correct this value, or have the case designed outside of this program.",
    )


def chosen(value: str, allowed: tuple[str, ...], name: str) -> None:
    """Refuse a word that is not among those a table knows.

    Parameters
    ----------
    value : str
        Word to be checked [-]
    allowed : tuple[str, ...]
        Words that pass [-]
    name : str
        What it is, with its article, for the message [-]

    Returns
    -------
    None
        The word passed

    Raises
    ------
    RangeError
        The word is not among them

    Examples
    --------
    >>> chosen("fuse", ("breaker", "fuse"), "the device")

    References
    ----------
    .. [1] None: a guard
    """
    if value not in allowed:
        raise RangeError(
            f"{name[:1].upper()}{name[1:]} was not used.",
            f"It is {value!r}; one of {', '.join(allowed)} is needed.",
            "Choose one of these.",
        )


def remembered(*used: Row) -> tuple[str, ...]:
    """Which of the rows that a result rests on were not seen in a copy of their standard.

    Parameters
    ----------
    used : core.calc.lookups.Row
        Rows the result rests on [-]

    Returns
    -------
    tuple[str, ...]
        A remark for each such source, without repeats [-]

    Raises
    ------
    Nothing
        Every row has a source and a status

    Examples
    --------
    >>> remembered(*rows("nec_310_16"))
    ()
    >>> remembered(*rows("iec_60364_5_54"))
    ()

    References
    ----------
    .. [1] None: how our own files are read
    """
    from_memory = dict.fromkeys(row.source for row in used if row.status == "from memory")
    return tuple(f"{source}: from memory, check before use." for source in from_memory)


def _shown(value: float, unit: str) -> str:
    return f"{value:.6g} {unit}".rstrip()


def _typed(row: Mapping[str, str]) -> Row:
    cells = {name: text for name, text in row.items() if text}
    numbers = {name: float(text) for name, text in cells.items() if _is_number(text)}
    words = {name: text for name, text in cells.items() if name not in numbers}
    return Row(numbers, words, row["source"], row["status"])


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
