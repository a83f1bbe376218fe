"""Drives against a simulated rectifier, textbook relations and the trade's rules of thumb."""

import math
from functools import partial

import pytest

from core.calc import drive_input, drive_rating, dynamics
from tests.published.checks import Check, every, kelvin, series
from tests.published.rectifier import true_power_factor

RPM = math.pi / 30
LB_FT = 1.355818  # pound-force foot in N m
LB_FT2 = 0.0421401  # pound square foot in kg m²

POWER = "definition of active power and true power factor"
CAPACITOR = "discharge of a capacitor through a resistor"
MOTION = "Newton's second law and kinetic energy of rotation"

INPUT = series(
    drive_input.needed_input_a,
    [
        ("750 W, 230 V, power factor 0.62", (750.0, 0.825, 0.95, 230.0, 0.62), 6.71),
        ("1500 W, 240 V, power factor 0.62", (1500.0, 0.853, 0.95, 240.0, 0.62), 12.44),
        ("370 W, 120 V, power factor 0.60", (370.0, 0.773, 0.94, 120.0, 0.60), 7.07),
        ("2200 W, 230 V, power factor 0.70", (2200.0, 0.867, 0.96, 230.0, 0.70), 16.42),
        ("746 W, 240 V, power factor 0.65", (746.0, 0.855, 0.95, 240.0, 0.65), 5.89),
    ],
    unit="A",
    tolerance=0.006,
    source=POWER,
    status="by hand",
)

SIMULATED = tuple(
    Check(
        function=drive_input.assumed_power_factor,
        case=case,
        got=partial(
            lambda phases, choke: drive_input.assumed_power_factor(phases, choke=choke).value,
            circuit[0],
            choke,
        ),
        expected=partial(true_power_factor, *circuit, capacitor_f=capacitor),
        tolerance=tolerance,
        unit="",
        source="bridge rectifier with bus capacitors, tests/published/rectifier.py",
        status="library",
    )
    for case, circuit, capacitor, choke, tolerance in (
        ("1-phase, 230 V, 0.4 mH", (1, 230.0, 50.0, 1800.0, 0.4e-3), 1e-3, False, 0.02),
        ("1-phase, 240 V 60 Hz, 0.4 mH", (1, 240.0, 60.0, 1800.0, 0.4e-3), 1e-3, False, 0.02),
        ("1-phase, 230 V, choke 2 mH", (1, 230.0, 50.0, 1800.0, 2e-3), 1e-3, True, 0.02),
        ("3-phase, 400 V, 0.4 mH", (3, 400.0, 50.0, 2500.0, 0.4e-3), 250e-6, False, 0.05),
        ("3-phase, 400 V, choke 8 mH", (3, 400.0, 50.0, 2500.0, 8e-3), 250e-6, True, 0.05),
    )
)

BUS = (
    *series(
        drive_input.bus_voltage_v,
        [
            (f"{volts:g} V supply", (volts,), bus)
            for volts, bus in (
                (120.0, 169.7),
                (208.0, 294.2),
                (230.0, 325.3),
                (240.0, 339.4),
                (400.0, 565.7),
                (480.0, 678.8),
            )
        ],
        unit="V",
        tolerance=0.05,
        source="peak of a sine",
        status="by hand",
    ),
    Check(
        function=drive_input.bus_voltage_v,
        case="120 V supply, doubled",
        got=partial(drive_input.bus_voltage_v, 120.0, doubles=True),
        expected=339.4,
        tolerance=0.05,
        unit="V",
        source="full-wave voltage doubler, textbooks of electronics",
        status="by hand",
    ),
    Check(
        function=drive_rating.output_voltage_v,
        case="120 V supply, doubled",
        got=partial(drive_rating.output_voltage_v, 120.0, doubles=True),
        expected=240.0,
        tolerance=1e-9,
        unit="V",
        source="drives of the 120 V class that double feed 230 V motors",
        status="common practice",
    ),
)

DISCHARGE = (
    *series(
        drive_input.discharge_time_s,
        [
            # 33 ln(325/60) = 33 * 1.68948
            ("1 mF, 325 V, 33 kΩ to 60 V", (325.0, 33e3, 1e-3), 55.753),
            ("470 µF, 340 V, 100 kΩ to 60 V", (340.0, 100e3, 470e-6), 81.526),
            ("2.2 mF, 340 V, 10 kΩ to 60 V", (340.0, 10e3, 2.2e-3), 38.161),
            ("1 mF, 325 V, 33 kΩ to 50 V", (325.0, 33e3, 1e-3, 50.0), 61.77),
        ],
        unit="s",
        tolerance=0.005,
        source=CAPACITOR,
        status="by hand",
    ),
    *series(
        drive_input.stored_charge_c,
        [("470 µF, 340 V", (340.0, 470e-6), 0.1598)],
        unit="C",
        tolerance=5e-5,
        source="definition of capacitance",
        status="by hand",
    ),
    *series(
        drive_input.stored_energy_j,
        # 0.5·470e-6·340² and 0.5·1e-3·325²
        [("470 µF, 340 V", (340.0, 470e-6), 27.166), ("1 mF, 325 V", (325.0, 1e-3), 52.8125)],
        unit="J",
        tolerance=1e-6,
        source="energy of a capacitor, C U² / 2",
        status="by hand",
    ),
    *series(
        drive_input.discharged_voltage_v,
        [
            # one time constant: 325 / e; 5 s of 1 s each: 340 e^-5
            ("1 mF, 325 V, 33 kΩ after 33 s", (33.0, 325.0, 33e3, 1e-3), 119.561),
            ("100 µF, 340 V, 10 kΩ after 5 s", (5.0, 340.0, 10e3, 100e-6), 2.2909),
        ],
        unit="V",
        tolerance=6e-4,
        source=CAPACITOR,
        status="by hand",
    ),
)

DYNAMICS = (
    *series(
        dynamics.acceleration_time_s,
        [
            ("0.02 kg m², 1500 r/min, 5 N m", (0.02, 1500 * RPM, 5.0), 0.628),
            ("0.1 kg m², 1750 r/min, 8 N m", (0.1, 1750 * RPM, 8.0), 2.291),
            ("0.005 kg m², 3000 r/min, 3 N m", (0.005, 3000 * RPM, 3.0), 0.524),
        ],
        unit="s",
        tolerance=0.0006,
        source=MOTION,
        status="by hand",
    ),
    *series(
        dynamics.acceleration_time_s,
        [
            # t = WK² Δn / (308 T), with 308 rounded from 307.2
            ("2 lb ft², 1750 r/min, 3 lb ft", (2 * LB_FT2, 1750 * RPM, 3 * LB_FT), 3.788),
            ("10 lb ft², 1150 r/min, 9 lb ft", (10 * LB_FT2, 1150 * RPM, 9 * LB_FT), 4.149),
        ],
        unit="s",
        tolerance=0.015,
        source="US trade's t = WK² Δn / (308 T)",
        status="seen",
    ),
    *series(
        dynamics.stopping_energy_j,
        [
            ("0.02 kg m², 1500 r/min", (0.02, 1500 * RPM), 246.7),
            ("0.1 kg m², 1750 r/min", (0.1, 1750 * RPM), 1679.0),
            ("0.01 kg m², 3000 r/min", (0.01, 3000 * RPM), 493.5),
        ],
        unit="J",
        tolerance=0.5,
        source=MOTION,
        status="by hand",
    ),
    *series(
        dynamics.stopping_power_w,
        [
            # twice the mean power of the even ramp: 2 * 246.7 / 1, 2 * 1679 / 3, 2 * 493.5 / 0.5
            ("0.02 kg m², 1500 r/min, 1 s", (0.02, 1500 * RPM, 1.0), 493.5),
            ("0.1 kg m², 1750 r/min, 3 s", (0.1, 1750 * RPM, 3.0), 1119.4),
            ("0.01 kg m², 3000 r/min, 0.5 s", (0.01, 3000 * RPM, 0.5), 1974.0),
        ],
        unit="W",
        tolerance=0.5,
        source=MOTION,
        status="by hand",
    ),
)

INERTIA = (
    *series(
        dynamics.reflected_inertia_kg_m2,
        # 2 / 20²; 0.5 / 7.5²
        [("2 kg m² behind 20:1", (2.0, 20.0), 0.005), ("0.5 behind 7.5:1", (0.5, 7.5), 0.0088889)],
        unit="kg m²",
        tolerance=1e-7,
        source="equal kinetic energy, J / i²",
        status="by hand",
    ),
    *series(
        dynamics.belt_inertia_kg_m2,
        [
            # 100·(1 / 100)²; 60·(0.342 / 183.26)²
            ("100 kg, 1 m/s, 100 rad/s", (100.0, 1.0, 100.0), 0.01),
            ("60 kg, 0.342 m/s, 1750 r/min", (60.0, 0.342, 1750 * RPM), 2.0896e-4),
        ],
        unit="kg m²",
        tolerance=1e-7,
        source="equal kinetic energy, m v² / ω²",
        status="by hand",
    ),
    *series(
        dynamics.bus_margin_j,
        # 0.5·1e-3·(400² - 300²); 0.5·470e-6·(400² - 340²)
        [
            ("1 mF, 300 to 400 V", (1e-3, 300.0, 400.0), 35.0),
            ("470 µF, 340 to 400 V", (470e-6, 340.0, 400.0), 10.434),
        ],
        unit="J",
        tolerance=1e-6,
        source="energy of a capacitor, C (U2² - U1²) / 2",
        status="by hand",
    ),
    *series(
        dynamics.ramp_travel_m,
        [("0.8 m/s to a stop in 5 s", (0.8, 5.0), 2.0)],
        unit="m",
        tolerance=1e-9,
        source="even acceleration, v t / 2",
        status="by hand",
    ),
)

OVERLOAD = series(
    drive_rating.overload_torque_share,
    [
        # √(1.5² - 0.6²) / 0.8 and √(1.6² - 0.36) / 0.8
        ("150 % of the motor's own current, 0.8", (5.0, 1.5, 5.0, 0.8), 1.7185),
        ("200 % of 4 A on a 5 A motor, 0.8", (4.0, 2.0, 5.0, 0.8), 1.8540),
    ],
    tolerance=6e-5,
    source="active and reactive current at right angles, constant magnetising current",
    status="by hand",
)

RULES_OF_THUMB = (
    *series(
        drive_rating.altitude_derating,
        [("1000 m", (1000.0,), 1.0), ("2000 m", (2000.0,), 0.90), ("3000 m", (3000.0,), 0.80)],
        of=lambda derating: derating.value,
        tolerance=1e-9,
        source="rule of thumb, 1 % for each 100 m above 1000 m",
        status="common practice",
    ),
    *series(
        drive_rating.ambient_derating,
        [("50 °C on a 40 °C rating", (kelvin(50), kelvin(40)), 0.80)],
        of=lambda derating: derating.value,
        tolerance=1e-9,
        source="rule of thumb, 2 % for each kelvin above the rated ambient",
        status="common practice",
    ),
    *series(
        drive_rating.feed_derating,
        [("three-phase drive on one phase", ("3", 1), 0.5)],
        of=lambda derating: derating.value,
        tolerance=1e-9,
        source="rule of thumb, half the rated current on one phase",
        status="common practice",
    ),
    *series(
        drive_input.single_phase_ratio,
        [
            # sqrt 3 * 0.9 / 0.6
            ("power factors 0.9 and 0.6", (0.9, 0.6), 2.598),
        ],
        tolerance=0.0005,
        source="equal active power on one and on three phases",
        status="by hand",
    ),
)

CHECKS = (
    *INPUT,
    *SIMULATED,
    *BUS,
    *DISCHARGE,
    *DYNAMICS,
    *INERTIA,
    *OVERLOAD,
    *RULES_OF_THUMB,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()


def test_simulated_drive_stops_with_its_bus_just_below_the_trip_level():
    """The shortest ramp, run step by step: shaft, losses and bus capacitor."""
    inertia, speed, friction, losses = 0.02, 157.08, 1.0, 40.0
    bus_f, bus_v, trip_v = 470e-6, 340.0, 400.0
    ramp = dynamics.deceleration_time_s(
        inertia, speed, 8.0, dynamics.bus_margin_j(bus_f, bus_v, trip_v), friction, losses
    )
    step, now, highest = ramp.time_s / 200_000, speed, bus_v
    charge_energy = 0.5 * bus_f * bus_v**2
    while now > 0.0:
        braking = inertia * speed / ramp.time_s - friction
        charge_energy += max(0.0, braking * now - losses) * step
        now -= (braking + friction) / inertia * step
        highest = max(highest, math.sqrt(2.0 * charge_energy / bus_f))
    assert ramp.limit == "bus"
    assert highest == pytest.approx(trip_v, rel=1e-4)
