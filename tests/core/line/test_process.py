"""What each kind of station does to the fruit, as planned and as set now, by hand values."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.line.plan_rules import ALL_PLAN_RULES
from core.line.process_kinds import BY_KIND
from core.model import choices
from tests.core.line.builders import RPM
from tests.core.line.fruit import M_S_PER_HZ, at, entry, pair, plan, recipe, row, way


def hz(speed_m_s):
    """Where the reference stands for a speed of the plain station."""
    return speed_m_s / M_S_PER_HZ


def present(station, *others, number=1, **changes):
    """Figures at the present setting, by key."""
    held = entry(number, station, *others, **changes).present
    return {key: figure.value for key, figure in held.items()}


def planned(station, *others, **changes):
    """Figures at the planned speed, by key."""
    held = entry(station.id, station, *others, **changes).planned
    return {key: figure.value for key, figure in held.items()}


def near(value, rel=1e-4):
    return pytest.approx(value, rel=rel)


def fed(**changes):
    return {"recipes": (recipe(**changes),)}


# --- everywhere -------------------------------------------------------------------------------


def test_fruit_and_time_on_a_station():
    # 3 m at 0.25 m/s: 12 s, in which 6 · 12 fruit come.
    held = present(at(1, "take_away", hz=hz(0.25), carrying_length_m=3.0))
    assert held["time_on_it_s"] == near(12.0)
    assert held["fruit_on_it"] == near(72.0)


@pytest.mark.parametrize(
    ("height_m", "mass_kg", "speed", "energy"),
    # reference fruit-line.md H1
    [
        (0.05, 0.1, 0.99029, 0.049033),
        (0.15, 0.137, 1.7152, 0.20153),
        (0.31, 0.13737, 2.4658, 0.41761),
    ],
)
def test_the_drop_at_its_end(height_m, mass_kg, speed, energy):
    held = present(at(1, drop_out_m=height_m), **fed(fruit_mass_kg=mass_kg))
    assert held["drop_speed_m_s"] == near(speed)
    assert held["drop_energy_j"] == near(energy)


def test_a_station_that_stands_tells_no_times():
    held = present(at(1, "take_away", hz=0.0, carrying_length_m=3.0, carrying_width_m=0.5))
    assert set(held) == {"capacity_1_s"}
    assert held["capacity_1_s"] == 0.0


def test_use_and_the_slowest_speed_that_carries():
    # 0.8 · 0.5 / 0.06² fruit/m · 0.1 m/s = 11.111 fruit/s; 6 of them are 54 %; 0.1 · 0.54 m/s.
    held = present(at(1, "take_away", hz=hz(0.1), carrying_width_m=0.5))
    assert held["capacity_1_s"] == near(11.1111)
    assert held["used_share"] == near(0.54)
    assert held["surface_speed_needed_m_s"] == near(0.054)


def test_planned_and_present_are_told_beside_one_another():
    belt = at(1, "take_away", wanted="surface", wanted_m_s=0.3, hz=hz(0.2), carrying_length_m=1.2)
    held = entry(1, belt)
    assert held.planned["time_on_it_s"].value == near(4.0)
    assert held.present["time_on_it_s"].value == near(6.0)


# --- wide belts, rollers, elevators -----------------------------------------------------------


@pytest.mark.parametrize("kind", ["elevator", "roller_conveyor", "take_away", "other", "belt"])
def test_fruit_on_a_wide_one(kind):
    # 6 · 0.06² / (0.25 · 0.6) = 14.4 % covered; 6 · 0.1 kg / 0.25 m/s = 2.4 kg on a metre
    held = present(at(1, kind, hz=hz(0.25), carrying_width_m=0.6), flows=way((None, 1)))
    assert held["cover_share"] == near(0.144)
    assert held["mass_on_length_kg_m"] == near(2.4)


def test_rows_of_bars_have_no_cover():
    held = present(at(1, "elevator", hz=hz(0.25), carrying_width_m=0.6, row_pitch_m=0.1))
    assert "cover_share" not in held
    assert held["mass_on_length_kg_m"] == near(2.4)


# --- in file ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("speed", "lanes", "flow", "diameter", "pitch", "gap"),
    [
        # reference V3: 0.34375 m/s, 3.6066 fruit/s of 61 mm: 95.3125 mm, gap 34.3125 mm
        (0.34375, 1, 3.6066, 0.061, 0.0953125, 0.0343125),
        (0.5022, 1, 5.272, 0.05, 0.095258, 0.045258),
        # 0.3 · 2 / 6 = 100 mm
        (0.3, 2, 6.0, 0.06, 0.1, 0.04),
    ],
)
def test_pitch_and_gap_on_a_belt_in_file(speed, lanes, flow, diameter, pitch, gap):
    belt = at(1, wanted="pitch", wanted_pitch_m=0.1, hz=hz(speed))
    held = present(belt, lanes=lanes, **fed(fruit_1_s=flow, fruit_diameter_m=diameter))
    assert held["pitch_m"] == near(pitch)
    assert held["gap_m"] == near(gap, rel=1e-3)


def test_a_belt_without_a_basis_in_file_is_a_wide_one():
    assert "pitch_m" not in present(at(1, hz=30.0))


def vee(first_m_s, second_m_s, slope_deg, **changes):
    """A feed belt and both sides of a V; gives the first side as set now."""
    sides = [
        at(n, "belt_pair_side", hz=hz(v), belt_slope_rad=math.radians(slope_deg))
        for n, v in ((2, first_m_s), (3, second_m_s))
    ]
    flows = way((1, 2), (1, 3))
    return present(at(1), *sides, number=2, flows=flows, pairs=(pair(2, 3),), **changes)


@pytest.mark.parametrize(
    ("first", "second", "diameter_mm", "slope_deg", "mean", "rev_s", "length"),
    # reference fruit-line.md V1
    [
        (0.44, 0.4, 61, 45, 0.42, 0.14759, 0.6405),
        (0.25, 0.23, 60, 30, 0.24, 0.1061, 0.72),
        (0.274, 0.253, 50, 45, 0.2635, 0.094533, 0.62738),
        (0.2274, 0.211, 60.96, 45, 0.2192, 0.060553, 0.81478),
    ],
)
def test_two_belts_of_a_vee(first, second, diameter_mm, slope_deg, mean, rev_s, length):
    held = vee(first, second, slope_deg, **fed(fruit_diameter_m=diameter_mm / 1e3))
    assert held["mean_speed_m_s"] == near(mean)
    assert held["turning_rad_s"] / (2 * math.pi) == near(rev_s)
    assert held["separation_length_m"] == near(length)
    # Both sides carry the file between them, at their mean.
    assert held["pitch_m"] == near(mean / 6.0)


def test_a_vee_that_turns_fruit_the_other_way():
    held = vee(0.40, 0.44, 45, **fed(fruit_diameter_m=0.061))
    assert held["turning_rad_s"] / (2 * math.pi) == near(-0.14759)


def test_a_vee_of_equal_belts_parts_nothing():
    held = vee(0.4, 0.4, 45)
    assert held["turning_rad_s"] == pytest.approx(0.0, abs=1e-12)
    assert "separation_length_m" not in held


def test_one_side_alone_is_a_belt_in_file():
    held = present(at(1, "belt_pair_side", hz=hz(0.36)))
    assert held["pitch_m"] == near(0.06)
    assert held["gap_m"] == pytest.approx(0.0, abs=1e-9)
    assert "mean_speed_m_s" not in held


# --- brushes ----------------------------------------------------------------------------------


def bed(forward_m_s, reverse_m_s, number=2, flow=5.903, diameter=0.06096, **process):
    """A feed belt and both rows of a bed of twelve brushes; reference B1 and B2, first rows."""
    held = {
        "brush_pitch_m": 0.13335,
        "bed_width_m": 1.2192,
        "packing": 0.8,
        "carrying_length_m": 1.6002,
        **process,
    }
    rows = (
        at(2, "brush_bed", hz=hz(forward_m_s), **held),
        at(3, "brush_bed", turn="reverse", hz=hz(reverse_m_s), **held),
    )
    return present(
        at(1),
        *rows,
        number=number,
        flows=way((1, 2), (1, 3)),
        pairs=(pair(2, 3),),
        **fed(fruit_1_s=flow, fruit_diameter_m=diameter),
    )


@pytest.mark.parametrize("number", [2, 3])
def test_a_brush_bed_from_either_row(number):
    # B1: 0.63837 and 0.53863: drift 0.049873 (their mean), scrub 0.5885, 32.0856 s.
    # Differences of rounded speeds: within 0.02 % of them.
    held = bed(0.63837, 0.53863, number)
    assert held["drift_index_m_s"] == near(0.049873, rel=2e-4)
    assert held["scrub_index_m_s"] == near(0.5885)
    assert held["time_on_brushes_s"] == near(32.0856, rel=3e-4)
    # B2: 16 in a valley, needed 0.049198, 192 places, 32.5258 s
    assert held["drift_needed_m_s"] == near(0.049198)
    assert held["places"] == near(192.0)
    assert held["time_by_places_s"] == near(32.5258)
    # 0.049198 / 0.04987
    assert held["places_used_share"] == near(0.98652, rel=3e-4)
    # Little: drift · 16 / 0.13335
    assert held["capacity_1_s"] == near(5.9837, rel=3e-4)
    assert held["used_share"] == near(0.98652, rel=3e-4)
    # A bed is sped up by its difference, not by one row.
    assert "surface_speed_needed_m_s" not in held


@pytest.mark.parametrize(
    ("flow", "pitch", "width", "diameter", "packing", "brushes", "needed", "places", "time"),
    # reference fruit-line.md B2
    [
        (4.487, 125, 800, 50, 0.8, 11, 0.043818, 140.80, 31.3795),
        (8, 140, 1000, 70, 0.75, 14, 0.10453, 150.00, 18.75),
        (2.667, 125, 800, 75, 0.8, 11, 0.039067, 93.8667, 35.1956),
    ],
)
def test_places_of_a_bed(flow, pitch, width, diameter, packing, brushes, needed, places, time):
    held = bed(
        0.6,
        0.4,
        flow=flow,
        diameter=diameter / 1e3,
        brush_pitch_m=pitch / 1e3,
        bed_width_m=width / 1e3,
        packing=packing,
        carrying_length_m=brushes * pitch / 1e3,
    )
    assert held["drift_needed_m_s"] == near(needed)
    assert held["places"] == near(places)
    assert held["time_by_places_s"] == near(time)


def test_the_travel_factor_scales_the_drift_only():
    held = bed(0.6, 0.5, travel_factor=0.8)
    # 0.8 · 0.05; 0.55
    assert held["drift_index_m_s"] == near(0.04)
    assert held["scrub_index_m_s"] == near(0.55)


@pytest.mark.parametrize(("forward", "reverse"), [(0.5, 0.5), (0.5, 0.6)])
def test_a_bed_that_does_not_carry_has_no_time(forward, reverse):
    held = bed(forward, reverse)
    assert held["drift_index_m_s"] == pytest.approx((forward - reverse) / 2.0, abs=1e-9)
    assert "time_on_brushes_s" not in held
    assert "places_used_share" not in held
    assert held["capacity_1_s"] == pytest.approx(0.0, abs=1e-6)


def test_fruit_wider_than_the_bed_is_told_beside_its_places():
    rows = [
        at(n, "brush_bed", turn=turn, hz=30.0, bed_width_m=0.05, brush_pitch_m=0.1,
           carrying_length_m=1.0)
        for n, turn in ((1, "forward"), (2, "reverse"))
    ]  # fmt: skip
    held = entry(1, *rows, at(3), flows=way((1, 3), (2, 3)), pairs=(pair(1, 2),)).present
    assert held["places"].value is None
    assert "diameter of the fruit" in held["places"].problem
    assert "drift_needed_m_s" not in held


def test_a_row_alone_has_no_index():
    held = present(at(1, "brush_bed", hz=30.0, brush_pitch_m=0.125, bed_width_m=0.8))
    assert held == {}


# --- the camera -------------------------------------------------------------------------------


def camera(carrier, spin, diameter_mm, view_m, images, **process):
    """A spin section under cups, as planned; a spin below zero turns in reverse."""
    section = at(
        1,
        "spin_section",
        turn="reverse" if spin < 0 else "forward",
        wanted="surface",
        wanted_m_s=abs(spin),
        view_length_m=view_m,
        images_per_fruit=images,
        **process,
    )
    cups = at(2, "cup_conveyor", wanted="surface", wanted_m_s=carrier)
    return planned(section, cups, flows=row(1, 2), **fed(fruit_diameter_m=diameter_mm / 1e3))


@pytest.mark.parametrize(
    ("carrier", "spin", "diameter", "view", "images", "dwell", "turns", "degrees", "frames"),
    # reference fruit-line.md C1
    [
        (0.5, 0.2, 70, 0.6, 30, 1.2, 1.637, 19.6443, 25),
        (0.5, 0.0, 65, 0.6, 30, 1.2, 2.9382, 35.2589, 25),
        (0.342, 0.127, 60.96, 0.4572, 30, 1.3368, 1.5008, 18.0096, 22.4409),
        (0.342, -0.127, 60.96, 0.4572, 30, 1.3368, 3.2738, 39.2861, 22.4409),
        (0.5022, 0.2656, 50, 0.5, 30, 0.99562, 1.4996, 17.9957, 30.132),
        (1.0, 0.6, 75, 0.8, 24, 0.8, 1.3581, 20.3718, 30),
    ],
)
def test_fruit_in_view(carrier, spin, diameter, view, images, dwell, turns, degrees, frames):
    held = camera(carrier, spin, diameter, view, images)
    assert held["carrier_speed_m_s"] == near(carrier)
    assert held["time_in_view_s"] == near(dwell)
    assert held["turns_in_view"] == near(turns)
    assert math.degrees(held["angle_per_image_rad"]) == near(degrees)
    assert held["frames_needed_hz"] == near(frames)
    assert "images_in_view" not in held


def test_frames_as_set_make_their_own_number_of_images():
    # 0.4572 / 0.342 = 1.33684 s at 20 frames/s: 26.74 images; 360 · 1.5008 / 26.74°
    held = camera(0.342, 0.127, 60.96, 0.4572, 30, frames_hz=20.0)
    assert held["images_in_view"] == near(26.737)
    assert math.degrees(held["angle_per_image_rad"]) == near(20.207)


def test_blur_is_the_most_there_can_be():
    # (0.342 + (0.342 − 0.127)) · 1 ms; and with the contact factor 2 · 0.215
    assert camera(0.342, 0.127, 60, 0.5, 30, exposure_s=0.001)["blur_m"] == near(0.000557)
    held = camera(0.342, 0.127, 60, 0.5, 30, exposure_s=0.001, contact_factor=2.0)
    assert held["blur_m"] == near(0.000772)


def test_the_camera_as_set_now():
    # 0.4 and 0.1 m/s over 0.5 m: 0.3 / (π · 0.06) · 1.25 s
    spin = at(1, "spin_section", hz=hz(0.1), view_length_m=0.5)
    held = present(spin, at(2, "cup_conveyor", hz=hz(0.4)), flows=row(1, 2))
    assert held["turns_in_view"] == near(0.3 / (math.pi * 0.06) * 1.25)


def test_a_section_without_a_carrier_tells_nothing():
    assert present(at(1, "spin_section", hz=30.0, view_length_m=0.5)) == {}


# --- cups -------------------------------------------------------------------------------------


def cups(speed, **process):
    """Figures of a cup conveyor at a planned speed; reference C3 gives its encoder and chain."""
    return planned(at(1, "cup_conveyor", wanted="surface", wanted_m_s=speed, **process))


@pytest.mark.parametrize(
    ("speed", "pitch_mm", "lanes", "fill", "cups_1_s", "fruit_1_s"),
    # reference fruit-line.md C2
    [
        (0.63, 90, 1, 1.0, 7.0, 7.0),
        (0.5, 95, 1, 0.8, 5.2632, 4.2105),
        (0.342, 95.25, 2, 0.78, 3.5906, 5.6013),
        (1.0, 95.25, 4, 0.85, 10.4987, 35.6955),
    ],
)
def test_cups_in_each_lane(speed, pitch_mm, lanes, fill, cups_1_s, fruit_1_s):
    held = cups(speed, cup_pitch_m=pitch_mm / 1e3, cup_lanes=lanes, cup_fill=fill)
    assert held["cups_1_s"] == near(cups_1_s)
    assert held["capacity_1_s"] == near(fruit_1_s)
    # 6 fruit/s of lanes · cups/s places
    assert held["fill_needed_share"] == near(6.0 / (lanes * cups_1_s))


@pytest.mark.parametrize(
    ("pulses", "pitch_mm", "teeth", "chain_mm", "speed", "latency_ms", "per_cup", "step", "lead"),
    # reference fruit-line.md C3: pulses for a cup, step [mm], lead [mm]
    [
        (1024, 95.25, 12, 31.75, 0.342, 40, 256.00, 0.093018, 13.68),
        (500, 101.6, 10, 50.8, 0.5, 45, 100.00, 0.254, 22.5),
        (1024, 95.25, 12, 38.1, 0.5, 45, 213.33, 0.11162, 22.5),
        (360, 95, 15, 19.05, 0.5, 30, 119.69, 0.19844, 15),
        (2000, 95.25, 12, 31.75, 1.0, 60, 500.00, 0.047625, 60),
    ],
)
def test_encoder_and_drop(
    pulses, pitch_mm, teeth, chain_mm, speed, latency_ms, per_cup, step, lead
):
    conveyor = at(
        1,
        "cup_conveyor",
        wanted="surface",
        wanted_m_s=speed,
        cup_pitch_m=pitch_mm / 1e3,
        encoder_pulses=pulses,
        drop_latency_s=latency_ms / 1e3,
    )
    train = dataclasses.replace(
        conveyor.drivetrain, surface="sprocket", chain_teeth=teeth, chain_pitch_m=chain_mm / 1e3
    )
    held = planned(dataclasses.replace(conveyor, drivetrain=train))
    assert held["pulses_per_cup"] == near(per_cup)
    assert held["position_step_m"] * 1e3 == near(step)
    assert held["drop_lead_m"] * 1e3 == near(lead)
    assert held["drop_lead_cups"] == near(lead / pitch_mm)
    assert held["drop_lead_change_m"] * 1e3 == near(lead / 10.0)


def test_cups_that_stand_or_have_no_pitch_tell_nothing():
    assert "cups_1_s" not in cups(0.0, cup_pitch_m=0.1)
    assert "cups_1_s" not in cups(0.5)


# --- water ------------------------------------------------------------------------------------


def pump(motor_rpm, rated_m3_h=80.0, **process):
    """A pump as planned at a speed of its motor; rated at 1740 rpm, geared 20 to 1."""
    held = {"flume_width_m": 0.5, "flume_depth_m": 0.2, **process}
    return planned(
        at(
            1,
            "pump",
            wanted="shaft",
            wanted_rad_s=motor_rpm / 20.0 * RPM,
            pump_flow_m3_s=rated_m3_h / 3600.0,
            **held,
        ),
        flows=way((None, 1)),
        **fed(bin_mass_kg=300.0),
    )


@pytest.mark.parametrize(
    ("flow_m3_h", "width", "depth", "speed", "froude"),
    # reference fruit-line.md P4, with the pump at the speed that gives the flow (P1)
    [
        (60, 0.5, 0.2, 0.16667, 0.11901),
        (27.25, 0.4572, 0.1524, 0.10864, 0.088863),
        (40, 0.4, 0.2, 0.13889, 0.099173),
    ],
)
def test_the_flume(flow_m3_h, width, depth, speed, froude):
    held = pump(1740.0 * flow_m3_h / 80.0, flume_width_m=width, flume_depth_m=depth)
    assert held["water_flow_m3_s"] * 3600.0 == near(flow_m3_h)
    assert held["water_speed_m_s"] == near(speed)
    assert held["froude"] == near(froude)


def test_bins_that_the_flume_carries():
    # 60 m³/h: 0.16667 m/s; 0.8 · 0.5 / 0.06² · 0.16667 = 18.519 fruit/s of 0.1 kg: 1.8519 kg/s in
    # bins of 300 kg, 22.22 in an hour
    held = pump(1305.0)
    assert held["capacity_1_s"] == near(18.5185)
    assert held["bins_1_s"] * 3600.0 == near(22.2222)
    assert held["used_share"] == near(0.324)


def test_a_pump_that_stands_moves_no_water():
    held = pump(0.0)
    assert held["water_speed_m_s"] == 0.0
    assert "froude" not in held
    assert "used_share" not in held


def test_a_fan_does_nothing_to_fruit():
    assert present(at(1, "fan", hz=30.0)) == {}


# --- as a whole -------------------------------------------------------------------------------


def test_every_kind_is_a_kind_of_station():
    assert set(BY_KIND) | {"fan"} == set(choices.STATION_KINDS)


HERTZ = st.one_of(st.just(0.0), st.floats(0.01, 60.0))
SIZES = st.one_of(st.none(), st.floats(1e-3, 5.0))


@given(
    st.sampled_from(sorted(choices.STATION_KINDS)),
    HERTZ,
    HERTZ,
    st.fixed_dictionaries(
        dict.fromkeys(
            (
                "brush_pitch_m",
                "bed_width_m",
                "cup_pitch_m",
                "view_length_m",
                "frames_hz",
                "exposure_s",
                "flume_width_m",
                "flume_depth_m",
                "pump_flow_m3_s",
                "row_pitch_m",
                "carrying_width_m",
                "carrying_length_m",
                "drop_out_m",
                "belt_slope_rad",
            ),
            SIZES,
        )
    ),
    st.one_of(st.none(), st.floats(1e-3, 0.3)),
)
def test_whatever_is_entered_gives_figures_or_says_why(kind, first, second, process, diameter):
    stations = at(1), at(2, kind, hz=first, **process), at(3, kind, hz=second, **process)
    held = plan(
        *stations,
        flows=way((1, 2), (1, 3)),
        pairs=(pair(2, 3),),
        recipes=(recipe(fruit_diameter_m=diameter),),
    )
    known = {rule.key for rule in ALL_PLAN_RULES}
    for number in (2, 3):
        for key, figure in held.entry(number).present.items():
            assert key in known
            assert figure.value is None or math.isfinite(figure.value)
            assert figure.value is not None or figure.problem
