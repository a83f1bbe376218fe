"""What the wiring drawing of a station shows, as texts; where it stands is not decided here.

Everything follows from the entries. What was not entered is told as missing, never filled in.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal

from core.line import Conductor, wire_line, wire_station
from core.model import RECORDS, Cable, DriveType, ReferenceInput, Station
from core.sheets.entries import Entries
from core.sheets.wiring_schedule import device_words

Figure = Literal["", "pot", "voltage", "current", "loop", "dac", "contacts"]
Contact = Literal["", "open", "closed"]
Screen = Literal["", "none", "drive", "far", "both", "open"]

_SOURCE_FIELDS = (
    "pot_ohm",
    "pot_taper",
    "low_v",
    "high_v",
    "low_a",
    "high_a",
    "source_ohm",
    "dac_bits",
    "loop_supply_v",
    "loop_min_v",
    "now_hz",
    "feedback",
    "feedback_signal",
)
_INPUT_FIELDS = ("low_v", "high_v", "low_a", "high_a", "input_resistance_ohm", "switch_position")
_CONTROL_FIELDS = ("start_mode", "stop_category", "emergency_stop")
_FIGURES: dict[str, Figure] = {
    "potentiometer": "pot",
    "voltage": "voltage",
    "current": "current",
    "dac": "dac",
}


@dataclass(frozen=True, slots=True)
class Mark:
    """A text of the drawing; ``missing`` if it only says that nobody has entered it."""

    text: str
    missing: bool = False


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire from a device to the drive, with what is written at it."""

    number: str
    details: str
    own: Mark
    theirs: Mark
    purpose: str
    contact: Contact = ""


@dataclass(frozen=True, slots=True)
class Device:
    """What stands at the far end of some wires; without wires it is only told of."""

    name: Mark
    notes: tuple[Mark, ...] = ()
    figure: Figure = ""
    wires: tuple[Wire, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """One cable run: its devices, its cable, and what the drive has for it."""

    title: str
    notes: tuple[str, ...]
    devices: tuple[Device, ...]
    drive_notes: tuple[Mark, ...] = ()
    cable: tuple[Mark, ...] = ()
    screen: Screen = ""
    screen_terminal: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """The wiring of one station, ready to be drawn."""

    told: str
    drive: str
    drive_type: Mark
    runs: tuple[Run, ...] = field(default=())


def plan_of(entries: Entries, station: Station) -> Plan:
    """What is to be drawn of a station.

    Parameters
    ----------
    entries : Entries
        Writes the records of the line.
    station : Station
        One of the line's.
    """
    return _Planner(entries, station).plan()


class _Planner:
    """Puts the entries of one station in order."""

    def __init__(self, entries: Entries, station: Station) -> None:
        self.entries, self.station = entries, station
        self.say = entries.say
        self.type = entries.line.drive_type(station.drive.drive_type_id) or DriveType()
        self.wires = wire_station(entries.line, station)

    def plan(self) -> Plan:
        tag = self.station.tag
        return Plan(
            told=self.say("drawing_of", tag=tag),
            drive=self.entries.tr(f"{tag} drive"),
            drive_type=self._mark(self.type.name, "type_missing"),
            runs=(self._speed(), self._controls()),
        )

    # --- the speed reference ----------------------------------------------------------------

    def _speed(self) -> Run:
        source = self.station.reference.source
        title = self.say("reference")
        if source is not None:
            word = RECORDS["speed_reference"].field("source").choices[source]
            title = f"{title}: {self.entries.tr(word, 'choice')}"
        wires = [wire for wire in self.wires if wire.run == "reference"]
        if wires:
            return self._wired(title, wires)
        if source == "bus":
            return self._bus(title)
        return Run(title, (), (self._told_source(source),))

    def _wired(self, title: str, wires: list[Conductor]) -> Run:
        held = self.station.reference
        if held.source == "pid":
            figure: Figure = "current" if held.feedback_signal == "current" else "voltage"
        else:
            figure = _FIGURES[held.source or ""]
        notes = [Mark(text) for text in self._fields(held, _SOURCE_FIELDS)]
        if held.source == "current":
            looped = held.loop_supply_v is not None
            figure = "loop" if looped else "current"
            notes.append(Mark(self.say("loop_two_wire" if looped else "loop_active")))
        device = Device(
            self._mark(held.device, "device_missing"),
            tuple(notes),
            figure,
            tuple(self._wire(wire) for wire in wires),
        )
        return self._with_cable(Run(title, (), (device,), tuple(self._input())), "reference")

    def _input(self) -> Iterator[Mark]:
        entry = self._reference_input()
        if entry is None:
            yield Mark(self.say("input_missing"), missing=True)
            return
        yield Mark(f"{self.say('reference_input')}: {entry.name}")
        yield from (Mark(text) for text in self._fields(entry, _INPUT_FIELDS))

    def _reference_input(self) -> ReferenceInput | None:
        return self.type.reference_input(self.station.reference.input_name)

    def _bus(self, title: str) -> Run:
        wires = [
            wire
            for wire in wire_line(self.entries.line).conductors
            if wire.run == "bus" and wire.station == self.station.tag
        ]
        if not wires:
            return Run(title, (), (self._told_source("bus"),))
        name = device_words(self.entries, self.station, wires[0].start.device)
        bus = self.entries.line.bus(self.station.drive.bus_id)
        device = Device(
            self._mark(name, "device_missing"),
            (Mark(bus.name),) if bus and bus.name else (),
            wires=tuple(self._wire(wire) for wire in wires),
        )
        address = self.station.drive.bus_address
        notes = (Mark(f"{self.say('bus_address')}: {address}"),) if address else ()
        return self._with_cable(Run(title, (), (device,), notes), "bus")

    def _told_source(self, source: str | None) -> Device:
        if source is None:
            return Device(Mark(self.say("source_missing"), missing=True))
        notes = [Mark(self.say("way_hertz"))]
        notes += [Mark(text) for text in self._fields(self.station.reference, _SOURCE_FIELDS)]
        if source == "preset":
            for preset in self.station.presets:
                hertz = self.entries.quantity(preset.frequency_hz, "frequency").with_unit
                notes.append(Mark(f"{preset.name}: {hertz}", preset.frequency_hz is None))
        word = RECORDS["speed_reference"].field("source").choices[source]
        return Device(Mark(self.entries.tr(word, "choice")), tuple(notes))

    # --- run and stop -----------------------------------------------------------------------

    def _controls(self) -> Run:
        held = self.station.controls
        rows = self.entries.rows(held, keep=_CONTROL_FIELDS)
        notes = (" · ".join(f"{row.label}: {row.cell.with_unit}" for row in rows),)
        [logic] = self.entries.rows(held, keep=("logic",))
        wires = [wire for wire in self.wires if wire.run == "controls"]
        devices = tuple(self._switches(wires))
        if not devices:
            devices = (Device(Mark(self.say("no_inputs"), missing=True)),)
        missing = logic.cell == self.entries.missing
        drive_notes = (Mark(f"{logic.label}: {logic.cell.with_unit}", missing),)
        run = Run(self.say("run_and_stop"), notes, devices, drive_notes)
        return self._with_cable(run, "controls") if wires else run

    def _switches(self, wires: list[Conductor]) -> Iterator[Device]:
        """Each device with the wires of its contacts, the common one last."""
        inputs = self.station.digital_inputs
        commons = {wire.start.device: wire for wire in wires[len(inputs) :]}
        for name, common in commons.items():
            own = [
                self._switched(wire, entry, common)
                for wire, entry in zip(wires, inputs, strict=False)
                if wire.start.device == name
            ]
            shown = device_words(self.entries, self.station, name)
            yield Device(
                self._mark(shown, "device_missing"),
                figure="contacts",
                wires=(*own, self._wire(common)),
            )

    def _switched(self, wire: Conductor, entry: object, common: Conductor) -> Wire:
        contact: Contact = "closed" if getattr(entry, "contact", "") == "closed" else "open"
        other = str(getattr(entry, "common_terminal", ""))
        own = self._mark(wire.start.terminal, "terminal_missing")
        if other and other != common.start.terminal and not own.missing:
            own = Mark(self.say("contact_between", own=own.text, common=other))
        return self._wire(wire, own, contact)

    # --- parts of both ----------------------------------------------------------------------

    def _wire(self, wire: Conductor, own: Mark | None = None, contact: Contact = "") -> Wire:
        size = self.entries.quantity(wire.size_m2, "conductor").with_unit
        details = [self.entries.tr(wire.colour)]
        if wire.cable is not None:
            details.append(size if wire.size_m2 is not None else self.say("size_missing"))
        return Wire(
            wire.number,
            " · ".join(details),
            own or self._mark(wire.start.terminal, "terminal_missing"),
            self._mark(wire.end.terminal, "terminal_missing"),
            self.entries.tr(wire.purpose),
            contact,
        )

    def _with_cable(self, run: Run, name: str) -> Run:
        cable = self.station.cable(name)
        if cable is None:
            marks: tuple[Mark, ...] = (Mark(self.say("cable_missing"), missing=True),)
            return Run(run.title, run.notes, run.devices, run.drive_notes, marks)
        clamp = self.type.terminal("screen")
        return Run(
            run.title,
            run.notes,
            run.devices,
            run.drive_notes,
            tuple(self._cable(cable)),
            cable.screen,  # type: ignore[arg-type]
            clamp.designation if clamp else "",
        )

    def _cable(self, cable: Cable) -> Iterator[Mark]:
        name = self._mark(cable.cable_type, "cable_missing")
        if cable.length_m is not None and not name.missing:
            length = self.entries.quantity(cable.length_m, "length").with_unit
            name = Mark(f"{name.text} · {length}")
        yield name
        word = RECORDS["cable"].field("screen").choices[cable.screen]
        yield Mark(f"{self.say('screen')}: {self.entries.tr(word, 'choice')}")

    def _mark(self, text: str, key: str) -> Mark:
        return Mark(text) if text.strip() else Mark(self.say(key), missing=True)

    def _fields(self, record: object, names: Iterable[str]) -> Iterator[str]:
        for row in self.entries.rows(record, keep=names):
            if row.cell != self.entries.missing:
                yield f"{row.label}: {row.cell.with_unit}"
