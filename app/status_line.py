"""The line at the foot of the window: the file, the last step, and that all of it is stored."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QStatusBar, QWidget

_STORED = "■ Stored"


class StatusLine(QStatusBar):
    """Tells the file and the last step; there is no unsaved state to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._path = ""
        self.file = QLabel()
        self.file.setTextFormat(Qt.TextFormat.PlainText)
        self.file.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.step = QLabel()
        self.step.setTextFormat(Qt.TextFormat.PlainText)
        self.stored = QLabel()
        self.stored.setToolTip("Everything typed is in the file at once")
        self.addWidget(self.file, 1)
        self.addPermanentWidget(self.step)
        self.addPermanentWidget(self.stored)

    def show_file(self, path: Path | None) -> None:
        """Tell which file is open."""
        self._path = "" if path is None else str(path)
        self.step.clear()
        self.stored.setText(_STORED if path else "")
        self._fit()

    def show_step(self, name: str) -> None:
        """Tell the last step."""
        self.step.setText(name if len(name) < 60 else f"{name[:58]} …")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut the path in its middle where it is too long."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room = max(self.file.width(), 60)
        middle = Qt.TextElideMode.ElideMiddle
        self.file.setText(self.file.fontMetrics().elidedText(self._path, middle, room))
        self.file.setToolTip(self._path)
