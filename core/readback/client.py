"""A client that can read registers of drives and do nothing else to them."""

from contextlib import suppress
from dataclasses import dataclass, field
from queue import Empty, SimpleQueue
from threading import Event, Thread
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from core.calc import bus
from core.errors import InputError
from core.readback import faults
from core.readback.registers import Table, Words

if TYPE_CHECKING:
    from core.readback.wire import Wire

TCP_PORT = 502


@dataclass(frozen=True, slots=True)
class RtuLink:
    """A serial port of this computer, with the speed and parity of the bus.

    ``stop_bits`` is None for what the specification asks for: two without parity, else one.
    """

    port: str
    speed_bd: int
    parity: str
    stop_bits: int | None = None

    @property
    def bits(self) -> int:
        """Bits of a character."""
        return bus.character_bits(self.parity, self.stop_bits)

    @property
    def name(self) -> str:
        """What the user calls it."""
        return self.port


@dataclass(frozen=True, slots=True)
class TcpLink:
    """A host in the network: a drive, or a gateway to several."""

    host: str
    port: int = TCP_PORT

    @property
    def name(self) -> str:
        """What the user calls it."""
        return f"{self.host}:{self.port}"


Link = RtuLink | TcpLink


@dataclass(frozen=True, slots=True)
class Patience:
    """How long and how often a drive is asked.

    ``reply_s`` is the time a drive has before its reply must begin to come [s]; each further
    attempt gives it as much more. ``quiet_s`` is how long the bus must be silent after a fault
    before the next question [s]. ``connect_s`` is the time to open a connection [s].
    """

    reply_s: float = 0.3
    attempts: int = 3
    quiet_s: float = 0.05
    connect_s: float = 3.0


@dataclass(slots=True)
class ReadOnlyClient:
    """Reads holding and input registers of the drives behind one link.

    There is no way through it to write. Every call ends, also when nobody answers, and ends within
    a few hundredths of a second once ``stop`` is set. One thread may use it at a time.
    """

    link: Link
    patience: Patience = field(default_factory=Patience)
    stop: Event = field(default_factory=Event)
    _wire: "Wire | None" = None

    def read_holding_registers(
        self, first: int, count: int, *, device: int, attempt: int = 1
    ) -> Words:
        """Read registers that a drive keeps (function 3).

        Parameters
        ----------
        first : int
            Number of the first register as sent on the bus, counted from zero
        count : int
            How many, 1 to 125
        device : int
            Address of the drive, 1 to 247
        attempt : int
            How often this is asked now; later attempts wait longer

        Returns
        -------
        tuple of int
            One word of 16 bits for each register

        Raises
        ------
        BusFaultError
            Unanswered, declined, no connection, or stopped
        """
        return self._read("holding", first, count, device, attempt)

    def read_input_registers(
        self, first: int, count: int, *, device: int, attempt: int = 1
    ) -> Words:
        """Read registers that a drive only shows (function 4); else as for holding registers."""
        return self._read("input", first, count, device, attempt)

    def close(self) -> None:
        """Close the connection; a further read opens it again."""
        if self._wire is not None:
            self._wire.close()
        self._wire = None

    def _read(self, table: Table, first: int, count: int, device: int, attempt: int) -> Words:
        if self.stop.is_set():
            raise faults.StoppedError
        from core.readback import wire

        opened = self._opened()
        try:
            return wire.ask(opened, table, first, count, device, self._wait_s(count, attempt))
        except faults.UnansweredError:
            self._recover(opened)
            raise

    def _wait_s(self, count: int, attempt: int) -> float:
        """Time for a whole exchange: that of the drive, and on a serial bus of all characters."""
        reply_s = self.patience.reply_s * attempt
        if isinstance(self.link, TcpLink):
            return reply_s
        request, reply = bus.read_lengths(count)
        return bus.exchange_time_s(request, reply, self.link.speed_bd, self.link.bits, reply_s)

    def _recover(self, opened: "Wire") -> None:
        """See to it that nothing of a failed exchange is taken for the next one."""
        if isinstance(self.link, TcpLink):
            self.close()
        elif opened.connected:
            opened.settle(self.patience.quiet_s, self.patience.reply_s)

    # --- opening --------------------------------------------------------------------------------

    def _opened(self) -> "Wire":
        if self._wire is None or not self._wire.connected:
            self._wire = self._made()
            if not self._connects(self._wire):
                self.close()
                raise faults.LinkLostError(self._why_not_opened())
        return self._wire

    def _made(self) -> "Wire":
        from core.readback import wire

        made: Wire
        link = self.link
        if isinstance(link, TcpLink):
            made = wire.TcpWire(link.host, link.port, self.patience.connect_s)
        else:
            stop_bits = link.stop_bits or (2 if link.parity == "none" else 1)
            gap_s = bus.silent_gap_s(link.speed_bd, link.bits)
            made = wire.SerialWire(link.port, link.speed_bd, link.parity, stop_bits, gap_s)
        made.stop = self.stop
        return made

    def _connects(self, made: "Wire") -> bool:
        """Connect in a thread that is left behind when the user stops.

        Looking up a host or opening a port that hangs cannot be broken off from outside.
        """
        from core.readback.wire import SLICE_S

        answers: SimpleQueue[bool] = SimpleQueue()
        left_behind = Event()

        def connect() -> None:
            opened = False
            with suppress(Exception):  # whatever kept it from opening, it is not open
                opened = made.connect()
            answers.put(opened)
            if left_behind.is_set():
                made.close()

        Thread(target=connect, name="open the bus", daemon=True).start()
        while True:
            try:
                return answers.get(timeout=SLICE_S)
            except Empty:
                if self.stop.is_set():
                    left_behind.set()
                    raise faults.StoppedError from None

    def _why_not_opened(self) -> str:
        if isinstance(self.link, TcpLink):
            return f"{self.link.name} was not reached: check cable, address and port."
        return (
            f"The port {self.link.name} was not opened: check its name, that its adapter is "
            "plugged in, and that no other program uses it."
        )


def tcp_link(text: str) -> TcpLink:
    """A network link as typed: a host, with a port behind a colon if it is not 502.

    Examples
    --------
    >>> tcp_link("192.0.2.7"), tcp_link("[2001:db8::7]:1502")
    (TcpLink(host='192.0.2.7', port=502), TcpLink(host='2001:db8::7', port=1502))
    """
    try:
        parts = urlsplit(f"//{text.strip()}")
        host, port = parts.hostname, parts.port or TCP_PORT
    except ValueError:
        host, port = None, 0
    if not host or parts.path or parts.query or parts.username:
        raise InputError(
            "The address was not taken.",
            f"'{text}' is no host.",
            "Type an address such as 192.0.2.7 or 192.0.2.7:502.",
        )
    return TcpLink(host, port)
