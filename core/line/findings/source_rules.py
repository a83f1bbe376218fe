"""Findings about the source of the speed reference: potentiometer, current loop."""

from collections.abc import Iterator

from core.calc import potentiometer, signals
from core.line.findings.view import Found, View, station_rule

_BEND_SHARE = 0.02
"""Share of the scale that loading may bend before it is worth a word; common practice."""
_LOOP_TOP_A = 0.0205
"""NAMUR NE 43: a transmitter may go to 20.5 mA in normal work."""


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
    "{at_share} of its track the signal is {bend_share} of full scale low.",
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
    "input has {input_ohm}.",
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
