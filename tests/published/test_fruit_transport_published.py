"""Fruit on its way from bin to cup against tables worked elsewhere, sources and the trade.

The tables V1 to V3, C1 to C3, T1 and H1 of the project's reference were worked out by scripts that
share nothing with this program.
"""

import math

from core.calc import belt_pair, blur, camera, cup_drop, cups, spacing, throughput, transfer
from tests.published.checks import every, series

MM, HOUR, TON_AN_HOUR = 1e-3, 1 / 3600, 1000 / 3600
INCH, POUND = 0.0254, 0.45359237


def worked(table, rows, columns):
    """Checks of a table whose rows are inputs and outputs, six digits each.

    A column holds its place among the outputs, the function, its arguments of the inputs, the unit
    and the size of that unit in SI.
    """
    return tuple(
        check
        for place, function, arguments, unit, size in columns
        for check in series(
            function,
            [
                (f"{table} row {number}", arguments(*inputs), outputs[place])
                for number, (inputs, outputs) in enumerate(rows, start=1)
            ],
            of=lambda result, size=size: result / size,
            unit=unit,
            tolerance=6e-6 * max(abs(outputs[place]) for _inputs, outputs in rows),
            source=f"worked separately, reference/fruit-line.md, table {table}",
            status="formula",
        )
    )


# speeds of both belts, diameter in mm, slope in degrees: mean, turns a second, length to part
V1 = worked(
    "V1",
    [
        ((0.44, 0.4, 61, 45), (0.42, 0.147593, 0.6405)),
        ((0.25, 0.23, 60, 30), (0.24, 0.106103, 0.72)),
        ((0.5, 0.46, 75, 40), (0.48, 0.132054, 0.9)),
        ((0.274, 0.253, 50, 45), (0.2635, 0.0945332, 0.627381)),
        ((0.2274, 0.211, 60.96, 45), (0.2192, 0.0605528, 0.814782)),
    ],
    [
        (0, belt_pair.mean_speed_m_s, lambda a, b, _d, _s: (a, b), "m/s", 1.0),
        (
            1,
            belt_pair.turning_rad_s,
            lambda a, b, d, s: (a, b, d * MM, math.radians(s)),
            "1/s",
            2 * math.pi,
        ),
        (2, belt_pair.separation_length_m, lambda a, b, d, _s: (a, b, d * MM), "m", 1.0),
    ],
)

# slope in degrees, rolling resistance, step of speed: share gained by sliding, time to settle
V2 = worked(
    "V2",
    [
        ((0, 0.05, 0.25), (0.285714, 0.509858)),
        ((30, 0.05, 0.25), (0.347826, 0.509858)),
        ((45, 0.05, 0.2), (0.444444, 0.407886)),
        ((60, 0.08, 0.2), (0.615385, 0.254929)),
        ((0, 0.03, 0.1), (0.285714, 0.339905)),
    ],
    [
        (0, transfer.settled_share, lambda s, _c, _v: (math.radians(s),), "", 1.0),
        (1, transfer.settling_time_s, lambda _s, c, v: (v, c), "s", 1.0),
    ],
)

# pitch in mm, two speeds, diameter in mm: pitch after in mm, fruit a second before and after
V3_ROWS = [
    ((61, 0.22, 0.34375, 61), (95.3125, 34.3125, 3.60656)),
    ((80, 0.4, 0.5, 61), (100, 39, 5)),
    ((70, 0.3, 0.48, 65), (112, 47, 4.28571)),
    ((61, 0.34, 0.34, 61), (61, 0, 5.57377)),
    ((50, 0.2636, 0.5022, 50), (95.258, 45.258, 5.272)),
]
V3 = worked(
    "V3",
    V3_ROWS,
    [
        (0, spacing.pitch_after_m, lambda p, a, b, _d: (p * MM, a, b), "mm", MM),
        (2, spacing.fruit_rate_at_1_s, lambda p, a, _b, _d: (a, 1, p * MM), "1/s", 1.0),
    ],
)
V3_GAPS = series(
    spacing.gap_m,
    [
        (f"V3 row {number}", (outputs[0] * MM, inputs[3] * MM), outputs[1])
        for number, (inputs, outputs) in enumerate(V3_ROWS, start=1)
    ],
    of=lambda gap: gap / MM,
    unit="mm",
    tolerance=3e-4,
    source="worked separately, reference/fruit-line.md, table V3",
    status="formula",
)

# carrier, spin belt, diameter in mm, view, images: turns a second, time, turns, images a turn,
# degrees an image, frames a second
C1_ROWS = [
    ((0.5, 0.2, 70, 0.6, 30), (1.36419, 1.2, 1.63702, 18.326, 19.6443, 25)),
    ((0.5, 0, 65, 0.6, 30), (2.44854, 1.2, 2.93825, 10.2102, 35.2589, 25)),
    ((0.342, 0.127, 60.96, 0.4572, 30), (1.12265, 1.33684, 1.5008, 19.9893, 18.0096, 22.4409)),
    ((0.342, -0.127, 60.96, 0.4572, 30), (2.44894, 1.33684, 3.27385, 9.16354, 39.2861, 22.4409)),
    ((0.5022, 0.2656, 50, 0.5, 30), (1.50624, 0.995619, 1.49964, 20.0047, 17.9957, 30.132)),
    ((1, 0.6, 75, 0.8, 24), (1.69765, 0.8, 1.35812, 17.6715, 20.3718, 30)),
]
C1 = worked(
    "C1",
    C1_ROWS,
    [
        (0, camera.turning_1_s, lambda c, s, d, _l, _n: (c, s, d * MM), "1/s", 1.0),
        (1, camera.dwell_s, lambda c, _s, _d, view, _n: (c, view), "s", 1.0),
        (2, camera.turns_in_view, lambda c, s, d, view, _n: (c, s, d * MM, view), "", 1.0),
    ],
)
# What follows from the turns and the time as printed.
C1_IMAGES = tuple(
    check
    for function, arguments, place, size, unit in (
        (camera.images_per_turn, lambda n, _time, turns: (n, turns), 3, 1.0, ""),
        (camera.angle_per_image_rad, lambda n, _time, turns: (turns, n), 4, math.pi / 180, "°"),
        (camera.frames_needed_hz, lambda n, time, _turns: (n, time), 5, 1.0, "Hz"),
    )
    for check in series(
        function,
        [
            (f"C1 row {number}", arguments(inputs[4], outputs[1], outputs[2]), outputs[place])
            for number, (inputs, outputs) in enumerate(C1_ROWS, start=1)
        ],
        of=lambda result, size=size: result / size,
        unit=unit,
        tolerance=3e-4,
        source="worked separately, reference/fruit-line.md, table C1",
        status="formula",
    )
)
C1_BACK = series(
    camera.spin_speed_m_s,
    [
        (f"C1 row {number}", (c, outputs[2], d * MM, view), s)
        for number, ((c, s, d, view, _n), outputs) in enumerate(C1_ROWS, start=1)
    ],
    unit="m/s",
    tolerance=4e-6,
    source="worked separately, reference/fruit-line.md, table C1 from its turns back",
    status="formula",
)

# speed, cup pitch in mm, lanes, fill, mass of a fruit: cups in a lane, fruit, tonnes an hour
C2_ROWS = [
    ((0.63, 90, 1, 1, 0.18), (7, 7, 4.536)),
    ((0.5, 95, 1, 0.8, 0.1), (5.26316, 4.21053, 1.51579)),
    ((0.342, 95.25, 2, 0.78, 0.109), (3.59055, 5.60126, 2.19793)),
    ((0.5022, 95.25, 1, 0.8, 0.065), (5.27244, 4.21795, 0.987001)),
    ((1, 95.25, 4, 0.85, 0.15), (10.4987, 35.6955, 19.2756)),
]
C2 = worked(
    "C2",
    C2_ROWS,
    [
        (0, cups.cups_rate_1_s, lambda v, p, _z, _f, _m: (v, p * MM), "1/s", 1.0),
        (1, cups.fruit_rate_1_s, lambda v, p, z, f, _m: (v, p * MM, z, f), "1/s", 1.0),
    ],
)
C2_MASS = series(
    throughput.mass_rate_kg_s,
    [
        (f"C2 row {number}", (outputs[1], inputs[4]), outputs[2])
        for number, (inputs, outputs) in enumerate(C2_ROWS, start=1)
    ],
    of=lambda rate: rate / TON_AN_HOUR,
    unit="t/h",
    tolerance=1e-4,
    source="worked separately, reference/fruit-line.md, table C2",
    status="formula",
)
C2_BACK = series(
    cups.speed_for_fruit_m_s,
    [
        (f"C2 row {number}", (outputs[1], p * MM, z, f), v)
        for number, ((v, p, z, f, _m), outputs) in enumerate(C2_ROWS, start=1)
    ],
    unit="m/s",
    tolerance=2e-6,
    source="worked separately, reference/fruit-line.md, table C2 from its fruit back",
    status="formula",
)

# pulses, cup pitch in mm, teeth, chain pitch in mm, speed, latency in ms, fall: pulses for a cup,
# step in mm, lead in mm, lead in cups, throw in mm
C3_ROWS = [
    ((1024, 95.25, 12, 31.75, 0.342, 40, 0.1), (256, 0.0930176, 13.68, 0.143622, 48.8406)),
    ((500, 101.6, 10, 50.8, 0.5, 45, 0.15), (100, 0.254, 22.5, 0.221457, 87.4521)),
    ((1024, 95.25, 12, 38.1, 0.5, 45, 0.15), (213.333, 0.111621, 22.5, 0.23622, 87.4521)),
    ((360, 95, 15, 19.05, 0.5, 30, 0.1), (119.685, 0.198437, 15, 0.157895, 71.4043)),
    ((2000, 95.25, 12, 31.75, 1, 60, 0.1), (500, 0.047625, 60, 0.629921, 142.809)),
]
C3 = worked(
    "C3",
    C3_ROWS,
    [
        (
            0,
            cup_drop.pulses_per_cup,
            lambda n, p, z, chain, *_rest: (n, p * MM, z, chain * MM),
            "",
            1.0,
        ),
        (1, cup_drop.position_step_m, lambda n, _p, z, chain, *_rest: (n, z, chain * MM), "mm", MM),
        (2, cup_drop.lead_m, lambda _n, _p, _z, _c, v, t, _h: (v, t * MM), "mm", MM),
        (4, cup_drop.throw_m, lambda _n, _p, _z, _c, v, _t, h: (v, h), "mm", MM),
    ],
)
C3_CUPS = series(
    cup_drop.lead_cups,
    [
        (f"C3 row {number}", (outputs[2] * MM, inputs[1] * MM), outputs[3])
        for number, (inputs, outputs) in enumerate(C3_ROWS, start=1)
    ],
    tolerance=1e-6,
    source="worked separately, reference/fruit-line.md, table C3",
    status="formula",
)

# bins an hour, mass in a bin, mass of a fruit, culls, lanes, fill: kg/h, fruit in, fruit to cups,
# cups in a lane
T1_ROWS = [
    ((6, 385.55, 0.10886, 0.05, 2, 0.78), (2313.3, 5.90284, 5.6077, 3.59468)),
    ((3, 350, 0.065, 0.06, 1, 0.8), (1050, 4.48718, 4.21795, 5.27244)),
    ((6, 320, 0.2, 0.06, 1, 0.8), (1920, 2.66667, 2.50667, 3.13333)),
    ((10, 408.233, 0.1, 0, 2, 0.8), (4082.33, 11.3398, 11.3398, 7.08738)),
    ((20, 400, 0.15, 0.1, 6, 0.85), (8000, 14.8148, 13.3333, 2.61438)),
]
T1 = tuple(
    check
    for function, arguments, of, unit, tolerance in (
        (
            throughput.mass_flow_kg_s,
            lambda row, _out: (row[0] * HOUR, row[1]),
            (0, HOUR),
            "kg/h",
            0.01,
        ),
        (
            throughput.fruit_rate_1_s,
            lambda row, out: (out[0] * HOUR, row[2]),
            (1, 1.0),
            "1/s",
            6e-5,
        ),
        (throughput.after_culls_1_s, lambda row, out: (out[1], row[3]), (2, 1.0), "1/s", 6e-5),
        (throughput.before_culls_1_s, lambda row, out: (out[2], row[3]), (1, 1.0), "1/s", 6e-5),
        (
            throughput.bins_rate_1_s,
            lambda row, out: (out[1], row[2], row[1]),
            (None, HOUR),
            "bins/h",
            2e-4,
        ),
    )
    for check in series(
        function,
        [
            (
                f"T1 row {number}",
                arguments(inputs, outputs),
                inputs[0] if of[0] is None else outputs[of[0]],
            )
            for number, (inputs, outputs) in enumerate(T1_ROWS, start=1)
        ],
        of=lambda result, size=of[1]: result / size,
        unit=unit,
        tolerance=tolerance,
        source="worked separately, reference/fruit-line.md, table T1",
        status="formula",
    )
)
# The speed by the fruit and the cups that pass at it: any pitch will do.
T1_CUPS = series(
    cups.speed_for_fruit_m_s,
    [
        (f"T1 row {number}, in cups of 100 mm", (outputs[2], 0.1, *inputs[4:]), outputs[3])
        for number, (inputs, outputs) in enumerate(T1_ROWS, start=1)
    ],
    of=lambda speed: speed / 0.1,
    unit="1/s",
    tolerance=6e-5,
    source="worked separately, reference/fruit-line.md, table T1",
    status="formula",
)

# height, mass: speed, energy
H1 = worked(
    "H1",
    [
        ((0.05, 0.1), (0.990285, 0.0490333)),
        ((0.1, 0.15), (1.40047, 0.1471)),
        ((0.15, 0.137), (1.71522, 0.201527)),
        ((0.31, 0.13737), (2.46579, 0.417613)),
        ((0.3, 0.2), (2.42569, 0.588399)),
    ],
    [
        (0, transfer.impact_speed_m_s, lambda h, _m: (h,), "m/s", 1.0),
        (1, transfer.impact_energy_j, lambda h, m: (m, h), "J", 1.0),
    ],
)

# --- figures of the two demo lines, whose notes were worked elsewhere --------------------------

DEMO_A = "demo line A, its notes, worked separately"
DEMO_B = "demo line B, its notes, worked separately"
FT_MIN = 0.3048 / 60
DEMO = (
    *series(
        belt_pair.differential_share,
        [("belts of the V at 44.76 and 41.53 ft/min", (44.76 * FT_MIN, 41.53 * FT_MIN), 7.5)],
        of=lambda share: 100 * share,
        unit="%",
        tolerance=0.05,
        source=DEMO_A,
        status="formula",
    ),
    *series(
        belt_pair.differential_share,
        [
            ("belts of the V at 0.2742 and 0.2530 m/s", (0.2742, 0.2530), 8.1),
            # 32.9 Hz in place of 39.5 on the second belt
            ("second belt held by its maximum frequency", (44.76 * FT_MIN, 34.4 * FT_MIN), 26.0),
        ],
        of=lambda share: 100 * share,
        unit="%",
        tolerance=0.3,
        source=f"{DEMO_A}; {DEMO_B}",
        status="formula",
    ),
    *series(
        camera.turns_in_view,
        [
            ("spin belt reversed", (0.342, -0.127, 2.4 * INCH, 18 * INCH), 3.27),
            ("spin belt as planned", (0.342, 0.127, 2.4 * INCH, 18 * INCH), 1.50),
        ],
        tolerance=0.005,
        source=DEMO_A,
        status="formula",
    ),
    *series(
        camera.turns_in_view,
        [
            ("larger fruit, spin belt held by its minimum", (0.2984, 0.123, 0.075, 0.5), 1.25),
            ("larger fruit, spin belt as planned", (0.2984, 0.0875, 0.075, 0.5), 1.50),
        ],
        tolerance=0.005,
        source=DEMO_B,
        status="formula",
    ),
    *series(
        camera.spin_speed_m_s,
        [("1.5 turns of the larger fruit", (0.2984, 1.5, 0.075, 0.5), 0.0875)],
        unit="m/s",
        tolerance=3e-4,
        source=DEMO_B,
        status="formula",
    ),
    *series(
        cups.speed_for_fruit_m_s,
        [
            ("small fruit", (4.218, 0.09525, 1, 0.8), 0.5022),
            ("larger fruit", (2.5067, 0.09525, 1, 0.8), 0.2984),
        ],
        unit="m/s",
        tolerance=1e-4,
        source=DEMO_B,
        status="formula",
    ),
    *series(
        cup_drop.lead_m,
        [("67.4 ft/min and 40 ms", (67.4 * FT_MIN, 0.040), 0.54)],
        of=lambda lead: lead / INCH,
        unit="in",
        tolerance=0.005,
        source=DEMO_A,
        status="formula",
    ),
)

# --- published values and facts of the trade ---------------------------------------------------

ON_LINE = "trials of an on-line firmness sizer, 7 fruit/s at 0.63 m/s (seen)"
PUBLISHED = (
    *series(
        spacing.pitch_at_m,
        [("7 fruit/s at 0.63 m/s", (0.63, 1, 7.0), 90.0)],
        of=lambda pitch: pitch / MM,
        unit="mm",
        tolerance=1e-9,
        source=ON_LINE,
        status="by hand",
    ),
    *series(
        cups.cups_rate_1_s,
        [("0.63 m/s, places 90 mm apart", (0.63, 0.09), 7.0)],
        unit="1/s",
        tolerance=1e-9,
        source=ON_LINE,
        status="by hand",
    ),
    *series(
        blur.blur_m,
        [("1 m/s for 1 ms", (1.0, 0.0, 1e-3), 1.0)],
        of=lambda smear: smear / MM,
        unit="mm",
        tolerance=1e-9,
        source="book chapter on grading fruit by camera: 1 m/s is 1 mm in each millisecond",
        status="seen",
    ),
    *series(
        spacing.speed_for_cover_m_s,
        [("one table of 1 m split into three of 1 m", (20.0, 3.0, 0.07, 0.5), 1 / 3)],
        of=lambda speed: speed / spacing.speed_for_cover_m_s(20.0, 1.0, 0.07, 0.5),
        tolerance=1e-9,
        source="UF/IFAS Bulletin 239 (AE184), figure 6: in three, a third of the speed",
        status="seen",
    ),
    *series(
        camera.spin_speed_m_s,
        [
            # Two circumferences of table at a stand turn fruit twice, at any speed.
            ("two turns over two circumferences", (0.1, 2.0, 0.07, 2 * math.pi * 0.07), 0.0)
        ],
        unit="m/s",
        tolerance=1e-9,
        source="small-scale packing manuals: two turns within the sorter's view (seen)",
        status="by hand",
    ),
    *series(
        throughput.mass_flow_kg_s,
        [("one pallet box as 10 field boxes of 90 lb", (10.0, 90 * POUND), 408.6)],
        unit="kg",
        tolerance=0.5,
        source="UF/IFAS CH105: pallet box of 900 lb (408.6 kg), 10 field boxes, orange 90 lb",
        status="seen",
    ),
    *series(
        throughput.fruit_rate_1_s,
        # 6 bins of 2500 apples are 15000 an hour, 4.1667 a second
        [("6 bins of 2500 apples an hour", (6 * 400 * HOUR, 400 / 2500), 4.1667)],
        unit="1/s",
        tolerance=1e-4,
        source="Ontario, bin requirements for apple harvest: 2500 apples of 2 7/8 in (seen)",
        status="by hand",
    ),
    *series(
        throughput.after_culls_1_s,
        [("of 10 fruit/s, 30 % culled", (10.0, 0.30), 7.0)],
        unit="1/s",
        tolerance=1e-9,
        source="Florida packinghouses cull about 30 % on average, 1987 (seen)",
        status="by hand",
    ),
    *series(
        spacing.pitch_after_m,
        [("feed belt 0.17 m/s, transport belt 0.25 m/s", (1.0, 0.17, 0.25), 1.47)],
        tolerance=0.005,
        source="belt-and-roller sorter at its best, AgriEngineering 2(4) 40, 2020 (speeds seen)",
        status="by hand",
    ),
    *series(
        transfer.impact_speed_m_s,
        [
            # g/2 metres take one second
            ("fall of 4.903325 m", (4.903325,), 9.80665),
            # √(2 · 9.80665 · 0.254) = √4.98178
            ("fall of 10 in, which pits cherries", (0.254,), 2.23199),
        ],
        unit="m/s",
        tolerance=1e-5,
        source="standard gravity, 9.80665 m/s² (CGPM 1901); v² = 2 g h",
        status="by hand",
    ),
    *series(
        cup_drop.throw_m,
        [("one second of fall at 0.5 m/s", (0.5, 4.903325), 0.5)],
        unit="m",
        tolerance=1e-9,
        source="standard gravity, 9.80665 m/s² (CGPM 1901); h = g t²/2",
        status="by hand",
    ),
    *series(
        transfer.settled_share,
        [("ball thrown sliding rolls on at 5/7 of its speed", (0.0,), 2 / 7)],
        tolerance=1e-9,
        source="mechanics textbooks: ball that slides until it rolls",
        status="from memory",
    ),
)

TRADE = (
    *series(
        camera.images_at,
        [("18 in of view at 67.4 ft/min, 22.4 frames/s", (22.44, 1.3353), 30.0)],
        tolerance=1.0,
        source="about 30 images of each fruit under a sizing camera",
        status="common practice",
    ),
    *series(
        camera.angle_per_image_rad,
        [("1.2 turns, 30 images", (1.2, 30), 14.0), ("2 turns, 30 images", (2.0, 30), 24.0)],
        of=math.degrees,
        unit="°",
        tolerance=0.5,
        source="about 30 images over 1.2 to 2 turns, 14° to 24° each",
        status="common practice",
    ),
    *series(
        belt_pair.differential_share,
        [
            ("first belt faster, 0.274 against 0.253 m/s", (0.274, 0.253), "a little faster"),
            ("first belt faster, 44.76 against 41.53 ft/min", (0.2274, 0.2110), "a little faster"),
        ],
        of=lambda share: "a little faster" if 0.0 < share < 0.1 else f"{share:.0%}",
        source="one belt of a V runs a little faster than the other",
        status="common practice",
    ),
    *series(
        cup_drop.pulses_per_cup,
        [
            (
                "1024 pulses, 12 teeth, cup at each third link",
                (1024, 0.09525, 12, 0.03175),
                "whole",
            ),
            ("1024 pulses, 12 teeth, links of 38.1 mm", (1024, 0.09525, 12, 0.0381), "drifts"),
        ],
        of=lambda pulses: "whole" if math.isclose(pulses, round(pulses)) else "drifts",
        source="cups are followed by counting pulses; each cup takes a whole number of them",
        status="common practice",
    ),
    *series(
        spacing.gap_m,
        [
            ("from touching, next belt 1.5625 times as fast", (0.0953125, 0.061), "apart"),
            ("next belt as fast", (0.061, 0.061), "touching"),
        ],
        of=lambda gap: "apart" if gap > 0 else "touching" if gap == 0 else "crowded",
        source="a faster belt after the V puts gaps between fruit",
        status="common practice",
    ),
)

CHECKS = (
    *V1,
    *V2,
    *V3,
    *V3_GAPS,
    *C1,
    *C1_IMAGES,
    *C1_BACK,
    *C2,
    *C2_MASS,
    *C2_BACK,
    *C3,
    *C3_CUPS,
    *T1,
    *T1_CUPS,
    *H1,
    *DEMO,
    *PUBLISHED,
    *TRADE,
)


@every(CHECKS)
def test_against_the_outside(check):
    check.verify()
