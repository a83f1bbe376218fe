"""The check in hand: its answer is given, stored, kept, taken away, by keyboard alone."""

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from app.checks_form import CheckForm
from app.checks_inputs import NamedInput
from app.checks_model import key_of
from app.editors import REFUSED_MARK
from app.field_text import sentence
from app.session import Session
from core.errors import InputError, LinebookError
from core.line.checks import CheckItem
from core.model.entry import with_unit
from core.store import check_actions
from core.units import parse_quantity

_WANTED = {
    "reading": "Type what was read.",
    "choice": "Choose by the figure in brackets.",
    "yes": "Press Y or N.",
}


class CheckInHand(CheckForm):
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
        super().__init__(session, parent)
        for button, slot in (
            (self.store_button, self.enter),
            (self.keep_button, self.keep),
            (self.skip_button, self.skip),
            (self.open_button, self.open_again),
            (self.back_button, lambda: self.stepped.emit(-1)),
            (self.on_button, lambda: self.stepped.emit(1)),
        ):
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
        self.answer.given.connect(self.give)
        self.answer.entered.connect(self.enter)
        self.who.entered.connect(self.enter)
        self.reason.input.entered.connect(self._on_reason_entered)
        self.lesson.asked.connect(self.take_over)

    # --- keys -------------------------------------------------------------------------------

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
        if self.pending is not None:
            self.pending()
        elif self.answer.is_changed:
            self._enter_reading(item)
        elif self.who.is_changed and item.result is not None and item.state != "open":
            self._store_again(item)
        elif item.state != "open":
            self.confirmed.emit()
        else:
            self.who.keep()
            form = "reading" if item.rule.kind else "choice" if item.rule.options else "yes"
            self.tell(_WANTED[form], REFUSED_MARK)
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
        if self.wants_skip or item.state == "skipped":
            self.skip()
        elif item.state in ("out", "kept"):
            self.keep()
        else:
            self.tell("F6 marks the check with this reason as one that does not apply.")

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
                self.refuse(field, sentence(error))
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
            self.wants_skip = True
            self.tell("Type why it does not apply, then Enter.", REFUSED_MARK)
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
                self.pending = lambda: self._store(answer, **values)
            self.refuse(self.who.person, "Type who does it, then Enter; it is kept from now on.")
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
            self.refuse(self.who.at, sentence(error))
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
        self.pending = None
        self.stored.emit()
        return True

    def _run(self, action: Any, *args: Any, at: NamedInput, **values: Any) -> bool:
        """Run an action of the store; a refusal is told beside the field that it is about."""
        try:
            action(self.session.book, *args, **values)
        except InputError as error:
            self.refuse(at, sentence(error))
            return False
        except LinebookError as error:
            self.session.refused.emit(error)
            return False
        return True

    # --- what is typed and not stored -------------------------------------------------------

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
            texts = [field.text() for field in self.typed_fields]
            self.drafts[key_of(item)] = (texts[0], texts[1], texts[2])

    def forget(self) -> None:
        """Keep nothing of another file."""
        self.drafts.clear()
        self.who.forget()
        self.item = None
