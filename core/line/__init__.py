"""The line computed as a whole: results of every station, the wiring, what is still needed."""

from core.line.circuit_rules import ALL_CIRCUIT_RULES
from core.line.figures import Figure, Given, Lack, Rule
from core.line.listing import results_as_data, results_as_text
from core.line.margin_rules import ALL_MARGIN_RULES
from core.line.plan import Plan, PlanEntry
from core.line.plan_rules import ALL_PLAN_RULES
from core.line.points import Point
from core.line.results import LineResults, compute_line
from core.line.rules import ALL_RULES as _STATION_RULES
from core.line.station import StationResult, compute_station
from core.line.wiring import BusChain, Conductor, End, Wiring, wire_line, wire_station

ALL_RULES = (*_STATION_RULES, *ALL_CIRCUIT_RULES, *ALL_MARGIN_RULES, *ALL_PLAN_RULES)
"""Every figure that a station can have."""

__all__ = [
    "ALL_RULES",
    "BusChain",
    "Conductor",
    "End",
    "Figure",
    "Given",
    "Lack",
    "LineResults",
    "Plan",
    "PlanEntry",
    "Point",
    "Rule",
    "StationResult",
    "Wiring",
    "compute_line",
    "compute_station",
    "results_as_data",
    "results_as_text",
    "wire_line",
    "wire_station",
]
