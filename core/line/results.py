"""Everything computed from a line: every station by itself, and the plan for every recipe.

A station's own results depend on the station, its drive type, its supply and the wiring rules. All
are frozen, so a station for which they are the same objects as before keeps its results, and one
edit costs one station and what the plan hangs on it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from core.collector import without_collector
from core.line.figures import Figure
from core.line.flow import FlowGraph, flow_of
from core.line.plan import Plan, plan_of
from core.line.station import StationResult, compute_station
from core.model import DriveType, Line, Station, Supply


@dataclass(frozen=True, slots=True)
class LineResults:
    """The results of a line: every station's figures in its order, and a plan for each recipe.

    ``plans`` follow the line's recipes, the one that it is set up for first; a line without any
    has one plan without a recipe.
    """

    line: Line
    stations: tuple[StationResult, ...]
    plans: tuple[Plan, ...]
    _by_id: Mapping[int, StationResult] = field(repr=False)

    def station(self, station_id: int) -> StationResult:
        """The results of one station; KeyError where there is none."""
        return self._by_id[station_id]

    @property
    def plan(self) -> Plan:
        """The plan of the recipe that the line is set up for."""
        return self.plans[0]

    def plan_for(self, recipe_id: int | None) -> Plan:
        """The plan of one recipe, or of the first without one; KeyError where there is none."""
        if recipe_id is None:
            return self.plan
        for plan in self.plans:
            if plan.recipe is not None and plan.recipe.id == recipe_id:
                return plan
        raise KeyError(recipe_id)

    def figures(self, station_id: int) -> Mapping[str, Figure]:
        """All figures of one station: its own, and those of the plan in force."""
        entry = self.plan.entries[station_id]
        return {**self._by_id[station_id].figures, **entry.wanted, **entry.present}


def compute_line(line: Line, before: LineResults | None = None) -> LineResults:
    """Compute a line.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    before : LineResults, optional
        Earlier results; what has not changed since is taken from them.
    """
    with without_collector():
        found = tuple(_stations(line, before))
        by_id = {entry.station.id: entry for entry in found}
        graph = _graph(line, before)
        earlier = {_recipe_id(plan): plan for plan in before.plans} if before else {}
        plans = tuple(
            plan_of(line, graph, by_id, recipe, earlier.get(recipe.id if recipe else 0))
            for recipe in line.recipes or (None,)
        )
    return LineResults(line, found, plans, by_id)


def _stations(line: Line, before: LineResults | None) -> list[StationResult]:
    types = {entry.id: entry for entry in line.drive_types}
    supplies = {entry.id: entry for entry in line.supplies}
    found = []
    for station in line.stations:
        drive_type = types.get(station.drive.drive_type_id or 0)
        supply = supplies.get(station.drive.supply_id or 0)
        old = before._by_id.get(station.id) if before else None
        if old is not None and _unchanged(old, station, drive_type, supply, line.wiring_rules):
            found.append(old)
        else:
            found.append(compute_station(station, drive_type, supply, line.wiring_rules))
    return found


def _unchanged(
    old: StationResult,
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None,
    rules: str,
) -> bool:
    same = old.station is station and old.drive_type is drive_type and old.supply is supply
    return same and old.rules == rules


def _graph(line: Line, before: LineResults | None) -> FlowGraph:
    """The flow of the line; that of before where neither links nor stations moved."""
    if before is not None and _flow_inputs(before.line) == _flow_inputs(line):
        return before.plan.graph
    return flow_of(line)


def _flow_inputs(line: Line) -> tuple[object, ...]:
    stations = tuple((entry.id, entry.kind, entry.lane) for entry in line.stations)
    return (line.flows, stations, line.pairs)


def _recipe_id(plan: Plan) -> int:
    return plan.recipe.id if plan.recipe else 0
