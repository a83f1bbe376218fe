"""What every part of the speed plan looks at: the line, one recipe, and the way of the fruit."""

from collections.abc import Mapping
from dataclasses import dataclass

from core.line.flow import FlowGraph
from core.line.rates import Rates
from core.line.station import StationResult
from core.model import Line, Pair, Recipe, RecipeSpeed, Station

CARRIERS = ("cup_conveyor",)
"""Kinds of station that carry fruit through the view of a camera."""


@dataclass(frozen=True, slots=True)
class Scene:
    """One line under one recipe; ``own`` are the recipe's exceptions by station."""

    line: Line
    recipe: Recipe | None
    graph: FlowGraph
    rates: Rates
    results: Mapping[int, StationResult]
    pairs: Mapping[int, tuple[Pair, ...]]
    own: Mapping[int, RecipeSpeed]

    def aim(self, station: Station) -> Station | RecipeSpeed:
        """Where the speed wanted of a station stands: in the recipe, else at the station."""
        return self.own.get(station.id, station)

    def lanes(self, station: Station) -> int:
        """Lanes in which fruit goes over a station."""
        if station.kind == "cup_conveyor" and station.process.cup_lanes:
            return station.process.cup_lanes
        return 1 if station.lane else self.line.lanes or 1

    def partner(self, station: Station) -> Station | None:
        """The other station of the same place, if there is one."""
        for member in self.graph.together[station.id]:
            if member != station.id:
                return self.results[member].station
        return None

    def place_pair(self, station: Station) -> Pair | None:
        """The pair that makes two stations one place."""
        members = self.graph.together[station.id]
        for pair in self.pairs.get(station.id, ()):
            if pair.first_station_id in members and pair.second_station_id in members:
                return pair
        return None

    def leader(self, station: Station) -> tuple[Pair, Station] | None:
        """The pair in which a station stands first, and the station that it follows."""
        for pair in self.led(station):
            return pair, self.results[pair.second_station_id or 0].station
        return None

    def led(self, station: Station) -> tuple[Pair, ...]:
        """Every pair in which a station stands first."""
        return tuple(
            pair
            for pair in self.pairs.get(station.id, ())
            if pair.first_station_id == station.id and pair.second_station_id in self.results
        )

    def carrier(self, station: Station) -> Station | None:
        """What carries fruit over a spin section: cups fed by it, or that return to it."""
        near = [*self.graph.after(station.id)]
        near += [
            flow.from_station_id or 0
            for flow in self.graph.returns
            if flow.to_station_id == station.id
        ]
        near += [*self.graph.before(station.id)]
        for station_id in near:
            held = self.results.get(station_id)
            if held is not None and held.station.kind in CARRIERS:
                return held.station
        return None
