"""Pairs held at a ratio: what is planned and set, how sure it is, and remedies really applied."""

import dataclasses
import math

import pytest

from core.line import compute_line
from core.line.findings import find
from core.line.pairs import CHANCE_THAT_HOLDS, wanted_differential
from core.model import SpeedReference
from tests.core.line.builders import settings
from tests.core.line.fruit import M_S_PER_HZ, at, line, pair

ROOT3 = math.sqrt(3.0)


def knobs(held, **reference):
    """A station told by a knob, which a hand sets to ± 1 % of its travel."""
    knob = SpeedReference(
        held.id, "potentiometer", input_name="V in", pot_ohm=10e3, pot_linearity=0.0
    )
    return dataclasses.replace(held, reference=dataclasses.replace(knob, **reference))


def belts(**first):
    """Two stations: the second runs 40 Hz, the first follows it; both by knobs."""
    return (
        knobs(at(1, wanted="pair", **first)),
        knobs(at(2, wanted="surface", wanted_m_s=40.0 * M_S_PER_HZ)),
    )


CLOSE = pair(wanted_differential=0.03, tolerance=0.01)
"""3 % ± 1 %: 0.03 = (v₁ − v₂) / mean, so v₁ = v₂ · 1.015 / 0.985, 41.218 Hz."""


def result_of(*stations, held=CLOSE, **changes):
    return compute_line(line(*stations, pairs=(held,), **changes)).plan.pairs[0]


def remedies(result):
    return {remedy.key: remedy for remedy in result.remedies}


# --- what is planned, wanted and set ----------------------------------------------------------


@pytest.mark.parametrize(
    ("first_m_s", "second_m_s", "differential"),
    # reference fruit-line.md V1: difference over mean; U1 row 5
    [(0.44, 0.40, 0.04 / 0.42), (0.40, 0.44, -0.04 / 0.42), (0.342, 0.3427, -0.0007 / 0.34235)],
)
def test_differential_as_planned_and_as_set(first_m_s, second_m_s, differential):
    planned = result_of(
        at(1, wanted="surface", wanted_m_s=first_m_s),
        at(2, wanted="surface", wanted_m_s=second_m_s),
    )
    assert planned.planned == pytest.approx(differential)
    assert planned.present is None
    setting = result_of(at(1, hz=first_m_s / M_S_PER_HZ), at(2, hz=second_m_s / M_S_PER_HZ))
    assert setting.present == pytest.approx(differential)
    assert setting.planned is None
    assert setting.holds is None


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"wanted_differential": 0.08}, 0.08),
        # A ratio of 1.25 is 0.25 over the mean 1.125.
        ({"wanted_as": "ratio", "wanted_ratio": 1.25}, 0.25 / 1.125),
        ({"wanted_as": "ratio", "wanted_ratio": 1.0}, 0.0),
        ({"wanted_as": "ratio"}, None),
        ({}, None),
        # What was entered for the other way of saying it does not count.
        ({"wanted_as": "ratio", "wanted_differential": 0.08}, None),
    ],
)
def test_what_a_pair_wants(changes, wanted):
    held = wanted_differential(pair(**changes))
    assert held == (None if wanted is None else pytest.approx(wanted))


@pytest.mark.parametrize(
    ("present_hz", "within"), [(41.2, True), (41.6, True), (41.7, False), (40.0, False)]
)
def test_whether_it_is_set_within_its_band(present_hz, within):
    # 2 % to 4 % of 40 Hz: 40 · 1.01 / 0.99 = 40.81 to 40 · 1.02 / 0.98 = 41.63 Hz
    held = result_of(at(1, hz=present_hz), at(2, hz=40.0))
    assert held.is_set_within is within


def test_nothing_to_judge_a_setting_by():
    assert result_of(at(1, hz=40.0), at(2, hz=40.0), held=pair()).is_set_within is None
    assert result_of(at(1), at(2, hz=40.0)).is_set_within is None


@pytest.mark.parametrize("ends", [(1, None), (None, 2), (1, 1), (1, 99)])
def test_half_a_pair_is_left_out(ends):
    held = line(at(1), at(2), pairs=(dataclasses.replace(CLOSE, first_station_id=ends[0],
                                                         second_station_id=ends[1]),))  # fmt: skip
    assert compute_line(held).plan.pairs == ()


# --- how sure it is ---------------------------------------------------------------------------


def test_a_differential_smaller_than_its_uncertainty_says_so():
    held = result_of(*belts())
    # Knobs of ± 0.6 Hz and steps of ± 0.005 Hz, each over √3, at 41.218 and at 40 Hz; the
    # sensitivity is 4·v₁·v₂ / (v₁ + v₂)², 1 − 0.015².
    knob, step = 0.6 / ROOT3, 0.005 / ROOT3
    first_hz = 40.0 * 1.015 / 0.985
    u = (1 - 0.015**2) * math.sqrt((knob**2 + step**2) * (1 / first_hz**2 + 1 / 40.0**2))
    assert held.u == pytest.approx(u, rel=1e-9)
    assert held.u == pytest.approx(0.0120655, rel=1e-5)
    # 1 % of band is 0.8288 u: 2·Φ(−0.8288) = 40.7 %; 3 % is 2.486 u: Φ(−2.486) = 0.646 %
    assert held.chance_outside == pytest.approx(0.407, abs=0.001)
    assert held.chance_sign == pytest.approx(0.00646, abs=0.00005)
    assert held.holds is False
    assert held.parts[0][0] == "setting"
    assert held.parts[0][1] == pytest.approx(1.0, abs=1e-4)
    assert [a.part for a in held.assumed] == ["setting"]


@pytest.mark.parametrize(
    ("v1", "v2", "percent", "u_over_difference"),
    # reference fruit-line.md U1: two speeds each with a standard uncertainty in per cent, and what
    # it makes of their difference, in per cent of it. Over the mean the sum is the same but for
    # the factor 4·v₁·v₂ / (v₁ + v₂)² · mean · √2 / √(v₁² + v₂²), worked out beside.
    [(0.44, 0.40, 0.5, 7.433), (0.274, 0.253, 0.5, 8.8795)],
)
def test_against_the_table_of_the_reference(v1, v2, percent, u_over_difference):
    # The speed's own part: a diameter of ± a, with a/√3 that per cent of 0.2 m.
    within = percent / 100.0 * ROOT3 * 0.2
    stations = []
    for number, speed in ((1, v1), (2, v2)):
        plain = at(number, wanted="surface", wanted_m_s=speed)
        told = dataclasses.replace(plain.reference, source="keypad", now_hz=None)
        train = dataclasses.replace(plain.drivetrain, diameter_within_m=within)
        stations.append(dataclasses.replace(plain, reference=told, drivetrain=train))
    held = result_of(*stations)
    mean = (v1 + v2) / 2.0
    factor = 4 * v1 * v2 / (v1 + v2) ** 2 * math.sqrt(2.0) * mean / math.hypot(v1, v2)
    # Told in hertz, what is left beside is the step of 0.01 Hz, under a thousandth of it.
    assert held.u / held.planned * 100.0 == pytest.approx(u_over_difference * factor, rel=1e-3)
    assert factor == pytest.approx(1.0, abs=0.005)


def test_a_wide_band_holds():
    held = result_of(*belts(), held=pair(wanted_differential=0.16, tolerance=0.04))
    # 16 % ± 4 %: 4 % is 3.4 u.
    assert held.holds is True
    assert held.chance_outside < 0.001
    assert held.remedies == ()


def test_without_a_band_there_is_nothing_to_hold():
    held = result_of(*belts(), held=pair(wanted_differential=0.03))
    assert held.holds is None
    assert held.chance_outside is None
    assert held.chance_sign == pytest.approx(0.00646, abs=0.00005)
    assert set(remedies(held)) == {"one_signal", "span", "bus"}


def test_equal_speeds_have_no_sign_to_lose():
    held = result_of(*belts(), held=pair(wanted_differential=0.0, tolerance=0.05))
    assert held.planned == pytest.approx(0.0)
    assert held.chance_sign is None
    assert held.holds is True


def test_a_plan_that_misses_what_the_pair_wants_counts_against_it():
    # Planned 0 %, wanted 3 ± 1 %: far outside of its band however sure.
    stations = [knobs(at(n, wanted="surface", wanted_m_s=0.5), setting_share=0.0) for n in (1, 2)]
    held = result_of(*stations)
    assert held.chance_outside == pytest.approx(1.0)
    assert held.holds is False
    assert held.is_planned_within is False
    # No wiring would mend that, and none is blamed.
    assert cannot_hold(*stations) == []


def test_without_a_plate_there_is_no_budget():
    first, second = belts()
    held = result_of(dataclasses.replace(first, motors=()), second)
    assert (held.u, held.holds, held.parts, held.remedies) == (None, None, (), ())


def test_an_entry_that_no_uncertainty_follows_from_is_told():
    first, second = belts()
    worn = dataclasses.replace(second.drivetrain, wear_m=0.3)
    held = result_of(first, dataclasses.replace(second, drivetrain=worn))
    assert held.planned == pytest.approx(0.03)
    assert held.u is None
    assert "the wear 0.3 m: nothing would be left" in held.problem
    assert result_of(first, second).problem == ""


# --- remedies, each really applied to the line ------------------------------------------------


def cannot_hold(*stations, held=CLOSE, **changes):
    found = find(compute_line(line(*stations, pairs=(held,), **changes))).found
    return [entry for entry in found if entry.key == "pair-cannot-hold"]


def test_the_three_remedies_with_their_figures():
    held = remedies(result_of(*belts()))
    assert list(held) == ["one_signal", "span", "bus"]
    # Both by one knob, in proportion: only the steps are left.
    step = 0.005 / ROOT3
    first_hz = 40.0 * 1.015 / 0.985
    factor = 1 - 0.015**2
    steps = factor * step * math.hypot(1 / first_hz, 1 / 40.0)
    assert held["one_signal"].u == pytest.approx(steps, rel=1e-6)
    assert held["bus"].u == pytest.approx(steps, rel=1e-6)
    # Spans of 85 % below to 115 % above, to whole hertz: 35 to 48 Hz and 34 to 46 Hz, where there
    # were 60: knobs of ± 0.13 and ± 0.12 Hz.
    narrow = math.sqrt(
        ((0.13 / ROOT3) ** 2 + step**2) / first_hz**2 + ((0.12 / ROOT3) ** 2 + step**2) / 40.0**2
    )
    assert held["span"].u == pytest.approx(factor * narrow, rel=1e-6)
    assert all(remedy.chance_outside <= CHANCE_THAT_HOLDS for remedy in held.values())


def test_one_signal_applied():
    # One knob for both, and the frequency at its top set in the ratio of the two.
    first, second = belts()
    ratio = 1.015 / 0.985
    top = settings(hz_max=60, hz_min=0, ref_low=0, ref_high=58.0 * ratio, ref_range=0)
    low = settings(hz_max=60, hz_min=0, ref_low=0, ref_high=58.0, ref_range=0)
    first = dataclasses.replace(first, drive=dataclasses.replace(first.drive, settings=top))
    second = dataclasses.replace(second, drive=dataclasses.replace(second.drive, settings=low))
    assert cannot_hold(first, second)
    tied = dataclasses.replace(CLOSE, one_signal=True)
    held = result_of(first, second, held=tied)
    assert held.holds is True
    assert held.u == pytest.approx(remedies(result_of(first, second))["one_signal"].u, rel=1e-6)
    assert cannot_hold(first, second, held=tied) == []
    found = find(compute_line(line(first, second, pairs=(tied,)))).found
    assert not [entry.key for entry in found if entry.key.startswith("pair-")]


def test_one_signal_leaves_what_is_not_in_proportion():
    # The same spans at both: the same error in hertz is not the same in per cent.
    held = result_of(*belts(), held=dataclasses.replace(CLOSE, one_signal=True))
    knob, step = 0.6 / ROOT3, 0.005 / ROOT3
    first_hz = 40.0 * 1.015 / 0.985
    left = math.hypot(knob * (1 / 40.0 - 1 / first_hz), step * math.hypot(1 / first_hz, 1 / 40.0))
    assert held.u == pytest.approx((1 - 0.015**2) * left, rel=1e-6)
    assert "one_signal" not in remedies(held)


def test_narrowed_ends_of_the_reference_applied():
    first, second = belts()
    ends = {1: (35.0, 48.0), 2: (34.0, 46.0)}
    narrowed = [
        dataclasses.replace(
            held,
            drive=dataclasses.replace(
                held.drive,
                settings=settings(
                    hz_max=60, hz_min=0, ref_low=ends[held.id][0], ref_high=ends[held.id][1],
                    ref_range=0,
                ),
            ),
        )
        for held in (first, second)
    ]  # fmt: skip
    held = result_of(*narrowed)
    assert held.holds is True
    assert held.u == pytest.approx(remedies(result_of(first, second))["span"].u, rel=1e-6)
    assert cannot_hold(*narrowed) == []


def test_hertz_over_a_bus_applied():
    first, second = belts()
    told = [dataclasses.replace(held, reference=SpeedReference(held.id, "bus")) for held in belts()]
    held = result_of(*told)
    assert held.holds is True
    assert held.u == pytest.approx(remedies(result_of(first, second))["bus"].u, rel=1e-6)
    assert cannot_hold(*told) == []
    assert remedies(held) == {}


def test_a_span_that_is_narrow_already_is_no_remedy():
    first, second = belts()
    tight = settings(hz_max=60, hz_min=0, ref_low=36, ref_high=46, ref_range=0)
    first, second = (
        dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=tight))
        for held in (first, second)
    )
    held = result_of(first, second, held=dataclasses.replace(CLOSE, tolerance=0.001))
    assert held.holds is False
    assert "span" not in remedies(held)


def test_a_plan_out_of_reach_has_no_span():
    first, second = belts()
    fast = dataclasses.replace(second, wanted_m_s=70.0 * M_S_PER_HZ)
    assert "span" not in remedies(result_of(first, fast))


def test_slip_is_beyond_these_remedies():
    # Loads that swing by half of rated torque, told in hertz: nothing on the list would help.
    stations = []
    for held in belts():
        train = dataclasses.replace(held.drivetrain, load_fraction=0.6, load_swing=0.5)
        told = SpeedReference(held.id, "bus")
        stations.append(dataclasses.replace(held, drivetrain=train, reference=told))
    held = result_of(*stations)
    assert held.holds is False
    assert held.parts[0][0] == "slip"
    assert held.remedies == ()


def test_what_is_shared_is_the_signal_and_never_the_slip():
    stations = [
        dataclasses.replace(
            held,
            drivetrain=dataclasses.replace(held.drivetrain, load_fraction=0.6, load_swing=0.1),
        )
        for held in belts()
    ]
    held = result_of(*stations, held=dataclasses.replace(CLOSE, one_signal=True))
    assert held.parts[0][0] == "slip"
    # ± 6 rpm of about 1200 at both: 6 / √3 / 1200 · √2 = 0.408 %
    assert held.u == pytest.approx(0.00408, rel=0.03)
