"""What the rules say about the plan, and in a trial what came and went against the file."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.finding_cards import FindingCard
from core.line.findings import PLAN_RULES, Finding, Findings
from core.line.findings.base import LEVEL_WORDS
from core.records.consequences import Consequence
from core.units import System


def of_plan(findings: Findings) -> list[Finding]:
    """The findings about flow, plan and pairs."""
    return [entry for entry in findings.found if entry.key in PLAN_RULES]


class PlanFindings(QScrollArea):
    """A card for each finding about the plan.

    Signals:
        asked: The field of a finding is to be shown.
               arg 0: the `Finding`
        accepted: Somebody accepts a finding.
                  arg 0: the `Finding`, arg 1: name, arg 2: reason, arg 3: day
    """

    asked = Signal(object)
    accepted = Signal(object, str, str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._told: tuple[object, ...] | None = None
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.cards: list[FindingCard] = []

    def show_findings(self, findings: Findings, system: System) -> None:
        """Show what the rules say; the same as before stays as it stands."""
        shown = of_plan(findings)
        held = [findings.accepted.get(entry.mark) for entry in shown]
        told = ([entry.mark for entry in shown], held, system)
        if told == self._told:
            return
        self._told = told
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 4, 8, 4)
        self.cards = []
        for entry, acceptance in zip(shown, held, strict=True):
            card = FindingCard(entry, system, acceptance, with_tag=True)
            card.asked.connect(self.asked)
            card.accepted.connect(self.accepted)
            self.cards.append(card)
            column.addWidget(card)
        column.addStretch(1)
        self.setWidget(content)


class TrialTable(QTableWidget):
    """What the trial changes, and what follows: figures, findings that came, findings that went.

    Signals:
        station_chosen: Enter or a double click on a row of a station.
                        arg 0: its tag
    """

    station_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, 3, parent)
        self.setHorizontalHeaderLabels(["Station", "", "Trial against the file"])
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        wide = self.fontMetrics().averageCharWidth()
        self.setColumnWidth(0, 9 * wide)
        self.setColumnWidth(1, 16 * wide)
        self.setAccessibleName("What the trial changes against the file")
        self.cellActivated.connect(self._on_activated)

    def show_consequences(self, held: Sequence[Consequence], system: System) -> None:
        """Show what follows, place by place, the gravest first."""
        rows = [(entry.tag, *told) for entry in held for told in _told(entry, system)]
        self.setRowCount(len(rows))
        for row, texts in enumerate(rows):
            for column, text in enumerate(texts):
                self.setItem(row, column, QTableWidgetItem(text))
        self.resizeRowsToContents()

    def _on_activated(self, row: int, _column: int) -> None:
        item = self.item(row, 0)
        if item is not None and item.text():
            self.station_chosen.emit(item.text())


def _told(held: Consequence, system: System) -> list[tuple[str, str]]:
    return [
        *(("≠ changed", change.sentence()) for change in held.causes),
        *(("→ follows", effect.words(system)) for effect in held.effects),
        *(("✗ now says", _finding(entry, system)) for entry in held.came),
        *(("✓ no longer", _finding(entry, system)) for entry in held.went),
    ]


def _finding(entry: Finding, system: System) -> str:
    return f"{LEVEL_WORDS[entry.level]}: {entry.says(system)}"
