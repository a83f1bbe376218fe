"""A strip at the top of the window that tells what was refused, or what just happened."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QWidget

from app.fault_list import REFUSED_MARK
from core.errors import LinebookError


class Notice(QFrame):
    """One sentence, or three; hidden while there is nothing to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._text = QLabel()
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.close_button = QToolButton()
        self.close_button.setText("Close")
        self.close_button.clicked.connect(lambda _checked=False: self.clear())
        layout = QHBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 4)
        layout.addWidget(self._text, 1)
        layout.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    @property
    def text(self) -> str:
        """What is told; empty when nothing is."""
        return "" if self.isHidden() else self._text.text()

    def tell(self, sentence: str) -> None:
        """Tell something that happened."""
        self._text.setText(sentence)
        self.show()

    def tell_refused(self, error: LinebookError) -> None:
        """Tell what did not happen, why, and what to do."""
        self.tell(f"{REFUSED_MARK} Refused: {error}")

    def clear(self) -> None:
        """Tell nothing any more."""
        self.hide()
