"""The row of buttons that chooses a page of the window."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout


class PageSwitch(QWidget):
    """One button for each page; Alt and its number chooses it as well.

    Signals:
        chosen: A page is to be shown.
                arg 0: its key
    """

    chosen = Signal(str)

    def __init__(self, titles: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("strip")
        row = FlowLayout(gap=2)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 3, 6, 0)
        layout.addLayout(row)
        self.buttons: dict[str, QToolButton] = {}
        for number, (key, title) in enumerate(titles.items(), start=1):
            button = QToolButton()
            button.setText(title)
            button.setCheckable(True)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.setToolTip(f"Alt+{number}")
            button.clicked.connect(lambda _checked=False, key=key: self.chosen.emit(key))
            keys = QShortcut(QKeySequence(f"Alt+{number}"), self)
            keys.activated.connect(lambda key=key: self.chosen.emit(key))
            row.addWidget(button)
            self.buttons[key] = button

    def show_chosen(self, key: str) -> None:
        """Mark the page that is shown."""
        for name, button in self.buttons.items():
            button.setChecked(name == key)
