"""Records by columns, as frozen rows for the view of a grid."""

import dataclasses
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from app.field_text import name_of
from app.grid_columns import Cell, Column
from app.grid_edits import Block, Put, heading_of, plan_block, short_heading
from core.model import Line

Index = QModelIndex | QPersistentModelIndex
CELL_ROLE = Qt.ItemDataRole.UserRole
DASH, DIFFERS, MORE_LINES, NEW_ROW = "–", "≠ ", " …", "+"
_NOTHING = Cell("")
_HEADING_WIDTH = 15
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class GridModel(QAbstractTableModel):
    """Shows records and asks for changes; it never writes to the file.

    With a ``blank`` record it grows: one empty row more stands at its end, to type or paste new
    records into, and rows are numbered. Without one, rows bear their names.

    Signals:
        edits_requested: Cells are to be changed.
                         arg 0: the edits, arg 1: name of the step
        refused: Texts were refused; nothing is to be changed.
                 arg 0: what did not happen, arg 1: a sentence for each refused cell
    """

    edits_requested = Signal(object, str)
    refused = Signal(str, list)

    def __init__(self, blank: Any = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._blank = blank
        self._line: Line | None = None
        self.rows: tuple[Any, ...] = ()
        self.columns: tuple[Column, ...] = ()
        self._cells: dict[tuple[int, int], Cell] = {}

    @property
    def line(self) -> Line:
        """The line that is shown."""
        assert self._line is not None
        return self._line

    @property
    def grows(self) -> bool:
        """Whether new rows can be typed or pasted at the end."""
        return self._blank is not None

    def show_rows(self, line: Line | None, rows: Sequence[Any], columns: Sequence[Column]) -> None:
        """Show records of a line; place and selection are kept as far as that is possible."""
        before, after = [row.id for row in self.rows], [row.id for row in rows]
        alike = (
            line is not None
            and self._line is not None
            and line.unit_system == self._line.unit_system
            and tuple(columns) == self.columns
            and after[: len(before)] == before
        )
        if not alike:
            self.beginResetModel()
        elif len(after) > len(before):
            # The empty row at the end becomes the first new record, so the others come after it.
            self.beginInsertRows(
                QModelIndex(), len(before) + self.grows, len(after) - 1 + self.grows
            )
        self._line, self.rows, self.columns = line, tuple(rows), tuple(columns)
        self._cells.clear()
        if not alike:
            self.endResetModel()
            return
        if len(after) > len(before):
            self.endInsertRows()
        if self.columns and self.rowCount():
            last = self.index(self.rowCount() - 1, len(self.columns) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, self.rowCount() - 1)

    def row_at(self, row: int) -> Any:
        """The record of a row; below the last one a new record, with an id below zero."""
        if row < len(self.rows):
            return self.rows[row]
        return dataclasses.replace(self._blank, id=-1 - row)

    def row_name(self, row: int) -> str:
        """What a row is called in a message."""
        return name_of(self.row_at(row)) or f"Row {row + 1}"

    def cell(self, row: int, column: int) -> Cell:
        """What one cell holds."""
        found = self._cells.get((row, column))
        if found is None:
            found = self.columns[column].cell(self.line, self.row_at(row))
            self._cells[row, column] = found
        return found

    def offered(self, index: Index) -> Mapping[str, str]:
        """Texts to choose from in a cell; none where it is typed freely."""
        return self.columns[index.column()].offered(self.line, self.row_at(index.row()))

    def put(self, row: int, column: int) -> Put:
        """What a copy of one cell carries."""
        return Put(self.cell(row, column).text, self.columns[column].exact(self.row_at(row)))

    def request(self, block: Block, name: str, refusal: str) -> bool:
        """Ask for a block of texts to be stored as one step; False if a cell was refused."""
        planned = plan_block(self.line, self.row_at, self.row_name, self.columns, block)
        if planned.faults:
            self.refused.emit(refusal, list(planned.faults))
            return False
        self.edits_requested.emit(planned.edits, name)
        return True

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Ask for one cell to be changed."""
        if not index.isValid() or role != Qt.ItemDataRole.EditRole:
            return False
        at = index.row(), index.column()
        where = f"{self.row_name(at[0])}, {short_heading(self.columns[at[1]], self.line)}"
        return self.request({at: Put(str(value))}, f"Set {where}", f"{where} stays as it was.")

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of records, with the empty row if it grows."""
        if parent.isValid() or self._line is None:
            return 0
        return len(self.rows) + self.grows

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What the view asks about one cell."""
        if not index.isValid() or role not in _ANSWERED:
            return None
        cell = self.cell(index.row(), index.column())
        if index.row() == len(self.rows) and role in (Qt.ItemDataRole.DisplayRole, CELL_ROLE):
            return "" if role == Qt.ItemDataRole.DisplayRole else _NOTHING
        if role == Qt.ItemDataRole.DisplayRole:
            return _displayed(cell)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if self.columns[index.column()].numeric else _LEFT
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.EditRole:
            return cell.text
        return cell.tip or None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Headings above, names or numbers at the left."""
        if orientation == Qt.Orientation.Vertical:
            return self._row_header(section, role)
        if role == Qt.ItemDataRole.DisplayRole:
            return self._heading(self.columns[section])
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._heading_tip(self.columns[section])
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Cells that do not apply can be chosen and copied, not edited."""
        flags = super().flags(index)
        if index.isValid() and self.cell(index.row(), index.column()).applies:
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def _row_header(self, row: int, role: int) -> str | None:
        if role == Qt.ItemDataRole.DisplayRole:
            if self.grows:
                return NEW_ROW if row == len(self.rows) else str(row + 1)
            return name_of(self.rows[row])
        if role == Qt.ItemDataRole.ToolTipRole:
            if row == len(self.rows):
                return "Type here to add one"
            return f"{name_of(self.rows[row])} {getattr(self.rows[row], 'name', '')}".strip()
        return None

    def _heading(self, column: Column) -> str:
        code, meaning, unit = column.heading(self.line)
        lines = [code] if code else []
        lines += textwrap.wrap(
            meaning, _HEADING_WIDTH, break_long_words=False, max_lines=3, placeholder=" …"
        )
        return "\n".join([*lines, f"[{unit}]"] if unit else lines)

    def _heading_tip(self, column: Column) -> str:
        hint = column.hint
        return f"{heading_of(column, self.line)}\n{hint}" if hint else heading_of(column, self.line)


_ANSWERED = {
    Qt.ItemDataRole.DisplayRole,
    Qt.ItemDataRole.EditRole,
    Qt.ItemDataRole.ToolTipRole,
    Qt.ItemDataRole.TextAlignmentRole,
    CELL_ROLE,
}


def _displayed(cell: Cell) -> str:
    if not cell.applies:
        return DASH
    first, _, more = cell.text.partition("\n")
    return f"{DIFFERS if cell.differs else ''}{first}{MORE_LINES if more else ''}"
