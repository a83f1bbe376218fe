"""Rectangles of cells as text, the way spreadsheets put them on the clipboard."""

import re
from collections.abc import Iterable, Sequence

from core.errors import InputError

LONGEST = 2_000_000
# A cell in quotes may hold tabs, line ends and doubled quotes; any other quote is a plain sign.
_CELL = re.compile(r'"([^"]*(?:""[^"]*)*)"(?=[\t\r\n]|\Z)|([^\t\r\n]*)')
_PARTING = re.compile(r"\t|\r\n|\r|\n")
# A spreadsheet would run a text that begins so; an apostrophe before it makes it text again.
_RUNS = re.compile(r"[=+\-@](?![\d.,]*\Z)")
_GUARDED = re.compile(r"'+[=+\-@]")


def parse_table(text: str) -> list[list[str]]:
    """Part a clipboard text into rows of cells, all of one width.

    Parameters
    ----------
    text : str
        Cells parted by tabs, rows by any line end; one line end may close the last row

    Returns
    -------
    list of list of str
        The cells; short rows are filled up with empty ones

    Raises
    ------
    InputError
        Nothing is there, or far too much.

    Examples
    --------
    >>> parse_table('A01\\t"two\\nlines"\\r\\nA02\\r\\n')
    [['A01', 'two\\nlines'], ['A02', '']]
    """
    if len(text) > LONGEST:
        raise InputError("Nothing was pasted.", "The clipboard holds too much.", "Copy less.")
    if not text:
        raise InputError(
            "Nothing was pasted.", "The clipboard holds no text.", "Copy some cells first."
        )
    rows: list[list[str]] = [[]]
    place = 0
    while True:
        found = _CELL.match(text, place)
        assert found is not None  # the second form matches anything, even nothing
        quoted = found[1]
        rows[-1].append(_unguarded(found[2] if quoted is None else quoted.replace('""', '"')))
        parting = _PARTING.match(text, found.end())
        if parting is None:
            break
        place = parting.end()
        if parting[0] != "\t":
            if place == len(text):
                break
            rows.append([])
    width = max(map(len, rows))
    return [row + [""] * (width - len(row)) for row in rows]


def write_table(rows: Iterable[Sequence[str]]) -> str:
    """Rows of cells as one clipboard text.

    A text that a spreadsheet would take for a formula gets an apostrophe, which `parse_table`
    takes off again.

    Examples
    --------
    >>> write_table([["A01", "-3"], ["=SUM(A1)", "5 in"]])
    "A01\\t-3\\r\\n'=SUM(A1)\\t5 in\\r\\n"
    """
    return "".join("\t".join(map(_written, row)) + "\r\n" for row in rows)


def _written(cell: str) -> str:
    guarded = f"'{cell}" if _RUNS.match(cell) or _GUARDED.match(cell) else cell
    if any(sign in guarded for sign in '\t\r\n"'):
        return '"' + guarded.replace('"', '""') + '"'
    return guarded


def _unguarded(cell: str) -> str:
    return cell[1:] if _GUARDED.match(cell) else cell
