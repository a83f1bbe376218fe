"""Loaded potentiometer and signals against Kirchhoff's laws and values worked from formulas."""

import math

import numpy as np
import pytest

from core.calc import potentiometer as pot
from core.calc import signals


def solve_network(track, supply_v, pot_ohm, load_ohm, supply_ohm):
    """Wiper voltage and supply current by Kirchhoff's current law at the upper end and the wiper.

    Node 0 is the upper end of the track, node 1 the wiper, the low end is earth. Resistances of
    zero do not occur here: the caller keeps the wiper off the ends.
    """
    feed, load = 1.0 / supply_ohm, 1.0 / load_ohm
    upper, lower = 1.0 / ((1.0 - track) * pot_ohm), 1.0 / (track * pot_ohm)
    conductances = np.array([[feed + upper, -upper], [-upper, upper + lower + load]])
    end_v, wiper_v = np.linalg.solve(conductances, np.array([feed * supply_v, 0.0]))
    return wiper_v, (supply_v - end_v) * feed


CIRCUITS = [
    (track, pot_ohm, pot_ohm / ratio, supply_ohm)
    for track in (0.01, 0.25, 0.5, 2 / 3, 0.9, 0.99)
    for pot_ohm in (1e3, 10e3)
    for ratio in (0.01, 0.1, 0.5, 1.0, 5.0)
    for supply_ohm in (100.0, 1e3)
]


@pytest.mark.parametrize(("track", "pot_ohm", "load_ohm", "supply_ohm"), CIRCUITS)
def test_potentiometer_against_kirchhoff(track, pot_ohm, load_ohm, supply_ohm):
    wiper_v, current_a = solve_network(track, 10.0, pot_ohm, load_ohm, supply_ohm)
    arguments = (10.0, pot_ohm, load_ohm, supply_ohm)
    assert pot.output_v(track, *arguments) == pytest.approx(wiper_v, rel=1e-9)
    assert pot.supply_current_a(track, *arguments) == pytest.approx(current_a, rel=1e-9)
    assert pot.track_for_voltage(float(wiper_v), *arguments) == pytest.approx(track, rel=1e-9)


@pytest.mark.parametrize("track", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("ratio", [0.1, 1.0])
def test_ideal_supply_against_kirchhoff(track, ratio):
    # A supply of one micro-ohm stands for an ideal one in the network.
    wiper_v, _current = solve_network(track, 10.0, 10e3, 10e3 / ratio, 1e-6)
    assert pot.output_v(track, 10.0, 10e3, 10e3 / ratio) == pytest.approx(wiper_v, rel=1e-6)


@pytest.mark.parametrize(
    ("track", "ratio", "volts"),
    # V = Vs x / (1 + x (1 - x) Rp/RL), Vs = 10 V, worked by hand
    [
        (0.5, 0.1, 4.8780),
        (0.5, 1.0, 4.0000),
        (2 / 3, 0.1, 6.5217),
        (0.25, 0.1, 2.45399),
        (0.9, 0.5, 8.61244),
    ],
)
def test_loaded_output_worked_by_hand(track, ratio, volts):
    assert pot.output_v(track, 10.0, 10e3, 10e3 / ratio) == pytest.approx(volts, abs=5e-5)


@pytest.mark.parametrize(("ratio", "percent"), [(0.5, 6.673), (0.1, 1.449), (0.01, 0.1478)])
def test_worst_bend_against_a_fine_table(ratio, percent):
    # The percent figures were worked out apart from this program; the table finds them anew from
    # Kirchhoff's network, with 0.1 milliohm of supply.
    tracks = [step / 2000 for step in range(1, 2000)]
    falls = [track - solve_network(track, 1.0, 10e3, 10e3 / ratio, 1e-4)[0] for track in tracks]
    bend = pot.worst_bend(10e3, 10e3 / ratio)
    assert 100 * bend.fall == pytest.approx(percent, abs=6e-4)
    assert bend.fall == pytest.approx(max(falls), abs=1e-6)
    assert bend.track == pytest.approx(tracks[int(np.argmax(falls))], abs=2e-3)


def test_small_loads_bend_by_four_twenty_sevenths():
    # the textbook's rule for small Rp/RL: 4/27 of it, at two thirds of the track
    bend = pot.worst_bend(10e3, 10e6)
    assert bend.fall == pytest.approx(4 / 27 * 1e-3, rel=1e-3)
    assert bend.track == pytest.approx(2 / 3, abs=1e-3)


@pytest.mark.parametrize(
    ("bits", "millivolts"),
    # 10 V / 2^n, as data sheets round it; ours divides by 2^n - 1 and is larger by that quotient
    [(8, 39.06), (10, 9.766), (12, 2.441), (14, 0.6104), (16, 0.1526)],
)
def test_step_of_a_converter(bits, millivolts):
    step_v = signals.dac_step(bits, 0.0, 10.0)
    assert step_v * (2**bits - 1) / 2**bits == pytest.approx(millivolts * 1e-3, rel=3e-4)


@pytest.mark.parametrize(
    ("supply_v", "need_v", "current_a", "ohms"),
    # R = (Vs - Vmin) / Imax worked by hand
    [
        (24, 12, 0.0205, 585.4),
        (24, 12, 0.021, 571.4),
        (24, 10, 0.020, 700.0),
        (30, 10.5, 0.022, 886.4),
        (18, 8, 0.0205, 487.8),
    ],
)
def test_loop_resistance(supply_v, need_v, current_a, ohms):
    assert signals.loop_resistance_max_ohm(supply_v, need_v, current_a) == pytest.approx(
        ohms, abs=0.05
    )


def test_loop_is_reckoned_with_the_top_of_namur_ne_43():
    # NE 43: a measured value goes up to 20.5 mA; (24 - 12) / 0.0205 = 585.4 ohm
    assert signals.loop_resistance_max_ohm(24, 12) == pytest.approx(585.4, abs=0.05)


def test_source_resistance_against_kirchhoff():
    # One node: (V - 10)/1000 + V/20000 = 0
    (volts,) = np.linalg.solve([[1 / 1000 + 1 / 20000]], [10.0 / 1000])
    assert signals.divided_voltage_v(10.0, 1e3, 20e3) == pytest.approx(volts)
    assert not math.isclose(volts, 10.0, rel_tol=0.01)
