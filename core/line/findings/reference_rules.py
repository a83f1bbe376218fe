"""Findings about the speed reference: span, zero, wiring, and what happens when it is lost."""

from collections.abc import Iterator

from core.calc import potentiometer, reference, signals
from core.line.chain import expected_span
from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule
from core.line.settings import Span
from core.model import ReferenceInput

_LIVE_ZERO_A = 0.0035
_BEND_SHARE = 0.02
"""Share of the scale that loading may bend before it is worth a word; common practice."""
_LOOP_TOP_A = 0.0205
"""NAMUR NE 43: a transmitter may go to 20.5 mA in normal work."""


def _ends(view: View) -> tuple[ReferenceInput, Span, Span] | None:
    """The wired input, what the source gives, what the input expects; None where not known."""
    held = view.station.reference
    entry = view.drive_type.reference_input(held.input_name) if view.drive_type else None
    expected = expected_span(view.station, view.drive_type, entry) if entry else None
    if held.source in ("voltage", "dac") and held.high_v is not None:
        source = Span("voltage", held.low_v or 0.0, held.high_v)
    elif held.source == "current" and held.low_a is not None and held.high_a is not None:
        source = Span("current", held.low_a, held.high_a)
    else:
        return None
    return None if entry is None or expected is None else (entry, source, expected)


def _words(span: Span) -> str:
    if span.signal == "current":
        return f"{span.low * 1e3:g}-{span.high * 1e3:g} mA"
    return f"{span.low:g}-{span.high:g} V"


def _same_kind(view: View) -> tuple[ReferenceInput, Span, Span] | None:
    ends = _ends(view)
    return ends if ends and ends[1].signal == ends[2].signal else None


@station_rule(
    key="reference-creeps",
    level="fault",
    says="The source gives {source_span}, the input is set to {input_span}: with the source at its "
    "bottom the drive already sees {bottom_share} of its range.",
    follows="The drive runs at {creep_hz} where it should be at {bottom_hz}, and every speed "
    "is off.",
    mend="Set the drive's reference range to {source_span}.",
    source="linear scaling; IEC 60381-1 for live zero",
)
def reference_creeps(view: View) -> Iterator[Found]:
    """A 4-20 mA source into a 0-20 mA input, or 2-10 V into 0-10 V."""
    ends, limits = _same_kind(view), view.result.limits
    if ends is None or limits is None:
        return
    _, source, expected = ends
    share = reference.input_ratio(source.low, expected.low, expected.high)
    if share > 0.005:
        creep = reference.frequency_at_ratio_hz(share, limits.bottom_hz, limits.top_hz)
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "bottom_share": share,
                "creep_hz": max(creep, limits.minimum_hz),
                "bottom_hz": max(limits.bottom_hz, limits.minimum_hz),
            },
        )


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
    ends = _same_kind(view)
    if ends is None:
        return
    _, source, expected = ends
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
    ends, limits = _same_kind(view), view.result.limits
    if ends is None or limits is None:
        return
    _, source, expected = ends
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
    ends = _same_kind(view)
    if ends is None:
        return
    _, source, expected = ends
    lost = (source.high - expected.high) / (source.high - source.low)
    if lost > 0.005:
        yield (
            view.at_reference("input_name"),
            {
                "source_span": _words(source),
                "input_span": _words(expected),
                "input_top": _words(expected).split("-")[-1],
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
    ends = _ends(view)
    if ends is not None and ends[1].signal != ends[2].signal:
        entry, source, expected = ends
        yield (
            view.at_reference("input_name"),
            {
                "source_kind": source.signal,
                "input_kind": expected.signal,
                "input_name": entry.name,
                "switch_position": entry.switch_position or "if the drive has one",
            },
        )


@station_rule(
    key="reference-switch-position",
    level="fault",
    says="Reference input {input_name} is a {input_kind} input, the range setting {code} says "
    "{meaning}.",
    follows="Setting and hardware disagree: the reading is wrong, and a current input can burn.",
    mend="Bring switch ({switch_position}) and setting {code} to the same signal.",
    source="common practice",
)
def reference_switch_position(view: View) -> Iterator[Found]:
    """The range setting asks for another signal than the input's switch gives."""
    held = view.station.reference
    entry = view.drive_type.reference_input(held.input_name) if view.drive_type else None
    setting = view.setting("reference_range")
    if entry is None or setting is None:
        return
    expected = expected_span(view.station, view.drive_type, entry)
    if expected is not None and expected.signal != entry.signal:
        yield (
            view.at_setting(setting.code),
            {
                "input_name": entry.name,
                "input_kind": entry.signal,
                "code": setting.code,
                "meaning": setting.meaning,
                "switch_position": entry.switch_position or "if the drive has one",
            },
        )


@station_rule(
    key="potentiometer-too-low",
    level="fault",
    says="The potentiometer of {potentiometer_ohm} draws {drawn_signal_a} from a supply that gives "
    "{allowed_signal_a}.",
    follows="The reference supply sags or switches off, and the speed with it.",
    mend="Use a potentiometer of at least {least_ohm}.",
    source="Ohm's law; the supply's limit from the drive's manual",
)
def potentiometer_too_low(view: View) -> Iterator[Found]:
    """The potentiometer draws more than the reference supply may give."""
    held, kind = view.station.reference, view.drive_type
    if held.source != "potentiometer" or held.pot_ohm is None or kind is None:
        return
    supply, allowed = kind.reference_supply_v, kind.reference_supply_max_a
    if supply is None or allowed is None:
        return
    drawn = potentiometer.end_to_end_current_a(supply, held.pot_ohm)
    if drawn > allowed:
        yield (
            view.at_reference("pot_ohm"),
            {
                "potentiometer_ohm": held.pot_ohm,
                "drawn_signal_a": drawn,
                "allowed_signal_a": allowed,
                "least_ohm": supply / allowed,
            },
        )


@station_rule(
    key="potentiometer-bends",
    level="advice",
    says="The drive's input of {input_ohm} loads the potentiometer of {potentiometer_ohm}: at "
    "{at_share} "
    "of its turn the signal is {bend_share} of full scale low.",
    follows="Equal steps of the knob are not equal steps of speed; a dial with hertz marks is off.",
    mend="Use a potentiometer of {better_ohm} or less, or mark the dial from measured speeds.",
    source="loaded divider by Kirchhoff's laws; 2 % as limit: common practice",
)
def potentiometer_bends(view: View) -> Iterator[Found]:
    """The potentiometer is so high that the input's load bends its scale."""
    held, kind = view.station.reference, view.drive_type
    entry = kind.reference_input(held.input_name) if kind else None
    if held.source != "potentiometer" or held.pot_ohm is None or entry is None:
        return
    if entry.input_resistance_ohm is None:
        return
    bend = potentiometer.worst_bend(held.pot_ohm, entry.input_resistance_ohm)
    if bend.fall > _BEND_SHARE:
        yield (
            view.at_reference("pot_ohm"),
            {
                "input_ohm": entry.input_resistance_ohm,
                "potentiometer_ohm": held.pot_ohm,
                "at_share": bend.track,
                "bend_share": bend.fall,
                # The bend is about 4/27 of the ratio of the two resistances.
                "better_ohm": _BEND_SHARE * 27 / 4 * entry.input_resistance_ohm,
            },
        )


@station_rule(
    key="potentiometer-taper",
    level="fault",
    says="The potentiometer has a {taper} taper.",
    follows="Most of the speed range sits in a small part of the turn; ratios cannot be held "
    "by knob.",
    mend="Fit a linear potentiometer.",
    source="common practice",
)
def potentiometer_taper(view: View) -> Iterator[Found]:
    """A potentiometer made for sound, not for speed."""
    taper = view.station.reference.pot_taper
    if view.station.reference.source == "potentiometer" and taper in ("log", "reverse_log"):
        yield view.at_reference("pot_taper"), {"taper": taper.replace("_", " ")}


@station_rule(
    key="loop-too-short-of-voltage",
    level="fault",
    says="The loop of {loop_supply_v} leaves {allowed_ohm} for all resistance at 20.5 mA; the "
    "input has "
    "{input_ohm}.",
    follows="The signal stops short of 20 mA, and the top speed is not reached.",
    mend="Use a higher loop supply or an input of lower resistance.",
    source="R = (U − U_min)/I; NAMUR NE 43 for 20.5 mA",
)
def loop_compliance(view: View) -> Iterator[Found]:
    """The loop supply cannot drive full current through the input."""
    held, kind = view.station.reference, view.drive_type
    entry = kind.reference_input(held.input_name) if kind else None
    if held.source != "current" or entry is None or entry.input_resistance_ohm is None:
        return
    if held.loop_supply_v is None or held.loop_min_v is None:
        return
    if held.loop_supply_v <= held.loop_min_v:
        allowed = 0.0
    else:
        allowed = signals.loop_resistance_max_ohm(held.loop_supply_v, held.loop_min_v, _LOOP_TOP_A)
    if entry.input_resistance_ohm > allowed:
        yield (
            view.at_reference("loop_supply_v"),
            {
                "loop_supply_v": held.loop_supply_v,
                "allowed_ohm": allowed,
                "input_ohm": entry.input_resistance_ohm,
            },
        )


@station_rule(
    key="screen-both-ends",
    level="fault",
    says="The screen of the {run} cable is earthed at both ends.",
    follows="Current between the two earths runs through the screen and shakes the speed.",
    mend="Earth it at the drive only; insulate the other end.",
    source="common practice for low-frequency signals",
)
def screen_both_ends(view: View) -> Iterator[Found]:
    """A signal screen with two earths."""
    for cable in view.station.cables:
        if cable.run in ("reference", "bus") and cable.screen == "both":
            yield Place("cable", cable.id, "screen"), {"run": cable.run}


@station_rule(
    key="screen-nowhere",
    level="fault",
    says="The screen of the reference cable is earthed nowhere.",
    follows="It screens nothing, and can couple more noise in than no screen.",
    mend="Earth it at the drive.",
    source="common practice",
)
def screen_nowhere(view: View) -> Iterator[Found]:
    """A screen that hangs free."""
    cable = view.station.cable("reference")
    if cable is not None and cable.screen == "open":
        yield Place("cable", cable.id, "screen"), {}


@station_rule(
    key="reference-without-screen",
    level="advice",
    says="The reference cable has no screen.",
    follows="Beside motor leads and contactors a signal without a screen picks up noise.",
    mend="Use a screened twisted pair, earthed at the drive only.",
    source="common practice",
)
def reference_without_screen(view: View) -> Iterator[Found]:
    """A wired reference in a cable without screen, longer than a jumper."""
    cable = view.station.cable("reference")
    if cable is not None and cable.screen == "none" and (cable.length_m or 0.0) > 2.0:
        yield Place("cable", cable.id, "screen"), {}


@station_rule(
    key="reference-with-motor-leads",
    level="fault",
    says="The reference cable is laid with {neighbour}.",
    follows="The drive's switching couples into the signal, and the speed shakes.",
    mend="Lay it by itself, at least {apart_m} from motor leads, and cross them at a right angle.",
    source="common practice",
)
def reference_with_motor_leads(view: View) -> Iterator[Found]:
    """A reference that shares a cable way with motor leads or power."""
    names = {"motor": "motor leads", "power": "power wires"}
    cable = view.station.cable("reference")
    if cable is not None and cable.route in names:
        yield Place("cable", cable.id, "route"), {"neighbour": names[cable.route], "apart_m": 0.2}


@station_rule(
    key="reference-loss-not-set",
    level="fault",
    says="The signal has a live zero of {zero_signal_a}, and what the drive does when it is "
    "lost is "
    "{action}.",
    follows="A broken wire is not told from a speed; the belt may run on or stop unseen.",
    mend="Set the drive's action on lost reference and enter it here.",
    source="common practice; NAMUR NE 43 for the broken-wire band",
)
def reference_loss_not_set(view: View) -> Iterator[Found]:
    """A live-zero signal whose loss does nothing that anybody defined."""
    held = view.station.reference
    if held.source == "current" and (held.low_a or 0.0) >= _LIVE_ZERO_A:
        words = {"unknown": "not known", "nothing": "nothing"}
        if held.loss_action in words:
            yield (
                view.at_reference("loss_action"),
                {"zero_signal_a": held.low_a or 0.0, "action": words[held.loss_action]},
            )


@station_rule(
    key="wanted-speed-out-of-reach",
    level="fault",
    says="The wanted speed needs {wanted_hz}; the drive runs from {minimum_hz} to {maximum_hz}.",
    follows="The station cannot run as wanted with these limits.",
    mend="Change the limits if motor and machine allow it, or the drivetrain.",
    source="slip in proportion to torque on a constant V/f line",
)
def wanted_speed_out_of_reach(view: View) -> Iterator[Found]:
    """The frequency for the wanted speed lies outside of the drive's limits."""
    wanted, limits = view.result.value("frequency_wanted_hz"), view.result.limits
    if wanted is None or limits is None:
        return
    if not limits.minimum_hz - 0.005 <= wanted <= limits.maximum_hz + 0.005:
        yield (
            Place("station", view.station.id, "wanted"),
            {
                "wanted_hz": wanted,
                "minimum_hz": limits.minimum_hz,
                "maximum_hz": limits.maximum_hz,
            },
        )
