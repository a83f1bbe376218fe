"""Loaded potentiometer and signals against Kirchhoff's laws and values worked from formulas."""

from functools import cache, partial

import numpy as np
import pytest

from core.calc import potentiometer as pot
from core.calc import signals
from tests.published.checks import every, series

KIRCHHOFF = "Kirchhoff's current law at two nodes, solved by numpy"
SUPPLY_V = 10.0


def solve_network(track, supply_v, pot_ohm, load_ohm, supply_ohm):
    """Wiper voltage and supply current by Kirchhoff's current law at the upper end and the wiper.

    Node 0 is the upper end of the track, node 1 the wiper, the low end is earth. Resistances of
    zero do not occur here: the caller keeps the wiper off the ends.
    """
    feed, load = 1.0 / supply_ohm, 1.0 / load_ohm
    upper, lower = 1.0 / ((1.0 - track) * pot_ohm), 1.0 / (track * pot_ohm)
    conductances = np.array([[feed + upper, -upper], [-upper, upper + lower + load]])
    end_v, wiper_v = np.linalg.solve(conductances, np.array([feed * supply_v, 0.0]))
    return float(wiper_v), float((supply_v - end_v) * feed)


CIRCUITS = [
    (track, pot_ohm, pot_ohm / ratio, supply_ohm)
    for track in (0.01, 0.25, 0.5, 2 / 3, 0.9, 0.99)
    for pot_ohm in (1e3, 10e3)
    for ratio in (0.01, 0.1, 0.5, 1.0, 5.0)
    for supply_ohm in (100.0, 1e3)
]


@pytest.mark.parametrize(("track", "pot_ohm", "load_ohm", "supply_ohm"), CIRCUITS)
def test_potentiometer_against_kirchhoff(track, pot_ohm, load_ohm, supply_ohm):
    wiper_v, current_a = solve_network(track, SUPPLY_V, pot_ohm, load_ohm, supply_ohm)
    arguments = (SUPPLY_V, pot_ohm, load_ohm, supply_ohm)
    assert pot.output_v(track, *arguments) == pytest.approx(wiper_v, rel=1e-9)
    assert pot.supply_current_a(track, *arguments) == pytest.approx(current_a, rel=1e-9)
    assert pot.track_for_voltage(wiper_v, *arguments) == pytest.approx(track, rel=1e-9)


@pytest.mark.parametrize("track", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("ratio", [0.1, 1.0])
def test_ideal_supply_against_kirchhoff(track, ratio):
    # A supply of one micro-ohm stands for an ideal one in the network.
    wiper_v, _current = solve_network(track, SUPPLY_V, 10e3, 10e3 / ratio, 1e-6)
    assert pot.output_v(track, SUPPLY_V, 10e3, 10e3 / ratio) == pytest.approx(wiper_v, rel=1e-6)


# A few of the circuits above, for the page.
NETWORKS = tuple(
    check
    for track, pot_ohm, load_ohm, supply_ohm in CIRCUITS[::17]
    for arguments in [(track, SUPPLY_V, pot_ohm, load_ohm, supply_ohm)]
    for case in [
        f"track {track:.3g}, {pot_ohm / 1e3:g} kΩ, input {load_ohm / 1e3:g} kΩ, "
        f"supply behind {supply_ohm:g} Ω"
    ]
    for check in (
        *series(
            pot.output_v,
            [(case, arguments, partial(lambda given: solve_network(*given)[0], arguments))],
            unit="V",
            tolerance=1e-8,
            source=KIRCHHOFF,
            status="library",
        ),
        *series(
            pot.supply_current_a,
            [(case, arguments, partial(lambda given: 1e3 * solve_network(*given)[1], arguments))],
            of=lambda current_a: 1e3 * current_a,
            unit="mA",
            tolerance=1e-8,
            source=KIRCHHOFF,
            status="library",
        ),
    )
)

BY_HAND = series(
    pot.output_v,
    [
        ("track 0.5, pot a tenth of its load", (0.5, 10.0, 10e3, 100e3), 4.8780),
        ("track 0.5, pot as high as its load", (0.5, 10.0, 10e3, 10e3), 4.0000),
        ("track 2/3, pot a tenth of its load", (2 / 3, 10.0, 10e3, 100e3), 6.5217),
        ("track 0.25, pot a tenth of its load", (0.25, 10.0, 10e3, 100e3), 2.45399),
        ("track 0.9, pot half of its load", (0.9, 10.0, 10e3, 20e3), 8.61244),
    ],
    unit="V",
    tolerance=5e-5,
    source="V = Vs x / (1 + x (1 - x) Rp / RL), textbooks of measurement",
    status="by hand",
)

BENDS = series(
    pot.worst_bend,
    [
        ("pot half of its load", (10e3, 20e3), 6.673),
        ("pot a tenth of its load", (10e3, 100e3), 1.449),
        ("pot a hundredth of its load", (10e3, 1e6), 0.1478),
    ],
    of=lambda bend: 100.0 * bend.fall,
    unit="%",
    tolerance=6e-4,
    source="largest fall of V = Vs x / (1 + x (1 - x) Rp / RL) below its straight line",
    status="formula",
)

SMALL_LOAD = (
    # the rule for small Rp/RL: 4/27 of it, at two thirds of the track
    *series(
        pot.worst_bend,
        [("pot a thousandth of its load, over 4/27 of that", (10e3, 10e6), 1.0)],
        of=lambda bend: bend.fall / (4 / 27 * 1e-3),
        tolerance=1e-3,
        source="rule for light loads, largest fall of 4/27 Rp / RL, textbooks of measurement",
        status="seen",
    ),
    *series(
        pot.worst_bend,
        [("place on the track for a pot a thousandth of its load", (10e3, 10e6), 2 / 3)],
        of=lambda bend: bend.track,
        tolerance=1e-3,
        source="rule for light loads, largest fall at two thirds, textbooks of measurement",
        status="seen",
    ),
)


@cache
def finest_bend(ratio):
    """Largest fall and its track by trying 1999 places in Kirchhoff's network."""
    tracks = [step / 2000 for step in range(1, 2000)]
    # 0.1 milliohm stands for a supply without resistance
    falls = [track - solve_network(track, 1.0, 10e3, 10e3 / ratio, 1e-4)[0] for track in tracks]
    most = int(np.argmax(falls))
    return falls[most], tracks[most]


@pytest.mark.parametrize("ratio", [0.5, 0.1, 0.01])
def test_worst_bend_against_a_fine_table(ratio):
    bend = pot.worst_bend(10e3, 10e3 / ratio)
    fall, track = finest_bend(ratio)
    assert bend.fall == pytest.approx(fall, abs=1e-6)
    assert bend.track == pytest.approx(track, abs=2e-3)


# Ours divides by 2^n - 1, so that the highest count is the full signal: larger by that quotient.
STEPS = tuple(
    check
    for bits, millivolts, rounding in (
        (8, 39.06, 0.005),
        (10, 9.766, 0.0005),
        (12, 2.441, 0.0005),
        (14, 0.6104, 0.00005),
        (16, 0.1526, 0.00005),
    )
    for check in series(
        signals.dac_step,
        [(f"{bits} bits on 10 V", (bits, 0.0, 10.0), millivolts * 2**bits / (2**bits - 1))],
        of=lambda step_v: 1e3 * step_v,
        unit="mV",
        tolerance=1.01 * rounding,
        source="span / 2^n as data sheets of converters round it, made span / (2^n - 1)",
        status="by hand",
    )
) + series(
    signals.dac_step,
    [("12 bits on 4-20 mA", (12, 0.004, 0.020), 3.90625 * 4096 / 4095)],
    of=lambda step_a: 1e6 * step_a,
    unit="µA",
    tolerance=1e-6,
    source="span / 2^n, made span / (2^n - 1)",
    status="by hand",
)

LOOPS = series(
    signals.loop_resistance_max_ohm,
    [
        # R = (Vs - Vmin) / Imax
        ("24 V, 12 V, 20.5 mA", (24.0, 12.0, 0.0205), 585.4),
        ("24 V, 12 V, 21 mA", (24.0, 12.0, 0.021), 571.4),
        ("24 V, 10 V, 20 mA", (24.0, 10.0, 0.020), 700.0),
        ("30 V, 10.5 V, 22 mA", (30.0, 10.5, 0.022), 886.4),
        ("18 V, 8 V, 20.5 mA", (18.0, 8.0, 0.0205), 487.8),
        ("24 V, 12 V, at the top of a measured value", (24.0, 12.0), 585.4),
    ],
    unit="Ω",
    tolerance=0.05,
    source="Ohm's law; a measured value goes up to 20.5 mA by NAMUR NE 43",
    status="by hand",
)

DIVIDER = series(
    signals.divided_voltage_v,
    [
        (
            "10 V behind 1 kΩ into 20 kΩ",
            (10.0, 1e3, 20e3),
            # one node: (V - 10) / 1000 + V / 20000 = 0
            lambda: float(np.linalg.solve([[1 / 1000 + 1 / 20000]], [10.0 / 1000])[0]),
        )
    ],
    unit="V",
    tolerance=1e-9,
    source="Kirchhoff's current law at one node, solved by numpy",
    status="library",
)

CHECKS = (*NETWORKS, *BY_HAND, *BENDS, *SMALL_LOAD, *STEPS, *LOOPS, *DIVIDER)


@every(CHECKS)
def test_published_value(check):
    check.verify()
