"""Findings about signal and motor cables: screens and routes."""

from collections.abc import Iterator

from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule
from core.model import Cable

_SIGNALS = ("reference", "bus")
_NEIGHBOURS = {"motor": "motor leads", "power": "power wires"}
_JUMPER_M = 2.0
"""Length up to which a signal needs no screen; common practice."""


def _signal_cables(view: View) -> list[Cable]:
    return [cable for cable in view.station.cables if cable.run in _SIGNALS]


@station_rule(
    key="screen-both-ends",
    level="fault",
    says="The screen of the {run} cable is earthed at both ends.",
    follows="Current between the two earths runs through the screen and shakes the signal.",
    mend="Earth it at the drive only and insulate the other end, unless the manual says otherwise.",
    source="common practice for low-frequency signals",
)
def screen_both_ends(view: View) -> Iterator[Found]:
    """A signal screen with two earths."""
    for cable in _signal_cables(view):
        if cable.screen == "both":
            yield Place("cable", cable.id, "screen"), {"run": cable.run}


@station_rule(
    key="screen-nowhere",
    level="fault",
    says="The screen of the {run} cable is earthed nowhere.",
    follows="It screens nothing, and can couple more noise in than no screen.",
    mend="Earth it at the drive.",
    source="common practice",
)
def screen_nowhere(view: View) -> Iterator[Found]:
    """A screen that hangs free."""
    for cable in _signal_cables(view):
        if cable.screen == "open":
            yield Place("cable", cable.id, "screen"), {"run": cable.run}


@station_rule(
    key="motor-screen-one-end",
    level="advice",
    says="The screen of the motor cable is {earthed}.",
    follows="The drive's noise leaves the cable and disturbs signals; the case of the motor may "
    "carry a voltage at high frequency.",
    mend="Earth it all round at the drive and at the motor.",
    source="common practice for cables behind a drive",
)
def motor_screen_one_end(view: View) -> Iterator[Found]:
    """A screened motor cable that is not earthed at both ends."""
    words = {"drive": "earthed at the drive only", "far": "earthed at the motor only"}
    words["open"] = "earthed nowhere"
    cable = view.station.cable("motor")
    if cable is not None and cable.screen in words:
        yield Place("cable", cable.id, "screen"), {"earthed": words[cable.screen]}


@station_rule(
    key="reference-without-screen",
    level="advice",
    says="The reference cable is {cable_length_m} long and has no screen.",
    follows="Beside motor leads and contactors a signal without a screen picks up noise.",
    mend="Use a screened twisted pair, earthed at the drive only.",
    source="common practice",
)
def reference_without_screen(view: View) -> Iterator[Found]:
    """A wired reference in a cable without screen, longer than a jumper."""
    cable = view.station.cable("reference")
    if cable is None or cable.screen != "none" or cable.length_m is None:
        return
    if cable.length_m > _JUMPER_M:
        yield Place("cable", cable.id, "screen"), {"cable_length_m": cable.length_m}


@station_rule(
    key="reference-with-motor-leads",
    level="fault",
    says="The {run} cable is laid with {neighbour}.",
    follows="The drive's switching couples into the signal: speed shakes, or messages are lost.",
    mend="Lay it by itself, 200 mm (8 in) or more from motor leads; cross them at a right angle.",
    source="common practice",
)
def reference_with_motor_leads(view: View) -> Iterator[Found]:
    """A signal that shares a cable way with motor leads or power."""
    for cable in _signal_cables(view):
        if cable.route in _NEIGHBOURS:
            yield (
                Place("cable", cable.id, "route"),
                {"run": cable.run, "neighbour": _NEIGHBOURS[cable.route]},
            )
