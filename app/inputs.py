"""Inputs that fields are typed in or chosen from; they know keys and focus, no records.

Each tells `left` when what stands there is meant, and `given_up` when it is not. Undo and redo
keys are theirs only while something typed is left to undo.
"""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QEvent, QStringListModel, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QComboBox, QCompleter, QLineEdit, QPlainTextEdit, QWidget

from app.theme import colours

Offers = Callable[[], Iterable[str]]
"""Gives the words that a text field proposes while one types."""

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
        proposing = popup is not None and popup.isVisible()
        if popup is not None and proposing and event.key() in _ENTER:
            if popup.currentIndex().isValid():
                super().keyPressEvent(event)  # the proposed word is taken, which tells `left`
            else:
                popup.hide()
                self.left.emit()
        elif proposing:
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
        painter.setPen(QColor(colours().muted))
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
            completer.activated.connect(self._on_proposal_taken)
        model = completer.model()
        assert isinstance(model, QStringListModel)
        if model.stringList() != words:
            model.setStringList(words)

    def _on_proposal_taken(self, _word: str) -> None:
        # The word gets into the field after this signal.
        QTimer.singleShot(0, self, self.left.emit)


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
