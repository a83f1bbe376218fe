"""The faults that the notes of the demo lines plant, each on a copy of its sample.

Figures: shared/demo/NOTES.md, worked out elsewhere.
"""

import dataclasses
from pathlib import Path

import pytest

import sample_projects
from core.line import compute_line
from core.line.findings import find
from core.store import LineFile
from tests.core.line.findings.sound import change, check_words

SAMPLES = Path(sample_projects.__file__).parent
FILES = {"A": "quillback_hollow", "B": "lindenmoor"}


@pytest.fixture(scope="module")
def samples():
    return {letter: LineFile.read(SAMPLES / f"{name}.linebook") for letter, name in FILES.items()}


def with_settings(station, **shown):
    """A station with settings as its keypad shows them; all of these are plain numbers in SI."""
    changed = {code.replace("_", "-"): value for code, value in shown.items()}
    entries = tuple(
        dataclasses.replace(entry, shown=f"{changed[entry.code]:g}", value=changed[entry.code])
        if entry.code in changed
        else entry
        for entry in station.drive.settings
    )
    assert set(changed) <= {entry.code for entry in entries}
    return change(station, drive={"settings": entries})


def told(line, changed):
    """Findings at the changed station that the sample does not have."""
    stations = tuple(changed if held.id == changed.id else held for held in line.stations)
    found = find(compute_line(dataclasses.replace(line, stations=stations))).at(changed.id)
    for entry in found:
        check_words(entry)
    return {entry.key: entry for entry in found if entry.key != "driven-part-too-fast"}


def station(samples, tag):
    return samples[tag[0]], samples[tag[0]].station_tagged(tag)


def test_a05_input_left_at_0_20_ma(samples):
    line, held = station(samples, "A05")
    found = told(line, with_settings(held, ref_range=1))
    assert set(found) == {"reference-creeps", "speed-not-as-wanted"}
    creeps = found["reference-creeps"]
    assert creeps.values["signal"] == "16.32 mA"
    assert creeps.values["runs_hz"] == pytest.approx(48.96, abs=0.005)
    assert creeps.values["meant_hz"] == pytest.approx(46.2, abs=0.005)
    assert "the drive runs at 48.96 Hz instead of 46.2 Hz" in creeps.follows("us")


def test_a07_knob_turned_up(samples):
    line, held = station(samples, "A07")
    # 20-60 Hz over the knob: 58 Hz is 95 % of its voltage, 9.5 V.
    found = told(line, change(held, reference={"now_v": 9.5}))
    assert found["speed-not-as-wanted"].values["now_hz"] == pytest.approx(58.0, abs=0.05)
    assert found["speed-not-as-wanted"].values["wanted_hz"] == pytest.approx(48.4, abs=0.05)


def test_a11_spare_drive_left_at_50_hz(samples):
    line, held = station(samples, "A11")
    found = told(line, with_settings(held, hz_max=50.0, ref_high_hz=50.0))
    assert found["speed-not-as-wanted"].values["now_hz"] == pytest.approx(32.9, abs=0.05)
    assert found["speed-not-as-wanted"].values["wanted_hz"] == pytest.approx(39.5, abs=0.05)


def test_b01_links_in_delta_on_400_v(samples):
    line, held = station(samples, "B01")
    found = told(line, change(held, motor={"connected_for": "low"}))
    entry = found["motor-flux"]
    assert entry.level == "blocker"
    # The notes say 173 % (√3); 400 V on 230 V is 173.9 %.
    assert entry.values["flux_share"] == pytest.approx(1.739, abs=0.001)
    assert entry.values["connection"] == "delta"


def test_b05_deceleration_of_0_8_s(samples):
    line, held = station(samples, "B05")
    short = with_settings(held, ramp_down=0.8)
    # As entered, the sample's rollers are light enough to stop in 0.8 s: no false alarm.
    assert "deceleration-too-short" not in told(line, short)
    # Wet rollers of 30 kg·m² at their shaft trip the drive as in the notes.
    # J = rotor + 30 / (25 * 19/15)²; E = ½Jω² - ½·M_L·ω·t has to fit into the bus.
    rotor, ratio = held.motors[0].inertia_kg_m2, 25 * 19 / 15
    omega = (120 * 60 / 4 - 70 * 0.5 * (60 / 50) ** 2) * 3.14159265 / 30
    load = 0.5 * 550.0 / (1430 * 3.14159265 / 30)
    kinetic = 0.5 * (rotor + 30 / ratio**2) * omega**2
    margin = 0.5 * 680e-6 * (400**2 - (230 * 2**0.5) ** 2)
    by_hand = (kinetic - margin) / (0.5 * load * omega)
    found = told(line, change(short, drivetrain={"inertia_kg_m2": 30.0}))
    entry = found["deceleration-too-short"]
    assert entry.values["set_s"] == pytest.approx(0.8)
    assert entry.values["shortest_s"] == pytest.approx(by_hand, rel=0.005)
    assert by_hand > 0.8


def test_b09_screen_earthed_at_both_ends(samples):
    line, held = station(samples, "B09")
    found = told(line, change(held, reference_cable={"screen": "both"}))
    assert set(found) == {"screen-both-ends"}


def test_b10_minimum_of_20_hz_under_the_persimmon_recipe(samples):
    line, held = station(samples, "B10")
    found = told(line, with_settings(change(held, wanted_m_s=0.0875), hz_min=20.0))
    entry = found["wanted-speed-out-of-reach"]
    assert entry.values["wanted_hz"] == pytest.approx(14.6, abs=0.05)
    assert entry.values["minimum_hz"] == 20.0


def test_b11_maximum_left_at_50_hz(samples):
    line, held = station(samples, "B11")
    found = told(line, with_settings(held, hz_max=50.0, ref_high_hz=50.0))
    entry = found["speed-not-as-wanted"]
    assert entry.values["now_hz"] == pytest.approx(40.5, abs=0.01)
    assert entry.values["wanted_hz"] == pytest.approx(48.6, abs=0.06)


def test_panel_of_b_on_one_device_of_30_ma(samples):
    supplies = tuple(
        dataclasses.replace(entry, rcd_trip_a=0.030) for entry in samples["B"].supplies
    )
    found = find(compute_line(dataclasses.replace(samples["B"], supplies=supplies))).found
    entry = next(each for each in found if each.key == "leakage-sum")
    # The notes count eight single-phase drives, 28 mA; four on three phases leak 14 mA more.
    assert entry.values["sum_signal_a"] == pytest.approx(0.028 + 0.014)
