"""The check in hand: what is done, what it should give, and the answer, by keyboard alone."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.checks_answer import AnswerPanel
from app.checks_inputs import EnterInput, NamedInput
from app.checks_lesson import LessonPanel
from app.checks_model import Key, key_of
from app.checks_text import CheckText
from app.checks_who import WhoPanel
from app.editors import REFUSED_MARK
from app.field_text import sentence
from app.flow_layout import FlowLayout
from app.session import Session
from core.errors import InputError, LinebookError
from core.line.checks import CheckItem
from core.line.checks.listing import answer_text, judged_text
from core.line.checks.teaching import lesson_of
from core.model.entry import with_unit
from core.store import check_actions
from core.units import parse_quantity

_STORED, _MARGIN = "✓ ", 30
_WANTED = {
    "reading": "Type what was read.",
    "choice": "Choose by the figure in brackets.",
    "yes": "Press Y or N.",
}
_SHOWN_ONLY = "A frozen record is shown: nothing is answered here."


class CheckInHand(QWidget):
    """One check with its answer.

    Signals:
        stored: An answer was stored.
        confirmed: An answer stands, and Enter goes on.
        settled: What was typed was stored since it was left.
        left_for_list: The list is wanted.
        stepped: The check before or after it is wanted.
                 arg 0: -1 or 1
    """

    stored = Signal()
    confirmed = Signal()
    settled = Signal()
    left_for_list = Signal()
    stepped = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.item: CheckItem | None = None
        self.items: tuple[CheckItem, ...] = ()
        """Every check of the line, from which the state of a station follows."""
        self._pending: Callable[[], object] | None = None
        self._wants_skip = False
        self._drafts: dict[Key, tuple[str, str, str]] = {}
        self.words = CheckText()
        self.answer = AnswerPanel()
        self.who = WhoPanel()
        self.reason = NamedInput("Reason", "Why it is kept, or does not apply")
        self.message = QLabel()
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setWordWrap(True)
        self.lesson = LessonPanel()
        self.store_button = self._button("Store, next open", "Enter", self.enter)
        self.keep_button = self._button("Keep with this reason", "Enter", self.keep)
        self.skip_button = self._button("Does not apply…", "F6", self.skip)
        self.open_button = self._button("Open again", "F7", self.open_again)
        self.back_button = self._button("◂ Previous", "Ctrl+Up", lambda: self.stepped.emit(-1))
        self.on_button = self._button("Next ▸", "Ctrl+Down", lambda: self.stepped.emit(1))
        self._build()
        self.answer.given.connect(self.give)
        self.answer.entered.connect(self.enter)
        self.who.entered.connect(self.enter)
        self.reason.input.entered.connect(self._on_reason_entered)
        self.lesson.asked.connect(self.take_over)

    def _button(self, text: str, keys: str, slot: Any) -> QPushButton:
        button = QPushButton(f"{text}  ({keys})")
        button.clicked.connect(lambda _checked=False: slot())
        return button

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

    # --- what is shown ----------------------------------------------------------------------

    def show_item(self, item: CheckItem | None, *, anew: bool = False) -> None:
        """Show a check; what is typed for the same one stays, unless it is shown ``anew``."""
        same = self.item is not None and item is not None and key_of(self.item) == key_of(item)
        self.area.setVisible(item is not None)
        before, self.item = self.item, item
        if item is None:
            return
        results = self.session.results
        self.words.show_item(item, results, self.items)
        if anew or not same or (before != item and not self._is_typed):
            self._pending, self._wants_skip = None, False
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
            self._tell(_SHOWN_ONLY)

    def _tell_state(self, item: CheckItem) -> None:
        system = self.session.line.unit_system
        judged = judged_text(item, system)
        if item.state == "open":
            self._tell("")
            return
        told = f"{answer_text(item, system)}. {judged}".strip()
        if item.state == "out":
            told += " Type the reason and Enter to keep it; Ctrl+Down leaves it as it is."
        self._tell(told, loud=item.state == "out")

    def _tell(self, text: str, *, loud: bool = False) -> None:
        name = "refusal" if loud else "quiet"
        if self.message.objectName() != name:
            self.message.setObjectName(name)
            self.message.style().unpolish(self.message)
            self.message.style().polish(self.message)
        mark = "" if not text else (f"{REFUSED_MARK} " if loud else _STORED)
        self.message.setText(f"{mark}{text}")
        self.message.setVisible(bool(text))

    def _refuse(self, field: NamedInput, text: str) -> None:
        self._tell(f"Not taken: {text}", loud=True)
        field.input.mark_wrong(True)
        field.input.setFocus()
        self._bring_in_sight(field)

    @property
    def waits_for_lesson(self) -> bool:
        """Whether something can be taken over from the reading."""
        return self.lesson.lesson is not None and not self.session.record_name

    def tell_all_done(self) -> None:
        """Say that nothing is open any more among the checks of the list."""
        self._tell("Every check of this list is answered.")

    # --- keys -------------------------------------------------------------------------------

    def focus_answer(self) -> None:
        """Go where the answer is given."""
        self.answer.focus()
        self._bring_in_sight(self.answer)

    def ask_reason(self) -> None:
        """Go where the reason is typed."""
        self.reason.input.setFocus()
        self._bring_in_sight(self.reason)

    def _bring_in_sight(self, part: QWidget) -> None:
        """Scroll to a part once it is laid out."""
        QTimer.singleShot(0, part, lambda: self.area.ensureWidgetVisible(part, 0, _MARGIN))

    def take_key(self, sign: str) -> None:
        """Use a sign that was typed in the list."""
        if self.item is not None and not self.session.record_name:
            self.answer.take_key(sign)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back to the list."""
        if event.key() == Qt.Key.Key_Escape:
            self.left_for_list.emit()
        else:
            super().keyPressEvent(event)

    def enter(self) -> None:
        """Store what is typed; where nothing is and the check is answered, go on."""
        item = self.item
        if item is None or self.session.record_name:
            return
        if self._pending is not None:
            self._pending()
        elif self.answer.is_changed:
            self._enter_reading(item)
        elif self.who.is_changed and item.result is not None and item.state != "open":
            self._store_again(item)
        elif item.state != "open":
            self.confirmed.emit()
        else:
            self.who.keep()
            form = "reading" if item.rule.kind else "choice" if item.rule.options else "yes"
            self._tell(_WANTED[form], loud=True)
            self.answer.focus()

    def _enter_reading(self, item: CheckItem) -> None:
        warm = self.answer.warm.input
        if item.rule.warm and self.answer.value.input.hasFocus() and not warm.text().strip():
            warm.setFocus()
            return
        self.store_reading()

    def _on_reason_entered(self) -> None:
        item = self.item
        if item is None:
            return
        if self._wants_skip or item.state == "skipped":
            self.skip()
        elif item.state in ("out", "kept"):
            self.keep()
        else:
            self._tell("F6 marks the check with this reason as one that does not apply.")

    # --- answers ----------------------------------------------------------------------------

    def give(self, word: str) -> None:
        """Answer yes, no or an option."""
        if word in ("yes", "no"):
            self._store(word)
        else:
            self._store("choice", shown=word)

    def store_reading(self) -> bool:
        """Store the reading as typed; False where it was refused."""
        item, system = self.item, self.session.line.unit_system
        if item is None:
            return False
        values: dict[str, Any] = {"shown": with_unit(self._text, item.rule.kind, system)}
        for field, kind, name in (
            (self.answer.value, item.rule.kind, "value"),
            (self.answer.warm, "temperature", "temperature_k"),
        ):
            text = field.input.text().strip()
            if not text and name == "temperature_k":
                continue
            try:
                values[name] = parse_quantity(text, kind, system, what="The reading")
            except InputError as error:
                self._refuse(field, sentence(error))
                return False
        held = item.result
        if not item.rule.warm:
            values.pop("temperature_k", None)
        if held is not None and held.answer == "reading" and not self.answer.value.input.is_changed:
            # Shown rounded; what was read stays as it was.
            values.update(value=held.value, shown=held.shown)
        return self._store("reading", **values)

    @property
    def _text(self) -> str:
        return self.answer.value.input.text().strip()

    def skip(self) -> None:
        """Mark the check as one that does not apply here; the first time it asks for the reason."""
        reason = self.reason.input.text().strip()
        if self.item is None or self.session.record_name:
            return
        if not reason:
            self._wants_skip = True
            self._tell("Type why it does not apply, then Enter.", loud=True)
            self.ask_reason()
            return
        self._store("not_applicable", reason=reason)

    def keep(self) -> None:
        """Keep an answer that is not as it should be, for the reason typed."""
        held = self.item.result if self.item is not None else None
        if held is None or self.session.record_name:
            return
        reason = self.reason.input.text()
        if self._run(check_actions.keep_reading, held.id, reason, at=self.reason):
            self.confirmed.emit()

    def open_again(self) -> None:
        """Take the answer away."""
        item = self.item
        if item is None or item.state == "open" or self.session.record_name:
            return
        if self._run(
            check_actions.answer_check, item.rule.key, item.station_id, "open", at=self.reason
        ):
            self.show_item(self.item, anew=True)
            self.focus_answer()

    def take_over(self) -> None:
        """Put what the reading teaches into the field that the plan counts on."""
        lesson = self.lesson.lesson
        if lesson is not None and not self.session.record_name:
            told = (lesson.table, lesson.record_id, lesson.field, lesson.value, lesson.label)
            self.session.do(check_actions.take_over_reading, *told)
            self.focus_answer()

    def _store_again(self, item: CheckItem) -> None:
        """Store the same answer with another person, instrument or time."""
        held = item.result
        assert held is not None
        kept = {name: getattr(held, name) for name in ("value", "shown", "temperature_k", "reason")}
        self._store(held.answer, **kept)

    def _store(self, answer: str, **values: Any) -> bool:
        item = self.item
        if item is None or self.session.record_name:
            return False
        if not self.who.person.input.text().strip():
            if answer != "reading":  # which stands typed in its field
                self._pending = lambda: self._store(answer, **values)
            self._refuse(self.who.person, "Type who does it, then Enter; it is kept from now on.")
            return False
        held = item.result
        try:
            again = (
                held is not None
                and held.answer != "open"
                and ((answer, values.get("value")) != (held.answer, held.value))
            )
            moment = self.who.moment(again=again)
        except InputError as error:
            self._refuse(self.who.at, sentence(error))
            return False
        given = {"now": moment, **self.who.values(), **values}
        # Before it is stored, since the window shows another check by then.
        self.who.keep()
        if not self._run(
            check_actions.answer_check,
            item.rule.key,
            item.station_id,
            answer,
            at=self.reason if answer == "not_applicable" else self.answer.value,
            **given,
        ):
            return False
        self._pending = None
        self.stored.emit()
        return True

    def _run(self, action: Any, *args: Any, at: NamedInput, **values: Any) -> bool:
        """Run an action of the store; a refusal is told beside the field that it is about."""
        try:
            action(self.session.book, *args, **values)
        except InputError as error:
            self._refuse(at, sentence(error))
            return False
        except LinebookError as error:
            self.session.refused.emit(error)
            return False
        return True

    # --- what is typed and not stored -------------------------------------------------------

    @property
    def _is_typed(self) -> bool:
        return self.answer.is_changed or self.reason.input.is_changed or self._pending is not None

    @property
    def _typed_fields(self) -> tuple[EnterInput, ...]:
        return self.answer.value.input, self.answer.warm.input, self.reason.input

    def settle(self) -> None:
        """Store what is typed before another check is shown; what cannot be stays for later."""
        item = self.item
        if item is None or self.session.record_name or not self.session.is_open:
            return
        if item.state == "open" and self.who.is_changed:
            self.who.keep()
        stored, focused = False, QApplication.focusWidget()
        self.blockSignals(True)
        if self.answer.is_changed and self._text:
            stored = self.store_reading()
        elif item.state in ("out", "kept") and self.reason.input.is_changed:
            stored = bool(self.reason.input.text().strip()) and self._run(
                check_actions.keep_reading,
                item.result.id if item.result else 0,
                self.reason.input.text(),
                at=self.reason,
            )
        self.blockSignals(False)
        if focused is not None:
            focused.setFocus()
        if stored:
            self.settled.emit()
        elif self.answer.is_changed or self.reason.input.is_changed:
            texts = [field.text() for field in self._typed_fields]
            self._drafts[key_of(item)] = (texts[0], texts[1], texts[2])

    def forget(self) -> None:
        """Keep nothing of another file."""
        self._drafts.clear()
        self.who.forget()
        self.item = None

    def _bring_draft(self, item: CheckItem) -> None:
        """Show again what was typed for a check and could not be stored."""
        texts = self._drafts.pop(key_of(item), None)
        if texts is None:
            return
        for field, text in zip(self._typed_fields, texts, strict=True):
            if text.strip() != field.stored:
                field.setText(text)
                field.setModified(True)
        self._tell("What was typed before is not stored yet.", loud=True)
