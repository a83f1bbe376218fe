"""The one open line file as the window sees it: what it holds, what it gives, how it is changed."""

from __future__ import annotations

import logging
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from core.errors import InputError, LinebookError
from core.line import LineResults, compute_line
from core.model import Line
from core.store import Changes, FrozenRecord, LineFile

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
        frozen: The line was frozen as a record.
                arg 0: the `FrozenRecord`
    """

    opened = Signal()
    changed = Signal(object)
    refused = Signal(object)
    frozen = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._book: LineFile | None = None
        self._results: LineResults | None = None
        self._findings: Findings | None = None
        self._judged: LineResults | None = None
        self._file: tuple[LineFile, LineResults] | None = None
        self.record_name = ""
        """Name of the frozen record that is shown, while one is."""
        self.record_digest = ""
        """Its SHA-256."""

    @property
    def is_trial(self) -> bool:
        """Whether changes go to a private copy, so that the line file is not touched."""
        return self._file is not None

    @property
    def can_take_over(self) -> bool:
        """Whether what is changed here can be made in the file too: in a trial, not a record."""
        return self.is_trial and not self.record_name

    @property
    def results_of_file(self) -> LineResults | None:
        """In a trial, what the line file itself gives."""
        return self._file[1] if self._file is not None else None

    @property
    def book(self) -> LineFile:
        """The open file."""
        assert self._book is not None
        return self._book

    @property
    def file_path(self) -> Path:
        """Path of the line file, in a trial too."""
        return self._file[0].path if self._file is not None else self.book.path

    @property
    def file_book(self) -> LineFile:
        """The line file itself, also while something else is shown in its place."""
        return self._file[0] if self._file is not None else self.book

    @property
    def is_record_changed(self) -> bool:
        """Whether something was typed into the private copy of the record that is shown."""
        return bool(self.record_name and self.book.done)

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
        self._drop_trial()
        before = self._book
        self._show(book)
        if before is not None:
            before.close()

    def begin_trial(self) -> None:
        """Go on with a private copy of the file; the file itself stays open and as it is."""
        book = self.book

        def copied(path: Path) -> LineFile:
            book.save_copy(path)
            return LineFile.open(path)

        self._go_aside(copied, "")

    def show_record(self, line: Line, name: str, digest: str = "") -> None:
        """Show the line of a frozen record on every page; the record itself never changes.

        It is a private copy as in a trial, so that nothing typed can reach file or record. The
        photographs that the record names come along from the file.
        """
        book = self.book

        def made(path: Path) -> LineFile:
            return LineFile.create_from(path, line, book.photos(line.photo_digests))

        self._go_aside(made, name, digest)

    def freeze(self, kind: str, person: str, reason: str) -> FrozenRecord:
        """Freeze the line as it stands in the file.

        Raises
        ------
        LinebookError
            A trial or a record is shown in its place, person or reason are missing, or the disk
            did not take it.
        """
        from core.records.keeping import freeze

        if self._file is not None:
            shown = self.record_name or "A trial"
            raise InputError(
                "The record was not frozen.",
                f"{shown} is shown in the place of the line file.",
                "Go back to the file first.",
            )
        made = freeze(self.book, self.line, kind, person, reason)
        self.frozen.emit(made)
        return made

    def _go_aside(self, make: Callable[[Path], LineFile], name: str, digest: str = "") -> None:
        if self._file is not None or self._book is None:
            return
        folder = Path(tempfile.mkdtemp(prefix="linebook-trial-"))
        try:
            aside = make(folder / self._book.path.name)
        except LinebookError as error:
            shutil.rmtree(folder, ignore_errors=True)
            self.refused.emit(error)
            return
        self._file = (self._book, self.results)
        self.record_name, self.record_digest = name, digest
        self._show(aside)

    def end_trial(self, keep: Path | None = None) -> bool:
        """Go back to the file; with ``keep`` the trial is first saved as a file of its own.

        Gives False after a refusal, which `refused` has told; the trial goes on then.
        """
        if self._file is None:
            return True
        if keep is not None:
            try:
                self.book.save_copy(keep)
            except LinebookError as error:
                self.refused.emit(error)
                return False
        self._drop_trial()
        self._show(self.book)
        return True

    def take_over_trial(self) -> bool:
        """Make every change of the trial in the file too, as one step, and go back to the file.

        Gives False after a refusal, which `refused` has told, and where no trial is on; what is
        tried goes on then.
        """
        from core.store.condensing import condensed

        if not self.can_take_over or self._file is None:
            return False
        file, changes = self._file[0], condensed(self.book.done)
        # Nobody is told before the file is the present one again.
        file.listeners.remove(self._hear)
        try:
            photos = self.book.photos(self.line.photo_digests - file.line.photo_digests)
            file.repeat("Take over the trial", changes, photos)
        except LinebookError as error:
            file.listeners.append(self._hear)
            self.refused.emit(error)
            return False
        self._drop_trial()
        self._show(file)
        return True

    def _drop_trial(self) -> None:
        """Lose a trial, if there is one; the file is the present one again."""
        if self._file is not None and self._book is not None:
            trial, self._book = self._book, self._file[0]
            self._file, self.record_name, self.record_digest = None, "", ""
            trial.close()
            shutil.rmtree(trial.path.parent, ignore_errors=True)

    def _show(self, book: LineFile) -> None:
        self._book = book
        self._results = compute_line(book.line)
        self._findings = None
        if self._hear not in book.listeners:
            book.listeners.append(self._hear)
        self.opened.emit()

    def close(self) -> None:
        """Close the present file; a trial is lost."""
        self._drop_trial()
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
