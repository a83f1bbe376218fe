"""Where the cells of a clipboard table go in a grid."""

import re
from collections.abc import Iterable, Mapping, Sequence

from app.grid_columns import Column
from app.grid_edits import Place, heading_of, short_heading
from core.errors import InputError
from core.model import Line

Cells = Sequence[Sequence[str]]
Placed = dict[Place, Place]
"""Row and column in the grid to row and column in the table."""

_UNIT = re.compile(r"\s*\[[^\]]*\]\s*\Z")


def place_block(cells: Cells, at: Place, fill: Place, size: tuple[int | None, int]) -> Placed:
    """Place a table by its upper left corner.

    Parameters
    ----------
    cells : sequence of sequence of str
        The table
    at : tuple of int
        Row and column of the upper left cell
    fill : tuple of int
        Rows and columns selected; a table that divides them evenly is repeated over them
    size : tuple of int
        Rows (None: as many as it takes) and columns of the grid

    Raises
    ------
    InputError
        The table reaches beyond the grid.
    """
    high, wide = len(cells), len(cells[0])
    rows = fill[0] if fill[0] % high == 0 else high
    columns = fill[1] if fill[1] % wide == 0 else wide
    over_rows = 0 if size[0] is None else at[0] + rows - size[0]
    over_columns = at[1] + columns - size[1]
    told = [
        f"{count} {word}{'' if count == 1 else 's'}"
        for count, word in ((over_rows, "row"), (over_columns, "column"))
        if count > 0
    ]
    if told:
        raise InputError(
            "Nothing was pasted.",
            f"The table reaches {' and '.join(told)} beyond the grid.",
            "Make room first, or begin further up or to the left.",
        )
    return {
        (at[0] + row, at[1] + column): (row % high, column % wide)
        for row in range(rows)
        for column in range(columns)
    }


def has_headings(cells: Cells, key: str) -> bool:
    """Whether a table begins with headings: the heading of the rows' names is among them."""
    return len(cells) > 1 and key.casefold() in map(_plain, cells[0])


def place_by_headings(
    cells: Cells,
    line: Line,
    columns: Sequence[Column],
    key: str,
    names: Iterable[str],
    *,
    grows: bool,
) -> tuple[Placed, list[str]]:
    """Place a table by its headings and by the names of its rows.

    Parameters
    ----------
    cells : sequence of sequence of str
        The table; its first row are headings, with or without their unit
    line : Line
        The line
    columns : sequence of Column
        Columns of the grid
    key : str
        Heading of the column that names the rows
    names : iterable of str
        What the rows of the grid are called
    grows : bool
        Whether a row of another name is a new one; else it is a fault

    Returns
    -------
    tuple
        The places, and a fault for every heading and name that is not in the grid
    """
    faults: list[str] = []
    heads = _places_of_headings(columns, line)
    to_columns: dict[int, int] = {}
    for at, text in enumerate(cells[0]):
        if (found := heads.get(_plain(text))) is not None:
            to_columns[at] = found
        elif text.strip() and _plain(text) != key.casefold():
            faults.append(f"There is no column '{text.strip()}' here.")
    key_at = [_plain(text) for text in cells[0]].index(key.casefold())
    rows, unknown = _places_of_rows([row[key_at] for row in cells], list(names), grows=grows)
    faults += [f"There is no row '{name}' here." for name in unknown]
    placed = {
        (to_row, to_column): (from_row, from_column)
        for from_row, to_row in rows.items()
        for from_column, to_column in to_columns.items()
    }
    return placed, faults


def _places_of_headings(columns: Sequence[Column], line: Line) -> Mapping[str, int]:
    found: dict[str, int] = {}
    for at, column in enumerate(columns):
        for text in (heading_of(column, line), short_heading(column, line)):
            found.setdefault(_plain(text), at)
    return found


def _places_of_rows(
    keys: Sequence[str], names: Sequence[str], *, grows: bool
) -> tuple[dict[int, int], list[str]]:
    known = {name: at for at, name in enumerate(names)}
    rows: dict[int, int] = {}
    unknown: list[str] = []
    free = len(names)
    for at, key in enumerate(keys[1:], start=1):
        name = key.strip()
        if name in known:
            rows[at] = known[name]
        elif grows:
            rows[at], free = free, free + 1
        elif name:
            unknown.append(name)
    return rows, unknown


def _plain(heading: str) -> str:
    return " ".join(_UNIT.sub("", heading).split()).casefold()
