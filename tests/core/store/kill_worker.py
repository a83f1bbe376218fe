"""Edits a line file without end until it is killed; what is acknowledged has to be in the file.

Run with a path it waits for a line of input, then says the id of the process to kill and the
number of each edit as soon as that is stored. Where the system can fork, it is a child that
edits and gets killed, so that nothing has to be imported anew; the parent says when the child
is dead.
"""

import os
import sys
from pathlib import Path

from core.store import LineFile
from core.store.actions import add_station, remove_station, set_fields


def edit_for_ever(path: Path) -> None:
    """Edit the file; tell the number of each stored edit."""
    with LineFile.open(path) as book:
        number = int(book.line.site or 0)
        while True:
            number += 1
            _one_edit(book, number)
            _tell(str(number))


def _one_edit(book: LineFile, number: int) -> None:
    # Most edits are small; some spill over many pages, which takes the journal longer.
    with book.step(f"Edit {number}") as step:
        step.set("line", book.line.id, site=str(number))
        if number % 5 == 0:
            for station in book.line.stations:
                step.set("station", station.id, notes=f"{number} " + "note " * 700)
    if number % 7 == 0 and len(book.line.stations) < 12:
        add_station(book)
    elif number % 11 == 0 and len(book.line.stations) > 6:
        remove_station(book, book.line.stations[0].id)
    elif number % 13 == 0:
        set_fields(book, "line", book.line.id, owner=f"Owner {number}")


def serve(path: Path) -> None:
    """Start an editor for every line of input."""
    for _ in sys.stdin:
        child = os.fork() if hasattr(os, "fork") else 0
        if child == 0:
            _tell(str(os.getpid()))
            edit_for_ever(path)
        os.waitpid(child, 0)
        _tell("dead")


def _tell(word: str) -> None:
    # Short writes to a pipe are never mixed, and none waits in a buffer that dies with us.
    os.write(1, f"{word}\n".encode())


if __name__ == "__main__":
    serve(Path(sys.argv[1]))
