"""The page that shows the sheets as they go on paper, saves and prints them."""

import dataclasses
import datetime
import functools
import io
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.background import Job, Progress, run_in_background
from app.fault_list import FaultList
from app.flow_layout import FlowLayout
from app.page import Page
from app.page_view import ZOOM_STEP, PageView, PdfPages
from app.session import Session
from app.sheet_choice import SheetChoice
from core.errors import LinebookError
from core.line import LineResults
from core.model import Line

_WAIT_MS = 200
_CHOICE_WIDTH = 200
PICTURED = frozenset({"photographs", "handover_book"})
"""Sheets that show photographs."""


class SheetsPage(Page):
    """Preview of one sheet from the very bytes that are saved, and what can be done with it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.pdf: bytes = b""
        self._document: Any = None
        self._job: Job | None = None
        self._printing: Any = None
        self.choice = SheetChoice(_titles())
        self.view = PageView()
        self.faults = FaultList()
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(_WAIT_MS)
        self._wait.timeout.connect(self._build)

        right = QVBoxLayout()
        right.addLayout(self._build_bar())
        right.addWidget(self.view, 1)
        right.addWidget(self.faults)
        layout = QHBoxLayout(self)
        layout.addWidget(self._build_side())
        layout.addLayout(right, 1)
        self.choice.changed.connect(self._wait.start)
        session.opened.connect(self.choice.language.forget)
        self.view.page_changed.connect(self._show_place)
        self.view.zoom_changed.connect(self._show_place)
        self._show_state()

    def _build_side(self) -> QWidget:
        side = QWidget()
        side.setFixedWidth(_CHOICE_WIDTH)
        self.save_pdf_button = QPushButton("Save &PDF…")
        self.save_pdf_button.clicked.connect(self._on_save_pdf)
        self.save_xlsx_button = QPushButton("Save sp&readsheet…")
        self.save_xlsx_button.clicked.connect(self._on_save_xlsx)
        self.print_button = QPushButton("Pr&int…")
        self.print_button.clicked.connect(self._on_print)
        layout = QVBoxLayout(side)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.choice, 1)
        for button in (self.save_pdf_button, self.save_xlsx_button, self.print_button):
            layout.addWidget(button)
        return side

    def _build_bar(self) -> FlowLayout:
        bar = FlowLayout()
        self.place = QLabel()
        self.zoomed = QLabel()
        self.state = QLabel()
        self.progress = QProgressBar()
        self.progress.setMaximumWidth(160)
        self.stop_button = QPushButton("&Stop")
        self.stop_button.clicked.connect(self.stop)
        self.again_button = QPushButton("Build a&gain")
        self.again_button.clicked.connect(self._build)
        view = self.view
        for text, tip, act in (
            ("◂ Page", "Page before (Page Up)", lambda: view.go_by(-1)),
            ("Page ▸", "Next page (Page Down)", lambda: view.go_by(1)),
            ("− Smaller", "Smaller (-)", lambda: view.set_zoom(view.zoom / ZOOM_STEP)),
            ("+ Larger", "Larger (+)", lambda: view.set_zoom(view.zoom * ZOOM_STEP)),
            ("Fit width", "As wide as the view", view.fit_width),
        ):
            button = QToolButton()
            button.setText(text)
            button.setToolTip(tip)
            button.clicked.connect(lambda _checked=False, act=act: act())
            bar.addWidget(button)
            for beside in (self.place, self.zoomed):
                beside.setMinimumHeight(button.sizeHint().height())
            if text == "Page ▸":
                bar.addWidget(self.place)
        bar.addWidget(self.zoomed)
        for widget in (self.state, self.progress, self.stop_button, self.again_button):
            bar.addWidget(widget)
        return bar

    def show_line(self) -> None:
        """Offer the stations of the open file and build the chosen sheet anew."""
        self.choice.show_line(self.session.line if self.session.is_open else None)
        self._wait.start()

    def focus_start(self) -> None:
        """Let the keys choose a sheet, unless they are at work on the page already."""
        if self.session.is_open and self.focusWidget() in (None, self):
            self.choice.sheets.setFocus(Qt.FocusReason.OtherFocusReason)

    def save_pdf(self, path: Path) -> None:
        """Write the very bytes that are shown.

        Raises
        ------
        LinebookError
            The file could not be written; a file of that name is as it was.
        """
        from core.sheets.writing import write_whole

        write_whole(path, self.pdf)
        self.state.setText(f"Saved {path.name}")

    def save_xlsx(self, path: Path) -> None:
        """Write the sheet as a spreadsheet, in the background."""
        document = self._document

        def write(progress: Progress) -> Path:
            from core.sheets import write_xlsx

            write_xlsx(document, path, progress)
            return path

        self._start(write, self._on_saved, "Writing the spreadsheet …", finishes=True)

    def stop(self) -> None:
        """Stop what is being built or printed."""
        if self._job is not None:
            self._job.cancel()
            self._job = None
            self.state.setText("Stopped")
        if self._printing is not None:
            self._printing.cancel()
        self._show_state()

    def _build(self) -> None:
        from core.sheets import printed_in

        self._wait.stop()
        if self._job is not None and self._job.finishes:
            # A file that somebody asked for is written to its end first.
            self._wait.start()
            return
        if self._job is not None:
            self._job.cancel()
            self._job = None
        self.faults.clear()
        if not self.session.is_open:
            self._show_built((None, b""))
            return
        if self.choice.station_ids == []:
            self._show_built((None, b""))
            self.state.setText("Choose at least one station")
            return
        line = printed_in(self.session.line, self.choice.language.language)
        work = functools.partial(
            build_sheet,
            self.choice.sheet,
            line,
            self.session.results,
            self.choice.station_ids,
            self._origin(line),
            first_labels=self.choice.first_labels,
            photos=self._photos(),
        )
        self._start(work, self._show_built, "Building …")

    def _origin(self, line: Line) -> Any:
        """What the sheets name as their origin while a frozen record is shown; else nothing."""
        from core.sheets.front import record_origin

        session = self.session
        if not session.record_name:
            return None
        return record_origin(
            line,
            session.record_name,
            session.record_digest,
            is_changed=session.is_record_changed,
        )

    def _photos(self) -> dict[str, bytes]:
        """The photographs that the chosen sheet may show; read here, as no other thread may."""
        if self.choice.sheet not in PICTURED:
            return {}
        try:
            return self.session.book.photos(self.session.line.photo_digests)
        except LinebookError as error:
            self.faults.tell_error(error)
            return {}

    def _start(self, work: Any, on_success: Any, told: str, finishes: bool = False) -> None:
        self.state.setText(told)
        self.progress.setRange(0, 0)
        self._job = run_in_background(
            self,
            work,
            on_success=on_success,
            on_failure=self._on_failure,
            on_progress=self._show_progress,
            finishes=finishes,
        )
        self._show_state()

    def _show_built(self, built: tuple[Any, bytes]) -> None:
        self._document, self.pdf = built
        self._job = None
        self.view.show_pdf(self.pdf or None)
        self.state.clear()
        self._show_place()
        self._show_state()

    def _on_saved(self, path: Path) -> None:
        self._job = None
        self.state.setText(f"Saved {path.name}")
        self._show_state()

    def _on_failure(self, error: LinebookError) -> None:
        self._job = None
        self.state.clear()
        self.faults.tell_error(error)
        self._show_state()

    def _show_progress(self, done: int, of: int) -> None:
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    def _show_place(self, *_where: object) -> None:
        count = self.view.page_count
        self.place.setText(f"Page {self.view.page} of {count}" if count else "No page")
        self.zoomed.setText(f"{self.view.zoom:.0%}")

    def _show_state(self) -> None:
        busy = self._job is not None or self._printing is not None
        ready = bool(self.pdf) and not busy
        for button in (self.save_pdf_button, self.save_xlsx_button, self.print_button):
            button.setEnabled(ready)
        self.progress.setVisible(busy)
        self.stop_button.setVisible(busy)
        self.again_button.setVisible(not busy and self.state.text() == "Stopped")

    def _proposed(self, suffix: str) -> str:
        words = (self.session.line.name, self.choice.sheets.currentText())
        name = " ".join(filter(None, (*words, self.choice.language.file_words)))
        plain = re.sub(r'[\\/:*?"<>|\x00-\x1f]', "-", name)
        return str(self.session.book.path.with_name(plain + suffix))

    def _asked_path(self, title: str, suffix: str, kind: str) -> Path | None:
        chosen, _ = QFileDialog.getSaveFileName(
            self, title, self._proposed(suffix), f"{kind} (*{suffix})"
        )
        if not chosen:
            return None
        path = Path(chosen)
        return path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)

    def _on_save_pdf(self) -> None:
        path = self._asked_path("Save PDF", ".pdf", "PDF")
        if path is not None:
            self.faults.clear()
            try:
                self.save_pdf(path)
            except LinebookError as error:
                self.faults.tell_error(error)

    def _on_save_xlsx(self) -> None:
        path = self._asked_path("Save spreadsheet", ".xlsx", "Spreadsheet")
        if path is not None:
            self.faults.clear()
            self.save_xlsx(path)

    def _on_print(self) -> None:
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self.choice.sheets.currentText())
        dialog = QPrintDialog(printer, self)
        dialog.setMinMax(1, self.view.page_count)
        if dialog.exec():
            self.print_on(printer)

    def print_on(self, printer: Any) -> None:
        """Send the pages to a printer that is set up."""
        from app.printing import PrintRun

        self.faults.clear()
        self.state.setText("Printing …")
        run = PrintRun(PdfPages(self.pdf), printer, self)
        run.progressed.connect(self._show_progress)
        run.failed.connect(self.faults.tell_error)
        run.ended.connect(self._on_printed)
        self._printing = run
        self._show_state()
        run.start()

    def _on_printed(self, pages: int) -> None:
        self._printing = None
        self.state.setText(f"Sent {pages} page{'' if pages == 1 else 's'} to the printer")
        self._show_state()


def build_sheet(
    key: str,
    line: Line,
    results: LineResults,
    station_ids: list[int] | None,
    origin: Any,
    progress: Progress,
    first_labels: tuple[int, int] = (1, 1),
    photos: Mapping[str, bytes] | None = None,
) -> tuple[Any, bytes]:
    """Build one sheet; gives its description and the bytes of its PDF.

    ``origin`` names the frozen record that the line comes from; None for the line file.
    ``first_labels`` is where wire labels and station labels begin on their sheets; ``photos`` are
    the bytes of photographs by their digest.

    Raises
    ------
    SheetCancelledError
        The progress told it to stop.
    """
    from core.sheets import SHEETS, starting_at, write_pdf

    document = SHEETS[key].build(line, results, station_ids, datetime.date.today())
    document = starting_at(document, *first_labels)
    document = dataclasses.replace(document, photos=photos or {})
    if origin is not None:
        document = origin.on(document)
    target = io.BytesIO()
    write_pdf(document, target, progress)
    return document, target.getvalue()


def _titles() -> dict[str, str]:
    from core.sheets import SHEETS

    return {key: kind.title for key, kind in SHEETS.items()}
