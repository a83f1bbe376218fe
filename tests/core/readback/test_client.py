"""The client reads and cannot write; what it hears is taken apart in time, whatever it is."""

import inspect
import socket
import threading
import time
from contextlib import contextmanager

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.readback import Patience, RtuLink, TcpLink, faults, tcp_link
from core.readback.client import ReadOnlyClient
from core.readback.wire import SerialWire, TcpWire, WriteRefusedError
from tests.core.readback.lines import line_of, station
from tests.simulated_drives import SerialBus, TcpBus, drive_of

LINE = line_of(station(4))
QUICK = Patience(reply_s=0.08, quiet_s=0.01, connect_s=2.0)


def simulated(kind):
    return kind([drive_of(LINE, LINE.stations[0])])


def opened(bus):
    """A client of the bus, and the wire inside it."""
    client = ReadOnlyClient(bus.link, QUICK)
    client.read_holding_registers(100, 1, device=4)
    return client, client._wire


# --- only reads -----------------------------------------------------------------------------------


def test_it_offers_two_reads_and_a_close_and_nothing_else():
    public = {name for name in dir(ReadOnlyClient) if not name.startswith("_")}
    assert public - {"link", "patience", "stop"} == {
        "read_holding_registers", "read_input_registers", "close"
    }  # fmt: skip


WRITES = {
    "write_coil": (5, True),
    "write_coils": (5, [True, False]),
    "write_register": (100, 1),
    "write_registers": (100, [1, 2]),
    "mask_write_register": (),
    "write_file_record": ([],),
}
NAMED = {"readwrite_registers": {"read_count": 1, "values": [7]}}


@pytest.mark.parametrize("kind", [SerialBus, TcpBus])
@pytest.mark.parametrize("name", [*WRITES, *NAMED])
def test_no_write_of_the_library_gets_out_even_past_the_client(kind, name):
    with simulated(kind) as bus:
        client, wire = opened(bus)
        before = list(bus.requests)
        with pytest.raises(WriteRefusedError, match="was to be sent"):
            getattr(wire, name)(*WRITES.get(name, ()), device_id=4, **NAMED.get(name, {}))
        client.read_holding_registers(100, 1, device=4)
        assert len(bus.requests) == len(before) + 1
        client.close()


def test_every_request_of_the_library_but_the_two_reads_is_refused():
    with simulated(TcpBus) as bus:
        client, wire = opened(bus)
        before = len(bus.requests)
        refused = []
        for name, call in inspect.getmembers(wire, inspect.ismethod):
            is_request = "no_response_expected" in inspect.signature(call).parameters
            if is_request and name not in ("execute", *WRITES, *NAMED):
                needed = [
                    parameter
                    for parameter in inspect.signature(call).parameters.values()
                    if parameter.default is inspect.Parameter.empty
                ]
                if name in ("read_holding_registers", "read_input_registers"):
                    continue
                try:
                    call(*[1 for _ in needed])
                except WriteRefusedError:
                    refused.append(name)
                except (TypeError, AttributeError):
                    pass  # an argument of another type: no frame was made at all
        assert {"read_coils", "read_discrete_inputs", "diag_clear_counters"} <= set(refused)
        assert len(bus.requests) == before
        client.close()


# --- both tables, both links ----------------------------------------------------------------------


@pytest.mark.parametrize("kind", [SerialBus, TcpBus])
def test_it_reads_both_tables(kind):
    with simulated(kind) as bus:
        client = ReadOnlyClient(bus.link, QUICK)
        # 50.0 Hz in tenths, 10.00 s in hundredths; the measured current is zero.
        assert client.read_holding_registers(100, 2, device=4) == (500, 1000)
        assert client.read_input_registers(5, 1, device=4) == (0,)
        client.close()
        time.sleep(0.15)  # what a pseudo-terminal needs before it can be opened again
        assert client.read_holding_registers(100, 1, device=4) == (500,)
        client.close()


@pytest.mark.parametrize("kind", [SerialBus, TcpBus])
def test_a_refusal_is_told_with_its_code_and_leaves_the_connection(kind):
    with simulated(kind) as bus:
        client, wire = opened(bus)
        with pytest.raises(faults.DeclinedError, match="no such register"):
            client.read_holding_registers(5000, 1, device=4)
        assert client._wire is wire
        client.close()


@pytest.mark.parametrize("kind", [SerialBus, TcpBus])
def test_nobody_at_an_address_is_silence(kind):
    with simulated(kind) as bus:
        client = ReadOnlyClient(bus.link, QUICK)
        with pytest.raises(faults.UnansweredError, match=faults.SILENT):
            client.read_holding_registers(100, 1, device=5)
        client.close()


def test_a_later_attempt_waits_longer_and_a_slow_bus_has_the_time_of_its_characters():
    fast = ReadOnlyClient(TcpLink("h"), Patience(reply_s=0.3))
    assert fast._wait_s(125, 2) == pytest.approx(0.6)
    # 8 + 255 characters of 11 bits at 1200 Bd are 2.411 s, two gaps of 32.1 ms, the drive 0.3 s.
    slow = ReadOnlyClient(RtuLink("p", 1200, "even"), Patience(reply_s=0.3))
    assert slow._wait_s(125, 1) == pytest.approx(2.411 + 0.0642 + 0.3, abs=1e-3)


# --- whatever comes -------------------------------------------------------------------------------


@contextmanager
def answering(reply):
    """A network drive that answers each request by the bytes that ``reply`` makes of it."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(5.0)

        def serve():
            with server.accept()[0] as line:
                line.settimeout(5.0)
                while request := line.recv(300):
                    answer = reply(request)
                    if answer is None:
                        return
                    line.sendall(answer)

        thread = threading.Thread(target=serve)
        thread.start()
        client = ReadOnlyClient(TcpLink("127.0.0.1", server.getsockname()[1]), QUICK)
        yield client
        client.close()
        thread.join()


def sound(request, *, values=b"\x01\xf4", function=None, device=None, tid=None):
    body = bytes([device or request[6], function or request[7], len(values)]) + values
    return (tid or request[:2]) + b"\0\0" + len(body).to_bytes(2, "big") + body


@pytest.mark.parametrize(
    ("reply", "reason"),
    [
        (lambda r: sound(r, device=9), "Address 9 replied instead of 4."),
        (lambda r: sound(r, tid=b"\x77\x77"), faults.LATE),
        (lambda r: sound(r, tid=b"\x00\x00"), faults.LATE),
        (lambda r: sound(r, function=4), faults.LATE),
        (lambda r: sound(r, function=16), faults.LATE),
        (lambda r: sound(r, values=b"\1\2\3\4"), faults.LATE),
        (lambda r: sound(r, values=b""), faults.LATE),
        (lambda r: sound(r)[:5], faults.CUT),
        (lambda r: sound(r)[:-1], faults.CUT),
        (lambda r: b"HTTP/1.1 400 Bad Request\r\n\r\n", faults.NOISE),
        (lambda r: b"\0", faults.CUT),
        (lambda r: None, faults.BROKEN),
    ],
)
def test_what_is_no_answer_is_never_taken_for_one(reply, reason):
    with answering(reply) as client, pytest.raises(faults.UnansweredError) as told:
        client.read_holding_registers(100, 1, device=4)
    assert told.value.reason == reason


def test_a_reply_in_pieces_is_put_together():
    with socket.create_server(("127.0.0.1", 0)) as server:

        def serve():
            with server.accept()[0] as line:
                for byte in sound(line.recv(300)):
                    line.sendall(bytes([byte]))
                    time.sleep(0.002)

        thread = threading.Thread(target=serve)
        thread.start()
        client = ReadOnlyClient(TcpLink("127.0.0.1", server.getsockname()[1]), Patience())
        assert client.read_holding_registers(100, 1, device=4) == (500,)
        client.close()
        thread.join()


def test_a_drive_that_never_stops_talking_is_left_in_time():
    stop = threading.Event()
    with socket.create_server(("127.0.0.1", 0)) as server:

        def babble():
            with server.accept()[0] as line:
                try:
                    while not stop.wait(0.001):
                        line.sendall(b"\xaa" * 20)
                except OSError:
                    return

        thread = threading.Thread(target=babble)
        thread.start()
        client = ReadOnlyClient(TcpLink("127.0.0.1", server.getsockname()[1]), QUICK)
        began = time.monotonic()
        with pytest.raises(faults.UnansweredError):
            client.read_holding_registers(100, 1, device=4)
        assert time.monotonic() - began < 1.0
        stop.set()
        client.close()
        thread.join()


class Fed:
    """A wire that hears given bytes instead of a port's."""

    def __init__(self, heard):
        self._heard, self.sent = [heard] if heard else [], []

    def feed(self, wire):
        wire.socket = self
        wire.connect = lambda: True
        wire.transaction.low_level_send = lambda frame, addr=None: self.sent.append(frame)
        wire._chunk = lambda _: self._heard.pop() if self._heard else b""
        return wire

    def close(self):
        pass


@given(noise=st.binary(max_size=300), serial=st.booleans())
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_bytes_make_anything_but_an_answer_or_a_fault(noise, serial):
    from core.readback.wire import ask

    wire = SerialWire("p", 115200, "even", 1, 0.0) if serial else TcpWire("h", 502, 1.0)
    fed = Fed(noise)
    with pytest.raises(faults.BusFaultError) as told:
        ask(fed.feed(wire), "holding", 100, 2, 4, 0.001)
    assert told.value.reason
    assert len(fed.sent) == 1


# --- links as typed -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "link"),
    [
        ("192.0.2.7", TcpLink("192.0.2.7", 502)),
        (" gateway.shed:1502 ", TcpLink("gateway.shed", 1502)),
        ("[2001:db8::7]:77", TcpLink("2001:db8::7", 77)),
    ],
)
def test_a_host_is_read_as_typed(typed, link):
    assert tcp_link(typed) == link


@pytest.mark.parametrize("typed", ["", "a/b", "h:port", "h:70000", "user@h", "h?x", "[::1"])
def test_what_is_no_host_is_refused(typed):
    with pytest.raises(InputError, match="is no host"):
        tcp_link(typed)


def test_characters_of_a_link():
    assert RtuLink("p", 9600, "even").bits == RtuLink("p", 9600, "none").bits == 11
    assert RtuLink("p", 9600, "none", 1).bits == 10
    assert (RtuLink("COM5", 9600, "none").name, TcpLink("h", 5).name) == ("COM5", "h:5")
