"""A page that shows one of several views of the same matter; a view is a page itself."""

import importlib
from collections.abc import Mapping
from typing import ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from app.page import Page
from app.session import Session
from app.settling import settle_focused

Views = Mapping[str, tuple[str, str, str]]
"""Title of each view, and module and name of its class, by its key."""


class ViewsPage(Page):
    """Holds views, each made when it is first shown; Ctrl+Page Down goes to the next one."""

    VIEWS: ClassVar[Views] = {}

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.stack = QStackedWidget()
        self.buttons: dict[str, QToolButton] = {}
        self._made: dict[str, Page] = {}
        self.chosen = ""
        strip = QWidget()
        strip.setObjectName("strip")
        row = QHBoxLayout(strip)
        row.setContentsMargins(6, 0, 6, 0)
        row.setSpacing(2)
        for key, (title, _, _) in self.VIEWS.items():
            button = QToolButton()
            button.setText(title)
            button.setCheckable(True)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _checked=False, key=key: self.show_view(key))
            row.addWidget(button)
            self.buttons[key] = button
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(strip)
        layout.addWidget(self.stack, 1)
        for keys, by in (("Ctrl+PgDown", 1), ("Ctrl+PgUp", -1)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(lambda by=by: self._go_by(by))
        self.show_view(next(iter(self.VIEWS)))

    def view(self, key: str) -> Page:
        """A view by its key, made if it was never shown."""
        if key not in self._made:
            _, module, name = self.VIEWS[key]
            made = getattr(importlib.import_module(module), name)(self.session)
            assert isinstance(made, Page)
            self._made[key] = made
            self.stack.addWidget(made)
            self.on_made(key, made)
        return self._made[key]

    def on_made(self, key: str, view: Page) -> None:
        """A view was made; a page with views that speak to each other connects them here."""

    def focus_start(self) -> None:
        """Let the view in sight say where the keys go."""
        self.view(self.chosen).focus_start()

    def show_view(self, key: str) -> None:
        """Bring a view to the front."""
        settle_focused()
        view = self.view(key)
        self.stack.setCurrentWidget(view)
        self.chosen = key
        for name, button in self.buttons.items():
            button.setChecked(name == key)
        view.catch_up()

    def _go_by(self, step: int) -> None:
        keys = list(self.VIEWS)
        self.show_view(keys[(keys.index(self.chosen) + step) % len(keys)])
        self.focus_start()
