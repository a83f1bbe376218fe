"""Everything computed from a line, station by station.

A station's results depend on the station, its drive type, its supply and the wiring rules. All are
frozen, so a station for which they are the same objects as before keeps its results, and one edit
costs one station.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from core.collector import without_collector
from core.line.chain import Limits, chain_of, limits_of
from core.line.circuits import add_circuit
from core.line.figures import Figure, Lack, Workbench
from core.line.margins import add_margins
from core.line.plates import motor_figures
from core.line.points import Point, points_of
from core.line.shaft import shaft_of
from core.line.speeds import speeds_now, speeds_wanted
from core.model import DriveType, Line, Station, Supply


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


@dataclass(frozen=True, slots=True)
class LineResults:
    """The results of a line: the line itself, and every station's figures in its order."""

    line: Line
    stations: tuple[StationResult, ...]
    _by_id: Mapping[int, StationResult] = field(repr=False)

    def station(self, station_id: int) -> StationResult:
        """The results of one station; KeyError where there is none."""
        return self._by_id[station_id]


def compute_line(line: Line, before: LineResults | None = None) -> LineResults:
    """Compute a line.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    before : LineResults, optional
        Earlier results; what has not changed since is taken from them.
    """
    types = {entry.id: entry for entry in line.drive_types}
    supplies = {entry.id: entry for entry in line.supplies}
    found = []
    with without_collector():
        for station in line.stations:
            drive_type = types.get(station.drive.drive_type_id or 0)
            supply = supplies.get(station.drive.supply_id or 0)
            old = before._by_id.get(station.id) if before else None
            if old is not None and _unchanged(old, station, drive_type, supply, line.wiring_rules):
                found.append(old)
            else:
                found.append(compute_station(station, drive_type, supply, line.wiring_rules))
    return LineResults(line, tuple(found), {entry.station.id: entry for entry in found})


def _unchanged(
    old: StationResult,
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None,
    rules: str,
) -> bool:
    same = old.station is station and old.drive_type is drive_type and old.supply is supply
    return same and old.rules == rules


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
    speeds_wanted(bench, station, shaft, chain)
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
