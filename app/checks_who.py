"""Who answers a check, with which instrument and when; kept from one check to the next."""

import datetime

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from app.checks_inputs import NamedInput
from app.instrument_note import InstrumentNote
from core.line.checks import CheckItem
from core.line.checks.instruments import called, instrument_named
from core.model import Line
from core.sheets.check_sheets import instrument_text
from core.store.check_actions import read_moment


class WhoPanel(QWidget):
    """Person, instrument and time of an answer.

    An instrument is kept for each kind of quantity, since no tester reads them all.

    Signals:
        entered: Enter was pressed in one of the fields.
    """

    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line: Line | None = None
        self._item: CheckItem | None = None
        self._person = self._at = ""
        self._instruments: dict[str, str] = {}
        self.person = NamedInput("By", "Who does it")
        self.instrument = NamedInput("Instrument", "Name and serial number")
        self.at = NamedInput("At", "Now; or e.g. 2026-11-25 14:30")
        self.note = InstrumentNote()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(1)
        grid.addWidget(self.instrument, 0, 0, 1, 2)
        grid.addWidget(self.note, 1, 0, 1, 2)
        grid.addWidget(self.person, 2, 0)
        grid.addWidget(self.at, 2, 1)
        for field in (self.instrument, self.person, self.at):
            field.input.entered.connect(self.entered)
        self.person.input.set_offers(self._people)
        self.instrument.input.set_offers(self._offered_instruments)
        for field in (self.instrument, self.at):
            field.input.textChanged.connect(lambda _text: self._show_note())

    def forget(self) -> None:
        """Keep nothing of the answers before, as another file is open."""
        self._person = self._at = ""
        self._instruments.clear()

    def show_item(self, item: CheckItem, line: Line) -> None:
        """Show who answered a check; for one that nobody answered, what was kept."""
        self._item, self._line = item, line
        held = item.result
        answered = held is not None and item.state != "open"
        self.instrument.setVisible(bool(item.rule.kind))
        if held is not None and answered:
            person, instrument, at = held.person, held.instrument, held.done_at
        else:
            person, at = self._person, self._at
            instrument = self._instruments.get(item.rule.kind, "")
        for field, text in ((self.person, person), (self.instrument, instrument), (self.at, at)):
            field.input.show_stored(text)
        self._show_note()

    @property
    def is_changed(self) -> bool:
        """Whether another text stands there than is stored or kept."""
        fields = [self.person, self.at, *([self.instrument] if self._takes_instrument else [])]
        return any(field.input.is_changed for field in fields)

    def values(self) -> dict[str, str]:
        """Person and instrument as they are stored."""
        held = {"person": self.person.input.text().strip()}
        if self._takes_instrument:
            held["instrument"] = self._instrument_as_stored()
        return held

    def moment(self, *, again: bool) -> datetime.datetime | None:
        """When it was done; None for now. InputError refuses what is typed.

        Where a check is answered ``again`` with another value, the time of the answer before does
        not stay; a time that was typed anew does.
        """
        text = self.at.input.text().strip()
        if not text or (again and not self.at.input.is_changed):
            return None
        return read_moment(text)

    def keep(self) -> None:
        """Keep what stands there for the next check."""
        values = self.values()
        self._person = values["person"]
        if self.at.input.is_changed:
            self._at = self.at.input.text().strip()
        if self._takes_instrument and self._item is not None:
            self._instruments[self._item.rule.kind] = values["instrument"]

    @property
    def _takes_instrument(self) -> bool:
        return self._item is not None and bool(self._item.rule.kind)

    def _instrument_as_stored(self) -> str:
        """The instrument as typed; one of the line comes with the day it is calibrated to."""
        text = self.instrument.input.text().strip()
        held = instrument_named(self._line, text) if self._line is not None else None
        if held is None or self._line is None:
            return text
        short = {called(held).casefold(), held.serial.casefold(), held.name.casefold()}
        return instrument_text(self._line, held) if text.casefold() in short else text

    def _show_note(self) -> None:
        self.note.setVisible(self._takes_instrument)
        if self._line is None or not self._takes_instrument:
            return
        try:
            day = read_moment(self.at.input.text()).date()
        except ValueError:
            day = datetime.date.today()
        self.note.show_instrument(self._line, self.instrument.input.text(), day)

    def _people(self) -> list[str]:
        return [held.name for held in self._line.people] if self._line is not None else []

    def _offered_instruments(self) -> list[str]:
        line = self._line
        return [instrument_text(line, held) for held in line.instruments] if line else []
