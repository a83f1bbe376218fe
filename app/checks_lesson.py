"""What a reading teaches the plan, and the one key that takes it over."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from core.line.checks.teaching import Lesson
from core.units import System, show, show_computed


class LessonPanel(QFrame):
    """A field of the line, its value now, and the one that the reading gives it.

    Signals:
        asked: It is to be taken over.
    """

    asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("panel")
        self.lesson: Lesson | None = None
        self.text = QLabel()
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setWordWrap(True)
        self.button = QPushButton("Take over  (F8)")
        self.button.setToolTip("Put the reading into the field that the plan counts on (F8)")
        self.button.clicked.connect(lambda _checked=False: self.asked.emit())
        layout = QHBoxLayout(self)
        layout.setContentsMargins(8, 4, 8, 4)
        layout.addWidget(self.text, 1)
        layout.addWidget(self.button)
        self.hide()

    def show_lesson(self, lesson: Lesson | None, system: System) -> None:
        """Show what a reading teaches; hidden where it teaches nothing new."""
        self.lesson = lesson
        self.setVisible(lesson is not None)
        if lesson is None:
            return
        now = "not entered" if lesson.now is None else str(show(lesson.now, lesson.kind, system))
        taught = show_computed(lesson.value, lesson.kind, system)
        self.text.setText(
            f"This reading teaches the plan. {lesson.label}: now {now}, by the reading {taught}."
        )
