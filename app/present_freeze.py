"""Who found it and why it was looked for: from a reading to an as-found record."""

from collections.abc import Sequence

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.fault_list import REFUSED_MARK
from app.flow_layout import FlowLayout


class FreezePanel(QWidget):
    """Person, reason and the button that freezes what was found.

    Signals:
        asked: What was found is to be frozen.
               arg 0: person, arg 1: reason
        compare_asked: The record just made is to be compared with the commissioned values.
    """

    asked = Signal(str, str)
    compare_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.person, self.reason = QLineEdit(), QLineEdit()
        self.freeze_button = QPushButton("Freeze as foun&d")
        self.freeze_button.setToolTip("Makes a record that never changes afterwards")
        self.compare_button = QPushButton("Co&mpare with as commissioned")
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self._people = QStringListModel(self)
        completer = QCompleter(self._people, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.person.setCompleter(completer)
        self._build()
        self.freeze_button.clicked.connect(lambda _checked=False: self._ask())
        self.reason.returnPressed.connect(self._ask)
        self.compare_button.clicked.connect(lambda _checked=False: self.compare_asked.emit())
        self.clear()

    def _build(self) -> None:
        fields = QGridLayout()
        for column, (words, field) in enumerate(
            (("Found b&y", self.person), ("Reason for the v&isit", self.reason))
        ):
            label = QLabel(words)
            label.setObjectName("fieldName")
            label.setBuddy(field)
            field.setAccessibleName(words.replace("&", ""))
            fields.addWidget(label, 0, column)
            fields.addWidget(field, 1, column)
            fields.setColumnStretch(column, 1 + column)
        buttons = FlowLayout(gap=6)
        for button in (self.freeze_button, self.compare_button):
            buttons.addWidget(button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 0, 6, 4)
        layout.setSpacing(4)
        layout.addLayout(fields)
        layout.addWidget(self.told)
        layout.addLayout(buttons)

    def show_people(self, names: Sequence[str]) -> None:
        """Propose the people of the line."""
        self._people.setStringList(list(names))

    def show_ready(self, *, is_ready: bool, left_out: int) -> None:
        """Say whether there is something to freeze, and how many settings it would not hold."""
        self.setEnabled(is_ready)
        self.compare_button.hide()
        self._tell(
            f"○ The record will say of {left_out} settings that they were not read."
            if is_ready and left_out
            else ""
        )

    def tell_frozen(self, words: str, compared_with: str) -> None:
        """Say which record was made; it can be compared from here."""
        self._tell(f"✓ {words}")
        self.compare_button.setText(f"Co&mpare with {compared_with}")
        self.compare_button.show()

    def tell_refused(self, why: str) -> None:
        """Say why nothing was frozen."""
        self._tell(f"{REFUSED_MARK} {why}", is_wrong=True)

    def clear(self) -> None:
        """Begin anew, as for another file; the person stays."""
        self.reason.clear()
        self.show_ready(is_ready=False, left_out=0)

    def _ask(self) -> None:
        for field in (self.person, self.reason):
            if not field.text().strip():
                self.tell_refused(f"Not frozen: enter '{field.accessibleName().lower()}' first.")
                field.setFocus(Qt.FocusReason.OtherFocusReason)
                return
        self.asked.emit(self.person.text(), self.reason.text())

    def _tell(self, words: str, *, is_wrong: bool = False) -> None:
        self.told.setObjectName("refusal" if is_wrong else "")
        self.told.style().unpolish(self.told)
        self.told.style().polish(self.told)
        self.told.setText(words)
        self.told.setVisible(bool(words))
