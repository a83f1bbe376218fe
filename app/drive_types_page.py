"""The page of drive types: their ratings, terminals, reference inputs and lists of settings."""

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.fault_list import FaultList
from app.form import RecordForm
from app.page import Page
from app.records_panel import RecordsPanel
from app.session import Session
from core.errors import LinebookError
from core.model import RECORDS, DriveType
from core.store import LineFile, actions

_SOURCE = "Read these from the manual of the drive in front of you; Linebook ships none."
_NONE_YET = "No drive type in this file yet. Add one."
_LIST_WIDTH, _FORM_COLUMNS = 210, 4
_PARTS = (
    ("Terminals", "terminal", "terminals"),
    ("Reference inputs", "reference_input", "reference_inputs"),
    ("Listed settings", "listed_setting", "listed_settings"),
)
"""Heading, table and holder of each list that a drive type holds."""


class DriveTypesPage(Page):
    """The drive types of the file at one side, all about the chosen one beside them."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.types = QListWidget()
        self.types.setAccessibleName("Drive types")
        self.types.setMinimumWidth(_LIST_WIDTH // 2)
        self.types.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.types.setWordWrap(True)
        self.types.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.faults = FaultList()
        self.form = RecordForm(session, "drive_type", columns=_FORM_COLUMNS)
        self.panels = {table: RecordsPanel(session, table) for _, table, _ in _PARTS}
        self.parts = self._build_parts()
        self.lacking = QLabel(_NONE_YET)
        self.lacking.setAlignment(Qt.AlignmentFlag.AlignCenter)
        source = QLabel(_SOURCE)
        source.setWordWrap(True)
        source.setObjectName("advice")

        right = QVBoxLayout()
        right.addWidget(source)
        right.addWidget(self.parts, 1)
        right.addWidget(self.lacking, 1)
        right.addWidget(self.faults)
        layout = QHBoxLayout(self)
        layout.addWidget(self._build_side(), 1)
        layout.addLayout(right, 5)
        self.types.currentRowChanged.connect(lambda _row: self._show_chosen())
        self.catch_up()

    def _build_side(self) -> QWidget:
        side = QWidget()
        side.setMaximumWidth(_LIST_WIDTH)
        self.add_button = QPushButton("&Add")
        self.copy_button = QPushButton("Make a c&opy")
        self.remove_button = QPushButton("&Remove")
        layout = QVBoxLayout(side)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.types, 1)
        for button, act in (
            (self.add_button, self.add),
            (self.copy_button, self.copy),
            (self.remove_button, self.remove),
        ):
            button.clicked.connect(lambda _checked=False, act=act: act())
            layout.addWidget(button)
        return side

    def _build_parts(self) -> QTabWidget:
        parts = QTabWidget()
        scrolled = QScrollArea()
        scrolled.setWidgetResizable(True)
        scrolled.setFrameShape(QScrollArea.Shape.NoFrame)
        held = QWidget()
        layout = QVBoxLayout(held)
        layout.addWidget(self.form)
        layout.addStretch(1)
        scrolled.setWidget(held)
        parts.addTab(scrolled, "Ratings")
        for heading, table, _ in _PARTS:
            parts.addTab(self.panels[table], heading)
        return parts

    @property
    def chosen(self) -> DriveType | None:
        """The drive type that is shown."""
        item = self.types.currentItem()
        if item is None or not self.session.is_open:
            return None
        return self.session.line.drive_type(item.data(Qt.ItemDataRole.UserRole))

    def show_line(self) -> None:
        """Show the drive types of the open file; the chosen one stays chosen."""
        item = self.types.currentItem()
        chosen = item.data(Qt.ItemDataRole.UserRole) if item else None
        row = max(self.types.currentRow(), 0)
        drive_types = self.session.line.drive_types if self.session.is_open else ()
        self.faults.clear()
        self.types.blockSignals(True)
        self.types.clear()
        for drive_type in drive_types:
            made = QListWidgetItem(drive_type.name)
            made.setData(Qt.ItemDataRole.UserRole, drive_type.id)
            made.setToolTip(f"{drive_type.name}\n{self._used_by(drive_type)}")
            self.types.addItem(made)
        ids = [drive_type.id for drive_type in drive_types]
        self.types.setCurrentRow(ids.index(chosen) if chosen in ids else min(row, len(ids) - 1))
        self.types.blockSignals(False)
        self._show_chosen()

    def choose(self, drive_type_id: int) -> None:
        """Show the drive type of this id."""
        for row in range(self.types.count()):
            if self.types.item(row).data(Qt.ItemDataRole.UserRole) == drive_type_id:
                self.types.setCurrentRow(row)

    def add(self) -> None:
        """Add a drive type and put the focus into its name."""
        taken = {drive_type.name for drive_type in self.session.line.drive_types}
        label = RECORDS["drive_type"].label
        numbers = range(1, len(taken) + 2)
        name = next(text for number in numbers if (text := f"{label} {number}") not in taken)
        self._do_and_choose(actions.add_record, "drive_type", None, name=name)

    def copy(self) -> None:
        """Add a copy of the chosen drive type and put the focus into its name."""
        if self.chosen is not None:
            self._do_and_choose(actions.duplicate_drive_type, self.chosen.id)

    def remove(self) -> None:
        """Remove the chosen drive type; one that a drive has is kept, and that is told."""
        if self.chosen is not None:
            self._do(actions.remove_record, "drive_type", self.chosen.id)

    def _do_and_choose(self, action: Any, *args: Any, **values: Any) -> None:
        made = self._do(action, *args, **values)
        if made is not None:
            self.choose(made)
            self.parts.setCurrentIndex(0)
            self.form.focus_field("name")

    def _do(self, action: Any, *args: Any, **values: Any) -> Any:
        book: LineFile = self.session.book
        try:
            return action(book, *args, **values)
        except LinebookError as error:
            self.faults.tell_error(error)
            return None

    def _show_chosen(self) -> None:
        chosen = self.chosen
        self.parts.setVisible(chosen is not None)
        self.lacking.setVisible(chosen is None)
        self.copy_button.setEnabled(chosen is not None)
        self.remove_button.setEnabled(chosen is not None)
        self.add_button.setEnabled(self.session.is_open)
        if chosen is None:
            return
        self.form.show_record(chosen)
        for place, (heading, table, holder) in enumerate(_PARTS, start=1):
            records = getattr(chosen, holder)
            self.panels[table].show_records(chosen.id, records)
            self.parts.setTabText(place, f"{heading} ({len(records)})")

    def _used_by(self, drive_type: DriveType) -> str:
        tags = [
            station.tag
            for station in self.session.line.stations
            if station.drive.drive_type_id == drive_type.id
        ]
        return f"Used by {', '.join(tags)}" if tags else "Not used by any station yet"
