import subprocess
import sys

from core.sheets import SHEETS


def test_the_sheets_of_a_line():
    assert {key: kind.title for key, kind in SHEETS.items()} == {
        "parameter_record": "Parameter record",
        "wiring_schedule": "Wiring schedule",
        "reference_drawings": "Reference wiring",
        "speed_plan": "Speed plan",
        "branch_schedule": "Branch schedule",
        "findings": "Findings",
        "workings": "Workings",
        "check_results": "Check results",
        "field_sheets": "Field sheets",
        "swap_sheet": "Drive swap sheet",
        "spares": "Spares",
        "knob_cards": "Knob cards",
        "labels": "Labels",
        "photographs": "Photographs",
        "handover_book": "Handover book",
    }


def test_naming_the_sheets_loads_no_writer():
    code = (
        "import sys, core.sheets;"
        "sys.exit(any(name.split('.')[0] in {'reportlab', 'openpyxl'} for name in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0
