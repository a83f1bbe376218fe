"""From the basis on which each speed is wanted to the speed, in an order that gives each its own.

A speed can rest on another station's: the second row of a brush bed on the first, a spin section
on its carrier, one station of a pair on the other. What rests on itself is told, never guessed.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from core.calc import belt_pair, brush_bed, brush_places, camera, checks, cups, pump, spacing, water
from core.line import plan_rules, rules
from core.line.figures import Figure, Workbench
from core.line.scene import Scene
from core.line.speeds import (
    as_entered,
    surface_of_shaft,
    wanted_from_frequency,
    wanted_from_shaft,
    wanted_from_surface,
)
from core.line.station import StationResult
from core.model import RecipeSpeed, Station

_MOST_DIFFERENTIAL = 1.99
"""At 2 the other station would stand, and no speed of the first would follow from it."""
_STILL_M_S = 1e-9
PACKING = 0.8
"""Share of a brush valley that fruit fills at most, where none is entered; reference B2."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why a wanted speed cannot be had; ``kind`` is a word of `TROUBLES`."""

    kind: str
    station_ids: tuple[int, ...]


TROUBLES = (
    "circular", "no_partner", "no_carrier", "followed_twice", "same_direction", "wrong_turn",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Wanted:
    """The speed wanted of one station, with every figure back to the reference."""

    basis: str
    surface_m_s: float | None
    figures: Mapping[str, Figure]
    trouble: Trouble | None = None


@dataclass(slots=True)
class _Asked:
    """One station whose wanted speed is being worked out."""

    scene: Scene
    result: StationResult
    aim: Station | RecipeSpeed
    known: Mapping[int, Wanted]
    bench: Workbench = field(default_factory=Workbench)

    @property
    def station(self) -> Station:
        return self.result.station

    @property
    def flow_1_s(self) -> float | None:
        return self.scene.rates.at_1_s.get(self.station.id)

    @property
    def diameter_m(self) -> float | None:
        recipe = self.scene.recipe
        return recipe.fruit_diameter_m if recipe else None

    def speed_of(self, other: Station) -> float | None:
        """Surface speed planned for another station."""
        held = self.known.get(other.id)
        return held.surface_m_s if held else None


def rests_on(scene: Scene, station: Station) -> tuple[int, ...]:
    """Stations whose planned speed has to be known before that of this one."""
    basis = scene.aim(station).wanted
    other: Station | None = None
    if basis == "pair" and (led := scene.leader(station)):
        other = led[1]
    elif basis == "drift":
        other = scene.partner(station)
    elif basis == "turns":
        other = scene.carrier(station)
    return () if other is None else (other.id,)


def order_of_aims(
    stations: Iterable[int], needs: Mapping[int, tuple[int, ...]]
) -> tuple[list[int], list[tuple[int, ...]]]:
    """Stations in an order in which each finds what it rests on; and rings that have none."""
    users: dict[int, list[int]] = {}
    for entry, others in needs.items():
        for other in others:
            users.setdefault(other, []).append(entry)
    waiting = {entry: len(others) for entry, others in needs.items()}
    ready = deque(entry for entry in stations if not waiting[entry])
    order = []
    while ready:
        here = ready.popleft()
        order.append(here)
        for user in users.get(here, ()):
            waiting[user] -= 1
            if not waiting[user]:
                ready.append(user)
    return order, list(_rings(needs, set(order)))


def _rings(needs: Mapping[int, tuple[int, ...]], done: set[int]) -> Iterator[tuple[int, ...]]:
    """Each station rests on one other at the most, so what is left runs into rings."""
    seen: set[int] = set()
    for start in needs:
        path: list[int] = []
        at = start
        while at not in done and at not in seen:
            seen.add(at)
            path.append(at)
            at = needs[at][0]
        if at in path:
            yield tuple(path[path.index(at) :])


def wanted_speed(scene: Scene, result: StationResult, known: Mapping[int, Wanted]) -> Wanted | None:
    """The speed wanted of one station; None where nobody wants any.

    Parameters
    ----------
    scene : Scene
        Line, recipe and flow.
    result : StationResult
        The station by itself.
    known : mapping
        What was found for the stations that this one rests on.
    """
    aim = scene.aim(result.station)
    if aim.wanted == "none":
        return None
    asked = _Asked(scene, result, aim, known)
    trouble = _BASES[aim.wanted](asked)
    surface = asked.bench.figures.get(rules.WANTED_SURFACE.key)
    return Wanted(aim.wanted, surface.value if surface else None, asked.bench.figures, trouble)


# --- one function for each basis ------------------------------------------------------------


def _surface(asked: _Asked) -> None:
    as_entered(asked.bench, rules.WANTED_SURFACE, asked.aim.wanted_m_s)
    _back(asked, asked.aim.wanted_m_s)


def _shaft(asked: _Asked) -> None:
    speed = asked.aim.wanted_rad_s
    as_entered(asked.bench, rules.WANTED_SHAFT, speed)
    surface_of_shaft(asked.bench, asked.result.shaft, speed)
    wanted_from_shaft(asked.bench, asked.result.shaft, asked.result.chain, speed)


def _frequency(asked: _Asked) -> None:
    frequency = asked.aim.wanted_hz
    as_entered(asked.bench, rules.WANTED_FREQUENCY, frequency)
    wanted_from_frequency(asked.bench, asked.result.shaft, asked.result.chain, frequency)


def _pair(asked: _Asked) -> Trouble | None:
    led = asked.scene.led(asked.station)
    leader = asked.scene.leader(asked.station)
    if leader is None:
        return Trouble("no_partner", (asked.station.id,))
    if len(led) > 1:
        others = tuple(pair.second_station_id or 0 for pair in led)
        return Trouble("followed_twice", (asked.station.id, *others))
    pair, other = leader
    if pair.wanted_as == "ratio":
        speed = asked.bench.figure(
            plan_rules.WANTED_OF_RATIO,
            lambda ratio, other_speed_m_s: ratio * other_speed_m_s,
            {"ratio": pair.wanted_ratio, "other_speed_m_s": asked.speed_of(other)},
        )
    else:
        speed = asked.bench.figure(
            plan_rules.WANTED_OF_DIFFERENTIAL,
            _leading_speed,
            {
                "differential_share": pair.wanted_differential,
                "other_speed_m_s": asked.speed_of(other),
            },
        )
    _back(asked, speed)
    return None


def _leading_speed(differential_share: float, other_speed_m_s: float) -> float:
    checks.in_range(differential_share, -2.0, _MOST_DIFFERENTIAL, "the differential wanted")
    mean = other_speed_m_s / (1.0 - differential_share / 2.0)
    return belt_pair.first_speed_m_s(mean, differential_share)


def _in_file(pitch_of: Callable[[_Asked], dict[str, float | None]]) -> Callable[[_Asked], None]:
    """A basis by the distance of fruit in file; the two belts of a V share the mean."""

    def basis(asked: _Asked) -> None:
        filled = asked.aim.wanted_filled
        given: dict[str, float | None] = {
            "fruit_flow_1_s": asked.flow_1_s,
            "lanes": asked.scene.lanes(asked.station),
            "filled_share": 1.0 if filled is None else filled,
            **pitch_of(asked),
        }
        side = _side_of_vee(asked)
        if side:
            given["differential_share"] = side
        speed = asked.bench.figure(plan_rules.WANTED_OF_PITCH, _speed_in_file, given)
        _back(asked, speed)

    return basis


def _speed_in_file(
    fruit_flow_1_s: float,
    lanes: float,
    filled_share: float,
    diameter_m: float = 0.0,
    gap_m: float = 0.0,
    pitch_m: float = 0.0,
    differential_share: float = 0.0,
) -> float:
    pitch = pitch_m or diameter_m + gap_m
    mean = spacing.speed_for_pitch_m_s(fruit_flow_1_s, int(lanes), pitch, filled_share)
    return belt_pair.first_speed_m_s(mean, differential_share)


def _side_of_vee(asked: _Asked) -> float | None:
    """By how much this belt of a V is faster than their mean, twice; None without a V."""
    pair = asked.scene.place_pair(asked.station)
    if asked.station.kind != "belt_pair_side" or pair is None:
        return None
    wanted = pair.wanted_differential
    if pair.wanted_as == "ratio" and pair.wanted_ratio:
        wanted = belt_pair.differential_share(pair.wanted_ratio, 1.0)
    if wanted is None:
        return None
    return wanted if pair.first_station_id == asked.station.id else -wanted


def _cover(asked: _Asked) -> None:
    speed = asked.bench.figure(
        plan_rules.WANTED_OF_COVER,
        spacing.speed_for_cover_m_s,
        {
            "flow_1_s": asked.flow_1_s,
            "width_m": asked.station.process.carrying_width_m,
            "diameter_m": asked.diameter_m,
            "cover_share": asked.aim.wanted_cover,
        },
    )
    _back(asked, speed)


def _time(asked: _Asked) -> None:
    speed = asked.bench.figure(
        plan_rules.WANTED_OF_TIME,
        lambda length_m, time_s: length_m / time_s,
        {
            "length_m": asked.station.process.carrying_length_m,
            "time_s": asked.aim.wanted_time_s,
        },
    )
    _back(asked, speed)


def _drift(asked: _Asked) -> Trouble | None:
    station, other = asked.station, asked.scene.partner(asked.station)
    if other is None:
        return Trouble("no_partner", (station.id,))
    if other.turn == station.turn:
        return Trouble("same_direction", (station.id, other.id))
    reverse = station.turn == "reverse"
    held = station.process
    given = {
        "other_row_speed_m_s": asked.speed_of(other),
        "drift_wanted_share": asked.aim.wanted_drift,
        "flow_1_s": asked.flow_1_s,
        "brush_pitch_m": held.brush_pitch_m,
        "bed_width_m": held.bed_width_m,
        "diameter_m": asked.diameter_m,
        "packing_share": held.packing or PACKING,
        "travel_factor": held.travel_factor or 1.0,
    }
    turned = brush_bed.reverse_speed_m_s if reverse else brush_bed.forward_speed_m_s

    def speed_of_row(
        other_row_speed_m_s: float,
        drift_wanted_share: float,
        flow_1_s: float,
        brush_pitch_m: float,
        bed_width_m: float,
        diameter_m: float,
        packing_share: float,
        travel_factor: float,
    ) -> float:
        per_valley = brush_places.fruit_per_valley(bed_width_m, diameter_m, packing_share)
        needed = brush_places.needed_drift_m_s(flow_1_s, brush_pitch_m, per_valley)
        return turned(other_row_speed_m_s, drift_wanted_share * needed, travel_factor)

    _back(asked, asked.bench.figure(plan_rules.WANTED_OF_DRIFT, speed_of_row, given))
    return None


def _turns(asked: _Asked) -> Trouble | None:
    carrier = asked.scene.carrier(asked.station)
    if carrier is None:
        return Trouble("no_carrier", (asked.station.id,))
    held = asked.station.process
    speed = asked.bench.figure(
        plan_rules.WANTED_OF_TURNS,
        camera.spin_speed_m_s,
        {
            "carrier_m_s": asked.speed_of(carrier),
            "turns": asked.aim.wanted_turns,
            "diameter_m": asked.diameter_m,
            "view_length_m": held.view_length_m,
            "contact_factor": held.contact_factor or 1.0,
        },
    )
    if speed is None:
        return None
    figures, key = asked.bench.figures, plan_rules.WANTED_OF_TURNS.key
    if abs(speed) > _STILL_M_S and (speed < 0.0) != (asked.station.turn == "reverse"):
        # The size alone, the wrong way round, would turn the fruit by another amount.
        del figures[key]
        return Trouble("wrong_turn", (asked.station.id,))
    # Speeds are sizes; which way it turns stands at the station.
    figures[key] = replace(figures[key], value=abs(speed))
    _back(asked, abs(speed))
    return None


def _cups(asked: _Asked) -> None:
    held = asked.station.process
    speed = asked.bench.figure(
        plan_rules.WANTED_OF_CUPS,
        cups.speed_for_fruit_m_s,
        {
            "flow_1_s": asked.flow_1_s,
            "cup_pitch_m": held.cup_pitch_m,
            "lanes": asked.scene.lanes(asked.station),
            "filled_share": held.cup_fill,
        },
    )
    _back(asked, speed)


def _water(asked: _Asked) -> None:
    held, shaft = asked.station.process, asked.result.shaft
    rated = asked.station.motors[0].speed_rad_s if asked.station.motors else None
    speed = asked.bench.figure(
        plan_rules.WANTED_SHAFT_OF_WATER,
        lambda water_m_s, width_m, depth_m, rated_m3_s, rated_speed_rad_s, ratio: (
            pump.speed_for_flow_rad_s(
                water.flow_for_velocity_m3_s(water_m_s, width_m, depth_m),
                rated_m3_s,
                rated_speed_rad_s / ratio,
            )
        ),
        {
            "water_m_s": asked.aim.wanted_water_m_s,
            "width_m": held.flume_width_m,
            "depth_m": held.flume_depth_m,
            "rated_m3_s": held.pump_flow_m3_s,
            "rated_speed_rad_s": rated,
            "ratio": shaft.ratio,
        },
    )
    wanted_from_shaft(asked.bench, shaft, asked.result.chain, speed)


def _back(asked: _Asked, surface_m_s: float | None) -> None:
    wanted_from_surface(asked.bench, asked.result.shaft, asked.result.chain, surface_m_s)


_BASES: dict[str, Callable[[_Asked], Trouble | None]] = {
    "surface": _surface,
    "shaft": _shaft,
    "frequency": _frequency,
    "pair": _pair,
    "touching": _in_file(lambda asked: {"diameter_m": asked.diameter_m}),
    "gap": _in_file(
        lambda asked: {"diameter_m": asked.diameter_m, "gap_m": asked.aim.wanted_gap_m}
    ),
    "pitch": _in_file(lambda asked: {"pitch_m": asked.aim.wanted_pitch_m}),
    "cover": _cover,
    "time": _time,
    "drift": _drift,
    "turns": _turns,
    "cups": _cups,
    "water": _water,
}
