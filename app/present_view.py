"""The view of present settings: read at the keypads, from a table or over the buses, and frozen."""

from collections.abc import Mapping

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QSplitter,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.bus_way import BusWay
from app.page import Page
from app.present_freeze import FreezePanel
from app.present_result import ResultPanel
from app.present_source import NOW, Commissioned, commissioned
from app.present_table import TableWay
from app.session import Session
from app.walk_way import WalkWay
from core.errors import LinebookError
from core.readback import PresentSettings, brought_to
from core.store.frozen import FrozenRecord

Way = WalkWay | TableWay | BusWay
WAYS: Mapping[str, tuple[str, str]] = {
    "walk": ("At the keypads", "Walk from drive to drive and type what each keypad shows"),
    "table": ("From a table", "Take a spreadsheet or CSV of codes and values"),
    "bus": ("Over the buses", "Ask the drives over Modbus; nothing is written to them"),
}
"""Title and explanation of each way to read."""
FOUND = "found"
_ASIDE = "What is shown now is {what}, not the line file. Go back to the file to read its drives."
_WIDE_SIGNS, _HIGH_LINES = 130, 34
"""From here on what was found stands beside the way [signs], or below it [lines]."""
_SHARES = {Qt.Orientation.Horizontal: [4300, 5700], Qt.Orientation.Vertical: [5000, 5000]}
"""How way and result share the room at first; the line between them can be dragged."""


class PresentView(Page):
    """Three ways to read the drives, what was found, and its way into an as-found record.

    Signals:
        frozen: A record was made.
                arg 0: the `FrozenRecord`
        compare_asked: Two sides are to be compared.
                       arg 0: the side before, arg 1: the side after, each as `named` takes it
    """

    frozen = Signal(object)
    compare_asked = Signal(str, str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._source: Commissioned | None = None
        self._file: object = None
        self._made: FrozenRecord | None = None
        self._made_of: PresentSettings | None = None
        self.chosen = self._way = "walk"
        self.walk, self.table, self.bus = WalkWay(session), TableWay(session), BusWay(session)
        self.ways: Mapping[str, Way] = {"walk": self.walk, "table": self.table, "bus": self.bus}
        self.result, self.freeze = ResultPanel(), FreezePanel()
        self.buttons: dict[str, QToolButton] = {}
        self.aside = QLabel()
        self.aside.setWordWrap(True)
        self._stack = QStackedWidget()
        self._below = QWidget()
        self._is_shared = False
        self._room = QSplitter(Qt.Orientation.Horizontal)
        self._build()
        self._connect()
        self.show_way("walk")
        self.catch_up()

    def _build(self) -> None:
        for way in self.ways.values():
            self._stack.addWidget(way)
        column = QVBoxLayout(self._below)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.result, 1)
        column.addWidget(self.freeze)
        self._room.setChildrenCollapsible(False)
        self._room.addWidget(self._stack)
        self._room.addWidget(self._below)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self._build_strip())
        layout.addWidget(self.aside)
        layout.addWidget(self._room, 1)

    def _build_strip(self) -> QWidget:
        strip = QWidget()
        row = QHBoxLayout(strip)
        row.setContentsMargins(6, 2, 6, 0)
        row.setSpacing(4)
        found = ("What was found", "Every setting as it was read, and the freezing")
        choices = {**WAYS, FOUND: found}
        for number, (key, (title, hint)) in enumerate(choices.items(), start=1):
            button = QToolButton()
            button.setText(title)
            button.setCheckable(True)
            button.setShortcut(f"Ctrl+{number}")
            button.setToolTip(f"{hint} (Ctrl+{number})")
            button.clicked.connect(lambda _checked=False, key=key: self.show_way(key))
            row.addWidget(button)
            self.buttons[key] = button
        row.addStretch(1)
        return strip

    def _connect(self) -> None:
        for key, way in self.ways.items():
            way.changed.connect(lambda key=key: self._on_changed_way(key))
        self.walk.step.revealed.connect(self.result.reveal)
        self.result.rest_asked.connect(self._on_rest_asked)
        self.freeze.asked.connect(self._freeze)
        self.freeze.compare_asked.connect(self._compare)
        # Also out of sight: a reading ends with its file, and the window waits for nobody.
        self.session.opened.connect(self._on_file_changed)

    # --- what is shown ------------------------------------------------------------------------

    @property
    def way(self) -> Way:
        """The way whose result is shown."""
        return self.ways[self._way]

    def show_way(self, key: str) -> None:
        """Bring a way to read to the front, or what was found where there is room for one."""
        self.chosen = key
        if key != FOUND:
            self._way = key
            self._stack.setCurrentWidget(self.way)
            self._show_result()
            self.result.reveal(self.way is not self.walk or self.walk.step.is_revealed)
        self._lay_out()
        if key == FOUND:
            self.result.table.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.isVisible():
            self.way.first_focus.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_line(self) -> None:
        """Show the open line, what was read of it, and what it is held against."""
        self._forget_other_file()
        can = self.session.is_open and not self.session.is_trial
        self._room.setEnabled(can)
        self.aside.setVisible(self.session.is_trial)
        if self.session.is_trial:
            what = self.session.record_name or "a trial on a copy"
            self.aside.setText(f"○ {_ASIDE.format(what=what)}")
        if not can:
            return
        try:
            held = self.session.book.frozen()
            self._source = commissioned(held, self.session.line, self._source)
        except LinebookError as error:
            self.session.refused.emit(error)
            return
        self.walk.show_source(self._source)
        self.bus.show_line()
        self._bring_to_line()
        self.freeze.show_people([person.name for person in self.session.line.people])
        self._show_result()

    def showEvent(self, event: QShowEvent) -> None:
        """Look at the records anew: freezing one is no change of the line."""
        self._stale = True
        super().showEvent(event)

    def _on_file_changed(self) -> None:
        """Another file, a trial or none: no reading goes on, in sight or not."""
        self.bus.stop()
        self._forget_other_file()

    def _forget_other_file(self) -> None:
        path = self.session.file_path if self.session.is_open else None
        if path == self._file:
            return
        for way in self.ways.values():
            way.clear()
        self.freeze.clear()
        self._file, self._source, self._made, self._made_of = path, None, None, None
        self._show_result()

    def _bring_to_line(self) -> None:
        """What was read before an edit stands for the line as it is after it."""
        for way in (self.table, self.bus):
            if way.result is not None:
                way.hold(brought_to(self.session.line, way.result))

    def _show_result(self) -> None:
        present, source = self.way.result, self._source
        if self.session.is_trial:
            return
        if present is None or source is None or not self.session.is_open:
            self.result.show_result(None, None, None, "")
            self.freeze.show_ready(is_ready=False, left_out=0)
            return
        self.result.show_result(
            present,
            self.session.line,
            source.line,
            self.way.how,
            has_rest=self.way is not self.walk,
        )
        left_out = present.counts["not_read"]
        self.freeze.show_ready(is_ready=left_out < len(present.entries), left_out=left_out)
        if self.way is self.walk and self.walk.walk and self.walk.walk.step:
            self.result.follow(self.walk.walk.step.wanted.key)
        if present == self._made_of:
            self._tell_frozen()

    def _on_changed_way(self, key: str) -> None:
        if not self.session.is_open or self.session.is_trial:
            return  # shown again with the file
        self._bring_to_line()
        if key == self._way:
            self._show_result()

    def _on_rest_asked(self) -> None:
        present = self.way.result
        if present is not None:
            self.show_way("walk")
            self.walk.take_rest_of(present)

    # --- where everything stands --------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room that there is now."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._lay_out)

    def minimumSizeHint(self) -> QSize:
        """Small enough for a screen at 200 %, where way and result stand one at a time."""
        return QSize(320, 160)

    def _lay_out(self) -> None:
        metrics = self.fontMetrics()
        is_wide = self.width() >= _WIDE_SIGNS * metrics.averageCharWidth()
        is_high = self.height() >= _HIGH_LINES * metrics.height()
        has_both = is_wide or is_high
        side = Qt.Orientation.Horizontal if is_wide else Qt.Orientation.Vertical
        if self._room.orientation() != side or not self._is_shared:
            self._room.setOrientation(side)
            self._room.setSizes(_SHARES[side])
            self._is_shared = has_both
        if has_both and self.chosen == FOUND:
            self.chosen = self._way
        self.buttons[FOUND].setVisible(not has_both)
        self._stack.setVisible(has_both or self.chosen != FOUND)
        self._below.setVisible(has_both or self.chosen == FOUND)
        for key, button in self.buttons.items():
            button.setChecked(key == self.chosen)

    # --- freezing -------------------------------------------------------------------------------

    def _freeze(self, person: str, reason: str) -> None:
        from core.readback.present import with_present
        from core.records.keeping import freeze

        present = self.way.result
        if present is None or self.session.is_trial:
            return
        try:
            found = with_present(self.session.line, present)
            made = freeze(self.session.book, found, "as_found", person, reason)
        except LinebookError as error:
            self.freeze.tell_refused(str(error))
            return
        self._made, self._made_of = made, present
        if self._way == "walk":
            self.walk.finish()
        self._tell_frozen()
        self.freeze.compare_button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.frozen.emit(made)

    def _tell_frozen(self) -> None:
        made, present = self._made, self._made_of
        if made is None or present is None or self._source is None:
            return
        counts = present.counts
        words = (
            f"{made.name} is frozen: {counts['read']} settings read, {counts['refused']} refused, "
            f"{counts['not_read']} not read. SHA-256 {made.sha256[:16]}…"
        )
        against = "the line as it is" if self._source.name == NOW else "as commissioned"
        self.freeze.tell_frozen(words, against)

    def _compare(self) -> None:
        if self._made is not None and self._source is not None:
            after = f"{self._made.kind}:{self._made.revision}"
            self.compare_asked.emit(self._source.name, after)
