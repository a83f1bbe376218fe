"""Checks as plain data for other programs, and as text for a terminal."""

from collections.abc import Callable, Sequence
from typing import Any

from core.line.checks.base import CheckItem, Limits, State, done_share
from core.model import Line
from core.model.choices import STAGES
from core.units import System, show, show_computed

FORMAT_NAME = "linebook-checks-1"
STATE_WORDS: dict[State, str] = {
    "open": "open",
    "good": "good",
    "out": "OUT OF LIMITS",
    "kept": "kept, with a reason",
    "skipped": "does not apply",
}


def checks_as_data(items: Sequence[CheckItem], line: Line) -> dict[str, Any]:
    """Every check with its limits and its result, in SI."""
    done, of = done_share(items)
    return {
        "format": FORMAT_NAME,
        "line": line.name,
        "done": done,
        "of": of,
        "checks": [_item(item) for item in items],
    }


def _item(item: CheckItem) -> dict[str, Any]:
    held = item.result
    return {
        "check": item.rule.key,
        "stage": item.rule.stage,
        "label": item.rule.label,
        "station": item.tag,
        "state": item.state,
        "kind": item.rule.kind,
        "low": item.limits.low,
        "high": item.limits.high,
        "expected": item.limits.expected,
        "options": list(item.rule.options),
        "good": list(item.limits.good),
        "why": item.limits.why,
        "answer": held.answer if held else "open",
        "value": held.value if held else None,
        "option": held.shown if held and held.answer == "choice" else "",
        "temperature_k": held.temperature_k if held else None,
        "reason": held.reason if held else "",
        "instrument": held.instrument if held else "",
        "person": held.person if held else "",
        "at": held.done_at if held else "",
    }


def checks_as_text(items: Sequence[CheckItem], line: Line) -> str:
    """The checks by stage, each with its place, its limits and where it stands."""
    system = line.unit_system
    done, of = done_share(items)
    lines = [f"{done} of {of} checks done."]
    stage = ""
    for item in items:
        if item.rule.stage != stage:
            stage = item.rule.stage
            lines += ["", STAGES[stage]]
        words = " ".join(part for part in (item.tag or "Line", item.rule.label) if part)
        limits = expected_text(item, system)
        lines.append(f"  {words}{f' [{limits}]' if limits else ''}: {answer_text(item, system)}")
    return "\n".join(lines)


def limits_text(limits: Limits, kind: str, system: System) -> str:
    """Limits and expected value as people read them; empty where there are none."""
    if not kind:
        return ""

    def told(value: float) -> str:
        return str(show_computed(value, kind, system))

    parts = []
    if limits.low is not None and limits.high is not None:
        parts.append(f"{told(limits.low)} to {told(limits.high)}")
    elif limits.low is not None:
        parts.append(f"at least {told(limits.low)}")
    elif limits.high is not None:
        parts.append(f"at most {told(limits.high)}")
    if limits.expected is not None:
        parts.append(f"expected {told(limits.expected)}")
    return ", ".join(parts)


def expected_text(item: CheckItem, system: System) -> str:
    """What the answer of a check should be, as people read it; empty for a yes or no."""
    words = item.rule.options
    if words:
        good = [words[key] for key in item.limits.good if key in words]
        return f"expected: {', '.join(good)}" if good else ""
    return limits_text(item.limits, item.rule.kind, system)


def judged_text(item: CheckItem, system: System) -> str:
    """How a reading is judged where that is another value than was read; empty otherwise."""
    held, refer_k = item.result, item.limits.refer_k
    if held is None or held.value is None or held.answer != "reading" or refer_k is None:
        return ""
    at = show(refer_k, "temperature", system)
    if held.temperature_k is None:
        return f"Without its temperature it is judged as read, not at {at}."
    judged = item.limits.judged(held.value, held.temperature_k)
    return f"At {at} that is {show_computed(judged, item.rule.kind, system)}."


def answer_text(item: CheckItem, system: System, tr: Callable[[str], str] = str) -> str:
    """Where a check stands, with its reading; `tr` translates all but the reason."""
    held, words = item.result, tr(STATE_WORDS[item.state])
    if held is None or item.state == "open":
        return words
    if held.answer == "reading" and held.value is not None:
        words = f"{tr(str(show(held.value, item.rule.kind or 'factor', system)))}, {words}"
    elif held.answer in ("yes", "no", "choice"):
        told = tr(item.rule.options.get(held.shown, held.answer))
        words = told if item.state == "good" else f"{told}, {words}"
    return f"{words} ({held.reason})" if held.reason else words
