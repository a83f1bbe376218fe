"""Read the present settings of all drives of a line over its buses.

Nothing is written to any drive. This blocks until it is done or stopped, so it belongs into a
worker thread; it needs no window.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from threading import Event

from core.errors import InputError
from core.model import Bus, Line, Station
from core.readback import faults
from core.readback.client import Link, Patience, ReadOnlyClient, RtuLink, TcpLink, tcp_link
from core.readback.drive import DriveReader, Found
from core.readback.registers import RegisterForm, decode, form_of
from core.readback.results import (
    NOT_LISTED,
    Entry,
    PresentSettings,
    Wanted,
    gathered,
    not_read,
    refused,
    taken,
    wanted_of,
)

NO_BUS = "Its drive is on no bus."
NO_ADDRESS = "Its drive has no bus address."
NO_REGISTER = "The list of its drive type names no register for it."
NO_LINK = "No connection to its bus was chosen."
OTHER_PROTOCOL = "Its bus is neither Modbus RTU nor Modbus TCP."

Links = Mapping[int, Link | Mapping[int, TcpLink]]
"""By the id of a bus: its link, or the link of each drive on it by bus address."""


@dataclass(frozen=True, slots=True)
class Progress:
    """Where a reading stands: the drive in hand, ``done`` of ``total`` drives before it.

    ``entries`` is empty when a drive is about to be asked, and holds all of its entries when it
    is done; ``done`` counts it then.
    """

    station_id: int
    tag: str
    done: int
    total: int
    entries: tuple[Entry, ...] = ()


def link_to(bus: Bus, where: str, *, stop_bits: int | None = None) -> Link:
    """The link to a bus, from what only this computer knows of it.

    Parameters
    ----------
    bus : Bus
        The bus, with its protocol and on a serial bus its speed and parity
    where : str
        A serial port (``COM5``, ``/dev/ttyUSB0``), or a host with or without a port
    stop_bits : int or None
        None for what the specification asks for

    Returns
    -------
    Link
        For :func:`read_drives`

    Raises
    ------
    InputError
        Another protocol, speed or parity not entered, no such host.
    """
    if bus.protocol == "modbus_tcp":
        return tcp_link(where)
    if bus.protocol != "modbus_rtu":
        raise _not_read_over(bus, OTHER_PROTOCOL, "Read it by a table, or at the keypads.")
    if bus.speed_bd is None or bus.parity is None:
        fix = "Enter them as the drives are set."
        raise _not_read_over(bus, "Its speed or its parity is not entered.", fix)
    if not where.strip():
        fix = "Name the port of the adapter, such as COM5 or /dev/ttyUSB0."
        raise _not_read_over(bus, "No port was named.", fix)
    return RtuLink(where.strip(), bus.speed_bd, bus.parity, stop_bits)


def _not_read_over(bus: Bus, why: str, fix: str) -> InputError:
    return InputError(f"Bus '{bus.name}' was not read.", why, fix)


def read_drives(
    line: Line,
    links: Links,
    *,
    progress: Callable[[Progress], None] | None = None,
    stop: Event | None = None,
    patience: Patience | None = None,
) -> PresentSettings:
    """Read the present settings of every drive that can be reached.

    Parameters
    ----------
    line : Line
        The line, with the lists of its drive types and its buses
    links : mapping
        The link to each bus by the bus's id, by :func:`link_to`. Where the drives of a network
        have each an address of its own there: their links by bus address
    progress : callable, optional
        Called in this thread before and after each drive
    stop : Event, optional
        Set from another thread to stop; the reading ends within a second
    patience : Patience, optional
        How long and how often to ask

    Returns
    -------
    PresentSettings
        Every setting of the line; what could not be read has the reason

    Notes
    -----
    A drive is asked under its bus address. If two stations have the same address on one bus, it
    is not known which of them would reply, and neither is read; nor where two buses are given the
    same port or host.
    """
    reading = _Reading(line, links, stop or Event(), patience or Patience(), progress)
    try:
        found = [entry for part in reading.drives() for entry in part]
    finally:
        reading.close()
    return gathered(line, found, faults.STOPPED)


@dataclass(slots=True)
class _Reading:
    """One go through all drives, with a client for each link in use."""

    line: Line
    links: Links
    stop: Event
    patience: Patience
    progress: Callable[[Progress], None] | None
    clients: dict[Link, ReadOnlyClient] = field(default_factory=dict)
    lost: dict[Link, str] = field(default_factory=dict)

    def drives(self) -> Iterator[tuple[Entry, ...]]:
        """The entries of each station in turn, until the user stops."""
        wanted: dict[int, list[Wanted]] = {station.id: [] for station in self.line.stations}
        for one in wanted_of(self.line):
            wanted[one.station.id].append(one)
        twice = {**self._reached_twice(), **addresses_twice(self.line)}
        total = len(self.line.stations)
        for done, station in enumerate(self.line.stations):
            if self.stop.is_set():
                return
            self._tell(Progress(station.id, station.tag, done, total))
            entries = tuple(self._entries(station, wanted[station.id], twice))
            self._tell(Progress(station.id, station.tag, done + 1, total, entries))
            yield entries

    def _reached_twice(self) -> dict[tuple[int, int], str]:
        """Addresses that stand on several buses which are plugged in at the same place."""
        there: dict[tuple[str, int], list[Station]] = {}
        for station in self.line.stations:
            link = self._link(station) if all(_address(station)) else None
            if link is not None:
                there.setdefault((link.name, _address(station)[1]), []).append(station)
        return {
            _address(station): _which(address, [held.tag for held in stations], f" on {name}")
            for (name, address), stations in there.items()
            if len({_address(held) for held in stations}) > 1
            for station in stations
        }

    def close(self) -> None:
        """Close every link."""
        for client in self.clients.values():
            client.close()

    def _tell(self, progress: Progress) -> None:
        if self.progress is not None:
            self.progress(progress)

    def _entries(
        self, station: Station, wanted: list[Wanted], twice: Mapping[tuple[int, int], str]
    ) -> Iterator[Entry]:
        forms = {one.code: form_or_reason(one) for one in wanted}
        asked = [form for form in forms.values() if isinstance(form, RegisterForm)]
        obstacle = twice.get(_address(station)) or self._obstacle(station)
        found: Mapping[RegisterForm, Found] = {}
        if asked and not obstacle:
            found, obstacle = self._asked(station, asked)
        for one in wanted:
            form = forms[one.code]
            if isinstance(form, str):
                yield not_read(one, form)
            else:
                yield _entry(one, form, found.get(form, obstacle))

    def _obstacle(self, station: Station) -> str:
        """Why a drive cannot be asked at all; empty if it can."""
        drive = station.drive
        bus = self.line.bus(drive.bus_id)
        if bus is None:
            return NO_BUS
        if bus.protocol not in ("modbus_rtu", "modbus_tcp"):
            return OTHER_PROTOCOL
        if drive.bus_address is None:
            return NO_ADDRESS
        link = self._link(station)
        if link is None:
            return NO_LINK
        if isinstance(link, TcpLink) != (bus.protocol == "modbus_tcp"):
            return f"{link.name} is no connection to a bus of its protocol."
        return self.lost.get(link, "")

    def _link(self, station: Station) -> Link | None:
        found = self.links.get(station.drive.bus_id or 0)
        if isinstance(found, Mapping):
            return found.get(station.drive.bus_address or 0)
        return found

    def _asked(
        self, station: Station, forms: list[RegisterForm]
    ) -> tuple[Mapping[RegisterForm, Found], str]:
        """What a drive told, and why nothing if the way to it is lost."""
        link = self._link(station)
        assert link is not None
        if link not in self.clients:
            self.clients[link] = ReadOnlyClient(link, self.patience, self.stop)
        reader = DriveReader(self.clients[link], station.drive.bus_address or 0)
        try:
            reader.read(forms)
        except faults.LinkLostError as fault:
            self.lost[link] = fault.reason
            return reader.found, fault.reason
        except faults.StoppedError as fault:
            return reader.found, fault.reason
        return reader.found, ""


def _address(station: Station) -> tuple[int, int]:
    return station.drive.bus_id or 0, station.drive.bus_address or 0


def addresses_twice(line: Line) -> Mapping[tuple[int, int], str]:
    """Addresses that stand at several stations of one bus, each with the reason not to ask."""
    counts = Counter(_address(station) for station in line.stations if all(_address(station)))
    return {
        key: _which(key[1], [held.tag for held in line.stations if _address(held) == key])
        for key, times in counts.items()
        if times > 1
    }


def _which(address: int, tags: list[str], where: str = "") -> str:
    told = f"{', '.join(tags[:-1])} and {tags[-1]}"
    return f"Address {address}{where} is entered at {told}: which of them replies?"


def form_or_reason(wanted: Wanted) -> RegisterForm | str:
    """The registers of a setting, or why it has none."""
    if wanted.listed is None:
        return NOT_LISTED
    try:
        return form_of(wanted.listed) or NO_REGISTER
    except InputError as fault:
        return f"{fault.why} {fault.fix}"


def _entry(wanted: Wanted, form: RegisterForm, found: Found) -> Entry:
    if isinstance(found, str):
        return not_read(wanted, found)
    try:
        return taken(wanted, decode(found, form))
    except InputError as fault:
        words = " ".join(f"{word:04X}" for word in found)
        return refused(wanted, words, f"{fault.why} {fault.fix}")
