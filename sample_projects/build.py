"""Build the sample lines from their tables: ``python -m sample_projects.build``.

The tables are those of the spreadsheet template, one CSV file for each sheet, and go through the
same import. One thing is written more shortly than there: in the sheets that belong to a drive
type, the name of the type may be a pattern (``*``, ``230 V *``), since the drives of one family
share their terminals, reference inputs and list of settings.
"""

import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from fnmatch import fnmatchcase
from pathlib import Path

from core.errors import LinebookError
from core.exchange import Table, apply_import, plan_import, read_tables
from core.exchange.reading import Cell
from core.store import SUFFIX, LineFile

HERE = Path(__file__).parent
TABLES = HERE / "tables"
_OF_A_DRIVE_TYPE = ("Terminals", "Reference inputs", "Listed settings")


def build_all(target: Path = HERE) -> list[Path]:
    """Build every sample into a folder, replacing those that are there; gives their paths."""
    return [build(folder, target) for folder in sorted(TABLES.iterdir()) if folder.is_dir()]


def build(tables: Path, target: Path) -> Path:
    """Build one sample.

    Parameters
    ----------
    tables : Path
        Folder of CSV files, named as the sample will be
    target : Path
        Folder of the line file

    Returns
    -------
    Path
        The line file

    Raises
    ------
    ImportRefusedError
        A table has a fault; all of them are listed. A sample that is there stays as it is.
    """
    path = target / f"{tables.name}{SUFFIX}"
    with tempfile.TemporaryDirectory(dir=target) as passing:
        fresh = Path(passing) / path.name
        with LineFile.create(fresh) as book:
            apply_import(book, plan_import(book.line, spread(read_tables(tables))))
        _forget_building(fresh)
        fresh.replace(path)
    return path


def spread(tables: tuple[Table, ...]) -> list[Table]:
    """Write each row of a family of drive types out for every type that its pattern fits."""
    types = next((table for table in tables if table.title == "Drive types"), None)
    names = [str(cells[0]) for _, cells in types.rows[1:]] if types else []
    return [
        replace(table, rows=(table.rows[0], *_written_out(table, names)))
        if table.title in _OF_A_DRIVE_TYPE
        else table
        for table in tables
    ]


def _written_out(table: Table, names: list[str]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    for number, (pattern, *cells) in table.rows[1:]:
        # A pattern that fits nothing is left as it is, for the import to refuse by row and column.
        fitting = [name for name in names if fnmatchcase(name, str(pattern))]
        for name in fitting or [str(pattern)]:
            yield number, (name, *cells)


def _forget_building(path: Path) -> None:
    """Take out when and by whom the sample was built, so that building it again changes nothing."""
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("DELETE FROM history")
        raw.commit()
        raw.execute("VACUUM")


def main() -> int:
    """Build the samples and tell where they are; 2 if a table was refused."""
    try:
        for path in build_all():
            print(path)
    except LinebookError as fault:
        print(fault, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
