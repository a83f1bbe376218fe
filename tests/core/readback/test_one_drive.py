"""The exchange with one drive: blocks, single reads, giving up, and replies that come too late."""

from collections import deque
from dataclasses import dataclass, field
from threading import Event

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.readback import faults
from core.readback.client import Patience
from core.readback.drive import DriveReader
from core.readback.registers import RegisterForm

FORMS = [RegisterForm(n) for n in (10, 11, 12)] + [RegisterForm(40, "u32"), RegisterForm(60)]
FAR = [RegisterForm(20 * n) for n in range(1, 7)]


@dataclass
class Script:
    """A client whose drive does at each question what the script says, then answers soundly.

    ``now`` answers, ``lost`` never does, ``late`` answers one question too late, ``declined`` and
    ``busy`` refuse at once, ``declined late`` one question too late. As on a serial bus, what
    comes first is taken for the reply, if it is as long as asked.
    """

    script: list[str] = field(default_factory=list)
    missing: frozenset[int] = frozenset()
    silent: bool = False
    patience: Patience = field(default_factory=lambda: Patience(reply_s=0.0))
    stop: Event = field(default_factory=Event)
    asked: list[tuple[int, int]] = field(default_factory=list)
    line: deque[object] = field(default_factory=deque)

    def read_holding_registers(self, first, count, *, device, attempt):
        assert device == 4
        self.asked.append((first, count))
        if self.stop.is_set():
            raise faults.StoppedError
        does = "lost" if self.silent else self.script.pop(0) if self.script else "now"
        words = tuple(range(first, first + count))
        reply = faults.of_exception(2) if self.missing & set(words) else words
        if does.startswith("declined"):
            reply = faults.of_exception(4)
        if does == "busy":
            reply = faults.of_exception(6)
        if does == "lost" or (does.endswith("late") and not self.line):
            self.line.extend([] if does == "lost" else [reply])
            raise faults.UnansweredError(faults.SILENT)
        self.line.append(reply)
        came = self.line.popleft()
        if isinstance(came, Exception):
            raise came
        if len(came) != count:
            raise faults.UnansweredError(faults.LATE)
        return came

    read_input_registers = read_holding_registers


def read(client, forms=FORMS):
    reader = DriveReader(client, 4)
    reader.read(forms)
    assert set(reader.found) == set(forms)
    return reader.found


def right(form):
    return tuple(range(form.register, form.last + 1))


def test_a_sound_drive_is_asked_block_by_block():
    client = Script()
    assert read(client) == {form: right(form) for form in FORMS}
    assert client.asked == [(10, 3), (40, 2), (60, 1)]


def test_a_missing_register_does_not_take_its_neighbours_along():
    client = Script(missing=frozenset({11}))
    found = read(client)
    assert "no such register" in found.pop(RegisterForm(11))
    assert found == {form: right(form) for form in found}
    assert client.asked[:4] == [(10, 3), (10, 1), (11, 1), (12, 1)]


def test_a_block_that_gets_no_reply_is_read_setting_by_setting():
    assert read(Script(["lost"] * 3)) == {form: right(form) for form in FORMS}


def test_a_busy_drive_is_asked_again_and_told_when_it_stays_busy():
    assert read(Script(["busy", "busy"])) == {form: right(form) for form in FORMS}
    assert read(Script(["busy"] * 99), FAR)[FAR[0]] == faults.BUSY


def test_a_drive_that_is_off_is_given_up_soon():
    client = Script(silent=True)
    assert set(read(client).values()) == {faults.SILENT}
    assert len(client.asked) == 4


def test_a_drive_that_falls_silent_is_given_up_and_what_was_read_stays():
    client = Script(["now", "now"] + ["lost"] * 99)
    found = read(client, FAR)
    assert [found[form] for form in FAR[:2]] == [right(form) for form in FAR[:2]]
    assert {found[form] for form in FAR[2:]} == {faults.SILENT}
    assert len(client.asked) == 2 + 3 * 3


def test_a_late_reply_is_not_taken_for_the_next_setting():
    # The second question is lost to its three waits; its reply comes when the third is asked.
    client = Script(["now", "late", "lost", "lost"])
    found = read(client, FAR)
    assert found.pop(FAR[1]) == faults.SILENT
    assert found == {form: right(form) for form in found}
    assert client.asked.count((60, 1)) > 4


def test_a_late_refusal_does_not_shift_the_replies():
    # A refusal of the block comes for the first single register, whose own reply then waits.
    found = read(Script(["lost", "lost", "declined late"]), FORMS[:3])
    for form in FORMS[:3]:
        assert found[form] == right(form) or isinstance(found[form], str)


STEPS = ["now", "now", "now", "lost", "late", "declined", "declined late", "busy"]


@given(st.lists(st.sampled_from(STEPS), max_size=60), st.sampled_from([FORMS, FAR]))
@settings(max_examples=1500, deadline=None)
def test_whatever_is_lost_or_late_nothing_wrong_is_taken_for_read(script, forms):
    found = read(Script(list(script)), forms)
    wrong = {f: w for f, w in found.items() if not isinstance(w, str) and w != right(f)}
    assert wrong == {}


def test_a_stop_leaves_what_was_read():
    client = Script()
    reader = DriveReader(client, 4)
    client.script = ["now", "busy"]
    client.patience = Patience(reply_s=5.0)
    client.stop.wait = lambda _: True  # the user stops while the drive is busy
    with pytest.raises(faults.StoppedError):
        reader.read(FAR)
    assert reader.found == {FAR[0]: right(FAR[0])}
