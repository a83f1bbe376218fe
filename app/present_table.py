"""Present settings from a table: a spreadsheet or CSV that somebody filled in or exported."""

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QLabel,
    QPlainTextEdit,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.background import Job, Progress, run_in_background
from app.fault_list import REFUSED_MARK
from app.flow_layout import FlowLayout
from app.session import Session
from core.errors import ImportRefusedError, LinebookError
from core.readback import PresentSettings

_FILES = "Tables (*.xlsx *.csv)"
_EXPLAINED = (
    "A table with the headings Station, Code and Value, in any order and among other columns; "
    "without a column of stations, a sheet for each. Decimal commas and units are read. Whatever "
    "cannot be taken is named here with its place, and stands as refused or not read in what was "
    "found."
)


class TableWay(QWidget):
    """Choose a table, see what it tells and every cell that was not taken.

    Signals:
        changed: Another table was read, or none holds any more.
    """

    changed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.result: PresentSettings | None = None
        self.how = ""
        self._job: Job | None = None
        explained = QLabel(_EXPLAINED)
        explained.setWordWrap(True)
        self.file_button = QPushButton("Choose a &table…")
        self.folder_button = QPushButton("Choose a folder of &CSV files…")
        self.head = QLabel()
        self.head.setTextFormat(Qt.TextFormat.PlainText)
        self.head.setWordWrap(True)
        self.faults = QPlainTextEdit()
        self.faults.setReadOnly(True)
        self.faults.setTabChangesFocus(True)
        self.faults.setAccessibleName("Cells that were not taken")
        self.progress = QProgressBar()
        self.progress.setRange(0, 0)
        choosing = FlowLayout(gap=6)
        choosing.addWidget(self.file_button)
        choosing.addWidget(self.folder_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 2, 6, 2)
        layout.addWidget(explained)
        layout.addLayout(choosing)
        layout.addWidget(self.progress)
        layout.addWidget(self.head)
        layout.addWidget(self.faults, 1)
        layout.addStretch(0)
        self.file_button.clicked.connect(lambda _checked=False: self._choose_file())
        self.folder_button.clicked.connect(lambda _checked=False: self._choose_folder())
        self.clear()

    @property
    def first_focus(self) -> QWidget:
        """Where the keys go first."""
        return self.file_button

    def clear(self) -> None:
        """Forget what was read, as for another file."""
        if self._job is not None:
            self._job.cancel()
        self._job, self.result, self.how = None, None, ""
        self.progress.hide()
        self._tell("", [])

    def hold(self, present: PresentSettings) -> None:
        """Keep the reading as it was brought to a changed line."""
        self.result = present

    def look_at(self, path: Path) -> None:
        """Read a file or a folder in the background."""
        line = self.session.line
        if self._job is not None:
            self._job.cancel()
        self._tell(f"Reading {path.name} …", [])
        self.progress.show()

        def read(_progress: Progress) -> Any:
            from core.readback import read_table

            return read_table(line, path)

        self._job = run_in_background(
            self,
            read,
            on_success=lambda reading: self._on_read(path, reading),
            on_failure=self._on_refused,
        )
        self._job.ended.connect(self._on_ended)

    def _on_ended(self) -> None:
        # A reading that was given up for another one ends too.
        if self._job is self.sender():
            self.progress.hide()

    def _on_read(self, path: Path, reading: Any) -> None:
        self.result, self.how = reading.settings, f"in {path.name}"
        taken = reading.settings.counts["read"]
        if reading.faults:
            count = len(reading.faults)
            cells = "1 place was" if count == 1 else f"{count} places were"
            head = f"{REFUSED_MARK} {path.name}: {taken} settings read; {cells} not taken:"
        else:
            head = f"✓ {path.name}: {taken} settings read; no cell was refused."
        self._tell(head, reading.faults)
        self.changed.emit()

    def _on_refused(self, error: LinebookError) -> None:
        # What an earlier table told still stands below, under its name.
        if isinstance(error, ImportRefusedError):
            self._tell(f"{REFUSED_MARK} Refused: {error.what} {error.fix}", error.faults)
        else:
            self._tell(f"{REFUSED_MARK} Refused: {error}", [])

    def _tell(self, head: str, faults: Any) -> None:
        self.head.setText(head)
        self.head.setVisible(bool(head))
        self.faults.setPlainText("\n".join(faults))
        self.faults.setVisible(bool(faults))

    def _choose_file(self) -> None:
        folder = str(self.session.book.path.parent)
        chosen, _ = QFileDialog.getOpenFileName(self, "Choose a table", folder, _FILES)
        if chosen:
            self.look_at(Path(chosen))

    def _choose_folder(self) -> None:
        folder = str(self.session.book.path.parent)
        chosen = QFileDialog.getExistingDirectory(self, "Choose a folder of CSV files", folder)
        if chosen:
            self.look_at(Path(chosen))
