"""Brush beds, water, belts and limits of handling against sources, hand work and simulation."""

import math
from functools import partial

import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from core.calc import (
    brush_bed,
    brush_places,
    conveying,
    drivetrain,
    handling,
    pump,
    pump_curve,
    water,
    worm_gear,
)
from core.calc.pump_curve import PumpCurve, SystemCurve
from core.errors import RangeError
from tests.published.checks import Check, every, series

RPM = math.pi / 30
HOUR = 3600.0
FT = 0.3048
LB = 0.45359237
LBF = LB * 9.80665
GPM = 3.785411784e-3 / 60
HP = 550 * FT * LBF
FT_MIN = FT / 60

SHEET = "relation {} of the project's fact sheet on fruit lines, worked by a separate script"


def sheet(name):
    return {"source": SHEET.format(name), "status": "formula"}


# --- Brush beds: relations B1 and B2. Diameter mm, rpm forward, rpm reverse, length m.

BEDS = (
    # d, forward, reverse, L, drift, scrub, time
    (127.0, 96.0, 81.0, 1.6002, 0.0498728, 0.588499, 32.0856),
    (140.0, 90.0, 80.0, 2.0, 0.0366519, 0.623083, 54.5674),
    (120.0, 92.0, 78.0, 1.375, 0.0439823, 0.534071, 31.2626),
    (100.0, 100.0, 85.0, 1.5, 0.0392699, 0.484329, 38.1972),
)


def surface(diameter_mm, rpm):
    return drivetrain.surface_speed_m_s(rpm * RPM, diameter_mm / 1e3)


def speeds(bed):
    return surface(bed[0], bed[1]), surface(bed[0], bed[2])


def named(bed):
    return f"{bed[0]:g} mm, {bed[1]:g} against {bed[2]:g} rpm"


DRIFT = (
    *series(
        brush_bed.drift_index_m_s,
        [(named(bed), (*speeds(bed), 1.0), bed[4]) for bed in BEDS],
        unit="m/s",
        tolerance=5e-7,
        **sheet("B1"),
    ),
    *series(
        brush_bed.scrub_index_m_s,
        [(named(bed), speeds(bed), bed[5]) for bed in BEDS],
        unit="m/s",
        tolerance=5e-7,
        **sheet("B1"),
    ),
    *series(
        brush_places.time_on_bed_s,
        [(named(bed), (bed[3], brush_bed.drift_index_m_s(*speeds(bed))), bed[6]) for bed in BEDS],
        unit="s",
        tolerance=5e-4,
        **sheet("B1"),
    ),
    *series(
        brush_bed.drift_index_m_s,
        [("127 mm, 85 against 85 rpm", (surface(127, 85), surface(127, 85), 1.0), 0.0)],
        unit="m/s",
        tolerance=1e-12,
        **sheet("B1"),
    ),
)

COUNTED = (
    # q, pitch mm, width mm, fruit mm, packing, brushes; per valley, needed, places, time
    (5.903, 133.35, 1219.2, 60.96, 0.80, 12, 16.0, 0.0491978, 192.0, 32.5258),
    (4.487, 125.0, 800.0, 50.0, 0.80, 11, 12.8, 0.0438184, 140.8, 31.3795),
    (8.0, 140.0, 1000.0, 70.0, 0.75, 14, 10.7143, 0.104533, 150.0, 18.75),
    (2.667, 125.0, 800.0, 75.0, 0.80, 11, 8.53333, 0.0390674, 93.8667, 35.1956),
    (10.0, 133.35, 1219.2, 60.96, 0.80, 12, 16.0, 0.0833438, 192.0, 19.2),
)


def in_valley(row):
    return brush_places.fruit_per_valley(row[2] / 1e3, row[3] / 1e3, row[4])


def counted(row):
    return f"{row[0]:g} fruit/s of {row[3]:g} mm, {row[5]} brushes"


PLACES = (
    *series(
        brush_places.fruit_per_valley,
        [(counted(row), (row[2] / 1e3, row[3] / 1e3, row[4]), row[6]) for row in COUNTED],
        tolerance=5e-5,
        **sheet("B2"),
    ),
    *series(
        brush_places.needed_drift_m_s,
        [(counted(row), (row[0], row[1] / 1e3, in_valley(row)), row[7]) for row in COUNTED],
        unit="m/s",
        tolerance=6e-7,
        **sheet("B2"),
    ),
    *series(
        brush_places.places,
        [(counted(row), (row[5], in_valley(row)), row[8]) for row in COUNTED],
        tolerance=5e-5,
        **sheet("B2"),
    ),
    *series(
        brush_places.time_by_places_s,
        [
            (counted(row), (brush_places.places(row[5], in_valley(row)), row[0]), row[9])
            for row in COUNTED
        ],
        unit="s",
        tolerance=5e-5,
        **sheet("B2"),
    ),
)

# The sample lines, whose figures were worked out by hand beside the program. The first: 12 brushes
# of 5 in at 5.25 in, 96 against 81 rpm as set; the second: 11 of 120 mm at 125 mm.
FIRST = (5.9028, 0.13335, 16.0)
FIRST_DRIFT = brush_bed.drift_index_m_s(surface(127, 95.94), surface(127, 81.0))
SECOND_DRIFT = 0.0439
NOTES = {"source": "notes to the two sample lines, worked by hand", "status": "by hand"}
needed = brush_places.needed_drift_m_s
SAMPLES = (
    *series(
        brush_bed.drift_index_m_s,
        [
            ("first sample line", (surface(127, 95.94), surface(127, 81.0), 1.0), 9.78),
            ("first line, one drive misread", (surface(127, 95.94), surface(127, 86.0), 1.0), 6.53),
            ("first line, 98 against 78 rpm", (surface(127, 98), surface(127, 78), 1.0), 13.1),
        ],
        of=lambda speed: speed / FT_MIN,
        unit="ft/min",
        tolerance=0.05,
        **NOTES,
    ),
    *series(
        brush_places.needed_drift_m_s,
        [
            ("first sample line", FIRST, 9.68),
            ("first line at 8 bins/h", (FIRST[0] * 8 / 6, *FIRST[1:]), 12.91),
        ],
        of=lambda speed: speed / FT_MIN,
        unit="ft/min",
        tolerance=0.006,
        **NOTES,
    ),
    *series(
        brush_places.places_used_share,
        [
            ("first sample line", (needed(*FIRST), FIRST_DRIFT), 99.0),
            ("first line at 8 bins/h", (needed(FIRST[0] * 8 / 6, *FIRST[1:]), FIRST_DRIFT), 132.0),
            ("second line, plums", (needed(4.487, 0.125, 12.8), SECOND_DRIFT), 99.8),
            ("second line, persimmons", (needed(2.667, 0.125, 8.53333), SECOND_DRIFT), 89.0),
        ],
        of=lambda share: 100 * share,
        unit="%",
        tolerance=0.1,
        **NOTES,
    ),
    *series(
        brush_places.hold_up,
        [("first sample line", (FIRST[0], 1.6002, FIRST_DRIFT), 190.0)],
        unit="fruit",
        tolerance=0.6,
        **NOTES,
    ),
    *series(
        brush_places.time_on_bed_s,
        [
            ("first sample line", (1.6002, FIRST_DRIFT), 32.2),
            ("first line, 98 against 78 rpm", (1.6002, 13.1 * FT_MIN), 24.0),
            ("first line, one drive misread", (1.6002, 6.53 * FT_MIN), 48.3),
        ],
        unit="s",
        tolerance=0.1,
        **NOTES,
    ),
)


def driven_ball(forward_m_s, reverse_m_s, traction="viscous"):
    """Mean speed of a ball that hops between brushes of both sets, by Newton's law.

    Traction by the slip of each contact; the load swings between the sets some times a second; the
    fruit beside it rub against the spin of the ball. From rest, mean after it has settled.
    """
    mass, radius, gravity, friction = 0.11, 0.03, 9.81, 0.05
    inertia = 0.4 * mass * radius**2
    drag = 0.25 * mass  # N s/m of each set under the whole weight: fruit follows in a few seconds
    rub = 4.0 * inertia  # N m s: neighbours stop the spin in a quarter of a second

    def pulls(load, slip):
        if traction == "viscous":
            return load * drag * slip
        return load * friction * mass * gravity * math.tanh(slip / 1e-3)

    def moving(time, state):
        _place, speed, spin = state
        on_forward = 0.5 + 0.4 * math.sin(2 * math.pi * 3.0 * time)
        contact = speed - spin * radius
        force = pulls(on_forward, forward_m_s - contact)
        force += pulls(1.0 - on_forward, -reverse_m_s - contact)
        return (speed, force / mass, (-radius * force - rub * spin) / inertia)

    solved = solve_ivp(
        moving, (0.0, 120.0), (0.0, 0.0, 0.0), t_eval=(60.0, 120.0), max_step=0.02, rtol=1e-6
    )
    return float(solved.y[0][1] - solved.y[0][0]) / 60.0


SIMULATED = series(
    brush_bed.drift_index_m_s,
    [
        (
            f"ball driven at {one:g} and {other:g} m/s",
            (one, other, 1.0),
            partial(driven_ball, one, other),
        )
        for one, other in ((0.638, 0.5386), (0.578, 0.490), (0.60, 0.30), (0.50, 0.55))
    ],
    unit="m/s",
    tolerance=1e-5,
    source="Newton's law for a ball on two sets of brushes with traction by slip, scipy solve_ivp",
    status="library",
)

LIMITS_OF_THE_BED = (
    *series(
        brush_places.valley_climb_rad,
        # arcsin(66.5 / 93.5)
        [("fruit 60, brush 127, pitch 133 mm", (0.060, 0.127, 0.133), 45.3)],
        of=math.degrees,
        unit="°",
        tolerance=0.05,
        source="fact sheet on fruit lines, 2.B.3, geometry",
        status="by hand",
    ),
    *series(
        brush_places.valley_turning_rad_s,
        # 0.6283 / (π 0.06) turns a second
        [("120 mm at 100 rpm, fruit 60 mm", (surface(120, 100), 0.060), 3.3333)],
        of=lambda spin: spin / (2 * math.pi),
        unit="1/s",
        tolerance=5e-5,
        source="rolling without slip: 100 rpm by the ratio of diameters, 2",
        status="by hand",
    ),
    *series(
        brush_bed.drift_budget,
        [
            ("1 % of 0.638 and 0.5386 m/s", (0.638, 0.5386, 0.00638, 0.005386), 8.39985),
        ],
        of=lambda budget: 100 * budget.standard / 0.0497,
        unit="%",
        tolerance=1e-4,
        **sheet("U1"),
    ),
)

HABITS = (
    *series(
        brush_bed.drift_index_m_s,
        [
            ("forward brushes a little faster", (0.60, 0.55, 1.0), "carries on"),
            ("reverse brushes a little faster", (0.55, 0.60, 1.0), "holds back"),
        ],
        of=lambda drift: "carries on" if drift > 0 else "holds back",
        source="brushes that turn against each other, the forward ones a little faster",
        status="common practice",
    ),
    *series(
        pump.pump_power_w,
        [("50 Hz pump on 60 Hz", (100.0, 60.0, 50.0), 173.0)],
        unit="%",
        tolerance=0.5,
        source="a pump bought for 50 Hz overloads its motor on 60 Hz",
        status="common practice",
    ),
)

# --- Pumps: relations P1 and P2, published affinity figures, and the crossing of the curves.

RATIOS = (
    (0.8, 0.8, 0.64, 0.512),
    (1.2, 1.2, 1.44, 1.728),
    (0.9, 0.9, 0.81, 0.729),
    (0.8667, 0.8667, 0.75117, 0.65104),
    (0.5, 0.5, 0.25, 0.125),
)
AFFINITY = tuple(
    check
    for column, function in enumerate((pump.pump_flow_m3_s, pump.pump_head_m, pump.pump_power_w), 1)
    for check in (
        *series(
            function,
            [(f"{row[0]:g} of rated speed", (1.0, row[0], 1.0), row[column]) for row in RATIOS],
            tolerance=5e-6,
            **sheet("P1"),
        ),
        *series(
            function,
            [("10 % more speed", (100.0, 1.1, 1.0), (110.0, 121.0, 133.0)[column - 1])],
            unit="%",
            tolerance=0.5,
            source="engineering guides on pumps and fans: +10 % speed, +10 % flow, +21 % head, "
            "+33 % power",
            status="seen",
        ),
    )
)

LIFTED = (
    (60.0, 3.0, 0.6, 0.49033, 0.81722),
    (40.0, 5.0, 0.55, 0.54481, 0.99057),
    (90.0, 2.2, 0.65, 0.53937, 0.82979),
    (25.0, 8.0, 0.5, 0.54481, 1.08963),
    (68.14, 3.048, 0.6, 0.56576, 0.94294),
)
POWER = (
    *series(
        pump.hydraulic_power_w,
        [(f"{row[0]:g} m³/h, {row[1]:g} m", (row[0] / HOUR, row[1]), row[3]) for row in LIFTED],
        of=lambda power: power / 1e3,
        unit="kW",
        tolerance=6e-6,
        **sheet("P2"),
    ),
    *series(
        pump.shaft_power_w,
        [
            (
                f"{row[0]:g} m³/h, {row[1]:g} m, {row[2]:g}",
                (pump.hydraulic_power_w(row[0] / HOUR, row[1]), row[2]),
                row[4],
            )
            for row in LIFTED
        ],
        of=lambda power: power / 1e3,
        unit="kW",
        tolerance=6e-6,
        **sheet("P2"),
    ),
    *series(
        pump.hydraulic_power_w,
        [
            ("300 gpm, 10 ft", (300 * GPM, 10 * FT), 0.7576),
            ("100 gpm, 100 ft", (100 * GPM, 100 * FT), 2.525),
        ],
        of=lambda power: power / HP,
        unit="hp",
        tolerance=0.004,
        source="water horsepower = gpm · ft / 3960, teaching texts of irrigation and pumping",
        status="seen",
    ),
    *series(
        pump.shaft_power_w,
        [("100 gpm, 100 ft, 70 %", (pump.hydraulic_power_w(100 * GPM, 100 * FT), 0.7), 2.69)],
        of=lambda power: power / 1e3,
        unit="kW",
        tolerance=0.006,
        source="worked example of brake horsepower in a calculation page, 3.608 hp or 2.69 kW",
        status="seen",
    ),
    *series(
        pump_curve.system_curve,
        [("lift 12 m, 8 m of friction at 40 L/s", (12.0, 0.040, 20.0), 5000.0)],
        of=lambda system: system.friction_s2_m5,
        unit="s²/m⁵",
        tolerance=0.5,
        source="worked example of a duty point on a page on pump selection, K = 8 / 0.040²",
        status="seen",
    ),
)

PUMP = PumpCurve(6.0, 20.0, -5200.0)


def found_flow(pump_held, system, share):
    """Flow at which a search finds the two heads equal."""

    def spare(flow):
        slowed = share**2 * (
            pump_held.shutoff_m
            + pump_held.linear_s_m2 * (flow / share)
            + pump_held.square_s2_m5 * (flow / share) ** 2
        )
        return slowed - system.static_m - system.friction_s2_m5 * flow**2

    return 1e3 * float(brentq(spare, 1e-9, 1.0, xtol=1e-12))


CROSSINGS = series(
    pump_curve.operating_point,
    [
        (
            f"lift {lift:g} m, {100 * share:g} % speed",
            (PUMP, SystemCurve(lift, rub), share, 1.0),
            partial(found_flow, PUMP, SystemCurve(lift, rub), share),
        )
        for lift, rub, share in (
            (0.0, 7500.0, 1.0),
            (0.0, 7500.0, 0.6),
            (1.0, 7500.0, 1.0),
            (1.0, 7500.0, 0.8),
            (3.0, 2000.0, 0.9),
            (3.0, 2000.0, 0.72),
        )
    ],
    of=lambda point: 1e3 * point.flow_m3_s,
    unit="L/s",
    tolerance=1e-6,
    source="search for the flow of equal heads, each point of the curve moved by the affinity "
    "laws, scipy brentq",
    status="library",
)

# --- Flume and tank: relations P3 to P5, exam solutions, apples.

EXAM_1 = "San Diego State University, CIVE 530 midterm 2 problem 1, spring 2007, solution"
EXAM_2 = "San Diego State University, CIVE 530 midterm 1 problem 4, fall 2008, solution"
FLUMES = (
    *series(
        water.manning_velocity_m_s,
        [("5 m wide, 0.8 m deep", (5.0, 0.8, 0.0025, 0.015), 2.387)],
        unit="m/s",
        tolerance=0.0006,
        source=EXAM_1,
        status="seen",
    ),
    *series(
        water.flow_for_velocity_m3_s,
        [("5 m wide, 0.8 m deep", (2.387, 5.0, 0.8), 9.548)],
        unit="m³/s",
        tolerance=0.0006,
        source=EXAM_1,
        status="seen",
    ),
    *series(
        water.manning_velocity_m_s,
        [("6 m wide, 1.6 m deep, radius rounded there", (6.0, 1.6, 0.0025, 0.015), 3.428)],
        unit="m/s",
        tolerance=0.0016,
        source=EXAM_2,
        status="seen",
    ),
    *series(
        water.flow_for_velocity_m3_s,
        [("6 m wide, 1.6 m deep", (3.428, 6.0, 1.6), 32.91)],
        unit="m³/s",
        tolerance=0.006,
        source=EXAM_2,
        status="seen",
    ),
    *series(
        water.manning_velocity_m_s,
        [
            ("0.5 by 0.2 m", (0.5, 0.2, 0.002, 0.012), 0.861335),
            ("0.6 by 0.15 m", (0.6, 0.15, 0.001, 0.012), 0.567743),
            ("0.4 by 0.25 m", (0.4, 0.25, 0.0015, 0.010), 0.895126),
        ],
        unit="m/s",
        tolerance=1e-6,
        **sheet("P3"),
    ),
    *series(
        water.flume_velocity_m_s,
        [
            ("60 m³/h, 0.5 by 0.2 m", (60 / HOUR, 0.5, 0.2), 0.166667),
            ("27.25 m³/h, 18 by 6 in", (27.25 / HOUR, 0.4572, 0.1524), 0.108636),
            ("90 m³/h, 0.6 by 0.25 m", (90 / HOUR, 0.6, 0.25), 0.166667),
            ("40 m³/h, 0.4 by 0.2 m", (40 / HOUR, 0.4, 0.2), 0.138889),
            ("120 m³/h, 0.8 by 0.3 m", (120 / HOUR, 0.8, 0.3), 0.138889),
        ],
        unit="m/s",
        tolerance=1e-6,
        **sheet("P4"),
    ),
    *series(
        water.froude,
        [
            ("60 m³/h, 0.5 by 0.2 m", (0.1666667, 0.2), 0.119007),
            ("27.25 m³/h, 18 by 6 in", (0.1086358, 0.1524), 0.0888628),
            ("90 m³/h, 0.6 by 0.25 m", (0.1666667, 0.25), 0.106443),
            ("40 m³/h, 0.4 by 0.2 m", (0.1388889, 0.2), 0.0991727),
            ("120 m³/h, 0.8 by 0.3 m", (0.1388889, 0.3), 0.0809742),
        ],
        tolerance=1e-6,
        **sheet("P4"),
    ),
    *series(
        water.orifice_flow_m3_s,
        [
            ("50 mm under 1.5 m", (0.050, 1.5, 0.62), 23.7709),
            ("75 mm under 0.8 m", (0.075, 0.8, 0.62), 39.0595),
            ("1 in under 10 ft", (0.0254, 3.048, 0.62), 8.7445),
            ("40 mm under 1 m", (0.040, 1.0, 0.61), 12.2213),
            ("100 mm under 0.5 m", (0.100, 0.5, 0.62), 54.8965),
        ],
        of=lambda flow: HOUR * flow,
        unit="m³/h",
        tolerance=6e-5,
        **sheet("P5"),
    ),
)


def ball_mm(volume_cm3):
    return 10.0 * (6.0 * volume_cm3 / math.pi) ** (1 / 3)


# Volume from buoyancy at 9.81 N/kg and density from drag, which then holds buoyancy less weight.
APPLES = (
    *series(
        water.rise_speed_m_s,
        [
            (name, (ball_mm(volume) / 1e3, density), speed)
            for name, volume, density, speed in (
                ("Asheghi apples, first harvest", 61.71, 773.23, 0.40),
                ("Asheghi apples, second harvest", 77.06, 765.81, 0.43),
                ("Gare Yapraq apples", 93.43, 712.67, 0.52),
            )
        ],
        unit="m/s",
        tolerance=0.026,
        source="Int. J. Adv. Biol. Biomed. Res. 2(5) (2014) 1562, measured, abstract",
        status="seen",
    ),
    *series(
        water.rise_speed_m_s,
        [
            (name, (ball_mm(1e3 * buoyancy / 9.81) / 1e3, 1e3 * (1 - drag / buoyancy)), speed)
            for name, buoyancy, drag, speed in (
                ("Redspar apples", 2.69, 0.46, 0.47),
                ("Delbarstival apples", 1.40, 0.24, 0.42),
            )
        ],
        unit="m/s",
        tolerance=0.026,
        source="Int. Agrophysics 22(3) (2008) 225, measured, abstract",
        status="seen",
    ),
)

# --- Belts: relations M5 to M8.

SLIDERS = (
    ((12.0, 3.0, 6.0, 0.0, 0.3, 0.05), 273.6055),
    ((12.0, 3.0, 6.0, 1.2, 0.3, 0.05), 414.8213),
    ((20.0, 4.0, 4.0, 0.0, 0.25, 0.05), 243.2049),
    ((8.0, 2.5, 3.0, 0.0, 0.33, 0.1), 109.2951),
    ((15.0, 5.0, 8.0, -0.5, 0.3, 0.05), 416.7826),
)
# load, belt, rollers, length, rise, factor, friction
IDLERS = (
    ((12.0, 3.0, 5.0, 3.0, 0.0, 9.0, 0.02), 121.7986),
    ((12.0, 3.0, 5.0, 10.0, 0.0, 4.5, 0.02), 202.9977),
    ((15.0, 3.5, 6.0, 6.0, 0.0, 5.9, 0.025), 243.0088),
    ((12.0, 3.0, 5.0, 10.0, 1.0, 4.5, 0.03), 420.9818),
    ((20.0, 5.0, 8.0, 20.0, 0.0, 3.2, 0.02), 476.9955),
)
# pull, speed, diameter, ratio, efficiency; power of motor, torque of drum, of motor
DRIVEN = (
    (273.6, 0.4, 0.1135, 30.0, 0.65, 168.3692, 15.5268, 0.796246),
    (150.0, 0.25, 0.08, 60.0, 0.55, 68.1818, 6.0, 0.181818),
    (667.2, 0.4572, 0.15, 20.0, 0.9, 338.9376, 50.04, 2.78),
    (90.0, 0.6, 0.1, 15.0, 0.75, 72.0, 4.5, 0.4),
    (400.0, 0.15, 0.2, 50.0, 0.6, 100.0, 40.0, 1.333333),
)
BELTS = (
    *series(
        conveying.slider_pull_n,
        [
            (f"{args[0]:g} kg/m over {args[2]:g} m, rise {args[3]:g} m", args, pull)
            for args, pull in SLIDERS
        ],
        unit="N",
        tolerance=6e-5,
        **sheet("M5"),
    ),
    *series(
        conveying.idler_pull_n,
        [
            (f"{args[0]:g} kg/m over {args[3]:g} m, rise {args[4]:g} m", args, pull)
            for args, pull in IDLERS
        ],
        unit="N",
        tolerance=6e-5,
        **sheet("M6"),
    ),
    *series(
        conveying.motor_power_w,
        [(f"{row[0]:g} N at {row[1]:g} m/s", (row[0], row[1], row[4]), row[5]) for row in DRIVEN],
        unit="W",
        tolerance=6e-5,
        **sheet("M7"),
    ),
    *series(
        conveying.drum_torque_n_m,
        [(f"{row[0]:g} N on {row[2]:g} m", (row[0], row[2]), row[6]) for row in DRIVEN],
        unit="N·m",
        tolerance=1e-6,
        **sheet("M7"),
    ),
    *series(
        conveying.motor_torque_n_m,
        [
            (f"{row[6]:g} N·m through {row[3]:g}", (row[6], row[3], row[4]), row[7])
            for row in DRIVEN
        ],
        unit="N·m",
        tolerance=1e-6,
        **sheet("M7"),
    ),
    *series(
        conveying.belt_power_w,
        [
            ("110 lb on a bed of friction 0.3 at 60 ft/min", (0.3 * 110 * LBF, 60 * FT_MIN), 0.060),
            ("150 lbf at 90 ft/min", (150 * LBF, 90 * FT_MIN), 0.4091),
        ],
        of=lambda power: power / HP,
        unit="hp",
        tolerance=5e-5,
        source="horsepower = pull · ft/min / 33 000, belting formula sheet",
        status="seen",
    ),
)

# Lead angle in degrees, efficiency in per cent; friction 0.05 and pressure angle 14.5°.
WORMS = (
    *series(
        worm_gear.worm_efficiency,
        [
            (f"lead {lead:g}°, friction 0.05", (math.radians(lead), 0.05, math.radians(14.5)), eff)
            for lead, eff in (
                (1, 25.2),
                (2.5, 45.7),
                (7.5, 71.3),
                (10, 76.6),
                (15, 82.7),
                (20, 85.9),
                (30, 89.1),
            )
        ],
        of=lambda efficiency: 100 * efficiency,
        unit="%",
        tolerance=0.06,
        source="Shigley, Mechanical Engineering Design, table of worm gearset efficiency",
        status="from memory",
    ),
    *series(
        worm_gear.worm_efficiency,
        [
            (
                f"lead {lead:g}°, friction {rub:g}, pressure angle 20°",
                (math.radians(lead), rub),
                eff,
            )
            for lead, rub, eff in (
                (3.0, 0.05, 0.494824),
                (5.0, 0.05, 0.618926),
                (10.0, 0.04, 0.799489),
                (20.0, 0.03, 0.908676),
                (4.5, 0.08, 0.477150),
            )
        ],
        tolerance=1e-6,
        **sheet("M8"),
    ),
    *series(
        worm_gear.worm_locking_lead_rad,
        # arctan(0.05 / 0.9396926) = 0.0532089 - 0.0000502 + 0.0000001 = 0.0531588 = 3.04577°
        [("friction 0.05, pressure angle 20°", (0.05,), 3.04577)],
        of=math.degrees,
        unit="°",
        tolerance=5e-5,
        source="balance of forces at the thread, load just not driving",
        status="by hand",
    ),
)

LENGTHS = series(
    conveying.length_factor,
    [
        (f"{length:g} m", (length,), factor)
        for length, factor in ((5.0, 6.6), (10.0, 4.5), (20.0, 3.2), (80.0, 1.92))
    ],
    tolerance=1e-9,
    source="DIN 22101 and ISO 5048, length factors",
    status="from memory",
)

# --- Limits of handling: what the sources say, in their own units.


def end(kind, quantity, fruit, which, per=1.0):
    """One end of the first limit of a kind that speaks of a fruit, in the source's unit."""
    limits = handling.limits_for(kind, quantity, fruit)
    return getattr(limits[0], which) / per


SAID = tuple(
    Check(
        function=handling.limits_for,
        case=case,
        got=partial(end, *arguments),
        expected=expected,
        tolerance=1e-9,
        unit=unit,
        source=source,
        status="seen",
    )
    for case, arguments, expected, unit, source in (
        (
            "wax brushes for lemons, at most",
            ("brush_bed", "brush_speed", "lemon", "high", RPM),
            100.0,
            "r/min",
            "Lemons, Technical Bulletin 29, Guyana NARI and USAID, 2004",
        ),
        (
            "brushing of oranges, harm from",
            ("brush_bed", "brushing_time", "orange", "low", 60.0),
            1.0,
            "min",
            "USDA report on rind breakdown of oranges, AgEcon Search 313305, summary",
        ),
        (
            "free chlorine, at least",
            ("pump", "free_chlorine", "", "low", 1e-3),
            100.0,
            "mg/L",
            "UF/IFAS CH160, Chlorine Use in Produce Packing Lines",
        ),
        (
            "free chlorine, at most",
            ("pump", "free_chlorine", "", "high", 1e-3),
            150.0,
            "mg/L",
            "UF/IFAS CH160, Chlorine Use in Produce Packing Lines",
        ),
        (
            "pH, at least",
            ("pump", "ph", "", "low"),
            6.5,
            "",
            "UF/IFAS CH160, Chlorine Use in Produce Packing Lines",
        ),
        (
            "pH, at most",
            ("pump", "ph", "", "high"),
            7.5,
            "",
            "UF/IFAS CH160, Chlorine Use in Produce Packing Lines",
        ),
        (
            "tomatoes under water, at most",
            ("pump", "immersion_depth", "tomatoes", "high", FT),
            1.0,
            "ft",
            "guidance for tomatoes as quoted in a web page, fact sheet on fruit lines 1.2",
        ),
        (
            "tomatoes in the water, at most",
            ("pump", "immersion_time", "tomatoes", "high", 60.0),
            2.0,
            "min",
            "guidance for tomatoes as quoted in a web page, fact sheet on fruit lines 1.2",
        ),
        (
            "turns in view of a sorter, at least",
            ("roller_conveyor", "turns_in_view", "", "low"),
            2.0,
            "",
            "training text on sorting and grading, conveyors: twice within the view of the worker",
        ),
        (
            "peaches on flat steel, harm from",
            ("belt", "drop", "peach", "low", 0.01),
            31.0,
            "cm",
            "trials on bruising of peaches, fact sheet on fruit lines 1.5",
        ),
    )
)

CHECKS = (
    *DRIFT,
    *PLACES,
    *SAMPLES,
    *SIMULATED,
    *LIMITS_OF_THE_BED,
    *HABITS,
    *AFFINITY,
    *POWER,
    *CROSSINGS,
    *FLUMES,
    *APPLES,
    *BELTS,
    *WORMS,
    *LENGTHS,
    *SAID,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()


def test_dry_friction_gives_no_drift_in_proportion():
    """What the index leaves out: a dry brush pulls no harder for turning faster."""
    wide, narrow = (driven_ball(0.60, reverse, traction="dry") for reverse in (0.30, 0.50))
    assert wide == pytest.approx(narrow, abs=0.002)
    index = [brush_bed.drift_index_m_s(0.60, reverse) for reverse in (0.30, 0.50)]
    assert index[0] - index[1] == pytest.approx(0.1)


def test_equal_brushes_hold_fruit_for_ever():
    with pytest.raises(RangeError, match="only when others push"):
        brush_places.time_on_bed_s(1.6, brush_bed.drift_index_m_s(0.565, 0.565))
