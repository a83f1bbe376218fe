"""Frames, checksums and forms of numbers on a drive bus, against the open specifications."""

import random
import struct

import pytest

from core.readback import faults
from core.readback.blocks import plan_blocks
from core.readback.client import ReadOnlyClient, RtuLink, TcpLink
from core.readback.registers import RegisterForm, decode
from core.readback.wire import SerialWire, TcpWire
from tests.published.checks import every, series

PROTOCOL = "MODBUS Application Protocol V1.1b3"
SERIAL = "MODBUS over Serial Line V1.02"
NETWORK = "MODBUS Messaging on TCP/IP Implementation Guide V1.0b"
SOUND, SPOILED = "sound", "spoiled"


class Played:
    """A client whose wire is fed with a reply, and keeps what it sent."""

    def __init__(self, link, reply=b""):
        self.sent = b""
        self._reply = reply
        if isinstance(link, RtuLink):
            wire = SerialWire(link.port, link.speed_bd, link.parity, 1, 0.0)
        else:
            wire = TcpWire(link.host, link.port, 1.0)
        wire.socket = self
        wire._chunk = self._chunk
        wire.transaction.low_level_send = self._send
        self.client = ReadOnlyClient(link, _wire=wire)

    def _send(self, frame, addr=None):
        self.sent = frame

    def _chunk(self, _wait_s):
        chunk, self._reply = self._reply, b""
        if not chunk:
            raise faults.UnansweredError(faults.SILENT)
        return chunk

    def close(self):
        """End, as a port does."""


RTU, TCP = RtuLink("port", 19200, "even"), TcpLink("host")


def request_frame(link, table, first, count, device):
    """The bytes that the program sends to read some registers, in hexadecimal."""
    played = Played(link)
    read = getattr(played.client, f"read_{table}_registers")
    with pytest.raises(faults.UnansweredError):
        read(first, count, device=device)
    return played.sent.hex(" ").upper()


def request_on_rtu(first, count, device):
    return request_frame(RTU, "holding", first, count, device)


def request_in_network(table, first, count, device):
    return request_frame(TCP, table, first, count, device)


def words_of(table, count, reply):
    """What the program takes from a reply of drive 1 on a serial line."""
    played = Played(RTU, bytes.fromhex(reply))
    try:
        words = getattr(played.client, f"read_{table}_registers")(0, count, device=1)
    except faults.BusFaultError as fault:
        return fault.reason
    return " ".join(map(str, words))


def checksum_of(frame):
    """How the program finds a frame that is no answer of the drive it asked: sound or spoiled."""
    heard = bytes.fromhex(frame)
    why = SerialWire("port", 19200, "even", 1, 0.0).why_not(heard, heard[0])
    return SOUND if why == faults.LATE else SPOILED


def bitwise_crc(frame):
    """The checksum by the rule of the specification, bit by bit, low byte first."""
    remainder = 0xFFFF
    for byte in frame:
        remainder ^= byte
        for _ in range(8):
            remainder = remainder >> 1 ^ (0xA001 if remainder & 1 else 0)
    return remainder.to_bytes(2, "little")


def of(function, via):
    """The name of a program's function on a check that plays a whole exchange with it."""

    def played(*arguments):
        return via(*arguments)

    played.__module__, played.__name__ = function.__module__, function.__name__
    return played


READ_HOLDING = ReadOnlyClient.read_holding_registers
READ_INPUT = ReadOnlyClient.read_input_registers

FRAMES = (
    *series(
        of(READ_HOLDING, request_in_network),
        [("request of registers 108 to 110", ("holding", 0x6B, 3, 1), "03 00 6B 00 03")],
        of=lambda frame: frame[21:],
        source=f"{PROTOCOL}, 6.3, as a public manual of a device repeats its example",
        status="seen",
    ),
    *series(
        of(READ_INPUT, request_in_network),
        [("request of input register 9", ("input", 8, 1, 1), "04 00 08 00 01")],
        of=lambda frame: frame[21:],
        source=f"{PROTOCOL}, 6.4",
        status="from memory",
    ),
    *series(
        of(READ_HOLDING, request_on_rtu),
        [("request with address 1 and checksum", (0x6B, 3, 1), "01 03 00 6B 00 03 74 17")],
        source=f"{PROTOCOL}, 6.3, as a public manual of a device repeats it with checksum",
        status="seen",
    ),
    *series(
        of(READ_HOLDING, request_in_network),
        [
            (
                "request of one register at 4 from unit 255, behind its number",
                ("holding", 4, 1, 255),
                "00 00 00 06 FF 03 00 04 00 01",
            )
        ],
        of=lambda frame: frame[6:],
        source=f"{NETWORK}, 4.4.2.2",
        status="from memory",
    ),
    *series(
        of(READ_HOLDING, words_of),
        [
            # 022B hexadecimal is 555, 0064 is 100.
            (
                "reply of registers 108 to 110",
                ("holding", 3, "01 03 06 02 2B 00 00 00 64 05 7A"),
                "555 0 100",
            )
        ],
        source=f"{PROTOCOL}, 6.3, as a public manual of a device repeats it with checksum",
        status="seen",
    ),
    *series(
        of(READ_INPUT, words_of),
        [
            (
                "reply of input register 9",
                ("input", 1, "01 04 02 00 0A" + bitwise_crc(b"\1\4\2\0\x0a").hex()),
                "10",
            )
        ],
        source=f"{PROTOCOL}, 6.4; checksum by the rule of {SERIAL}, 6.2.2",
        status="from memory",
    ),
    *series(
        of(READ_HOLDING, words_of),
        [
            (
                "error reply 83 02",
                ("holding", 1, "01 83 02 C0 F1"),
                "The drive declined: it has no such register (code 2).",
            ),
            (
                "error reply 83 06",
                ("holding", 1, "01 83 06 C1 32"),
                "It was busy each time it was asked.",
            ),
        ],
        source=f"{PROTOCOL}, 6.3 and 7: error code 83, exception codes 2 and 6",
        status="from memory",
    ),
)

CHECKSUMS = (
    *series(
        of(SerialWire.why_not, checksum_of),
        [
            ("frame 02 07, checksum 1241 sent low byte first", ("02 07 41 12",), SOUND),
            ("the same, high byte first", ("02 07 12 41",), SPOILED),
            ("the same, one bit wrong", ("02 06 41 12",), SPOILED),
        ],
        source=f"{SERIAL}, 6.2.2, as a public program quotes its example",
        status="seen",
    ),
    *series(
        of(SerialWire.why_not, checksum_of),
        [
            (
                "'123456789', check value 4B37",
                (b"123456789".hex() + "374B",),
                SOUND,
            )
        ],
        source="CRC-16/MODBUS in the common catalogue of parametrised checksums",
        status="from memory",
    ),
)

LENGTHS = series(
    plan_blocks,
    [("200 registers in a row", (tuple(RegisterForm(n) for n in range(200)),), 125.0)],
    of=lambda blocks: float(max(block.count for block in blocks)),
    unit="registers",
    tolerance=1e-9,
    source=f"{PROTOCOL}, 6.3: 1 to 125 (7D) registers",
    status="from memory",
)

LOW_FIRST = RegisterForm(0, "s32", high_first=False)
SINGLE = RegisterForm(0, "f32")
NUMBERS = (
    *series(
        decode,
        [
            # sign 0, exponent 127, fraction 0; sign 0, exponent 129, fraction 0.5625; and so on
            ("3F80 0000", ((0x3F80, 0x0000), SINGLE), "1"),
            ("40C8 0000", ((0x40C8, 0x0000), SINGLE), "6.25"),
            ("C248 0000", ((0xC248, 0x0000), SINGLE), "-50"),
            ("42F6 E979", ((0x42F6, 0xE979), SINGLE), "123.456"),
            ("0000 0000", ((0, 0), SINGLE), "0"),
        ],
        source="IEEE 754, binary32: sign, 8 bits of exponent less 127, 23 bits of fraction",
        status="by hand",
    ),
    *series(
        decode,
        [
            ("8000, 16 bits", ((0x8000,), RegisterForm(0, "s16")), "-32768"),
            ("FFFF FFFE, 32 bits", ((0xFFFF, 0xFFFE), RegisterForm(0, "s32")), "-2"),
            (
                "FFFE FFFF, low first",
                ((0xFFFE, 0xFFFF), LOW_FIRST),
                "-2",
            ),
        ],
        source="two's complement",
        status="by hand",
    ),
)

CHECKS = (*FRAMES, *CHECKSUMS, *LENGTHS, *NUMBERS)


@every(CHECKS)
def test_published_value(check):
    check.verify()


@pytest.mark.parametrize("seed", range(20))
def test_each_frame_sent_has_the_checksum_worked_out_bit_by_bit(seed):
    rng = random.Random(seed)
    first, count, device = rng.randrange(65411), rng.randint(1, 125), rng.randint(1, 247)
    frame = bytes.fromhex(request_on_rtu(first, count, device))
    assert frame[:-2] == struct.pack(">BBHH", device, 3, first, count)
    assert frame[-2:] == bitwise_crc(frame[:-2])


@pytest.mark.parametrize("seed", range(20))
def test_a_frame_with_the_checksum_worked_out_bit_by_bit_is_sound_and_else_spoiled(seed):
    rng = random.Random(seed)
    frame = rng.randbytes(rng.randint(2, 60))
    assert checksum_of((frame + bitwise_crc(frame)).hex()) == SOUND
    assert checksum_of((frame + bitwise_crc(frame + b"\0")).hex()) == SPOILED


@pytest.mark.parametrize("seed", range(20))
def test_a_reply_packed_by_another_library_is_taken_word_for_word(seed):
    rng = random.Random(seed)
    words = [rng.randrange(65536) for _ in range(rng.randint(1, 125))]
    body = struct.pack(f">BBB{len(words)}H", 1, 3, 2 * len(words), *words)
    reply = (body + bitwise_crc(body)).hex()
    assert words_of("holding", len(words), reply) == " ".join(map(str, words))
