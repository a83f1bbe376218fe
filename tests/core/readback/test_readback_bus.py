"""Drives read over a serial line and a network: sound, off, noisy, slow, mistaken, and stopped."""

import dataclasses
import random
import threading
import time
from collections import Counter

import pytest

from core.errors import InputError
from core.model import Bus, ListedSetting, Station
from core.readback import Patience, RtuLink, TcpLink, faults, link_to, read_drives
from core.readback import bus as reading
from core.readback.client import ReadOnlyClient
from core.readback.results import NOT_LISTED, wanted_of
from tests.core.readback.lines import CHOICES, KIND, LISTED, ON_BUS, line_of, many, station
from tests.simulated_drives import FAULTS, Faults, SerialBus, TcpBus, drive_of

BUSES = {"modbus_rtu": SerialBus, "modbus_tcp": TcpBus}
PROTOCOLS = list(BUSES)
QUICK = Patience(reply_s=0.06, attempts=3, quiet_s=0.01, connect_s=2.0)
LATEST_STOP_S = 1.0


def turned(line, seed):
    """What the keypads show: some settings of each drive are no longer at their factory value."""
    rng = random.Random(seed)
    return {
        (one.id, code): rng.choice(values)
        for one in line.stations
        for code, values in CHOICES.items()
        if rng.random() < 0.7
    }


def simulated(line, shown=None, faults=None):
    protocol = line.buses[0].protocol
    return BUSES[protocol]([drive_of(line, one, shown or {}) for one in line.stations], faults)


def shows(line, bus):
    """What the keypad of each simulated drive shows, by station and code."""
    return {
        (one.id, code): text
        for one in line.stations
        for code, text in bus.drives[one.drive.bus_address].shows.items()
    }


def on_bus(result):
    return [entry for entry in result.entries if entry.code != "by hand"]


def assert_nothing_false(result, line, bus):
    """Every entry is there; what claims a value claims the one that the keypad shows."""
    truth = shows(line, bus)
    assert [entry.key for entry in result.entries] == [one.key for one in wanted_of(line)]
    for entry in result.entries:
        if entry.state == "not_read":
            assert entry.shown == ""
            assert entry.reason
        else:
            assert (entry.state, float(entry.shown)) == ("read", float(truth[entry.key]))
    assert {frame[1 if bus.serial else 7] for frame in bus.requests} <= {3, 4}


# --- sound buses --------------------------------------------------------------------------------


@pytest.mark.parametrize("protocol", PROTOCOLS)
def test_every_setting_of_every_drive_is_read_as_its_keypad_shows_it(protocol):
    line = many(20, protocol)
    with simulated(line, turned(line, 7)) as bus:
        result = read_drives(line, {1: bus.link})
        assert_nothing_false(result, line, bus)
        assert {entry.shown for entry in on_bus(result)} > {"87.5", "0.10", "70000", "3.14159"}
        assert result.counts == {"read": 160, "not_read": 20}
        assert {e.reason for e in result.entries if e.code == "by hand"} == {reading.NO_REGISTER}
        # Input registers; holding registers with a gap, which these drives decline, then without;
        # and those far behind.
        assert len(bus.requests) == 5 * 20


def test_a_value_in_the_si_unit_of_the_list_comes_with_the_text():
    line = many(1)
    with simulated(line, {(1, "slow-up"): "2.50", (1, "trim"): "-0.1"}) as bus:
        result = read_drives(line, {1: bus.link})
    assert result.entry(1, "slow-up").value == 2.5
    assert result.entry(1, "trim").value == pytest.approx(-0.001)
    assert result.entry(1, "source").shown == "0"


def test_a_value_that_the_list_does_not_allow_is_refused_and_shown():
    line = many(1)
    with simulated(line, {(1, "source"): "3", (1, "top"): "400.1"}) as bus:
        result = read_drives(line, {1: bus.link})
    top, source = result.entry(1, "top"), result.entry(1, "source")
    assert (top.state, top.shown, top.value) == ("refused", "400.1", None)
    assert "above the listed 400 Hz" in top.reason
    assert (source.state, source.shown) == ("refused", "3")
    assert "none of its choices" in source.reason


def test_a_floating_point_that_is_no_number_is_refused_with_its_words():
    line = many(1)
    drive = drive_of(line, line.stations[0])
    drive.holding |= {300: 0x7FC0, 301: 0}
    with SerialBus([drive]) as bus:
        entry = read_drives(line, {1: bus.link}).entry(1, "gain")
    assert (entry.state, entry.shown) == ("refused", "7FC0 0000")
    assert "no number" in entry.reason


@pytest.mark.parametrize("protocol", PROTOCOLS)
def test_a_register_that_a_drive_does_not_have_is_not_read_and_its_neighbours_are(protocol):
    line = many(1, protocol)
    drive = drive_of(line, line.stations[0])
    del drive.holding[101]
    with BUSES[protocol]([drive]) as bus:
        result = read_drives(line, {1: bus.link})
    missing = result.entry(1, "slow-up")
    assert (missing.state, missing.shown) == ("not_read", "")
    assert "no such register (code 2)" in missing.reason
    assert result.counts == {"read": 7, "not_read": 2}


def test_drives_with_a_network_address_of_their_own():
    line = many(2, "modbus_tcp")
    one, other = (TcpBus([drive_of(line, s, turned(line, 3))]) for s in line.stations)
    with one, other:
        result = read_drives(line, {1: {1: one.link, 2: other.link}})
        assert result.counts["read"] == 16
        alone = read_drives(line, {1: {2: other.link}})
    assert {entry.reason for entry in alone.of_station(1)} >= {reading.NO_LINK}
    assert [e.state for e in alone.of_station(2)].count("read") == 8


def test_progress_tells_each_drive_before_and_after():
    line, told = many(3), []
    with simulated(line) as bus:
        result = read_drives(line, {1: bus.link}, progress=told.append)
    assert [(one.tag, one.done, one.total, bool(one.entries)) for one in told] == [
        ("S01", 0, 3, False), ("S01", 1, 3, True),
        ("S02", 1, 3, False), ("S02", 2, 3, True),
        ("S03", 2, 3, False), ("S03", 3, 3, True),
    ]  # fmt: skip
    assert tuple(entry for one in told for entry in one.entries) == result.entries


# --- one fault at a time --------------------------------------------------------------------------

REASONS = {
    "silence": {faults.SILENT},
    "bad checksum": {faults.SPOILED, faults.NOISE, faults.SILENT},
    "garbage": {faults.NOISE, faults.SPOILED, faults.SILENT, faults.LATE},
    "half a reply": {faults.CUT},
}


@pytest.mark.parametrize("protocol", PROTOCOLS)
@pytest.mark.parametrize("fault", sorted(FAULTS))
def test_a_drive_with_a_fault_takes_no_other_along(protocol, fault):
    line = many(3, protocol)
    spoiler = Faults(always={2: fault}, slow_s=0.1)
    with simulated(line, turned(line, 5), spoiler) as bus:
        result = read_drives(line, {1: bus.link}, patience=QUICK)
        assert_nothing_false(result, line, bus)
    assert spoiler.done[fault] > 0
    for sound in (1, 3):
        assert [e.state for e in result.of_station(sound)].count("read") == len(ON_BUS)
    spoiled = [entry for entry in result.of_station(2) if entry.code != "by hand"]
    if fault in REASONS:
        assert {entry.state for entry in spoiled} == {"not_read"}
        assert {entry.reason for entry in spoiled} & REASONS[fault]
    if fault == "wrong id":
        assert all("replied instead of 2" in entry.reason for entry in spoiled)
    if fault == "noise before" and protocol == "modbus_tcp":
        assert {entry.state for entry in spoiled} == {"not_read"}


@pytest.mark.parametrize("protocol", PROTOCOLS)
@pytest.mark.parametrize(("attempts", "state"), [(1, "not_read"), (6, "read")])
def test_a_slow_drive_is_read_by_whoever_is_patient(protocol, attempts, state):
    line = many(2, protocol)
    with simulated(line, turned(line, 6), Faults(always={2: "slow"}, slow_s=0.1)) as bus:
        patience = Patience(reply_s=0.06, attempts=attempts, quiet_s=0.15)
        result = read_drives(line, {1: bus.link}, patience=patience)
        assert_nothing_false(result, line, bus)
    for one, states in ((1, {"read"}), (2, {state})):
        assert {e.state for e in result.of_station(one) if e.code != "by hand"} == states


def test_half_the_line_without_power_leaves_the_other_half_read():
    line = many(12)
    off = Faults(always=dict.fromkeys(range(2, 13, 2), "silence"))
    with simulated(line, turned(line, 8), off) as bus:
        result = read_drives(line, {1: bus.link}, patience=QUICK)
        assert_nothing_false(result, line, bus)
    for one in line.stations:
        states = Counter(entry.state for entry in result.of_station(one.id))
        assert states["read"] == (0 if one.id % 2 == 0 else len(ON_BUS))
    # A drive that is off costs few questions: three waits, and one to see that nobody is there.
    asked = Counter(frame[0] for frame in bus.requests)
    assert {asked[address] for address in range(2, 13, 2)} == {4}


# --- five hundred faults --------------------------------------------------------------------------


@pytest.mark.parametrize(("protocol", "first_seed"), [("modbus_rtu", 100), ("modbus_tcp", 200)])
def test_hundreds_of_mixed_faults_make_nothing_false_and_nothing_hang(protocol, first_seed):
    line, done, states, began = many(16, protocol), Counter(), Counter(), time.monotonic()
    for seed in range(first_seed, first_seed + 100):
        spoiler = Faults(share=0.35, seed=seed, always={3: "silence", 9: "wrong id"}, slow_s=0.05)
        with simulated(line, turned(line, seed), spoiler) as bus:
            patience = dataclasses.replace(QUICK, reply_s=0.025, quiet_s=0.004)
            result = read_drives(line, {1: bus.link}, patience=patience)
            assert_nothing_false(result, line, bus)
        done += spoiler.done
        states += result.counts
        if done.total() >= 260:
            break
    assert done.total() >= 260
    assert set(done) == set(FAULTS)
    # Neither the one nor the other is an empty claim.
    assert states["read"] > 100
    assert states["not_read"] > 100
    assert time.monotonic() - began < 100.0


# --- stopping -------------------------------------------------------------------------------------


def stopped_after(seconds, line, links, **more):
    """The result of a reading that is stopped, and how long it took to end after that."""
    stop, at = threading.Event(), []

    def give_up():
        at.append(time.monotonic())
        stop.set()

    timer = threading.Timer(seconds, give_up)
    timer.start()
    result = read_drives(line, links, stop=stop, **more)
    ended = time.monotonic()
    timer.join()
    return result, ended - at[0]


@pytest.mark.parametrize("protocol", PROTOCOLS)
@pytest.mark.parametrize("fault", ["silence", "slow", "garbage"])
def test_a_stop_is_obeyed_within_a_second_and_keeps_what_was_read(protocol, fault):
    line = many(8, protocol)
    spoiler = Faults(always=dict.fromkeys(range(2, 9), fault), slow_s=0.4)
    with simulated(line, turned(line, 4), spoiler) as bus:
        patient = Patience(reply_s=20.0, attempts=5, quiet_s=20.0)
        result, took_s = stopped_after(0.4, line, {1: bus.link}, patience=patient)
        assert took_s < LATEST_STOP_S
        assert_nothing_false(result, line, bus)
    assert [entry.state for entry in result.of_station(1)].count("read") == len(ON_BUS)
    assert {entry.reason for entry in result.of_station(8)} == {faults.STOPPED}


def test_a_stop_is_obeyed_while_a_connection_hangs(monkeypatch):
    from core.readback import wire

    released = threading.Event()
    monkeypatch.setattr(wire.TcpWire, "connect", lambda _: released.wait(30.0))
    line = many(3, "modbus_tcp")
    result, took_s = stopped_after(0.2, line, {1: TcpLink("192.0.2.1")})
    released.set()
    assert took_s < LATEST_STOP_S
    assert {entry.reason for entry in on_bus(result)} == {faults.STOPPED}


def test_a_stop_before_the_start_asks_nobody():
    line, stop = many(2), threading.Event()
    stop.set()
    with simulated(line) as bus:
        result = read_drives(line, {1: bus.link}, stop=stop)
        assert bus.requests == []
    assert {entry.reason for entry in result.entries} == {faults.STOPPED}


# --- no way to the drives -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("protocol", "link", "words"),
    [
        ("modbus_rtu", RtuLink("/dev/there-is-none", 9600, "none"), "was not opened"),
        ("modbus_tcp", TcpLink("127.0.0.1", 1), "was not reached"),
        ("modbus_tcp", TcpLink("x" * 300), "was not reached"),
    ],
)
def test_a_link_that_does_not_open_is_told_at_every_setting_and_tried_once(
    protocol, link, words, monkeypatch
):
    tried = []
    real = ReadOnlyClient._connects
    monkeypatch.setattr(
        ReadOnlyClient, "_connects", lambda self, made: tried.append(1) or real(self, made)
    )
    result = read_drives(many(5, protocol), {1: link})
    assert result.counts == {"not_read": 45}
    assert all(words in entry.reason for entry in on_bus(result))
    assert tried == [1]


def test_an_adapter_pulled_out_on_the_way_leaves_the_rest_unread():
    line = many(6)
    with simulated(line, turned(line, 2)) as bus:

        def pull(progress):
            if progress.done == 3 and progress.entries:
                bus.unplug()

        result = read_drives(line, {1: bus.link}, progress=pull, patience=QUICK)
        assert_nothing_false(result, line, bus)
    assert result.counts["read"] == 3 * len(ON_BUS)
    assert "was not opened" in result.entry(6, "top").reason


def test_a_server_that_goes_away_leaves_the_rest_unread():
    line = many(4, "modbus_tcp")
    bus = simulated(line, turned(line, 2))

    def end(progress):
        if progress.done == 2 and progress.entries:
            bus.__exit__()

    bus.__enter__()
    result = read_drives(line, {1: bus.link}, progress=end, patience=QUICK)
    assert_nothing_false(result, line, bus)
    assert result.counts["read"] == 2 * len(ON_BUS)
    assert "was not reached" in result.entry(4, "top").reason


@pytest.mark.parametrize(
    ("line", "links", "reason"),
    [
        (line_of(station(1, bus_id=None)), {}, reading.NO_BUS),
        (line_of(station(1, bus_address=None)), {1: TcpLink("h")}, reading.NO_ADDRESS),
        (line_of(station(1)), {}, reading.NO_LINK),
        (line_of(station(1), protocol="other"), {1: TcpLink("h")}, reading.OTHER_PROTOCOL),
        (line_of(station(1)), {1: TcpLink("h", 5)}, "h:5 is no connection to a bus of its protoc"),
    ],
)
def test_a_drive_that_cannot_be_asked_says_why(line, links, reason):
    result = read_drives(line, links)
    assert len(result.entries) == len(LISTED)
    assert all(entry.reason.startswith(reason) for entry in on_bus(result))


def test_two_stations_at_one_address_are_not_asked():
    line = line_of(station(1), station(2, bus_address=1), station(3), station(4, bus_address=1))
    with SerialBus([drive_of(line, line.stations[0]), drive_of(line, line.stations[2])]) as bus:
        result = read_drives(line, {1: bus.link})
    reasons = {e.reason for e in on_bus(result) if e.station_id != 3}
    assert reasons == {"Address 1 is entered at S01, S02 and S04: which of them replies?"}
    assert [entry.state for entry in result.of_station(3)].count("read") == len(ON_BUS)
    assert {frame[0] for frame in bus.requests} == {3}


def test_settings_outside_of_the_list_and_a_list_in_error_are_told():
    wrong = ListedSetting(20, "wrong", register=65535, register_form="u32")
    kind = dataclasses.replace(KIND, listed_settings=(LISTED[0], wrong))
    line = line_of(station(1, ("own", "3")), Station(2, "S02"), drive_types=(kind,))
    with SerialBus([drive_of(line_of(station(1)), station(1))]) as bus:
        result = read_drives(line, {1: bus.link})
    assert result.entry(1, "top").state == "read"
    assert result.entry(1, "own").reason == NOT_LISTED
    assert "65535 is the last" in result.entry(1, "wrong").reason
    assert result.without_list == (2,)


# --- links ----------------------------------------------------------------------------------------

RTU = Bus(1, "field bus", "modbus_rtu", speed_bd=9600, parity="none")


def test_the_link_to_a_bus_takes_speed_and_parity_from_the_line():
    assert link_to(RTU, " COM5 ", stop_bits=1) == RtuLink("COM5", 9600, "none", 1)
    assert link_to(Bus(1, "net", "modbus_tcp"), "192.0.2.7:1502") == TcpLink("192.0.2.7", 1502)


@pytest.mark.parametrize(
    ("bus", "where", "why"),
    [
        (dataclasses.replace(RTU, speed_bd=None), "COM5", "speed or its parity"),
        (dataclasses.replace(RTU, parity=None), "COM5", "speed or its parity"),
        (RTU, "  ", "No port was named"),
        (Bus(1, "x", "other"), "COM5", "neither Modbus RTU nor"),
        (Bus(1, "x"), "COM5", "neither Modbus RTU nor"),
        (Bus(1, "x", "modbus_tcp"), "", "is no host"),
        (Bus(1, "x", "modbus_tcp"), "host:99999", "is no host"),
        (Bus(1, "x", "modbus_tcp"), "host/path", "is no host"),
    ],
)
def test_a_link_that_cannot_be_is_refused(bus, where, why):
    with pytest.raises(InputError, match=why):
        link_to(bus, where)
