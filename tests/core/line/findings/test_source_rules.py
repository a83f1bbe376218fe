"""Potentiometers and loops."""

import dataclasses

import pytest

from tests.core.line.findings.sound import STATION, change, fires, keyed, line, quiet


def pot(ohm, **fields):
    plain = dataclasses.replace(
        STATION.reference, source="potentiometer", input_name="V", pot_ohm=ohm, now_a=None
    )
    return change(keyed(range=0), reference=dataclasses.replace(plain, **fields))


def test_potentiometer_too_low_fires():
    # 10 V / 500 Ω = 20 mA against 10 mA; at least 10 V / 10 mA = 1 kΩ.
    entry = fires("potentiometer-too-low", line(pot(500.0)))
    assert entry.values["drawn_signal_a"] == pytest.approx(0.020)
    assert entry.values["least_ohm"] == pytest.approx(1000.0)
    assert "500 Ω draws 20 mA" in entry.says("metric")


def test_potentiometer_too_low_quiet():
    quiet("potentiometer-too-low", line(pot(1000.0)))


def test_potentiometer_bends_fires():
    # 100 kΩ on 200 kΩ, a ratio of 0.5: 6.673 % at 0.6925 of the track (electrical.md 4.2).
    entry = fires("potentiometer-bends", line(pot(100e3)))
    assert entry.values["bend_share"] == pytest.approx(0.06673, abs=2e-5)
    assert entry.values["better_ohm"] == pytest.approx(27e3)


def test_potentiometer_bends_quiet():
    # 10 kΩ on 200 kΩ: about 4/27 * 0.05 = 0.74 %. The resistance that is advised is quiet itself.
    quiet("potentiometer-bends", line(pot(10e3)))
    quiet("potentiometer-bends", line(pot(27e3)))


def test_potentiometer_taper_fires():
    assert "a log taper" in fires("potentiometer-taper", line(pot(10e3, pot_taper="log"))).says(
        "us"
    )
    entry = fires("potentiometer-taper", line(pot(10e3, pot_taper="reverse_log")))
    assert "a reverse log taper" in entry.says("metric")


def test_potentiometer_taper_quiet():
    quiet("potentiometer-taper", line(pot(10e3, pot_taper="linear")))
    quiet("potentiometer-taper", line(pot(10e3)))


def test_loop_too_short_of_voltage_fires():
    # (16 - 12) V / 20.5 mA = 195 Ω against 250 Ω.
    entry = fires("loop-too-short-of-voltage", line(change(reference={"loop_supply_v": 16.0})))
    assert entry.values["allowed_ohm"] == pytest.approx(195.12, abs=0.01)
    none_left = change(reference={"loop_supply_v": 10.0})
    assert fires("loop-too-short-of-voltage", line(none_left)).values["allowed_ohm"] == 0.0


def test_loop_too_short_of_voltage_quiet():
    # (24 - 12) V / 20.5 mA = 585 Ω (electrical.md 4.4).
    quiet("loop-too-short-of-voltage", line())
