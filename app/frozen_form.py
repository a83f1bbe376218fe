"""The panel that freezes the line: as what, by whom, why, and what is still open."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from core.errors import LinebookError
from core.model import Line
from core.records.keeping import Standing
from core.store import RECORD_KINDS, FrozenRecord

_CLEAR, _OPEN = "✓", "▲"
_ALL_THE_SAME = "It may be frozen all the same; the record holds it as it stands."


class FreezeForm(QFrame):
    """Asks what a record needs; what was refused is told here, and nothing typed is lost.

    Signals:
        asked: The line is to be frozen.
               arg 0: kind, arg 1: person, arg 2: reason
    """

    asked = Signal(str, str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("section")
        self.kind = QComboBox()
        for key, word in RECORD_KINDS.items():
            self.kind.addItem(word, key)
        self.person = QComboBox()
        self.person.setEditable(True)
        self.person.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.reason = QLineEdit()
        self.reason.setPlaceholderText("Handover, visit after a stop …")
        self.standing = _words("")
        self.told = _words("refusal")
        self.button = QPushButton("F&reeze the line")
        self._build()
        self.told.hide()

    def _build(self) -> None:
        head = QLabel("Freeze the line as it stands")
        head.setObjectName("sectionName")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        column.setSpacing(4)
        column.addWidget(head)
        for text, widget in (
            ("Recor&d as", self.kind),
            ("Fro&zen by", self.person),
            ("Rea&son", self.reason),
        ):
            label = QLabel(text)
            label.setObjectName("fieldName")
            label.setBuddy(widget)
            widget.setAccessibleName(text.replace("&", ""))
            column.addWidget(label)
            column.addWidget(widget)
        column.addWidget(self.standing)
        column.addWidget(self.told)
        column.addWidget(self.button)
        column.addStretch(1)
        self.button.clicked.connect(lambda _checked=False: self._ask())
        self.reason.returnPressed.connect(self._ask)

    def show_people(self, line: Line, records: Sequence[FrozenRecord]) -> None:
        """Propose who may freeze: whoever froze last, else the people of the line."""
        last = [record.person for record in reversed(records) if record.is_sound]
        names = [*last, *(person.name for person in line.people)]
        kept, touched = self.person.currentText(), self._person_typed()
        self.person.clear()
        self.person.addItems(list(dict.fromkeys(filter(None, names))))
        self.person.setEditText(kept if touched else self.person.itemText(0))
        self._proposed = self.person.currentText()

    _proposed = ""

    def _person_typed(self) -> bool:
        return self.person.currentText() not in ("", self._proposed)

    def hold(self, why: str) -> None:
        """Freeze nothing for now, and say why; without a reason it may go on."""
        for widget in (self.kind, self.person, self.reason):
            widget.setEnabled(not why)
        self.button.setVisible(not why)
        self.told.hide()
        self.standing.setText(f"✗ Not now. {why}" if why else "")

    def show_standing(self, standing: Standing) -> None:
        """Say what is not done on the line."""
        mark = _CLEAR if standing.is_clear else _OPEN
        words = [f"{mark} {words}" for words in standing.words()]
        if not standing.is_clear:
            words.append(_ALL_THE_SAME)
        self.standing.setText("\n".join(words))

    def show_refused(self, error: LinebookError) -> None:
        """Say why nothing was frozen, beside what was typed."""
        self.told.setText(f"✗ Refused: {error}")
        self.told.show()
        lacking = self.person.lineEdit() if not self.person.currentText().strip() else self.reason
        if lacking is not None:
            lacking.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_done(self) -> None:
        """The record was made: its reason was meant for it alone."""
        self.told.hide()
        self.reason.clear()
        self._proposed = self.person.currentText()

    def _ask(self) -> None:
        self.told.hide()
        kind = str(self.kind.currentData())
        self.asked.emit(kind, self.person.currentText(), self.reason.text())


def _words(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label
