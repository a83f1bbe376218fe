"""The simulated drives themselves: they show what they are set to, and spoil what they should."""

import random
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from core.readback import Patience, RtuLink, read_drives
from core.store import LineFile
from core.store.actions import add_station
from tests.core.readback.lines import line_of, station
from tests.simulated_drives import FAULTS, Faults, Reply, TcpBus, drive_of

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "sample_projects" / "lindenmoor.linebook"
SERIAL = bytes.fromhex("010306022B00000064057A")
NETWORK = bytes.fromhex("00010000000901 0306 022B 0000 0064")


def test_a_drive_shows_what_is_asked_for_else_what_was_entered_else_the_factory_value():
    line = line_of(station(1, ("top", "60.0"), ("trim", "5 V")))
    drive = drive_of(line, line.stations[0], {(1, "slow-up"): "2.50"})
    assert drive.shows == {
        "top": "60.0", "slow-up": "2.50", "source": "0", "turns": "0", "trim": "0",
        "hours": "0", "gain": "1", "seen": "0.0",
    }  # fmt: skip
    assert drive.holding[100] == 600
    assert drive.input == {5: 0}


@pytest.mark.parametrize("frame", [SERIAL, NETWORK])
@pytest.mark.parametrize("fault", sorted(set(FAULTS) - {"slow"}))
def test_each_fault_changes_a_reply(fault, frame):
    reply = Reply(frame, serial=frame is SERIAL)
    for seed in range(20):
        assert FAULTS[fault](reply, random.Random(seed)) != frame


@pytest.mark.parametrize("frame", [SERIAL, NETWORK])
def test_a_reply_is_put_together_as_it_was(frame):
    reply = Reply(frame, serial=frame is SERIAL)
    assert (reply.address, reply.function) == (1, 3)
    assert reply.with_body(reply.body) == frame


def test_the_same_seed_spoils_the_same_replies():
    def run(seed):
        faults = Faults(share=0.5, seed=seed, slow_s=0.0)
        return [faults.spoiled(SERIAL, serial=True) for _ in range(50)], faults.done

    assert run(3) == run(3)
    assert run(3) != run(4)
    assert 10 < run(3)[1].total() < 40


def test_a_fault_that_is_always_there_is_counted():
    faults = Faults(always={1: "silence"})
    assert [faults.spoiled(SERIAL, serial=True) for _ in range(3)] == [b""] * 3
    assert faults.done == {"silence": 3}


def test_two_buses_run_side_by_side():
    line = line_of(station(1), protocol="modbus_tcp")
    with TcpBus([drive_of(line, line.stations[0])]) as one, TcpBus([]) as other:
        assert one.port != other.port
        assert read_drives(line, {1: one.link}).counts["read"] == 8
        assert read_drives(line, {1: other.link}, patience=Patience(0.05)).counts["read"] == 0


def test_the_drives_of_a_line_file_are_served_from_the_command_line(tmp_path):
    path = tmp_path / "sample.linebook"
    shutil.copy(SAMPLE, path)
    line = LineFile.read(path)
    tag = line.stations[0].tag
    command = [sys.executable, "-m", "tests.simulated_drives", str(path), "--off", "2"]
    command += ["--set", tag, "hz-max", "61.5"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as served:
        told = served.stdout.readline()
        port = told.split(" at ")[1].split(";")[0]
        result = read_drives(line, {1: RtuLink(port, 19200, "even")}, patience=Patience(0.2))
        served.send_signal(signal.SIGINT)
        assert served.wait(10) == 0
    first, second = line.stations[:2]
    assert told.startswith(f"{len(line.stations)} drives at ")
    assert result.entry(first.id, "hz-max").shown == "61.5"
    assert {entry.state for entry in result.of_station(second.id)} == {"not_read"}
    # A value that was entered finer than its register counts is not among those compared.
    others = [e for e in result.entries if e.station_id not in (first.id, second.id)]
    assert {entry.state for entry in others} <= {"read", "refused"}
    assert sum(entry.state == "read" for entry in others) > 300


def test_a_file_without_registers_gives_drives_that_tell_nothing(tmp_path):
    path = tmp_path / "bare.linebook"
    with LineFile.create(path) as book:
        add_station(book)
    line = LineFile.read(path)
    assert drive_of(line, line.stations[0]).shows == {}
