"""Everything computed from one station by itself: its figures, its limits, what it still needs."""

from collections.abc import Mapping
from dataclasses import dataclass

from core.line.chain import Chain, Limits, chain_of, limits_of
from core.line.circuits import add_circuit
from core.line.figures import Figure, Lack, Workbench
from core.line.margins import add_margins
from core.line.plates import motor_figures
from core.line.points import Point, points_of
from core.line.shaft import Shaft, shaft_of
from core.line.speeds import speeds_now
from core.model import DriveType, Station, Supply


@dataclass(frozen=True, slots=True)
class StationResult:
    """All figures of one station.

    ``figures`` go by the keys of `core.line.rules`; those of motors after the first carry the
    motor's number behind the key. ``motor_figures`` holds them by motor id as well.
    """

    station: Station
    drive_type: DriveType | None
    supply: Supply | None
    rules: str
    figures: Mapping[str, Figure]
    motor_figures: Mapping[int, Mapping[str, Figure]]
    points: tuple[Point, ...]
    shaft: Shaft
    chain: Chain | None
    limits: Limits | None
    lacks: tuple[Lack, ...]
    state: str

    @property
    def tag(self) -> str:
        """Tag of the station."""
        return self.station.tag

    def value(self, key: str) -> float | None:
        """A figure's value in SI; None where it is lacking."""
        figure = self.figures.get(key)
        return None if figure is None else figure.value


def compute_station(
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None = None,
    rules: str = "iec",
) -> StationResult:
    """Compute one station by itself, under the wiring rules ``nec`` or ``iec``."""
    bench = Workbench()
    by_motor = {
        entry.id: motor_figures(bench, entry, number)
        for number, entry in enumerate(station.motors, start=1)
    }
    shaft = shaft_of(bench, station, drive_type)
    limits = limits_of(bench, station, drive_type) if _needs_limits(station) else None
    chain = chain_of(bench, station, drive_type, limits)
    if station.reference.source is None:
        bench.lack(
            "speed_reference", station.reference.id, "source", "Speed reference: its source."
        )
    speeds_now(bench, station, shaft, chain)
    add_circuit(bench, station, drive_type, supply, rules)
    add_margins(bench, station, drive_type, supply, shaft, limits, chain)
    lacks = tuple(bench.lacks.values())
    return StationResult(
        station,
        drive_type,
        supply,
        rules,
        bench.figures,
        by_motor,
        points_of(station, shaft, chain, limits),
        shaft,
        chain,
        limits,
        lacks,
        _state(station, lacks),
    )


def _state(station: Station, lacks: tuple[Lack, ...]) -> str:
    if not lacks:
        return "complete"
    entered = station.drive.drive_type_id or station.reference.source or station.drivetrain.surface
    plate = any(entry.power_w or entry.speed_rad_s for entry in station.motors)
    return "started" if entered or plate else "empty"


def _needs_limits(station: Station) -> bool:
    return station.reference.source not in (None, "pid")
