"""One loader for the tables in this folder.

Each table is a CSV file whose first row names the columns. The columns ``source`` and ``status``
say where a row comes from and whether it was seen, or is from memory or common practice.
"""

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

Row = Mapping[str, str]
Table = tuple[Row, ...]


@cache
def load_table(name: str) -> Table:
    """The rows of one table, in its order.

    Parameters
    ----------
    name : str
        File name without ``.csv``.

    Raises
    ------
    FileNotFoundError
        There is no such table.
    """
    text = files("core.tables").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
