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
        self.text = QLabel()
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.keep_button = QPushButton("Keep as a new file…")
        self.keep_button.clicked.connect(lambda _checked=False: self.keep_asked.emit())
        self.discard_button = QPushButton()
        self.discard_button.clicked.connect(lambda _checked=False: self.discard_asked.emit())
        layout = QHBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 4)
        layout.addWidget(self.text, 1)
        layout.addWidget(self.keep_button)
        layout.addWidget(self.discard_button)
        self.show_state(False, "")

    def show_state(self, is_trial: bool, record_name: str) -> None:
        """Say what stands aside: a trial, or a record of this name; hidden where nothing does."""
        if record_name:
            self.text.setText(
                f"{record_name}: shown as a private copy. Nothing typed here reaches the record "
                "or the line file."
            )
        else:
            self.text.setText(
                "Trial on a private copy: the line file is not touched. The page Speeds shows both."
            )
        self.discard_button.setText("Back to the file" if record_name else "Discard the trial")
        self.setVisible(is_trial)
