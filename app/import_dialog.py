"""Brings a filled spreadsheet into the line: shows what it would change before it does."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.background import Job, Progress, run_in_background
from app.fault_list import REFUSED_MARK
from app.session import Session
from core.errors import ImportRefusedError, LinebookError

_FILES = "Spreadsheets (*.xlsx *.csv)"
_SIZE = (760, 520)
_EXPLAINED = (
    "Choose a spreadsheet made from the template, or a list of stations as CSV. "
    "Nothing is changed before you take it over; a blank cell leaves what is there, and nothing "
    "is removed."
)


class ImportDialog(QDialog):
    """Choose a file, see what it would change or every fault in it, then take it over or not."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._plan: Any = None
        self._job: Job | None = None
        self.setWindowTitle("Import a spreadsheet")
        self.resize(*_SIZE)
        explained = QLabel(_EXPLAINED)
        explained.setWordWrap(True)
        self.file_button = QPushButton("Choose a &file…")
        self.file_button.clicked.connect(self._on_choose_file)
        self.folder_button = QPushButton("Choose a folder of &CSV files…")
        self.folder_button.clicked.connect(self._on_choose_folder)
        self.head = QLabel()
        self.head.setTextFormat(Qt.TextFormat.PlainText)
        self.head.setWordWrap(True)
        self.told = QPlainTextEdit()
        self.told.setReadOnly(True)
        self.told.setTabChangesFocus(True)
        self.told.setAccessibleName("What the spreadsheet would change")
        self.progress = QProgressBar()
        self.progress.setRange(0, 0)
        self.progress.hide()
        self.buttons = QDialogButtonBox()
        self.take_button = self.buttons.addButton(
            "&Take over", QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.leave_button = self.buttons.addButton(
            "&Leave as it is", QDialogButtonBox.ButtonRole.RejectRole
        )
        self.buttons.accepted.connect(self.take_over)
        self.buttons.rejected.connect(self.reject)

        choosing = QHBoxLayout()
        choosing.addWidget(self.file_button)
        choosing.addWidget(self.folder_button)
        choosing.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addWidget(explained)
        layout.addLayout(choosing)
        layout.addWidget(self.head)
        layout.addWidget(self.progress)
        layout.addWidget(self.told, 1)
        layout.addWidget(self.buttons)
        self._show_plan(None)

    def look_at(self, path: Path) -> None:
        """Read a file or a folder in the background and show what it would change."""
        line = self.session.line
        self._show_plan(None)
        self.head.setText(f"Reading {path.name} …")
        self.told.clear()
        self.progress.show()

        def plan(_progress: Progress) -> Any:
            from core.exchange import plan_import, read_tables

            return plan_import(line, read_tables(path))

        if self._job is not None:
            self._job.cancel()
        self._job = run_in_background(
            self,
            plan,
            on_success=lambda found: self._on_planned(path, found),
            on_failure=self._on_refused,
        )

    def take_over(self) -> None:
        """Store what is shown as one step, and close."""
        from core.exchange import apply_import

        refused: list[LinebookError] = []
        self.session.refused.connect(refused.append)
        self.session.do(apply_import, self._plan)
        self.session.refused.disconnect(refused.append)
        if refused:
            self._show_refusal(refused[0])
        else:
            self.accept()

    def done(self, result: int) -> None:
        """Stop reading when the dialog closes."""
        if self._job is not None:
            self._job.cancel()
        super().done(result)

    def _on_choose_file(self) -> None:
        chosen, _ = QFileDialog.getOpenFileName(
            self, "Choose a spreadsheet", str(self.session.book.path.parent), _FILES
        )
        if chosen:
            self.look_at(Path(chosen))

    def _on_choose_folder(self) -> None:
        chosen = QFileDialog.getExistingDirectory(
            self, "Choose a folder of CSV files", str(self.session.book.path.parent)
        )
        if chosen:
            self.look_at(Path(chosen))

    def _on_planned(self, path: Path, plan: Any) -> None:
        self._job = None
        self.progress.hide()
        headline, *lines = plan.summary
        self.head.setText(f"{path.name}: {headline}")
        self.told.setPlainText("\n".join(lines))
        self._show_plan(plan if plan.changes else None)

    def _on_refused(self, error: LinebookError) -> None:
        self._job = None
        self.progress.hide()
        self._show_refusal(error)

    def _show_refusal(self, error: LinebookError) -> None:
        self._show_plan(None)
        if isinstance(error, ImportRefusedError):
            told, lines = f"{error.what} {error.fix}", error.faults
        else:
            told, lines = error.what, [f"{error.why} {error.fix}".strip()]
        self.head.setText(f"{REFUSED_MARK} Refused: {told}")
        self.told.setPlainText("\n".join(lines))

    def _show_plan(self, plan: Any) -> None:
        self._plan = plan
        self.take_button.setEnabled(plan is not None)
        wanted = self.leave_button if plan is None else self.take_button
        wanted.setDefault(True)
        if plan is not None:
            wanted.setFocus()


def import_spreadsheet(session: Session, parent: QWidget | None = None) -> None:
    """Open the dialog that brings a spreadsheet in."""
    dialog = ImportDialog(session, parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.open()


def write_template_as(
    session: Session, parent: QWidget, on_written: Callable[[Path], object]
) -> None:
    """Ask where to, and write the empty spreadsheet to fill in; tells the path when it is done."""
    system = session.line.unit_system

    def write(path: Path) -> object:
        from core.exchange import write_template

        return write_template(path, system)

    _write_as(session, parent, "Write template", "template", write, on_written)


def export_as(session: Session, parent: QWidget, on_written: Callable[[Path], object]) -> None:
    """Ask where to, and write the whole line as a filled spreadsheet; tells the path at the end."""
    line = session.line

    def write(path: Path) -> object:
        from core.exchange import export_line

        return export_line(line, path)

    _write_as(
        session, parent, "Write the line as a spreadsheet", "as spreadsheet", write, on_written
    )


def _write_as(
    session: Session,
    parent: QWidget,
    title: str,
    name: str,
    write: Callable[[Path], object],
    on_written: Callable[[Path], object],
) -> None:
    here = session.book.path
    proposed = here.with_name(f"{here.stem} {name}.xlsx")
    chosen, _ = QFileDialog.getSaveFileName(parent, title, str(proposed), "Spreadsheet (*.xlsx)")
    if not chosen:
        return
    path = Path(chosen)
    if path.suffix.lower() != ".xlsx":
        path = path.with_name(f"{path.name}.xlsx")
    run_in_background(
        session,
        lambda _progress: write(path),
        on_success=lambda _made: on_written(path),
        on_failure=session.refused.emit,
        finishes=True,
    )
