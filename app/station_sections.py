"""What the sections of a station's page show, as tables."""

from collections.abc import Mapping

from core.line import Rule
from core.line import circuit_rules as circuits
from core.line import margin_rules as margins
from core.line import rules as known

SECTIONS: Mapping[str, str] = {
    "station": "Station",
    "motors": "Motor",
    "drive": "Drive and feed",
    "settings": "Drive settings",
    "reference": "Speed reference",
    "controls": "Controls",
    "drivetrain": "Drivetrain and process",
    "cables": "Cables",
    "notes": "Notes",
    "photos": "Photographs",
}
"""The sections of the page in their order: key and title. Ctrl and the number goes there."""

IN_STRIP: Mapping[str, str] = {
    **SECTIONS,
    "settings": "Settings",
    "drivetrain": "Drivetrain",
}
"""The same, as short as a strip of them all needs it on a laptop."""

WIDE = {"cables"}
"""Sections whose tables need the whole width of the page."""

FIGURES: Mapping[str, tuple[Rule, ...]] = {
    "station": (
        known.WANTED_SURFACE,
        known.WANTED_SHAFT,
        known.WANTED_MOTOR,
        known.WANTED_FREQUENCY,
    ),
    "reference": (
        known.NOW_SHARE,
        known.NOW_FREQUENCY,
        known.WANTED_SIGNAL_V,
        known.WANTED_SIGNAL_A,
        known.WANTED_SHARE,
        known.WANTED_COUNT,
        known.POT_CURRENT,
        margins.INPUT_STEP,
        margins.REFERENCE_SPREAD,
    ),
    "drive": (
        circuits.RUNNING_CURRENT,
        circuits.INPUT_CURRENT,
        circuits.NEC_DESIGN,
        circuits.NEC_DEVICE,
        circuits.IEC_DEVICE,
        margins.OVERLOAD_TORQUE,
        margins.SHORTEST_UP,
        margins.SHORTEST_DOWN,
    ),
    "drivetrain": (
        known.TOTAL_RATIO,
        known.NOW_MOTOR,
        known.NOW_SHAFT,
        known.NOW_SURFACE,
        margins.INERTIA,
        margins.TORQUE_AT_TOP,
        margins.LOAD_AT_TOP,
        margins.COOLED_FROM,
    ),
    "cables": (
        circuits.NEC_ALLOWED,
        circuits.NEC_CONDUCTOR,
        circuits.NEC_EARTH,
        circuits.NEC_DROP,
    ),
}
"""Figures beside the fields of a section, in their order; those of motors go by motor."""

FORMS: Mapping[str, tuple[str, ...]] = {
    "drive": ("drive",),
    "reference": ("speed_reference",),
    "controls": ("controls",),
    "drivetrain": ("drivetrain", "process"),
}
"""Tables of the single records that a section shows as forms."""

TABLES: Mapping[str, tuple[str, ...]] = {
    "reference": ("preset",),
    "controls": ("digital_input", "output"),
    "cables": ("cable",),
}
"""Tables of the records in any number that a section shows as tables."""

PLURALS: Mapping[str, str] = {
    "preset": "Preset speeds",
    "digital_input": "Digital inputs",
    "output": "Relay and analogue outputs",
    "cable": "",
}
"""Name above each table; none where the section's own says it."""

TERMINALS: Mapping[str, tuple[str, ...]] = {
    "digital_input": ("terminal", "common_terminal"),
    "output": ("terminal", "common_terminal"),
}
"""Fields in which the terminals of the drive type are proposed, by table."""
