"""Uncertainty against the worked examples and tables of the GUM (JCGM 100:2008)."""

import math

from scipy import stats

from core.calc import student
from core.calc import uncertainty as unc
from core.calc.uncertainty import Contribution
from tests.published.checks import every, series

GUM = "JCGM 100:2008 (GUM)"

SINGLE = (
    *series(
        unc.standard_from_expanded,
        [
            # A mass standard of 1 kg, 240 µg at three standard deviations
            ("mass standard, in µg", (240.0, 3.0), 80.0),
            # A 10 ohm resistor, 129 µΩ at 99 %
            ("10 Ω resistor, in µΩ", (129.0, 2.58), 50.0),
        ],
        tolerance=0.05,
        source=f"{GUM}, 4.3.3 and 4.3.4",
        status="from memory",
    ),
    *series(
        unc.standard_from_limits,
        # Expansion of copper, 16.52 with limits 0.40 either side, in 1e-6 per degree
        [("expansion of copper, in 1e-6/°C", (0.40,), 0.23)],
        tolerance=0.005,
        source=f"{GUM}, 4.3.7 example 1",
        status="from memory",
    ),
    *series(
        unc.standard_from_limits,
        # A step of the display: 0.29 of the step
        [("display of step 1", (0.5,), 0.29)],
        tolerance=0.003,
        source=f"{GUM}, F.2.2.1",
        status="from memory",
    ),
    *series(
        unc.standard_from_triangle,
        [("limits 1 either side", (1.0,), 1 / math.sqrt(6))],
        tolerance=1e-9,
        source=f"{GUM}, 4.3.9, a²/6",
        status="from memory",
    ),
)

# H.1, calibration of an end gauge: names, uncertainties in nm and degrees of freedom as printed.
GAUGE = (
    Contribution("standard", 25.0, dof=18),
    Contribution("comparison", 9.7, dof=25.6),
    Contribution("difference in expansion", 2.9, dof=50),
    Contribution("difference in temperature", 16.6, dof=2),
)
GAUGE_BUDGET = unc.combine(GAUGE)

END_GAUGE = (
    *series(
        unc.combine,
        [("end gauge, in nm", (GAUGE,), 32.0)],
        of=lambda budget: budget.standard,
        tolerance=0.5,
        source=f"{GUM}, H.1.4",
        status="from memory",
    ),
    *series(
        unc.effective_dof,
        [("end gauge", (GAUGE, GAUGE_BUDGET.standard), 16.7)],
        tolerance=0.1,
        source=f"{GUM}, H.1.6",
        status="from memory",
    ),
    *series(
        unc.expanded_uncertainty,
        [("end gauge, 99 %, in nm", (GAUGE_BUDGET, 0.99), 93.0)],
        tolerance=0.6,
        source=f"{GUM}, H.1.6",
        status="from memory",
    ),
)

# H.2, resistance, reactance and impedance from voltage, current and phase, as printed.
VOLTS, AMPERES, ANGLE = 4.9990, 19.6610e-3, 1.04446
SPREADS = (0.0032, 0.0095e-3, 0.00075)
CORRELATION = ((1.0, -0.36, 0.86), (-0.36, 1.0, -0.65), (0.86, -0.65, 1.0))


def impedance_rows(model):
    """Rows with sensitivities taken by the program from the model itself."""
    estimates = (VOLTS, AMPERES, ANGLE)

    def along(place):
        return lambda value: model(*estimates[:place], value, *estimates[place + 1 :])

    return tuple(
        Contribution(name, spread, unc.sensitivity(along(place), estimates[place], spread))
        for place, (name, spread) in enumerate(zip(("V", "I", "phase"), SPREADS, strict=True))
    )


IMPEDANCE = series(
    unc.combine,
    [
        (
            "resistance",
            (impedance_rows(lambda v, i, phase: v / i * math.cos(phase)), CORRELATION),
            0.071,
        ),
        (
            "reactance",
            (impedance_rows(lambda v, i, phase: v / i * math.sin(phase)), CORRELATION),
            0.295,
        ),
        ("impedance", (impedance_rows(lambda v, i, _phase: v / i), CORRELATION), 0.236),
    ],
    of=lambda budget: budget.standard,
    unit="Ω",
    # V, I, phase and their correlations are printed rounded.
    tolerance=0.002,
    source=f"{GUM}, H.2, table H.4",
    status="from memory",
)

# H.2 also prints the five readings of voltage themselves.
READINGS = series(
    unc.spread_of_readings,
    [
        ("five voltages", ((5.007, 4.994, 5.005, 4.990, 4.999),), 0.0032),
        (
            "five currents, in mA",
            ((19.663, 19.639, 19.640, 19.685, 19.678),),
            0.0095,
        ),
    ],
    of=lambda row: row.standard,
    tolerance=6e-5,
    source=f"{GUM}, H.2, table H.2",
    status="from memory",
)

# Correlated without limits: ten resistors of 1 kΩ compared with one standard, 100 mΩ each.
RESISTORS = tuple(Contribution(f"resistor {n}", 0.1) for n in range(10))
SERIES_OF_TEN = (
    *series(
        unc.combine,
        [("ten resistors of one standard", (RESISTORS, ((1.0,) * 10,) * 10), 1.0)],
        of=lambda budget: budget.standard,
        unit="Ω",
        tolerance=0.001,
        source=f"{GUM}, 5.2.2 example",
        status="from memory",
    ),
    *series(
        unc.combine,
        [("ten resistors, wrongly taken as independent", (RESISTORS,), 0.32)],
        of=lambda budget: budget.standard,
        unit="Ω",
        tolerance=0.005,
        source=f"{GUM}, 5.2.2 example",
        status="from memory",
    ),
)

COVERAGE = (
    *series(
        student.coverage_factor,
        [
            ("95 %, 1 degree of freedom", (0.95, 1), 12.71),
            ("95 %, 2 degrees of freedom", (0.95, 2), 4.30),
            ("95 %, 4 degrees of freedom", (0.95, 4), 2.78),
            ("95 %, 10 degrees of freedom", (0.95, 10), 2.23),
            ("95 %, 20 degrees of freedom", (0.95, 20), 2.09),
            ("95 %, 50 degrees of freedom", (0.95, 50), 2.01),
            ("99 %, 5 degrees of freedom", (0.99, 5), 4.03),
            ("99 %, 16 degrees of freedom", (0.99, 16), 2.92),
            ("95 %, no end of them", (0.95,), 1.960),
            ("99 %, no end of them", (0.99,), 2.576),
        ],
        tolerance=0.0051,
        source=f"{GUM}, table G.2",
        status="from memory",
    ),
    *series(
        student.coverage_factor,
        [
            (f"{probability:.0%}, {dof} degrees of freedom, exactly", (probability, dof), exact)
            for probability, dof in ((0.68, 3), (0.90, 7), (0.95, 12), (0.99, 25))
            for exact in (float(stats.t.ppf((1 + probability) / 2, dof)),)
        ],
        tolerance=1e-7,
        source="scipy.stats.t, quantiles of Student's distribution",
        status="library",
    ),
)

# Two belts, each speed known to a share: their difference and their ratio, worked apart from the
# program. Difference: √(u1² + u2²) over its own size; ratio: u(r)/r = √(a² + b²).
BELTS = (
    *series(
        unc.combine,
        [
            (
                f"difference of {fast} and {slow} m/s, each to {share} %",
                (
                    (
                        Contribution("first", share * fast / abs(fast - slow)),
                        Contribution("second", share * slow / abs(fast - slow), -1.0),
                    ),
                ),
                found,
            )
            for fast, slow, share, found in (
                (0.44, 0.4, 0.5, 7.433),
                (0.638, 0.5386, 1.0, 8.3999),
                (0.22, 0.34375, 0.5, 1.649),
                (0.274, 0.253, 0.5, 8.8795),
                (0.342, 0.3427, 0.2, 138.33),
            )
        ],
        of=lambda budget: budget.standard,
        unit="%",
        tolerance=0.006,
        source=f"{GUM}, 5.1.2, root of the sum of squares",
        status="by hand",
    ),
    *series(
        unc.combine,
        [
            (
                f"ratio of two speeds, each to {share} %",
                ((Contribution("first", share), Contribution("second", share, -1.0)),),
                found,
            )
            for share, found in ((0.5, 0.70711), (1.0, 1.4142), (0.2, 0.28284))
        ],
        of=lambda budget: budget.standard,
        unit="%",
        tolerance=6e-5,
        source=f"{GUM}, 5.1.6, relative uncertainties of a quotient",
        status="by hand",
    ),
)

OUTSIDE = series(
    unc.probability_outside,
    [
        ("one standard deviation to either side", (0.0, 1.0, -1.0, 1.0), 0.3173),
        ("two standard deviations to either side", (0.0, 1.0, -2.0, 2.0), 0.0455),
        ("1.645 standard deviations to one side", (0.0, 1.0, -1.645, math.inf), 0.05),
        ("three standard deviations to either side", (0.0, 1.0, -3.0, 3.0), 0.0027),
    ],
    tolerance=6e-5,
    source="tables of the normal distribution in any textbook of statistics",
    status="from memory",
)

CHECKS = (
    *SINGLE,
    *END_GAUGE,
    *IMPEDANCE,
    *READINGS,
    *SERIES_OF_TEN,
    *BELTS,
    *COVERAGE,
    *OUTSIDE,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
