"""Reading over the buses in the window: live, told drive by drive, stopped within a second."""

import time

import pytest
from PySide6.QtCore import Qt, QTimer

from app.bus_rows import BusModel, outcome
from app.session import Session
from core.model import RECORDS
from core.readback import survey
from core.readback.results import Entry
from core.store import LineFile, actions
from tests.app.keyboard import focused, press, type_text
from tests.app.present_book import open_view, texts
from tests.core.readback.lines import CHOICES, LISTED
from tests.simulated_drives import Faults, SerialBus, TcpBus, drive_of

# Of the nine settings in the list, "by hand" has no register.
ON_BUS = len(LISTED) - 1
FIELDS = RECORDS["listed_setting"].fields


def make_book(path, count, protocol="modbus_tcp", **bus):
    """Stations on one bus, and one more that is on none."""
    book = LineFile.create(path, name="Test line")
    with book.step("Prepare") as step:
        talk = {"speed_bd": 115200, "parity": "even"} | bus
        bus_id = step.add("bus", name="field bus", protocol=protocol, **talk)
        kind = step.add("drive_type", name="small drive")
        for listed in LISTED:
            fields = {spec.name: getattr(listed, spec.name) for spec in FIELDS}
            step.add("listed_setting", kind, **fields)
        for number in range(1, count + 2):
            step.add("station", tag=f"S{number:02d}")
    with book.step("Choose drives") as step:
        for number, held in enumerate(book.line.stations, start=1):
            step.set("drive", held.drive.id, drive_type_id=kind)
            if number <= count:
                step.set("drive", held.drive.id, bus_id=bus_id, bus_address=number)
    return book


@pytest.fixture
def opened(tmp_path, qtbot):
    """Gives a view over a line; closes its file at the end."""
    sessions = []

    def open_line(count, protocol="modbus_tcp", **bus):
        session = Session()
        session.take(make_book(tmp_path / f"{len(sessions)}.linebook", count, protocol, **bus))
        sessions.append(session)
        view = open_view(session, qtbot)
        view.show_way("bus")
        return view

    yield open_line
    for session in sessions:
        session.close()


def drives_of(line, numbers):
    shown = {(number, "top"): CHOICES["top"][2] for number in numbers}
    return [drive_of(line, line.stations[number - 1], shown) for number in numbers]


def where(link):
    return f"{link.host}:{link.port}" if hasattr(link, "host") else link.port


def start(view, link):
    field = next(iter(view.bus.fields.ports.values())).input
    field.setFocus()
    field.selectAll()
    type_text(where(link))
    view.bus.start_button.setFocus()
    press(Qt.Key.Key_Space)


def readings(view):
    return [f"{row.state}: {row.words}" for row in view.bus.model.rows]


def over(view):
    return not view.bus.reading.is_on and view.bus.result is not None


def test_the_model_is_sound(opened, qtmodeltester):
    model = BusModel()
    model.show_reaches(survey(opened(3).session.line))
    qtmodeltester.check(model)


def test_what_can_be_asked_is_told_before_anything_is(opened):
    view = opened(2, "modbus_rtu", port="COM7")
    [field] = view.bus.fields.ports.values()
    assert field.input.text() == "COM7"
    assert field.name.text() == ("field bus: Modbus RTU, 115200 Bd, parity even\nS01 (1), S02 (2)")
    assert readings(view) == [
        "idle: 8 of 9 settings have a register",
        "idle: 8 of 9 settings have a register",
        "cannot: cannot be asked. Its drive is on no bus.",
    ]
    told = view.bus.told.text()
    assert told == (
        "2 of 3 drives can be asked. ○ Not over a bus: S03. "
        "◐ Some settings without a register: S01, S02."
    )
    assert focused() is view.bus.start_button


@pytest.mark.parametrize(("kind", "protocol"), [(TcpBus, "modbus_tcp"), (SerialBus, "modbus_rtu")])
def test_every_drive_is_told_and_the_rest_says_why(opened, qtbot, kind, protocol):
    view = opened(3, protocol)
    line = view.session.line
    seen = []
    view.bus.reading.progressed.connect(lambda progress: seen.append(progress.tag))
    with kind(drives_of(line, (1, 2, 3))) as bus:
        start(view, bus.link)
        assert focused() is view.bus.stop_button
        qtbot.waitUntil(lambda: over(view), timeout=20_000)
    assert seen == [tag for tag in ("S01", "S02", "S03", "S04") for _ in range(2)]
    no_register = "The list of its drive type names no register for it."
    assert readings(view) == [
        *[f"part: read 8 of 9. 1 not read: {no_register}"] * 3,
        "none: not read: Its drive is on no bus.",
    ]
    assert view.result.head.text().startswith("Found over the buses on ")
    # Three drives with eight registers; their ninth setting and all nine of S04 were not read.
    assert view.result.counts.text() == "≠ 3 differ · ✓ 21 read · ○ 12 not read · ✗ 0 refused"
    assert texts(view, "Found")[0] == "87.5 Hz"
    assert "S04" in texts(view, "Station")
    assert focused() is view.bus.start_button


def test_half_the_line_off_is_not_read(opened, qtbot):
    view = opened(4)
    line = view.session.line
    with TcpBus(drives_of(line, (1, 3))) as bus:
        view.bus.fields.reply.setText("0.05 s")
        view.bus.fields.attempts.setText("2")
        start(view, bus.link)
        qtbot.waitUntil(lambda: over(view), timeout=20_000)
    states = [row.state for row in view.bus.model.rows]
    assert states == ["part", "none", "part", "none", "none"]
    assert readings(view)[1] == "none: not read: No reply came."
    present = view.bus.result
    assert {entry.state for entry in present.of_station(2)} == {"not_read"}
    assert present.counts["read"] == 2 * ON_BUS


class Pulse:
    """How long the window's thread was kept from its events, at the longest."""

    def __init__(self):
        self.longest, self.beats, self._last = 0.0, 0, time.monotonic()
        self.timer = QTimer(interval=5)
        self.timer.timeout.connect(self._beat)
        self.timer.start()

    def _beat(self):
        now = time.monotonic()
        self.longest, self.beats = max(self.longest, now - self._last), self.beats + 1
        self._last = now


@pytest.mark.parametrize("kind", [TcpBus, SerialBus])
def test_it_stops_within_a_second_and_the_window_stays_alive(opened, qtbot, kind):
    protocol = "modbus_tcp" if kind is TcpBus else "modbus_rtu"
    view = opened(12, protocol)
    line = view.session.line
    silent = Faults(always=dict.fromkeys(range(2, 13), "silence"))
    with kind(drives_of(line, range(1, 13)), silent) as bus:
        view.bus.fields.reply.setText("5 s")  # it waits long for each drive that is off
        start(view, bus.link)
        qtbot.waitUntil(lambda: view.bus.model.rows[1].state == "asking", timeout=10_000)
        pulse = Pulse()
        qtbot.wait(400)
        asked = time.monotonic()
        press(Qt.Key.Key_Space)  # the focus stands on the button that stops
        qtbot.waitUntil(lambda: over(view), timeout=10_000)
        took = time.monotonic() - asked
        pulse.timer.stop()
    print(f"stopped after {took:.3f} s; longest pause of the window {pulse.longest:.3f} s")
    assert took < 1.0
    assert pulse.beats > 20
    assert pulse.longest < 0.1
    present = view.bus.result
    # What was read before the stop is kept; nothing else counts as read.
    assert present.entry(1, "top").shown == "87.5"
    assert {entry.state for entry in present.of_station(12)} == {"not_read"}
    assert "The reading was stopped." in texts(view, "Reason")
    assert view.bus.start_button.isEnabled()


def test_closing_the_file_ends_a_reading_and_tells_nothing_more(opened, qtbot):
    view = opened(6)
    line = view.session.line
    with TcpBus(drives_of(line, (1,))) as bus:
        view.bus.fields.reply.setText("5 s")
        start(view, bus.link)
        qtbot.waitUntil(lambda: view.bus.model.rows[1].state == "asking", timeout=10_000)
        began = time.monotonic()
        with qtbot.waitSignal(view.bus.reading.ended, timeout=5000):
            view.session.close()
        assert time.monotonic() - began < 1.0
    assert view.bus.result is None
    assert view.result.head.text() == "Nothing was read yet."


def test_a_trial_ends_a_reading_and_what_was_read_stands_after_it(opened, qtbot):
    view = opened(6)
    line = view.session.line
    with TcpBus(drives_of(line, (1,))) as bus:
        view.bus.fields.reply.setText("5 s")
        start(view, bus.link)
        qtbot.waitUntil(lambda: view.bus.model.rows[1].state == "asking", timeout=10_000)
        view.session.begin_trial()
        qtbot.waitUntil(lambda: over(view), timeout=5000)
        view.session.end_trial()
    assert view.result.counts.text().startswith(f"≠ 1 differ · ✓ {ON_BUS - 1} read")


def test_the_line_may_change_while_its_drives_are_asked(opened, qtbot):
    view = opened(3)
    line = view.session.line
    with TcpBus(drives_of(line, (1,))) as bus:
        view.bus.fields.reply.setText("0.3 s")
        view.bus.fields.attempts.setText("1")
        start(view, bus.link)
        qtbot.waitUntil(lambda: view.bus.model.rows[1].state == "asking", timeout=10_000)
        view.session.do(actions.remove_station, 4)
        qtbot.waitUntil(lambda: over(view), timeout=10_000)
    assert set(texts(view, "Station")) == {"S01", "S02", "S03"}
    assert [row.tag for row in view.bus.model.rows] == ["S01", "S02", "S03"]


def test_a_port_that_is_not_there_is_the_reason_of_every_setting(opened, qtbot):
    view = opened(2, "modbus_rtu")
    [field] = view.bus.fields.ports.values()
    field.input.setText("/dev/no-such-port")
    view.bus.start()
    qtbot.waitUntil(lambda: over(view), timeout=10_000)
    assert "The port /dev/no-such-port was not opened" in readings(view)[0]
    assert view.bus.result.counts["read"] == 0
    assert not view.freeze.freeze_button.isEnabled()


def test_each_drive_of_a_network_may_have_a_host_of_its_own(opened, qtbot):
    view = opened(2)
    line = view.session.line
    with TcpBus(drives_of(line, (1,))) as one, TcpBus(drives_of(line, (2,))) as other:
        [field] = view.bus.fields.ports.values()
        field.input.setText(f"1 = {where(one.link)}; 2 = {where(other.link)}")
        view.bus.start()
        qtbot.waitUntil(lambda: over(view), timeout=10_000)
    assert view.bus.result.counts["read"] == 2 * ON_BUS


def test_what_cannot_be_used_is_told_beside_its_field_and_nothing_begins(opened):
    view = opened(2)
    [field] = view.bus.fields.ports.values()
    field.input.setText("1 = 192.0.2.1; 1 = 192.0.2.2")
    view.bus.start()
    assert "bus address of its own" in field.refusal.text()
    assert not view.bus.reading.is_on
    field.input.setText("192.0.2.1")
    view.bus.fields.attempts.setText("many")
    view.bus.start()
    assert not view.bus.reading.is_on
    assert "'many'" in view.bus.fields.refusal.text()
    field.input.setText("")
    view.bus.fields.attempts.setText("3")
    view.bus.start()
    assert "Enter where a bus is plugged in first." in view.bus.told.text()
    assert focused() is field.input


def test_a_line_without_a_bus_says_what_to_do(opened):
    view = opened(0)
    view.session.do(actions.remove_record, "bus", view.session.line.buses[0].id)
    assert "The line has no bus" in view.bus.told.text()
    assert not view.bus.start_button.isEnabled()


def test_what_is_typed_for_this_computer_outlives_a_change_of_the_line(opened):
    view = opened(0)
    [field] = view.bus.fields.ports.values()
    field.input.setText("192.0.2.9")
    view.session.do(actions.set_fields, "bus", 1, port="192.0.2.1")
    assert field.input.text() == "192.0.2.9"
    view.session.do(actions.remove_record, "bus", 1)
    assert not view.bus.fields.ports


def test_a_bus_without_speed_is_refused_before_anything_is_asked(opened):
    view = opened(1, "modbus_rtu", speed_bd=None, parity=None)
    [field] = view.bus.fields.ports.values()
    assert "speed not entered, parity not entered" in field.name.text()
    field.input.setText("COM5")
    view.bus.start()
    assert "speed or its parity is not entered" in field.refusal.text()


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ((Entry(1, "a", "read", "1"),), ("read", "read 1 of 1")),
        (
            (Entry(1, "a", "read", "1"), Entry(1, "b", "not_read", "", "No.")),
            ("part", "read 1 of 2. 1 not read: No."),
        ),
        (
            (Entry(1, "a", "refused", "9", "High."), Entry(1, "b", "not_read", "", "No.")),
            ("part", "read 0 of 2. 1 refused. 1 not read: No."),
        ),
        ((Entry(1, "a", "not_read", "", "No."),), ("none", "not read: No.")),
        ((), ("none", "not read: It has no settings.")),
    ],
)
def test_the_outcome_of_a_drive_in_few_words(entries, expected):
    assert outcome(entries) == expected
