"""One setting at a time, large: what to look for at the keypad, and a field for what it shows."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.fault_list import REFUSED_MARK
from app.flow_layout import FlowLayout
from app.inputs import ChoiceInput
from app.present_cautions import CautionLine, together
from app.present_states import told
from core.model.keypad import options_of
from core.readback import Step, Walk

HIDDEN = "hidden"
_REASONS = ("No power at the drive", "Keypad locked or dark", "Drive not reachable", "No time left")
_LOW_LINES = 34
"""Height of the window below which choices stand in one line [lines]."""
_KEYS = {
    "keep": ("Ctrl+Return", "Ctrl+Enter"),
    "skip": ("Ctrl+K",),
    "skip_station": ("Ctrl+Shift+K",),
    "delivered": ("Ctrl+D",),
    "back": ("PgUp",),
    "forward": ("PgDown",),
    "reveal": ("Ctrl+H",),
    "go": ("Ctrl+G",),
}


class StepPanel(QWidget):
    """Shows the step at hand and tells what the keys ask for; it moves nothing itself.

    Signals:
        entered: What stands in the field is meant; empty is the same as commissioned.
                 arg 0: the text
        kept: The keypad does show this, although the list does not allow it.
              arg 0: the text
        moved: Another step is wanted.
               arg 0: "back", "forward", "skip", "skip_station" or "delivered"
        station_asked: The first setting of a station is wanted.
                       arg 0: its id
        left: Back to where walks begin.
        revealed: The commissioned values are to be seen, or hidden, everywhere.
                  arg 0: whether they are seen
    """

    entered = Signal(str)
    kept = Signal(str)
    moved = Signal(str)
    station_asked = Signal(int)
    left = Signal()
    revealed = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._step: Step | None = None
        self._here: int | None = None
        self.stations = ChoiceInput()
        self.stations.setAccessibleName("Station to go to")
        self.stations.setToolTip("Ctrl+G, arrow keys, Enter; beside each is how far it is")
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Progress of the walk")
        self.code, self.meaning = _label("stationName"), _label()
        self.choices, self.before = _label(), _label()
        self.field = QLineEdit()
        self.field.setAccessibleName("The keypad shows")
        self.unit = QLabel()
        self.refusal, self.last = _label("refusal"), _label("quiet")
        self.reason = QComboBox()
        self.reason.setEditable(True)
        self.reason.addItems(["", *_REASONS])
        self.reason.setAccessibleName("Reason when skipped")
        self.take_button = QPushButton("Take (Enter)")
        self.keep_button = QPushButton("Keep it as the keypad shows it (Ctrl+Enter)")
        self.reveal_button = QPushButton()
        self.buttons = {
            "back": QPushButton("Back (Page Up)"),
            "forward": QPushButton("Forward (Page Down)"),
            "delivered": QPushButton("As delivered (Ctrl+D)"),
            "skip": QPushButton("Skip it (Ctrl+K)"),
            "skip_station": QPushButton("Skip the rest of the station (Ctrl+Shift+K)"),
        }
        self.leave_button = QPushButton("Leave the walk")
        self.leave_button.setToolTip("What was found is kept; it goes on from there")
        self.is_revealed = True
        self._build()
        self._connect()

    def _build(self) -> None:
        big = self.field.font()
        big.setPointSizeF(big.pointSizeF() * 1.5)
        self.field.setFont(big)
        self.unit.setFont(big)
        middle = self.before.font()
        middle.setPointSizeF(middle.pointSizeF() * 1.2)
        for label in (self.choices, self.before):
            label.setFont(middle)
        head = QHBoxLayout()
        head.addWidget(self.stations, 3)
        head.addWidget(self.progress, 2)
        before = QHBoxLayout()
        before.addWidget(self.before, 1)
        before.addWidget(self.reveal_button, 0, Qt.AlignmentFlag.AlignTop)
        entry = QGridLayout()
        shows = QLabel("The keypad &shows")
        shows.setBuddy(self.field)
        entry.addWidget(shows, 0, 0)
        entry.addWidget(self.field, 0, 1)
        entry.addWidget(self.unit, 0, 2)
        entry.addWidget(self.take_button, 0, 3)
        entry.setColumnStretch(1, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 2, 6, 2)
        layout.setSpacing(4)
        title = QHBoxLayout()
        title.setSpacing(12)
        self.code.setWordWrap(False)
        title.addWidget(self.code)
        title.addWidget(self.meaning, 1)
        layout.addWidget(CautionLine())
        for part in (head, title, self.choices, before, entry):
            layout.addWidget(part) if isinstance(part, QWidget) else layout.addLayout(part)
        layout.addWidget(self.refusal)
        layout.addWidget(self.keep_button, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addWidget(self.last)
        layout.addLayout(self._build_moves())
        layout.addLayout(self._build_skips())
        layout.addStretch(1)

    def _build_moves(self) -> FlowLayout:
        moves = FlowLayout(gap=4)
        for key in ("back", "forward", "delivered"):
            moves.addWidget(self.buttons[key])
        moves.addWidget(self.leave_button)
        return moves

    def _build_skips(self) -> FlowLayout:
        skips = FlowLayout(gap=4)
        label = QLabel("Re&ason")
        label.setBuddy(self.reason)
        self.reason.setMinimumContentsLength(18)
        for key in ("skip", "skip_station"):
            skips.addWidget(self.buttons[key])
        skips.addWidget(together(label, self.reason))
        return skips

    def _connect(self) -> None:
        self.field.returnPressed.connect(self._enter)
        self.take_button.clicked.connect(lambda _checked=False: self._enter())
        self.keep_button.clicked.connect(lambda _checked=False: self._keep())
        self.reveal_button.clicked.connect(lambda _checked=False: self.reveal())
        self.leave_button.clicked.connect(lambda _checked=False: self.left.emit())
        self.stations.left.connect(self._on_station_chosen)
        for key, button in self.buttons.items():
            button.clicked.connect(lambda _checked=False, key=key: self.moved.emit(key))
        slots: dict[str, Callable[[], object]] = {
            key: partial(self.moved.emit, key) for key in self.buttons
        }
        slots |= {"keep": self._keep, "reveal": self.reveal, "go": self._choose_station}
        for key, slot in slots.items():
            for keys in _KEYS[key]:
                shortcut = QShortcut(QKeySequence(keys), self)
                shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
                shortcut.activated.connect(slot)

    @property
    def last_told(self) -> QWidget:
        """The lowest part of what a refusal shows."""
        return self.refusal if self.keep_button.isHidden() else self.keep_button

    # --- what is shown --------------------------------------------------------------------------

    def show_walk(self, walk: Walk, last: str = "") -> None:
        """Show the step at hand, with an empty field or what was found for it before."""
        step = walk.step
        self._step = step
        self.refuse("")
        self.last.setText(last)
        self.last.setVisible(bool(last))
        self._show_progress(walk)
        for widget in (self.field, self.take_button, *self.buttons.values()):
            widget.setEnabled(step is not None)
        self.buttons["back"].setEnabled(walk.place > 0)
        self.field.setText(walk.entry.shown if walk.entry else "")
        self.field.selectAll()
        if step is None:
            self._show_end(walk)
        else:
            self._show_step(walk, step)
        self._show_before()

    def _show_step(self, walk: Walk, step: Step) -> None:
        station, listed = step.wanted.station, step.wanted.listed
        self.code.setText(step.code)
        drive_type = walk.line.drive_type(station.drive.drive_type_id)
        where = f"{station.tag} {station.name}".strip()
        drive = drive_type.name if drive_type else "no drive type"
        meaning = listed.meaning if listed else "Not in the list of its drive type"
        self.meaning.setText(f"{meaning}\n{where} · {drive}")
        options = options_of(listed) if listed else {}
        told_options = [f"{key} = {words}" if words else key for key, words in options.items()]
        is_low = self.window().height() < _LOW_LINES * self.fontMetrics().height()
        self.choices.setText((" · " if is_low else "\n").join(told_options))
        self.choices.setVisible(bool(options))
        self.unit.setText(listed.unit if listed else "")
        if walk.entry is not None:
            before = f"Found before: {told(walk.entry.state)} {walk.entry.shown}".rstrip()
            self.last.setText(f"{before}. {walk.entry.reason}".strip())
            self.last.show()

    def _show_end(self, walk: Walk) -> None:
        self.code.setText("The walk is at its end")
        left = walk.open_steps
        open_told = f"{left} settings were passed by." if left else "Every setting was looked at."
        self.meaning.setText(f"{open_told}\nFreeze what was found, or go back.")
        self.choices.hide()
        self.unit.clear()

    def _show_progress(self, walk: Walk) -> None:
        whole, done = len(walk.steps), len(walk.steps) - walk.open_steps
        self.progress.setRange(0, max(1, whole))
        self.progress.setValue(done)
        self.progress.setFormat(f"{done} of {whole} done")
        counted: dict[int, list[int]] = {}
        tags = {}
        for step in walk.steps:
            station = step.wanted.station
            held = counted.setdefault(station.id, [0, 0])
            held[0] += step.wanted.key in walk.found
            held[1] += 1
            tags[station.id] = f"{station.tag} {station.name}".strip()
        self.stations.clear()
        for station_id, (found, of) in counted.items():
            self.stations.addItem(f"{tags[station_id]}: {found} of {of}", station_id)
        self._here = walk.step.wanted.station.id if walk.step else None
        self.stations.setCurrentIndex(self.stations.findData(self._here))

    def _show_before(self) -> None:
        step = self._step
        self.reveal_button.setVisible(step is not None)
        words = "Hide" if self.is_revealed else "Show"
        self.reveal_button.setText(f"{words} it (Ctrl+H)")
        if step is None:
            self.before.clear()
        elif not self.is_revealed:
            self.before.setText(f"As commissioned: {HIDDEN}")
        else:
            listed = step.wanted.listed
            unit = f" {listed.unit}" if listed and listed.unit else ""
            factory = listed.factory.strip() if listed else ""
            shown = f"{step.commissioned}{unit}" if step.commissioned else "no value recorded"
            delivered = f"  ·  as delivered: {factory}{unit}" if factory else ""
            self.before.setText(f"As commissioned: {shown}{delivered}")

    def refuse(self, why: str, *, can_keep: bool = False) -> None:
        """Tell beside the field why it was not taken; nothing is told where it is empty."""
        self.refusal.setText(f"{REFUSED_MARK} {why}" if why else "")
        self.refusal.setVisible(bool(why))
        self.keep_button.setVisible(bool(why) and can_keep)
        self.field.setProperty("wrong", bool(why))
        self.field.style().unpolish(self.field)
        self.field.style().polish(self.field)

    def reveal(self) -> None:
        """Show the commissioned value where it is hidden, and hide it where it is shown."""
        self.is_revealed = not self.is_revealed
        self._show_before()
        self.revealed.emit(self.is_revealed)

    # --- what is asked for ------------------------------------------------------------------------

    def _enter(self) -> None:
        if self._step is None:
            return
        if not self.field.text().strip() and not self.is_revealed:
            self.refuse(
                "Nobody can see here whether it is the same: the commissioned value is hidden. "
                "Type what the keypad shows, or show it with Ctrl+H."
            )
            return
        self.entered.emit(self.field.text())

    def _keep(self) -> None:
        if not self.keep_button.isHidden():
            self.kept.emit(self.field.text())

    def _choose_station(self) -> None:
        self.stations.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _on_station_chosen(self) -> None:
        chosen = self.stations.currentData()
        if chosen is not None and chosen != self._here:
            self.station_asked.emit(int(chosen))


def _label(name: str = "") -> QLabel:
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setObjectName(name)
    policy = label.sizePolicy()
    policy.setVerticalPolicy(QSizePolicy.Policy.Maximum)
    label.setSizePolicy(policy)
    return label
