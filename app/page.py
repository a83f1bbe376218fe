"""What the pages of the window share: they wake up only while they are in sight."""

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from app.session import Session
from core.store import Changes


class Page(QWidget):
    """A page of the window over one session.

    A page that is not in sight notes that it is out of date, and catches up when it is shown.
    Subclasses build their widgets in `__init__`, end it with `catch_up`, and say in `show_line`
    and `show_changes` what they show.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._stale = True
        session.opened.connect(self._on_opened)
        session.changed.connect(self._on_changed)

    def show_line(self) -> None:
        """Show the open file anew; it may be that none is open."""

    def show_changes(self, changes: Changes) -> None:
        """Show what a step changed; by default everything is shown anew."""
        self.show_line()

    def focus_start(self) -> None:
        """Give the keys a place when the page is gone to; by default where Qt puts them."""

    def catch_up(self) -> None:
        """Show the open file now if what is shown is out of date."""
        if self._stale:
            self._stale = False
            self.show_line()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened while the page was out of sight."""
        super().showEvent(event)
        self.catch_up()

    def _on_opened(self) -> None:
        self._stale = True
        if self.isVisible():
            self.catch_up()

    def _on_changed(self, changes: Changes) -> None:
        if self.isVisible() and not self._stale:
            self.show_changes(changes)
        else:
            self._stale = True
