"""Lines with fruit on them, put together without a file, for the tests of the plan.

Every station is the plain one of `builders`: a 4-pole motor on 60 Hz, no load and so no slip,
geared 20 to 1 onto a drum of 0.2 m. At f Hz its surface runs π · 0.2 · 30·f / 20 / 60 = π·f / 200
m/s; its 0-10 V reference then stands at f / 6 V.
"""

import dataclasses
import math
from itertools import pairwise
from typing import Any

from core.line import LineResults, Plan, PlanEntry, compute_line
from core.line.flow import FlowGraph, flow_of
from core.model import Flow, Line, Pair, Process, Recipe, RecipeSpeed, Station
from tests.core.line import builders

M_S_PER_HZ = math.pi / 200.0
"""Surface speed of every station here for each hertz."""


def at(number: int, kind: str = "belt", **changes: Any) -> Station:
    """A station; ``hz`` sets its reference, fields of its process go in by their names."""
    plain = builders.station(id=number, tag=f"ST{number}", kind=kind)
    hertz = changes.pop("hz", None)
    own = {field.name for field in dataclasses.fields(Process)} - {"id"}
    process = {name: changes.pop(name) for name in list(changes) if name in own}
    reference = plain.reference if hertz is None else dataclasses.replace(
        plain.reference, now_v=hertz / 6.0
    )  # fmt: skip
    parts = {
        "motors": tuple(dataclasses.replace(motor, id=number) for motor in plain.motors),
        "drive": dataclasses.replace(plain.drive, id=number),
        "reference": dataclasses.replace(reference, id=number),
        "drivetrain": dataclasses.replace(plain.drivetrain, id=number, drum_diameter_m=0.2),
        "process": Process(number, **process),
    }
    return dataclasses.replace(plain, **parts, **changes)


def way(*links: tuple[Any, ...]) -> tuple[Flow, ...]:
    """Links from (from, to), with kind and share behind where they are not plain."""
    return tuple(Flow(number, *link) for number, link in enumerate(links, start=1))


def row(*numbers: int) -> tuple[Flow, ...]:
    """Links from each station to the next."""
    return way(*pairwise(numbers))


def recipe(**changes: Any) -> Recipe:
    """Six fruit of 60 mm and 0.1 kg in every second."""
    plain = Recipe(
        1,
        "Round fruit",
        fruit_mass_kg=0.1,
        fruit_diameter_m=0.06,
        throughput="fruit",
        fruit_1_s=6.0,
    )
    return dataclasses.replace(plain, **changes)


def line(*stations: Station, **changes: Any) -> Line:
    """A line of these stations under the recipe above."""
    return builders.line(*stations, **{"recipes": (recipe(),), **changes})


def graph(*stations: Station, **changes: Any) -> FlowGraph:
    """The way of the fruit over these stations."""
    return flow_of(line(*stations, **changes))


def plan(*stations: Station, **changes: Any) -> Plan:
    """The plan of these stations."""
    return computed(*stations, **changes).plan


def computed(*stations: Station, **changes: Any) -> LineResults:
    """All results of these stations."""
    return compute_line(line(*stations, **changes))


def entry(number: int, *stations: Station, **changes: Any) -> PlanEntry:
    """One station of the plan of these stations."""
    return plan(*stations, **changes).entry(number)


def pair(first: int = 1, second: int = 2, **changes: Any) -> Pair:
    """A pair of two stations."""
    return dataclasses.replace(Pair(1, "two", first, second), **changes)


def own(station: int, wanted: str, **value: Any) -> RecipeSpeed:
    """A recipe's own speed for a station."""
    return RecipeSpeed(station, station, wanted, **value)
