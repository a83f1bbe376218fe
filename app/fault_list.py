"""A line, or a few, under a table: what was refused, cell by cell."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from core.errors import ImportRefusedError, LinebookError

REFUSED_MARK = "✗"
_LINES_SHOWN = 5
# Frame, padding and margin of the text box in every look.
_AROUND = 22


class FaultList(QFrame):
    """Tells refused texts, each with its place; hidden while there is nothing to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("faults")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self._head = QLabel()
        self._head.setTextFormat(Qt.TextFormat.PlainText)
        self._head.setWordWrap(True)
        self._faults = QPlainTextEdit()
        self._faults.setReadOnly(True)
        self._faults.setFrameShape(QFrame.Shape.NoFrame)
        self._faults.setTabChangesFocus(True)
        self._faults.setAccessibleName("Refused")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.addWidget(self._head)
        layout.addWidget(self._faults)
        self.hide()

    @property
    def text(self) -> str:
        """Everything that is told, empty when nothing is."""
        if self.isHidden():
            return ""
        return "\n".join(filter(None, (self._head.text(), self._faults.toPlainText())))

    def tell(self, what: str, faults: Sequence[str]) -> None:
        """Say what did not happen, and why, one sentence for each place."""
        self._head.setText(f"{REFUSED_MARK} Refused: {what}")
        self._faults.setPlainText("\n".join(faults))
        self._faults.setVisible(bool(faults))
        self.show()
        self._fit()

    def tell_error(self, error: LinebookError) -> None:
        """Say why something was refused as a whole."""
        if isinstance(error, ImportRefusedError):
            self.tell(f"{error.what} {error.fix}".strip(), error.faults)
        else:
            self.tell(error.what, [f"{error.why} {error.fix}".strip()])

    def clear(self) -> None:
        """Tell nothing any more."""
        self._faults.clear()
        self._head.clear()
        self.hide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep all lines in sight as far as there are few of them."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        box = self._faults
        metrics, room = box.fontMetrics(), max(1, box.viewport().width() - 12)
        lines = sum(
            1 + metrics.horizontalAdvance(text) // room for text in box.toPlainText().split("\n")
        )
        box.setFixedHeight(metrics.lineSpacing() * min(lines, _LINES_SHOWN) + _AROUND)
