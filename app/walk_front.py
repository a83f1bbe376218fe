"""Where a walk begins: against which values, how far it is, what can hurt on the way."""

import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QMessageBox, QPushButton, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.present_cautions import ReadingCautions
from core.readback import Walk

_EXPLAINED = (
    "Station by station, in keypad order. Type what the keypad shows and press Enter; Enter alone "
    "is the same as commissioned. Every entry is kept at once, also when the window closes."
)
_NO_SETTINGS = "No station has a drive type with a list of settings, nor a setting entered."


class WalkFront(QWidget):
    """The words before a walk, and the buttons that begin it or go on with it.

    Signals:
        go_asked: The walk is to begin or to go on.
        anew_asked: The walk is to be dropped, and another one begun.
    """

    go_asked = Signal()
    anew_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._found = 0
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.go_button, self.anew_button = QPushButton(), QPushButton("Begin a&new")
        explained = QLabel(_EXPLAINED)
        explained.setWordWrap(True)
        buttons = FlowLayout(gap=6)
        buttons.addWidget(self.go_button)
        buttons.addWidget(self.anew_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 2, 6, 2)
        column.addWidget(self.words)
        column.addLayout(buttons)
        column.addWidget(explained)
        column.addWidget(ReadingCautions())
        column.addStretch(1)
        self.go_button.clicked.connect(lambda _checked=False: self.go_asked.emit())
        self.anew_button.clicked.connect(lambda _checked=False: self._ask_anew())

    def show_walk(self, walk: Walk, begun: str, against: str) -> None:
        """Say how far a walk is; ``against`` names the commissioned values."""
        self._found, whole = len(walk.found), len(walk.steps)
        words = against if whole else _NO_SETTINGS
        if self._found:
            words += f"\nA walk begun on {begun} goes on: {self._found} of {whole} settings done."
            words += _age_told(begun)
        elif whole:
            stations = len({step.wanted.station.id for step in walk.steps})
            words += f"\n{whole} settings at {stations} stations."
        self.words.setText(words)
        self.go_button.setText("&Go on with the walk" if self._found else "&Begin the walk")
        self.go_button.setEnabled(bool(whole))
        self.anew_button.setVisible(bool(self._found))

    def _ask_anew(self) -> None:
        box = QMessageBox(self)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Begin the walk anew")
        box.setText(
            f"What this walk found for {self._found} settings is lost then; no undo brings it back."
        )
        drop = box.addButton("Drop it and begin anew", QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton("Keep the walk", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(stay)
        box.setEscapeButton(stay)
        box.exec()
        if box.clickedButton() is drop:
            self.anew_asked.emit()


def _age_told(begun: str) -> str:
    """A word of warning where a walk is from an earlier day."""
    try:
        days = (datetime.date.today() - datetime.datetime.fromisoformat(begun).date()).days
    except ValueError:
        return ""
    if days < 1:
        return ""
    ago = "yesterday" if days == 1 else f"{days} days ago"
    return f" That was {ago}: what was found then may be otherwise now. For a new visit begin anew."
