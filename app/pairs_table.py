"""The pairs of a plan as a table, and below it what makes the chosen one unsure."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.theme import colours
from core.line.pairs import PairResult
from core.sheets.words import words_in

_DIFFERS, _NONE = "≠", "–"
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_VERDICTS: Mapping[bool | None, str] = {True: "pair_holds", False: "pair_fails", None: "pair_open"}
_say = words_in("en")


@dataclass(frozen=True, slots=True)
class _Column:
    """``text`` gives a cell's words; a computed one looks unlike what was entered."""

    heading: str
    text: Callable[[PairResult], str]
    is_number: bool = False
    is_computed: bool = False
    of_file: bool = False


def _share(value: float | None) -> str:
    return _NONE if value is None else f"{value * 100.0:.2f}"


def _chance(value: float | None) -> str:
    """To a tenth of a per cent: further figures would claim what nobody knows."""
    if value is None:
        return _NONE
    return "< 0.1" if value < 0.0005 else f"{value * 100.0:.1f}"


def _band(held: PairResult) -> str:
    return _share(None if held.u is None else 2.0 * held.u)


def _verdict(held: PairResult) -> str:
    """Whether its wiring can hold it; and if it is set elsewhere now, that too."""
    words = _say(_VERDICTS[held.holds])
    return f"{words}; {_say('pair_outside_now')}" if held.is_set_within is False else words


def _now(held: PairResult) -> str:
    return _share(held.present)


_COLUMNS = (
    _Column("Pair", lambda held: held.pair.name),
    _Column("First", lambda held: held.first.result.tag),
    _Column("Second", lambda held: held.second.result.tag),
    _Column("Wanted\n%", lambda held: _share(held.wanted), True),
    _Column("±\n%", lambda held: _share(held.tolerance), True),
    _Column("Planned\n%", lambda held: _share(held.planned), True, True),
    _Column("± (k = 2)\n%", _band, True, True),
    _Column("Now\n%", _now, True, True),
    _Column("Leaves band\n%", lambda held: _chance(held.chance_outside), True, True),
    _Column("Verdict", _verdict, is_computed=True),
)
_OF_FILE = (
    _Column("File now\n%", _now, True, True, True),
    _Column("File verdict", _verdict, False, True, True),
)


class PairsTable(QWidget):
    """Pairs with their verdict in words; the chosen one tells its budget and what would hold it.

    Signals:
        pair_chosen: Enter or a double click on a pair.
                     arg 0: its id
    """

    pair_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pairs: Sequence[PairResult] = ()
        self.table = QTableWidget()
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.setAccessibleName("Pairs held at a ratio")
        self.table.currentCellChanged.connect(lambda *_cell: self._tell())
        self.table.cellActivated.connect(
            lambda row, _column: self.pair_chosen.emit(self._pairs[row].pair.id)
        )
        self.detail = QLabel()
        self.detail.setTextFormat(Qt.TextFormat.PlainText)
        self.detail.setWordWrap(True)
        self.detail.setContentsMargins(6, 0, 6, 4)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.detail)

    def show_pairs(
        self, pairs: Sequence[PairResult], of_file: Sequence[PairResult] | None = None
    ) -> None:
        """Show the pairs of a plan; beside them, in a trial, what the file itself gives."""
        self._pairs = pairs
        columns = (*_COLUMNS, *(_OF_FILE if of_file is not None else ()))
        others = {held.pair.id: held for held in of_file or ()}
        self._head(columns)
        self.table.setRowCount(len(pairs))
        for row, held in enumerate(pairs):
            for place, column in enumerate(columns):
                self.table.setItem(row, place, _item(column, held, others.get(held.pair.id)))
        self._tell()

    def _head(self, columns: Sequence[_Column]) -> None:
        if self.table.columnCount() == len(columns):
            return
        self.table.setColumnCount(len(columns))
        self.table.setHorizontalHeaderLabels([column.heading for column in columns])
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(9 * self.fontMetrics().averageCharWidth())

    def _tell(self) -> None:
        row = max(0, self.table.currentRow())
        self.detail.setText(_detail(self._pairs[row]) if row < len(self._pairs) else _NO_PAIRS)


_NO_PAIRS = "No pair has been entered; pairs are entered on the page Line."


def _item(column: _Column, held: PairResult, other: PairResult | None) -> QTableWidgetItem:
    text = column.text(held)
    if column.of_file:
        here, text = text, _NONE if other is None else column.text(other)
        text = text if text == here else f"{_DIFFERS} {text}"
    item = QTableWidgetItem(text)
    if column.is_number:
        item.setTextAlignment(_RIGHT)
    if column.is_computed:
        item.setBackground(QColor(colours().computed))
        item.setForeground(QColor(colours().computed_text))
        font = item.font()
        font.setItalic(True)
        item.setFont(font)
    return item


def _detail(held: PairResult) -> str:
    if held.problem:
        return held.problem
    if held.u is None:
        return "What makes it unsure is not known: both references and motors are needed."
    parts = ", ".join(f"{name} {share * 100.0:.0f} %" for name, share in held.parts)
    lines = [
        "Differential = (first − second) / mean of both. "
        f"Unsure by, as share of the variance: {parts}."
    ]
    if held.assumed:
        entries = (f"{entry.part} ± {entry.half_width * 100.0:g} %" for entry in held.assumed)
        lines.append(_say("pair_assumed", parts=", ".join(entries)))
    for remedy in held.remedies:
        lines.append(f"→ {_say(f'remedy_{remedy.key}')}: ± {200.0 * remedy.u:.2f} %")
    return "\n".join(lines)
