"""A grid with its spreadsheet actions and the line below it that tells what was refused."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from app.clipboard_table import parse_table, write_table
from app.fault_list import FaultList
from app.field_text import name_of
from app.grid_columns import Column
from app.grid_edits import Put, heading_of
from app.grid_model import GridModel
from app.grid_paste import Placed, has_headings, place_block, place_by_headings
from app.grid_view import GridView
from core.errors import InputError, LinebookError
from core.model import Line

PASTE_REFUSED = "Nothing was pasted."


class Grid(QWidget):
    """Records by columns, with copy, paste, fill down and clear as any spreadsheet has them.

    ``key`` is the heading of what names the rows; a table that has it among its headings finds
    its own rows and columns when it is pasted.
    """

    def __init__(self, model: GridModel, key: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = model
        self.view = GridView(model)
        self.faults = FaultList()
        self._key = key
        self._copied: tuple[str, list[list[Put]]] = ("", [])
        self.actions_offered = self._build_actions()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.view, 1)
        layout.addWidget(self.faults)
        model.refused.connect(self.faults.tell)
        # Not when another cell is chosen: that is what refuses a text that a click has ended.
        model.edits_requested.connect(lambda *_request: self.faults.clear())

    def _build_actions(self) -> list[QAction]:
        known: tuple[tuple[str, str, Callable[[], object]], ...] = (
            ("Copy", "Ctrl+C", self.copy),
            ("Copy with headings", "Ctrl+Shift+C", self.copy_with_headings),
            ("Cut", "Ctrl+X", self.cut),
            ("Paste", "Ctrl+V", self.paste),
            ("Fill down", "Ctrl+D", self.fill_down),
            ("Clear", "Del", self.clear_cells),
        )
        for text, keys, slot in known:
            self.add_action(text, keys, slot)
        self.view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        return self.view.actions()

    def add_action(self, text: str, keys: str, slot: Callable[[], object]) -> QAction:
        """Offer one action more, by its keys and in the grid's menu."""
        action = QAction(text, self.view)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        action.triggered.connect(lambda _checked=False: slot())
        self.view.addAction(action)
        return action

    def button_for(self, action: QAction) -> QToolButton:
        """A button with the words of an action and its keys as tip."""
        button = QToolButton()
        button.setDefaultAction(action)
        button.setToolTip(f"{action.text()} ({action.shortcut().toString()})")
        return button

    def attempt(self, action: Callable[..., object], *args: object) -> object:
        """Run an action and give what it gives; a refusal is told below the grid."""
        try:
            return action(*args)
        except LinebookError as error:
            self.faults.tell_error(error)
            return None

    def show_rows(self, line: Line | None, rows: Sequence[Any], columns: Sequence[Column]) -> None:
        """Show records, with the current cell kept where its record and column still are."""
        index = self.view.currentIndex()  # no longer valid once the model was shown anew
        record = self.model.row_at(index.row()).id if index.isValid() else 0
        key = self.model.columns[index.column()].key if index.isValid() else ""
        at = index.row(), index.column()
        shape = [column.key for column in self.model.columns], bool(self.model.rows)
        self.faults.clear()
        self.model.show_rows(line, rows, columns)
        if ([column.key for column in columns], bool(rows)) != shape:
            self.view.fit_columns()
        self._go_to(record, key, at)

    def copy(self) -> None:
        """Put the selected cells on the clipboard, as any spreadsheet takes them."""
        block = self.view.selected_block()
        if block is None:
            return
        top, left, rows, columns = block
        puts = [
            [self.model.put(row, column) for column in range(left, left + columns)]
            for row in range(top, top + rows)
        ]
        text = write_table([put.text for put in row] for row in puts)
        self._copied = text, puts
        QGuiApplication.clipboard().setText(text)

    def copy_with_headings(self) -> None:
        """Put the selected cells on the clipboard, with headings above and names before them."""
        block = self.view.selected_block()
        if block is None:
            return
        top, left, rows, columns = block
        line = self.model.line
        places = range(left, left + columns)
        cells = [[heading_of(self.model.columns[at], line) for at in places]]
        cells += [
            [self.model.cell(row, at).text for at in places] for row in range(top, top + rows)
        ]
        if not self.model.grows:  # else the names are among the columns
            names = [self._key, *(name_of(row) for row in self.model.rows[top : top + rows])]
            cells = [[name, *row] for name, row in zip(names, cells, strict=True)]
        QGuiApplication.clipboard().setText(write_table(cells))

    def cut(self) -> None:
        """Copy the selected cells, then clear them."""
        self.copy()
        self._clear("Cut cells", "Nothing was cut.")

    def clear_cells(self) -> None:
        """Take the selected cells back to empty, or to the default of their list."""
        self._clear("Clear cells", "Nothing was cleared.")

    def paste(self) -> None:
        """Put the clipboard's cells in, all of them or none."""
        text = QGuiApplication.clipboard().text()
        try:
            cells = parse_table(text)
            placed, faults = self._placed(cells)
        except InputError as error:
            placed, faults = {}, [f"{error.why} {error.fix}"]
        if faults:
            self.faults.tell(PASTE_REFUSED, faults)
            return
        puts = self._puts(text, cells)
        block = {to: puts[row][column] for to, (row, column) in placed.items()}
        self.model.request(block, f"Paste {_counted(len(block))}", PASTE_REFUSED)

    def fill_down(self) -> None:
        """Give all selected cells of a column the value of the topmost one."""
        block = self.view.selected_block()
        if block is None or block[2] == 1:
            self.faults.tell("Nothing was filled.", ["Select the cell to take and those below it."])
            return
        top, left, rows, columns = block
        filled = {
            (row, column): self.model.put(top, column)
            for row in range(top + 1, top + rows)
            for column in range(left, left + columns)
        }
        self.model.request(filled, f"Fill {_counted(len(filled))} down", "Nothing was filled.")

    def _clear(self, name: str, refusal: str) -> None:
        block = self.view.selected_block()
        if block is None:
            return
        top, left, rows, columns = block
        cells = {
            (row, column): Put("")
            for row in range(top, min(top + rows, len(self.model.rows)))
            for column in range(left, left + columns)
        }
        self.model.request(cells, name, refusal)

    def _placed(self, cells: list[list[str]]) -> tuple[Placed, list[str]]:
        model = self.model
        if self._key and has_headings(cells, self._key):
            names = [name_of(row) for row in model.rows]
            return place_by_headings(
                cells, model.line, model.columns, self._key, names, grows=model.grows
            )
        block = self.view.selected_block()
        if block is None:
            raise InputError("", "No cell is chosen.", "Choose the upper left cell first.")
        top, left, rows, columns = block
        size = None if model.grows else len(model.rows), len(model.columns)
        return place_block(cells, (top, left), (rows, columns), size), []

    def _puts(self, text: str, cells: list[list[str]]) -> list[list[Put]]:
        # Our own copy carries the stored values; the clipboard may have changed its line ends.
        copied, puts = self._copied
        if puts and text.splitlines() == copied.splitlines():
            return puts
        return [[Put(cell) for cell in row] for row in cells]

    def _go_to(self, record: int, key: str, at: tuple[int, int]) -> None:
        """Make a record's cell the current one; where it is gone, the one now in its place."""
        model = self.model
        if not (model.rowCount() and model.columnCount()):
            return
        ids = [row.id for row in model.rows]
        keys = [column.key for column in model.columns]
        row = ids.index(record) if record in ids else min(at[0], model.rowCount() - 1)
        column = keys.index(key) if key in keys else 0
        place = model.index(max(row, 0), column)
        if place != self.view.currentIndex():
            self.view.setCurrentIndex(place)


def _counted(cells: int) -> str:
    return "1 cell" if cells == 1 else f"{cells} cells"
