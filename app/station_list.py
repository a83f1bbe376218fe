"""The stations in flow order, with their state, and a box that finds anything in the file."""

from collections.abc import Callable

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QLineEdit,
    QListView,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.finding import find
from app.flow_layout import FlowLayout
from app.session import Session
from app.station_rows import StationDelegate, StationListModel
from core.line import LineResults
from core.store import actions


class FindBox(QLineEdit):
    """A line to type what is looked for; the down key goes into what was found.

    Signals:
        down: The arrow down was pressed.
        entered: Enter was pressed.
        given_up: Esc was pressed.
    """

    down = Signal()
    entered = Signal()
    given_up = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tell the keys that mean something here."""
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.clear()
            self.given_up.emit()
        else:
            super().keyPressEvent(event)


class StationList(QWidget):
    """The list of stations with what can be done to it.

    Signals:
        chosen: Another station is chosen.
                arg 0: its id
        found: A found field is to be shown.
               arg 0: the `Found`
    """

    chosen = Signal(int)
    found = Signal(object)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.model = StationListModel(self)
        self.finder = FindBox()
        self.finder.setPlaceholderText("Find (Ctrl+F)")
        self.finder.setClearButtonEnabled(True)
        self.finder.setAccessibleName("Find in the whole file")
        self.hits = QListWidget()
        self.hits.setAccessibleName("Found")
        self.hits.setWordWrap(True)
        self.hits.hide()
        self.view = QListView()
        self.view.setModel(self.model)
        self.view.setItemDelegate(StationDelegate(self.view))
        self.view.setAccessibleName("Stations in flow order")
        self.view.setUniformItemSizes(True)
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        buttons = FlowLayout(gap=2)
        self.add_button = self._button(buttons, "Add station", "", self.add)
        self._button(buttons, "Move up", "Alt+Up", lambda: self.move_current(-1))
        self._button(buttons, "Move down", "Alt+Down", lambda: self.move_current(1))
        self._button(buttons, "Remove", "Ctrl+Del", self.remove)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.finder)
        layout.addWidget(self.hits, 1)
        layout.addWidget(self.view, 1)
        layout.addLayout(buttons)
        self._connect()

    def _connect(self) -> None:
        self.view.selectionModel().currentChanged.connect(self._on_current_changed)
        self.finder.textChanged.connect(self._on_looked_for)
        self.finder.down.connect(self._on_down)
        self.finder.entered.connect(self._on_entered)
        self.finder.given_up.connect(self.view.setFocus)
        self.hits.itemActivated.connect(self._on_hit)
        self.hits.itemClicked.connect(self._on_hit)

    def _button(
        self, row: FlowLayout, text: str, keys: str, slot: Callable[[], object]
    ) -> QToolButton:
        action = QAction(text, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.setToolTip(f"{text} ({keys})" if keys else text)
        action.triggered.connect(lambda _checked=False: slot())
        self.view.addAction(action)
        button = QToolButton()
        button.setDefaultAction(action)
        row.addWidget(button)
        return button

    @property
    def current_id(self) -> int | None:
        """Id of the chosen station."""
        row = self.view.currentIndex().row()
        return self.model.results[row].station.id if row >= 0 else None

    def show_results(self, results: LineResults | None, station_id: int | None) -> None:
        """Show the stations, one of them chosen."""
        self.model.show_results(results)
        row = -1 if station_id is None else self.model.row_of(station_id)
        if row >= 0 and row != self.view.currentIndex().row():
            choice = self.view.selectionModel()
            choice.blockSignals(True)
            choice.setCurrentIndex(
                self.model.index(row), QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
            choice.blockSignals(False)
            self.view.scrollTo(self.model.index(row))
            self.view.viewport().update()
        if not self.hits.isHidden():
            self._on_looked_for(self.finder.text())

    def choose(self, station_id: int) -> None:
        """Choose a station as if it were clicked."""
        row = self.model.row_of(station_id)
        if row >= 0:
            self.view.setCurrentIndex(self.model.index(row))

    def step(self, by: int) -> None:
        """Choose the station before or after."""
        row = self.view.currentIndex().row() + by
        if 0 <= row < self.model.rowCount():
            self.view.setCurrentIndex(self.model.index(row))

    def add(self) -> None:
        """Add a station behind the chosen one, or at the end, and choose it."""
        row = self.view.currentIndex().row()
        made = self.session.do(actions.add_station, row + 1 if row >= 0 else None)
        if made is not None:
            self.choose(made)
            self.chosen.emit(made)

    def remove(self) -> None:
        """Remove the chosen station; undo brings it back."""
        if self.current_id is not None:
            self.session.do(actions.remove_station, self.current_id)

    def move_current(self, by: int) -> None:
        """Move the chosen station up or down in the order."""
        row = self.view.currentIndex().row()
        if row >= 0 and 0 <= row + by < self.model.rowCount():
            self.session.do(actions.move_record, "station", self.current_id, row + by)

    def look_for(self) -> None:
        """Put the focus into the find box."""
        self.finder.setFocus()
        self.finder.selectAll()

    def _on_current_changed(self, now: QModelIndex, _before: QModelIndex) -> None:
        if now.isValid():
            self.chosen.emit(self.model.results[now.row()].station.id)

    def _on_looked_for(self, text: str) -> None:
        looking = bool(text.strip())
        self.hits.setVisible(looking)
        self.view.setVisible(not looking)
        self.hits.clear()
        if not looking or not self.session.is_open:
            return
        for place in find(self.session.line, text):
            item = QListWidgetItem(f"{place.where}\n    {place.text[:80]}")
            item.setData(Qt.ItemDataRole.UserRole, place)
            self.hits.addItem(item)
        if not self.hits.count():
            nothing = QListWidgetItem("Nothing found")
            nothing.setFlags(Qt.ItemFlag.NoItemFlags)
            self.hits.addItem(nothing)
        self.hits.setCurrentRow(0)

    def _on_down(self) -> None:
        (self.view if self.hits.isHidden() else self.hits).setFocus()

    def _on_entered(self) -> None:
        item = self.hits.currentItem()
        if not self.hits.isHidden() and item is not None:
            self._on_hit(item)

    def _on_hit(self, item: QListWidgetItem) -> None:
        place = item.data(Qt.ItemDataRole.UserRole)
        if place is not None:
            self.found.emit(place)
