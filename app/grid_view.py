"""The grid's view: how cells look, how they are edited, how the keyboard walks through them."""

from PySide6.QtCore import QAbstractItemModel, QEvent, QItemSelection, QItemSelectionModel, Qt
from PySide6.QtGui import QBrush, QFont, QKeyEvent, QPalette
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.grid_model import CELL_ROLE, GridModel, Index

_NARROWEST, _WIDEST, _MARGIN = 48, 260, 18
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class GridDelegate(QStyledItemDelegate):
    """Draws cells that do not apply hatched, and edits the others as text or from a list.

    ``taken`` says whether the last text was taken.
    """

    taken = True

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Make values other than the factory's bold, and what does not apply hatched."""
        super().initStyleOption(option, index)
        cell = index.data(CELL_ROLE)
        if cell is None:
            return
        if not cell.applies:
            grey = option.palette.color(QPalette.ColorRole.Mid)
            option.backgroundBrush = QBrush(grey, Qt.BrushStyle.BDiagPattern)
        elif cell.differs:
            font = QFont(option.font)
            font.setBold(True)
            option.font = font

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """A list where there is something to choose from, else a line to type in."""
        self.taken = True
        offered = _grid_model(index.model()).offered(index)
        if not offered:
            line = QLineEdit(parent)
            line.setFrame(False)
            return line
        box = QComboBox(parent)
        for text, words in offered.items():
            box.addItem(words, text)
        box.activated.connect(lambda _place: self._finish(box))
        return box

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the text of the cell in its editor."""
        text = index.data(Qt.ItemDataRole.EditRole)
        if isinstance(editor, QComboBox):
            editor.setCurrentIndex(max(0, editor.findData(text)))
        elif isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(text)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Hand what was typed or chosen to the model, if it is another text than before."""
        text = editor.currentData() if isinstance(editor, QComboBox) else _text(editor)
        self.taken = text == index.data(Qt.ItemDataRole.EditRole) or model.setData(index, text)

    def _finish(self, box: QComboBox) -> None:
        self.commitData.emit(box)
        self.closeEditor.emit(box, QAbstractItemDelegate.EndEditHint.NoHint)


class GridView(QTableView):
    """A table whose Enter key edits, and after an entry goes on to the cell below."""

    def __init__(self, model: GridModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setModel(model)
        self.delegate = GridDelegate(self)
        self.setItemDelegate(self.delegate)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(True)
        self.setWordWrap(False)
        self.setAccessibleName("Stations by columns")
        self.horizontalHeader().setHighlightSections(True)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 10)

    def fit_columns(self) -> None:
        """Make columns as wide as their longest text, within bounds.

        The longest text by its number of signs stands for the widest one, which spares measuring
        every cell.
        """
        model, metrics = _grid_model(self.model()), self.fontMetrics()
        for place in range(model.columnCount()):
            texts = [model.cell(row, place).text for row in range(model.rowCount())]
            head = str(model.headerData(place, Qt.Orientation.Horizontal))
            widest = max(
                metrics.horizontalAdvance(f"≠ {max(texts, key=len, default='')}"),
                *(metrics.horizontalAdvance(line) for line in head.split("\n")),
            )
            self.setColumnWidth(place, min(max(widest + _MARGIN, _NARROWEST), _WIDEST))

    def selected_block(self) -> tuple[int, int, int, int] | None:
        """Top row, left column, number of rows and columns of the selection."""
        chosen = self.selectedIndexes()
        if not chosen:
            return None
        rows = [index.row() for index in chosen]
        columns = [index.column() for index in chosen]
        top, left = min(rows), min(columns)
        return top, left, max(rows) - top + 1, max(columns) - left + 1

    def select_block(self, top: int, left: int, rows: int, columns: int) -> None:
        """Select a rectangle of cells."""
        model = self.model()
        block = QItemSelection(
            model.index(top, left), model.index(top + rows - 1, left + columns - 1)
        )
        self.selectionModel().select(block, QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter edits the cell, Esc leaves the grid; everything else as in any table."""
        if event.key() in _ENTER and self.state() != QAbstractItemView.State.EditingState:
            self.edit(self.currentIndex())
            return
        if event.key() == Qt.Key.Key_Escape and self.tabKeyNavigation():
            self._leave()
            return
        super().keyPressEvent(event)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """Go on after an entry that was taken, with Enter to the cell below; else stay."""
        hints = QAbstractItemDelegate.EndEditHint
        super().closeEditor(editor, hint if self.delegate.taken else hints.NoHint)
        if hint == hints.SubmitModelCache and self.delegate.taken:
            here = self.currentIndex()
            below = here.siblingAtRow(here.row() + 1)
            if below.isValid():
                self.setCurrentIndex(below)

    def event(self, event: QEvent) -> bool:
        """Keep the row height in step with the font."""
        if event.type() == QEvent.Type.FontChange:
            self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 10)
        return super().event(event)

    def _leave(self) -> None:
        # While Tab walks through the cells it is the way to the widget before as well.
        self.setTabKeyNavigation(False)
        self.focusPreviousChild()
        self.setTabKeyNavigation(True)


def _grid_model(model: QAbstractItemModel) -> GridModel:
    assert isinstance(model, GridModel)
    return model


def _text(editor: QWidget) -> str:
    assert isinstance(editor, QLineEdit)
    return editor.text()
