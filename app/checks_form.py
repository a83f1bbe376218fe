"""The form of the check in hand: its words, the answer, who gives it, the reason, the keys."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.checks_answer import AnswerPanel
from app.checks_inputs import EnterInput, NamedInput
from app.checks_lesson import LessonPanel
from app.checks_model import Key, key_of
from app.checks_text import CheckText
from app.checks_who import WhoPanel
from app.editors import REFUSED_MARK
from app.flow_layout import FlowLayout
from app.session import Session
from core.line.checks import CheckItem
from core.line.checks.listing import answer_text, judged_text
from core.line.checks.teaching import lesson_of

DONE_MARK, _MARGIN = "✓", 30
_SHOWN_ONLY = "A frozen record is shown: nothing is answered here."


class CheckForm(QWidget):
    """Shows one check and takes what is typed; it stores nothing."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.item: CheckItem | None = None
        self.items: tuple[CheckItem, ...] = ()
        """Every check of the line, from which the state of a station follows."""
        self.pending: Callable[[], object] | None = None
        """What is stored once the name that it lacks is typed."""
        self.wants_skip = False
        self.drafts: dict[Key, tuple[str, str, str]] = {}
        """What was typed for a check that was left, and could not be stored."""
        self.words = CheckText()
        self.answer = AnswerPanel()
        self.who = WhoPanel()
        self.reason = NamedInput("Reason", "Why it is kept, or does not apply")
        self.message = QLabel()
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setWordWrap(True)
        self.lesson = LessonPanel()
        self.store_button = QPushButton("Store, next open  (Enter)")
        self.keep_button = QPushButton("Keep with this reason  (Enter)")
        self.skip_button = QPushButton("Does not apply…  (F6)")
        self.open_button = QPushButton("Open again  (F7)")
        self.back_button = QPushButton("◂ Previous  (Ctrl+Up)")
        self.on_button = QPushButton("Next ▸  (Ctrl+Down)")
        self._build()

    def _build(self) -> None:
        content = QFrame()
        content.setObjectName("section")
        column = QVBoxLayout(content)
        column.setContentsMargins(10, 8, 10, 8)
        column.setSpacing(6)
        row = FlowLayout(gap=6)
        for button in (
            self.store_button, self.keep_button, self.skip_button, self.open_button,
            self.back_button, self.on_button,
        ):  # fmt: skip
            row.addWidget(button)
        for part in (
            self.words, self.answer, self.message, self.lesson, self.who, self.reason,
        ):  # fmt: skip
            column.addWidget(part)
        column.addLayout(row)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(content)
        self.area = area
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area)

    def show_item(self, item: CheckItem | None, *, anew: bool = False) -> None:
        """Show a check; what is typed for the same one stays, unless it is shown ``anew``."""
        same = self.item is not None and item is not None and key_of(self.item) == key_of(item)
        self.area.setVisible(item is not None)
        before, self.item = self.item, item
        if item is None:
            return
        results = self.session.results
        self.words.show_item(item, results, self.items)
        if anew or not same or (before != item and not self.is_typed):
            self.pending, self.wants_skip = None, False
            self.answer.show_item(item, results.line.unit_system)
            self.who.show_item(item, results.line)
            self.reason.input.show_stored(item.result.reason if item.result else "")
            self._tell_state(item)
            self._bring_draft(item)
        self.lesson.show_lesson(lesson_of(results, item), results.line.unit_system)
        self._show_possible(item)
        if not same:
            self.area.verticalScrollBar().setValue(0)

    def _show_possible(self, item: CheckItem) -> None:
        writable = not self.session.record_name
        for part in (self.answer, self.who, self.reason, self.lesson.button):
            part.setEnabled(writable)
        self.store_button.setEnabled(writable)
        self.skip_button.setEnabled(writable)
        self.keep_button.setVisible(writable and item.state in ("out", "kept"))
        self.open_button.setVisible(writable and item.state != "open")
        if not writable:
            self.tell(_SHOWN_ONLY)

    def _tell_state(self, item: CheckItem) -> None:
        system = self.session.line.unit_system
        judged = judged_text(item, system)
        if item.state == "open":
            self.tell("")
            return
        told = f"{answer_text(item, system)}. {judged}".strip()
        if item.state == "out":
            told += " Type the reason and Enter to keep it; Ctrl+Down leaves it as it is."
        self.tell(told, REFUSED_MARK if item.state == "out" else DONE_MARK)

    def tell(self, text: str, mark: str = "") -> None:
        """Tell something below the answer; what is wrong bears the mark of a refusal."""
        name = "refusal" if mark == REFUSED_MARK else "quiet"
        if self.message.objectName() != name:
            self.message.setObjectName(name)
            self.message.style().unpolish(self.message)
            self.message.style().polish(self.message)
        self.message.setText(f"{mark} {text}".strip())
        self.message.setVisible(bool(text))

    def refuse(self, field: NamedInput, text: str) -> None:
        """Tell why what stands in a field is not taken, and go there."""
        self.tell(f"Not taken: {text}", REFUSED_MARK)
        field.input.mark_wrong(True)
        field.input.setFocus()
        self.bring_in_sight(field)

    @property
    def waits_for_lesson(self) -> bool:
        """Whether something can be taken over from the reading."""
        return self.lesson.lesson is not None and not self.session.record_name

    def tell_all_done(self) -> None:
        """Say that nothing is open any more among the checks of the list."""
        self.tell("Every check of this list is answered.", DONE_MARK)

    def focus_answer(self) -> None:
        """Go where the answer is given."""
        self.answer.focus()
        self.bring_in_sight(self.answer)

    def ask_reason(self) -> None:
        """Go where the reason is typed."""
        self.reason.input.setFocus()
        self.bring_in_sight(self.reason)

    def bring_in_sight(self, part: QWidget) -> None:
        """Scroll to a part once it is laid out."""
        QTimer.singleShot(0, part, lambda: self.area.ensureWidgetVisible(part, 0, _MARGIN))

    @property
    def is_typed(self) -> bool:
        """Whether an answer or a reason stands there that is not stored."""
        return self.answer.is_changed or self.reason.input.is_changed or self.pending is not None

    @property
    def typed_fields(self) -> tuple[EnterInput, ...]:
        """The fields whose text is kept for a check that is left."""
        return self.answer.value.input, self.answer.warm.input, self.reason.input

    def _bring_draft(self, item: CheckItem) -> None:
        """Show again what was typed for a check and could not be stored."""
        texts = self.drafts.pop(key_of(item), None)
        if texts is None:
            return
        for field, text in zip(self.typed_fields, texts, strict=True):
            if text.strip() != field.stored:
                field.setText(text)
                field.setModified(True)
        self.tell("What was typed before is not stored yet.", REFUSED_MARK)
