"""The strip that says that changes go to a private copy, and how to leave it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget


class TrialStrip(QFrame):
    """Stands at the top of the window while changes are tried on a copy.

    Signals:
        take_over_asked: The changes of the trial are to be made in the file too.
        discard_asked: The trial is to be thrown away.
        keep_asked: The trial is to be kept as a file of its own.
    """

    take_over_asked = Signal()
    discard_asked = Signal()
    keep_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("trial")
        self.text = QLabel()
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.take_over_button = QPushButton("Take over into the file")
        self.take_over_button.setToolTip("Every change at once; undo takes them back as one step")
        self.take_over_button.clicked.connect(lambda _checked=False: self.take_over_asked.emit())
        self.keep_button = QPushButton("Keep as a new file…")
        self.keep_button.clicked.connect(lambda _checked=False: self.keep_asked.emit())
        self.discard_button = QPushButton()
        self.discard_button.clicked.connect(lambda _checked=False: self.discard_asked.emit())
        layout = QHBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 4)
        layout.addWidget(self.text, 1)
        layout.addWidget(self.take_over_button)
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
                "Trial copy: the line file is not touched. Closing the file or the window loses it."
            )
        self.take_over_button.setVisible(not record_name)
        self.discard_button.setText("Back to the file" if record_name else "Discard the trial")
        self.setVisible(is_trial)
