"""The nameplates of a station's motors: one form, and a row of buttons to say whose it is."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from app.flow_layout import FlowLayout
from app.form import RecordForm
from app.inputs import Offers
from app.session import Session
from core.model import Motor, Station
from core.store import actions


class MotorPanel(QWidget):
    """Shows one motor of a station at a time.

    Signals:
        chosen: Another motor is shown.
                arg 0: its id
    """

    chosen = Signal(int)

    def __init__(
        self, session: Session, offers: Mapping[str, Offers], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session = session
        self.form = RecordForm(session, "motor", offers=offers)
        self._station: Station | None = None
        self._motor_id = 0
        self._choices: list[QToolButton] = []
        self._row = FlowLayout()
        self._choosers = FlowLayout()
        self.add_button = self._button("Add motor", self.add)
        self.remove_button = self._button("Remove this motor", self.remove)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._choosers)
        layout.addWidget(self.form)
        layout.addLayout(self._row)

    def _button(self, text: str, slot: Callable[[], object]) -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.clicked.connect(lambda _checked=False: slot())
        self._row.addWidget(button)
        return button

    @property
    def motor(self) -> Motor | None:
        """The motor that is shown, if the station has any."""
        motors = self._station.motors if self._station else ()
        found = (entry for entry in motors if entry.id == self._motor_id)
        return next(found, motors[0] if motors else None)

    def show_station(self, station: Station) -> None:
        """Show a station's motors; the one shown stays, if it is still there."""
        self._station = station
        motor = self.motor
        self._show_choices(station.motors, motor)
        self.form.setVisible(motor is not None)
        self.remove_button.setVisible(motor is not None)
        if motor is not None:
            self._motor_id = motor.id
            self.form.show_record(motor)

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        return [*self._choices, *self.form.focus_order(), self.add_button, self.remove_button]

    def choose(self, motor_id: int) -> None:
        """Show another motor of the station."""
        self.form.settle()
        self._motor_id = motor_id
        if self._station is not None:
            self.show_station(self._station)
            self.chosen.emit(motor_id)

    def add(self) -> None:
        """Add a motor on the same drive and show it."""
        if self._station is None:
            return
        made = self.session.do(actions.add_record, "motor", self._station.id)
        if made is not None:
            self.choose(made)
            self.form.focus_field("power_w")

    def remove(self) -> None:
        """Remove the motor that is shown."""
        if self.motor is not None:
            self.session.do(actions.remove_record, "motor", self.motor.id)

    def _show_choices(self, motors: tuple[Motor, ...], shown: Motor | None) -> None:
        while len(self._choices) < len(motors):
            button = QToolButton(self)
            button.setCheckable(True)
            place = len(self._choices)
            button.clicked.connect(lambda _checked=False, place=place: self._choose_place(place))
            self._choosers.addWidget(button)
            self._choices.append(button)
        for place, button in enumerate(self._choices):
            # One motor alone needs no button to choose it.
            button.setVisible(place < len(motors) > 1)
            if place < len(motors):
                tag = motors[place].tag
                button.setText(f"Motor {place + 1}" + (f"  {tag}" if tag else ""))
                button.setChecked(motors[place] is shown)

    def _choose_place(self, place: int) -> None:
        if self._station is not None:
            self.choose(self._station.motors[place].id)
