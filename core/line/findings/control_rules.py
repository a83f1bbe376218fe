"""Findings about starting and stopping, and about what happens when power returns."""

import re
from collections import Counter
from collections.abc import Iterator

from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule
from core.line.settings import InForce
from core.model.choices import INPUT_FUNCTIONS

_RESTARTS = re.compile(
    r"\b(yes|on|auto|automatic(ally)?|restarts?|starts?|enabled|allowed|always|resumes?|previous|"
    r"last|1)\b"
)
_STAYS_STOPPED = re.compile(
    r"\b(no|not|off|never|disabled|inhibited|locked|blocked|prevented|forbidden|manual(ly)?|waits?|"
    r"new|0)\b"
)
"""Words of a list of settings that mean a restart, and those that mean none; the latter win."""
_STOPS = {"stop", "enable", "emergency_stop", "external_fault"}


@station_rule(
    key="two-inputs-one-function",
    level="fault",
    says="Inputs {terminals} both mean {function}.",
    follows="Either one acts; a stop wired to one of them may be overruled by the other.",
    mend="Give one of them another function, or take it out.",
    source="common practice",
)
def two_inputs_one_function(view: View) -> Iterator[Found]:
    """Two digital inputs with one function."""
    counted = Counter(entry.function for entry in view.station.digital_inputs)
    for function, number in counted.items():
        if number > 1 and function != "other":
            same = [e for e in view.station.digital_inputs if e.function == function]
            yield (
                Place("digital_input", same[1].id, "function"),
                {
                    "terminals": " and ".join(e.terminal or "not entered" for e in same),
                    "function": INPUT_FUNCTIONS[function].lower(),
                },
            )


@station_rule(
    key="one-terminal-two-wires",
    level="fault",
    says="Drive terminal {terminal} is used by {number} digital inputs.",
    follows="One of the wires is entered wrong, or two devices act on one function.",
    mend="Correct the terminal.",
    source="common practice",
)
def one_terminal_two_wires(view: View) -> Iterator[Found]:
    """Two entries at one drive terminal."""
    used = Counter(entry.terminal for entry in view.station.digital_inputs if entry.terminal)
    for terminal, number in used.items():
        if number > 1:
            entry = next(e for e in view.station.digital_inputs if e.terminal == terminal)
            yield (
                Place("digital_input", entry.id, "terminal"),
                {"terminal": terminal, "number": str(number)},
            )


@station_rule(
    key="no-stop",
    level="blocker",
    says="The station is started by {start}, and no input stops it.",
    follows="Nobody at the machine can stop it by a control at hand.",
    mend="Wire a stop (3-wire) or a held start (2-wire), and try it before running.",
    source="IEC 60204-1, 9.2: every start needs a stop",
)
def no_stop(view: View) -> Iterator[Found]:
    """3-wire control without a stop, or a drive that nothing stops."""
    functions = {entry.function for entry in view.station.digital_inputs}
    held = view.station.controls
    mode = held.start_mode
    if mode == "three_wire" and "stop" not in functions:
        yield view.at_controls(), {"start": "push button (3-wire)"}
    elif mode == "two_wire" and not functions & {"forward", "reverse", "enable", "stop", "start"}:
        yield view.at_controls(), {"start": "a held contact (2-wire), which is not entered"}
    elif mode == "bus" and held.emergency_stop == "none" and not functions & _STOPS:
        yield view.at_controls(), {"start": "the bus"}


@station_rule(
    key="stop-contact-open",
    level="fault",
    says="The stop at terminal {terminal} is a normally open contact.",
    follows="A broken wire or a loose terminal takes the stop away without anybody seeing it.",
    mend="Use a normally closed contact for stop.",
    source="IEC 60204-1, 9.4: a stop acts by opening its circuit",
)
def stop_contact_open(view: View) -> Iterator[Found]:
    """A stop that fails to the running side."""
    for entry in view.station.digital_inputs:
        if entry.function in ("stop", "emergency_stop") and entry.contact == "open":
            yield Place("digital_input", entry.id, "contact"), {"terminal": entry.terminal or "-"}


@station_rule(
    key="restarts-by-itself",
    level="blocker",
    says="The drive starts by itself when power returns ({because}).",
    follows="Somebody with hands in the machine after a power cut can be hurt.",
    mend="Switch the restart off, or prove in writing that nobody can reach the moving parts.",
    source="IEC 60204-1, 7.5: no restart by itself after power returns",
)
def restarts_by_itself(view: View) -> Iterator[Found]:
    """A restart when power returns, as entered or as set."""
    setting = view.setting("restart_after_power")
    if setting is not None and _restarts(setting):
        origin = "" if setting.entered else ", factory value, not entered"
        meaning = "" if setting.meaning == setting.shown else f": {setting.meaning}"
        because = f"{setting.code} = {setting.shown}{meaning}{origin}"
        yield view.at_setting(setting.code), {"because": because}
    elif view.station.controls.restarts == "yes":
        yield view.at_controls("restarts"), {"because": "as entered under controls"}


def _restarts(setting: InForce) -> bool:
    words = (setting.meaning or setting.shown).casefold()
    return bool(_RESTARTS.search(words)) and not _STAYS_STOPPED.search(words)


@station_rule(
    key="emergency-stop-by-input",
    level="blocker",
    says="The emergency stop acts on an ordinary digital input only.",
    follows="Software and one transistor stand between a person and the moving machine.",
    mend="Let it act on the drive's safety input (if it is rated for it) or on a contactor in the "
    "supply; a licensed person decides.",
    source="IEC 60204-1, 9.2.5.4.2; ISO 13850",
)
def emergency_stop_by_input(view: View) -> Iterator[Found]:
    """An emergency stop through the drive's ordinary inputs."""
    if view.station.controls.emergency_stop == "digital_input":
        yield view.at_controls("emergency_stop"), {}
    elif view.station.controls.emergency_stop in (None, "none"):
        for entry in view.station.digital_inputs:
            if entry.function == "emergency_stop":
                yield Place("digital_input", entry.id, "function"), {}
                return


@station_rule(
    key="stop-category-2-emergency",
    level="fault",
    says="The station has an emergency stop, and its stop is entered as category 2.",
    follows="In category 2 power stays on the motor after the stop; that is no emergency stop.",
    mend="Let the emergency stop be of category 0 or 1; if only the normal stop is meant, accept "
    "this with that reason.",
    source="IEC 60204-1, 9.2.5.4.2; ISO 13850",
)
def stop_category_2_emergency(view: View) -> Iterator[Found]:
    """A station with an emergency stop whose stop is entered as category 2."""
    held = view.station.controls
    if held.stop_category == "2" and held.emergency_stop not in (None, "none"):
        yield view.at_controls("stop_category"), {}


@station_rule(
    key="start-not-from-terminals",
    level="fault",
    says="The station is wired for {wired}; setting {code} takes start and stop from {meaning}.",
    follows="The buttons at the machine do nothing, or the drive starts from elsewhere.",
    mend="Set {code} to the terminals, or enter how it is started.",
    source="common practice",
)
def start_not_from_terminals(view: View) -> Iterator[Found]:
    """Wired start and stop, but the drive listens to its keypad or bus."""
    setting = view.setting("command_source")
    mode = view.station.controls.start_mode
    if setting is None or mode not in ("two_wire", "three_wire"):
        return
    meaning = setting.meaning.casefold()
    if "keypad" in meaning or "bus" in meaning:
        wired = "push buttons" if mode == "three_wire" else "a held contact"
        yield (
            view.at_setting(setting.code),
            {"wired": wired, "code": setting.code, "meaning": setting.meaning},
        )


@station_rule(
    key="emergency-stop-not-entered",
    level="advice",
    says="What the emergency stop of this station acts on is not entered.",
    follows="Nobody can tell from the sheets whether it takes the power from the motor.",
    mend="Enter it, or enter that the station has none; a licensed person decides whether it may "
    "be without.",
    source="IEC 60204-1, 9.2.5.4.2; ISO 13850",
)
def emergency_stop_not_entered(view: View) -> Iterator[Found]:
    """A station with known controls and nothing about its emergency stop."""
    held = view.station.controls
    wired = any(entry.function == "emergency_stop" for entry in view.station.digital_inputs)
    if held.start_mode is not None and held.emergency_stop is None and not wired:
        yield view.at_controls("emergency_stop"), {}


@station_rule(
    key="emergency-stop-without-terminal",
    level="fault",
    says="The emergency stop acts on the drive's safety input; drive type {drive_type} lists no "
    "such terminal.",
    follows="Either the drive cannot do it, or the list of terminals lacks what counts most.",
    mend="Read the drive's manual; let the stop act on a contactor if it has no rated input.",
    source="the drive type's terminals as entered; IEC 60204-1, 9.2.5.4.2",
)
def emergency_stop_without_terminal(view: View) -> Iterator[Found]:
    """A safety input that the drive type does not have."""
    kind = view.drive_type
    if view.station.controls.emergency_stop != "safety_function" or kind is None:
        return
    if kind.terminals and kind.terminal("safety_in") is None:
        yield view.at_controls("emergency_stop"), {"drive_type": kind.name}
