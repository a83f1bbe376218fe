"""What one reading found: counts by state, and a row for every setting."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.clipboard_table import write_table
from app.flow_layout import FlowLayout
from app.present_model import COMMISSIONED, HEADINGS, PresentModel, rows_of
from app.present_states import MEANINGS, SHAPES, WORDS, Told
from core.model import Line
from core.readback import PresentSettings, State
from core.readback.present import differing

NOTHING = "Nothing was read yet."
_SIGNS = (11, 16, 19, 18, 13, 14)
"""Width of each column but the last [signs]."""


class ResultPanel(QWidget):
    """Shows a reading whole; what was not read stands in it like everything else.

    Signals:
        rest_asked: What was not read is to be read at the keypads.
    """

    rest_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.present: PresentSettings | None = None
        self._lines: tuple[Line, Line] | None = None
        self._is_revealed = True
        self.head = QLabel(NOTHING)
        self.head.setObjectName("sectionName")
        self.head.setWordWrap(True)
        self.counts = QLabel()
        self.counts.setWordWrap(True)
        self.counts.setTextFormat(Qt.TextFormat.PlainText)
        self.chosen = QComboBox()
        self.chosen.setAccessibleName("Show settings in state")
        self.chosen.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.finder = QLineEdit()
        self.finder.setPlaceholderText("A tag, a code, a value, a reason …")
        self.finder.setClearButtonEnabled(True)
        self.finder.setAccessibleName("Find in what was found")
        self.rest_button = QPushButton("Read the rest at the &keypads")
        self.rest_button.setToolTip("Begins a walk to what was not read; what was read stays")
        self.model = PresentModel(self)
        self.table = self._build_table()
        self._build()
        self.chosen.currentIndexChanged.connect(lambda _place: self._filter())
        self.finder.textChanged.connect(lambda _text: self._filter())
        self.rest_button.clicked.connect(lambda _checked=False: self.rest_asked.emit())
        self.show_result(None, None, None, "")

    def _build(self) -> None:
        label = QLabel("Sho&w")
        label.setBuddy(self.chosen)
        row = QHBoxLayout()
        row.addWidget(label)
        row.addWidget(self.chosen)
        row.addWidget(self.finder, 1)
        rest = FlowLayout()
        rest.addWidget(self.rest_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 2, 6, 2)
        layout.setSpacing(4)
        layout.addWidget(self.head)
        layout.addWidget(self.counts)
        layout.addLayout(row)
        layout.addWidget(self.table, 1)
        layout.addLayout(rest)

    def _build_table(self) -> QTableView:
        view = QTableView()
        view.setModel(self.model)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setWordWrap(False)
        view.setTabKeyNavigation(False)
        view.setAccessibleName("What was found, setting by setting")
        view.verticalHeader().hide()
        view.verticalHeader().setDefaultSectionSize(view.fontMetrics().height() + 8)
        view.horizontalHeader().setStretchLastSection(True)
        sign = view.fontMetrics().averageCharWidth()
        for place, signs in enumerate(_SIGNS):
            view.setColumnWidth(place, signs * sign)
        copy = QAction("Copy", view)
        copy.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copy.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copy.triggered.connect(self.copy)
        view.addAction(copy)
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        return view

    def show_result(
        self,
        present: PresentSettings | None,
        line: Line | None,
        commissioned: Line | None,
        how: str,
        *,
        has_rest: bool = False,
    ) -> None:
        """Show what was found and how; None where nothing was read.

        With ``has_rest`` a walk can go to what was not read.
        """
        self.present = present
        self._lines = None if line is None or commissioned is None else (line, commissioned)
        has_some = present is not None and self._lines is not None
        for widget in (self.counts, self.chosen, self.finder, self.table):
            widget.setEnabled(has_some)
        if present is None or self._lines is None:
            self.head.setText(NOTHING)
            self.counts.setText("")
            self.model.show_rows(())
            self.rest_button.hide()
            return
        self.head.setText(f"Found {how}")
        self._show_rows(present, *self._lines)
        self.rest_button.setVisible(has_rest and present.counts["not_read"] > 0)

    def _show_rows(self, present: PresentSettings, line: Line, commissioned: Line) -> None:
        # Whoever reads without knowing what was commissioned is not told by its mark either.
        differs = differing(commissioned, present) if self._is_revealed else frozenset()
        counts = _counts(present, len(differs))
        self.counts.setText(counts_told(counts, present, line))
        self._show_choices(counts)
        self.model.show_rows(rows_of(line, commissioned, present, differs))

    def reveal(self, is_revealed: bool) -> None:
        """Show or hide the commissioned values, as whoever walks along likes it."""
        self.table.setColumnHidden(COMMISSIONED, not is_revealed)
        if is_revealed != self._is_revealed:
            self._is_revealed = is_revealed
            if self.present is not None and self._lines is not None:
                self._show_rows(self.present, *self._lines)

    def follow(self, key: tuple[int, str]) -> None:
        """Bring the row of a setting into sight, for whoever walks along."""
        place = self.model.place_of(key)
        if place is not None:
            centred = QAbstractItemView.ScrollHint.PositionAtCenter
            self.table.scrollTo(self.model.index(place, 0), centred)

    def copy(self) -> None:
        """Put the chosen rows on the clipboard, with their headings."""
        chosen = sorted(index.row() for index in self.table.selectionModel().selectedRows())
        if chosen:
            rows = [self.model.row(place).texts for place in chosen]
            QGuiApplication.clipboard().setText(write_table([HEADINGS, *rows]))

    def _show_choices(self, counts: Mapping[Told, int]) -> None:
        kept = self.chosen.currentData()
        self.chosen.blockSignals(True)
        self.chosen.clear()
        self.chosen.addItem(f"All ({sum(counts.values())})", "")
        for place, (state, count) in enumerate(counts.items(), start=1):
            self.chosen.addItem(f"{SHAPES[state]} {WORDS[state]} ({count})", state)
            self.chosen.setItemData(place, MEANINGS[state], Qt.ItemDataRole.ToolTipRole)
        self.chosen.setCurrentIndex(max(0, self.chosen.findData(kept)))
        self.chosen.blockSignals(False)
        self._filter()

    def _filter(self) -> None:
        self.model.show_only(str(self.chosen.currentData() or ""), self.finder.text())


def _counts(present: PresentSettings, differs: int) -> dict[Told, int]:
    """How many settings are told in each state; of those read, what differs stands for itself."""
    counts = present.counts
    states: tuple[State, ...] = ("read", "not_read", "refused")
    told: dict[Told, int] = {state: counts[state] for state in states}
    if differs:
        told = {"differs": differs, **told, "read": counts["read"] - differs}
    return told


def counts_told(counts: Mapping[Told, int], present: PresentSettings, line: Line) -> str:
    """How many settings are in each state, and of which stations nothing is known to read."""
    words = {**WORDS, "differs": "differ"}
    told = " · ".join(f"{SHAPES[state]} {count} {words[state]}" for state, count in counts.items())
    if present.without_list:
        tags = [station.tag for station in line.stations if station.id in present.without_list]
        told += f" · ○ no list of settings: {', '.join(tags)}"
    return told
