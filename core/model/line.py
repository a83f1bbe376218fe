"""The line: everything one file holds, as one graph of frozen records."""

from collections.abc import Iterable
from typing import Protocol, TypeVar

from core.model import choices
from core.model.commissioning import CalibrationPoint, Check, OwnCheck
from core.model.fields import children, choice, long_text, quantity, record, text, whole
from core.model.plant import (
    Acceptance,
    Bus,
    DriveType,
    Enclosure,
    Flow,
    Instrument,
    Pair,
    Person,
    Supply,
)
from core.model.recipe import Recipe
from core.model.station import Station
from core.units import System


class _HasId(Protocol):
    @property
    def id(self) -> int: ...


_Kept = TypeVar("_Kept", bound=_HasId)


@record("line", "Line")
class Line:
    """One installation. Comes from a file or from a frozen record; computed from alike."""

    id: int = 0
    name: str = text("Line")
    site: str = text("Site")
    owner: str = text("Owner")
    unit_system: System = choice("Units", choices.UNIT_SYSTEMS, "metric")
    wiring_rules: str = choice("Wiring rules", choices.WIRING_RULES, "iec")
    language: str = choice("Language of sheets", choices.LANGUAGES, "en")
    paper: str = choice("Paper", choices.PAPERS, "a4")
    lanes: int | None = whole("Lanes", minimum=1, maximum=100)
    altitude_m: float | None = quantity("length", "Altitude", minimum=None)
    notes: str = long_text("Notes")
    people: tuple[Person, ...] = children(Person)
    instruments: tuple[Instrument, ...] = children(Instrument)
    supplies: tuple[Supply, ...] = children(Supply)
    enclosures: tuple[Enclosure, ...] = children(Enclosure)
    buses: tuple[Bus, ...] = children(Bus)
    drive_types: tuple[DriveType, ...] = children(DriveType)
    stations: tuple[Station, ...] = children(Station)
    recipes: tuple[Recipe, ...] = children(Recipe)
    flows: tuple[Flow, ...] = children(Flow)
    pairs: tuple[Pair, ...] = children(Pair)
    acceptances: tuple[Acceptance, ...] = children(Acceptance)
    own_checks: tuple[OwnCheck, ...] = children(OwnCheck)
    checks: tuple[Check, ...] = children(Check)
    calibration_points: tuple[CalibrationPoint, ...] = children(CalibrationPoint)

    def station(self, station_id: int) -> Station:
        """The station of this id; KeyError if there is none."""
        return _by_id(self.stations, station_id)

    def station_tagged(self, tag: str) -> Station | None:
        """The station with this tag, if there is one."""
        return next((entry for entry in self.stations if entry.tag == tag), None)

    @property
    def photo_digests(self) -> frozenset[str]:
        """Digests of the bytes of every photograph that the line names."""
        return frozenset(photo.sha256 for entry in self.stations for photo in entry.photos)

    def recipe(self, recipe_id: int | None = None) -> Recipe | None:
        """The recipe of this id; without one the first, which the line is set up for."""
        if recipe_id is None:
            return self.recipes[0] if self.recipes else None
        return _by_id(self.recipes, recipe_id)

    def drive_type(self, drive_type_id: int | None) -> DriveType | None:
        """The drive type of this id, or None where none is chosen."""
        return None if drive_type_id is None else _by_id(self.drive_types, drive_type_id)

    def supply(self, supply_id: int | None) -> Supply | None:
        """The supply of this id, or None where none is chosen."""
        return None if supply_id is None else _by_id(self.supplies, supply_id)

    def enclosure(self, enclosure_id: int | None) -> Enclosure | None:
        """The enclosure of this id, or None where none is chosen."""
        return None if enclosure_id is None else _by_id(self.enclosures, enclosure_id)

    def bus(self, bus_id: int | None) -> Bus | None:
        """The bus of this id, or None where none is chosen."""
        return None if bus_id is None else _by_id(self.buses, bus_id)


def _by_id(records: Iterable[_Kept], wanted: int) -> _Kept:
    for entry in records:
        if entry.id == wanted:
            return entry
    raise KeyError(wanted)
