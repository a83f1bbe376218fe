"""Stations held at a ratio: as set, as planned, and whether it can be held."""

import dataclasses

import pytest

from core.model import Pair, SpeedReference
from tests.core.line import builders, fruit
from tests.core.line.findings.sound import STATION, TYPE, fires, line, numbered, quiet, settings
from tests.core.line.fruit import M_S_PER_HZ, at, pair

PAIR = (Pair(1, "brushes", 1, 2),)


def knob(held):
    """A station told by a knob, which a hand sets to ± 1 % of 60 Hz."""
    told = SpeedReference(held.id, "potentiometer", input_name="V in", pot_ohm=10e3)
    return dataclasses.replace(held, reference=told)


def following(**pair_fields):
    """The first belt follows the second, which is planned at 40 Hz; both by knobs."""
    first = at(1, wanted="pair")
    second = at(2, wanted="surface", wanted_m_s=40.0 * M_S_PER_HZ)
    return fruit.line(knob(first), knob(second), pairs=(pair(name="belts", **pair_fields),))


def setting(first_hz, second_hz, **pair_fields):
    stations = at(1, hz=first_hz), at(2, hz=second_hz)
    return fruit.line(*stations, pairs=(pair(name="belts", **pair_fields),))


def test_pair_not_as_wanted_fires():
    # 42 and 40 Hz: 2 / 41 = 4.878 %
    entry = fires("pair-not-as-wanted", setting(42, 40, wanted_differential=0.02, tolerance=0.02))
    assert entry.values["now_share"] == pytest.approx(2 / 41)
    assert "Pair belts: as set now, ST1 and ST2 differ by 4.878 %; wanted is 2 % ± 2 %." in (
        entry.says("metric")
    )
    assert (entry.place.table, entry.tag) == ("pair", "ST1")


def test_pair_not_as_wanted_quiet():
    # 41 and 40 Hz: 1 / 40.5 = 2.469 %
    quiet("pair-not-as-wanted", setting(41, 40, wanted_differential=0.02, tolerance=0.02))
    quiet("pair-not-as-wanted", setting(42, 40, wanted_differential=0.02))
    quiet("pair-not-as-wanted", setting(42, 40, tolerance=0.02))


def test_pair_cannot_hold_fires():
    # Two knobs of ± 0.6 Hz at about 40 Hz: 1.21 % standard uncertainty (test_pairs).
    entry = fires("pair-cannot-hold", following(wanted_differential=0.03, tolerance=0.01))
    assert "3 % ± 1 %, but their wiring holds it to ± 2.413 % only (k = 2)" in entry.says("metric")
    assert "most of it is setting" in entry.says("metric")
    assert "a chance of 40.7 %, and changes sign with a chance of 0.6 %" in entry.follows("metric")
    assert "one signal for both, with the ratio set in the drives (± 0.02 %, in its band)" in (
        entry.mend("metric")
    )
    assert "the span of both references narrowed" in entry.mend("metric")
    assert "hertz over a bus or at the keypad (± 0.02 %, in its band)" in entry.mend("metric")


def test_pair_cannot_hold_a_band_that_no_wire_holds():
    entry = fires("pair-cannot-hold", following(wanted_differential=0.03, tolerance=0.0001))
    assert "still not in it" in entry.mend("metric")


def test_pair_cannot_hold_for_slip_asks_for_compensation():
    held = following(wanted_differential=0.03, tolerance=0.005)
    stations = tuple(
        dataclasses.replace(
            entry,
            reference=SpeedReference(entry.id, "bus"),
            drivetrain=dataclasses.replace(entry.drivetrain, load_fraction=0.6, load_swing=0.5),
        )
        for entry in held.stations
    )
    entry = fires("pair-cannot-hold", dataclasses.replace(held, stations=stations))
    assert "slip compensation in both drives" in entry.mend("metric")
    assert "a larger differential, or a wider band" in entry.mend("metric")


def test_pair_cannot_hold_quiet():
    quiet("pair-cannot-hold", following(wanted_differential=0.16, tolerance=0.04))
    quiet("pair-cannot-hold", following(wanted_differential=0.03))


def test_pair_may_turn_round_fires():
    # No band; 3 % is 2.486 u: 0.6 %.
    entry = fires("pair-may-turn-round", following(wanted_differential=0.03))
    assert "the planned differential of 3 % is not sure of its sign (± 2.413 %, k = 2)" in (
        entry.says("metric")
    )
    assert "With a chance of 0.6 %" in entry.follows("metric")
    # Without a band nothing can be in it.
    assert "band" not in entry.mend("metric")
    assert "sure of its sign" in entry.mend("metric")


def test_pair_may_turn_round_quiet():
    # 5 % is 4.1 u.
    quiet("pair-may-turn-round", following(wanted_differential=0.05))
    quiet("pair-may-turn-round", following(wanted_differential=0.03, tolerance=0.01))
    quiet("pair-may-turn-round", following(wanted_differential=0.0))


def planned(first_hz, second_hz, **pair_fields):
    stations = [
        at(number, wanted="frequency", wanted_hz=hertz)
        for number, hertz in ((1, first_hz), (2, second_hz))
    ]
    return fruit.line(*stations, pairs=(pair(name="belts", **pair_fields),))


def test_pair_planned_otherwise_fires():
    entry = fires(
        "pair-planned-otherwise", planned(42, 40, wanted_differential=0.02, tolerance=0.02)
    )
    assert entry.values["planned_share"] == pytest.approx(2 / 41)


def test_pair_planned_otherwise_quiet():
    quiet("pair-planned-otherwise", planned(41, 40, wanted_differential=0.02, tolerance=0.02))
    quiet("pair-planned-otherwise", planned(42, 40, wanted_differential=0.02))
    quiet("pair-planned-otherwise", following(wanted_differential=0.16, tolerance=0.04))


def tied(first_top_hz):
    """Both belts by one knob; the top of its range at the first as given, 60 Hz at the second."""
    held = following(wanted_differential=0.05, tolerance=0.02, one_signal=True)
    ends = builders.settings(hz_max=70, hz_min=0, ref_low=0, ref_high=first_top_hz, ref_range=0)
    first = held.stations[0]
    first = dataclasses.replace(first, drive=dataclasses.replace(first.drive, settings=ends))
    return dataclasses.replace(held, stations=(first, *held.stations[1:]))


def test_pair_one_signal_fires():
    # 40 · 1.025 / 0.975 = 42.05 Hz and 40 Hz of 60 Hz each: the knob would stand at two places.
    entry = fires("pair-one-signal", tied(60.0))
    # A knob of 10 kΩ into 100 kΩ sags, so it stands somewhat higher than the hertz say.
    assert entry.values["first_share"] - entry.values["second_share"] == pytest.approx(
        2.05 / 60, abs=0.005
    )
    assert entry.place.field == "one_signal"


def test_pair_one_signal_quiet():
    # 60 · 1.025 / 0.975: the ratio is set in the drives.
    quiet("pair-one-signal", tied(60.0 * 1.025 / 0.975))
    quiet("pair-one-signal", following(wanted_differential=0.05, tolerance=0.02))


def test_pair_unlike_fires():
    other = dataclasses.replace(TYPE, id=2, name="S 2")
    held = line(numbered(1), numbered(2, drive={"drive_type_id": 2}), pairs=PAIR)
    entry = fires("pair-unlike", dataclasses.replace(held, drive_types=(TYPE, other)))
    assert "Pair brushes: ST1 and ST2 differ in drive type." in entry.says("metric")
    spans = numbered(2, drive={"settings": settings(place=2, high=60)})
    entry = fires("pair-unlike", line(numbered(1), spans, pairs=PAIR))
    assert "differ in frequencies at the ends of the reference" in entry.says("metric")
    top = numbered(2, drive={"settings": settings(place=2, hz_max=45)})
    assert "maximum frequency" in fires("pair-unlike", line(numbered(1), top, pairs=PAIR)).says(
        "us"
    )


HELD = (dataclasses.replace(PAIR[0], wanted_differential=0.0, tolerance=0.05),)
"""The same pair with a band that its signals of ± 0.5 % hold."""


def test_pair_unlike_of_a_pair_that_is_shown_to_hold():
    # The drive type does no harm then; a span that gives another speed now still does.
    other = dataclasses.replace(TYPE, id=2, name="S 2")
    held = line(numbered(1), numbered(2, drive={"drive_type_id": 2}), pairs=HELD)
    quiet("pair-unlike", dataclasses.replace(held, drive_types=(TYPE, other)))
    spans = numbered(2, drive={"settings": settings(place=2, high=60, hz_max=60)})
    entry = fires("pair-unlike", line(numbered(1), spans, pairs=HELD))
    assert "frequencies at the ends of the reference, maximum frequency" in entry.says("metric")
    # Both as planned at 40 Hz, 40 of 60 Hz at 4 + 16 · 2/3 mA: unlike ends serve as well.
    set_right = dataclasses.replace(
        spans, reference=dataclasses.replace(spans.reference, now_a=0.004 + 0.016 * 2 / 3)
    )
    quiet("pair-unlike", line(numbered(1), set_right, pairs=HELD))


def test_pair_unlike_quiet():
    quiet("pair-unlike", line(numbered(1), numbered(2), pairs=PAIR))
    quiet("pair-unlike", line(STATION, pairs=PAIR))
