"""One station at one set of speeds: where the figures of its work on the fruit are put together."""

from collections.abc import Callable
from dataclasses import dataclass, field

from core.calc import brush_places
from core.errors import RangeError
from core.line.aims import PACKING
from core.line.figures import Rule, Workbench
from core.line.scene import Scene
from core.model import Station

COVER_MOST = 0.8
"""Share of a belt or of water that fruit covers at most, where none is entered; reference B2."""


@dataclass(frozen=True, slots=True)
class Speeds:
    """Surface speeds [m/s] of a station, of its partner in one place, and of its carrier.

    Where a station turns in reverse its speed is still above zero; the station says how it turns.
    """

    own: float | None
    partner: float | None = None
    carrier: float | None = None
    shaft_rad_s: float | None = None


@dataclass(slots=True)
class Work:
    """One station at one set of speeds, and the figures that come of it."""

    scene: Scene
    station: Station
    speeds: Speeds
    bench: Workbench = field(default_factory=Workbench)

    @property
    def flow_1_s(self) -> float | None:
        """Fruit to carry."""
        return self.scene.rates.at_1_s.get(self.station.id)

    @property
    def diameter_m(self) -> float | None:
        """Diameter of one fruit."""
        return self.scene.recipe.fruit_diameter_m if self.scene.recipe else None

    @property
    def lanes(self) -> int:
        """Lanes over the station."""
        return self.scene.lanes(self.station)

    def figure(
        self, rule: Rule, function: Callable[..., float], **given: float | None
    ) -> float | None:
        """A figure whose lacking inputs are not asked for: the plan needs none of them."""
        if None in given.values():
            return None
        return self.bench.figure(rule, function, given)


def per_valley(work: Work) -> float | None:
    """Fruit that fit in one valley of a brush bed; None where that is not known, or not one does.

    Why not one does is told beside the places of the bed.
    """
    held = work.station.process
    if held.bed_width_m is None or work.diameter_m is None:
        return None
    packing = held.packing or PACKING
    try:
        return brush_places.fruit_per_valley(held.bed_width_m, work.diameter_m, packing)
    except RangeError:
        return None


def is_single_file(station: Station) -> bool:
    """Whether fruit goes over a station one behind the other."""
    if station.kind == "belt_pair_side":
        return True
    return station.kind == "belt" and station.wanted in ("touching", "gap", "pitch")
