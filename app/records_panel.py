"""A list of records of one kind as a grid that grows: type or paste into its last row."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QItemSelection
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.grid import Grid
from app.grid_columns import Column, FieldColumn
from app.grid_edits import plain
from app.grid_model import GridModel
from app.session import Session
from core.model import RECORDS
from core.store import actions

_HINT = "   Type or paste rows into the row marked +"

# The grid's other actions are in its menu and have their keys.
_BUTTONS = ("Copy", "Paste")


class RecordsPanel(QWidget):
    """Records that stand in a list, with their order, to be typed, pasted, moved and removed.

    ``columns`` are shown instead of one for each field.
    """

    def __init__(
        self,
        session: Session,
        table: str,
        parent: QWidget | None = None,
        *,
        columns: Sequence[Column] = (),
    ) -> None:
        super().__init__(parent)
        self.session, self.table = session, table
        self._parent_id: int | None = None
        spec = RECORDS[table]
        self._columns = tuple(columns) or tuple(
            FieldColumn(table, "", field) for field in spec.fields if field.sort != "typed"
        )
        key = next((field.label for field in spec.fields if field.unique), "")
        self.model = GridModel(spec.cls(), parent=self)
        self.grid = Grid(self.model, key)
        self.grid.view.setAccessibleName(spec.label)
        self.remove_action = self.grid.add_action("Remove rows", "Ctrl+Del", self.remove_rows)
        self.up_action = self.grid.add_action("Move up", "Alt+Up", lambda: self.move_rows(-1))
        self.down_action = self.grid.add_action("Move down", "Alt+Down", lambda: self.move_rows(1))

        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 0)
        layout.addLayout(self._build_head())
        layout.addWidget(self.grid, 1)
        self.model.edits_requested.connect(self._on_edits_requested)
        self.grid.view.selectionModel().selectionChanged.connect(self._on_selected)
        self._show_possible()

    def _build_head(self) -> FlowLayout:
        head = FlowLayout()
        moves = (self.remove_action, self.up_action, self.down_action)
        spread = [action for action in self.grid.actions_offered if action.text() in _BUTTONS]
        for action in (*moves, *spread):
            head.addWidget(self.grid.button_for(action))
        hint = QLabel(_HINT)
        hint.setMinimumHeight(self.grid.button_for(self.up_action).sizeHint().height())
        head.addWidget(hint)
        return head

    def show_records(self, parent_id: int | None, records: Sequence[Any]) -> None:
        """Show the records that one record holds, or that the line holds without a parent."""
        if parent_id != self._parent_id:
            self._parent_id = parent_id
            self.model.show_rows(None, (), ())
        self.grid.show_rows(self.session.line, records, self._columns)
        self._show_possible()

    def remove_rows(self) -> None:
        """Remove the records of the selected rows."""
        top, rows = self._selected()
        if rows:
            ids = [row.id for row in self.model.rows[top : top + rows]]
            self.grid.attempt(actions.remove_records, self.session.book, self.table, ids)

    def move_rows(self, by: int) -> None:
        """Move the records of the selected rows up (-1) or down (1) by one place."""
        top, rows = self._selected()
        over = top - 1 if by < 0 else top + rows
        if not rows or not 0 <= over < len(self.model.rows):
            return
        # The record beyond them changes to their other side, which keeps them together.
        left = max(self.grid.view.currentIndex().column(), 0)
        place = top + rows - 1 if by < 0 else top
        neighbour = self.model.rows[over].id
        self.grid.attempt(actions.move_record, self.session.book, self.table, neighbour, place)
        self.grid.view.setCurrentIndex(self.model.index(top + by, left))
        self.grid.view.select_block(top + by, left, rows, 1)

    def _selected(self) -> tuple[int, int]:
        block = self.grid.view.selected_block()
        if block is None:
            return 0, 0
        return block[0], max(0, min(block[0] + block[2], len(self.model.rows)) - block[0])

    def _show_possible(self) -> None:
        top, rows = self._selected()
        self.remove_action.setEnabled(rows > 0)
        self.up_action.setEnabled(rows > 0 and top > 0)
        self.down_action.setEnabled(rows > 0 and top + rows < len(self.model.rows))

    def _on_selected(self, _new: QItemSelection, _old: QItemSelection) -> None:
        self._show_possible()

    def _on_edits_requested(self, edits: Any, name: str) -> None:
        book = self.session.book
        self.grid.attempt(actions.store_records, book, self._parent_id, plain(edits), name)
