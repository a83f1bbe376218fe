"""Neutral currents against textbook relations and against sampled waves summed in time."""

import math

import numpy

from core.calc import neutral
from tests.published.checks import every, series

# Fundamental, third and fifth harmonic, and what root of the sum of squares makes of them by hand.
SPECTRA = {
    "10, 8, 5 A": ({1: 10.0, 3: 8.0, 5: 5.0}, 13.748, 24.0, 19.519),
    "10, 5, 2 A": ({1: 10.0, 3: 5.0, 5: 2.0}, 11.358, 15.0, 14.283),
    "8, 7, 5 A": ({1: 8.0, 3: 7.0, 5: 5.0}, 11.747, 21.0, 16.882),
}

RMS = series(
    neutral.rms_a,
    [(name, (spectrum,), rms) for name, (spectrum, rms, _, _) in SPECTRA.items()],
    unit="A",
    tolerance=0.001,
    source="Parseval's theorem, root of the sum of squares",
    status="by hand",
)
WYE = series(
    neutral.neutral_current_a,
    [
        (f"wye, three lines of {name}", ((spectrum,) * 3, "wye"), wye)
        for name, (spectrum, _, wye, _) in SPECTRA.items()
    ],
    unit="A",
    tolerance=0.001,
    source="Masters, Renewable and Efficient Electric Power Systems, eq. 2.102: three times I3",
    status="seen",
)
TWO_LEGS = series(
    neutral.neutral_current_a,
    [
        (f"wye, two lines of {name}", ((spectrum,) * 2, "wye"), two)
        for name, (spectrum, _, _, two) in SPECTRA.items()
    ],
    unit="A",
    tolerance=0.001,
    source="Kirchhoff's current law: √(I1² + (2·I3)² + I5²)",
    status="by hand",
)
THREE_WIRE = series(
    neutral.neutral_current_a,
    [
        (f"three-wire, equal legs of {name}", ((spectrum,) * 2, "three_wire"), 0.0)
        for name, (spectrum, *_) in SPECTRA.items()
    ],
    unit="A",
    tolerance=1e-9,
    source="Kirchhoff's current law: legs half a period apart cancel every odd harmonic",
    status="by hand",
)


def share_of(spectrum, share):
    """The same spectrum of a smaller load."""
    return {order: share * current_a for order, current_a in spectrum.items()}


UNEQUAL = series(
    neutral.neutral_current_a,
    [
        (
            f"three-wire, legs of 100 % and 60 % of {name}",
            ((spectrum, share_of(spectrum, 0.6)), "three_wire"),
            0.4 * rms,
        )
        for name, (spectrum, rms, _, _) in SPECTRA.items()
    ],
    unit="A",
    tolerance=0.001,
    source="Kirchhoff's current law: 0.4 of one leg, harmonics included",
    status="by hand",
)
EVEN = series(
    neutral.neutral_current_a,
    [("three-wire, equal legs with 2 A second", (({1: 10.0, 2: 2.0},) * 2, "three_wire"), 4.0)],
    unit="A",
    tolerance=1e-9,
    source="Kirchhoff's current law: even harmonics add",
    status="by hand",
)


def sampled_neutral_a(legs, turns):
    """Effective value of the sum of the legs' waves over one period, sampled in time."""
    time = numpy.arange(4096) / 4096
    total = sum(
        math.sqrt(2) * current_a * numpy.sin(2 * math.pi * order * (time + turn))
        for leg, turn in zip(legs, turns, strict=True)
        for order, current_a in leg.items()
    )
    return float(numpy.sqrt(numpy.mean(total**2)))


UNEVEN_LEGS = (
    {1: 11.0, 2: 0.5, 3: 8.0, 5: 4.0, 7: 2.0, 9: 1.0},
    {1: 6.0, 3: 5.0, 5: 3.0},
    {1: 9.0, 3: 3.0, 9: 2.0},
)
SAMPLED = series(
    neutral.neutral_current_a,
    [
        (
            "wye, three unlike lines, nine harmonics",
            (UNEVEN_LEGS, "wye"),
            lambda: sampled_neutral_a(UNEVEN_LEGS, (0, 1 / 3, 2 / 3)),
        ),
        (
            "three-wire, two unlike legs, nine harmonics",
            (UNEVEN_LEGS[:2], "three_wire"),
            lambda: sampled_neutral_a(UNEVEN_LEGS[:2], (0, 1 / 2)),
        ),
    ],
    unit="A",
    tolerance=1e-6,
    source="numpy: waves of the lines sampled, summed and squared over one period",
    status="library",
)

BALANCE = series(
    neutral.leg_balance,
    # NEMA MG 1's own form: 4.1, 4.3, 3.9: mean 4.1, 0.2 / 4.1
    [
        ("4.1, 4.3, 3.9 A", ((4.1, 4.3, 3.9),), 4.88),
        ("10, 10.5, 9.5 A", ((10.0, 10.5, 9.5),), 5.0),
        ("2.2, 2.0, 2.1 A", ((2.2, 2.0, 2.1),), 4.76),
    ],
    unit="%",
    tolerance=0.005,
    of=lambda found: 100 * found.imbalance,
    source="NEMA MG 1 definition of unbalance, largest deviation from the mean",
    status="by hand",
)

CHECKS = (*BALANCE, *RMS, *WYE, *TWO_LEGS, *THREE_WIRE, *UNEQUAL, *EVEN, *SAMPLED)


@every(CHECKS)
def test_published_value(check):
    check.verify()
