"""The words of the wiring drawings and of the labels."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "reference_drawings": "Reference wiring",
    "drawings_subtitle": "Each station drawn: its speed reference, run and stop, every terminal",
    "drawings_key": (
        "Drawn from the entries alone. What nobody has entered stays blank and says so. Drive "
        "terminals of the same number are one terminal. Outputs are in the wiring schedule."
    ),
    "drawings_symbols": "Symbols after IEC 60617 (from memory)",
    "drawing_of": "Reference wiring of {tag}",
    "symbol_terminal": "terminal",
    "symbol_pot": "potentiometer",
    "symbol_voltage": "voltage signal",
    "symbol_current": "current signal",
    "symbol_loop": "loop supply",
    "symbol_dac": "digital to analogue",
    "symbol_open": "normally open contact",
    "symbol_closed": "normally closed contact",
    "symbol_screen": "screen of a cable",
    "symbol_earth": "earth",
    "source_missing": "source not entered",
    "device_missing": "device not entered",
    "terminal_missing": "terminal not entered",
    "cable_missing": "cable not entered",
    "size_missing": "size not entered",
    "type_missing": "drive type not entered",
    "input_missing": "reference input not entered",
    "loop_two_wire": "2-wire: the loop supply feeds it",
    "loop_active": "drawn as a source that feeds the loop by itself",
    "run_and_stop": "Run and stop",
    "no_inputs": "no digital input entered",
    "contact_between": "{own} (contact {common}–{own})",
    "continued": "{title}, continued",
    "labels": "Labels",
    "labels_subtitle": "For wires and stations, on common label sheets",
    "labels_key": (
        "Print the pages after this one on label sheets, at actual size (100 %), not fitted to "
        "the paper. Print on plain paper first and hold it against a label sheet. This page is "
        "for plain paper."
    ),
    "wire_labels": "Wire labels",
    "wire_labels_key": (
        "Two for each wire, one for each end; below the number stands where that end goes."
    ),
    "station_labels": "Station labels",
    "station_labels_key": "One for each station, and one for each knob, to fix beside it.",
    "label_columns": "Label sheet",
    "label_grid": "{across} × {down} of {width} × {height}, on {paper}",
    "label_gaps": "{across} across, {down} down",
    "label_gap": "Gap between labels",
    "label_margins": "{left} left, {top} top",
    "label_margin": "Margin of the sheet",
    "label_count": "Labels",
    "label_sheets": "Sheets needed",
    "label_text": "Text",
    "label_knob": "Knob {device}",
    "label_speed_from": "Speed: {what}",
    "label_wait": "Isolate, wait {value}, prove dead",
}
