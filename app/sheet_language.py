"""The language of what is printed: that which is stored, until another one is chosen."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QWidget

from core.model import Line
from core.model.choices import LANGUAGES

_TIP = (
    "For what is shown, saved and printed here. What the line or its frozen record stores stays as "
    "it is, and so does the SHA-256 of the record."
)


class SheetLanguage(QWidget):
    """A choice beside the sheets, for a frozen record as for the line; it stores nothing.

    Signals:
        changed: Another language was chosen.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stored = ""
        self._chosen: str | None = None
        self.box = QComboBox()
        self.box.setAccessibleName("Language to print in")
        self.box.setAccessibleDescription(_TIP)
        self.box.setToolTip(_TIP)
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        for key, name in LANGUAGES.items():
            self.box.addItem(name, key)
        label = QLabel("&Language")
        label.setBuddy(self.box)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(label)
        layout.addWidget(self.box, 1)
        self.box.activated.connect(lambda _place: self._on_chosen())

    @property
    def language(self) -> str | None:
        """The language chosen; None for the one that is stored."""
        return self._chosen

    @property
    def file_words(self) -> str:
        """What tells a file in a language of choice from the one in the language stored."""
        return LANGUAGES[self._chosen] if self._chosen else ""

    def show_line(self, line: Line | None) -> None:
        """Mark the language that a line is stored with; a choice that was made stays."""
        self.setEnabled(line is not None)
        self._stored = line.language if line is not None else ""
        if self._chosen == self._stored:
            self._chosen = None
        for place, (key, name) in enumerate(LANGUAGES.items()):
            self.box.setItemText(place, f"{name} (stored)" if key == self._stored else name)
        self._show_choice()

    def forget(self) -> None:
        """Go back to the language that is stored, as when another line or record is shown."""
        self._chosen = None
        self._show_choice()

    def _show_choice(self) -> None:
        self.box.setCurrentIndex(max(0, self.box.findData(self._chosen or self._stored)))

    def _on_chosen(self) -> None:
        key = str(self.box.currentData())
        chosen = None if key == self._stored else key
        if chosen != self._chosen:
            self._chosen = chosen
            self.changed.emit()
