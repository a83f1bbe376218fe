"""Settings that repeat the nameplate."""

import pytest

from tests.core.line.findings.sound import RPM, change, fires, keyed, line, quiet


def test_overload_setting_fires():
    # 4.0 of 3.1 A is 129 %.
    entry = fires("overload-setting", line(keyed(limit=4.0)))
    assert entry.values["over_share"] == pytest.approx(1.2903, abs=1e-4)
    assert entry.place.field == "limit"
    assert "Set limit to 3.1 A." in entry.mend("metric")


def test_overload_setting_quiet():
    # 3.2 of 3.1 A is 103 %, within 5 %.
    quiet("overload-setting", line(keyed(limit=3.2)))


def test_overload_setting_of_the_factory_says_so():
    # Nobody entered it; the factory's 3.1 A is more than the 2.0 A of this plate.
    held = change(keyed(limit=None, amps=2.0), motor={"current_low_a": 2.0})
    entry = fires("overload-setting", line(held))
    assert "shows 3.1 A (factory value, not entered)" in entry.says("metric")
    assert "Set limit to 2 A." in entry.mend("metric")


def test_overload_setting_low_fires():
    entry = fires("overload-setting-low", line(keyed(limit=2.4)))
    assert entry.level == "advice"
    assert entry.values["set_a"] == 2.4


def test_overload_setting_low_quiet():
    # 2.5 of 3.1 A is 81 %, above 80 %.
    quiet("overload-setting-low", line(keyed(limit=2.5)))


def test_rated_frequency_setting_fires():
    entry = fires("rated-frequency-setting", line(keyed(hertz=60)))
    assert "shows 60 Hz; the motor's plate says 50 Hz" in entry.says("metric")


def test_rated_frequency_setting_quiet():
    quiet("rated-frequency-setting", line())
    on_purpose = change(keyed(hertz=87, volts=400), above_base=True)
    quiet("rated-frequency-setting", line(on_purpose))


def test_rated_voltage_setting_fires():
    # 215 of 230 V is 6.5 % low.
    entry = fires("rated-voltage-setting", line(keyed(volts=215)))
    assert (entry.values["set_v"], entry.values["plate_v"]) == (215.0, 230.0)


def test_rated_voltage_setting_quiet():
    # 220 of 230 V is 4.3 % low.
    quiet("rated-voltage-setting", line(keyed(volts=220)))
    # 400 V at 87 Hz for a 230 V 50 Hz motor, on purpose: 4.598 against 4.6 V/Hz.
    quiet("rated-voltage-setting", line(change(keyed(hertz=87, volts=400), above_base=True)))


def test_87_hz_that_nobody_meant_is_told():
    assert fires("rated-voltage-setting", line(keyed(hertz=87, volts=400)))


def test_rated_speed_setting_fires():
    entry = fires("rated-speed-setting", line(keyed(speed=1410)))
    assert entry.values["set_rad_s"] == pytest.approx(1410 * RPM)
    assert "shows 1410 rpm; the motor's plate says 1440 rpm" in entry.says("us")


def test_rated_speed_setting_quiet():
    # 1430 of 1440 is 0.7 % low.
    quiet("rated-speed-setting", line(keyed(speed=1430)))
