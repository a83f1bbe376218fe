"""The pairs of a plan as a table, and below it what makes the chosen one unsure."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from core.line.pairs import PairResult
from core.sheets.words import words_in

_HEADINGS = (
    "Pair", "First", "Second", "Wanted\n%", "±\n%", "Planned\n%", "± (k = 2)\n%", "Now\n%",
    "Leaves band", "Verdict",
)  # fmt: skip
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_say = words_in("en")


class PairsTable(QWidget):
    """Pairs with their verdict in words; the chosen one tells its budget and what would hold it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pairs: Sequence[PairResult] = ()
        self.table = QTableWidget()
        self.table.setColumnCount(len(_HEADINGS))
        self.table.setHorizontalHeaderLabels(list(_HEADINGS))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.setAccessibleName("Pairs held at a ratio")
        self.table.currentCellChanged.connect(lambda *_cell: self._tell())
        self.detail = QLabel()
        self.detail.setTextFormat(Qt.TextFormat.PlainText)
        self.detail.setWordWrap(True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.detail)

    def show_pairs(self, pairs: Sequence[PairResult]) -> None:
        """Show the pairs of a plan."""
        self._pairs = pairs
        self.table.setRowCount(len(pairs))
        for row, held in enumerate(pairs):
            for place, (text, right) in enumerate(_cells(held)):
                item = QTableWidgetItem(text)
                if right:
                    item.setTextAlignment(_RIGHT)
                self.table.setItem(row, place, item)
        self._tell()

    def _tell(self) -> None:
        row = max(0, self.table.currentRow())
        self.detail.setText(_detail(self._pairs[row]) if row < len(self._pairs) else "")


def _cells(held: PairResult) -> list[tuple[str, bool]]:
    band = None if held.u is None else 2.0 * held.u
    chance = "–" if held.chance_outside is None else f"{held.chance_outside * 100.0:.1f} %"
    verdict = {True: "pair_holds", False: "pair_fails", None: "pair_open"}[held.holds]
    return [
        (held.pair.name, False),
        (held.first.result.tag, False),
        (held.second.result.tag, False),
        *((_share(value), True) for value in
          (held.wanted, held.tolerance, held.planned, band, held.present)),
        (chance, True),
        (_say(verdict), False),
    ]  # fmt: skip


def _share(value: float | None) -> str:
    return "–" if value is None else f"{value * 100.0:.2f}"


def _detail(held: PairResult) -> str:
    if held.problem:
        return held.problem
    if held.u is None:
        return "What makes it unsure is not known: both references and motors are needed."
    parts = ", ".join(f"{name} {share * 100.0:.0f} %" for name, share in held.parts)
    text = f"Unsure by (share of the variance): {parts}."
    for remedy in held.remedies:
        words = _say(f"remedy_{remedy.key}")
        text += f"\n{words}: ± {200.0 * remedy.u:.2f} %"
    return text
