"""The view that compares two records, or a record and the line, and says what follows."""

import re
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app import compare_rows as rows
from app.background import Job, run_in_background
from app.compare_sheet import DifferenceSheet
from app.compare_work import NOW, TRIAL, Compared, Side, compared, history_of, sides_of
from app.fault_list import FaultList
from app.flow_layout import FlowLayout
from app.frozen_rows import when
from app.page import Page
from app.read_table import ReadRow, ReadTable
from app.remarks import CautionCard
from app.session import Session
from app.sheet_language import SheetLanguage
from core.errors import LinebookError
from core.sheets.words import words_in
from core.store.frozen import named, usual_sides

_NO_RECORD = (
    "Nothing has been frozen yet, so there is nothing to compare with. Freeze the line when it is "
    "proved; at a later visit this view tells what was changed, and what that does."
)
_say = words_in("en")
_Told = tuple[str, ReadTable, Callable[[Compared], list[ReadRow]], Callable[[Compared], int]]


class CompareView(Page):
    """Two sides, how much differs, and in tabs what follows, every change, what to put back.

    Signals:
        station_asked: A station is to be shown.
                       arg 0: its tag
    """

    station_asked = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.found: Compared | None = None
        self._sides: dict[str, Side] = {}
        self._is_own_choice = False
        self._path: Path | None = None
        self._job: Job | None = None
        self.before, self.after = QComboBox(), QComboBox()
        self.swap_button = QPushButton("S&wap")
        self.swap_button.setToolTip("The other way round")
        self.summary = _label("sectionName")
        self.not_read = QPushButton()
        self.not_read.setObjectName("link")
        self.progress = QProgressBar()
        self.progress.setRange(0, 0)
        self.progress.setMaximumWidth(120)
        self.progress.setAccessibleName("Comparing")
        self.state = QLabel()
        self.pdf_button = QPushButton("Save P&DF…")
        self.xlsx_button = QPushButton("Save sp&readsheet…")
        self.faults = FaultList()
        self.sheet = DifferenceSheet()
        self.language = SheetLanguage()
        self.follows = ReadTable("What follows", rows.FOLLOWS_HEADINGS, 1)
        self.changes = ReadTable("Every change", rows.CHANGES_HEADINGS, 1)
        self.put_back = ReadTable("To put back", rows.PUT_BACK_HEADINGS, 1)
        self.unread = ReadTable("Not read", rows.NOT_READ_HEADINGS, 2)
        self.turned = ReadTable("Changed and changed back", rows.TURNED_HEADINGS, 1, number=4)
        self.tabs = QTabWidget()
        self._build()
        self._connect()
        self._show_found(None)
        self.catch_up()

    def _build(self) -> None:
        head = QHBoxLayout()
        for text, box in (("Com&pare", self.before), ("wi&th", self.after)):
            label = QLabel(text)
            label.setBuddy(box)
            box.setAccessibleName(text.replace("&", ""))
            box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            head.addWidget(label)
            head.addWidget(box, 1)
        head.addWidget(self.swap_button)
        foot = FlowLayout(gap=6)
        for widget in (
            self.language,
            self.pdf_button,
            self.xlsx_button,
            self.progress,
            self.state,
        ):
            foot.addWidget(widget)
        self.faults.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.state.setMinimumHeight(self.pdf_button.sizeHint().height())
        for title, part in self._parts():
            self.tabs.addTab(part, title)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 6)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addWidget(self.summary)
        layout.addWidget(self.not_read)
        layout.addWidget(self.tabs, 1)
        layout.addWidget(self.faults)
        layout.addStretch()  # takes the room of the tabs where there is nothing for them
        layout.addLayout(foot)

    def _parts(self) -> list[tuple[str, QWidget]]:
        back = QWidget()
        column = QVBoxLayout(back)
        column.setContentsMargins(0, 4, 0, 0)
        key = _label("quiet")
        key.setText(_say("diff_put_back_key"))
        column.addWidget(CautionCard("warning", "start"))
        column.addWidget(key)
        column.addWidget(self.put_back, 1)
        return [
            ("Follows", self.follows),
            ("Changes", self.changes),
            ("Put back", back),
            ("Not read", self.unread),
            ("Back and forth", self.turned),
            ("Sheet", self.sheet),
        ]

    def _connect(self) -> None:
        self.session.frozen.connect(lambda _record: self._on_opened())
        self.session.opened.connect(self.language.forget)
        self.language.changed.connect(self._show_sheet)
        for box in (self.before, self.after):
            box.activated.connect(lambda _place: self._on_chosen())
        self.swap_button.clicked.connect(lambda _checked=False: self._on_swap())
        self.not_read.clicked.connect(lambda _checked=False: self._show_unread())
        self.pdf_button.clicked.connect(lambda _checked=False: self._on_save("PDF", ".pdf"))
        self.xlsx_button.clicked.connect(
            lambda _checked=False: self._on_save("Spreadsheet", ".xlsx")
        )
        self.sheet.told.connect(self.state.setText)
        self.sheet.failed.connect(self.faults.tell_error)
        for table in (self.follows, self.changes, self.put_back, self.unread, self.turned):
            table.station_chosen.connect(self.station_asked)

    # --- the two sides ----------------------------------------------------------------------

    def show_line(self) -> None:
        """Offer what can be compared, and compare."""
        self.setEnabled(self.session.is_open)
        if not self.session.is_open:
            self._is_own_choice = False
            self._show_found(None)
            return
        try:
            sides = sides_of(self.session)
        except LinebookError as error:
            self._offer([])
            self._fail(error)
            return
        kept = self.before.currentData(), self.after.currentData()
        if self.session.file_path != self._path:
            self._path, self._is_own_choice = self.session.file_path, False
        self._offer(sides)
        if not self._is_own_choice or not set(kept) <= set(self._sides):
            self._is_own_choice = False
            kept = self._usual()
        self.choose(*kept)

    def _offer(self, sides: list[Side]) -> None:
        """Put sides into the boxes; none where they could not be read."""
        self._sides = {side.key: side for side in sides}
        for box in (self.before, self.after):
            box.clear()
            box.setEnabled(bool(sides))
            for side in sides:
                box.addItem(_words(side), side.key)
        self.swap_button.setEnabled(bool(sides))
        self.tabs.setVisible(bool(sides))

    def showEvent(self, event: QShowEvent) -> None:
        """Records may have been made elsewhere, as by reading the drives back."""
        super().showEvent(event)
        if self.session.is_open and not self._is_current():
            self.show_line()

    def _is_current(self) -> bool:
        """Whether the records that stand in the file are those that are offered."""
        try:
            records = self.session.file_book.frozen()
        except LinebookError:
            return False  # told where they are read to be offered
        held = {key for key, side in self._sides.items() if side.record is not None}
        return bool(self._sides) and held == {str(record.id) for record in records}

    def _usual(self) -> tuple[str, str]:
        records = [side.record for side in self._sides.values() if side.record is not None]
        before, after = usual_sides(records[::-1])
        latest = TRIAL if TRIAL in self._sides else NOW
        return str(before.id) if before else NOW, str(after.id) if after else latest

    def compare(self, before: str, after: str = NOW) -> None:
        """Compare two sides by their keys: the id of a record, or ``now``."""
        self._is_own_choice = True
        self.choose(before, after)

    def show_sides(self, before: str, after: str) -> None:
        """Compare two sides, each the name of a record as the command line takes it, or ``now``."""
        try:
            self.compare(self._key(before), self._key(after))
        except LinebookError as error:
            self._fail(error)

    def _key(self, name: str) -> str:
        if name in self._sides:
            return name
        return str(named(self.session.file_book.frozen(), name).id)

    def choose(self, before: str, after: str) -> None:
        """Show two sides in the boxes, and compare them."""
        for box, key in ((self.before, before), (self.after, after)):
            box.setCurrentIndex(max(0, box.findData(key)))
        self._run()

    def _on_chosen(self) -> None:
        self._is_own_choice = True
        self._run()

    def _on_swap(self) -> None:
        self.compare(str(self.after.currentData()), str(self.before.currentData()))

    # --- comparing --------------------------------------------------------------------------

    def _run(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job = None
        if not self._sides:
            return  # why is told
        self.faults.clear()
        self._show_found(None)
        before, after = (self._sides[str(box.currentData())] for box in (self.before, self.after))
        for box in (self.before, self.after):
            box.setToolTip(box.currentText())
        if not any(side.record for side in self._sides.values()) and TRIAL not in self._sides:
            self.summary.setText(_NO_RECORD)
            return
        try:
            history = history_of(self.session, before, after)
        except LinebookError as error:
            self._fail(error)
            return
        self.summary.setText("Comparing …")
        self.progress.show()
        self._job = run_in_background(
            self,
            lambda _progress: compared(before, after, history),
            on_success=self._show_found,
            on_failure=self._fail,
        )

    def _fail(self, error: LinebookError) -> None:
        self._show_found(None)
        self.summary.setText("✗ Not compared.")
        self.faults.tell_error(error)

    def _show_found(self, found: Compared | None) -> None:
        self._job = None
        self.found = found
        self.progress.hide()
        self.state.clear()
        for place, (title, table, told, count) in enumerate(self._tables()):
            table.show_rows(told(found) if found else [])
            self.tabs.setTabText(place, f"{title} ({count(found)})" if found else title)
        self.summary.setText(rows.summary(found) if found else "")
        words = rows.not_read_words(found) if found else ""
        self.not_read.setText(words)
        self.not_read.setVisible(bool(words))
        for button in (self.pdf_button, self.xlsx_button):
            button.setEnabled(found is not None)
        self.language.show_line(found.difference.after if found else None)
        self._show_sheet()

    def _tables(self) -> tuple[_Told, ...]:
        """Title, table, what gives its rows, and what counts them, in the order of the tabs."""
        return (
            ("Follows", self.follows, rows.follows_rows, lambda at: len(at.consequences)),
            ("Changes", self.changes, rows.changes_rows, rows.changes_count),
            ("Put back", self.put_back, rows.put_back_rows, lambda at: len(at.put_back)),
            ("Not read", self.unread, rows.not_read_rows, rows.not_read_count),
            ("Back and forth", self.turned, rows.turned_rows, lambda at: len(at.turned)),
        )

    def _show_unread(self) -> None:
        self.tabs.setCurrentWidget(self.unread)
        self.unread.setFocus()

    # --- on paper ---------------------------------------------------------------------------

    def _show_sheet(self) -> None:
        self.sheet.show_compared(self.found, self.language.language)

    def _on_save(self, kind: str, suffix: str) -> None:
        assert self.found is not None
        words = (self.session.line.name, "difference", self.language.file_words)
        name = " ".join(filter(None, words))
        plain = re.sub(r'[\\/:*?"<>|\x00-\x1f]', "-", name)
        proposed = self.session.file_path.with_name(plain + suffix)
        chosen, _ = QFileDialog.getSaveFileName(
            self, f"Save {kind}", str(proposed), f"{kind} (*{suffix})"
        )
        if chosen:
            path = Path(chosen)
            path = path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)
            self.faults.clear()
            self.sheet.save(path)


def _words(side: Side) -> str:
    if side.record is None:
        return side.name
    altered = "" if side.record.is_sound else "✗ ALTERED  "
    return f"{altered}{side.name}, {when(side.record)}, {side.record.person}"


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setWordWrap(True)
    policy = label.sizePolicy()
    policy.setVerticalPolicy(QSizePolicy.Policy.Maximum)
    label.setSizePolicy(policy)
    return label
