"""What can hurt while drives are read, where it is done: gravest first, as ISO 3864 orders it."""

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.remarks import CautionCard

_READ_ONLY = (
    "Linebook only reads. It writes nothing to a drive; settings are changed by a person at the "
    "keypad."
)
SHORT = "⚠ Live parts in every open cabinet · belts and brushes may start by themselves"


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


class CautionLine(QLabel):
    """The same in one line, for while the hands are at work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(SHORT, parent)
        self.setObjectName("warning")
        self.setWordWrap(True)
