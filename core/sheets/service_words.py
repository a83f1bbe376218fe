"""The words of checks, swap sheet, spares, knob cards and handover book."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "check_results": "Check results",
    "check_results_subtitle": "Checks and readings, stage by stage, with their limits",
    "checks_done": "Done",
    "checks_out": "Out of limits",
    "checks_kept": "Kept with a reason",
    "done_of": "{done} of {of}",
    "no_stage_done": "none yet",
    "stage_reached": "Done up to",
    "check": "Check",
    "limits": "Limits",
    "instrument": "Instrument",
    "by": "By",
    "at": "At",
    "sign_done": "Done by",
    "sign_witness": "Seen by",
    "sign_day": "Day",
    "stage": "Stage",
    "how": "How",
    "reading": "Reading",
    "initials": "Initials",
    "expected": "Expected",
    "found": "Found",
    "field_sheets": "Field sheets",
    "field_subtitle": "Blank, to fill in at the line; then typed in, in the same order",
    "field_key": (
        "Write readings with their unit. What is out of its limits is kept only with a reason."
    ),
    "swap_sheet": "Drive swap sheet",
    "swap_subtitle": "Only what differs from factory, in keypad order",
    "swap_order": "The order of the work",
    "swap_isolate": "Isolate and lock out; prove dead.",
    "swap_wait": "Wait as the label of the drive says before opening it.",
    "swap_photograph": "Photograph wiring, switches and jumpers; label what is not labelled.",
    "swap_wire": "Wire as before; mains on the input, motor on the output; set the switches.",
    "swap_set": "Set what stands below, from top to bottom.",
    "swap_turn": "Check the direction uncoupled, or with a bump.",
    "swap_points": "Check hertz at 0, 50 and 100 % of the reference.",
    "swap_record": "Enter serial number, day and name; freeze the line anew.",
    "swap_settings": "To set",
    "swap_nothing": "Nothing that was entered differs from factory.",
    "serial": "Serial number",
    "bus_address": "Bus address",
    "reference_input": "Reference input",
    "switch_position": "Switch or jumper",
    "wait_first": "Wait before opening",
    "set_done": "Set",
    "spares": "Spares",
    "spares_subtitle": "Gathered from the stations",
    "spares_key": (
        "One of each kind, and one more for every ten in use: common practice. A spare drive that "
        "was set before stands on its shelf with those settings: go through its swap sheet."
    ),
    "spare_kind": "Part",
    "spare_what": "What",
    "spare_used": "In use",
    "spare_keep": "Keep",
    "spare_drive": "Drive",
    "spare_motor": "Motor",
    "spare_gearbox": "Gearbox",
    "spare_pot": "Potentiometer",
    "spare_protection": "Branch protection",
    "knob_cards": "Knob cards",
    "knob_subtitle": "To fix beside each knob: where it stands, and its limits",
    "knob_key": (
        "Cut out each card and fix it beside its knob. The thick part of the scale is where the "
        "drive follows; beside it the drive's own limits hold the speed."
    ),
    "knob_none": "No station of these has a knob or signal that is known from end to end.",
    "knob_places": "Places of the knobs",
    "knob_pairs": "Pair with",
    "knob_limits": "The drive runs from {low} to {high}, whatever the knob says.",
    "knob_pair": "Pair with {other}: never move one alone.",
    "knob_no_place": "No place gives the planned speed.",
    "recipe": "Recipe",
    "handover_book": "Handover book",
    "book_subtitle": "Everything that stays with the line",
    "chapter": "Chapter",
    "what_it_says": "What it says",
    "book_key": (
        "The revision at the foot of each page names the frozen record this book was printed from; "
        "its SHA-256 proves that nothing was changed since."
    ),
}
