"""The fixed words of the sheets, by key, in English; `core.sheets.catalogue` has other languages.

Labels of fields and words of choices are not here: they come with the records of `core.model`.
"""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from core.line.findings.base import LEVEL_MEANINGS, LEVEL_WORDS
from core.sheets import (
    calibration_words,
    drawing_words,
    photo_words,
    plan_words,
    record_words,
    service_words,
)
from core.sheets.catalogue import Translate, translator

_ENGLISH: Mapping[str, str] = {
    # Every sheet
    "linebook": "Linebook",
    "not_frozen": "Not frozen: the line as it stands in the file",
    "page_of": "Page {page} of {pages}",
    "page": "Page",
    "printed_on": "Printed on",
    "not_entered": "not entered",
    "no_name": "(no name)",
    "none": "none",
    "yes": "Yes",
    "no": "No",
    "as_typed": "typed as {text}",
    "cut": "… (cut: {count} characters in all)",
    "signs_replaced": (
        "On this paper � stands for a character that the printing font lacks or that cannot be "
        "printed. The same sheet as a spreadsheet holds the text in full."
    ),
    "value": "Value",
    "unit": "Unit",
    "overview": "Overview",
    "tag": "Tag",
    "name": "Name",
    "stations": "Stations",
    "station": "Station",
    "no_stations": "No station has been entered.",
    "cautions": "Before you work on this line",
    # Parameter record
    "parameter_record": "Parameter record",
    "parameter_subtitle": "Nameplates, drives, settings and speed references",
    "motor": "Motor",
    "nameplate": "Motor nameplate",
    "nameplate_of": "Nameplate of motor {motor}",
    "no_motor": "No motor has been entered.",
    "drive": "Drive",
    "drive_missing": "No drive type is chosen, so its list of settings is not known.",
    "speed_as_set": "Speed as set",
    "settings": "Drive settings",
    "all_settings": "All settings",
    "no_settings": "The drive type lists no settings and none was entered.",
    "code": "Code",
    "meaning": "Meaning",
    "unit_or_choice": "Unit or choice",
    "factory": "Factory",
    "against_factory": "Against factory",
    "why": "Why",
    "differs": "≠ differs",
    "same": "= same",
    "unlisted": "◇ not listed",
    "factory_unknown": "◇ no factory value",
    "settings_key": (
        "In the order of the drive's keypad. ≠ the value differs from the factory value. "
        "= it is the same. ◇ there is nothing to compare with. A setting marked 'not entered' was "
        "never read from the keypad: do not take it for the factory value."
    ),
    "settings_count": "{entered} of {listed} listed settings entered, {differing} differ.",
    "reference": "Speed reference",
    "reference_way": "From the signal to the frequency",
    "way_source": "Source",
    "way_cable": "Cable",
    "way_input": "Drive input",
    "way_frequency": "Frequency",
    "way_hertz": "Set in hertz at the drive; no signal is wired.",
    "way_setpoint": "Regulated by the drive itself to its set point; see the entries below.",
    "way_scaled": "{bottom} at the bottom of the signal, {top} at its top, held to {low} … {high}",
    "way_limits": "From {low} to {high}",
    "way_assumed": "not entered, so reckoned with {what}",
    "points": "Points of the reference",
    "point_travel": "Of travel",
    "point_voltage": "At the input",
    "point_count": "DAC count",
    "point_frequency": "Frequency",
    "point_motor": "Motor",
    "point_shaft": "Shaft",
    "point_surface": "Surface",
    "points_key": (
        "Computed. Speeds are estimates: check with a tachometer before you rely on them."
    ),
    "no_points": "The points cannot be computed yet; what is lacking is listed below.",
    "presets": "Preset speeds",
    "controls": "Controls",
    "digital_inputs": "Digital inputs",
    "outputs": "Outputs",
    "drivetrain": "Drivetrain",
    "process": "Process",
    "computed": "Computed",
    "lacks": "lacking: {what}",
    "assumes": "estimate, assumes {what}",
    "still_needed": "Still needed",
    "nothing_needed": "Nothing is lacking for the figures of this station.",
    # Wiring schedule
    "wiring_schedule": "Wiring schedule",
    "wiring_subtitle": "Every conductor, from terminal to terminal",
    "conductors": "Conductors",
    "station_or_bus": "Station or bus",
    "run": "Run",
    "wire": "Wire",
    "purpose": "Purpose",
    "from": "From",
    "to": "To",
    "terminal": "Terminal",
    "colour": "Colour",
    "size": "Size",
    "cable": "Cable",
    "length": "Length",
    "screen": "Screen",
    "run_missing": "{run}: nothing entered",
    "screen_none": "no screen",
    "screen_at": "earthed at {device} only",
    "screen_both": "earthed at both ends",
    "screen_open": "not earthed",
    "wiring_key": (
        "Wire numbers are unique on this line: station, run, number. Length is that of the cable, "
        "one way; it is the same for each of its conductors. 'not entered' means that nobody has "
        "said yet what goes there."
    ),
    "colours_by": "Colours by {rules}, as this program has them; {sources}.",
    "no_conductors": "No conductor follows from what has been entered.",
    "cables": "Cables",
    "cables_and_buses": "Cables and buses",
    "cables_key": (
        "Sum of the cable lengths entered for these stations, by type and size, without waste. "
        "A run of single wires takes its length once for every conductor of it."
    ),
    "runs_count": "Runs",
    "length_total": "Total length",
    "runs_without_length": "Without length",
    "bus_chain": "Chain, in its order",
    "bus_first": "First device: {device}",
    "bus_last": "Last device: {device}",
    "terminated": "■ terminated",
    "not_terminated": "□ not terminated",
    "no_cables": "No cable has been entered.",
    # Findings
    "findings": "Findings",
    "findings_subtitle": "What the rules say about this line, what follows, what would mend it",
    "findings_in_short": "In short",
    "open_findings": "Open findings",
    "accepted_findings": "Accepted findings",
    "ended_acceptances": "Accepted earlier, no longer in force",
    "ended_key": (
        "These findings are gone, or stand open again because their figures have changed since."
    ),
    "level": "Level",
    "blocker": f"■ {LEVEL_WORDS['blocker']}",
    "fault": f"▲ {LEVEL_WORDS['fault']}",
    "advice": f"○ {LEVEL_WORDS['advice']}",
    "blocker_means": LEVEL_MEANINGS["blocker"],
    "fault_means": LEVEL_MEANINGS["fault"],
    "advice_means": LEVEL_MEANINGS["advice"],
    "open": "Open",
    "accepted": "Accepted",
    "where": "Where",
    "whole_line": "Line",
    "what_is_wrong": "What is wrong",
    "what_follows": "What follows",
    "what_mends": "What would mend it",
    "source": "Source",
    "accepted_by": "Accepted by {person}, {day}: {reason}",
    "no_day": "no day entered",
    "no_reason": "no reason entered",
    "no_open_findings": "No open finding.",
    "no_accepted_findings": "No finding stands accepted.",
    "not_all_judged": (
        "Not everything can be judged yet. Entries are lacking for the figures of: {tags}."
    ),
    "findings_key": (
        "A rule speaks only where its inputs are entered; no finding does not mean that nothing "
        "is wrong. An accepted finding stays on paper and opens again when its figures change."
    ),
    # Branch schedule
    "branch_schedule": "Branch schedule",
    "branch_subtitle": "Each circuit to a drive: the rule, its inputs, the result",
    "rules_and_editions": "Rules and editions",
    "by_rules": "Reckoned by {rules}. The edition stands with each rule.",
    "verdict_key": (
        f"Verdicts: ✓ the rules of this program find nothing; ■ {LEVEL_MEANINGS['blocker']}; "
        f"▲ {LEVEL_MEANINGS['fault']}; ○ {LEVEL_MEANINGS['advice']}; ◇ accepted by name with a "
        "reason; □ not judged, as an entry is lacking or gives no figure; ≈ rests on an estimate. "
        "'–': cannot be had yet. Length is one way."
    ),
    "protection_key": (
        "The verdict on protection goes by the largest rating that the drive's maker allows, where "
        "that is entered. Where it is above the figure by the rules, ask the authority."
    ),
    "supplies": "Supplies",
    "supplies_and_enclosures": "Supplies and enclosures",
    "no_enclosures": "No enclosure has been entered.",
    "no_supplies": "No supply has been entered.",
    "feeds_nothing": "No drive of this line is fed from it.",
    "no_supply_chosen": "No supply chosen",
    "demand_used": "Demand reckoned with",
    "demand_entered": "as entered: share of all drives that may run at once",
    "demand_assumed": "not entered, so all drives at once",
    "load_in_line": "Load in {line}",
    "load_basis": "sum of the input currents of all drives on it, times demand, and other load",
    "rating_used": "Heaviest line, of service rating",
    "rating_used_basis": "'–' where no service rating is entered",
    "feeder_current": "Current the feeder has to carry",
    "feeder_basis_nec": (
        "NEC 2023 (NFPA 70-2023) 430.24, 430.122: 125 % of the largest drive's input and the rest, "
        "in the heaviest line"
    ),
    "feeder_basis_iec": "IEC 60364-4-43:2008 433.1: I_b, load of the heaviest line",
    "imbalance": "Unevenness of the lines",
    "imbalance_basis": "largest deviation from the mean of the lines, over that mean",
    "neutral_current": "Current in the neutral",
    "neutral_basis": (
        "an estimate, from the drives fed line to neutral and a usual spectrum of small "
        "rectifiers, third harmonics included"
    ),
    "inputs_estimated": (
        "Rated input current not entered, so estimated in these sums: {tags}. Enter it from the "
        "drive's rating plate."
    ),
    "inputs_unknown": "Left out of these sums, as their input current is not known: {tags}.",
    "inputs_all_entered": "The input current of every drive on this supply is as entered.",
    "circuits": "Branch circuits",
    "voltage": "Voltage",
    "input_current": "Input current",
    "design_current": "Design current",
    "at_most_by_rule": "At most, by rule",
    "at_least_by_rule": "At least, by rule",
    "at_most_by_maker": "At most, by maker",
    "size_at_least": "Size at least",
    "may_carry": "May carry",
    "earth_at_least": "Earth at least",
    "drop": "Drop",
    "verdict": "Verdict",
    "nothing_found": "✓ No finding",
    "input_estimated": "≈ Input current estimated",
    "accepted_mark": "◇ Accepted",
    "not_judged": "□ Not judged: {parts}",
    "part_fed_from_lines": "feed",
    "part_protection": "protection",
    "part_conductor": "conductor",
    "part_earth": "earth",
    "part_drop": "voltage drop",
    "part_rcd": "residual-current device",
    "part_heat": "heat",
    "how_it_comes": "How each figure comes about",
    "as_entered": "Circuit as entered",
    "enclosures": "Enclosures",
    "heat_inside": "Heat of the drives in it",
    "heat_allowed": "Heat it carries away",
    "reaches": "Reaches inside",
    "heat_key": (
        "Heat balance k·A·ΔT and fan air with all drives of the line running; surface by IEC TR "
        "60890, its factors from memory. An estimate: measure inside on a hot day."
    ),
    "losses_estimated": "losses not entered, so estimated: {tags}",
    "losses_unknown": "left out, as their losses are not known: {tags}",
    "losses_entered": "losses as entered on the drive types",
    "no_heat_balance": "no balance follows from these entries",
    # Workings
    "workings": "Workings",
    "workings_subtitle": "How every computed figure came about",
    "workings_key": (
        "Every figure of stations, supplies and enclosures with its formula, its inputs, where the "
        "relation comes from, and what was assumed. Values are rounded for reading; the program "
        "reckons on with the unrounded ones. What is lacking is said, not guessed."
    ),
    "figure": "Figure",
    "result": "Result",
    "formula": "Formula",
    "inputs": "From",
    "remarks": "Assumptions and remarks",
    "of_motor": "{figure}, motor {number}",
    "no_figures": "No figure has been computed.",
    # Cautions
    "danger": "Danger",
    "warning": "Warning",
    "caution": "Caution",
    "notice": "Notice",
    "shock_hazard": "Live parts, also after switching off.",
    "shock_consequence": "Touching them kills.",
    "shock_avoidance": (
        "Isolate, lock out and prove dead. Then wait for the drive's capacitors: the time stands "
        "on the label of the drive itself."
    ),
    "start_hazard": "Belts, brushes and pumps can start by themselves, also when power returns.",
    "start_consequence": "They can crush, cut or pull in. A discharge tank can fill or empty.",
    "start_avoidance": "Keep guards on while anything can run. Lock out before reaching in.",
    "stop_hazard": "A stop at an ordinary drive input is no emergency stop.",
    "stop_consequence": "The machine may run on when it has to stop.",
    "stop_avoidance": (
        "Use a contactor in the supply, or a safety function of the drive that is rated for it."
    ),
    "water_hazard": "Water and electricity; a drive's leakage can blind or trip a residual-current "
    "device.",
    "water_consequence": "A fault can stay live.",
    "water_avoidance": "Close every cover before washing down. Use the device type that the "
    "drive's manual and the local code ask for.",
    "aid_hazard": "Linebook calculates and records. It licenses nobody to work on live equipment.",
    "aid_consequence": "What it says about codes is an aid.",
    "aid_avoidance": "Local code, the authority and a licensed person decide.",
}

CATALOGUES: Mapping[str, Mapping[str, str]] = {
    "en": {
        **_ENGLISH,
        **calibration_words.ENGLISH,
        **drawing_words.ENGLISH,
        **photo_words.ENGLISH,
        **plan_words.ENGLISH,
        **record_words.ENGLISH,
        **service_words.ENGLISH,
    }
}


@dataclass(frozen=True, slots=True)
class Say:
    """Gives the words of a key in one language, with its named blanks filled in.

    ``tr`` gives any other text of the program in the same language.
    """

    tr: Translate

    def __call__(self, key: str, **blanks: object) -> str:
        """The words of a key; KeyError where there is no such key."""
        return self.tr(CATALOGUES["en"][key], f"word:{key}").format(**blanks)


_Words = TypeVar("_Words")


def words_of(kind: type[_Words], say: Say) -> _Words:
    """The fixed words of a drawing, a dataclass whose defaults are English, in one language."""
    fields = dataclasses.fields(kind)  # type: ignore[arg-type]
    return kind(**{field.name: say.tr(field.default, "drawing") for field in fields})


def words_in(language: str) -> Say:
    """The words of one language.

    Parameters
    ----------
    language : str
        A language of sheets, as the line file stores it.

    Examples
    --------
    >>> words_in("en")("page_of", page=2, pages=9)
    'Page 2 of 9'
    """
    return Say(translator(language))
