"""A line's results: the demo's hand-worked figures, what is lacking, and what is kept."""

import dataclasses

import pytest

from core.line import ALL_RULES, compute_line, compute_station, results_as_data
from core.model import Drivetrain, Line, SpeedReference
from tests.core.line.builders import DRIVE_TYPE, PLATE, RPM, line, settings, station

FT_MIN = 0.00508  # NIST SP 811: 1 ft/min


def drive_with(**shown):
    return dataclasses.replace(station().drive, settings=settings(**shown))


def test_motor_figures_worked_by_hand():
    # 2 hp at 1740 of 1800 rpm: slip 60 rpm; torque 9549.3 * 1.4914 / 1740 = 8.185 N·m
    result = compute_station(station(), DRIVE_TYPE)
    assert result.value("poles") == 4
    assert result.value("synchronous_speed_rad_s") == pytest.approx(1800 * RPM)
    assert result.value("rated_slip_rad_s") == pytest.approx(60 * RPM)
    assert result.value("rated_torque_n_m") == pytest.approx(8.185, abs=0.002)


def test_demo_a02_from_signal_to_surface_speed():
    # shared demo A, station A02: 17.71 mA in 4-20 mA over 0-60 Hz is 51.4 Hz; 1725 rpm plate at
    # 0.6 load: 1542 - 45 = 1497 rpm; 60:1 and 15/36 teeth: 10.4 rpm; 10 x 1.5 in: 12.99 ft/min
    bar = station(
        motors=(dataclasses.replace(PLATE, speed_rad_s=1725 * RPM),),
        drive=drive_with(hz_max=60, hz_min=15, ref_low=0, ref_high=60, ref_range=2),
        reference=SpeedReference(
            1, "current", input_name="mA in", low_a=0.004, high_a=0.020, now_a=0.01771
        ),
        drivetrain=Drivetrain(
            1,
            gear_ratio=60.0,
            driver_teeth=15,
            driven_teeth=36,
            surface="sprocket",
            chain_teeth=10,
            chain_pitch_m=1.5 * 0.0254,
            load_fraction=0.6,
        ),
    )
    result = compute_station(bar, DRIVE_TYPE)
    assert result.value("frequency_now_hz") == pytest.approx(51.4, abs=0.02)
    assert result.value("motor_speed_now_rad_s") / RPM == pytest.approx(1497, abs=1)
    assert result.value("shaft_speed_now_rad_s") / RPM == pytest.approx(10.4, abs=0.02)
    assert result.value("surface_speed_now_m_s") / FT_MIN == pytest.approx(12.99, abs=0.02)


def test_live_zero_source_into_a_0_20_input_creeps():
    # 4 mA into 0-20 mA is a fifth of the input: 0.2 * 60 = 12 Hz with the knob at zero.
    mismatched = station(
        drive=drive_with(hz_max=60, hz_min=0, ref_low=0, ref_high=60, ref_range=1),
        reference=SpeedReference(1, "current", input_name="mA in", low_a=0.004, high_a=0.020),
    )
    points = compute_station(mismatched, DRIVE_TYPE).points
    assert points[0].frequency_hz == pytest.approx(12.0)
    assert points[0].signal_a == pytest.approx(0.004)


def test_points_of_a_loaded_potentiometer():
    # 10 kΩ on 10 V into 100 kΩ: at half travel 10 * 0.5 / (1 + 0.25 * 0.1) = 4.8780 V
    # (electrical.md 4.2) -> 0.48780 * 60 = 29.268 Hz
    pot = station(reference=SpeedReference(1, "potentiometer", input_name="V in", pot_ohm=10e3))
    points = compute_station(pot, DRIVE_TYPE).points
    assert [point.fraction for point in points] == [0.0, 0.25, 0.5, 0.75, 1.0]
    assert points[2].signal_v == pytest.approx(4.8780, abs=1e-4)
    assert points[2].frequency_hz == pytest.approx(29.268, abs=1e-3)
    assert points[4].frequency_hz == pytest.approx(60.0)


def _planned(held):
    """The figures of the speed wanted of a station, planned in a line of its own."""
    line = Line(1, stations=(held,), drive_types=(DRIVE_TYPE,))
    return compute_line(line).plan.entry(held.id).wanted


def test_wanted_speed_gives_the_knob_position_that_gives_it_back():
    pot = station(
        wanted="surface",
        wanted_m_s=0.3,
        reference=SpeedReference(1, "potentiometer", input_name="V in", pot_ohm=10e3),
    )
    wanted = _planned(pot)
    turned = dataclasses.replace(
        pot, reference=dataclasses.replace(pot.reference, now_v=wanted["signal_wanted_v"].value)
    )
    result = compute_station(turned, DRIVE_TYPE)
    assert result.value("surface_speed_now_m_s") == pytest.approx(0.3)
    assert result.value("reference_now_share") == pytest.approx(
        wanted["reference_wanted_share"].value
    )


def test_a_5_v_dac_into_a_10_v_input_tops_out_at_half():
    dac = station(
        reference=SpeedReference(1, "dac", input_name="V in", low_v=0.0, high_v=5.0, dac_bits=12)
    )
    top = compute_station(dac, DRIVE_TYPE).points[-1]
    assert top.frequency_hz == pytest.approx(30.0)
    assert top.count == 4095


def test_keypad_hertz_are_shares_of_the_maximum_within_the_limits():
    keypad = station(
        drive=drive_with(hz_max=50, hz_min=20, ref_low=0, ref_high=50),
        reference=SpeedReference(1, "keypad", now_hz=42.0),
    )
    result = compute_station(keypad, DRIVE_TYPE)
    assert [point.frequency_hz for point in result.points] == [20.0, 20.0, 25.0, 37.5, 50.0]
    assert result.value("frequency_now_hz") == 42.0


def test_wanted_beyond_the_limits_says_so_instead_of_a_figure():
    fast = station(wanted="frequency", wanted_hz=75.0)
    figure = _planned(fast)["signal_wanted_v"]
    assert figure.value is None
    assert "75 Hz lies outside" in figure.problem


def test_factory_value_in_use_is_named_as_assumption():
    unset = station(
        drive=drive_with(ref_high=60, hz_min=0, ref_low=0),
        reference=dataclasses.replace(station().reference, now_v=5.0),
    )
    figure = compute_station(unset, DRIVE_TYPE).figures["frequency_now_hz"]
    assert figure.value == pytest.approx(30.0)
    assert figure.is_estimate
    assert "hz-max at its factory value 60.00" in figure.assumed


def test_slip_compensation_holds_synchronous_speed():
    from core.model import ListedSetting

    listed = ListedSetting(9, "slip-comp", role="slip_compensation", options="0 = off; 1 = on")
    compensating = dataclasses.replace(
        DRIVE_TYPE, listed_settings=(*DRIVE_TYPE.listed_settings, listed)
    )
    held = station(
        drive=drive_with(hz_max=60, hz_min=0, ref_low=0, ref_high=60, slip_comp=1),
        reference=SpeedReference(1, "keypad", now_hz=30.0),
        drivetrain=dataclasses.replace(station().drivetrain, load_fraction=1.0),
    )
    assert compute_station(held, compensating).value("motor_speed_now_rad_s") == pytest.approx(
        900 * RPM
    )


def test_source_of_the_other_kind_than_the_input_is_told():
    crossed = station(
        reference=SpeedReference(1, "current", input_name="V in", low_a=0.004, high_a=0.020)
    )
    result = compute_station(crossed, DRIVE_TYPE)
    assert result.points == ()
    assert any("gives a current" in lack.text for lack in result.lacks)


def test_an_empty_station_says_what_it_needs_and_where():
    from core.model import Motor, Station

    result = compute_station(Station(7, "ST07", motors=(Motor(3),)), None)
    assert result.state == "empty"
    places = {(lack.table, lack.field) for lack in result.lacks}
    assert ("motor", "power_w") in places
    assert ("speed_reference", "source") in places
    assert ("drivetrain", "gear_ratio") in places
    assert result.figures["rated_torque_n_m"].lacks == ("power", "rated speed")


def test_a_full_station_is_complete():
    assert compute_station(station(), DRIVE_TYPE).state == "complete"


def test_nothing_is_computed_again_that_did_not_change():
    first, second = station(), dataclasses.replace(station(), id=2, tag="ST02")
    whole = line(first, second)
    before = compute_line(whole)
    changed = dataclasses.replace(second, name="Other")
    after = compute_line(dataclasses.replace(whole, stations=(first, changed)), before)
    assert after.station(1) is before.station(1)
    assert after.station(2) is not before.station(2)


def test_incremental_equals_full():
    before = compute_line(line(station()))
    other_type = dataclasses.replace(DRIVE_TYPE, reference_supply_v=5.0)
    changed = line(station(), drive_types=(other_type,))
    assert compute_line(changed, before) == compute_line(changed)


def test_every_figure_in_the_data_has_a_working_and_a_known_key():
    data = results_as_data(compute_line(line(station(wanted="surface", wanted_m_s=0.2))))
    (entry,) = data["stations"]
    known = {rule.key for rule in ALL_RULES}
    assert set(entry["figures"]) <= known
    assert set(entry["workings"]) == set(entry["figures"])
    assert all(working["formula"] for working in entry["workings"].values())


def test_second_motor_has_its_own_figures():
    two = station(motors=(PLATE, dataclasses.replace(PLATE, id=2, power_w=745.7)))
    result = compute_station(two, DRIVE_TYPE)
    assert result.motor_figures[2]["rated_torque_n_m_2"].value == pytest.approx(4.0925, abs=0.001)
