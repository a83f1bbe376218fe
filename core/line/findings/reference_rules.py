"""Findings about the span of the speed reference: what the source gives, what the drive expects."""

from collections.abc import Iterator

from core.calc import reference
from core.line.chain import Limits, expected_span
from core.line.findings.view import Found, View, station_rule
from core.line.settings import Span
from core.model import ReferenceInput
from core.model.choices import REFERENCE_SOURCES

_SOURCE_SIGNALS = {
    "potentiometer": "voltage",
    "voltage": "voltage",
    "dac": "voltage",
    "current": "current",
}
_SWITCH_UNKNOWN = "if the drive has one"


def _source_span(view: View) -> Span | None:
    held, kind = view.station.reference, view.drive_type
    low: float | None
    if held.source == "potentiometer":
        low, high = 0.0, kind.reference_supply_v if kind else None
    elif held.source == "current":
        low, high = held.low_a, held.high_a
    elif held.source in _SOURCE_SIGNALS:
        low, high = held.low_v or 0.0, held.high_v
    else:
        return None
    if low is None or high is None or high <= low:
        return None
    return Span(_SOURCE_SIGNALS[held.source], low, high)


def _input(view: View) -> tuple[ReferenceInput, Span] | None:
    kind = view.drive_type
    entry = kind.reference_input(view.station.reference.input_name) if kind else None
    expected = expected_span(view.station, kind, entry) if entry else None
    return None if entry is None or expected is None else (entry, expected)


def _spans(view: View) -> tuple[Span, Span] | None:
    """What the source gives and what the input expects, where both are of one kind."""
    source, held = _source_span(view), _input(view)
    if source is None or held is None or source.signal != held[1].signal:
        return None
    return source, held[1]


def _words(span: Span) -> str:
    return f"{_number(span.low, span)}-{_signal(span.high, span)}"


def _number(signal: float, span: Span) -> str:
    return f"{signal * 1e3 if span.signal == 'current' else signal:.4g}"


def _signal(signal: float, span: Span) -> str:
    return f"{_number(signal, span)} {'mA' if span.signal == 'current' else 'V'}"


@station_rule(
    key="reference-creeps",
    level="fault",
    says="The source gives {source_span}, the input is set to {input_span}: with the source at its "
    "bottom the drive already sees {bottom_share} of its range.",
    follows="At {signal} the drive runs at {runs_hz} instead of {meant_hz}; every speed but the "
    "top is too high.",
    mend="Set the drive's reference range to {source_span}.",
    source="linear scaling; IEC 60381-1 for live zero",
)
def reference_creeps(view: View) -> Iterator[Found]:
    """A 4-20 mA source into a 0-20 mA input, or 2-10 V into 0-10 V."""
    spans, limits = _spans(view), view.result.limits
    if spans is None or limits is None:
        return
    source, expected = spans
    share = reference.input_ratio(source.low, expected.low, expected.high)
    if share > 0.005:
        signal = _told_signal(view, source)
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "bottom_share": share,
                "signal": _signal(signal, source),
                "runs_hz": _frequency_hz(signal, expected, limits),
                "meant_hz": _frequency_hz(signal, source, limits),
            },
        )


def _told_signal(view: View, source: Span) -> float:
    """The signal as set now, else the middle of the source's travel."""
    held = view.station.reference
    now = held.now_a if source.signal == "current" else held.now_v
    return (source.low + source.high) / 2.0 if now is None else now


def _frequency_hz(signal: float, scale: Span, limits: Limits) -> float:
    share = reference.input_ratio(signal, scale.low, scale.high)
    asked = reference.frequency_at_ratio_hz(share, limits.bottom_hz, limits.top_hz)
    return reference.limited_frequency_hz(asked, limits.minimum_hz, limits.maximum_hz)


@station_rule(
    key="reference-dead-zone",
    level="fault",
    says="The source gives {source_span}, the input is set to {input_span}: the first {dead_share} "
    "of the source's travel does nothing.",
    follows="The knob has a dead zone at the bottom, and a lost wire looks like the lowest speed.",
    mend="Set the drive's reference range to {source_span}, or use a source with a live zero.",
    source="linear scaling; IEC 60381-1 for live zero",
)
def reference_dead_zone(view: View) -> Iterator[Found]:
    """A 0-20 mA source into a 4-20 mA input."""
    spans = _spans(view)
    if spans is None:
        return
    source, expected = spans
    dead = (expected.low - source.low) / (source.high - source.low)
    if dead > 0.005:
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "dead_share": min(dead, 1.0),
            },
        )


@station_rule(
    key="reference-top-not-reached",
    level="fault",
    says="The source gives {source_span}, the input is set to {input_span}: the source's top is "
    "{top_share} of the input's range.",
    follows="The drive reaches {reached_hz} instead of {top_hz}.",
    mend="Set the input's range to {source_span}, amplify the signal, or scale the top frequency.",
    source="linear scaling; IEC 60381-2 for 0-10 V",
)
def reference_top_not_reached(view: View) -> Iterator[Found]:
    """A 0-5 V source into a 0-10 V input."""
    spans, limits = _spans(view), view.result.limits
    if spans is None or limits is None:
        return
    source, expected = spans
    share = reference.input_ratio(source.high, expected.low, expected.high)
    if share < 0.995:
        reached = reference.frequency_at_ratio_hz(share, limits.bottom_hz, limits.top_hz)
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "top_share": share,
                "reached_hz": reached,
                "top_hz": limits.top_hz,
            },
        )


@station_rule(
    key="reference-top-cut-off",
    level="fault",
    says="The source gives {source_span}, the input is set to {input_span}: above {input_top} more "
    "signal gives no more speed.",
    follows="The last {lost_share} of the source's travel does nothing.",
    mend="Set the input's range to {source_span}.",
    source="linear scaling",
)
def reference_top_cut_off(view: View) -> Iterator[Found]:
    """A 0-10 V source into a 0-5 V input."""
    spans = _spans(view)
    if spans is None:
        return
    source, expected = spans
    lost = (source.high - expected.high) / (source.high - source.low)
    if lost > 0.005:
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "input_top": _signal(expected.high, expected),
                "lost_share": min(lost, 1.0),
            },
        )


@station_rule(
    key="reference-wrong-kind",
    level="blocker",
    says="The source gives a {source_kind}, reference input {input_name} is set to a {input_kind}.",
    follows="The speed does not follow, and a voltage on a current input can overload its shunt.",
    mend="Wire the other input, or change the range setting and the switch ({switch_position}).",
    source="IEC 61131-2: a current input is a low resistance",
)
def reference_wrong_kind(view: View) -> Iterator[Found]:
    """A voltage source into a current input, or the other way round."""
    held, given = _input(view), _SOURCE_SIGNALS.get(view.station.reference.source or "")
    if held is None or given is None or held[1].signal == given:
        return
    entry, expected = held
    yield (
        view.at_reference("input_name"),
        {
            "source_kind": given,
            "input_kind": expected.signal,
            "input_name": entry.name,
            "switch_position": entry.switch_position or _SWITCH_UNKNOWN,
        },
    )


@station_rule(
    key="reference-switch-position",
    level="fault",
    says="Reference input {input_name} is a {input_kind} input; the range setting {code} says "
    "{meaning}.",
    follows="Setting and hardware disagree: the reading is wrong, and a current input can burn.",
    mend="Bring switch ({switch_position}) and setting {code} to the same signal.",
    source="common practice",
)
def reference_switch_position(view: View) -> Iterator[Found]:
    """The range setting asks for another signal than the input's switch gives."""
    held, setting = _input(view), view.setting("reference_range")
    if held is None or setting is None or held[1].signal == held[0].signal:
        return
    entry = held[0]
    yield (
        view.at_setting(setting.code),
        {
            "input_name": entry.name,
            "input_kind": entry.signal,
            "code": setting.code,
            "meaning": setting.meaning,
            "switch_position": entry.switch_position or _SWITCH_UNKNOWN,
        },
    )


@station_rule(
    key="reference-not-from-input",
    level="fault",
    says="A {source} is wired as speed reference; setting {code} takes the speed from {meaning}.",
    follows="The drive does not follow the wired reference.",
    mend="Set {code} to the reference input, or enter where the speed really comes from.",
    source="common practice",
)
def reference_not_from_input(view: View) -> Iterator[Found]:
    """A wired reference, and a drive that listens to its keypad, its presets or the bus."""
    setting, source = view.setting("reference_source"), view.station.reference.source
    if setting is None or source not in _SOURCE_SIGNALS:
        return
    if any(word in setting.meaning.casefold() for word in ("keypad", "preset", "bus")):
        yield (
            view.at_setting(setting.code),
            {
                "source": REFERENCE_SOURCES[source].lower().replace("dac", "DAC"),
                "code": setting.code,
                "meaning": setting.meaning,
            },
        )
