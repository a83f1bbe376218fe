"""Quantities as people type and read them; inside the program they are plain SI floats.

``parse_quantity`` and ``show`` are the two doors between text and SI. `KINDS` says which kinds of
quantity there are and in which unit each is shown; `UNITS` holds every unit that may be typed.
"""

from core.units.conductor import gauge_area
from core.units.kinds import KINDS, Kind, System
from core.units.numbers import parse_number
from core.units.quantity import (
    Shown,
    parse_in_unit,
    parse_quantity,
    show,
    show_computed,
    unit_of,
    value_in_unit,
)
from core.units.table import UNITS, Unit, units_of, units_spelled

__all__ = [
    "KINDS",
    "UNITS",
    "Kind",
    "Shown",
    "System",
    "Unit",
    "gauge_area",
    "parse_in_unit",
    "parse_number",
    "parse_quantity",
    "show",
    "show_computed",
    "unit_of",
    "units_of",
    "units_spelled",
    "value_in_unit",
]
