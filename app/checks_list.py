"""The list of checks: by stage over all stations, or by station as the field sheets go."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLabel,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.checks_model import (
    ANSWER,
    CHECK,
    EXPECTED,
    STAGE,
    STATE,
    STATION,
    CheckDelegate,
    ChecksModel,
    Key,
    key_of,
)
from app.flow_layout import FlowLayout
from app.proved import proved_words
from core.line.checks import STAGE_ORDER, CheckItem, done_share, station_wise
from core.line.checks.listing import STATE_WORDS
from core.model import Line
from core.model.choices import STAGES

ORDERS = {"stage": "By stage, over all stations", "station": "By station, as the field sheets go"}
"""The two orders in which a line is proved."""
SHOWN = {
    "all": "Every state",
    "open": "Open",
    "out": "Out of limits",
    "done": "Done",
}
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_ALL, _LINE = "all", "line"
_SIGNS = {STATE: 24, STATION: 10, STAGE: 19, EXPECTED: 38, ANSWER: 26}
_CHECK_SIGNS, _ROOMY_SIGNS, _NARROW_SIGNS = 30, 170, 130


class _Table(QTableView):
    """The rows; a letter or figure typed here is an answer of the check in hand.

    Signals:
        entered: Enter was pressed.
        typed: A sign was typed.
               arg 0: the sign
        resized: There is another room for the columns.
    """

    entered = Signal()
    typed = Signal(str)
    resized = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell that the columns have to share another width."""
        super().resizeEvent(event)
        self.resized.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tell Enter and signs; everything else is as in any table."""
        plain = event.modifiers() in (
            Qt.KeyboardModifier.NoModifier,
            Qt.KeyboardModifier.KeypadModifier,
        )
        if event.key() in _ENTER:
            self.entered.emit()
        elif plain and event.text().strip() and event.text().isprintable():
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)


class CheckList(QWidget):
    """Filters, how many of the checks are done, and the checks.

    Signals:
        reached: Another check is the current one.
                 arg 0: the `CheckItem`
        entered: Enter was pressed on the current check.
        typed: A sign was typed on the current check.
               arg 0: the sign
    """

    reached = Signal(object)
    entered = Signal()
    typed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: tuple[CheckItem, ...] = ()
        self._line: Line | None = None
        self._key: Key | None = None
        self.order = self._choice("Order", ORDERS)
        self.stage = self._choice("Stage", {})
        self.station = self._choice("Station", {})
        self.shown = self._choice("State", SHOWN)
        self.count = QLabel()
        self.count.setMinimumHeight(self.order.sizeHint().height())
        self.model = ChecksModel(self)
        self.view = _Table()
        self._set_view_up()
        filters = FlowLayout()
        for widget in (self.order, self.stage, self.station, self.shown, self.count):
            filters.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(4, 4, 4, 0)
        layout.setSpacing(4)
        layout.addLayout(filters)
        layout.addWidget(self.view, 1)

    def _choice(self, name: str, words: dict[str, str]) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(name)
        box.setToolTip(name)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength({"Order": 27, "State": 11}.get(name, 19))
        for key, word in words.items():
            box.addItem(word, key)
        box.currentIndexChanged.connect(lambda _index: self._show())
        return box

    def _set_view_up(self) -> None:
        view = self.view
        view.setModel(self.model)
        view.setItemDelegate(CheckDelegate(view))
        view.setAccessibleName("Checks")
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        view.setTabKeyNavigation(False)
        view.setWordWrap(False)
        view.setShowGrid(False)
        view.verticalHeader().hide()
        view.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 6)
        view.horizontalHeader().setHighlightSections(False)
        view.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        view.selectionModel().currentChanged.connect(self._on_current_changed)
        view.doubleClicked.connect(lambda _index: self.entered.emit())
        view.entered.connect(self.entered)
        view.typed.connect(self.typed)
        view.resized.connect(self._fit_columns)

    # --- what is shown ----------------------------------------------------------------------

    @property
    def in_order(self) -> tuple[CheckItem, ...]:
        """The checks of the chosen stage and station in the chosen order, in whatever state."""
        items: Iterable[CheckItem] = self._items
        if self.order.currentData() == "station" and self._line is not None:
            items = (item for _, own in station_wise(items, self._line) for item in own)
        stage, station = self.stage.currentData(), self.station.currentData()
        return tuple(
            item
            for item in items
            if stage in (_ALL, None, item.rule.stage)
            and (station in (_ALL, None) or station == (item.station_id or _LINE))
        )

    @property
    def current(self) -> CheckItem | None:
        """The check in hand."""
        return next((item for item in self._items if key_of(item) == self._key), None)

    def show_items(self, items: Sequence[CheckItem], line: Line) -> None:
        """Show the checks of a line; the one in hand stays."""
        self._items, self._line = tuple(items), line
        stages = {_ALL: "All stages"} | {
            stage: STAGES[stage]
            for stage in STAGE_ORDER
            if any(item.rule.stage == stage for item in items)
        }
        _fill(
            self.stage,
            {
                key: f"{word}{_share(item for item in items if key in (_ALL, item.rule.stage))}"
                for key, word in stages.items()
            },
        )
        _fill(self.station, self._stations())
        self._show()

    def _stations(self) -> dict[object, str]:
        found: dict[object, str] = {_ALL: f"All stations{_share(self._items)}"}
        assert self._line is not None
        for station, own in station_wise(self._items, self._line):
            if station is None:
                found[_LINE] = f"Line as a whole{_share(own)}"
                continue
            words = f"{station.tag} {station.name}{_share(own)}"
            proved = proved_words(self._items, station.id)
            found[station.id] = ", ".join(filter(None, (words, proved)))
        return found

    def _show(self) -> None:
        """Show what the filters let through, and the check in hand whatever they say."""
        if self._line is None:
            return
        wanted = self.shown.currentData()
        every = self.in_order
        items = [
            item
            for item in every
            if wanted == "all"
            or key_of(item) == self._key
            or (item.is_done if wanted == "done" else item.state == wanted)
        ]
        self.view.selectionModel().blockSignals(True)
        self.model.show_items(items, self._line.unit_system)
        self.view.selectionModel().blockSignals(False)
        out = sum(item.state == "out" for item in every)
        told = f"✗ {out} {STATE_WORDS['out']}" if out else ""
        done, of = done_share(every)
        self.count.setText(" ".join(filter(None, (f"{done} of {of} done.", told))))
        if not self._reselect() and items:
            self.go_to(key_of(next((i for i in items if i.state == "open"), items[0])))

    def _reselect(self) -> bool:
        row = self.model.row_of(self._key) if self._key is not None else -1
        if row < 0:
            return False
        choice = self.view.selectionModel()
        choice.blockSignals(True)
        choice.setCurrentIndex(
            self.model.index(row, max(0, self.view.currentIndex().column())),
            QItemSelectionModel.SelectionFlag.ClearAndSelect
            | QItemSelectionModel.SelectionFlag.Rows,
        )
        choice.blockSignals(False)
        self._bring_in_sight()
        self.view.viewport().update()
        return True

    def _bring_in_sight(self) -> None:
        """Have the current row wholly in sight, with what stands before and after it."""
        here = self.view.currentIndex()
        if not self.view.viewport().rect().contains(self.view.visualRect(here).center()):
            self.view.scrollTo(here, QAbstractItemView.ScrollHint.PositionAtCenter)
        else:
            self.view.scrollTo(here)

    # --- going through ----------------------------------------------------------------------

    def go_to(self, key: Key) -> None:
        """Take a check in hand; one that the filters hide is shown all the same."""
        before, self._key = self._key, key
        if not self._reselect():
            self._show()
        item = self.current
        if item is not None and key != before:
            self.reached.emit(item)

    def step(self, by: int) -> bool:
        """Take the check before or after in hand; False at the end of the list."""
        keys = [key_of(item) for item in self.in_order]
        at = keys.index(self._key) + by if self._key in keys else 0
        if not 0 <= at < len(keys):
            return False
        self.go_to(keys[at])
        return True

    def next_open(self) -> CheckItem | None:
        """The next check that nobody has answered, from the one in hand on and around."""
        items = self.in_order
        keys = [key_of(item) for item in items]
        at = keys.index(self._key) + 1 if self._key in keys else 0
        return next((item for item in (*items[at:], *items[:at]) if item.state == "open"), None)

    def _on_current_changed(self, now: QModelIndex, _before: QModelIndex) -> None:
        if now.isValid():
            self.go_to(key_of(self.model.items[now.row()]))

    def _fit_columns(self) -> None:
        """Share the width out; where there is little of it, stage and limits stay away."""
        wide = self.fontMetrics().averageCharWidth()
        roomy = self.width() > _ROOMY_SIGNS * wide
        self.view.setColumnHidden(EXPECTED, not roomy)
        self.view.setColumnHidden(STAGE, self.width() < _NARROW_SIGNS * wide)
        held = [
            column for column in range(self.model.columnCount())
            if column != CHECK and not self.view.isColumnHidden(column)
        ]  # fmt: skip
        for column in held:
            self.view.setColumnWidth(column, _SIGNS[column] * wide)
        left = self.view.viewport().width() - sum(map(self.view.columnWidth, held))
        self.view.setColumnWidth(CHECK, max(_CHECK_SIGNS * wide, left))
        self._bring_in_sight()


def _share(items: Iterable[CheckItem]) -> str:
    done, of = done_share(items)
    return f" ({done} of {of})"


def _fill(box: QComboBox, words: dict[object, str] | dict[str, str]) -> None:
    """Put words into a box, the chosen one kept."""
    held = {box.itemData(place): box.itemText(place) for place in range(box.count())}
    if held == words and list(held) == list(words):
        return
    kept = box.currentData()
    box.blockSignals(True)
    box.clear()
    for key, word in words.items():
        box.addItem(word, key)
    box.setCurrentIndex(max(0, box.findData(kept)))
    box.view().setMinimumWidth(box.view().sizeHintForColumn(0) + 24)
    box.blockSignals(False)
