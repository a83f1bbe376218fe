"""The checks that the user adds, and the small file that carries them to the next line."""

import dataclasses
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app import field_text
from app.grid_columns import Cell, ExactField, FieldColumn, FieldEdit
from app.records_panel import RecordsPanel
from app.session import Session
from core.errors import LinebookError
from core.model import RECORDS, Line

_TABLE = "own_check"
_SUFFIX = ".xlsx"
_FILES = "Spreadsheet (*.xlsx)"
_EXPLAINED = (
    "Checks of your own stand in the list, on the field sheets and in the results like any other. "
    "Limits are typed in the unit of what is read. Saved as a spreadsheet, they go to the next "
    "line; a check of the same name is changed there, any other is added."
)


class LimitColumn(FieldColumn):
    """A limit of an own check, in the unit of what the check reads."""

    __slots__ = ()

    def cell(self, line: Line, row: Any) -> Cell:
        """What a row shows here."""
        held = self._of(row)
        if not self._applies(row, row):
            return Cell("", applies=False, tip=held._why_not(line, row, row))
        return Cell(field_text.shown(held.spec, getattr(row, self.spec.name), line))

    def edit(self, line: Line, row: Any, text: str) -> FieldEdit:
        """The change that a text means here; InputError refuses it."""
        return self._of(row).edit(line, row, text)

    def exact(self, row: Any) -> ExactField | None:
        """The stored value behind the text, with the kind of quantity that it is of."""
        return self._of(row).exact(row)

    def edit_exact(self, row: Any, exact: Any) -> FieldEdit | None:
        """The change that puts a value of `exact` here; None where it is of another kind."""
        return self._of(row).edit_exact(row, exact)

    def _of(self, row: Any) -> FieldColumn:
        spec = dataclasses.replace(self.spec, kind=row.kind or "factor", hint="")
        return FieldColumn(self.table, self.holder, spec)


def own_columns() -> tuple[FieldColumn, ...]:
    """The columns of own checks; those of the limits come after what is read."""
    spec = RECORDS[_TABLE]
    return tuple(
        LimitColumn(_TABLE, "", dataclasses.replace(field, hint=""))
        if field.sort == "quantity"
        else FieldColumn(_TABLE, "", field)
        for field in spec.fields
    )


class OwnChecks(QWidget):
    """Own checks as a grid that grows, to be saved for the next line and brought in from one."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        explained = QLabel(_EXPLAINED)
        explained.setObjectName("quiet")
        explained.setWordWrap(True)
        self.panel = RecordsPanel(session, _TABLE, columns=own_columns())
        self.save_button = QPushButton("Save own checks…")
        self.bring_button = QPushButton("Bring own checks in…")
        self.told_label = QLabel()
        self.told_label.setTextFormat(Qt.TextFormat.PlainText)
        self.told_label.setWordWrap(True)
        row = QHBoxLayout()
        row.addWidget(self.save_button)
        row.addWidget(self.bring_button)
        row.addWidget(self.told_label, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(4, 4, 4, 0)
        layout.setSpacing(4)
        layout.addWidget(explained)
        layout.addLayout(row)
        layout.addWidget(self.panel, 1)
        self.save_button.clicked.connect(lambda _checked=False: self.ask_save())
        self.bring_button.clicked.connect(lambda _checked=False: self.ask_bring())

    def show_line(self, line: Line) -> None:
        """Show the own checks of a line."""
        self.panel.show_records(None, line.own_checks)
        self.panel.setEnabled(not self.session.record_name)
        self.bring_button.setEnabled(not self.session.record_name)
        self.save_button.setEnabled(bool(line.own_checks))

    def ask_save(self) -> None:
        """Ask where to, and save the own checks there."""
        here = self.session.file_path
        proposed = here.with_name(f"own checks{_SUFFIX}")
        chosen, _ = QFileDialog.getSaveFileName(self, "Save own checks", str(proposed), _FILES)
        if chosen:
            path = Path(chosen)
            self.save(path if path.suffix.lower() == _SUFFIX else Path(f"{path}{_SUFFIX}"))

    def save(self, path: Path) -> None:
        """Save the own checks as a spreadsheet of this one sheet."""
        from core.exchange import export_line

        try:
            export_line(self.session.line, path, (_TABLE,))
        except LinebookError as error:
            self.session.refused.emit(error)
            return
        count = len(self.session.line.own_checks)
        self.told_label.setText(f"✓ {count} own check{'s' * (count != 1)} saved in {path.name}.")

    def ask_bring(self) -> None:
        """Ask for a spreadsheet, and show what it would add before it does."""
        here = self.session.file_path.parent
        chosen, _ = QFileDialog.getOpenFileName(self, "Bring own checks in", str(here), _FILES)
        if chosen:
            self.bring(Path(chosen))

    def bring(self, path: Path) -> None:
        """Show what a spreadsheet would add; it is taken over there, or left."""
        from app.import_dialog import ImportDialog

        self.told_label.clear()
        dialog = ImportDialog(self.session, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        dialog.look_at(path)
