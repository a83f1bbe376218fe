"""Pairs held at a ratio, spans of a knob, and the order of stopping, against the outside."""

import math
from functools import cache, partial

import numpy as np
from scipy import integrate, stats

from core.calc import pair_ratio as pr
from core.calc import pair_remedies as rem
from core.calc import span, stopping
from core.calc import speed_parts as sp
from core.calc.pair_ratio import Part
from tests.published.checks import every, series

GUM = "JCGM 100:2008 (GUM)"
WORKED = "worked out apart from the program, reference sheet of the fruit line"


def percent(share):
    return 100.0 * share


def alone(name, share, tie=0.0):
    """A budget of one part, in percent of the speed."""
    return (Part(name, share / 100, tie),)


# --- Limits and how they are spread -----------------------------------------------------------

LIMITS = (
    *series(
        sp.half_width_to_u,
        [("expansion of copper, in 1e-6/°C", (0.40, "rectangular"), 0.23)],
        tolerance=0.005,
        source=f"{GUM}, 4.3.7 example 1",
        status="from memory",
    ),
    *series(
        sp.half_width_to_u,
        [("display of step 1", (0.5,), 0.29)],
        tolerance=0.003,
        source=f"{GUM}, F.2.2.1",
        status="from memory",
    ),
    *series(
        sp.half_width_to_u,
        [("limits 1 either side, middle most likely", (1.0, "triangular"), 1 / math.sqrt(6))],
        tolerance=1e-9,
        source=f"{GUM}, 4.3.9, a²/6",
        status="from memory",
    ),
    *series(
        sp.half_width_to_u,
        [
            (f"expanded {expanded} % of a difference", (expanded, "normal k=2"), standard)
            for expanded, standard in ((14.8661, 7.433), (16.7997, 8.3999), (3.298, 1.649))
        ],
        unit="%",
        tolerance=6e-5,
        source="NIST/SEMATECH e-Handbook, 2.5.7: U = k u with k = 2",
        status="formula",
    ),
)

# --- What makes one speed unsure --------------------------------------------------------------

PARTS = (
    *series(
        sp.speed_part,
        [
            # 0.36 Hz of 36 Hz
            ("0.36 Hz at 36 Hz", (0.36, 36.0), 1.0),
            # 4 poles, 1740 r/min at 60 Hz: 60 r/min of slip are 2 Hz; 0.5 / (27 - 2)
            ("0.5 Hz at 27 Hz with 2 Hz of slip", (0.5, 27.0, "knob", 2.0), 2.0),
        ],
        of=lambda part: percent(part.relative_u),
        unit="%",
        tolerance=1e-9,
        source=f"{GUM}, 5.1.2, with n = 120 (f - f slip) / p",
        status="by hand",
    ),
    *series(
        sp.slip_part,
        [
            # 0.3 · 60 / 1740 = 1.03448 %, over root 3; speeds as r/min, their ratio is the same
            ("60 r/min of slip, load ±30 %, at 1740 r/min", (0.3, 60.0, 1740.0), 0.59726),
            # 0.5 · 60 / 1140 = 2.63158 %: row of 40 Hz, 4 poles, 1440 r/min, whole load
            ("60 r/min of slip, load ±50 %, at 1140 r/min", (0.5, 60.0, 1140.0), 1.51934),
        ],
        of=lambda part: percent(part.relative_u),
        unit="%",
        tolerance=6e-6,
        source=f"{GUM}, 4.3.7; slip in proportion to torque, any textbook of motors",
        status="by hand",
    ),
    *series(
        sp.diameter_part,
        # 1/127 = 0.787402 %, over root 3
        [("127 mm, 1 mm either side", (0.001, 0.127), 0.454607)],
        of=lambda part: percent(part.relative_u),
        unit="%",
        tolerance=1e-6,
        source=f"{GUM}, 4.3.7",
        status="by hand",
    ),
    *series(
        sp.wear_part,
        # Spread 3/root 3 = 1.73205 mm and bias 3 mm: root of 12 = 3.46410 mm, of 127 mm
        [("127 mm, worn by up to 6 mm", (0.006, 0.127), 2.72764)],
        of=lambda part: percent(part.relative_u),
        unit="%",
        tolerance=1e-5,
        source=f"{GUM}, F.2.4.5: root of u² + b² where a correction is left out",
        status="by hand",
    ),
)

# --- Ratios -----------------------------------------------------------------------------------

SPEEDS = (
    # first m/s, second m/s, both to %, ratio second/first, u(r)/r in %
    (0.44, 0.4, 0.5, 0.90909, 0.70711),
    (0.638, 0.5386, 1.0, 0.8442, 1.4142),
    (0.22, 0.34375, 0.5, 1.5625, 0.70711),
    (0.274, 0.253, 0.5, 0.92336, 0.70711),
    (0.342, 0.3427, 0.2, 1.002, 0.28284),
)

RATIOS = (
    *series(
        pr.ratio,
        [
            (f"{second} over {first} m/s", (second, first), found)
            for first, second, _share, found, _u in SPEEDS
        ],
        tolerance=6e-5,
        source=f"{WORKED}, table U1",
        status="by hand",
    ),
    *series(
        pr.ratio,
        # Two motors of one number of poles on one frequency: 0.99 and 0.96 of synchronous speed
        [("1 % of slip against 4 % on one signal, in excess of 1", (0.99, 0.96), 3.1)],
        of=lambda found: percent(found - 1.0),
        unit="%",
        tolerance=0.05,
        source=f"{WORKED}, 2.C: more than a whole differential of 3 %",
        status="by hand",
    ),
    *series(
        pr.ratio_relative_u,
        [
            (
                f"{first} and {second} m/s, each to {share} %",
                (alone("speed", share), alone("speed", share)),
                found,
            )
            for first, second, share, _ratio, found in SPEEDS
        ],
        of=percent,
        unit="%",
        tolerance=6e-5,
        source=f"{WORKED}, table U1; root of the sum of squares, NIST/SEMATECH 2.5.7",
        status="by hand",
    ),
    *series(
        pr.ratio_relative_u,
        [
            (
                "impedance Z = V/I of 254.260 Ω, correlation -0.36",
                (
                    alone("reading", 100 * 0.0032 / 4.9990, -0.36),
                    alone("reading", 100 * 0.0095 / 19.6610, -0.36),
                ),
                0.236,
            )
        ],
        of=lambda found: found * 254.260,
        unit="Ω",
        # V, I and their correlation are printed rounded.
        tolerance=0.002,
        source=f"{GUM}, H.2, tables H.3 and H.4",
        status="from memory",
    ),
    *series(
        pr.ratio_relative_u,
        [
            # 1 + 1 - 2 r, under the root
            ("both to 1 %, correlation 0.5", (alone("a", 1, 0.5), alone("a", 1, 0.5)), 1.0),
            ("both to 1 %, correlation -1", (alone("a", 1, -1.0), alone("a", 1, -1.0)), 2.0),
            # 3² + 4² - 2 · 0.5 · 12 = 13
            ("to 3 and 4 %, correlation 0.5", (alone("a", 3, 0.5), alone("a", 4, 0.5)), 3.60555),
            # Only the difference is left
            ("to 3 and 4 %, correlation 1", (alone("a", 3, 1.0), alone("a", 4, 1.0)), 1.0),
        ],
        of=percent,
        unit="%",
        tolerance=6e-6,
        source=f"{GUM}, equation 16 with sensitivities +1 and -1",
        status="by hand",
    ),
    *series(
        pr.ratio_relative_u,
        [
            (
                "four causes of 1 each",
                ((*alone("a", 1), *alone("b", 1)), (*alone("c", 1), *alone("d", 1))),
                2.0,
            ),
            (
                "three causes of 1 and one of 10",
                ((*alone("a", 1), *alone("b", 1)), (*alone("c", 1), *alone("d", 10))),
                10.1,
            ),
        ],
        of=percent,
        tolerance=0.05,
        source="JCGM 101:2008, 9.2.2 and 9.2.4, additive models, standard uncertainty",
        status="from memory",
    ),
)

# --- Chances ----------------------------------------------------------------------------------

NORMAL = "tables of the normal distribution in any textbook of statistics"

CHANCES = (
    *series(
        pr.chance_outside,
        [
            ("four causes, coverage interval ±3.92 for u = 2.0", (0, 0.02, -0.0392, 0.0392), 0.05),
            ("one of them wide, ±19.9 for u = 10.1", (0, 0.10149, -0.199, 0.199), 0.05),
        ],
        tolerance=6e-4,
        source="JCGM 101:2008, 9.2.2 and 9.2.4, 95 % coverage intervals of the GUM framework",
        status="from memory",
    ),
    *series(
        pr.chance_outside,
        [
            ("band of one u either side", (0.08, 0.01, 0.07, 0.09), 0.3173),
            ("band of two u either side", (0.08, 0.01, 0.06, 0.10), 0.0455),
            ("planned at the very edge of a wide band", (0.06, 0.001, 0.06, 0.10), 0.5),
        ],
        tolerance=6e-5,
        source=NORMAL,
        status="from memory",
    ),
    *series(
        pr.chance_sign_changes,
        [
            ("differential as large as u", (0.03, 0.03), 0.1587),
            ("differential of 1.645 u, second faster", (-0.01645, 0.01), 0.05),
            ("differential of 2 u", (0.02, 0.01), 0.0228),
            ("differential of 3 u", (0.03, 0.01), 0.00135),
        ],
        tolerance=6e-5,
        source=NORMAL,
        status="from memory",
    ),
    *series(
        pr.chance_outside,
        [
            (
                f"differential {d}, u {u}, band {low} to {high}",
                (d, u, low, high),
                float(stats.norm.cdf(low, d, u) + stats.norm.sf(high, d, u)),
            )
            for d, u, low, high in (
                (0.081, 0.013, 0.06, 0.10),
                (0.169, 0.021, 0.12, 0.20),
                (-0.02, 0.017, -0.05, 0.0),
            )
        ],
        tolerance=1e-9,
        source="scipy.stats.norm",
        status="library",
    ),
    *series(
        pr.chance_sign_changes,
        [
            (f"differential {d}, u {u}", (d, u), float(stats.norm.cdf(-abs(d) / u)))
            for d, u in ((0.075, 0.03), (-0.016, 0.011), (0.0007, 0.002))
        ],
        tolerance=1e-9,
        source="scipy.stats.norm",
        status="library",
    ),
)

# --- Drawn: two speeds of three causes each, 200 000 times --------------------------------------

DRAWS = 200_000
FIRST_M_S, SECOND_M_S = 0.258, 0.253
LOW, HIGH = 0.0, 0.04
KNOBS, SLIPS, DRUMS = (0.011, 0.009), (0.005, 0.008), (0.003, 0.004)
TIES = (0.0, 0.6, 1.0)


def budgets(tie):
    return tuple(
        (Part("knob", knob, tie), Part("slip", slip), Part("diameter", drum))
        for knob, slip, drum in zip(KNOBS, SLIPS, DRUMS, strict=True)
    )


@cache
def drawn(tie):
    """Ratios and differentials of the two speeds; tied knobs follow a cause that both have."""
    common, *own = np.random.default_rng(20260711).normal(size=(7, DRAWS))
    speeds = []
    for side, nominal in enumerate((FIRST_M_S, SECOND_M_S)):
        knob, slip, drum = own[3 * side : 3 * side + 3]
        knob = math.sqrt(tie) * common + math.sqrt(1.0 - tie) * knob
        speeds.append(nominal * (1 + KNOBS[side] * knob + SLIPS[side] * slip + DRUMS[side] * drum))
    first, second = speeds
    return first / second, 2.0 * (first - second) / (first + second)


# What a drawn sample says, by the function that must say the same.
SAMPLED = (
    (pr.ratio_relative_u, lambda ratios, _d: np.std(ratios) / np.mean(ratios), 1e-4),
    (pr.differential_u, lambda _ratios, d: np.std(d), 1e-4),
    (pr.chance_outside, lambda _ratios, d: np.mean((d < LOW) | (d > HIGH)), 0.004),
    (pr.chance_sign_changes, lambda _ratios, d: np.mean(d <= 0.0), 0.004),
)


def arguments(function, tie):
    sides = budgets(tie)
    if function is pr.ratio_relative_u:
        return sides
    if function is pr.differential_u:
        return FIRST_M_S, SECOND_M_S, *sides
    d = 2.0 * (FIRST_M_S - SECOND_M_S) / (FIRST_M_S + SECOND_M_S)
    u = pr.differential_u(FIRST_M_S, SECOND_M_S, *sides)
    return (d, u) if function is pr.chance_sign_changes else (d, u, LOW, HIGH)


DRAWN = tuple(
    check
    for function, sampled, tolerance in SAMPLED
    for check in series(
        function,
        [
            (
                f"three causes each, knobs tied by {tie}",
                arguments(function, tie),
                lambda sampled=sampled, tie=tie: float(sampled(*drawn(tie))),
            )
            for tie in TIES
        ],
        tolerance=tolerance,
        source=f"Monte Carlo after JCGM 101:2008, numpy, {DRAWS} draws",
        status="library",
    )
)


def by_matrices(first_m_s, second_m_s, tie):
    """Variance of a differential as J C Jᵀ, its derivatives taken by small steps."""

    def differential(speeds):
        return 2.0 * (speeds[0] - speeds[1]) / (speeds[0] + speeds[1])

    speeds = np.array([first_m_s, second_m_s])
    steps = 1e-6 * np.diag(speeds)
    jacobian = [
        (differential(speeds + step) - differential(speeds - step)) / (2.0 * step.max())
        for step in steps
    ]
    knob = np.outer(KNOBS, KNOBS) * np.array([[1.0, tie], [tie, 1.0]])
    own = np.diag(np.square(SLIPS) + np.square(DRUMS))
    covariance = np.outer(speeds, speeds) * (knob + own)
    return float(np.sqrt(jacobian @ covariance @ jacobian))


MATRICES = series(
    pr.differential_u,
    [
        (
            f"{first} and {second} m/s, knobs tied by {tie}",
            (first, second, *budgets(tie)),
            partial(by_matrices, first, second, tie),
        )
        for first, second, _share, _ratio, _u in SPEEDS
        for tie in (0.0, 0.6)
    ],
    tolerance=1e-8,
    source=f"{GUM}, equation 13 as matrices J C Jᵀ, numpy, derivatives by small steps",
    status="library",
)

# --- What would hold it -----------------------------------------------------------------------

KNOB_AND_SLIP = (Part("knob", 0.02), Part("slip", 0.003))

REMEDIES = (
    *series(
        rem.narrowed_span,
        # A quarter of the hertz for the same travel
        [
            (
                "knob of 2 %, 0 to 60 Hz made 30 to 45 Hz",
                (KNOB_AND_SLIP, ("knob",), (0.0, 60.0), (30.0, 45.0)),
                0.5,
            )
        ],
        of=lambda parts: percent(parts[0].relative_u),
        unit="%",
        tolerance=1e-9,
        source=f"{GUM}, 5.1.3; slope of a straight scaling",
        status="by hand",
    ),
    *series(
        rem.stepped_reference,
        [
            # 0.29 of the step: 0.029 of 40 Hz
            (
                "0.1 Hz steps at 40 Hz",
                (KNOB_AND_SLIP, ("knob",), 0.1, 40.0),
                0.0725,
            )
        ],
        of=lambda parts: percent(parts[0].relative_u),
        unit="%",
        tolerance=0.0005,
        source=f"{GUM}, F.2.2.1: 0.29 of a step",
        status="from memory",
    ),
    *series(
        rem.one_signal,
        # Only slip is left: 0.3 % either side
        [
            (
                "two knobs of 2 % made one, slips of 0.3 % left",
                (KNOB_AND_SLIP, KNOB_AND_SLIP, ("knob",)),
                0.42426,
            )
        ],
        of=lambda both: percent(pr.ratio_relative_u(*both)),
        unit="%",
        tolerance=6e-6,
        source=f"{GUM}, F.1.2.3: one and the same error of both cancels in their ratio",
        status="by hand",
    ),
    *series(
        rem.improvement,
        # Slip only: u(d) = (1 - 0.08²/4) · 0.424264 % = 0.423585 %, band of 4.7216 u: 2.34e-6
        [
            (
                "0.416 and 0.384 m/s on one signal, band of 2 points",
                (0.416, 0.384, *((Part("slip", 0.003),),) * 2, 0.06, 0.10),
                float(2.0 * stats.norm.sf(0.02 / (0.9984 * 0.003 * math.sqrt(2.0)))),
            )
        ],
        of=lambda found: found.chance_outside,
        tolerance=1e-9,
        source="scipy.stats.norm; uncertainty by hand",
        status="library",
    ),
)

# --- Travel of a knob -------------------------------------------------------------------------

SPANS = (
    *series(
        span.resolution_hz,
        [
            ("dial of 100 divisions, half a division, 0 to 60 Hz", (0.0, 60.0, 0.005), 0.3),
            ("the same dial on 28 to 46 Hz", (28.0, 46.0, 0.005), 0.09),
            ("converter of 255 steps, 0 to 60 Hz", (0.0, 60.0, 1 / 255), 0.2353),
            ("converter of 4095 steps, 0 to 50 Hz", (0.0, 50.0, 1 / 4095), 0.01221),
        ],
        unit="Hz",
        tolerance=5e-5,
        source="straight scaling of a reference: hertz of the span by its steps",
        status="common practice",
    ),
    *series(
        span.suggest_span,
        # 0.85 · 34 = 28.9 and 1.15 · 40 = 46, rounded outward to whole hertz
        [("34 and 40 Hz with 15 % of room, width", ((34.0, 40.0), 20.0, 60.0), 18.0)],
        of=lambda ends: ends[1] - ends[0],
        unit="Hz",
        tolerance=1e-9,
        source="ends of the range in use with 15 % of room, 28 to 46 Hz",
        status="by hand",
    ),
    *series(
        span.travel,
        # Row of 42 Hz on 20 to 65 Hz: 4.8889 V of 10 V
        [("42 Hz on 20 to 65 Hz", ((42.0,), 20.0, 65.0, 0.01), 0.48889)],
        of=lambda found: found.lowest,
        tolerance=6e-6,
        source=f"{WORKED}, table E1",
        status="by hand",
    ),
)

# --- Stopping and starting --------------------------------------------------------------------


def waiting(up, down, corners):
    """Fruit delivered beyond what is taken, for flows that cross from below at most once."""

    def rate(time_s):
        return max(0.0, up(time_s) - down(time_s))

    found, _error = integrate.quad(rate, corners[0], corners[-1], points=corners, limit=200)
    return float(found)


def even(start_s, ramp_s, before, after):
    return lambda time_s: float(np.interp(time_s, (start_s, start_s + ramp_s), (before, after)))


STOPS = ((6.0, 5.0, 6.0, 1.0, 0.0), (5.9, 4.0, 7.2, 2.0, 0.5), (4.5, 3.0, 6.0, 6.0, -3.0))

STOPPING = (
    *series(
        stopping.excess_fruit,
        [
            (
                f"{up}/s over {ramp_up} s into {down}/s over {ramp_down} s, {delay} s later",
                (up, ramp_up, down, ramp_down, delay),
                waiting(
                    even(0.0, ramp_up, up, 0.0),
                    even(delay, ramp_down, down, 0.0),
                    sorted({0.0, ramp_up, delay, delay + ramp_down}),
                ),
            )
            for up, ramp_up, down, ramp_down, delay in STOPS
        ],
        unit="fruit",
        tolerance=1e-6,
        source="scipy.integrate.quad of both ramps",
        status="library",
    ),
    *series(
        stopping.start_excess_fruit,
        [
            (
                "6/s over 1 s into 6/s over 5 s, together",
                (6.0, 1.0, 6.0, 5.0),
                waiting(even(0.0, 1.0, 0.0, 6.0), even(0.0, 5.0, 0.0, 6.0), [0.0, 1.0, 5.0]),
            )
        ],
        unit="fruit",
        tolerance=1e-6,
        source="scipy.integrate.quad of both ramps",
        status="library",
    ),
    *series(
        stopping.delay_needed_s,
        [
            # Stands last: 5 s of ramp against 1 s
            ("equal flows, 5 s before 1 s", (6.0, 5.0, 6.0, 1.0), 4.0),
            # May fall to 6 of 8 before its neighbour starts to slow: a quarter of 5 s
            ("a quarter to spare, 1 s before 5 s", (6.0, 1.0, 8.0, 5.0), -1.25),
        ],
        unit="s",
        tolerance=1e-9,
        source="triangles of the two ramps, drawn",
        status="by hand",
    ),
    *series(
        stopping.coast_time_s,
        [
            (
                f"{inertia} kg·m², {rpm} r/min, {torque} N·m",
                (inertia, rpm * math.pi / 30, torque),
                found,
            )
            for inertia, rpm, torque, found in (
                (0.0026443, 1440, 2.0, 0.19938),
                (0.00097447, 1400, 0.8, 0.17858),
                (0.0041069, 1740, 2.5, 0.29933),
                (0.0013427, 1400, 1.0, 0.19685),
                (0.0012688, 1410, 0.5, 0.37469),
            )
        ],
        unit="s",
        tolerance=2e-5,
        source=f"{WORKED}, table M9: the same time to speed and to a stop",
        status="by hand",
    ),
    *series(
        stopping.fruit_left,
        # 5.903 fruit/s for 32.0856 s
        [("brush bed of 1.6002 m, 5.903 fruit/s", (1.6002, 5.903, 0.049873), 189.40)],
        unit="fruit",
        tolerance=0.01,
        source=f"Little, Operations Research 9 (1961), 383; {WORKED}, tables B1 and B2",
        status="by hand",
    ),
    *series(
        stopping.stop_times_s,
        [
            ("three stations of 4 s each, to the last", ([(4.0, 0.0)] * 3,), 0.0),
            ("the last of a row first cleared, 10 s at speed", ([(2.0, 0.0), (2.0, 10.0)],), 11.0),
        ],
        of=lambda times: times[-1],
        unit="s",
        tolerance=1e-9,
        source="a line is stopped from its feed on, and the last station runs on till it is empty",
        status="common practice",
    ),
    *series(
        stopping.start_times_s,
        [("3, 4 and 6 s, feed", ((3.0, 4.0, 6.0),), 3.0)],
        of=lambda times: times[0],
        unit="s",
        tolerance=1e-9,
        source="a line is started from its end on, the feed last",
        status="common practice",
    ),
)

CHECKS = (
    *LIMITS,
    *PARTS,
    *RATIOS,
    *CHANCES,
    *DRAWN,
    *MATRICES,
    *REMEDIES,
    *SPANS,
    *STOPPING,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
