"""Editors for one field of a record, made from the field's declaration.

An editor shows the stored value, takes a typed one, and tells `committed` only when the text is
another one than it showed: tabbing through fields never changes what is stored. What cannot be
taken is told beneath the input; the last good value stays stored, and Esc brings it back.
"""

from collections.abc import Callable, Iterable
from typing import Any

from PySide6.QtCore import QEvent, QObject, QStringListModel, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QCompleter,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.field_text import companion, offered, sentence, shown, unit_shown, values_for
from app.session import Session
from core.errors import InputError
from core.model import FieldSpec, Line

Offers = Callable[[], Iterable[str]]
"""Gives the words that a text field proposes while one types."""

REFUSED_MARK = "✗"
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_UNIT_GAP = 6
_NOTE_LINES = 3


def wants_own_undo(event: QEvent, key: QKeySequence.StandardKey) -> bool:
    """Whether an event asks a focused input to claim an undo or redo key for itself."""
    return (
        event.type() == QEvent.Type.ShortcutOverride
        and isinstance(event, QKeyEvent)
        and event.matches(key)
    )


class LineInput(QLineEdit):
    """A line to type in that may show a unit at its end.

    Signals:
        left: Enter was pressed or the focus moves on: what stands there is meant.
        given_up: Esc was pressed.
    """

    left = Signal()
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = ""
        self._offers: Offers | None = None

    @property
    def unit(self) -> str:
        """The unit of a bare number, as shown at the end."""
        return self._unit

    def show_text(self, text: str, unit: str) -> None:
        """Show a stored value; what was typed before is forgotten."""
        if text != self.text() or self.isModified() or self.isUndoAvailable():
            self.setText(text)
            self.setCursorPosition(0)
        if unit != self._unit:
            self._unit = unit
            room = self.fontMetrics().horizontalAdvance(unit) + _UNIT_GAP if unit else 0
            self.setTextMargins(0, 0, room, 0)
            self.update()

    def set_offers(self, offers: Offers) -> None:
        """Propose words while one types; they are asked for whenever the field is entered."""
        self._offers = offers

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window once nothing typed is left to undo."""
        if wants_own_undo(event, QKeySequence.StandardKey.Undo) and not self.isModified():
            event.ignore()
            return True
        if wants_own_undo(event, QKeySequence.StandardKey.Redo) and not self.isRedoAvailable():
            event.ignore()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter means what is typed; Esc gives it up."""
        popup = self.completer().popup() if self.completer() else None
        if popup is not None and popup.isVisible():
            super().keyPressEvent(event)
        elif event.key() in _ENTER:
            self.left.emit()
            self.selectAll()
        elif event.key() == Qt.Key.Key_Escape and self.isModified():
            self.given_up.emit()
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Take what is typed before the focus moves, since it may bring further fields."""
        self.left.emit()
        return super().focusNextPrevChild(forward)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Bring the words to propose up to date."""
        if self._offers is not None:
            self._propose(list(dict.fromkeys(filter(None, self._offers()))))
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take what is typed."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the unit at the end, unless the typed text brings its own."""
        super().paintEvent(event)
        if not self._unit or (self.isModified() and any(map(str.isalpha, self.text()))):
            return
        painter = QPainter(self)
        painter.setPen(self.palette().placeholderText().color())
        place = self.rect().adjusted(0, 0, -_UNIT_GAP - 2, 0)
        end = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(place, end, self._unit)
        painter.end()

    def _propose(self, words: list[str]) -> None:
        completer = self.completer()
        if completer is None:
            completer = QCompleter(QStringListModel(self), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            self.setCompleter(completer)
        model = completer.model()
        assert isinstance(model, QStringListModel)
        if model.stringList() != words:
            model.setStringList(words)


class ChoiceInput(QComboBox):
    """A list to choose from that the wheel of a scrolled page never changes.

    Signals:
        left: Something was picked, Enter was pressed, or the focus moves on.
        given_up: Esc was pressed.
    """

    left = Signal()
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._by_key = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)
        self.activated.connect(self._on_activated)

    def show_words(self, words: Iterable[str], chosen: str) -> None:
        """Show the words on offer and the stored one."""
        words = list(words)
        if words != [self.itemText(place) for place in range(self.count())]:
            self.clear()
            self.addItems(words)
        self.setCurrentIndex(words.index(chosen) if chosen in words else -1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk through the words without storing each; Enter stores, Esc gives up."""
        if event.key() in _ENTER:
            self.left.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.given_up.emit()
            event.ignore()
        else:
            self._by_key = True
            super().keyPressEvent(event)
            self._by_key = False

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Let the page scroll instead."""
        event.ignore()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Take the choice before the focus moves, since it may bring further fields."""
        self.left.emit()
        return super().focusNextPrevChild(forward)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the choice."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()

    def _on_activated(self, _place: int) -> None:
        if not self._by_key:
            self.left.emit()


class NoteInput(QPlainTextEdit):
    """A note of several lines; Tab leaves it.

    Signals:
        left: The focus moves on, or Ctrl+Enter was pressed.
        given_up: Esc was pressed.
    """

    left = Signal()
    given_up = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * _NOTE_LINES + 14)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window once nothing typed is left to undo."""
        if wants_own_undo(event, QKeySequence.StandardKey.Undo) and not self._is_modified():
            event.ignore()
            return True
        if wants_own_undo(event, QKeySequence.StandardKey.Redo) and not self._can_redo():
            event.ignore()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc gives up what was typed; Ctrl+Enter takes it."""
        if event.key() == Qt.Key.Key_Escape and self._is_modified():
            self.given_up.emit()
        elif event.key() in _ENTER and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take what is typed."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()

    def _is_modified(self) -> bool:
        return self.document().isModified()

    def _can_redo(self) -> bool:
        return self.document().isRedoAvailable()


class FieldEditor(QWidget):
    """The input of one field, with its unit, and a line beneath for what is wrong.

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
            values = values_for(self._table, self.spec, self.text, self._session.line)
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


def settle_focused() -> None:
    """Store what is typed in the field that has the focus, as leaving it would."""
    widget = QApplication.focusWidget()
    while widget is not None:
        if isinstance(widget, FieldEditor):
            widget.commit()
            return
        widget = widget.parentWidget()
