"""One section of the station page: fields, with the figures that come from them beside."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QVBoxLayout, QWidget

_BESIDE_FROM_SIGNS = 88
_FIGURES_SIGNS = 38
FocusOrder = Callable[[], Sequence[QWidget]]
"""Gives what Tab goes through in a part of a section, in its order."""


class Section(QFrame):
    """A titled frame; what is computed stands at the right of the fields, or below where narrow.

    With ``is_wide`` its fields take the whole width, and what is computed stands always below.
    """

    def __init__(
        self, key: str, title: str, *, is_wide: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.key, self.title = key, title
        self.setObjectName("section")
        head = QLabel(title)
        head.setObjectName("sectionName")
        self.fields = QVBoxLayout()
        self.fields.setSpacing(6)
        self.figures = QVBoxLayout()
        self.figures.setSpacing(6)
        self._has_figures, self._is_wide = False, is_wide
        self._parts: list[tuple[QWidget, FocusOrder]] = []
        self._is_beside: bool | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(12, 8, 12, 10)
        self._grid.setHorizontalSpacing(14)
        self._grid.setVerticalSpacing(6)
        self._grid.addWidget(head, 0, 0, 1, 2)
        column = QVBoxLayout()
        column.addLayout(self.fields)
        column.addStretch(1)
        self._grid.addLayout(column, 1, 0)
        self._grid.setColumnStretch(0, 1)

    def add(self, part: QWidget, focus_order: FocusOrder) -> None:
        """Add fields below those that are there."""
        self.fields.addWidget(part)
        self._parts.append((part, focus_order))

    def add_figures(self, part: QWidget, focus_order: FocusOrder) -> None:
        """Add what is computed from the fields."""
        self._has_figures = True
        self.figures.addWidget(part)
        self._parts.append((part, focus_order))
        self._set_figures()

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        shown = (order() for part, order in self._parts if not part.isHidden())
        return [widget for widgets in shown for widget in widgets]

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the figures beside the fields where there is room for both."""
        super().resizeEvent(event)
        self._set_figures()

    def _set_figures(self) -> None:
        sign = self.fontMetrics().averageCharWidth()
        beside = self.width() >= _BESIDE_FROM_SIGNS * sign and not self._is_wide
        if not self._has_figures or beside == self._is_beside:
            return
        self._is_beside = beside
        self._grid.removeItem(self.figures)
        if beside:
            self._grid.addLayout(self.figures, 1, 1, Qt.AlignmentFlag.AlignTop)
        else:
            self._grid.addLayout(self.figures, 2, 0, 1, 2)
        self._grid.setColumnMinimumWidth(1, _FIGURES_SIGNS * sign if beside else 0)
