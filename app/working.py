"""How one figure comes about: formula, what was given, source, and what it leaves out."""

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.figure_list import value_text, why_none
from core.line import Figure
from core.units import System, show


class WorkingPanel(QFrame):
    """The working of one figure, inside the page; Esc or its button closes it.

    Signals:
        closed: It was closed by the user.
    """

    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("working")
        self.figure: Figure | None = None
        self._text = QLabel()
        self._text.setTextFormat(Qt.TextFormat.RichText)
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.close_button = QPushButton("Close working")
        self.close_button.clicked.connect(self.leave)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.addWidget(self._text)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        layout.addLayout(foot)
        self.hide()

    @property
    def text(self) -> str:
        """What is told, with its marking."""
        return self._text.text()

    def show_figure(self, figure: Figure, system: System) -> None:
        """Tell how a figure comes about."""
        self.figure = figure
        self._text.setText(_told(figure, system))
        self.show()
        self.close_button.setFocus()

    def refresh(self, figure: Figure | None, system: System) -> None:
        """Tell the same figure anew after a step; without it the panel hides."""
        if figure is None:
            self.hide()
        else:
            self.figure = figure
            self._text.setText(_told(figure, system))

    def leave(self) -> None:
        """Close, and tell so."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)


def _told(figure: Figure, system: System) -> str:
    head = f"<b>{escape(figure.label)} = {escape(value_text(figure, system))}</b>"
    given = ", ".join(
        f"{escape(entry.label)} {escape(entry.shown(system, show))}" for entry in figure.given
    )
    parts = (
        ("Formula", figure.formula),
        ("Not computed", why_none(figure)),
        ("Assumed", figure.assumed),
        ("Source", figure.source),
        ("Note", figure.note),
    )
    lines = [f"{word}: {escape(text)}" for word, text in parts if text]
    if given:
        lines.insert(1, f"Given: {given}")
    return "<br>".join([head, *lines])
