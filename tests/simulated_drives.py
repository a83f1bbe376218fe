"""Simulated drives on a serial line or in the network, with the faults that buses have.

For tests and for showing the read-back without a line. The drives of a line file are served by

    python -m tests.simulated_drives FILE [--tcp PORT] [--faults 0.1] [--off 3,4] [--set TAG CODE X]

which prints the port to read them at. The drives answer from the lists of the file's own drive
types; there is no real drive's register anywhere.
"""

import argparse
import asyncio
import os
import random
import select
import signal
import sys
import termios
import threading
import time
import tty
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Self

from pymodbus.framer import FramerRTU, FramerType
from pymodbus.server import ModbusSerialServer, ModbusTcpServer
from pymodbus.simulator import DataType, SimData, SimDevice

from core.errors import InputError
from core.model import Line, Station
from core.readback import RtuLink, TcpLink
from core.readback.registers import RegisterForm, encode, form_of

Registers = dict[int, int]

# --- drives -------------------------------------------------------------------------------------


@dataclass
class SimulatedDrive:
    """One drive: its address, its two kinds of registers, and what its keypad shows."""

    address: int
    holding: Registers = field(default_factory=dict)
    input: Registers = field(default_factory=dict)
    shows: dict[str, str] = field(default_factory=dict)

    def put(self, code: str, shown: str, form: RegisterForm) -> None:
        """Set what the keypad shows for a setting."""
        table = self.holding if form.table == "holding" else self.input
        numbers = range(form.register, form.last + 1)
        words = encode(shown, form, [table.get(number, 0) for number in numbers])
        table.update(zip(numbers, words, strict=True))
        self.shows[code] = shown

    def device(self) -> SimDevice:
        """The drive as pymodbus serves it; a register it does not have is declined."""
        coil = [SimData(0, values=False, datatype=DataType.BITS)]
        return SimDevice(self.address, (coil, coil, _runs(self.holding), _runs(self.input)))


def _runs(registers: Registers) -> list[SimData]:
    """Registers as runs without a gap; one that nobody asks for where there are none."""
    runs: list[tuple[int, list[int]]] = []
    for number in sorted(registers or {0xFFFF: 0}):
        if not runs or number != runs[-1][0] + len(runs[-1][1]):
            runs.append((number, []))
        runs[-1][1].append(registers.get(number, 0))
    return [SimData(first, values=run, datatype=DataType.REGISTERS) for first, run in runs]


def drive_of(
    line: Line, station: Station, shown: Mapping[tuple[int, str], str] | None = None
) -> SimulatedDrive:
    """The simulated drive of a station.

    Each setting shows what ``shown`` says by station and code, else the entered value, else the
    factory value. What the registers cannot carry (words, other units) is left at zero.
    """
    drive = SimulatedDrive(station.drive.bus_address or 0)
    drive_type = line.drive_type(station.drive.drive_type_id)
    for listed in drive_type.listed_settings if drive_type else ():
        form = form_of(listed)
        if form is None:
            continue
        entered = station.drive.setting(listed.code)
        text = entered.shown if entered else listed.factory
        drive.put(listed.code, "0", form)
        with suppress(InputError):
            drive.put(listed.code, (shown or {}).get((station.id, listed.code), text), form)
    return drive


# --- faults -------------------------------------------------------------------------------------

Spoil = Callable[["Reply", random.Random], bytes]


@dataclass(frozen=True)
class Reply:
    """A reply on its way: the frame, taken apart."""

    frame: bytes
    serial: bool

    @property
    def head(self) -> bytes:
        """What stands before the address."""
        return b"" if self.serial else self.frame[:6]

    @property
    def address(self) -> int:
        return self.frame[len(self.head)]

    @property
    def function(self) -> int:
        return self.frame[len(self.head) + 1]

    @property
    def body(self) -> bytes:
        """Address, function and data."""
        return self.frame[:-2] if self.serial else self.frame[6:]

    def with_body(self, body: bytes) -> bytes:
        """A sound frame with another body."""
        if self.serial:
            return body + FramerRTU.compute_CRC(body).to_bytes(2, "big")
        return self.head[:4] + len(body).to_bytes(2, "big") + body


def _bad_checksum(reply: Reply, rng: random.Random) -> bytes:
    # A frame in the network has no checksum of its own; what must be right is its protocol word.
    place = rng.randrange(1, len(reply.frame)) if reply.serial else rng.choice((2, 3))
    return _flipped(reply.frame, place, rng.randrange(8))


def _flipped(frame: bytes, place: int, bit: int) -> bytes:
    return frame[:place] + bytes([frame[place] ^ 1 << bit]) + frame[place + 1 :]


def _exception(reply: Reply, rng: random.Random) -> bytes:
    code = rng.choice((1, 2, 3, 4, 5, 6, 8, 10, 11))
    return reply.with_body(bytes([reply.address, reply.function | 0x80, code]))


def _wrong_id(reply: Reply, rng: random.Random) -> bytes:
    other = rng.choice([a for a in range(1, 60) if a != reply.address])
    return reply.with_body(bytes([other]) + reply.body[1:])


def _noise(longest: int) -> Spoil:
    return lambda _, rng: rng.randbytes(rng.randint(1, longest))


def _fewer(reply: Reply, _: random.Random) -> bytes:
    body = reply.body
    if body[2] < 4:
        return b""
    return reply.with_body(body[:2] + bytes([body[2] - 2]) + body[3:-2])


FAULTS: Mapping[str, Spoil] = {
    "silence": lambda _, __: b"",
    "bad checksum": _bad_checksum,
    "exception": _exception,
    "wrong id": _wrong_id,
    "slow": lambda reply, _: reply.frame,
    "garbage": _noise(40),
    "noise before": lambda reply, rng: _noise(6)(reply, rng) + reply.frame,
    "noise behind": lambda reply, rng: reply.frame + _noise(6)(reply, rng),
    "half a reply": lambda reply, rng: reply.frame[: rng.randrange(1, len(reply.frame))],
    "fewer registers": _fewer,
}


@dataclass
class Faults:
    """Which replies are spoiled and how, in the same order for the same seed.

    ``always`` names the one fault of a drive by its address; ``share`` of all other replies get
    a fault by chance. ``done`` counts what was done, by fault.
    """

    share: float = 0.0
    seed: int = 1
    always: Mapping[int, str] = field(default_factory=dict)
    slow_s: float = 0.5
    done: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self._rng = random.Random(self.seed)

    def spoiled(self, frame: bytes, *, serial: bool) -> bytes:
        """What arrives of a reply, after as long as it takes."""
        reply = Reply(frame, serial)
        fault = self.always.get(reply.address)
        if fault is None and self._rng.random() < self.share:
            fault = self._rng.choice(sorted(FAULTS))
        if fault is None:
            return frame
        self.done[fault] += 1
        if fault == "slow":
            time.sleep(self.slow_s)
        return FAULTS[fault](reply, self._rng)


# --- buses --------------------------------------------------------------------------------------


class SimulatedBus:
    """Drives on one bus, served in a thread while the ``with`` block runs."""

    def __init__(self, drives: Iterable[SimulatedDrive], faults: Faults | None = None) -> None:
        self.drives = {drive.address: drive for drive in drives}
        self.faults = faults or Faults()
        self.requests: list[bytes] = []
        self._loop = asyncio.new_event_loop()
        self._thread = threading.Thread(target=self._loop.run_forever, name="simulated drives")
        self._server: ModbusSerialServer | ModbusTcpServer | None = None

    serial = False

    def __enter__(self) -> Self:
        self._thread.start()
        self._run(self._serve())
        return self

    def __exit__(self, *_: object) -> None:
        self._run(self._end())
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()
        self._loop.close()

    def _run(self, work: object) -> None:
        asyncio.run_coroutine_threadsafe(work, self._loop).result(10.0)  # type: ignore[arg-type]

    async def _serve(self) -> None:
        self._server = self._made([drive.device() for drive in self.drives.values()])
        await self._server.serve_forever(background=True)

    async def _end(self) -> None:
        assert self._server is not None
        # Connections that were just made or lost are known to the server some turns later.
        await asyncio.sleep(0.01)
        await self._server.shutdown()
        await asyncio.sleep(0.01)

    def _made(self, devices: list[SimDevice]) -> ModbusSerialServer | ModbusTcpServer:
        raise NotImplementedError

    def _passed(self, sending: bool, frame: bytes) -> bytes:
        if not sending:
            self.requests.append(frame)
            return frame
        if Reply(frame, self.serial).address not in self.drives:
            return b""  # pymodbus replies for drives that are not there
        return self.faults.spoiled(frame, serial=self.serial)


class TcpBus(SimulatedBus):
    """Drives behind one network address of this computer."""

    def __init__(
        self, drives: Iterable[SimulatedDrive], faults: Faults | None = None, port: int = 0
    ) -> None:
        super().__init__(drives, faults)
        self.port = port or _free_port()

    def _made(self, devices: list[SimDevice]) -> ModbusTcpServer:
        address = ("127.0.0.1", self.port)
        return ModbusTcpServer(devices, address=address, trace_packet=self._passed)

    @property
    def link(self) -> TcpLink:
        """How to reach the drives."""
        return TcpLink("127.0.0.1", self.port)


def _free_port() -> int:
    import socket

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class SerialBus(SimulatedBus):
    """Drives on a serial line: two pseudo-terminals with a cable between them."""

    serial = True

    def __init__(
        self,
        drives: Iterable[SimulatedDrive],
        faults: Faults | None = None,
        speed_bd: int = 115200,
        parity: str = "even",
    ) -> None:
        super().__init__(drives, faults)
        self._cable = _Cable()
        self._speed_bd, self._parity = speed_bd, parity

    def __exit__(self, *_: object) -> None:
        super().__exit__()
        self._cable.close()

    def unplug(self) -> None:
        """Pull the adapter out of the computer."""
        self._cable.close()

    def _made(self, devices: list[SimDevice]) -> ModbusSerialServer:
        return ModbusSerialServer(
            devices,
            port=self._cable.ports[1],
            framer=FramerType.RTU,
            baudrate=self._speed_bd,
            trace_packet=self._passed,
        )

    @property
    def link(self) -> RtuLink:
        """How to reach the drives."""
        return RtuLink(self._cable.ports[0], self._speed_bd, self._parity)


class _Cable:
    """Carries bytes from the one pseudo-terminal to the other, both ways."""

    def __init__(self) -> None:
        ends = [os.openpty(), os.openpty()]
        for _, terminal in ends:
            tty.setraw(terminal)
        self.ports = [os.ttyname(terminal) for _, terminal in ends]
        self._masters = [master for master, _ in ends]
        self._terminals = [terminal for _, terminal in ends]
        self._cut, self._cutter = os.pipe()
        self._thread = threading.Thread(target=self._carry, name="cable", daemon=True)
        self._thread.start()

    def _carry(self) -> None:
        one, other = self._masters
        across = {one: other, other: one}
        while True:
            ready, _, _ = select.select([*across, self._cut], [], [], 0.05)
            if self._cut in ready:
                return
            if not ready:
                self._detune()
            for end in ready:
                with suppress(OSError):
                    os.write(across[end], os.read(end, 4096))

    def _detune(self) -> None:
        """Make the next opening of the port change something.

        A pseudo-terminal keeps no parity. Where parity is all that an opening would change, the
        system tells that it changed nothing, and the opening fails.
        """
        settings = termios.tcgetattr(self._terminals[0])
        settings[4] = settings[5] = termios.B50
        termios.tcsetattr(self._terminals[0], termios.TCSANOW, settings)

    def close(self) -> None:
        """Cut the cable and give both terminals back."""
        if self._thread.is_alive():
            os.write(self._cutter, b"x")
            self._thread.join()
            for handle in (*self._masters, *self._terminals, self._cut, self._cutter):
                os.close(handle)


# --- for a demonstration --------------------------------------------------------------------------


def _arguments(given: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="simulated_drives", description="Drives to read from")
    parser.add_argument("file", type=Path, help="line file with registers in its lists")
    parser.add_argument("--tcp", type=int, metavar="PORT", help="in the network, not serial")
    parser.add_argument("--faults", type=float, default=0.0, help="share of replies spoiled")
    parser.add_argument("--seed", type=int, default=1, help="of the faults")
    parser.add_argument("--off", default="", help="addresses without power, such as 3,4")
    parser.add_argument(
        "--set", nargs=3, action="append", default=[], metavar=("TAG", "CODE", "VALUE")
    )
    return parser.parse_args(given)


def bus_for(line: Line, arguments: argparse.Namespace) -> SimulatedBus:
    """The bus that the arguments of the command line ask for."""
    stations = {station.tag: station for station in line.stations}
    shown = {(stations[tag].id, code): value for tag, code, value in arguments.set}
    drives = [drive_of(line, one, shown) for one in line.stations if one.drive.bus_address]
    off = {int(address): "silence" for address in arguments.off.split(",") if address}
    faults = Faults(arguments.faults, arguments.seed, off)
    return TcpBus(drives, faults, arguments.tcp) if arguments.tcp else SerialBus(drives, faults)


def main(given: list[str]) -> None:
    """Serve the drives of a line file until the program is stopped."""
    from core.store import LineFile

    arguments = _arguments(given)
    # A shell that starts it in the background has it ignore Ctrl+C.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with bus_for(LineFile.read(arguments.file), arguments) as bus, suppress(KeyboardInterrupt):
        print(f"{len(bus.drives)} drives at {bus.link.name}; stop with Ctrl+C", flush=True)
        threading.Event().wait()


if __name__ == "__main__":
    main(sys.argv[1:])
