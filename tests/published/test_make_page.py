"""The page of checks: it is the committed one, it holds every check, and it hides no failure."""

from dataclasses import replace

import pytest

from core.calc import motor
from tests.published.checks import STATUSES, collected, series
from tests.published.make_page import PAGE, difference, make_page, number

(SLIP,) = series(
    motor.slip,
    [("1750 of 1800", (1750.0, 1800.0), 0.02778)],
    source="s = (ns - n) / ns, worked by hand",
    status="by hand",
    tolerance=5e-6,
)


def test_committed_page_is_what_the_checks_give_now():
    committed = PAGE.read_text(encoding="utf-8")
    assert committed == make_page(collected()), "run python -m tests.published.make_page"


def test_page_has_a_row_for_every_check_and_nothing_fails():
    page = PAGE.read_text(encoding="utf-8")
    rows = [line for line in page.splitlines() if line.startswith("| `")]
    assert len(rows) == len(collected())
    assert f"Checks: {len(rows)}. Within their tolerance: {len(rows)}." in page
    assert ", fails**" not in page


def test_every_status_is_told():
    page = make_page([SLIP])
    assert all(f"| {status} | {meaning} |" in page for status, meaning in STATUSES.items())
    assert "| by hand | worked out by hand from the rule or table named | 1 |" in page


def test_row_holds_both_values_their_difference_and_the_source():
    page = make_page([SLIP])
    assert "## core.calc.motor" in page
    assert (
        "| `slip` | 1750 of 1800 | 0.02778 | 0.0277778 | -2.2e-06 | 5e-06 "
        "| s = (ns - n) / ns, worked by hand | by hand |"
    ) in page


def test_value_out_of_tolerance_is_marked():
    page = make_page([replace(SLIP, expected=0.03)])
    assert "**-0.0022, fails**" in page
    assert "Checks: 1. Within their tolerance: 0." in page


def test_words_are_compared_as_words():
    page = make_page([replace(SLIP, got=lambda: "a|b", expected="a|b", tolerance=0.0)])
    assert "| a\\|b | a\\|b |  |  |" in page


@pytest.mark.parametrize(
    ("value", "tolerance", "text"),
    [
        (2.0 / 3.0, 1e-3, "0.666667"),
        (-1e-17, 1e-9, "0"),
        (0.1 + 0.2, 1e-9, "0.3"),
        (16.0, 0.5, "16"),
    ],
)
def test_numbers_leave_out_noise(value, tolerance, text):
    assert number(value, tolerance) == text


@pytest.mark.parametrize(
    ("value", "tolerance", "text"),
    [(0.1 + 0.2 - 0.3, 1e-9, "0"), (0.0123, 0.05, "+0.012"), (-0.0123, 0.05, "-0.012")],
)
def test_differences_leave_out_noise(value, tolerance, text):
    assert difference(value, tolerance) == text
