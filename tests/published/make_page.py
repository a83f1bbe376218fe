"""Write docs/verification.md from all published checks: ``python -m tests.published.make_page``.

Numbers are rounded well above the last bits of a float, so that every machine writes the same page.
"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path

from tests.published.checks import STATUSES, Check, Outcome, collected

PAGE = Path(__file__).parents[2] / "docs" / "verification.md"

INTRODUCTION = """\
# Verification

What the program computes, beside what others publish. `python -m tests.published.make_page` writes
this page from the checks in `tests/published`, running each; a test compares the page with them.

No expected value was produced by the program. *Deviation* is got minus expected; *tolerance* holds
the rounding of the source. Where the expected value is a word there is no deviation. Rules of
thumb are checked for being the rule that the trade quotes, not for being true of a motor or drive.
Follow local code and licensed practice; a source read in a copy is not the paid standard itself.
"""

HEADINGS = ("function", "case", "expected", "got", "deviation", "tolerance", "source", "status")
RIGHT = {"expected", "got", "deviation", "tolerance"}

# Digits of a value, and the share of the tolerance below which a difference is noise.
DIGITS, NOISE = 6, 1e-3


def make_page(checks: Iterable[Check]) -> str:
    """The whole page."""
    outcomes = [(check, check.outcome()) for check in checks]
    return "\n".join([INTRODUCTION, *_summary(outcomes), *_groups(outcomes)])


def number(value: float, tolerance: float) -> str:
    """A value as printed: six digits, less what is noise beside the tolerance."""
    decimals = math.ceil(-math.log10(tolerance * NOISE))
    return _signless_zero(f"{round(value, decimals):.{DIGITS}g}")


def difference(value: float, tolerance: float) -> str:
    """A deviation as printed: its sign and two digits, or zero where it is noise."""
    return "0" if abs(value) < tolerance * NOISE else f"{value:+.2g}"


def _signless_zero(text: str) -> str:
    return "0" if text == "-0" else text


def _summary(outcomes: list[tuple[Check, Outcome]]) -> Iterator[str]:
    held = sum(outcome.passed for _, outcome in outcomes)
    yield f"Checks: {len(outcomes)}. Within their tolerance: {held}.\n"
    counts = Counter(check.status for check, _ in outcomes)
    yield from _table(
        ("how the expected value was had", "meaning", "checks"),
        [(status, meaning, str(counts[status])) for status, meaning in STATUSES.items()],
        right={"checks"},
    )


def _groups(outcomes: list[tuple[Check, Outcome]]) -> Iterator[str]:
    """One heading for each module of the program, one table below it."""
    ordered = sorted(outcomes, key=lambda pair: pair[0].function.__module__)
    for module, group in groupby(ordered, key=lambda pair: pair[0].function.__module__):
        rows = sorted(group, key=lambda pair: pair[0].name)
        yield f"## {module}\n"
        yield from _table(HEADINGS, [_row(check, outcome) for check, outcome in rows], right=RIGHT)


def _row(check: Check, outcome: Outcome) -> tuple[str, ...]:
    compared = _compared(check, outcome)
    if not outcome.passed:
        compared = (*compared[:2], f"**{compared[2]}, fails**", compared[3])
    function = check.name.rpartition(".")[2]
    return (f"`{function}`", check.case, *compared, check.source, check.status)


def _compared(check: Check, outcome: Outcome) -> tuple[str, str, str, str]:
    """Expected, got, deviation and tolerance as printed."""
    if outcome.deviation is None:
        return str(outcome.expected), str(outcome.got), "", ""
    got, expected = float(outcome.got), float(outcome.expected)
    unit = f" {check.unit}" if check.unit else ""
    return (
        number(expected, check.tolerance) + unit,
        number(got, check.tolerance) + unit,
        difference(outcome.deviation, check.tolerance),
        f"{check.tolerance:.2g}",
    )


def _table(
    headings: tuple[str, ...], rows: list[tuple[str, ...]], right: set[str]
) -> Iterator[str]:
    yield _line(headings)
    yield _line("---:" if heading in right else "---" for heading in headings)
    yield from map(_line, rows)
    yield ""


def _line(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


if __name__ == "__main__":
    PAGE.write_text(make_page(collected()), encoding="utf-8", newline="\n")
    print(PAGE)
