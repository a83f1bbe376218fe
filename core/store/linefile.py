"""One open line file: its graph, its steps, its undo."""

import contextlib
import getpass
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from core.errors import InputError, LineFileError
from core.model import Line
from core.store import files, opening
from core.store.connection import make_engine
from core.store.faults import told, told_unfit
from core.store.frozen import FrozenRecord, read_frozen, write_frozen
from core.store.history import HistoryRow, read_history, tops_of, touched_by, write_history
from core.store.looking import looking, roll_back_leftover, try_lock
from core.store.photos import (
    Fault,
    read_content,
    read_contents,
    read_faults,
    tidy,
)
from core.store.reading import read_line, reread
from core.store.schema import FORMAT, ROOT
from core.store.steps import Change, Changes, Step
from core.store.writing import fill_file

SUFFIX = ".linebook"
FIRST_WITH_FROZEN = 4
"""The first file format that can hold frozen records."""
FIRST_WITH_PHOTOS = 5
"""The first file format that can hold photographs."""


@dataclass(frozen=True, slots=True)
class _Done:
    name: str
    changes: tuple[Change, ...]


class LineFile:
    """One line file, open for writing by this program alone.

    ``line`` is the graph as it stands in the file. Every change goes through :meth:`step`; each
    finished step is on the disk, can be undone, and is told to every function in ``listeners``.

    While it is open, nothing else in this program may open the file, not even to copy its bytes:
    on POSIX systems that would free the lock. `save_copy` and `line` give what is needed.
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
        self._is_closed = False

    @classmethod
    def create(cls, path: Path, **values: Any) -> "LineFile":
        """Make a new file; ``values`` are fields of the line, such as ``unit_system``.

        Raises
        ------
        InputError
            A value was refused; no file is made.
        LineFileError
            The file is there already, or cannot be made.
        """
        what = f"{path.name} was not made."
        with told(what):
            if path.exists():
                fix = "Choose another name, or open that file."
                raise LineFileError(what, f"There is a file {path} already.", fix)
            opening.check_folder(path.parent, what)
            with files.aside(path) as partial:
                _make_new(partial, values)
        return cls.open(path)

    @classmethod
    def create_from(
        cls, path: Path, line: Line, photos: Mapping[str, bytes] | None = None
    ) -> "LineFile":
        """Make a file that holds a line as it is, such as that of a frozen record, and open it.

        Parameters
        ----------
        path : pathlib.Path
            The file to make.
        line : Line
            What it holds.
        photos : mapping, optional
            The bytes of its photographs by their digest.

        Raises
        ------
        LineFileError
            The file exists or cannot be written, or what the line holds does not go together; no
            file is made then.
        """
        cls.create(path, name=line.name).close()
        what = f"{path.name} was not written."
        try:
            with told(what), told_unfit(what):
                fill_file(path, line, photos or {})
        except BaseException:
            path.unlink(missing_ok=True)
            files.journal_of(path).unlink(missing_ok=True)
            raise
        return cls.open(path)

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
            try_lock(path)
        opening.check_sound(path)
        opening.upgrade(path)
        engine = make_engine(path)
        try:
            with told(what), engine.begin() as conn:
                line = read_line(conn)
            tidy(engine)
        except BaseException:
            engine.dispose()
            raise
        book = cls(path, engine, line)
        opening.HELD[files.file_id(path)] = book
        return book

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
            roll_back_leftover(path)
            opening.check_sound(path)
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
            step = self._replay(f"Undo: {done.name}", back)
            self._redo.append(self._undo.pop())
            self._tell(step)

    def redo(self) -> None:
        """Do the newest undone step again; nothing happens when there is none."""
        if self._redo:
            done = self._redo[-1]
            step = self._replay(f"Redo: {done.name}", list(done.changes))
            self._undo.append(self._redo.pop())
            self._tell(step)

    @property
    def done(self) -> tuple[Change, ...]:
        """Every change since the opening that stands, in order; what was undone is not in it."""
        return tuple(change for done in self._undo for change in done.changes)

    def repeat(
        self, name: str, changes: Iterable[Change], photos: Mapping[str, bytes] | None = None
    ) -> None:
        """Make changes of a copy of this file here too, as one named step.

        Parameters
        ----------
        name : str
            Name of the step.
        changes : iterable of Change
            As they were made in the copy.
        photos : mapping, optional
            The bytes of the photographs that came in the copy, by their digest.

        Raises
        ------
        InputError
            The file does not stand as it did when the copy was taken; nothing is changed.
        LineFileError
            The disk did not take the step; the file and the graph are as before.
        """
        with self.step(name) as step:
            for change in changes:
                _check_still(step, change)
                step.replay([change])
            for content in (photos or {}).values():
                step.keep_photo(content)

    def forget_steps(self) -> None:
        """Start the undo list anew, as after opening."""
        self._undo.clear()
        self._redo.clear()

    def history(self, newest: int = 1000) -> list[HistoryRow]:
        """The newest changes, newest first."""
        with told(f"The history of {self.path.name} was not read."), self._live.begin() as conn:
            return read_history(conn, newest)

    def frozen(self) -> tuple[FrozenRecord, ...]:
        """Every frozen record of the file, the oldest first."""
        with told(f"The records of {self.path.name} were not read."), self._live.begin() as conn:
            return read_frozen(conn)

    def freeze(self, kind: str, person: str, reason: str, content: str) -> FrozenRecord:
        """Keep a record of the line for good; it is no step, and no undo takes it back.

        Raises
        ------
        InputError
            The kind is unknown, or person or reason are missing.
        LineFileError
            The disk did not take it.
        """
        with told("The record was not frozen."), self._live.begin() as conn:
            return write_frozen(conn, kind, person, reason, content)

    def photo(self, digest: str) -> bytes:
        """The bytes of a photograph, a JPEG, by their digest.

        Raises
        ------
        LineFileError
            They are missing, or were altered outside the program.
        """
        with told("The photograph was not read."), self._live.begin() as conn:
            return read_content(conn, digest)

    def photos(self, digests: Iterable[str]) -> dict[str, bytes]:
        """The bytes of photographs by their digests; what is missing or altered is left out."""
        with told("The photographs were not read."), self._live.begin() as conn:
            return read_contents(conn, digests)

    def photo_faults(self) -> dict[str, Fault]:
        """Photographs of the line or of a record that are missing or altered, by digest."""
        with told("The photographs were not read."), self._live.begin() as conn:
            return read_faults(conn)

    @staticmethod
    def read_frozen(path: Path) -> tuple[FrozenRecord, ...]:
        """The frozen records of a file that is not opened, as `read` gives its line."""
        what = f"The records of {path.name} were not read."
        with looking(path, what, FIRST_WITH_FROZEN) as conn:
            return read_frozen(conn) if conn is not None else ()

    @staticmethod
    def read_history(path: Path, newest: int = 100_000) -> list[HistoryRow]:
        """The newest changes of a file that is not opened, newest first.

        None of a file of an older format, which `read` upgrades in a passing copy only.
        """
        with looking(path, f"The history of {path.name} was not read.", FORMAT) as conn:
            return read_history(conn, newest) if conn is not None else []

    @staticmethod
    def read_photos(path: Path, digests: Iterable[str]) -> dict[str, bytes]:
        """The bytes of photographs of a file that is not opened, as `photos` gives them."""
        what = f"The photographs of {path.name} were not read."
        with looking(path, what, FIRST_WITH_PHOTOS) as conn:
            return read_contents(conn, digests) if conn is not None else {}

    @staticmethod
    def read_photo_faults(path: Path) -> dict[str, Fault]:
        """Photographs of a file that is not opened which are missing or altered, by digest."""
        what = f"The photographs of {path.name} were not read."
        with looking(path, what, FIRST_WITH_PHOTOS) as conn:
            return read_faults(conn) if conn is not None else {}

    def save_copy(self, target: Path) -> None:
        """Write a whole copy of the file as it stands, replacing nothing that is there.

        Raises
        ------
        LineFileError
            The target exists or cannot be written.
        """
        what = f"{target.name} was not written."
        with told(what):
            if target.exists():
                fix = "Choose another name."
                raise LineFileError(what, f"There is a file {target} already.", fix)
            opening.check_folder(target.parent, what)
            with files.aside(target) as partial, self._live.connect() as conn:
                # Not through SQLAlchemy, which would begin a transaction: VACUUM refuses to run
                # in one.
                conn.connection.cursor().execute("VACUUM INTO ?", (str(partial.resolve()),))

    @property
    def _live(self) -> sa.Engine:
        # A closed engine would open the file anew, unasked.
        if self._is_closed:
            raise RuntimeError(f"{self.path.name} is closed")
        return self._engine

    def close(self) -> None:
        """Close the file and free it for others; nothing can be done with it from then on."""
        if not self._is_closed:
            tidy(self._engine)
        self._engine.dispose()
        self._is_closed = True
        for held_id in [key for key, book in opening.HELD.items() if book is self]:
            del opening.HELD[held_id]

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
            with told(f"'{name}' was not stored."), self._live.begin() as conn:
                step = Step(conn, name)
                yield step
                if step.changes:
                    tops = tops_of(step)
                    write_history(step, conn, self.person, tops)
                    step.touched = touched_by(tops)
                    line = reread(conn, self.line, step.touched)
            if step.changes:
                self.line = line
        finally:
            self._in_step = False

    def _replay(self, name: str, changes: list[Change]) -> Step:
        with self._writing(name) as step:
            step.replay(changes)
        return step

    def _tell(self, step: Step) -> None:
        touched = {table: frozenset(ids) for table, ids in step.touched.items()}
        tables = frozenset(change.table for change in step.changes)
        told_of = Changes(step.name, tables, touched)
        for listener in list(self.listeners):
            listener(told_of)


def _make_new(path: Path, values: dict[str, Any]) -> None:
    from core.store.migrating import run_migrations

    run_migrations(path)
    engine = make_engine(path)
    try:
        with engine.begin() as conn:
            step = Step(conn, "Make the file")
            step.add(ROOT, **values)
            write_history(step, conn, _current_person(), tops_of(step))
    finally:
        engine.dispose()


def _check_still(step: Step, change: Change) -> None:
    if change.before is None:
        return
    here = step.row(change.table, change.record_id)
    if any(here[name] != value for name, value in change.before.items()):
        raise InputError(
            f"'{step.name}' was not stored.",
            f"{step.place(change.table, change.record_id)} has changed since the copy was taken.",
            "Make the changes anew.",
        )


def _read_older(path: Path) -> Line:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / path.name
        files.copy_whole(path, copy)
        opening.upgrade(copy)
        return LineFile.read(copy)


def _current_person() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "unknown"
