"""Load, device and conductor by IEC 60364-4-43: each condition alone, then the chain."""

import math

import pytest

from core.calc import iec_devices as iec
from core.errors import RangeError


@pytest.mark.parametrize(
    ("rating", "share"), [(2, 2.1), (4, 2.1), (6, 1.9), (12, 1.9), (16, 1.6), (63, 1.6)]
)
def test_fuse_needs_more_the_smaller_it_is(rating, share):
    assert iec.tripping_current_a(rating, "fuse") == pytest.approx(share * rating)


def test_breaker_asks_no_more_of_a_conductor_than_its_rating():
    assert iec.conductor_current_a(16.0, "breaker") == 16.0
    # A fuse of 16 A: 1.6 * 16 / 1.45 = 17.66 A
    assert iec.conductor_current_a(16.0, "fuse") == pytest.approx(17.655, abs=5e-4)


@pytest.mark.parametrize(
    ("design", "device", "conductor", "kind", "conditions"),
    [
        (10.0, 16.0, 16.0, "breaker", (True, True, True)),
        (17.0, 16.0, 20.0, "breaker", (False, True, True)),
        (10.0, 16.0, 15.0, "breaker", (True, False, False)),
        (10.0, 16.0, 17.0, "fuse", (True, True, False)),  # 25.6 A above 1.45 * 17 = 24.65 A
        (10.0, 16.0, 17.7, "fuse", (True, True, True)),
    ],
)
def test_each_condition(design, device, conductor, kind, conditions):
    found = iec.coordination(design, device, conductor, kind)
    assert (
        found.device_carries_load,
        found.conductor_carries_device,
        found.overload_protected,
    ) == conditions
    assert found.holds is all(conditions)


def test_fuse_values_from_memory_are_named():
    assert iec.coordination(10.0, 16.0, 20.0, "breaker").remarks == ()
    assert "memory" in iec.coordination(10.0, 16.0, 20.0, "fuse").remarks[0]


def test_chosen_device_is_the_smallest_that_carries_the_load():
    assert iec.device_rating_a(13.0, "breaker") == 13.0
    assert iec.device_rating_a(13.001, "breaker") == 16.0


@pytest.mark.parametrize(("current", "kind"), [(0.0, "breaker"), (126.0, "breaker"), (5.0, "rcd")])
def test_load_without_device_is_refused(current, kind):
    with pytest.raises(RangeError):
        iec.device_rating_a(current, kind)


@pytest.mark.parametrize(
    "arguments",
    [(0.0, 16.0, 20.0, "fuse"), (10.0, math.nan, 20.0, "fuse"), (10.0, 16.0, 0.0, "breaker")],
)
def test_impossible_chain_is_refused(arguments):
    with pytest.raises(RangeError):
        iec.coordination(*arguments)
