"""How differences are grouped by what matters, and what a change of a field means in the trade."""

GROUPS = {
    "drives": "Drives",
    "settings": "Drive settings",
    "knobs": "Knobs and signals as set",
    "mechanics": "Mechanics",
    "motors": "Motors",
    "wiring": "Wiring and controls",
    "supply": "Supply, enclosures, buses",
    "plan": "Recipes, flow and pairs",
    "types": "Drive types",
    "checks": "Checks and calibration",
    "papers": "Names, notes, photographs, people",
}
"""Groups of differences, what matters most first."""

_GROUP_OF_TABLE = {
    "drive": "drives",
    "setting": "settings",
    "drivetrain": "mechanics",
    "motor": "motors",
    "speed_reference": "wiring",
    "controls": "wiring",
    "digital_input": "wiring",
    "output": "wiring",
    "preset": "settings",
    "cable": "wiring",
    "supply": "supply",
    "enclosure": "supply",
    "bus": "supply",
    "process": "plan",
    "recipe": "plan",
    "recipe_speed": "plan",
    "flow": "plan",
    "pair": "plan",
    "drive_type": "types",
    "terminal": "types",
    "reference_input": "types",
    "listed_setting": "types",
    "own_check": "checks",
    "check_result": "checks",
    "calibration_point": "checks",
}
_GROUP_OF_FIELD = {
    "now_v": "knobs",
    "now_a": "knobs",
    "now_hz": "knobs",
    "protection_a": "supply",
    "protection": "supply",
    "protection_kind": "supply",
    "supply_lines": "supply",
}
_PLAN_FIELDS = ("wanted", "turn", "above_base", "lane")
_PAPERS = ("notes", "name", "reason", "person", "done_at", "instrument", "position")

NOTES = {
    ("drive", "serial"): "drive swapped",
    ("speed_reference", "now_v"): "knob moved",
    ("speed_reference", "now_a"): "signal changed",
    ("speed_reference", "now_hz"): "setting of speed moved",
    ("drivetrain", "driver_teeth"): "sprocket or pulley changed",
    ("drivetrain", "driven_teeth"): "sprocket or pulley changed",
    ("drivetrain", "chain_teeth"): "sprocket changed",
    ("drivetrain", "drum_diameter_m"): "drum, roller or brush changed or worn",
    ("drivetrain", "gear_ratio"): "gearbox changed",
    ("motor", "serial"): "motor swapped",
    ("station", "turn"): "turns the other way",
}
"""What a change of a field means in the trade."""


def group_of(table: str, field: str) -> str:
    """The group of a field of a table, or of a whole record without one."""
    if field in _GROUP_OF_FIELD:
        return _GROUP_OF_FIELD[field]
    if table == "station" and field.startswith(_PLAN_FIELDS):
        return "plan" if field != "turn" else "wiring"
    if field in _PAPERS and table not in ("drive", "drive_type"):
        return "papers" if table not in ("check_result", "calibration_point") else "checks"
    return _GROUP_OF_TABLE.get(table, "papers")


NOT_RECORDED = "not recorded before; the factory value is taken"
NO_LONGER_RECORDED = "no longer recorded; the factory value is taken"
"""What is told of a setting where the factory value stands in for one that nobody recorded."""
NONE_LISTED = "every setting, as none is listed for its drive"
"""What is told of a drive that nobody can read, as nothing is known of what it holds."""
