"""Where each bus is plugged in on this computer; proposed from the line, typed for this laptop."""

from collections.abc import Mapping

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.fault_list import REFUSED_MARK
from core.errors import InputError
from core.model import Bus, Line
from core.model.choices import BUS_PROTOCOLS, PARITIES
from core.readback import Links, Patience, Reach, links_to, patience_of

_SERIAL_HINT = "Port of the adapter, such as COM5 or /dev/ttyUSB0"
_NETWORK_HINT = "Host, such as 192.0.2.7:502, or by bus address: 3 = 192.0.2.13; 4 = 192.0.2.14"
_PATIENCE = Patience()


class PortField(QWidget):
    """One bus: how it talks, what hangs on it, where it is plugged in."""

    def __init__(self, bus: Bus, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bus = bus
        self.name = QLabel()
        self.name.setWordWrap(True)
        self.input = QLineEdit(bus.port)
        self.input.setAccessibleName(f"Port or address of {bus.name}")
        self.name.setBuddy(self.input)
        self.refusal = QLabel()
        self.refusal.setObjectName("refusal")
        self.refusal.setWordWrap(True)
        self.refusal.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        for widget in (self.name, self.input, self.refusal):
            layout.addWidget(widget)

    def show_bus(self, bus: Bus, reaches: list[Reach]) -> None:
        """Show the bus as it is in the line now; what is typed here stays."""
        if self.input.text() in ("", self.bus.port):
            self.input.setText(bus.port)
        self.bus = bus
        words = [BUS_PROTOCOLS.get(bus.protocol or "", "no protocol entered")]
        if bus.protocol == "modbus_rtu":
            words.append(f"{bus.speed_bd} Bd" if bus.speed_bd else "speed not entered")
            parity = PARITIES.get(bus.parity or "", "not entered").lower()
            words.append(f"parity {parity}")
        on_it = ", ".join(
            f"{reach.station.tag} ({reach.station.drive.bus_address or 'no address'})"
            for reach in reaches
        )
        self.name.setText(f"{bus.name}: {', '.join(words)}\n{on_it or 'No drive is on it.'}")
        tcp = bus.protocol == "modbus_tcp"
        self.input.setPlaceholderText(_NETWORK_HINT if tcp else _SERIAL_HINT)
        self.input.setToolTip(self.input.placeholderText())

    def refuse(self, why: str) -> None:
        """Tell beneath the field why it cannot be used; nothing where empty."""
        self.refusal.setText(f"{REFUSED_MARK} {why}" if why else "")
        self.refusal.setVisible(bool(why))
        mark_wrong(self.input, bool(why))


class BusFields(QWidget):
    """The fields of all buses of a line, and how patiently their drives are asked."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ports: dict[int, PortField] = {}
        self.reply = QLineEdit(f"{_PATIENCE.reply_s:g} s")
        self.reply.setAccessibleName("Time for a reply")
        self.attempts = QLineEdit(str(_PATIENCE.attempts))
        self.attempts.setAccessibleName("Attempts for each question")
        self.refusal = QLabel()
        self.refusal.setObjectName("refusal")
        self.refusal.setWordWrap(True)
        self.refusal.hide()
        self._ports = QVBoxLayout()
        patience = QHBoxLayout()
        for words, field in (
            ("Time for a re&ply", self.reply),
            ("&Attempts for each question", self.attempts),
        ):
            label = QLabel(words)
            label.setBuddy(field)
            patience.addWidget(label)
            patience.addWidget(field, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._ports)
        layout.addLayout(patience)
        layout.addWidget(self.refusal)

    def show_line(self, line: Line, reaches: tuple[Reach, ...]) -> None:
        """Show the buses of the line; a bus that stays keeps what is typed for it."""
        for bus_id in self.ports.keys() - {bus.id for bus in line.buses}:
            gone = self.ports.pop(bus_id)
            gone.hide()
            gone.deleteLater()
        for bus in line.buses:
            if bus.id not in self.ports:
                self.ports[bus.id] = PortField(bus)
                self._ports.addWidget(self.ports[bus.id])
            on_it = [reach for reach in reaches if reach.station.drive.bus_id == bus.id]
            self.ports[bus.id].show_bus(bus, on_it)

    def links(self) -> Links | None:
        """The links as typed; None after a refusal, which stands beneath its field.

        A bus with an empty field is not asked.
        """
        made, is_right = {}, True
        for bus_id, field in self.ports.items():
            field.refuse("")
            if not field.input.text().strip():
                continue
            try:
                made[bus_id] = links_to(field.bus, field.input.text())
            except InputError as error:
                field.refuse(f"{error.why} {error.fix}".strip())
                is_right = False
        return made if is_right else None

    def patience(self, line: Line) -> Patience | None:
        """How patiently to ask, as typed; None after a refusal."""
        try:
            found = patience_of(self.reply.text(), self.attempts.text(), line.unit_system)
        except InputError as error:
            self.refusal.setText(f"{REFUSED_MARK} {error}")
            self.refusal.show()
            return None
        self.refusal.hide()
        return found

    def names_without_port(self) -> list[str]:
        """Buses whose field is empty."""
        fields: Mapping[int, PortField] = self.ports
        return [field.bus.name for field in fields.values() if not field.input.text().strip()]


def mark_wrong(field: QLineEdit, is_wrong: bool) -> None:
    """Frame a field that holds what cannot be taken."""
    field.setProperty("wrong", is_wrong)
    field.style().unpolish(field)
    field.style().polish(field)
