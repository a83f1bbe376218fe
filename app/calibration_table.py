"""The table of readings of one calibration, with who reads and by what typed once for all."""

from collections.abc import Iterable
from typing import Any

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QBrush, QColor, QPalette
from PySide6.QtWidgets import QAbstractItemView, QStyleOptionViewItem, QVBoxLayout, QWidget

from app.calibration_rows import (
    BLANK,
    COLUMNS,
    FREQUENCY,
    READINGS,
    ComputedColumn,
    PointRow,
    rows_of,
)
from app.grid_columns import FieldEdit
from app.grid_model import GridModel, Index
from app.inputs import LineInput
from app.records_table import PageTable, ProposingDelegate
from app.settling import Settling
from app.theme import colours
from core.line.calibrating import Calibration
from core.line.checks.instruments import called
from core.model import Line

_TYPED_SIGNS = 12
"""Room to type in."""


class PointsModel(GridModel):
    """Readings; what follows from them cannot be edited."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(BLANK, parent)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """What is computed can be chosen and copied."""
        flags = super().flags(index)
        if index.isValid() and isinstance(self.columns[index.column()], ComputedColumn):
            return flags & ~Qt.ItemFlag.ItemIsEditable
        return flags


class PointsDelegate(ProposingDelegate):
    """Draws what is computed on its tinted ground in italics."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Make computed cells unlike typed ones."""
        super().initStyleOption(option, index)
        model = index.model()
        assert isinstance(model, GridModel)
        if isinstance(model.columns[index.column()], ComputedColumn):
            look = colours()
            option.backgroundBrush = QBrush(QColor(look.computed))
            option.palette.setColor(QPalette.ColorRole.Text, QColor(look.computed_text))
            option.font.setItalic(True)


class CalibrationTable(Settling):
    """Readings up and down; an empty row stands for each place that is still to be read.

    Signals:
        entered: Readings were typed.
                 arg 0: list of id of the point (0 for a new one) and its values,
                 arg 1: name of the step
    """

    entered = Signal(list, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line: Line | None = None
        self.person, self.instrument = LineInput(), LineInput()
        self.model = PointsModel(self)
        self.grid = PageTable(self.model, "Readings, up and down")
        self.view = self.grid.view
        offers = {"person": self._people, "instrument": self._instruments}
        self.view.delegate = PointsDelegate(offers, self.view)
        self.view.setItemDelegate(self.view.delegate)
        self.person.set_offers(self._people)
        self.instrument.set_offers(self._instruments)
        for field in (self.person, self.instrument):
            field.setToolTip("Goes with every reading that is typed from now on")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.grid)
        self.model.edits_requested.connect(self._on_edits_requested)

    def show_calibration(self, line: Line, calibration: Calibration) -> None:
        """Show the readings of one station in one state."""
        self._line = line
        before = [self.view.columnWidth(place) for place in range(self.model.columnCount())]
        self.grid.show_rows(line, rows_of(calibration), COLUMNS)
        self._fit_columns(before)

    def commit(self) -> None:
        """Store what is typed in a cell, as leaving it would."""
        if self.view.state() == QAbstractItemView.State.EditingState:
            # The editor takes the loss of its focus for the end of the entry.
            self.view.setFocus()

    def propose(self, person: str, instrument: str) -> None:
        """Put in who reads and by what, where nobody typed it yet."""
        for field, words in ((self.person, person), (self.instrument, instrument)):
            if not field.text().strip():
                field.show_text(words, "")

    def go_to_first_open(self) -> None:
        """Make the first place without a frequency the current cell."""
        rows = self.model.rows
        open_ones = [place for place, row in enumerate(rows) if row.point.frequency_hz is None]
        place = open_ones[0] if open_ones else 0
        self._fit_columns([])
        self.view.setCurrentIndex(self.model.index(place, FREQUENCY))
        self._to_left()
        # Once more when it has its width: before, the view scrolls the cell into the little it has.
        QTimer.singleShot(0, self, self._to_left)
        if not self.view.hasFocus():
            self.view.clearSelection()

    def _to_left(self) -> None:
        self.view.horizontalScrollBar().setValue(0)

    def _fit_columns(self, at_least: list[int]) -> None:
        """Make room for what is shown; a column that somebody widened stays so."""
        self.view.fit_columns()
        sign = self.fontMetrics().averageCharWidth()
        for place, column in enumerate(self.model.columns):
            typed = 0 if isinstance(column, ComputedColumn) else _TYPED_SIGNS * sign
            kept = at_least[place] if place < len(at_least) else 0
            self.view.setColumnWidth(place, max(typed, kept, self.view.columnWidth(place)))
        self.grid.fit_height()

    def _people(self) -> Iterable[str]:
        return () if self._line is None else (held.name for held in self._line.people)

    def _instruments(self) -> Iterable[str]:
        if self._line is None:
            return ()
        return (called(held) for held in self._line.instruments)

    def _on_edits_requested(self, edits: Iterable[FieldEdit], name: str) -> None:
        by_row: dict[int, dict[str, Any]] = {}
        for edit in edits:
            by_row.setdefault(edit.record_id, {}).update(edit.values)
        rows = {row.id: row for row in self.model.rows}
        told = [
            self._told(rows.get(row_id, BLANK), values)
            for row_id, values in by_row.items()
            if values
        ]
        if told:
            self.entered.emit(told, name)

    def _told(self, row: PointRow, values: dict[str, Any]) -> tuple[int, dict[str, Any]]:
        """Id of the point and its values; a new one brings its place, who reads and by what."""
        if row.point.id:
            return row.point.id, values
        given = {"direction": row.point.direction, "share": row.point.share}
        if any(values.get(name) is not None for name in READINGS):
            given |= {
                "person": self.person.text().strip(),
                "instrument": self.instrument.text().strip(),
            }
        return 0, {**given, **values}
