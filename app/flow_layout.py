"""A layout that sets its widgets side by side and goes on in the next line where it is full."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Widgets in their own width, line by line; hidden ones take no room."""

    def __init__(self, parent: QWidget | None = None, gap: int = 4) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(gap)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item in at the end."""
        self._items.append(item)

    def count(self) -> int:
        """Number of items."""
        return len(self._items)

    def itemAt(self, place: int) -> QLayoutItem | None:
        """The item at a place, if there is one."""
        return self._items[place] if 0 <= place < len(self._items) else None

    def takeAt(self, place: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(place) if 0 <= place < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It asks for no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Its height follows from its width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of all lines at a width."""
        return self._arrange(QRect(0, 0, width, 0), apply=False)

    def setGeometry(self, place: QRect) -> None:
        """Set the widgets into a rectangle."""
        super().setGeometry(place)
        self._arrange(place, apply=True)

    def sizeHint(self) -> QSize:
        """The least it can do with."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """The size of its largest item."""
        size = QSize()
        for item in self._items:
            if not item.isEmpty():
                size = size.expandedTo(item.minimumSize())
        return size

    def _arrange(self, place: QRect, *, apply: bool) -> int:
        x, y, tallest = place.x(), place.y(), 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint()
            if x + size.width() > place.right() + 1 and tallest:
                x, y, tallest = place.x(), y + tallest + self.spacing(), 0
            if apply:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            tallest = max(tallest, size.height())
        return y + tallest - place.y()
