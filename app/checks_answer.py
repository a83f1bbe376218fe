"""Where a check is answered: keys for yes or no, for a choice, or a line for a reading."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from app.checks_inputs import ENTER, NamedInput
from app.flow_layout import FlowLayout
from core.line.checks import CheckItem, CheckRule
from core.units import System, show, unit_of

_YES_NO = {"yes": ("Y", "Yes"), "no": ("N", "No")}


class _Button(QPushButton):
    """A button that Enter does not press: some desktops would answer yes by Enter after Enter."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter to whoever holds the buttons."""
        if event.key() in ENTER:
            event.ignore()
        else:
            super().keyPressEvent(event)


class Buttons(QWidget):
    """One button for each answer, and a key for each; Enter alone answers nothing.

    Signals:
        given: An answer was given.
               arg 0: its word
        entered: Enter was pressed.
    """

    given = Signal(str)
    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons: dict[str, QPushButton] = {}
        self._keys: dict[str, str] = {}
        self._row = FlowLayout(gap=6)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._row)

    def show_words(self, words: Mapping[str, tuple[str, str]], chosen: str) -> None:
        """Show answers: word to its key and label; the present one is marked by a tick too."""
        if list(words) != list(self.buttons):
            self._build(words)
        for word, (key, label) in words.items():
            mark = "✓ " if word == chosen else ""
            self.buttons[word].setText(f"{mark}{label}  ({key})")

    def _build(self, words: Mapping[str, tuple[str, str]]) -> None:
        while (item := self._row.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        self.buttons, self._keys = {}, {}
        for word, (key, label) in words.items():
            button = _Button()
            button.setAccessibleName(label)
            button.setToolTip(f"{label} ({key})")
            button.clicked.connect(lambda _checked=False, word=word: self.given.emit(word))
            self._row.addWidget(button)
            button.show()  # at once, or the focus could not come to it yet
            self.buttons[word], self._keys[key] = button, word
        self.setFocusProxy(next(iter(self.buttons.values())))

    def take_key(self, sign: str) -> bool:
        """Give the answer of a key; False where it is none."""
        word = self._keys.get(sign.upper())
        if word is not None:
            self.given.emit(word)
        return word is not None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Answer by key."""
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        if event.key() in ENTER:
            self.entered.emit()
        elif not (plain and self.take_key(event.text())):
            super().keyPressEvent(event)


class AnswerPanel(QWidget):
    """The answer of one check in the form that its rule asks for.

    Signals:
        given: Yes, no or an option was given.
               arg 0: ``yes``, ``no`` or the stored word of the option
        entered: Enter was pressed in a field of the reading, or without an answer.
    """

    given = Signal(str)
    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons = Buttons()
        self.value = NamedInput("Reading")
        self.warm = NamedInput("Temperature at the test")
        self.rule: CheckRule | None = None
        reading = QWidget()
        row = QHBoxLayout(reading)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.value, 3)
        row.addWidget(self.warm, 2)
        for field in (self.value, self.warm):
            field.input.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            field.input.entered.connect(self.entered)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.buttons)
        self._stack.addWidget(reading)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._stack)
        self.buttons.given.connect(self.given)
        self.buttons.entered.connect(self.entered)

    @property
    def is_reading(self) -> bool:
        """Whether a value is typed here."""
        return bool(self.rule and self.rule.kind)

    @property
    def is_changed(self) -> bool:
        """Whether a reading stands there that is not stored."""
        warm = bool(self.rule and self.rule.warm) and self.warm.input.is_changed
        return self.is_reading and (self.value.input.is_changed or warm)

    def show_item(self, item: CheckItem, system: System) -> None:
        """Show the answer as it is stored."""
        self.rule, held = item.rule, item.result
        self._stack.setCurrentIndex(1 if self.is_reading else 0)
        if self.is_reading:
            self._show_reading(item, system)
            return
        for field in (self.value, self.warm):
            field.input.show_stored("")
        chosen = held.answer if held else ""
        words = _YES_NO
        if item.rule.options:
            chosen = held.shown if held and held.answer == "choice" else ""
            numbered = enumerate(item.rule.options.items(), start=1)
            words = {word: (str(number), label) for number, (word, label) in numbered}
        self.buttons.show_words(words, chosen)

    def _show_reading(self, item: CheckItem, system: System) -> None:
        kind, held = item.rule.kind, item.result
        text = unit = ""
        if held is not None and held.answer == "reading" and held.value is not None:
            text = str(show(held.value, kind, system))
        else:
            unit = unit_of(kind, system)
        self.value.input.show_stored(text, unit)
        self.warm.setVisible(item.rule.warm)
        warm_k = held.temperature_k if held else None
        warm = "" if warm_k is None else str(show(warm_k, "temperature", system))
        self.warm.input.show_stored(warm, "" if warm else unit_of("temperature", system))

    def take_key(self, sign: str) -> bool:
        """Use a sign typed elsewhere: as an answer, or as the beginning of a reading."""
        if not self.is_reading:
            return self.buttons.take_key(sign)
        self.value.input.setFocus()
        self.value.input.selectAll()
        self.value.input.insert(sign)
        return True

    def focus(self) -> None:
        """Go where the answer is given."""
        if self.is_reading:
            self.value.input.setFocus()
            self.value.input.selectAll()
        else:
            self.buttons.setFocus()
