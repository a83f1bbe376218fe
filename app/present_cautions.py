"""What can hurt while drives are read, where it is done: gravest first, as ISO 3864 orders it."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.remarks import CautionCard
from core.sheets.words import words_in

say = words_in("en")
_READ_ONLY = (
    "Drives are read with their power on: keep covers and cabinets closed, and reach into nothing "
    "live. Linebook writes nothing to a drive; a person at the keypad changes settings."
)
_SHORT = (
    ("danger", "Live parts in open cabinets."),
    ("warning", "Belts can start by themselves."),
)


class ReadingCautions(QWidget):
    """The cautions of work at live cabinets and at machines that may start, in full."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        for level, key in (("danger", "shock"), ("warning", "start")):
            layout.addWidget(CautionCard(level, key))
        note = QLabel(_READ_ONLY)
        note.setWordWrap(True)
        layout.addWidget(note)


class CautionLine(QWidget):
    """The same in a line, for while the hands are at work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = FlowLayout(self, gap=8)
        for level, words in _SHORT:
            signal = QLabel(f"⚠ {say(level).upper()}")
            signal.setObjectName(level)
            row.addWidget(together(signal, QLabel(words)))


def together(*parts: QWidget) -> QWidget:
    """Widgets side by side that never part where a line is full."""
    pair = QWidget()
    row = QHBoxLayout(pair)
    row.setContentsMargins(0, 0, 0, 0)
    for part in parts:
        row.addWidget(part)
    return pair
