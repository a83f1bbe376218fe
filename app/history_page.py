"""The page that tells who changed what, when, from what to what."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.clipboard_table import write_table
from app.history_rows import ShownChange, shown_changes
from app.page import Page
from app.session import Session

Index = QModelIndex | QPersistentModelIndex
HEADINGS = ("When", "Who", "Step", "Where", "What", "From", "To")
_WIDTHS = (150, 80, 190, 80, 230, 190, 190)
_FIRST_READ = 2000


class HistoryModel(QAbstractTableModel):
    """Changes as frozen rows, and which of them match the text that is looked for."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: Sequence[ShownChange] = ()
        self._found: list[int] = []
        self._wanted: tuple[str, ...] = ()

    def show_rows(self, rows: Sequence[ShownChange]) -> None:
        """Replace everything that is shown; the text looked for stays."""
        self.beginResetModel()
        self._rows = rows
        self._find()
        self.endResetModel()

    def look_for(self, text: str) -> None:
        """Show only changes in which every word of the text occurs."""
        self.beginResetModel()
        self._wanted = tuple(text.casefold().split())
        self._find()
        self.endResetModel()

    def shown_row(self, row: int) -> ShownChange:
        """The change in one row of the view."""
        return self._rows[self._found[row]]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of changes that match."""
        return 0 if parent.isValid() else len(self._found)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What the view asks about one cell."""
        if not index.isValid():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return self.shown_row(index.row()).texts[index.column()]
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Headings above; nothing at the left."""
        if orientation == Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return HEADINGS[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None

    def _find(self) -> None:
        self._found = [
            place
            for place, row in enumerate(self._rows)
            if all(word in row.haystack for word in self._wanted)
        ]


class HistoryPage(Page):
    """Every change to the file, newest first, with a box to find some of them."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.model = HistoryModel(self)
        self.finder = QLineEdit()
        self.finder.setPlaceholderText("A tag, a field, a value, a name …")
        self.finder.setClearButtonEnabled(True)
        self.finder.setAccessibleName("Find in the history")
        self.counted = QLabel()
        self.older = QPushButton("Show older changes")
        self.view = self._build_view()
        self._newest = _FIRST_READ

        label = QLabel("&Find")
        label.setBuddy(self.finder)
        head = QHBoxLayout()
        for widget in (label, self.finder):
            head.addWidget(widget)
        head.addWidget(self.counted)
        head.addWidget(self.older)
        layout = QVBoxLayout(self)
        layout.addLayout(head)
        layout.addWidget(self.view, 1)
        self.finder.textChanged.connect(self._on_looked_for)
        self.older.clicked.connect(self._on_older)
        self.catch_up()

    def _build_view(self) -> QTableView:
        view = QTableView()
        view.setModel(self.model)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setWordWrap(False)
        view.setTabKeyNavigation(False)
        view.setAccessibleName("Changes, newest first")
        view.verticalHeader().hide()
        view.verticalHeader().setDefaultSectionSize(view.fontMetrics().height() + 8)
        view.horizontalHeader().setStretchLastSection(True)
        for place, width in enumerate(_WIDTHS):
            view.setColumnWidth(place, width)
        copy = QAction("Copy", view)
        copy.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copy.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copy.triggered.connect(self.copy)
        view.addAction(copy)
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        return view

    def show_line(self) -> None:
        """Read the history of the open file anew."""
        if not self.session.is_open:
            self.model.show_rows(())
            self.older.hide()
            return
        rows = self.session.book.history(self._newest)
        self.model.show_rows(shown_changes(rows, self.session.line))
        self.older.setVisible(len(rows) == self._newest)
        self._count()

    def copy(self) -> None:
        """Put the chosen changes on the clipboard, with their headings."""
        chosen = sorted(index.row() for index in self.view.selectionModel().selectedRows())
        if chosen:
            rows = [self.model.shown_row(row).texts for row in chosen]
            QGuiApplication.clipboard().setText(write_table([HEADINGS, *rows]))

    def _count(self) -> None:
        count = self.model.rowCount()
        self.counted.setText("1 change" if count == 1 else f"{count} changes")

    def _on_looked_for(self, text: str) -> None:
        self.model.look_for(text)
        self._count()

    def _on_older(self) -> None:
        self._newest *= 5
        self.show_line()
