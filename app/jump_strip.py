"""A strip of buttons that go to the sections of a page; one button with a menu where narrow."""

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QMenu, QSizePolicy, QToolButton, QWidget


class JumpStrip(QWidget):
    """Goes to a section by its button, or by Ctrl and its number, 0 for the tenth.

    Signals:
        asked: A section is to be shown.
               arg 0: its key
    """

    asked = Signal(str)

    def __init__(self, titles: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("strip")
        self._titles = titles
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.buttons: dict[str, QToolButton] = {}
        self._menu_button = self._button("")
        self._menu_button.setObjectName("fold")
        self._menu_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        self._menu_button.setMenu(menu)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self._menu_button)
        for number, (key, title) in enumerate(titles.items(), start=1):
            button = self._button(title)
            button.setCheckable(True)
            keys = f"Ctrl+{number % 10}"
            button.setToolTip(keys)
            ask = partial(self.asked.emit, key)
            button.clicked.connect(lambda _checked=False, ask=ask: ask())
            QShortcut(QKeySequence(keys), self).activated.connect(ask)
            menu.addAction(f"{title}\t{keys}", ask)
            layout.addWidget(button)
            self.buttons[key] = button
        layout.addStretch(1)
        self.show_chosen(next(iter(titles)))
        self._fold()

    def _button(self, text: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(text)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        return button

    def minimumSizeHint(self) -> QSize:
        """As little as the one button needs."""
        return self._menu_button.sizeHint()

    def show_chosen(self, key: str) -> None:
        """Mark the section one is in."""
        for name, button in self.buttons.items():
            button.setChecked(name == key)
        self._menu_button.setText(f"Section: {self._titles[key]}  ")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show all buttons only where there is room for all."""
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        # The chosen one is set in bold and needs some room more.
        needed = sum(button.sizeHint().width() + 2 for button in self.buttons.values()) + 10
        folded = needed > self.width()
        self._menu_button.setVisible(folded)
        for button in self.buttons.values():
            button.setVisible(not folded)
