"""Every rule is tested both ways, has words that format, a level and a source."""

import ast
import string
from functools import cache
from pathlib import Path

import pytest

from core.line.findings import LEVELS, LINE_RULES, PLAN_RULES, STATION_RULES
from core.line.findings.base import FindingRule

RULES = {key: rule for key, (rule, _) in {**STATION_RULES, **LINE_RULES, **PLAN_RULES}.items()}
HERE = Path(__file__).parent


@cache
def named_in(helper: str) -> dict[str, set[str]]:
    """Keys that are handed to ``fires`` or ``quiet`` as text, by the name of the test function."""
    calls: dict[str, set[str]] = {}
    for path in HERE.glob("test_*_rules.py"):
        for test in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(test, ast.FunctionDef) and test.name.startswith("test_"):
                for call in ast.walk(test):
                    if isinstance(call, ast.Call) and getattr(call.func, "id", "") == helper:
                        first = call.args[0]
                        if isinstance(first, ast.Constant):
                            calls.setdefault(str(first.value), set()).add(test.name)
    return calls


@pytest.mark.parametrize("key", sorted(RULES))
def test_every_rule_has_a_test_that_fires_it_and_one_that_does_not(key):
    stem = f"test_{key.replace('-', '_')}"
    assert f"{stem}_fires" in named_in("fires").get(key, set())
    assert f"{stem}_quiet" in named_in("quiet").get(key, set())


def test_no_test_names_a_rule_that_is_none():
    named = set(named_in("fires")) | set(named_in("quiet"))
    assert named <= set(RULES)


def test_no_key_is_both_a_rule_of_a_station_and_of_the_line():
    assert not set(STATION_RULES) & set(LINE_RULES)
    assert not set(PLAN_RULES) & (set(STATION_RULES) | set(LINE_RULES))


@pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))
def test_words_of_a_rule(rule: FindingRule):
    assert rule.level in LEVELS
    assert rule.source.strip()
    assert rule.key == rule.key.lower()
    for told in (rule.says, rule.follows, rule.mend):
        assert told.endswith("."), told
        assert told.strip() == told
        assert "  " not in told
        for _, name, form, _ in string.Formatter().parse(told):
            assert name is None or name.isidentifier()
            assert not form
