"""The view in which a line is proved: the list of checks, the one in hand, own checks."""

from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QApplication, QSplitter, QTabWidget, QVBoxLayout, QWidget

from app.checks_hand import CheckInHand
from app.checks_list import CheckList
from app.checks_model import key_of
from app.checks_own import OwnChecks
from app.page import Page
from app.session import Session
from app.settling import Settling
from core.line.checks import CheckItem, checks_of

_WIDE_FROM_SIGNS, _HAND_SIGNS = 130, 68


class _Room(Settling):
    """Holds everything of the view; what is typed is stored from wherever the focus is in it."""

    def __init__(self, hand: CheckInHand) -> None:
        super().__init__()
        self._hand = hand

    def commit(self) -> None:
        """Store what is typed."""
        self._hand.settle()


class ChecksView(Page):
    """A check after the other by keyboard: type, Enter, and the next open one is in hand.

    Ctrl+Down and Ctrl+Up go to the check after and before; F6 marks one that does not apply, F7
    opens one again, F8 takes over what a reading teaches. Esc goes to the list, Enter back.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.list = CheckList()
        self.hand = CheckInHand(session)
        self.own = OwnChecks(session)
        self.tabs = QTabWidget()
        self.tabs.tabBar().setAccessibleName("Checks and own checks")
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.tabs)
        self._is_wide: bool | None = None
        self._path: Path | None = None
        room = _Room(self.hand)
        inner = QVBoxLayout(room)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self._split)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(room)
        self._connect()
        self._arrange()
        self.catch_up()

    def _connect(self) -> None:
        self.list.reached.connect(self._on_reached)
        self.list.entered.connect(self._to_hand)
        self.list.typed.connect(self._on_typed)
        self.hand.stored.connect(self._on_stored)
        self.hand.confirmed.connect(self._to_next_open)
        self.hand.settled.connect(lambda: self.hand.show_item(self.list.current, anew=True))
        self.hand.left_for_list.connect(self._to_list)
        self.hand.stepped.connect(self._step)
        for keys, slot in (
            ("Ctrl+Down", lambda: self._step(1)),
            ("Ctrl+Up", lambda: self._step(-1)),
            ("F6", self.hand.skip),
            ("F7", self.hand.open_again),
            ("F8", self.hand.take_over),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(slot)

    # --- where everything stands ------------------------------------------------------------

    def _arrange(self) -> None:
        """Put the check in hand beside the list; where it is narrow, behind a tab before it."""
        wide = self.width() >= _WIDE_FROM_SIGNS * self.fontMetrics().averageCharWidth()
        if wide == self._is_wide:
            return
        front, held = self.tabs.currentWidget(), QApplication.focusWidget()
        at_work = held is not None and self.hand.isAncestorOf(held)
        self._is_wide = wide
        self.tabs.clear()
        if not wide:
            self.tabs.addTab(self.hand, "Check in hand")
        self.tabs.addTab(self.list, "Checks")
        self.tabs.addTab(self.own, "Own checks")
        if wide:
            self._split.addWidget(self.hand)
            self.hand.show()
            beside = _HAND_SIGNS * self.fontMetrics().averageCharWidth()
            self._split.setSizes([max(1, self.width() - beside), beside])
            self._split.setStretchFactor(0, 1)
        if front is not None and self.tabs.indexOf(front) >= 0:
            self.tabs.setCurrentWidget(front)
        if at_work and held is not None:
            self._show_hand()
            held.setFocus()  # it was taken from it as the hand was moved
        self._name_tabs()

    def _name_tabs(self) -> None:
        if self.session.is_open:
            count = len(self.session.line.own_checks)
            self.tabs.setTabText(self.tabs.indexOf(self.own), f"Own checks ({count})")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay everything out for the room that there is now."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._arrange)

    # --- what is shown ----------------------------------------------------------------------

    def show_line(self) -> None:
        """Show the checks of the open line."""
        self.setEnabled(self.session.is_open)
        if not self.session.is_open:
            self.hand.forget()
            self._path = None
            return
        if self.session.file_path != self._path:
            self._path = self.session.file_path
            self.hand.forget()
        self.hand.items = checks_of(self.session.results)
        self.list.show_items(self.hand.items, self.session.line)
        self.own.show_line(self.session.line)
        self.hand.show_item(self.list.current)
        self._name_tabs()

    def _on_reached(self, _item: CheckItem) -> None:
        self.hand.settle()
        self.hand.show_item(self.list.current)

    def focus_start(self) -> None:
        """Let the keys answer the check in hand, unless they are at work in the view already."""
        idle = self.focusWidget() in (None, self, self.tabs.tabBar())
        if self.session.is_open and idle and self.tabs.currentWidget() is not self.own:
            self._to_hand()

    # --- going through ----------------------------------------------------------------------

    def _step(self, by: int) -> None:
        if self.list.step(by):
            self._to_hand()

    def _show_hand(self) -> None:
        if not self._is_wide:
            self.tabs.setCurrentWidget(self.hand)

    def _to_hand(self) -> None:
        self._show_hand()
        self.hand.focus_answer()

    def _to_list(self) -> None:
        self.tabs.setCurrentWidget(self.list)
        self.list.view.setFocus()

    def _on_typed(self, sign: str) -> None:
        self._show_hand()
        self.hand.take_key(sign)

    def _on_stored(self) -> None:
        """Stay with what is out of its limits or teaches something; else go on."""
        item = self.list.current
        self.hand.show_item(item, anew=True)
        if item is not None and item.state == "out":
            self.hand.ask_reason()
        elif self.hand.waits_for_lesson:
            self.hand.focus_answer()
        else:
            self._to_next_open()

    def _to_next_open(self) -> None:
        item = self.list.next_open()
        if item is None:
            self.hand.tell_all_done()
        else:
            self.list.go_to(key_of(item))
        self._to_hand()
