"""One reading over the buses, in a thread of its own, told drive by drive."""

from threading import Event
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from shiboken6 import isValid

from app.background import Job, run_in_background
from app.background import Progress as Steps
from core.model import Line
from core.readback import Links, Patience, Progress, read_drives


class BusReading(QObject):
    """Reads in the background; the window's thread only hears of it.

    Signals:
        progressed: A drive is about to be asked, or is done.
                    arg 0: the `core.readback.Progress`
        found: The reading is over, to its end or stopped; what was not reached says so.
               arg 0: the `PresentSettings`
        ended: Nothing more comes.
    """

    progressed = Signal(object)
    found = Signal(object)
    ended = Signal()

    _told = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stop = Event()
        self._job: Job | None = None
        self._told.connect(self._on_told, Qt.ConnectionType.QueuedConnection)

    @property
    def is_on(self) -> bool:
        """Whether a reading is under way."""
        return self._job is not None

    def start(self, line: Line, links: Links, patience: Patience) -> None:
        """Begin; nothing happens while a reading is under way."""
        if self._job is not None:
            return
        stop = self._stop = Event()

        def tell(progress: Progress) -> None:
            if isValid(self) and not stop.is_set():
                self._told.emit(progress)

        def work(_steps: Steps) -> Any:
            return read_drives(line, links, progress=tell, stop=stop, patience=patience)

        job = self._job = run_in_background(
            self, work, on_success=self.found.emit, on_failure=self._on_failed
        )
        job.ended.connect(self._on_ended)

    def stop(self) -> None:
        """Ask it to end; what was read until then is told by `found`."""
        self._stop.set()

    def drop(self) -> None:
        """End it, and tell nothing of what it read; nobody is there any more to hear it."""
        self._stop.set()
        if self._job is not None:
            self._job.cancel()

    def _on_told(self, progress: Progress) -> None:
        if self._job is not None and not self._stop.is_set():
            self.progressed.emit(progress)

    def _on_failed(self, error: Exception) -> None:
        # Every fault of a bus is the reason of a setting; what comes here is one of the program.
        raise error

    def _on_ended(self) -> None:
        self._job = None
        self.ended.emit()
