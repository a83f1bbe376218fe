"""One open line file: its graph, its steps, its undo."""

import contextlib
import getpass
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from core.errors import LineFileError
from core.model import Line
from core.store import opening
from core.store.connection import make_engine
from core.store.faults import told
from core.store.reading import read_line, reread
from core.store.schema import FORMAT, HISTORY, ROOT
from core.store.steps import Change, Changes, Step, touched_by, write_history

SUFFIX = ".linebook"


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One field of one record, changed by one person at one time."""

    at: str
    person: str
    step: str
    table: str
    record_id: int
    place: str
    field: str
    old: str | None
    new: str | None


@dataclass(frozen=True, slots=True)
class _Done:
    name: str
    changes: tuple[Change, ...]


class LineFile:
    """One line file, open for writing by this program alone.

    ``line`` is the graph as it stands in the file. Every change goes through :meth:`step`; each
    finished step is on the disk, can be undone, and is told to every function in ``listeners``.
    """

    def __init__(self, path: Path, engine: sa.Engine, line: Line) -> None:
        self.path = path
        self.line = line
        self.person = _current_person()
        self.listeners: list[Callable[[Changes], None]] = []
        self._engine = engine
        self._undo: list[_Done] = []
        self._redo: list[_Done] = []
        self._in_step = False

    @classmethod
    def create(cls, path: Path, **values: Any) -> "LineFile":
        """Make a new file; ``values`` are fields of the line, such as ``unit_system``.

        Raises
        ------
        LineFileError
            The file is there already, or cannot be made.
        """
        what = f"{path.name} was not made."
        if path.exists():
            raise LineFileError(
                what, f"There is a file {path} already.", "Choose another name, or open that file."
            )
        if not path.parent.is_dir():
            raise LineFileError(
                what, f"There is no folder {path.parent}.", "Make the folder first."
            )
        partial = path.with_name(path.name + ".part")
        partial.unlink(missing_ok=True)
        try:
            with told(what):
                _make_empty(partial)
                os.replace(partial, path)
        finally:
            partial.unlink(missing_ok=True)
        made = cls.open(path)
        if values:
            with made.step("Name the line") as step:
                step.set(ROOT, made.line.id, **values)
            made.forget_steps()
        return made

    @classmethod
    def open(cls, path: Path) -> "LineFile":
        """Open a file for editing, upgrading an older format first (a backup stays beside it).

        Raises
        ------
        LineFileError
            It is no line file, damaged, newer, write-protected, or open in another Linebook.
        """
        what = f"{path.name} was not opened."
        opening.read_header(path)
        opening.check_writable(path)
        # The lock is tried first, so that a file in use elsewhere is not read for damage or
        # upgraded under the other program's hands.
        with told(what):
            _try_lock(path)
        opening.check_sound(path)
        opening.upgrade(path)
        engine = make_engine(path)
        try:
            with told(what), engine.begin() as conn:
                line = read_line(conn)
        except BaseException:
            engine.dispose()
            raise
        return cls(path, engine, line)

    @staticmethod
    def read(path: Path) -> Line:
        """The line of a file, without locking it and without writing a byte to it.

        A file of an older format is upgraded in a passing copy.

        Raises
        ------
        LineFileError
            It is no line file, damaged, newer, or open in another Linebook.
        """
        what = f"{path.name} was not read."
        header = opening.read_header(path)
        with told(what):
            _roll_back_leftover(path)
            if header.format != FORMAT:
                return _read_older(path)
            engine = make_engine(path, mode="ro")
            try:
                with engine.begin() as conn:
                    return read_line(conn)
            finally:
                engine.dispose()

    @contextlib.contextmanager
    def step(self, name: str) -> Iterator[Step]:
        """Run changes as one named step: all of them are stored, or none.

        Raises
        ------
        LineFileError
            The disk did not take the step; the file and the graph are as before.
        """
        with self._writing(name) as step:
            yield step
        if step.changes:
            self._undo.append(_Done(name, tuple(step.changes)))
            self._redo.clear()
            self._tell(step)

    @property
    def undo_name(self) -> str | None:
        """Name of the step that undo would take back."""
        return self._undo[-1].name if self._undo else None

    @property
    def redo_name(self) -> str | None:
        """Name of the step that redo would do again."""
        return self._redo[-1].name if self._redo else None

    def undo(self) -> None:
        """Take back the newest step; nothing happens when there is none."""
        if self._undo:
            done = self._undo[-1]
            back = [change.reversed() for change in reversed(done.changes)]
            self._replay(f"Undo: {done.name}", back)
            self._redo.append(self._undo.pop())

    def redo(self) -> None:
        """Do the newest undone step again; nothing happens when there is none."""
        if self._redo:
            done = self._redo[-1]
            self._replay(f"Redo: {done.name}", list(done.changes))
            self._undo.append(self._redo.pop())

    def forget_steps(self) -> None:
        """Start the undo list anew, as after opening."""
        self._undo.clear()
        self._redo.clear()

    def history(self, newest: int = 1000) -> list[HistoryRow]:
        """The newest changes, newest first."""
        with told(f"The history of {self.path.name} was not read."), self._engine.begin() as conn:
            columns = [column for column in HISTORY.c if column.name != "id"]
            found = conn.execute(
                sa.select(*columns).order_by(HISTORY.c.id.desc()).limit(newest)
            ).all()
        return [HistoryRow(*row) for row in found]

    def save_copy(self, target: Path) -> None:
        """Write a whole copy of the file as it stands, replacing nothing that is there.

        Raises
        ------
        LineFileError
            The target exists or cannot be written.
        """
        what = f"{target.name} was not written."
        if target.exists():
            raise LineFileError(what, f"There is a file {target} already.", "Choose another name.")
        partial = target.with_name(target.name + ".part")
        try:
            with told(what):
                partial.unlink(missing_ok=True)
                with self._engine.connect() as conn:
                    escaped = str(partial).replace("'", "''")
                    conn.connection.cursor().execute(f"VACUUM INTO '{escaped}'")
                opening.sync_file(partial)
                os.replace(partial, target)
        finally:
            with contextlib.suppress(OSError):
                partial.unlink(missing_ok=True)

    def close(self) -> None:
        """Close the file and free it for others."""
        self._engine.dispose()

    def __enter__(self) -> "LineFile":
        return self

    def __exit__(self, *_exc: object) -> None:
        self.close()

    @contextlib.contextmanager
    def _writing(self, name: str) -> Iterator[Step]:
        if self._in_step:
            raise RuntimeError(f"step '{name}' inside another step")
        self._in_step = True
        try:
            with told(f"'{name}' was not stored."), self._engine.begin() as conn:
                step = Step(conn, name)
                yield step
                if step.changes:
                    write_history(step, conn, self.person)
                    step.touched = touched_by(step)
                    line = reread(conn, self.line, step.touched)
            if step.changes:
                self.line = line
        finally:
            self._in_step = False

    def _replay(self, name: str, changes: list[Change]) -> None:
        with self._writing(name) as step:
            step.replay(changes)
        self._tell(step)

    def _tell(self, step: Step) -> None:
        touched = {table: frozenset(ids) for table, ids in step.touched.items()}
        tables = frozenset(change.table for change in step.changes)
        told_of = Changes(step.name, tables, touched)
        for listener in list(self.listeners):
            listener(told_of)


def _make_empty(path: Path) -> None:
    from core.store.migrating import run_migrations

    run_migrations(path)
    engine = make_engine(path)
    try:
        with engine.begin() as conn:
            Step(conn, "Make the file").add(ROOT)
    finally:
        engine.dispose()


def _try_lock(path: Path) -> None:
    engine = make_engine(path)
    try:
        with engine.begin():
            pass
    finally:
        engine.dispose()


def _roll_back_leftover(path: Path) -> None:
    # A reader may not roll back what a killed writer left half done; a writer does by looking.
    if path.with_name(path.name + "-journal").exists():
        _try_lock(path)


def _read_older(path: Path) -> Line:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / path.name
        opening.copy_whole(path, copy)
        opening.upgrade(copy)
        return LineFile.read(copy)


def _current_person() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "unknown"
