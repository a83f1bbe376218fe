"""A form over one record: a name above each input, as many side by side as there is room for."""

import itertools
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QWidget

from app.editors import FieldEditor, make_editor
from app.inputs import Offers
from app.session import Session
from core.errors import InputError, LinebookError
from core.model import RECORDS, FieldSpec
from core.store import LineFile, actions

_CELL_WIDTH_IN_SIGNS = 21
_GAP = 12
_ALL_COLUMNS = 99
_LONG_FIELDS = {
    "drive_type_id",
    "name",
    "surroundings",
    "notes",
    "site",
    "owner",
    "feedback",
    "main_protection",
}
_LONG_CHOICE = 20
_ROWS = 3
"""Rows of the layout for each row of fields: names, inputs, and a gap."""


class RecordForm(QWidget):
    """The fields of one record that apply to it; the editors stay when the record changes.

    ``fields`` names those to show, in their order; all without it. ``offers`` gives, for a text
    field, the words to propose. Call `show_record` with the record, and again after each step.

    Signals:
        stored: A value of the record was stored.
    """

    stored = Signal()

    def __init__(
        self,
        session: Session,
        table: str,
        fields: Sequence[str] = (),
        *,
        columns: int = 0,
        offers: Mapping[str, Offers] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.session, self.table = session, table
        self._specs = _chosen(table, fields)
        self._offers = offers or {}
        self._most_columns = columns
        self._record: Any = None
        self._book: LineFile | None = None
        self._context: Mapping[str, Any] = {}
        self._editors: dict[str, FieldEditor] = {}
        self._labels: dict[str, QLabel] = {}
        self._placed: tuple[tuple[str, ...], int] = ((), 0)
        self._cells: dict[str, tuple[int, int]] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(_GAP)
        self._grid.setVerticalSpacing(1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)

    @property
    def record(self) -> Any:
        """The record that is shown; None before the first."""
        return self._record

    def show_record(self, record: Any, context: Mapping[str, Any] | None = None) -> None:
        """Show a record.

        Parameters
        ----------
        record : object
            A record of the form's table. What is typed and not yet stored goes to the record
            shown so far, if that is another one.
        context : mapping, optional
            Values outside of the record that decide which fields apply (``"station.kind"``).
        """
        if self._record is not None and self._record.id != record.id:
            self.settle()
        self._record, self._book = record, self.session.book
        if context is not None:
            self._context = context
        applying = self._applying()
        for spec in applying:
            if spec.name not in self._editors:
                self._build(spec)
        self._place(tuple(spec.name for spec in applying))
        for spec in applying:
            self._editors[spec.name].show_value(record)

    def settle(self) -> None:
        """Store what is typed in the form; what is wrong is given up.

        What was typed for a file that is no longer open is given up too.
        """
        is_here = self.session.is_open and self._book is self.session.book
        for editor in self._editors.values():
            if is_here and editor.is_changed and not editor.isHidden():
                editor.commit()
            if editor.is_changed:
                editor.give_up()

    def focus_field(self, name: str) -> bool:
        """Put the focus into a field; False where the form does not show it."""
        editor = self._editors.get(name)
        if editor is None or editor.isHidden():
            return False
        editor.setFocus()
        return True

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        return [self._editors[name].input for name in self._placed[0]]

    def editor(self, name: str) -> FieldEditor:
        """The editor of a field; KeyError where it was never shown."""
        return self._editors[name]

    def shown_fields(self) -> tuple[str, ...]:
        """Names of the fields that are shown, in their order."""
        return self._placed[0]

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set as many fields side by side as there is room for."""
        super().resizeEvent(event)
        self._place(self._placed[0])
        self._fit_labels()

    def _applying(self) -> list[FieldSpec]:
        values = dict(self._context)
        for spec in self._specs:
            for name in spec.only:
                if "." not in name:
                    values[name] = getattr(self._record, name)
        return [spec for spec in self._specs if spec.applies(values)]

    def _build(self, spec: FieldSpec) -> None:
        editor = make_editor(spec, self.session, self.table, self)
        editor.committed.connect(self._on_committed)
        if spec.name in self._offers:
            editor.set_offers(self._offers[spec.name])
        label = QLabel(spec.label.replace("&", "&&"), self)
        label.setObjectName("fieldName")
        label.setBuddy(editor)
        label.setWordWrap(True)
        label.setAlignment(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._editors[spec.name], self._labels[spec.name] = editor, label

    def _columns(self) -> int:
        wide = self.fontMetrics().averageCharWidth() * _CELL_WIDTH_IN_SIGNS + _GAP
        room = max(1, (self.width() + _GAP) // max(wide, 1))
        return min(room, self._most_columns) if self._most_columns else room

    def _place(self, names: tuple[str, ...]) -> None:
        columns = self._columns()
        if (names, columns) == self._placed:
            return
        for name in set(self._editors).difference(names):
            self._editors[name].hide()
            self._labels[name].hide()
        for old in range(columns, self._grid.columnCount()):
            self._grid.setColumnStretch(old, 0)
        for column in range(columns):
            self._grid.setColumnStretch(column, 1)
        self._set_cells(names, columns)
        self._chain(names)
        self._placed = (names, columns)
        self._fit_labels()

    def _set_cells(self, names: Iterable[str], columns: int) -> None:
        place = 0
        for name in names:
            editor, label = self._editors[name], self._labels[name]
            span = min(_span(editor.spec), columns)
            if place % columns + span > columns:
                place += columns - place % columns
            row, column = divmod(place, columns)
            self._grid.addWidget(label, row * _ROWS, column, 1, span)
            self._grid.addWidget(editor, row * _ROWS + 1, column, 1, span)
            self._grid.setRowMinimumHeight(row * _ROWS + 2, 5)
            self._cells[name] = row, span
            label.show()
            editor.show()
            place += span

    def _fit_labels(self) -> None:
        """Give each row of names the height of its highest; a layout cannot know it beforehand."""
        names, columns = self._placed
        if not columns:
            return
        room = (self.width() - _GAP * (columns - 1)) // columns
        heights: dict[int, int] = {}
        for name in names:
            label, (row, span) = self._labels[name], self._cells[name]
            wide = QRect(0, 0, room * span + _GAP * (span - 1), 999)
            wrap = Qt.TextFlag.TextWordWrap
            height = label.fontMetrics().boundingRect(wide, wrap, label.text()).height()
            heights[row] = max(heights.get(row, 0), height)
        for name in names:
            self._labels[name].setFixedHeight(heights[self._cells[name][0]])

    def _chain(self, names: Sequence[str]) -> None:
        inputs = [self._editors[name].input for name in names]
        for before, after in itertools.pairwise(inputs):
            self.setTabOrder(before, after)

    def _on_committed(self, name: str, values: dict[str, Any]) -> None:
        editor, record = self._editors[name], self._record
        try:
            actions.set_fields(self.session.book, self.table, record.id, **values)
        except InputError as error:
            editor.refuse(error)
            return
        except LinebookError as error:
            self.session.refused.emit(error)
            return
        if self._record is record and editor.is_changed:
            # Typed in other words for the same value: nothing was stored, nobody was told.
            editor.show_value(record)
        self.stored.emit()


def _span(spec: FieldSpec) -> int:
    """How many cells a field takes: a note a whole row, long words two."""
    if spec.sort == "long_text":
        return _ALL_COLUMNS
    longest = max(map(len, spec.choices.values()), default=0)
    return 2 if spec.name in _LONG_FIELDS or longest > _LONG_CHOICE else 1


def _chosen(table: str, fields: Sequence[str]) -> list[FieldSpec]:
    spec = RECORDS[table]
    if fields:
        return [spec.field(name) for name in fields]
    return [entry for entry in spec.fields if entry.sort != "typed"]
