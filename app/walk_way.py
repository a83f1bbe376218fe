"""Present settings by a walk along the keypads, kept on the disk with every entry."""

import datetime
import logging
from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QLabel,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.present_source import Commissioned
from app.present_states import told
from app.session import Session
from app.walk_front import WalkFront
from app.walk_keeping import WalkKeeping
from app.walk_step import StepPanel
from core.errors import InputError, LinebookError
from core.readback import PresentSettings, Walk, gone_on, kept_text, start_walk
from core.readback.half_done import Aside

log = logging.getLogger("linebook")
Move = Callable[[Walk], Walk]
_ASK_REASON = "Say why the rest of the station is skipped, such as no power; then press it again."


class WalkWay(QWidget):
    """Begins a walk or goes on with one, and keeps it.

    Signals:
        changed: Something was found, or another walk stands.
    """

    changed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.walk: Walk | None = None
        self.begun = ""
        self._kept: WalkKeeping | None = None
        self._source: Commissioned | None = None
        self._aside: Aside = ()
        self._told_lost = ""
        self.trouble = QLabel()
        self.trouble.setTextFormat(Qt.TextFormat.PlainText)
        self.trouble.setWordWrap(True)
        self.trouble.setObjectName("refusal")
        self.trouble.hide()
        self.front, self.step = WalkFront(), StepPanel()
        self.stack = QStackedWidget()
        self._build()
        self._connect()

    def _build(self) -> None:
        for widget in (self.front, self.step):
            area = QScrollArea()
            area.setWidgetResizable(True)
            area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            area.setWidget(widget)
            self.stack.addWidget(area)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.trouble)
        layout.addWidget(self.stack, 1)

    def _connect(self) -> None:
        self.front.go_asked.connect(self.go_on)
        self.front.anew_asked.connect(self.begin_anew)
        self.step.entered.connect(self._on_entered)
        self.step.kept.connect(self._on_kept)
        self.step.moved.connect(self._on_moved)
        self.step.station_asked.connect(self._on_station_asked)
        self.step.left.connect(self.leave)

    @property
    def result(self) -> PresentSettings | None:
        """What the walk found so far; None before the first entry."""
        return self.walk.result() if self.walk is not None and self.walk.found else None

    @property
    def how(self) -> str:
        """How it was found, for the heading."""
        return f"at the keypads, walk begun on {self.begun}"

    @property
    def first_focus(self) -> QWidget:
        """Where the keys go first."""
        return self.step.field if self.stack.currentIndex() == 1 else self.front.go_button

    # --- which walk stands ----------------------------------------------------------------------

    def show_source(self, source: Commissioned) -> None:
        """Stand where the walk through this file stands, as it was kept or at its beginning."""
        if self._source is not None and self._source.mark == source.mark and self.walk is not None:
            self._follow(source)
            return
        self.trouble.hide()
        if self.walk is not None and self.walk.found:
            self._tell_other_record()
        self._source = source
        self._kept = WalkKeeping(self.session.file_path, source.mark)
        self._begin(source)
        self._take_up()
        self._show_front()
        self.changed.emit()

    def clear(self) -> None:
        """Forget the walk, but not what is kept of it; another file comes."""
        self.walk, self._source, self._kept, self.begun = None, None, None, ""
        self._aside = ()
        self.stack.setCurrentIndex(0)

    def _begin(self, source: Commissioned) -> None:
        self.walk, self._aside = start_walk(self.session.line, source.line), ()
        self.begun = datetime.datetime.now().isoformat(" ", "minutes")

    def _take_up(self) -> None:
        assert self._kept is not None
        assert self.walk is not None
        try:
            text = self._kept.read()
            if text is not None:
                held = gone_on(self.walk, text)
                self.walk, self.begun = held.walk, held.begun
                self._tell_lost(held.lost)
        except InputError as error:
            self._kept.set_aside()
            self._tell_trouble(error)
        except LinebookError as error:
            self._tell_trouble(error)

    def _follow(self, source: Commissioned) -> None:
        """Bring the walk to the line as it is now; its entries are read against it anew."""
        assert self.walk is not None
        if self.walk.line is self.session.line and self._source is source:
            return
        self._source = source
        at, tags = self.walk.step, _tags(self.walk)
        kept = kept_text(self.walk, self.begun)
        begun = start_walk(self.session.line, source.line)
        held = gone_on(begun, kept, is_same_line=True, aside=self._aside)
        self.walk, self._aside = held.walk, held.aside
        self._tell_aside(is_changed=bool(held.lost or held.back))
        if self.walk.found and not held.lost and (held.back or _tags(self.walk) != tags):
            # On the disk every entry stands under the tag of its station.
            self._keep()
        self._show_front()
        if self.stack.currentIndex() == 1:
            typed, now = self.step.field.text(), self.walk.step
            self.step.show_walk(self.walk)
            if at is not None and now is not None and at.wanted.key == now.wanted.key:
                self.step.field.setText(typed)
        self.changed.emit()

    def begin_anew(self) -> None:
        """Drop the walk that stands and begin another."""
        assert self._kept is not None
        assert self._source is not None
        self._kept.forget()
        self._begin(self._source)
        self.changed.emit()
        self.go_on()

    def go_on(self) -> None:
        """Show the step at hand, ready to type."""
        if self.walk is None or not self.walk.steps:
            return
        self.stack.setCurrentIndex(1)
        self.step.show_walk(self.walk)
        self.step.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def leave(self) -> None:
        """Go back to where walks begin; the walk is kept."""
        self._show_front()
        self.stack.setCurrentIndex(0)
        self.front.go_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def finish(self) -> None:
        """What was found is frozen: of a walk with nothing left open, nothing need be kept."""
        if self.walk is not None and not self.walk.open_steps and self._kept is not None:
            self._kept.forget()

    def take_rest_of(self, present: PresentSettings) -> None:
        """Walk to what another reading left open; what it read stands as found."""
        if self.walk is None:
            return
        self.walk = self.walk.with_read(present)
        self._keep()
        self.changed.emit()
        self.go_on()

    # --- what the keys ask for ------------------------------------------------------------------

    def _on_entered(self, text: str) -> None:
        assert self.walk is not None
        self._go(lambda walk: walk.enter(text), can_keep=True)

    def _on_kept(self, text: str) -> None:
        assert self.walk is not None
        assert self.walk.step is not None
        shown = text if text.strip() else self.walk.step.commissioned
        self._go(lambda walk: walk.keep(shown))

    def _on_moved(self, where: str) -> None:
        reason = self.step.reason.currentText().strip()
        if where == "skip_station" and not reason:
            self.step.refuse(_ASK_REASON)
            self.step.reason.setFocus(Qt.FocusReason.OtherFocusReason)
        elif where == "skip_station":
            self._go(lambda walk: walk.skip_station(reason))
            self.step.reason.setCurrentIndex(0)
        elif where == "skip":
            self._go(lambda walk: walk.skip(reason))
        elif where == "delivered":
            self._go(_as_delivered)
        else:
            self._go(Walk.back if where == "back" else Walk.forward)

    def _on_station_asked(self, station_id: int) -> None:
        self._go(lambda walk: walk.go_to(station_id))

    def _go(self, move: Move, *, can_keep: bool = False) -> None:
        """Make a move, keep it, and show the step after it; a refusal is told at the field."""
        before = self.walk
        assert before is not None
        try:
            self.walk = move(before)
        except InputError as error:
            typed = self.step.field.text().strip() or (before.step and before.step.commissioned)
            self.step.refuse(f"{error.why} {error.fix}".strip(), can_keep=can_keep and bool(typed))
            self.step.field.selectAll()
            self._bring_into_sight()
            return
        self._keep()
        self.step.show_walk(self.walk, _last_told(before, self.walk))
        self.step.field.setFocus(Qt.FocusReason.OtherFocusReason)
        if self.walk.found is not before.found:
            self.changed.emit()

    def _bring_into_sight(self) -> None:
        """Where the window is low, scroll to what was told beneath the field."""
        area = self.stack.currentWidget()
        assert isinstance(area, QScrollArea)
        QTimer.singleShot(0, area, lambda: area.ensureWidgetVisible(self.step.last_told))

    def _keep(self) -> None:
        assert self._kept is not None
        assert self.walk is not None
        try:
            self._kept.write(kept_text(self.walk, self.begun))
        except LinebookError as error:
            self._tell_trouble(error)

    # --- what is told ---------------------------------------------------------------------------

    def _show_front(self) -> None:
        if self.walk is not None and self._source is not None:
            self.front.show_walk(self.walk, self.begun, self._source.words)

    def _tell_other_record(self) -> None:
        self.trouble.setText(
            f"○ The commissioned values are of another record now. The walk begun on {self.begun} "
            "was against the earlier one and does not go on."
        )
        self.trouble.show()

    def _tell_lost(self, lost: tuple[str, ...]) -> None:
        if lost:
            self.trouble.setText(
                f"○ The line has these no more, so the walk lost them: {_few(lost)}."
            )
            self.trouble.show()

    def _tell_aside(self, *, is_changed: bool) -> None:
        """Tell what is kept for stations that may come back by undo; all back, be silent."""
        if not is_changed:
            return
        if self.trouble.text() == self._told_lost:
            self.trouble.hide()
        if self._aside:
            names = _few(tuple(f"{each['tag']} {each['code']}" for each in self._aside))
            self._told_lost = (
                f"○ The line has these no more, so they are out of the walk: {names}. "
                "Undo brings them back while this window is open."
            )
            self.trouble.setText(self._told_lost)
            self.trouble.show()

    def _tell_trouble(self, error: LinebookError) -> None:
        log.warning("walk: %s", error)
        self.trouble.setText(f"✗ {error}")
        self.trouble.show()


def _few(names: tuple[str, ...]) -> str:
    return ", ".join(names[:8]) + (" …" if len(names) > 8 else "")


def _tags(walk: Walk) -> dict[int, str]:
    return {step.wanted.station.id: step.tag for step in walk.steps}


def _as_delivered(walk: Walk) -> Walk:
    step = walk.step
    factory = step.wanted.listed.factory.strip() if step and step.wanted.listed else ""
    if not factory:
        raise InputError(
            "It was not taken.",
            "The list of its drive type has no factory value for it.",
            "Type what the keypad shows, or skip it.",
        )
    return walk.enter(factory)


def _last_told(before: Walk, after: Walk) -> str:
    """What the move did, for eyes and ears that were at the keypad."""
    if after.found is before.found or before.step is None:
        return ""
    entry = after.found.get(before.step.wanted.key)
    if entry is None:
        return ""
    return f"{before.step.tag} {entry.code}: {told(entry.state)} {entry.shown}".rstrip()
