"""Editors for one field of a record, made from the field's declaration.

An editor shows the stored value, takes a typed one, and tells `committed` only when the text is
another one than it showed: tabbing through fields never changes what is stored. What cannot be
taken is told beneath the input; the last good value stays stored, and Esc brings it back.
"""

from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.field_text import companion, offered, sentence, shown, unit_shown, values_for
from app.inputs import ChoiceInput, LineInput, NoteInput, Offers
from app.session import Session
from app.settling import Settling
from core.errors import InputError
from core.model import FieldSpec, Line

REFUSED_MARK = "✗"


class FieldEditor(Settling):
    """The input of one field, with its unit, and a line beneath for what is wrong.

    Whoever hears `committed` answers with `show_value` of the record as it then is, or `refuse`.

    Signals:
        committed: Another value was entered.
                   arg 0: name of the field, arg 1: the values to store, by field name
    """

    committed = Signal(str, dict)

    def __init__(
        self, spec: FieldSpec, session: Session, table: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.spec = spec
        self._session, self._table = session, table
        self._companion = companion(table, spec.name)
        self._shown = ""
        self._message: QLabel | None = None
        self.input = self._build_input()
        self.setFocusProxy(self.input)
        self.input.setAccessibleName(spec.label)
        self.input.setToolTip(spec.hint)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.input)
        self.input.left.connect(self.commit)
        self.input.given_up.connect(self.give_up)

    def _build_input(self) -> LineInput | ChoiceInput | NoteInput:
        if self.spec.sort == "long_text":
            return NoteInput(self)
        if self.spec.sort in ("choice", "flag", "ref"):
            return ChoiceInput(self)
        line = LineInput(self)
        line.setPlaceholderText(self.spec.hint)
        if self.spec.is_number:
            line.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            line.setPlaceholderText("")
        return line

    @property
    def text(self) -> str:
        """What stands in the input."""
        if isinstance(self.input, ChoiceInput):
            return self.input.currentText()
        return self.input.toPlainText() if isinstance(self.input, NoteInput) else self.input.text()

    @property
    def is_changed(self) -> bool:
        """Whether another text stands there than was shown."""
        return self.text != self._shown

    @property
    def message(self) -> str:
        """What is wrong with the text that stands there; empty when nothing is."""
        wrong = self._message is not None and not self._message.isHidden()
        return self._message.text() if self._message is not None and wrong else ""

    def set_offers(self, offers: Offers) -> None:
        """Propose words while one types a text."""
        if isinstance(self.input, LineInput):
            self.input.set_offers(offers)

    def show_value(self, record: Any) -> None:
        """Show the field's value of a record, in the units of the line."""
        line = self._session.line
        value = getattr(record, self.spec.name)
        text = shown(self.spec, value, line, full=False)
        if isinstance(self.input, ChoiceInput):
            self.input.show_words(offered(self.spec, line), text)
            text = self.input.currentText()
        elif isinstance(self.input, NoteInput):
            if text != self.input.toPlainText() or self.input.document().isModified():
                self.input.setPlainText(text)
        else:
            self.input.show_text(text, self._unit_beside(text, line))
        self._shown = text
        self._show_typed(record)
        self._clear_message()

    def commit(self) -> None:
        """Tell what was entered, if it is another text than was shown."""
        if not self.is_changed:
            self._clear_message()
            return
        try:
            values = values_for(self._table, self.spec, self.text, self._session.line, self._shown)
        except InputError as error:
            self.refuse(error)
            return
        self._clear_message()
        self.committed.emit(self.spec.name, values)

    def refuse(self, error: InputError) -> None:
        """Say beneath the input why its text was not taken."""
        if self._message is None:
            self._message = QLabel(self)
            self._message.setObjectName("refusal")
            self._message.setTextFormat(Qt.TextFormat.PlainText)
            self._message.setWordWrap(True)
            self._message.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
            layout = self.layout()
            assert layout is not None
            layout.addWidget(self._message)
        self._message.setText(f"{REFUSED_MARK} Not taken: {sentence(error)}")
        self._message.show()
        self._fit_message()
        self._mark_wrong(True)

    def give_up(self) -> None:
        """Bring the last good value back."""
        if isinstance(self.input, ChoiceInput):
            self.input.setCurrentText(self._shown)
        elif isinstance(self.input, NoteInput):
            self.input.setPlainText(self._shown)
        else:
            self.input.setText(self._shown)
            self.input.selectAll()
        self._clear_message()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the message as high as its text."""
        super().resizeEvent(event)
        self._fit_message()

    def _fit_message(self) -> None:
        if self._message is not None and not self._message.isHidden():
            self._message.setFixedHeight(self._message.heightForWidth(self.width()))

    def _unit_beside(self, text: str, line: Line) -> str:
        unit = unit_shown(self.spec, line)
        return "" if text.endswith(unit) or any(map(str.isalpha, text)) else unit

    def _show_typed(self, record: Any) -> None:
        if self._companion is None:
            return
        typed = getattr(record, self._companion)
        told = f"As typed: {typed}" if typed else ""
        self.input.setToolTip("\n".join(filter(None, (self.spec.hint, told))))

    def _clear_message(self) -> None:
        if self._message is not None and not self._message.isHidden():
            self._message.hide()
            self._mark_wrong(False)

    def _mark_wrong(self, wrong: bool) -> None:
        self.input.setProperty("wrong", wrong)
        self.input.style().unpolish(self.input)
        self.input.style().polish(self.input)


def make_editor(
    spec: FieldSpec, session: Session, table: str, parent: QObject | None = None
) -> FieldEditor:
    """Make the editor of a field; see `FieldEditor`."""
    return FieldEditor(spec, session, table, parent if isinstance(parent, QWidget) else None)
