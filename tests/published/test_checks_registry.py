"""The published checks themselves: each complete, none twice, and a wrong value does fail."""

import math
from collections import Counter
from dataclasses import replace

import pytest

from tests.published.checks import STATUSES, Check, collected, series

HALVES = series(
    math.sqrt,
    [("of a quarter", (0.25,), 0.5)],
    source="Euclid, Elements, book VI",
    status="by hand",
    tolerance=1e-9,
)


def test_there_are_many_and_none_is_there_twice():
    counts = Counter((check.name, check.case, check.source) for check in collected())
    assert [key for key, times in counts.items() if times > 1] == []
    assert len(counts) >= 1000


@pytest.mark.parametrize("check", collected(), ids=lambda check: f"{check.name}: {check.case}")
def test_each_names_its_source_and_how_it_was_had(check):
    assert check.status in STATUSES
    assert len(check.source) > 8
    assert check.case.strip()
    assert check.function.__module__.startswith("core.")
    words = isinstance(check.expected, str)
    assert check.tolerance == 0.0 if words else check.tolerance > 0.0


def test_right_value_passes():
    HALVES[0].verify()
    assert HALVES[0].outcome().deviation == pytest.approx(0.0)


@pytest.mark.parametrize("wrong", [0.51, math.nan, "0.5"])
def test_wrong_value_fails_and_says_by_which_source(wrong):
    with pytest.raises(AssertionError, match="Euclid"):
        replace(HALVES[0], expected=wrong).verify()


def test_value_that_is_no_number_fails():
    check: Check = replace(HALVES[0], got=lambda: math.nan)
    assert not check.outcome().passed


def test_expected_may_come_from_a_library_at_run_time():
    replace(HALVES[0], expected=lambda: math.pow(0.25, 0.5)).verify()
