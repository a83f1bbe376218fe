"""Slow work off the window's thread, with success, failure, progress and a way to stop it."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal
from shiboken6 import isValid

from core.errors import LinebookError

Progress = Callable[[int, int], bool]
"""Told how much is done of how much; gives False when the work is to stop."""


@dataclass(frozen=True, slots=True)
class _Answers:
    """Who is told what; nobody any more once the owner is gone."""

    owner: QObject
    success: Callable[[Any], object]
    failure: Callable[[LinebookError], object]
    progress: Callable[[int, int], object] | None


class Job(QObject):
    """One piece of work on its way; `cancel` stops it.

    Signals:
        ended: The last word of every job, also of one that was stopped.
        _told: From the worker's thread to the window's.
               arg 0: how it ended ("success", "failure", "fault"), arg 1: with what
        _progressed: arg 0: how much is done, arg 1: of how much
    """

    ended = Signal()
    _told = Signal(str, object)
    _progressed = Signal(int, int)

    def __init__(self, answers: _Answers, finishes: bool = False) -> None:
        super().__init__()
        self.finishes = finishes
        self._answers = answers
        self._stop = threading.Event()
        # A method of this object, so that it runs in the thread this object lives in.
        self._told.connect(self._on_told, Qt.ConnectionType.QueuedConnection)
        self._progressed.connect(self._on_progressed, Qt.ConnectionType.QueuedConnection)

    def cancel(self) -> None:
        """Ask the work to stop; nothing more is told of it but `ended`."""
        self._stop.set()

    @property
    def is_cancelled(self) -> bool:
        """Whether it was asked to stop."""
        return self._stop.is_set()

    def run(self, work: Callable[[Progress], Any]) -> None:
        """Do the work; called in the worker's thread."""
        try:
            told = "success", work(self._report)
        except LinebookError as error:
            told = "failure", error
        except Exception as error:
            told = "fault", error
        if isValid(self):  # the program may have ended meanwhile
            self._told.emit(*told)

    def _report(self, done: int, of: int) -> bool:
        if self.is_cancelled or not isValid(self):
            return False
        self._progressed.emit(done, of)
        return True

    def _on_progressed(self, done: int, of: int) -> None:
        if self._is_heard and self._answers.progress is not None:
            self._answers.progress(done, of)

    def _on_told(self, how: str, result: Any) -> None:
        _running.discard(self)
        heard = self._is_heard
        self.ended.emit()
        if not heard:
            return
        if how == "fault":
            raise result  # a fault of the program: for its own dialog, in the window's thread
        if how == "success":
            self._answers.success(result)
        elif how == "failure":
            self._answers.failure(result)

    @property
    def _is_heard(self) -> bool:
        return not self.is_cancelled and isValid(self._answers.owner)


class _Run(QRunnable):
    def __init__(self, job: Job, work: Callable[[Progress], Any]) -> None:
        super().__init__()
        self._job, self._work = job, work

    def run(self) -> None:
        self._job.run(self._work)


_running: set[Job] = set()


def run_in_background(
    owner: QObject,
    work: Callable[[Progress], Any],
    *,
    on_success: Callable[[Any], object],
    on_failure: Callable[[LinebookError], object],
    on_progress: Callable[[int, int], object] | None = None,
    finishes: bool = False,
) -> Job:
    """Run a function off the window's thread.

    Parameters
    ----------
    owner : QObject
        Who asked; when it is gone nobody is told any more
    work : callable
        Takes a `Progress`; touches no widget and no open file, only what it was given. Once it
        was cancelled, nothing that it gives or raises is told
    on_success, on_failure, on_progress : callable
        Called in the window's thread
    finishes : bool
        Whether it writes what the user asked for: it is then waited for when the program ends

    Returns
    -------
    Job
        To cancel it; it is kept alive until it ended
    """
    job = Job(_Answers(owner, on_success, on_failure, on_progress), finishes)
    _running.add(job)
    QThreadPool.globalInstance().start(_Run(job, work))
    return job


def stop_all(within_ms: int = 5000, finishing_ms: int = 120_000) -> bool:
    """End all work before the window's thread is taken down.

    What writes a file that somebody asked for is waited for; all else is asked to stop.

    Returns
    -------
    bool
        Whether all of it ended in time
    """
    for job in tuple(_running):
        if not job.finishes:
            job.cancel()
    waits = finishing_ms if any(job.finishes for job in _running) else within_ms
    return QThreadPool.globalInstance().waitForDone(waits)
