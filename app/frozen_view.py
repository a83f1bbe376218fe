"""The view of frozen records: the list of them, what can be done with one, freezing another."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.flow_layout import FlowLayout
from app.frozen_form import FreezeForm
from app.frozen_rows import FrozenTable, when
from app.page import Page
from app.session import Session
from core.errors import LinebookError
from core.store import Changes, FrozenRecord

_BESIDE_FROM_SIGNS, _FORM_SIGNS, _ROWS = 120, 40, 5
_ANY_WIDTH = 16_777_215  # QWIDGETSIZE_MAX
_NONE = (
    "Nothing has been frozen yet. Freeze the line when it is proved: the record is what a later "
    "visit is compared with, and what the owner's paper names."
)
_IN_TRIAL = (
    "A trial is on. The line file can be frozen, and a record looked into, when the trial is taken "
    "over or discarded."
)
_UNREAD = "The records of this file cannot be read, so none is listed."
_HOW = "Enter looks into a record; Ctrl+C copies it."


class FrozenView(Page):
    """Records as they were frozen, verified whenever they are listed.

    Signals:
        compare_asked: A record is to be compared with the line as it stands.
                       arg 0: its id
        sheets_asked: The sheets of what is shown now are wanted.
    """

    compare_asked = Signal(int)
    sheets_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.state = _label("quiet")
        self.back_button = QPushButton("Bac&k to the file")
        self.table = FrozenTable()
        self.about = _label("")
        self.digest = QLineEdit()
        self.digest.setReadOnly(True)
        self.digest.setAccessibleName("SHA-256 of the record")
        self.copy_button = QPushButton("Cop&y the SHA-256")
        self.look_button = QPushButton("&Look into it")
        self.look_button.setToolTip("Every page shows the line as it was frozen, read-only")
        self.compare_button = QPushButton("Compare with the line no&w")
        self.sheets_button = QPushButton("Sheets &of it")
        self.sheets_button.setToolTip("Looks into it, and shows its sheets, which name it")
        self.form = FreezeForm()
        self.told = _label("refusal")
        self.told.hide()
        self._is_read = True
        self._standing_wait = QTimer(self)
        self._standing_wait.setSingleShot(True)
        self._build()
        self._connect()
        self.catch_up()

    def _build(self) -> None:
        list_side = QVBoxLayout()
        list_side.setSpacing(6)
        list_side.addWidget(self.state)
        list_side.addWidget(self.table, 1)
        list_side.addWidget(self.told)
        list_side.addWidget(self.about)
        list_side.addWidget(self.digest)
        buttons = FlowLayout(gap=6)
        for button in (
            self.look_button,
            self.compare_button,
            self.sheets_button,
            self.copy_button,
            self.back_button,
        ):
            buttons.addWidget(button)
        list_side.addLayout(buttons)
        row_height = self.table.verticalHeader().defaultSectionSize()
        self.table.setMinimumHeight(_ROWS * row_height)
        content = QWidget()
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight, content)
        self._sides.setContentsMargins(8, 4, 8, 6)
        self._sides.setSpacing(12)
        self._sides.addLayout(list_side, 1)
        self._sides.addWidget(self.form)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(content)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area)

    def _connect(self) -> None:
        self.session.frozen.connect(self._on_frozen)
        self.back_button.clicked.connect(lambda _checked=False: self._on_back())
        self.table.reached.connect(self._show_chosen)
        self.table.asked.connect(self.look_into)
        self.form.asked.connect(self.freeze)
        self.look_button.clicked.connect(lambda _checked=False: self.look_into())
        self.compare_button.clicked.connect(lambda _checked=False: self._on_compare())
        self.sheets_button.clicked.connect(lambda _checked=False: self._on_sheets())
        self.copy_button.clicked.connect(
            lambda _checked=False: QGuiApplication.clipboard().setText(self.digest.text())
        )
        self._standing_wait.timeout.connect(self._show_standing)

    # --- what is shown ----------------------------------------------------------------------

    def show_line(self) -> None:
        """Read and verify the records of the open file anew."""
        self.setEnabled(self.session.is_open)
        self.told.hide()
        if not self.session.is_open:
            self.table.show_records(())
            return
        try:
            records, self._is_read = self.session.file_book.frozen(), True
        except LinebookError as error:
            self._tell(error)
            records, self._is_read = (), False
        self.table.show_records(records)
        self.form.show_people(self.session.file_book.line, records)
        self._show_state()
        self._standing_wait.start(0)

    def show_changes(self, changes: Changes) -> None:
        """A step changes no record, only what is open before the next one."""
        self._standing_wait.start(0)

    def showEvent(self, event: QShowEvent) -> None:
        """Records may have been made elsewhere, as by reading the drives back."""
        super().showEvent(event)
        if self.session.is_open and not self._is_current():
            self.show_line()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the form beside the list where there is room for both, else below."""
        super().resizeEvent(event)
        sign = self.fontMetrics().averageCharWidth()
        beside = self.width() >= _BESIDE_FROM_SIGNS * sign
        directions = QBoxLayout.Direction
        self._sides.setDirection(directions.LeftToRight if beside else directions.TopToBottom)
        self.form.setMinimumWidth(_FORM_SIGNS * sign if beside else 0)
        self.form.setMaximumWidth(_FORM_SIGNS * sign if beside else _ANY_WIDTH)

    def _is_current(self) -> bool:
        """Whether the records that stand in the file are those that are listed."""
        try:
            records = self.session.file_book.frozen()
        except LinebookError:
            return False  # told where they are read to be shown
        held = {record.id for record in self.table.records}
        return self._is_read and held == {record.id for record in records}

    def _show_state(self) -> None:
        session, name = self.session, self.session.record_name
        words = _HOW if self.table.records else _NONE if self._is_read else _UNREAD
        if name:
            words = f"{name} is shown on every page, as a private copy."
        self.state.setText(words)
        self.back_button.setVisible(bool(name))
        held = f"{name} is shown in the place of the line file; go back to the file first."
        self.form.hold(held if name else _IN_TRIAL if session.is_trial else "")
        self._show_chosen()

    def _show_chosen(self) -> None:
        record = self.table.chosen
        told = (_about(record), self._about_photos(record)) if record else ()
        self.about.setText("\n".join(filter(None, told)))
        self.digest.setText(record.sha256 if record else "")
        self.digest.setCursorPosition(0)
        for widget in (self.digest, self.copy_button):
            widget.setVisible(record is not None)
        # An altered record leaves them as they are: pressed, they say why it is not used.
        for button in (self.look_button, self.sheets_button, self.compare_button):
            button.setVisible(record is not None)

    def _about_photos(self, record: FrozenRecord) -> str:
        """Whether the photographs that a record names still are those it was frozen with."""
        named = record.photo_digests
        if not named:
            return ""
        try:
            lost = len(named) - len(self.session.file_book.photos(named))
        except LinebookError as error:
            return f"✗ {error}"
        if not lost:
            return f"Verified with it: photographs ({len(named)})."
        return (
            f"✗ {lost} of its photographs ({len(named)}) are not in the file or were ALTERED "
            "OUTSIDE LINEBOOK."
        )

    def _show_standing(self) -> None:
        from core.records.keeping import standing_of

        if not self.session.is_open or self.session.is_trial:
            return
        if self.isVisible():
            self.form.show_standing(standing_of(self.session.results, self.session.findings))
        else:
            self._stale = True

    # --- what can be done -------------------------------------------------------------------

    def freeze(self, kind: str, person: str, reason: str) -> None:
        """Freeze the line as it stands; a refusal is told beside what was typed."""
        try:
            self.session.freeze(kind, person, reason)
        except LinebookError as error:
            self.form.show_refused(error)
            return
        self.form.show_done()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def look_into(self) -> bool:
        """Show the chosen record on every page; gives False, and says why, where it is not."""
        from core.records.keeping import line_of_record

        record = self.table.chosen
        self.told.hide()
        if record is None:
            return False
        if self.session.is_trial and not self.session.record_name:
            self._say(_IN_TRIAL)
            return False
        try:
            line = line_of_record(record)
        except LinebookError as error:
            self._tell(error)
            return False
        self.session.end_trial()
        self.session.show_record(line, record.name, record.sha256)
        return self.session.record_name == record.name

    def _on_back(self) -> None:
        """Back to the file; the button goes, and the keys stay with the records."""
        if self.session.end_trial():
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_compare(self) -> None:
        from core.records.keeping import line_of_record

        record = self.table.chosen
        if record is None:
            return
        try:
            line_of_record(record)
        except LinebookError as error:
            self._tell(error)
        else:
            self.compare_asked.emit(record.id)

    def _on_sheets(self) -> None:
        if self.look_into():
            self.sheets_asked.emit()

    def _on_frozen(self, record: FrozenRecord) -> None:
        self.show_line()
        self.table.choose(record.id)

    def _tell(self, error: LinebookError) -> None:
        self._say(f"✗ Refused: {error}")

    def _say(self, words: str) -> None:
        self.told.setText(words)
        self.told.show()


def _about(record: FrozenRecord) -> str:
    state = "Verified: it is what was frozen."
    if not record.is_sound:
        state = (
            "✗ ALTERED OUTSIDE LINEBOOK: it is not what was frozen, and is not used. Look for a "
            "copy of the file that verifies."
        )
    return f"{record.name}, {when(record)}, by {record.person}: {record.reason}\n{state}"


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label
