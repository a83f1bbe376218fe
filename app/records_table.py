"""A table of the records that one record holds: its digital inputs, cables, presets and the like.

It is a grid that is as high as its rows, so that the page scrolls and not the table. A last empty
row takes new records; Tab goes on to the next cell while one types, and out of the table else.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    QStringListModel,
    Qt,
    QTimer,
)
from PySide6.QtGui import QAction, QFocusEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QCompleter,
    QLabel,
    QLineEdit,
    QScrollArea,
    QStyleOptionViewItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.flow_layout import FlowLayout
from app.grid import Grid
from app.grid_columns import Column, FieldColumn, FieldEdit
from app.grid_edits import plain
from app.grid_model import GridModel, Index
from app.grid_view import GridDelegate
from app.inputs import Offers
from app.session import Session
from core.model import RECORDS, Line
from core.store import actions

_LAST_AT_LEAST = 170
_PASSING = {
    Qt.FocusReason.ActiveWindowFocusReason,
    Qt.FocusReason.PopupFocusReason,
    Qt.FocusReason.MenuBarFocusReason,
}


class ProposingDelegate(GridDelegate):
    """Proposes words while one types in a cell; ``offers`` go by the key of the column."""

    def __init__(self, offers: Mapping[str, Offers], parent: QWidget) -> None:
        super().__init__(parent)
        self._offers = offers

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """The grid's own editor, with words to propose where there are some."""
        editor = super().createEditor(parent, option, index)
        model = index.model()
        assert isinstance(model, GridModel)
        offers = self._offers.get(model.columns[index.column()].key.rpartition(".")[2])
        if isinstance(editor, QLineEdit) and offers is not None:
            words = QStringListModel(list(dict.fromkeys(filter(None, offers()))), editor)
            completer = QCompleter(words, editor)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            editor.setCompleter(completer)
            # While words are proposed the keys go by the delegate, so that Enter would not count.
            editor.returnPressed.connect(
                lambda: QTimer.singleShot(0, editor, lambda: self._finish_line(editor))
            )
        return editor

    def _finish_line(self, editor: QLineEdit) -> None:
        view = self.parent()
        assert isinstance(view, QAbstractItemView)
        if view.state() == QAbstractItemView.State.EditingState:
            self.commitData.emit(editor)
            self.closeEditor.emit(editor, QAbstractItemDelegate.EndEditHint.SubmitModelCache)


class PageTable(Grid):
    """A grid inside a page: as high as its rows, its last column as wide as there is room."""

    def __init__(
        self,
        model: GridModel,
        key: str,
        offers: Mapping[str, Offers] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(model, key, parent)
        view = self.view
        view.delegate = ProposingDelegate(offers or {}, view)
        view.setItemDelegate(view.delegate)
        view.setTabKeyNavigation(False)
        view.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.setAccessibleName(key)
        view.horizontalHeader().setStretchLastSection(True)
        view.horizontalHeader().setHighlightSections(False)
        view.verticalHeader().setHighlightSections(False)
        view.selectionModel().currentChanged.connect(self._on_current_changed)
        view.installEventFilter(self)

    def show_rows(self, line: Line | None, rows: Sequence[Any], columns: Sequence[Column]) -> None:
        """Show records, and be as high as they are."""
        super().show_rows(line, rows, columns)
        if not self.view.hasFocus():
            self.view.clearSelection()
        self.fit_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for the bar at the foot where the columns are wider than the table."""
        super().resizeEvent(event)
        self.fit_height()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Show a selection only while the table has the focus; a page holds many tables."""
        view = self.view
        if isinstance(event, QFocusEvent) and event.reason() not in _PASSING:
            if event.type() == QEvent.Type.FocusOut:
                view.clearSelection()
            elif not view.selectedIndexes():
                here = view.currentIndex()
                view.selectionModel().select(here, QItemSelectionModel.SelectionFlag.Select)
        return super().eventFilter(watched, event)

    def reveal(self, row: int, column: int) -> None:
        """Put the focus on a cell."""
        self.view.setFocus()
        self.view.setCurrentIndex(self.model.index(row, column))

    def fit_height(self) -> None:
        """Be as high as the rows, and a bar at the foot where the columns need one."""
        view = self.view
        header = view.horizontalHeader()
        rows = view.verticalHeader().length()
        last = self.model.columnCount() - 1
        wide = sum(view.columnWidth(at) for at in range(last)) + _LAST_AT_LEAST
        fits = wide <= self._room()
        header.setStretchLastSection(fits)
        if not fits and last >= 0:
            view.setColumnWidth(last, _LAST_AT_LEAST)
        bar = 0 if fits else view.horizontalScrollBar().sizeHint().height()
        view.setFixedHeight(header.sizeHint().height() + rows + bar + 2 * view.frameWidth())

    def _room(self) -> int:
        return self.width() - self.view.verticalHeader().sizeHint().width()

    def _on_current_changed(self, here: QModelIndex, _before: QModelIndex) -> None:
        area = self.parentWidget()
        while area is not None and not isinstance(area, QScrollArea):
            area = area.parentWidget()
        if area is None or not self.view.hasFocus():
            return
        cell = self.view.visualRect(here)
        widget = area.widget()
        if widget is not None:
            place = self.view.viewport().mapTo(widget, cell.center())
            area.ensureVisible(place.x(), place.y(), 40, 2 * cell.height())


class RecordsTable(QWidget):
    """The records of one table that one record holds, with buttons to add, remove and move.

    ``name`` stands above; ``fields`` names the columns, all fields without it. ``offers`` gives
    words to propose, by field name.
    """

    def __init__(
        self,
        session: Session,
        table: str,
        name: str = "",
        fields: Sequence[str] = (),
        offers: Mapping[str, Offers] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.session, self.table = session, table
        spec = RECORDS[table]
        names = fields or [entry.name for entry in spec.fields if entry.sort != "typed"]
        self._columns = tuple(FieldColumn(table, "", spec.field(name)) for name in names)
        self._parent_id: int | None = None
        self.model = GridModel(spec.cls(), self)
        self.grid = PageTable(self.model, spec.label, offers)
        self._buttons = FlowLayout()
        self._tool_buttons: list[QToolButton] = []
        self.add_button = self._add_button(f"Add {spec.label.lower()}", "Ins", self.add)
        self._add_button("Remove", "Ctrl+Del", self.remove)
        self._add_button("Move up", "Alt+Up", lambda: self.move_current(-1))
        self._add_button("Move down", "Alt+Down", lambda: self.move_current(1))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(3)
        if name:
            label = QLabel(name)
            label.setObjectName("quiet")
            layout.addWidget(label)
        layout.addWidget(self.grid)
        layout.addLayout(self._buttons)
        self.model.edits_requested.connect(self._on_edits_requested)

    def _add_button(self, text: str, keys: str, slot: Callable[[], object]) -> QToolButton:
        action: QAction = self.grid.add_action(text, keys, slot)
        button = self.grid.button_for(action)
        self._buttons.addWidget(button)
        self._tool_buttons.append(button)
        return button

    def show_records(self, parent_id: int | None, records: Sequence[Any]) -> None:
        """Show the records that one record holds, in their order."""
        self._parent_id = parent_id
        self.grid.show_rows(self.session.line, records, self._columns)

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        return [self.grid.view, *self._tool_buttons]

    def reveal(self, record_id: int, field: str) -> bool:
        """Put the focus on a field of a record; False where it is not shown."""
        ids = [row.id for row in self.model.rows]
        names = [column.spec.name for column in self._columns]
        if record_id not in ids:
            return False
        self.grid.reveal(ids.index(record_id), names.index(field) if field in names else 0)
        return True

    def add(self) -> None:
        """Add a record at the end and go there."""
        values = {}
        for spec in RECORDS[self.table].fields:
            if spec.unique:
                taken = {getattr(row, spec.name) for row in self.model.rows}
                values[spec.name] = actions.free_name(taken, f"{spec.label} ")
        self.session.do(actions.add_record, self.table, self._parent_id, **values)
        self.grid.reveal(max(0, len(self.model.rows) - 1), 0)

    def remove(self) -> None:
        """Remove the record of the current row."""
        row = self.view_row()
        if row is not None:
            self.session.do(actions.remove_record, self.table, self.model.rows[row].id)

    def move_current(self, step: int) -> None:
        """Move the record of the current row up or down by one."""
        row = self.view_row()
        if row is None or not 0 <= row + step < len(self.model.rows):
            return
        column = self.grid.view.currentIndex().column()
        self.session.do(actions.move_record, self.table, self.model.rows[row].id, row + step)
        self.grid.view.selectionModel().setCurrentIndex(
            self.model.index(row + step, column), QItemSelectionModel.SelectionFlag.ClearAndSelect
        )

    def view_row(self) -> int | None:
        """The current row, if a record stands there."""
        row = self.grid.view.currentIndex().row()
        return row if 0 <= row < len(self.model.rows) else None

    def _on_edits_requested(self, edits: Iterable[FieldEdit], name: str) -> None:
        self.session.do(actions.store_records, self._parent_id, plain(edits), name)
