"""Checks of the calculations against the outside: one record each, with its source.

A module `tests/published/test_*.py` names its records `CHECKS` and runs each by `every`. The page
docs/verification.md is made of all of them by `collected` and `Check.outcome`.
"""

import importlib
import math
import pkgutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import Any

import pytest

import tests.published

# How an expected value was had. None of them is the program.
STATUSES = {
    "seen": "read in a copy of the source",
    "from memory": "known, not read again",
    "formula": "worked out from the source's own formula",
    "by hand": "worked out by hand from the rule or table named",
    "library": "computed by an independent program when the check runs",
    "common practice": "known to the trade",
}

Expected = float | str | Callable[[], float]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a check came to: `deviation` is None for words, which either agree or do not."""

    got: float | str
    expected: float | str
    deviation: float | None
    passed: bool


@dataclass(frozen=True, slots=True)
class Check:
    """One published value and how the program comes to it.

    `got` calls the program, in the unit named; `tolerance` is in that unit too, and holds the
    rounding of the source. `source` names document, edition and place.
    """

    function: Callable[..., Any]
    case: str
    got: Callable[[], float | str]
    expected: Expected
    tolerance: float
    unit: str
    source: str
    status: str

    @property
    def name(self) -> str:
        """The function as the documentation calls it."""
        module = self.function.__module__.removeprefix("core.calc.").removeprefix("core.")
        return f"{module}.{self.function.__name__}"

    def outcome(self) -> Outcome:
        """Run the program and compare."""
        got = self.got()
        expected = self.expected() if callable(self.expected) else self.expected
        if isinstance(got, str) or isinstance(expected, str):
            return Outcome(got, expected, None, got == expected)
        deviation = got - expected
        passed = math.isfinite(deviation) and abs(deviation) <= self.tolerance
        return Outcome(got, expected, deviation, passed)

    def verify(self) -> None:
        """Fail the test that runs this check if it does not hold."""
        outcome = self.outcome()
        assert outcome.passed, (
            f"{self.name}, {self.case}: got {outcome.got} {self.unit}, expected "
            f"{outcome.expected} within {self.tolerance:g} by {self.source}"
        )


def series(
    function: Callable[..., Any],
    cases: Iterable[tuple[str, tuple[Any, ...], Expected]],
    *,
    source: str,
    status: str,
    unit: str = "",
    tolerance: float = 0.0,
    of: Callable[[Any], float | str] = lambda result: result,
) -> tuple[Check, ...]:
    """Checks of one function from one source: case in words, arguments in SI, expected value.

    `of` takes from the function's result what is compared, in the unit named.
    """
    return tuple(
        Check(
            function=function,
            case=case,
            got=partial(_taken, of, function, arguments),
            expected=expected,
            tolerance=tolerance,
            unit=unit,
            source=source,
            status=status,
        )
        for case, arguments, expected in cases
    )


def every(checks: Iterable[Check]) -> pytest.MarkDecorator:
    """Mark a test to run once for each check."""
    return pytest.mark.parametrize(
        "check", [pytest.param(check, id=f"{check.name}: {check.case}") for check in checks]
    )


def collected() -> tuple[Check, ...]:
    """All checks of all modules of this package, in the order of their names."""
    names = sorted(info.name for info in pkgutil.iter_modules(tests.published.__path__))
    modules = [importlib.import_module(f"tests.published.{name}") for name in names]
    return tuple(check for module in modules for check in getattr(module, "CHECKS", ()))


def kelvin(celsius: float) -> float:
    """Thermodynamic temperature of a Celsius temperature [K]."""
    return celsius + 273.15


def _taken(
    of: Callable[[Any], float | str], function: Callable[..., Any], arguments: tuple[Any, ...]
) -> float | str:
    return of(function(*arguments))
