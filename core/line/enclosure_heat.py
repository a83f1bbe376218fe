"""The heat of all drives in each enclosure, and what walls and fan carry away."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.calc import enclosure as heat
from core.errors import RangeError
from core.line import service_rules as rules
from core.line.figures import Figure, Workbench
from core.line.results import LineResults
from core.line.station import StationResult
from core.model import Enclosure
from core.model.choices import MATERIALS, MOUNTINGS


@dataclass(frozen=True, slots=True)
class EnclosureHeat:
    """One enclosure under all drives in it.

    ``figures`` go by the keys of `core.line.service_rules`. ``estimated`` names the stations whose
    losses are an estimate, ``unknown`` those whose losses are not known, which are left out.
    """

    enclosure: Enclosure
    figures: Mapping[str, Figure]
    estimated: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def heat_w(self) -> float:
        """Heat that the drives in it give off."""
        return self.figures[rules.HEAT_INSIDE.key].value or 0.0

    @property
    def allowed_w(self) -> float | None:
        """Heat that it gets rid of; None where entries are lacking or it carries none away."""
        return self.figures[rules.HEAT_ALLOWED.key].value

    @property
    def inside_k(self) -> float | None:
        """Temperature it reaches inside; None where entries are lacking."""
        return self.figures[rules.INSIDE.key].value

    @property
    def lacks(self) -> tuple[str, ...]:
        """What the balance lacks, in words."""
        return self.figures[rules.HEAT_ALLOWED.key].lacks


def enclosure_heats(results: LineResults) -> tuple[EnclosureHeat, ...]:
    """The heat in every enclosure of the line against what it carries away."""
    return tuple(_heat(results, entry) for entry in results.line.enclosures)


def _heat(results: LineResults, held: Enclosure) -> EnclosureHeat:
    losses, estimated, unknown = _losses(results, held)
    assumed = _joined(
        f"losses of {', '.join(estimated)} by the motor's power" if estimated else "",
        f"without {', '.join(unknown)}, whose losses are not known" if unknown else "",
    )
    bench = Workbench()
    total = bench.figure(
        rules.HEAT_INSIDE, lambda **given: sum(given.values()), losses, assumed=assumed
    )
    _balance(bench, held, total or 0.0, results.line.altitude_m, assumed)
    return EnclosureHeat(held, bench.figures, tuple(estimated), tuple(unknown))


def _losses(results: LineResults, held: Enclosure) -> tuple[dict[str, float], list[str], list[str]]:
    """The losses of each drive in it by name; which are an estimate, and which not known."""
    losses: dict[str, float] = {}
    estimated, unknown = [], []
    for entry in results.stations:
        if entry.station.drive.enclosure_id != held.id:
            continue
        try:
            found = heat.drive_losses_w(*_stated(entry))
        except RangeError:
            unknown.append(entry.tag)
            continue
        name = entry.tag
        while f"{name}_losses_heat_w" in losses:
            name += "'"
        losses[f"{name}_losses_heat_w"] = found.value
        if found.is_estimate:
            estimated.append(entry.tag)
    return losses, estimated, unknown


def _stated(entry: StationResult) -> tuple[float | None, float | None]:
    """Losses as entered on the drive type, and the power of the motors on the drive."""
    power = sum(plate.power_w or 0.0 for plate in entry.station.motors)
    return entry.drive_type.losses_w if entry.drive_type else None, power or None


def _balance(
    bench: Workbench, held: Enclosure, heat_w: float, altitude_m: float | None, assumed: str
) -> None:
    walls, also = _walls(held), _also(held, altitude_m)
    air = (held.fan_flow_m3_s or 0.0, altitude_m or 0.0)
    outside = {"highest_ambient_temperature_k": held.ambient_max_k}
    guessed = _guessed(held, altitude_m)

    def allowed(
        highest_ambient_temperature_k: float, allowed_inside_temperature_k: float, **size: Any
    ) -> float:
        through = _through(held, size)
        return heat.allowed_heat_w(
            allowed_inside_temperature_k, highest_ambient_temperature_k, *through, *air
        )

    def reached(losses_heat_w: float, highest_ambient_temperature_k: float, **size: Any) -> float:
        rise_k = heat.inside_rise_k(losses_heat_w, *_through(held, size), *air)
        return highest_ambient_temperature_k + rise_k

    bench.figure(
        rules.HEAT_ALLOWED,
        allowed,
        {**walls, **outside, "allowed_inside_temperature_k": held.inside_max_k},
        also=also,
        assumed=_joined(*guessed),
    )
    bench.figure(
        rules.INSIDE,
        reached,
        {"losses_heat_w": heat_w, **walls, **outside},
        also=also,
        assumed=_joined(assumed, *guessed),
    )


def _walls(held: Enclosure) -> dict[str, float | str | None]:
    return {
        "height_m": held.height_m,
        "width_m": held.width_m,
        "depth_m": held.depth_m,
        "mounting": MOUNTINGS.get(held.mounting or ""),
        "material": MATERIALS.get(held.material or ""),
    }


def _through(held: Enclosure, size: Mapping[str, Any]) -> tuple[float, float]:
    """The effective area and the conductance of the walls."""
    area_m2 = heat.effective_area_m2(
        size["height_m"], size["width_m"], size["depth_m"], held.mounting or ""
    )
    return area_m2, heat.wall_conductance_w_m2_k(held.material or "")


def _also(held: Enclosure, altitude_m: float | None) -> dict[str, float | str]:
    """What the balance rests on beside the entries: fan air, and what follows from the walls."""
    fan, size = held.fan_flow_m3_s or 0.0, _walls(held)
    told: dict[str, float | str] = {"fan_flow_m3_s": fan}
    if fan:
        told["altitude_m"] = altitude_m or 0.0
    if None in size.values():
        return told
    try:
        area_m2, conductance = _through(held, size)
    except RangeError:
        return told
    return {**told, "effective_area_m2": area_m2, "conductance": f"{conductance:g} W/(m²·K)"}


def _guessed(held: Enclosure, altitude_m: float | None) -> tuple[str, str]:
    return (
        "no fan, as no air flow was entered" if held.fan_flow_m3_s is None else "",
        "sea level, as the altitude was not entered"
        if held.fan_flow_m3_s and altitude_m is None
        else "",
    )


def _joined(*words: str) -> str:
    return "; ".join(entry for entry in words if entry)
