"""How sure a speed is: each part of the budget by hand, and what is assumed."""

import dataclasses
import math

import pytest

from core.line import compute_station
from core.line.bands import FREQUENCY_STEP_HZ, KNOB_SETTING, SIGNAL_ACCURACY, budget_of
from core.model import ListedSetting, ReferenceInput, SpeedReference
from tests.core.line.builders import DRIVE_TYPE, settings
from tests.core.line.fruit import at

ROOT3 = math.sqrt(3.0)
# The least step of a drive's frequency, 0.01 Hz, at 40 Hz without slip: half of it over √3.
STEP_AT_40 = 0.005 / ROOT3 / 40.0


def budget(held, hertz=40.0, drive_type=DRIVE_TYPE):
    return budget_of(compute_station(held, drive_type), hertz)


def parts(held, hertz=40.0, drive_type=DRIVE_TYPE):
    return {part.name: part.relative_u for part in budget(held, hertz, drive_type).parts}


def told(held, **reference):
    """The plain station with another reference."""
    return dataclasses.replace(held, reference=SpeedReference(1, input_name="V in", **reference))


def train(**changes):
    held = at(1)
    return dataclasses.replace(held, drivetrain=dataclasses.replace(held.drivetrain, **changes))


def span(low, high):
    """The plain station, with its reference from ``low`` to ``high`` hertz."""
    held = at(1)
    ends = settings(hz_max=60, hz_min=0, ref_low=low, ref_high=high, ref_range=0)
    return dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=ends))


def test_a_signal_that_nobody_entered_an_accuracy_for():
    # ± 0.5 % of 60 Hz, even between its limits: 0.3 / √3 Hz of 40 Hz
    assert parts(at(1)) == pytest.approx(
        {"signal": 0.3 / ROOT3 / 40.0, "frequency step": STEP_AT_40}
    )
    assert [(a.part, a.half_width) for a in budget(at(1)).assumed] == [("signal", SIGNAL_ACCURACY)]


def test_together_they_add_as_squares():
    # √(0.00433013² + 0.00007217²)
    assert budget(at(1)).relative_u == pytest.approx(0.00433073, rel=1e-5)


def test_an_accuracy_that_is_entered():
    held = told(
        at(1), source="voltage", low_v=0.0, high_v=10.0, accuracy=0.001, setting_share=0.002
    )
    # ± 0.1 % and ± 0.2 % of 60 Hz
    found = parts(held)
    assert found["signal"] == pytest.approx(0.06 / ROOT3 / 40.0)
    assert found["setting"] == pytest.approx(0.12 / ROOT3 / 40.0)
    assert budget(held).assumed == ()


def test_an_accuracy_of_nothing_is_no_part():
    held = told(at(1), source="voltage", low_v=0.0, high_v=10.0, accuracy=0.0)
    assert set(parts(held)) == {"frequency step"}
    assert budget(held).assumed == ()


def test_a_knob():
    held = told(at(1), source="potentiometer", pot_ohm=10e3, pot_linearity=0.02)
    found = parts(held)
    # a hand sets it to ± 1 % of 60 Hz (assumed); ± 2 % of linearity
    assert found["setting"] == pytest.approx(0.6 / ROOT3 / 40.0)
    assert found["linearity"] == pytest.approx(1.2 / ROOT3 / 40.0)
    assert "signal" not in found
    assert [(a.part, a.half_width) for a in budget(held).assumed] == [("setting", KNOB_SETTING)]


def test_the_error_of_a_knob_weighs_more_on_a_slow_station():
    held = told(at(1), source="potentiometer", pot_ohm=10e3)
    assert parts(held, 10.0)["setting"] == pytest.approx(0.6 / ROOT3 / 10.0)


def test_a_narrow_span_makes_it_surer():
    # ± 0.5 % of 12 Hz
    assert parts(span(34, 46))["signal"] == pytest.approx(0.06 / ROOT3 / 40.0)
    # A span turned round is as wide.
    assert parts(span(46, 34))["signal"] == pytest.approx(0.06 / ROOT3 / 40.0)


@pytest.mark.parametrize("source", ["keypad", "preset", "bus"])
def test_hertz_have_no_part_but_their_step(source):
    held = told(at(1), source=source, now_hz=40.0)
    assert parts(held) == pytest.approx({"frequency step": STEP_AT_40})
    assert budget(held).assumed == ()


def test_the_step_that_a_drive_type_has():
    coarse = dataclasses.replace(DRIVE_TYPE, frequency_step_hz=0.1)
    # Half of 0.1 Hz
    assert parts(at(1), 40.0, coarse)["frequency step"] == pytest.approx(0.05 / ROOT3 / 40.0)
    assert FREQUENCY_STEP_HZ == 0.01


def test_a_dac_and_the_input_of_the_drive():
    held = told(at(1), source="dac", low_v=0.0, high_v=10.0, dac_bits=8, accuracy=0.0)
    good = ReferenceInput(
        1, "V in", "X1:3", "X1:4", "voltage", 0.0, 10.0, None, None, 100e3,
        resolution_bits=10, accuracy=0.003,
    )  # fmt: skip
    drive_type = dataclasses.replace(DRIVE_TYPE, reference_inputs=(good,))
    found = parts(held, 40.0, drive_type)
    # half of 60 / 255 Hz; ± 0.3 % of 60 Hz; half of 60 / 1023 Hz
    assert found["signal step"] == pytest.approx(60.0 / 510.0 / ROOT3 / 40.0)
    assert found["drive input"] == pytest.approx(0.18 / ROOT3 / 40.0)
    assert found["input step"] == pytest.approx(60.0 / 2046.0 / ROOT3 / 40.0)


def test_slip_that_swings_with_the_load():
    # 1740 of 1800 rpm: 60 rpm of slip; at half load and 40 Hz 1200 − 30 = 1170 rpm.
    # Nobody entered the swing: ± 10 % of rated torque, 6 rpm.
    held = train(load_fraction=0.5)
    assert parts(held)["slip"] == pytest.approx(6.0 / 1170.0 / ROOT3)
    # One hertz is 30 rpm of those 1170.
    assert parts(held)["signal"] == pytest.approx(0.3 / ROOT3 * 30.0 / 1170.0)
    assert [a.part for a in budget(held).assumed] == ["signal", "slip"]


def test_a_swing_that_is_entered():
    held = train(load_fraction=0.5, load_swing=0.3)
    assert parts(held)["slip"] == pytest.approx(18.0 / 1170.0 / ROOT3)
    assert [a.part for a in budget(held).assumed] == ["signal"]
    assert "slip" not in parts(train(load_fraction=0.5, load_swing=0.0))


def test_no_load_or_slip_compensation_leaves_no_slip():
    assert "slip" not in parts(train(load_fraction=0.0))
    listed = ListedSetting(9, "slip-comp", role="slip_compensation", options="0 = off; 1 = on")
    kind = dataclasses.replace(DRIVE_TYPE, listed_settings=(*DRIVE_TYPE.listed_settings, listed))
    held = train(load_fraction=0.5)
    shown = settings(hz_max=60, hz_min=0, ref_low=0, ref_high=60, ref_range=0, slip_comp=1)
    held = dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=shown))
    assert "slip" not in parts(held, 40.0, kind)


def test_a_drum_that_was_measured_and_wears():
    # ± 1 mm and 6 mm of 200 mm; GUM F.2.4.5 for a wear that is known and not corrected: w / (√3·D)
    found = parts(train(diameter_within_m=0.001, wear_m=0.006))
    assert found["diameter"] == pytest.approx(0.005 / ROOT3)
    assert found["wear"] == pytest.approx(0.03 / ROOT3)


def test_a_sprocket_does_not_change_its_size():
    held = train(
        surface="sprocket",
        chain_teeth=12,
        chain_pitch_m=0.0381,
        diameter_within_m=0.001,
        wear_m=0.01,
    )
    assert set(parts(held)) == {"signal", "frequency step"}


@pytest.mark.parametrize("hertz", [None, 0.0])
def test_without_a_frequency_there_is_no_budget(hertz):
    assert budget(at(1), hertz) is None


def test_a_motor_that_slips_to_a_stand_has_none():
    # 60 rpm of slip at full load: at 1 Hz, 30 rpm, it stands.
    assert budget(train(load_fraction=1.0), 1.0) is None


def test_without_a_plate_there_is_none():
    held = dataclasses.replace(at(1), motors=())
    assert budget(held) is None
