"""The one open line file as the window sees it: what it holds, what it gives, how it is changed."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from core.errors import LinebookError
from core.line import LineResults, compute_line
from core.model import Line
from core.store import Changes, LineFile

if TYPE_CHECKING:
    from core.line.findings import Findings

log = logging.getLogger("linebook")


class Session(QObject):
    """Holds the open file and its results, and runs every change the pages ask for.

    Signals:
        opened: A file was opened or closed; every page starts anew.
        changed: A step was stored and the results are computed again.
                 arg 0: the `Changes` of the step
        refused: A change, or anything else asked for, was refused; nothing was changed.
                 arg 0: the `LinebookError`
    """

    opened = Signal()
    changed = Signal(object)
    refused = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._book: LineFile | None = None
        self._results: LineResults | None = None
        self._findings: Findings | None = None
        self._judged: LineResults | None = None

    @property
    def book(self) -> LineFile:
        """The open file."""
        assert self._book is not None
        return self._book

    @property
    def is_open(self) -> bool:
        """Whether a file is open."""
        return self._book is not None

    @property
    def line(self) -> Line:
        """The graph of the open line."""
        return self.book.line

    @property
    def results(self) -> LineResults:
        """Everything computed from the line as it stands."""
        assert self._results is not None
        return self._results

    @property
    def findings(self) -> Findings:
        """Everything the rules say about the line as it stands; they look when it is asked for."""
        from core.line.findings import find

        if self._findings is None or self._judged is not self._results:
            self._findings = find(self.results, self._findings)
            self._judged = self._results
        return self._findings

    def open(self, path: Path) -> None:
        """Open a file instead of the present one; LinebookError leaves the present one open."""
        self.take(LineFile.open(path))

    def take(self, book: LineFile) -> None:
        """Make an opened file the present one and close the one before."""
        before = self._book
        self._book = book
        self._results = compute_line(book.line)
        self._findings = None
        book.listeners.append(self._hear)
        if before is not None:
            before.close()
        self.opened.emit()

    def close(self) -> None:
        """Close the present file."""
        if self._book is not None:
            self._book.close()
            self._book = self._results = self._findings = self._judged = None
            self.opened.emit()

    def do(self, action: Callable[..., Any], *args: Any, **values: Any) -> Any:
        """Run an action of `core.store.actions` on the open file.

        Returns what the action returns; None after a refusal, which `refused` has told.
        """
        try:
            return action(self.book, *args, **values)
        except LinebookError as error:
            log.info("refused: %s", error)
            self.refused.emit(error)
            return None

    def undo(self) -> None:
        """Take back the newest step."""
        self.do(LineFile.undo)

    def redo(self) -> None:
        """Do the newest undone step again."""
        self.do(LineFile.redo)

    def _hear(self, changes: Changes) -> None:
        self._results = compute_line(self.line, self._results)
        self.changed.emit(changes)
