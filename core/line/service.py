"""What all drives together ask of each supply and each enclosure."""

from collections.abc import Sequence
from dataclasses import dataclass

from core.calc import enclosure as heat
from core.calc import nec_motors, neutral
from core.errors import RangeError
from core.line.feed import Feed, feed_of
from core.line.results import LineResults, StationResult
from core.model import Enclosure, Supply

_ORDER_1, _ORDER_3, _ORDER_5 = 1.0, 0.81, 0.53
"""Harmonics of a small single-phase rectifier over its fundamental: the middle of the simulated
cases of the reference (h3 0.57 to 0.91); an estimate."""


@dataclass(frozen=True, slots=True)
class SupplyLoad:
    """One supply under all its drives.

    ``line_a`` is the sum of input currents in each line under the stated demand; ``feeder_a`` the
    current the feeder has to carry by the wiring rules in its heaviest line. ``neutral_a`` is an
    estimate for drives fed line to neutral, triplen harmonics included. ``unknown`` names stations
    whose input current is not known, which are left out.
    """

    supply: Supply
    line_a: dict[str, float]
    heaviest_a: float
    imbalance_share: float
    feeder_a: float
    neutral_a: float
    demand: float
    estimated: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def used_share(self) -> float | None:
        """Heaviest line over the service rating; None where that is not entered."""
        rating = self.supply.service_rating_a
        return None if rating is None else self.heaviest_a / rating


@dataclass(frozen=True, slots=True)
class EnclosureHeat:
    """One enclosure under all drives in it; ``allowed_w`` None where its entries are lacking."""

    enclosure: Enclosure
    heat_w: float
    allowed_w: float | None
    inside_k: float | None
    estimated: tuple[str, ...]
    lacks: tuple[str, ...]


def supply_loads(results: LineResults) -> tuple[SupplyLoad, ...]:
    """The load on every supply of the line."""
    return tuple(_load(results, supply) for supply in results.line.supplies)


def _load(results: LineResults, supply: Supply) -> SupplyLoad:
    fed: list[tuple[StationResult, Feed, float]] = []
    unknown, estimated = [], []
    for entry in results.stations:
        if entry.station.drive.supply_id != supply.id:
            continue
        feed = feed_of(supply, entry.station.drive.supply_lines)
        figure = entry.figures.get("input_current_a")
        if feed is None or figure is None or figure.value is None:
            unknown.append(entry.tag)
            continue
        if figure.is_estimate:
            estimated.append(entry.tag)
        fed.append((entry, feed, figure.value))
    demand = 1.0 if supply.demand is None else supply.demand
    other = supply.other_load_a or 0.0
    sums = neutral.line_currents_a(tuple((feed.lines, amps) for _, feed, amps in fed))
    present = {line: demand * amps + other for line, amps in sums.items() if _has(supply, line)}
    heaviest = max(present.values(), default=0.0)
    return SupplyLoad(
        supply=supply,
        line_a=present,
        heaviest_a=heaviest,
        imbalance_share=_imbalance(present),
        feeder_a=_feeder(results.line.wiring_rules, fed, present, demand, other),
        neutral_a=_neutral(fed) * demand,
        demand=demand,
        estimated=tuple(estimated),
        unknown=tuple(unknown),
    )


def _has(supply: Supply, line: str) -> bool:
    kind = supply.kind or ""
    lines = {"1ph_120": 1, "1ph_230": 1, "1ph_240": 2, "split_120_240": 2}.get(kind, 3)
    return int(line[1]) <= lines


def _imbalance(present: dict[str, float]) -> float:
    if len(present) < 2 or not any(present.values()):
        return 0.0
    return neutral.leg_balance(tuple(present.values())).imbalance


def _feeder(
    rules: str,
    fed: Sequence[tuple[StationResult, Feed, float]],
    present: dict[str, float],
    demand: float,
    other: float,
) -> float:
    if not fed or rules != "nec":
        return max(present.values(), default=0.0)
    found = []
    for line in present:
        amps = tuple(amps for _, feed, amps in fed if line in feed.lines.split())
        if amps:
            sized = nec_motors.feeder_current(amps, 0.0, other)
            # The demand lowers the sum, never the quarter on top of the largest drive.
            found.append(sized.total_a - (1.0 - demand) * sum(amps))
    return max(found, default=0.0)


def _neutral(fed: Sequence[tuple[StationResult, Feed, float]]) -> float:
    legs: dict[str, float] = {}
    services = {feed.service for _, feed, _ in fed}
    for _, feed, amps in fed:
        if feed.to_neutral:
            line = feed.lines.split()[0]
            legs[line] = legs.get(line, 0.0) + amps
    if not legs:
        return 0.0
    if services <= {"single"}:
        return sum(legs.values())
    order = ("L1", "L2") if "split" in services else ("L1", "L2", "L3")
    scale = (_ORDER_1**2 + _ORDER_3**2 + _ORDER_5**2) ** 0.5
    spectra = tuple(
        {
            order_number: legs.get(line, 0.0) * part / scale
            for order_number, part in ((1, _ORDER_1), (3, _ORDER_3), (5, _ORDER_5))
        }
        for line in order
    )
    return neutral.neutral_current_a(spectra, "three_wire" if "split" in services else "wye")


def enclosure_heats(results: LineResults) -> tuple[EnclosureHeat, ...]:
    """The heat in every enclosure of the line against what it carries away."""
    return tuple(_heat(results, entry) for entry in results.line.enclosures)


def _heat(results: LineResults, held: Enclosure) -> EnclosureHeat:
    total, estimated = 0.0, []
    for entry in results.stations:
        if entry.station.drive.enclosure_id != held.id:
            continue
        stated = entry.drive_type.losses_w if entry.drive_type else None
        power = sum(plate.power_w or 0.0 for plate in entry.station.motors) or None
        if stated is None and power is None:
            estimated.append(entry.tag)
            continue
        try:
            losses = heat.drive_losses_w(stated, power)
        except RangeError:
            estimated.append(entry.tag)
            continue
        total += losses.value
        if losses.is_estimate:
            estimated.append(entry.tag)
    needed = {
        "height": held.height_m,
        "width": held.width_m,
        "depth": held.depth_m,
        "mounting": held.mounting,
        "material": held.material,
        "highest ambient temperature": held.ambient_max_k,
        "allowed inside temperature": held.inside_max_k,
    }
    lacks = tuple(name for name, value in needed.items() if value is None)
    if lacks:
        return EnclosureHeat(held, total, None, None, tuple(estimated), lacks)
    allowed, inside = _carried(held, total, results.line.altitude_m or 0.0)
    return EnclosureHeat(held, total, allowed, inside, tuple(estimated), ())


def _carried(
    held: Enclosure, heat_w: float, altitude_m: float
) -> tuple[float | None, float | None]:
    assert held.height_m
    assert held.width_m
    assert held.depth_m
    assert held.mounting
    assert held.material
    assert held.ambient_max_k is not None
    assert held.inside_max_k is not None
    fan = held.fan_flow_m3_s or 0.0
    try:
        area = heat.effective_area_m2(held.height_m, held.width_m, held.depth_m, held.mounting)
        conductance = heat.wall_conductance_w_m2_k(held.material)
        allowed = heat.allowed_heat_w(
            held.inside_max_k, held.ambient_max_k, area, conductance, fan, altitude_m
        )
        rise = heat.inside_rise_k(heat_w, area, conductance, fan, altitude_m)
    except RangeError:
        return None, None
    return allowed, held.ambient_max_k + rise
