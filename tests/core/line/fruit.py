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


def wide(number: int, speed_m_s: float, **changes: Any) -> Station:
    """A belt 0.45 m wide: 0.8 · 0.45 / 0.06² = 100 fruit on each metre."""
    return at(number, "take_away", hz=speed_m_s / M_S_PER_HZ, carrying_width_m=0.45, **changes)


def whole() -> Line:
    """A small line with everything that rests on something else."""
    brushes = {"brush_pitch_m": 0.13335, "bed_width_m": 1.2192, "carrying_length_m": 1.6}
    stations = (
        at(1, "pump", flume_width_m=0.5, flume_depth_m=0.2, pump_flow_m3_s=0.02, hz=30.0),
        wide(2, 0.25, wanted="cover", wanted_cover=0.5),
        at(3, "brush_bed", wanted="surface", wanted_m_s=0.6, hz=38.0, **brushes),
        at(4, "brush_bed", turn="reverse", wanted="drift", wanted_drift=1.1, hz=32.0, **brushes),
        at(5, "belt_pair_side", wanted="touching", hz=24.0),
        at(6, "belt_pair_side", wanted="touching", hz=23.0),
        at(7, wanted="pair", hz=30.0),
        at(8, "spin_section", wanted="turns", wanted_turns=1.5, view_length_m=0.5, hz=10.0),
        at(9, "cup_conveyor", wanted="cups", cup_pitch_m=0.1, cup_lanes=1, cup_fill=0.8, hz=48.0),
        at(10, "take_away", size_to_m=0.06, hz=20.0, carrying_width_m=0.3),
        at(11, "take_away", hz=20.0, carrying_width_m=0.3, wanted="time", wanted_time_s=9.0),
    )
    flows = way(
        (1, 2), (2, 3), (2, 4), (3, 5), (3, 6), (4, 5), (4, 6), (5, 7), (6, 7), (7, 8), (8, 9),
        (9, 10), (9, 11), (9, 8, "return"), (7, None, "cull"),
    )  # fmt: skip
    pairs = (
        pair(3, 4, id=1, name="brushes", wanted_differential=0.17, tolerance=0.04),
        pair(5, 6, id=2, name="vee", wanted_differential=0.05, tolerance=0.02),
        pair(7, 9, id=3, name="cups", wanted_as="ratio", wanted_ratio=1.0, tolerance=0.03),
    )
    recipes = (
        recipe(culled=0.05, diameter_spread_m=0.005),
        recipe(id=2, name="Other", fruit_1_s=4.0, speeds=(own(2, "surface", wanted_m_s=0.2),)),
    )
    return line(*stations, flows=flows, pairs=pairs, recipes=recipes, lanes=1)
