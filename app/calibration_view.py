"""Calibration of a station's speed reference: readings typed, judged, and what to set where."""

import datetime
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.calibration_answer import CalibrationAnswer
from app.calibration_ends import CalibrationEnds
from app.calibration_room import CalibrationRoom
from app.calibration_table import CalibrationTable
from app.drawing_view import DrawingView
from app.instrument_note import InstrumentNote
from app.page import Page
from app.remarks import CautionCard
from app.session import Session
from app.settling import settle_focused
from app.working import WorkingPanel
from core.line import Figure
from core.line.calibrating import (
    Calibration,
    calibration_of,
    ends_to_keep,
    is_wired,
    stations_to_calibrate,
)
from core.model.choices import CALIBRATION_STATES
from core.sheets.calibration_chart import chart_of_calibrations
from core.store import actions, check_actions

_WIDE_PT, _FLATTEST, _EDGE = 700.0, 0.2, 16
"""Width of the chart [pt]; height over width below which it is scrolled; its edges [px]."""
_NAME_SIGNS, _BELOW = 17, 14
"""Width of a name [signs]; room below the readings [px]."""
_INSTRUMENT = "Instrument for what is read now. "
_KEYS = {"found": "As foun&d", "left": "As &left"}


class CalibrationView(Page):
    """One station in one state at a time; the chart shows both states together."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.state = "found"
        self.stations = QComboBox()
        self.stations.setAccessibleName("Station")
        self.states = {key: QToolButton() for key in CALIBRATION_STATES}
        self.ends = CalibrationEnds(session)
        self.table = CalibrationTable()
        self.chart = DrawingView()
        self.answer = CalibrationAnswer()
        self.caution = CautionCard("warning", "start")
        self.instrument_note = InstrumentNote()
        self.nothing = QLabel()
        self.nothing.setObjectName("quiet")
        self.nothing.setWordWrap(True)
        self.working = WorkingPanel()
        self._asked_from: QWidget | None = None
        self.room = CalibrationRoom(self._readings(), self.chart, self.answer)
        self._build()
        self._connect()
        self.catch_up()

    def _readings(self) -> QWidget:
        self.ends.add("Read &by", self.table.person, _NAME_SIGNS)
        self.ends.add("&Instrument", self.table.instrument, _NAME_SIGNS)
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 4, 6, 4)
        column.setSpacing(6)
        for widget in (self.nothing, self.ends, self.instrument_note, self.table, self.caution):
            column.addWidget(widget)
        column.addStretch(1)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setWidget(content)
        return self._area

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(6, 2, 6, 2)
        name = QLabel("&Station")
        name.setBuddy(self.stations)
        head.addWidget(name)
        head.addWidget(self.stations, 1)
        for key, button in self.states.items():
            button.setText(_KEYS[key])
            button.setCheckable(True)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.setAccessibleName(CALIBRATION_STATES[key])
            button.clicked.connect(lambda _checked=False, key=key: self.show_state(key))
            head.addWidget(button)
        head.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(head)
        layout.addWidget(self.room, 1)
        layout.addWidget(self.working)

    def _connect(self) -> None:
        self.stations.currentIndexChanged.connect(lambda _index: self._on_station())
        self.table.entered.connect(self._on_entered)
        self.table.instrument.textChanged.connect(lambda _text: self._show_instrument())
        self.ends.changed.connect(self._on_end)
        self.answer.stored.connect(self._on_stored)
        self.answer.figure_asked.connect(self._on_figure_asked)
        self.working.closed.connect(self._on_working_closed)
        self.room.turned_to.connect(self._show_chart)

    # --- what is shown ----------------------------------------------------------------------

    @property
    def station_id(self) -> int | None:
        """The station that is shown."""
        found = self.stations.currentData()
        return None if found is None else int(found)

    @property
    def calibration(self) -> Calibration:
        """What is shown, evaluated; only while a station is chosen."""
        return self._calibration(self.state)

    def _calibration(self, state: str) -> Calibration:
        assert self.station_id is not None
        return calibration_of(self.session.results, self.station_id, state)

    def show_line(self) -> None:
        """Show the open line; station and state stay as far as they can."""
        self.setEnabled(self.session.is_open)
        if not self.session.is_open:
            return
        kept = self.station_id
        held = stations_to_calibrate(self.session.results)
        listed = [(_named(entry.tag, entry.station.name, is_wired(entry)), entry.station.id)
                  for entry in held]  # fmt: skip
        at = range(self.stations.count())
        if listed != [(self.stations.itemText(n), self.stations.itemData(n)) for n in at]:
            self.stations.blockSignals(True)
            self.stations.clear()
            for text, station_id in listed:
                self.stations.addItem(text, station_id)
            place = self.stations.findData(kept) if kept is not None else 0
            self.stations.setCurrentIndex(max(0, place) if listed else -1)
            self.stations.blockSignals(False)
        if self.station_id == kept:
            self._show()
        else:
            self._on_station()

    def show_station(self, station_id: int) -> None:
        """Show a station, as a link from elsewhere asks for it."""
        self.stations.setCurrentIndex(self.stations.findData(station_id))

    def show_state(self, state: str) -> None:
        """Show the readings as found or as left."""
        settle_focused()
        self.state = state
        self._show()
        if self.station_id is not None:
            self.table.go_to_first_open()

    def _on_station(self) -> None:
        self._show()
        if self.station_id is not None:
            points = self.session.line.calibration_points
            last = next((point for point in reversed(points) if point.person), None)
            people = self.session.line.people
            person = people[0].name if len(people) == 1 else ""
            self.table.propose(last.person if last else person, last.instrument if last else "")
            self.table.go_to_first_open()

    def _show(self) -> None:
        for key, button in self.states.items():
            button.setChecked(key == self.state)
        is_chosen = self.station_id is not None
        self.room.setVisible(is_chosen)
        if not is_chosen:
            return
        calibration, line = self.calibration, self.session.line
        self.ends.show_calibration(calibration)
        self.table.show_calibration(line, calibration)
        self.answer.show_calibration(calibration, line.unit_system)
        self.nothing.setText(_why_none(calibration))
        self.nothing.setVisible(bool(self.nothing.text()))
        self._show_instrument()
        self._show_chart()
        QTimer.singleShot(0, self, self._fit)
        if not self.working.isHidden() and self.working.figure is not None:
            held = {**calibration.figures}
            self.working.refresh(held.get(self.working.figure.key), line.unit_system)

    def _show_instrument(self) -> None:
        """Tell of the instrument for the readings that are typed from now on."""
        if self.session.is_open:
            named, today = self.table.instrument.text(), datetime.date.today()
            self.instrument_note.show_instrument(self.session.line, named, today, _INSTRUMENT)

    def _show_chart(self) -> None:
        if self.station_id is None or not self.chart.isVisible():
            return
        room = self.chart.contentsRect()
        flat = (room.height() - _EDGE) / max(1, room.width() - _EDGE)
        size = _WIDE_PT, _WIDE_PT * max(_FLATTEST, flat)
        held = [self._calibration(state) for state in CALIBRATION_STATES]
        self.chart.show_drawing(chart_of_calibrations(held, size=size))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay everything out for the room that there is now."""
        super().resizeEvent(event)
        self.room.arrange(self.size())
        # Beside the readings there is one already where everything stands side by side.
        self.caution.setHidden(bool(self.room.is_wide))
        QTimer.singleShot(0, self, self._fit)

    def _fit(self) -> None:
        self.room.give_readings(self.table.geometry().bottom() + _BELOW)
        self._show_chart()

    # --- what is typed ----------------------------------------------------------------------

    def _on_entered(self, readings: list[tuple[int, dict[str, Any]]], name: str) -> None:
        self.session.do(
            check_actions.enter_readings,
            self.station_id,
            self.state,
            readings,
            list(ends_to_keep(self.calibration)),
            name,
        )

    def _on_end(self, direction: str, share: float, hertz: float | None) -> None:
        told = (self.station_id, self.state, direction, share, hertz)
        self.session.do(check_actions.set_calibration_end, *told)
        self._show()

    def _on_stored(self, settings: dict[str, str]) -> None:
        name = f"Set ends of the reference of {self.calibration.result.tag}"
        self.session.do(actions.set_settings, {self.station_id: settings}, name)
        if self.answer.store_button.isHidden():
            # It went with what it stored. Next the readings are taken as left.
            next_one = self.states["left"] if self.state == "found" else self.table.view
            next_one.setFocus(Qt.FocusReason.OtherFocusReason)

    # --- workings ---------------------------------------------------------------------------

    def _on_figure_asked(self, figure: Figure) -> None:
        self._asked_from = self.focusWidget()
        self.room.setHidden(not self.room.is_wide)
        self.working.show_figure(figure, self.session.line.unit_system)

    def _on_working_closed(self) -> None:
        self.room.show()
        if self._asked_from is not None:
            self._asked_from.setFocus()


def _named(tag: str, name: str, wired: bool) -> str:
    words = f"{tag}  {name}".rstrip()
    return words if wired else f"{words}  (no wired reference)"


def _why_none(calibration: Calibration) -> str:
    """What stands in the way of a judgement, if something does."""
    if not is_wired(calibration.result):
        return "No signal sets the speed of this station, so there is little to calibrate."
    if calibration.wanted is None:
        return "The ends of the reference are not known: type below what is wanted at 0 and 100 %."
    if calibration.limit_hz is None:
        return "The reference is not known from end to end, so there is no limit to judge by."
    return ""
