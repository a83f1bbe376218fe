"""Present settings over the buses: which drives can be asked, asking them, and stopping it."""

import datetime

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.bus_fields import BusFields
from app.bus_reading import BusReading
from app.bus_rows import BusModel, outcome
from app.flow_layout import FlowLayout
from app.present_cautions import CautionLine, ReadingCautions
from app.session import Session
from core.readback import PresentSettings, Progress, Reach, survey

_NO_BUS = "The line has no bus. Enter its bus and each drive's address first, or read by hand."
_NO_PORT = "Enter where a bus is plugged in first."
_LINES = 8
_SIGNS = (11, 16, 12)


class BusWay(QWidget):
    """Reads the drives over the buses; it never writes to one.

    Signals:
        changed: A reading ended with what it found.
    """

    changed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.result: PresentSettings | None = None
        self.how = ""
        self.reading = BusReading(self)
        self.fields = BusFields()
        self.model = BusModel(self)
        self.table = self._build_table()
        self.start_button = QPushButton("&Read the drives")
        self.stop_button = QPushButton("Stop readin&g")
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Drives done")
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self._build()
        self.start_button.clicked.connect(lambda _checked=False: self.start())
        self.stop_button.clicked.connect(lambda _checked=False: self.stop())
        self.reading.progressed.connect(self._on_progressed)
        self.reading.found.connect(self._on_found)
        self.reading.ended.connect(self._on_ended)
        self._show_on(False)

    def _build(self) -> None:
        buttons = FlowLayout(gap=6)
        buttons.addWidget(self.start_button)
        buttons.addWidget(self.stop_button)
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 2, 6, 2)
        column.setSpacing(4)
        column.addWidget(CautionLine())
        column.addWidget(self.fields)
        column.addLayout(buttons)
        for widget in (self.told, self.progress, self.table):
            column.addWidget(widget)
        column.setStretchFactor(self.table, 1)
        column.addWidget(ReadingCautions())
        area = self._area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(content)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area)

    def _build_table(self) -> QTableView:
        view = QTableView()
        view.setModel(self.model)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setWordWrap(False)
        view.setTabKeyNavigation(False)
        view.setAccessibleName("Drives and where their reading stands")
        view.verticalHeader().hide()
        height = view.fontMetrics().height() + 8
        view.verticalHeader().setDefaultSectionSize(height)
        view.horizontalHeader().setStretchLastSection(True)
        view.setMinimumHeight(_LINES * height)
        sign = view.fontMetrics().averageCharWidth()
        for place, signs in enumerate(_SIGNS):
            view.setColumnWidth(place, signs * sign)
        return view

    @property
    def first_focus(self) -> QWidget:
        """Where the keys go first."""
        for field in self.fields.ports.values():
            if not field.input.text().strip():
                return field.input
        return self.stop_button if self.reading.is_on else self.start_button

    def show_line(self) -> None:
        """Show the buses and drives of the line as it is now; a reading goes on undisturbed."""
        line = self.session.line
        reaches = survey(line)
        self.fields.show_line(line, reaches)
        if not self.reading.is_on:
            self.model.show_reaches(reaches)
            self.start_button.setEnabled(bool(line.buses))
            if self.result is None:
                self.told.setText(_in_short(reaches, bool(line.buses)))
            else:
                self._show_outcomes(self.result)

    def clear(self) -> None:
        """Forget what was read, and end a reading; another file comes."""
        self.reading.drop()
        self.result, self.how = None, ""

    def hold(self, present: PresentSettings) -> None:
        """Keep the reading as it was brought to a changed line."""
        self.result = present

    def start(self) -> None:
        """Read every drive that can be reached."""
        if self.reading.is_on:
            return
        line = self.session.line
        links, patience = self.fields.links(), self.fields.patience(line)
        if links is None or patience is None:
            return
        if not links:
            self.told.setText(f"○ {_NO_PORT if line.buses else _NO_BUS}")
            self.first_focus.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.model.show_reaches(survey(line))
        self.model.await_all()
        self.progress.setRange(0, max(1, len(line.stations)))
        self.progress.setFormat("%v of %m drives")
        self.progress.setValue(0)
        left_out = self.fields.names_without_port()
        without = f" Without a port and not asked: {', '.join(left_out)}." if left_out else ""
        self.told.setText(f"► Reading; nothing is written to a drive.{without}")
        self.reading.start(line, links, patience)
        self._show_on(True)
        # In a low window the drives stand below the edge; the progress is what is looked for now.
        QTimer.singleShot(0, self, lambda: self._area.ensureWidgetVisible(self.table, 0, 0))
        self.stop_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def stop(self) -> None:
        """End the reading; what was read until now is kept."""
        if self.reading.is_on:
            self.told.setText("… Stopping")
            self.reading.stop()

    def _on_progressed(self, progress: Progress) -> None:
        state, words = ("asking", "being asked …")
        if progress.entries:
            state, words = outcome(progress.entries)
        self.progress.setValue(progress.done)
        place = self.model.tell(progress.station_id, state, words)
        if place >= 0:
            self.table.scrollTo(self.model.index(place, 0))

    def _on_found(self, present: PresentSettings) -> None:
        self.result = present
        self.how = f"over the buses on {datetime.datetime.now().isoformat(' ', 'minutes')}"
        self._show_outcomes(present)
        counts = present.counts
        missing = counts["not_read"] + counts["refused"]
        mark, rest = ("✓", "") if not missing else ("◐", f"; {missing} were not")
        self.told.setText(f"{mark} {counts['read']} settings were read{rest}.")
        self.changed.emit()

    def _show_outcomes(self, present: PresentSettings) -> None:
        for row in list(self.model.rows):
            self.model.tell(row.station_id, *outcome(present.of_station(row.station_id)))

    def _on_ended(self) -> None:
        had_focus = self.stop_button.hasFocus()
        self._show_on(False)
        if had_focus:
            self.start_button.setFocus(Qt.FocusReason.OtherFocusReason)
        if self.session.is_open:
            self.show_line()

    def _show_on(self, is_on: bool) -> None:
        self.start_button.setEnabled(not is_on)
        self.stop_button.setEnabled(is_on)
        self.fields.setEnabled(not is_on)
        self.progress.setVisible(is_on)


def _in_short(reaches: tuple[Reach, ...], has_bus: bool) -> str:
    """Which drives cannot be asked, before anybody opens a cabinet for them."""
    if not has_bus:
        return f"○ {_NO_BUS}"
    cannot = [reach.station.tag for reach in reaches if reach.obstacle]
    part = [
        reach.station.tag
        for reach in reaches
        if not reach.obstacle and reach.with_register < reach.settings
    ]
    told = [f"{len(reaches) - len(cannot)} of {len(reaches)} drives can be asked."]
    if cannot:
        told.append(f"○ Not over a bus: {', '.join(cannot)}.")
    if part:
        told.append(f"◐ Some settings without a register: {', '.join(part)}.")
    return " ".join(told)
