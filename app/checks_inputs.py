"""Inputs of the check in hand: a line that tells Enter, with a name above and refusals marked."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.inputs import LineInput

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class EnterInput(LineInput):
    """A line to type in that tells Enter from leaving it.

    Signals:
        entered: Enter was pressed, and it took no proposed word.
    """

    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stored = ""
        self.given_up.connect(lambda: self.show_stored(self.stored, self.unit))

    def show_stored(self, text: str, unit: str = "") -> None:
        """Show what is stored; what was typed before is forgotten."""
        self.stored = text
        self.show_text(text, unit)
        self.setModified(False)
        self.mark_wrong(False)

    @property
    def is_changed(self) -> bool:
        """Whether another text stands there than is stored."""
        return self.text().strip() != self.stored

    def mark_wrong(self, wrong: bool) -> None:
        """Frame the input as one whose text was not taken."""
        if bool(self.property("wrong")) != wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tell Enter, unless it takes one of the words that are proposed."""
        popup = self.completer().popup() if self.completer() else None
        proposing = popup is not None and popup.isVisible()
        takes_word = popup is not None and proposing and popup.currentIndex().isValid()
        super().keyPressEvent(event)
        if event.key() in ENTER and not takes_word:
            self.entered.emit()


class NamedInput(QWidget):
    """An input below its name, as in a form."""

    def __init__(self, name: str, hint: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.input = EnterInput()
        self.input.setAccessibleName(name)
        self.input.setToolTip(hint)
        self.input.setPlaceholderText(hint)
        self.label = QLabel(name)
        self.label.setObjectName("fieldName")
        self.label.setBuddy(self.input)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(1)
        layout.addWidget(self.label)
        layout.addWidget(self.input)
        self.setFocusProxy(self.input)
