"""The difference sheet of a comparison: shown as it goes on paper, saved as PDF or spreadsheet."""

import datetime
import io
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.background import Job, Progress, run_in_background
from app.compare_work import Compared, Side
from app.page_view import PageView
from core.errors import LinebookError


class DifferenceSheet(QWidget):
    """Builds the sheet when it is in sight or to be saved, off the window's thread.

    Signals:
        told: What is going on, or went on.
              arg 0: words, empty when there is nothing to tell
        failed: It was not built or not saved.
                arg 0: the `LinebookError`
    """

    told = Signal(str)
    failed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pdf = b""
        self._found: Compared | None = None
        self._language: str | None = None
        self._job: Job | None = None
        self.view = PageView()
        self.view.setAccessibleName("Pages of the difference sheet")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.view)

    def show_compared(self, found: Compared | None, language: str | None = None) -> None:
        """Forget what was built, and build the new one if it is in sight.

        ``language`` is that of the sheet; without it that of the line that is compared with.
        """
        if self._job is not None:
            self._job.cancel()
            self._job = None
        self._found, self._language, self.pdf = found, language, b""
        self.view.show_pdf(None)
        if self.isVisible():
            self._build()

    def showEvent(self, event: QShowEvent) -> None:
        """Build it now that it is looked at."""
        super().showEvent(event)
        if not self.pdf:
            self._build()

    def save(self, path: Path) -> None:
        """Write the sheet; what kind it is follows from the end of the name."""
        found, language = self._found, self._language
        if found is None:
            return

        def write(progress: Progress) -> Path:
            from core.sheets import write_pdf, write_xlsx

            put = write_pdf if path.suffix.lower() == ".pdf" else write_xlsx
            put(document_of(found, language), path, progress)
            return path

        self.told.emit("Writing …")
        run_in_background(
            self,
            write,
            on_success=lambda written: self.told.emit(f"Saved {written.name}"),
            on_failure=self._on_failure,
            finishes=True,
        )

    def _build(self) -> None:
        found, language = self._found, self._language
        if found is None or self._job is not None:
            return

        def build(progress: Progress) -> bytes:
            from core.sheets import write_pdf

            target = io.BytesIO()
            write_pdf(document_of(found, language), target, progress)
            return target.getvalue()

        self.told.emit("Building the sheet …")
        self._job = run_in_background(
            self, build, on_success=self._on_built, on_failure=self._on_failure
        )

    def _on_built(self, pdf: bytes) -> None:
        self._job = None
        self.pdf = pdf
        self.view.show_pdf(pdf)
        self.told.emit("")

    def _on_failure(self, error: LinebookError) -> None:
        self._job = None
        self.told.emit("")
        self.failed.emit(error)


def document_of(found: Compared, language: str | None = None) -> Any:
    """The description of the sheet, from which paper and spreadsheet are made."""
    from core.sheets.difference_sheet import difference_sheet

    return difference_sheet(
        found.difference,
        found.consequences,
        found.before.name,
        found.after.name,
        today=datetime.date.today(),
        turned=found.turned,
        digests=(_digest(found.before), _digest(found.after)),
        language=language,
    )


def _digest(side: Side) -> str:
    return side.record.sha256 if side.record is not None else ""
