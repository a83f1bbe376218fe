"""Ramps against what motor, drive and bus can do."""

import pytest

from tests.core.line.findings.sound import change, fires, keyed, line, quiet

# J = 0.0018 + 8 / 20² = 0.0218 kg·m². At 50 Hz and half load: 1500 - 0.5 * 60 = 1470 rpm
# = 153.94 rad/s. M_N = 750 / (1440 rpm = 150.80 rad/s) = 4.9736 N·m; load 0.5 M_N = 2.4868 N·m.
HEAVY = {"inertia_kg_m2": 8.0}


def test_deceleration_too_short_fires():
    # Bus: 325.27 V; ½ * 820 µF * (400² - 325.27²) = 22.22 J. Bus energy on a ramp t:
    # ½ (Jω/t - M_L) ω t = ½ Jω² - ½ M_L ω t = 258.31 - 191.41 t: 22.22 J at t = 1.2334 s.
    entry = fires("deceleration-too-short", line(change(keyed(down=1), drivetrain=HEAVY)))
    assert entry.values["shortest_s"] == pytest.approx(1.233, abs=0.002)
    assert "Setting down stops the load in 1 s" in entry.says("metric")


def test_deceleration_too_short_quiet():
    quiet("deceleration-too-short", line(change(keyed(down=1.3), drivetrain=HEAVY)))
    resistor = {"brake_resistor": True}
    quiet("deceleration-too-short", line(change(keyed(down=1), drivetrain=HEAVY, drive=resistor)))
    # Coasting brakes nothing.
    quiet("deceleration-too-short", line(change(keyed(down=1, stop=1), drivetrain=HEAVY)))


def test_deceleration_not_judged_fires():
    entry = fires("deceleration-not-judged", line(kind={"bus_capacitance_f": None}))
    assert "S drive lacks bus capacitance." in entry.says("metric")
    both = {"bus_capacitance_f": None, "bus_trip_v": None}
    entry = fires("deceleration-not-judged", line(kind=both))
    assert "lacks bus capacitance and the bus voltage it trips on." in entry.says("metric")


def test_deceleration_not_judged_quiet():
    quiet("deceleration-not-judged", line())
    # Where the load is not known either, it is not the drive type alone that lacks.
    bare = change(drivetrain={"inertia_kg_m2": None})
    quiet("deceleration-not-judged", line(bare, kind={"bus_capacitance_f": None}))


def test_acceleration_too_short_fires():
    # Overload 4.2 * 1.5 / 3.1 = 2.0323; √(2.0323² - (1 - 0.78²)) / 0.78 = 2.4789 M_N.
    # J ω / (M - M_L) = 0.0218 * 153.94 / ((2.4789 - 0.5) * 4.9736) = 0.3410 s
    entry = fires("acceleration-too-short", line(change(keyed(up=0.3), drivetrain=HEAVY)))
    assert entry.values["shortest_s"] == pytest.approx(0.341, abs=0.001)


def test_acceleration_too_short_quiet():
    quiet("acceleration-too-short", line(change(keyed(up=0.35), drivetrain=HEAVY)))


def test_load_does_not_start_fires():
    entry = fires("load-does-not-start", line(change(drivetrain={"load_fraction": 2.6})))
    assert entry.values["given_share"] == pytest.approx(2.4789, abs=0.001)
    assert entry.values["asked_share"] == 2.6


def test_load_does_not_start_quiet():
    quiet("load-does-not-start", line(change(drivetrain={"load_fraction": 2.4})))
    fan = {"load_fraction": 2.6, "load_kind": "quadratic"}
    quiet("load-does-not-start", line(change(drivetrain=fan)))
