"""Shares out the room of a calibration: readings over the chart, what they say beside them."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QSplitter, QTabWidget, QVBoxLayout, QWidget

_WIDE_FROM_SIGNS, _SIDE_SIGNS, _LOW_LINES = 140, 47, 27
"""Width from which everything stands side by side, width of the side [signs]; height of the view
below which chart and readings do not fit one above the other [lines]."""


class CalibrationRoom(QWidget):
    """Three parts at once, or behind tabs where the view is narrow or low.

    Signals:
        turned_to: Another part came into sight.
    """

    turned_to = Signal()

    def __init__(
        self, readings: QWidget, chart: QWidget, answer: QWidget, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._readings, self._chart, self._answer = readings, chart, answer
        self.is_wide: bool | None = None
        self._given = (0, 0)
        self.tabs = QTabWidget()
        self.tabs.currentChanged.connect(lambda _index: self.turned_to.emit())
        self._left = QSplitter(Qt.Orientation.Vertical)
        self._whole = QSplitter(Qt.Orientation.Horizontal)
        self._whole.addWidget(self._left)
        for splitter in (self._left, self._whole):
            splitter.setChildrenCollapsible(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._whole)
        layout.addWidget(self.tabs)

    def arrange(self, room: QSize) -> None:
        """Put every part where it belongs in a view of this size."""
        metrics = self.fontMetrics()
        high = room.height() >= _LOW_LINES * metrics.height()
        wide = room.width() >= _WIDE_FROM_SIGNS * metrics.averageCharWidth() and high
        if wide == self.is_wide:
            return
        self.is_wide = wide
        self.tabs.setHidden(wide)
        self._whole.setVisible(wide)
        if not wide:
            self.tabs.blockSignals(True)
            for part, title in (
                (self._readings, "Readings"),
                (self._chart, "Chart"),
                (self._answer, "What to set"),
            ):
                self.tabs.addTab(part, title)
            self.tabs.setCurrentIndex(0)
            self.tabs.blockSignals(False)
            return
        for part in (self._readings, self._chart):
            self._left.addWidget(part)
            part.show()
        self._whole.addWidget(self._answer)
        self._answer.show()
        self._left.setStretchFactor(1, 1)
        beside = _SIDE_SIGNS * metrics.averageCharWidth()
        self._whole.setSizes([max(1, room.width() - beside), beside])

    def give_readings(self, height: int) -> None:
        """Give the readings the height that shows all of them, as far as the chart leaves it."""
        if self.is_wide and (height, self._left.height()) != self._given:
            self._given = height, self._left.height()
            rest = max(1, self._left.height() - height)
            self._left.setSizes([height, rest])

    def minimumSizeHint(self) -> QSize:
        """Hardly anything, since all parts scroll."""
        return QSize(200, 120)
