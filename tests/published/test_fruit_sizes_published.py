"""Shares of sizes and counts of cups against distributions of scipy, tables and draws."""

import math
from functools import partial

import numpy as np
from scipy import integrate, stats

from core.calc import cups, sizes, spacing
from tests.published.checks import every, series

MM = 1e-3
CLASSES = [
    (None, 0.055, 0.061, 0.004),
    (0.055, 0.061, 0.061, 0.004),
    (0.061, 0.070, 0.061, 0.004),
    (0.070, None, 0.061, 0.004),
    (0.080, 0.090, 0.061, 0.004),
]


def share_by_scipy(low, high, mean, spread):
    normal = stats.norm(mean, spread)
    above = normal.sf(low) if low is not None else 1.0
    return float(above - (normal.sf(high) if high is not None else 0.0))


def mass_by_scipy(low, high, mean, spread):
    """Cubes of the diameter, weighed by their density, by quadrature over 12 spreads."""
    ends = (mean - 12 * spread, mean + 12 * spread)
    density = stats.norm(mean, spread).pdf

    def cubes(start, end):
        return integrate.quad(lambda d: d**3 * density(d), start, end, points=[mean])[0]

    return cubes(low or ends[0], high or ends[1]) / cubes(*ends)


def misplaced_by_scipy(bound, mean, spread, standard):
    """Either side of the bound by true and by measured size, from their joint distribution."""
    joint = stats.multivariate_normal(
        [mean / spread] * 2, [[1.0, 1.0], [1.0, 1.0 + (standard / spread) ** 2]]
    )
    both_below = joint.cdf([bound / spread] * 2)
    below = stats.norm.cdf(bound, mean, spread)
    measured_below = stats.norm.cdf(bound, mean, math.hypot(spread, standard))
    return float(below + measured_below - 2 * both_below)


def spread_of_neighbours():
    """Spread of the pitch of a file in which each fruit lags by chance, by draws."""
    lags = np.random.default_rng(8).normal(0.020, 0.004, 200_001)
    return float(np.std(np.diff(lags))) / MM


def named(values, factor=1 / MM):
    return ", ".join("open" if value is None else f"{value * factor:g}" for value in values)


CHECKS = (
    *series(
        sizes.share_between,
        [
            (f"class, mean, spread {named(case)} mm", case, partial(share_by_scipy, *case))
            for case in CLASSES
        ],
        tolerance=1e-12,
        source="normal distribution of scipy",
        status="library",
    ),
    *series(
        sizes.share_between,
        [
            ("one spread either side", (0.055, 0.065, 0.060, 0.005), 0.6827),
            ("two spreads either side", (0.050, 0.070, 0.060, 0.005), 0.9545),
            ("three spreads either side", (0.045, 0.075, 0.060, 0.005), 0.9973),
            ("above 1.645 spreads", (0.060 + 1.645 * 0.005, None, 0.060, 0.005), 0.0500),
        ],
        tolerance=6e-5,
        source="tables of the normal distribution",
        status="from memory",
    ),
    *series(
        sizes.mass_share_between,
        [
            (f"class, mean, spread {named(case)} mm", case, partial(mass_by_scipy, *case))
            for case in CLASSES
        ],
        tolerance=1e-8,
        source="third moment between limits by quadrature of scipy",
        status="library",
    ),
    *series(
        sizes.misplaced_share,
        [
            (
                f"bound, mean, spread, error {named(case)} mm",
                case,
                partial(misplaced_by_scipy, *case),
            )
            for case in (
                (0.065, 0.065, 0.005, 0.001),
                (0.070, 0.065, 0.005, 0.001),
                (0.070, 0.065, 0.005, 0.010),
                (0.055, 0.061, 0.004, 0.0005),
            )
        ],
        tolerance=1e-6,
        source="joint normal distribution of scipy",
        status="library",
    ),
    *series(
        sizes.misplaced_share,
        # Quadrants of two normal values with correlation ρ: arccos(ρ)/π, here 45°
        [("bound at the mean, error as large as the spread", (0.065, 0.065, 0.005, 0.005), 0.25)],
        tolerance=1e-6,
        source="probability of quadrants, arccos ρ / π, textbooks of statistics",
        status="by hand",
    ),
    *series(
        spacing.pitch_spread_m,
        [("lag spread 4 mm", (0.004,), spread_of_neighbours)],
        of=lambda spread: spread / MM,
        unit="mm",
        tolerance=0.03,
        source="differences of drawn lags, numpy; JCGM 100:2008 (GUM), 5.1.2",
        status="library",
    ),
    *series(
        cups.filled_share_from_counts,
        [
            (
                f"{cups_seen} cups, {empty} empty, {doubles} doubles",
                (cups_seen, empty, doubles),
                lambda n=cups_seen, p=1 - (empty + doubles) / cups_seen: float(
                    stats.binom(n, p).std() / n
                ),
            )
            for cups_seen, empty, doubles in ((200, 36, 4), (200, 50, 10), (50, 5, 0))
        ],
        of=lambda count: count.standard,
        tolerance=1e-12,
        source="binomial distribution of scipy",
        status="library",
    ),
    *(
        check
        for count, total in ((0, 200), (4, 200), (160, 200), (50, 50))
        for side, name in ((0, "lower"), (1, "upper"))
        for check in series(
            cups.share_limits,
            [
                (
                    f"{count} of {total}, {name} limit",
                    (count, total),
                    lambda count=count, total=total, side=side: float(
                        stats.binomtest(count, total).proportion_ci(method="wilson")[side]
                    ),
                )
            ],
            of=lambda limits, side=side: limits[side],
            tolerance=1e-8,
            source="Wilson's limits of scipy",
            status="library",
        )
    ),
)


@every(CHECKS)
def test_against_statistics(check):
    check.verify()
