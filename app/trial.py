"""The strip that says that changes go to a private copy, and how to leave it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget


class TrialStrip(QFrame):
    """Stands at the top of the window while changes are tried on a copy.

    Signals:
        discard_asked: The trial is to be thrown away.
        keep_asked: The trial is to be kept as a file of its own.
    """

    discard_asked = Signal()
    keep_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        text = QLabel(
            "Trial on a private copy: the line file is not touched. The page Speeds shows both."
        )
        text.setTextFormat(Qt.TextFormat.PlainText)
        text.setWordWrap(True)
        self.keep_button = QPushButton("Keep as a new file…")
        self.keep_button.clicked.connect(lambda _checked=False: self.keep_asked.emit())
        self.discard_button = QPushButton("Discard the trial")
        self.discard_button.clicked.connect(lambda _checked=False: self.discard_asked.emit())
        layout = QHBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 4)
        layout.addWidget(text, 1)
        layout.addWidget(self.keep_button)
        layout.addWidget(self.discard_button)
        self.hide()
