"""Shares out the room of a page: pictures above tables, one part beside them where it is wide."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QSplitter, QTabWidget, QVBoxLayout, QWidget

Part = tuple[QWidget, str]
"""A part of the page and its title."""
_SIDE_FROM_SIGNS, _SIDE_SIGNS, _LOW_LINES = 150, 54, 28
"""Width from which a part stands beside the tables, its width there [signs]; height of the page
below which pictures and tables share one place [lines]."""


class SharedRoom(QWidget):
    """Tabs of pictures above tabs of tables; a narrow or low window has more behind tabs.

    Signals:
        turned_to: Another part came into sight.
    """

    turned_to = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.views, self.below = QTabWidget(), QTabWidget()
        self.is_wide = self.is_low = False
        self._filled: tuple[list[Part], list[Part]] | None = None
        self._lower = QSplitter(Qt.Orientation.Horizontal)
        self._lower.addWidget(self.below)
        whole = QSplitter(Qt.Orientation.Vertical)
        whole.addWidget(self.views)
        whole.addWidget(self._lower)
        for splitter in (self._lower, whole):
            splitter.setChildrenCollapsible(False)
        whole.setSizes([380, 260])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(whole)
        for tabs in (self.views, self.below):
            tabs.currentChanged.connect(lambda _index: self.turned_to.emit())

    def arrange(
        self, room: QSize, views: Sequence[Part], tables: Sequence[Part], side: Part
    ) -> None:
        """Put every part where it belongs in a page of this size; what is in sight stays so.

        ``side`` stands beside the tables, or as the second of them where the page is narrow.
        """
        metrics = self.fontMetrics()
        self.is_wide = room.width() >= _SIDE_FROM_SIGNS * metrics.averageCharWidth()
        self.is_low = room.height() < _LOW_LINES * metrics.height()
        held = list(tables) if self.is_wide else [*tables[:2], side, *tables[2:]]
        filled = ([*views, *held], []) if self.is_low else (list(views), held)
        if filled == self._filled:
            return
        self._filled = filled
        front = [tabs.currentWidget() for tabs in (self.views, self.below)]
        for tabs, parts in zip((self.views, self.below), filled, strict=True):
            _fill(tabs, parts, front)
        if self.is_wide:
            self._lower.addWidget(side[0])
            side[0].show()
            beside = _SIDE_SIGNS * metrics.averageCharWidth()
            self._lower.setSizes([max(1, room.width() - beside), beside])
        self.below.setVisible(not self.is_low)
        self._lower.setVisible(self.is_wide or not self.is_low)

    def is_in_sight(self, part: QWidget) -> bool:
        """Whether a part is in front of its tabs."""
        return part in (self.views.currentWidget(), self.below.currentWidget())

    def bring(self, part: QWidget) -> None:
        """Bring a part to the front of its tabs."""
        for tabs in (self.views, self.below):
            if tabs.indexOf(part) >= 0:
                tabs.setCurrentWidget(part)

    def retitle(self, part: QWidget, title: str) -> None:
        """Give the tab of a part another title."""
        for tabs in (self.views, self.below):
            if (place := tabs.indexOf(part)) >= 0:
                tabs.setTabText(place, title)

    def minimumSizeHint(self) -> QSize:
        """What the pictures alone need, since the tables go behind their tabs where it is low."""
        return QSize(super().minimumSizeHint().width(), self.views.minimumSizeHint().height())


def _fill(tabs: QTabWidget, parts: Sequence[Part], front: Sequence[QWidget | None]) -> None:
    tabs.blockSignals(True)
    tabs.clear()
    for widget, title in parts:
        tabs.addTab(widget, title)
    for held in reversed(front):
        if held is not None and tabs.indexOf(held) >= 0:
            tabs.setCurrentWidget(held)
    tabs.blockSignals(False)
