"""The open connection to a bus, over pymodbus: reads that end in time, and nothing but reads.

pymodbus loads when this module does, so it is imported only where a bus is opened. Two things are
done here that its clients do not do: a wait ends at once when the user stops the reading, and a
frame that is no read request is never sent, whoever made it.
"""

import logging
from abc import abstractmethod
from collections.abc import Callable
from contextlib import suppress
from threading import Event
from time import monotonic, sleep

import serial  # type: ignore[import-untyped]
from pymodbus.client import ModbusSerialClient, ModbusTcpClient
from pymodbus.exceptions import ConnectionException, ModbusException
from pymodbus.framer import FramerRTU, FramerSocket, FramerType
from pymodbus.pdu import ModbusPDU

from core.readback import faults
from core.readback.registers import Table, Words

# Every fault is told as the reason of what was not read; pymodbus would print it as well.
logging.getLogger("pymodbus.logging").setLevel(logging.CRITICAL)

READ_FUNCTIONS: dict[Table, int] = {"holding": 3, "input": 4}
_ERROR_BIT = 0x80
# A stop is noticed after at most this long.
SLICE_S = 0.02
_WRITE_S = 0.5
_LONGEST_WAIT_S = 30.0
_PARITIES = {"even": "E", "odd": "O", "none": "N"}


class WriteRefusedError(RuntimeError):
    """A frame was to be sent that is no read request: a fault of the program."""


class _Listening:
    """What both kinds of wire add to the clients of pymodbus."""

    def __init__(self) -> None:
        self.stop = Event()
        self.heard = b""
        self._until = 0.0

    def arm(self, wait_s: float) -> None:
        """Forget what was heard, and wait so long for what comes next."""
        self.heard = b""
        self._until = monotonic() + wait_s

    def recv(self, _size: int | None) -> bytes:
        """What comes next; nothing when the wait is over."""
        while True:
            if self.stop.is_set():
                raise faults.StoppedError
            left_s = self._until - monotonic()
            if left_s <= 0.0:
                return b""
            if chunk := self._chunk(min(left_s, SLICE_S)):
                self.heard += chunk
                return chunk

    def settle(self, quiet_s: float, longest_s: float) -> None:
        """Throw away what still comes, until nothing has come for a while."""
        ends = monotonic() + longest_s
        self.arm(quiet_s)
        with suppress(ConnectionException):  # told by the next question
            while self.recv(None) and monotonic() < ends:
                self.arm(quiet_s)

    @abstractmethod
    def _chunk(self, wait_s: float) -> bytes:
        """The bytes that came within this time; none if nothing came."""


class SerialWire(_Listening, ModbusSerialClient):
    """A serial port with drives behind it."""

    def __init__(self, port: str, speed_bd: int, parity: str, stop_bits: int, gap_s: float) -> None:
        _Listening.__init__(self)
        ModbusSerialClient.__init__(
            self,
            port,
            framer=FramerType.RTU,
            baudrate=speed_bd,
            parity=_PARITIES[parity],
            stopbits=stop_bits,
            timeout=_LONGEST_WAIT_S,
            retries=0,
            trace_packet=_read_requests_only(function_at=1),
        )
        self._gap_s = gap_s

    def connect(self) -> bool:
        """Open the port, set up at once for reads in slices.

        The client of pymodbus sets it up a second time, which pseudo-terminals do not take.
        """
        if self.socket is None:
            with suppress(Exception):  # it lets errors of the system through, in no one family
                self.socket = serial.serial_for_url(
                    self.comm_params.host,
                    baudrate=self.comm_params.baudrate,
                    parity=self.comm_params.parity,
                    stopbits=self.comm_params.stopbits,
                    timeout=SLICE_S,
                    write_timeout=_WRITE_S,
                    exclusive=True,
                )
        return self.socket is not None

    def send(self, request: bytes, addr: tuple[str, int] | None = None) -> int:
        """Send a request after the silence that parts frames."""
        sleep(self._gap_s)
        return int(ModbusSerialClient.send(self, request, addr))

    def close(self) -> None:
        """Close it; a further :meth:`connect` opens it again."""
        ModbusSerialClient.close(self)  # type: ignore[no-untyped-call]

    def _chunk(self, wait_s: float) -> bytes:
        if self.socket is None:
            raise ConnectionException("closed")
        try:
            return bytes(self.socket.read(max(1, self.socket.in_waiting)))
        except OSError:
            self.close()
            raise ConnectionException("the port is gone") from None

    def why_not(self, heard: bytes, asked: int) -> str:
        """Why what was heard is no answer of the drive that was asked."""
        if not heard:
            return faults.SILENT
        whole = len(heard) >= FramerRTU.MIN_SIZE
        if whole and FramerRTU.check_CRC(heard[:-2], int.from_bytes(heard[-2:], "big")):
            return faults.LATE if heard[0] == asked else faults.other_drive(heard[0], asked)
        if heard[0] != asked:
            return faults.NOISE
        cut = len(heard) < 3 or (heard[1] in READ_FUNCTIONS.values() and len(heard) < 5 + heard[2])
        return faults.CUT if cut else faults.SPOILED


class TcpWire(_Listening, ModbusTcpClient):
    """A network connection to a drive or a gateway."""

    def __init__(self, host: str, port: int, connect_s: float) -> None:
        _Listening.__init__(self)
        ModbusTcpClient.__init__(
            self,
            host,
            port=port,
            framer=FramerType.SOCKET,
            timeout=connect_s,
            retries=0,
            trace_packet=_read_requests_only(function_at=7),
        )
        self.transaction.comm_params.timeout_connect = _LONGEST_WAIT_S

    def close(self) -> None:
        """Close it; a further :meth:`connect` opens it again."""
        ModbusTcpClient.close(self)  # type: ignore[no-untyped-call]

    def _chunk(self, wait_s: float) -> bytes:
        if self.socket is None:
            raise ConnectionException("closed")
        self.socket.settimeout(wait_s)
        try:
            chunk = self.socket.recv(4096)
        except TimeoutError:
            return b""
        except OSError:
            chunk = b""
        if not chunk:
            self.close()
            raise ConnectionException("closed by the other end")
        return chunk

    def why_not(self, heard: bytes, asked: int) -> str:
        """Why what was heard is no answer of the drive that was asked."""
        if not heard:
            return faults.SILENT
        if heard[2:4] != b"\0\0"[: len(heard[2:4])]:
            return faults.NOISE
        if len(heard) < FramerSocket.MIN_SIZE:
            return faults.CUT
        if heard[6] != asked:
            return faults.other_drive(heard[6], asked)
        cut = len(heard) < 6 + int.from_bytes(heard[4:6], "big")
        return faults.CUT if cut else faults.LATE


Wire = SerialWire | TcpWire


def ask(wire: Wire, table: Table, first: int, count: int, device: int, wait_s: float) -> Words:
    """Ask once for some registers.

    Parameters
    ----------
    wire : Wire
        Open
    table : "holding" or "input"
        Which registers
    first, count : int
        The first register, counted from zero, and how many [-]
    device : int
        Address of the drive
    wait_s : float
        How long to wait for the whole reply [s]

    Returns
    -------
    tuple of int
        Exactly ``count`` words

    Raises
    ------
    BusFaultError
        No such answer came.
    """
    wire.arm(wait_s)
    read = wire.read_holding_registers if table == "holding" else wire.read_input_registers
    try:
        reply = read(first, count=count, device_id=device)
    except ConnectionException:
        raise faults.UnansweredError(faults.BROKEN) from None
    except ModbusException:
        raise faults.UnansweredError(wire.why_not(wire.heard, device)) from None
    return _checked(reply, READ_FUNCTIONS[table], count)


def _checked(reply: ModbusPDU, function: int, count: int) -> Words:
    if reply.function_code == function | _ERROR_BIT:
        raise faults.of_exception(reply.exception_code)
    if reply.function_code != function or len(reply.registers) != count:
        raise faults.UnansweredError(faults.LATE)
    return tuple(reply.registers)


def _read_requests_only(function_at: int) -> Callable[[bool, bytes], bytes]:
    """A check of each frame, by the place of its function code."""

    def checked(sending: bool, frame: bytes) -> bytes:
        if sending and frame[function_at] not in READ_FUNCTIONS.values():
            raise WriteRefusedError(f"function {frame[function_at]} was to be sent")
        return frame

    return checked
