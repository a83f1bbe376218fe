"""From the drive's hertz to the speed of the fruit, and back, for one station."""

from collections.abc import Callable
from dataclasses import dataclass

from core.calc import drivetrain, motor
from core.line import rules
from core.line.figures import Workbench
from core.line.settings import in_force
from core.model import Drivetrain, DriveType, Station


@dataclass(frozen=True, slots=True)
class Shaft:
    """From hertz to surface speed for one station, as far as it is known."""

    poles: int | None
    rated_slip_rad_s: float | None
    base_hz: float | None
    load_fraction: float
    assumed: str
    ratio: float | None
    train: Drivetrain

    @property
    def to_surface(self) -> Callable[[float], float] | None:
        """Surface speed from shaft speed; None where nothing moves or the size is lacking."""
        held = self.train
        if held.surface == "drum" and held.drum_diameter_m is not None:
            diameter, belt = held.drum_diameter_m, held.belt_thickness_m or 0.0
            return lambda speed: drivetrain.surface_speed_m_s(speed, diameter, belt)
        if held.surface == "sprocket" and held.chain_teeth and held.chain_pitch_m:
            teeth, pitch = held.chain_teeth, held.chain_pitch_m
            return lambda speed: drivetrain.chain_speed_m_s(speed, teeth, pitch)
        return None

    @property
    def told(self) -> dict[str, float]:
        """The sizes that surface speed rests on, by names that carry their units."""
        held = self.train
        if held.surface == "sprocket":
            return {"teeth": held.chain_teeth or 0, "chain_pitch_m": held.chain_pitch_m or 0.0}
        return {
            "diameter_m": held.drum_diameter_m or 0.0,
            "belt_thickness_m": held.belt_thickness_m or 0.0,
        }

    @property
    def from_surface(self) -> Callable[[float], float] | None:
        """Shaft speed from surface speed."""
        held = self.train
        if held.surface == "drum" and held.drum_diameter_m is not None:
            diameter, belt = held.drum_diameter_m, held.belt_thickness_m or 0.0
            return lambda speed: drivetrain.shaft_speed_for_surface_rad_s(speed, diameter, belt)
        if held.surface == "sprocket" and held.chain_teeth and held.chain_pitch_m:
            teeth, pitch = held.chain_teeth, held.chain_pitch_m
            return lambda speed: drivetrain.shaft_speed_for_chain_rad_s(speed, teeth, pitch)
        return None

    def motor_speed(self, frequency_hz: float | None) -> float | None:
        """Motor speed at a frequency."""
        if frequency_hz is None or self.poles is None or self.rated_slip_rad_s is None:
            return None
        return motor.speed_at_rad_s(
            frequency_hz, self.poles, self.rated_slip_rad_s, self.load_fraction, self.base_hz
        )


def shaft_of(bench: Workbench, station: Station, drive_type: DriveType | None) -> Shaft:
    """The way from hertz to surface speed of a station; what is lacking goes to the bench."""
    held = station.drivetrain
    for name, words in _lacking_train(held):
        bench.lack("drivetrain", held.id, name, f"Drivetrain: {words}.")
    ratio = bench.figure(
        rules.TOTAL_RATIO,
        drivetrain.total_ratio,
        {
            "gear_ratio": held.gear_ratio,
            "driver_teeth": held.driver_teeth or (1 if held.driven_teeth is None else None),
            "driven_teeth": held.driven_teeth or (1 if held.driver_teeth is None else None),
        },
    )
    load, assumed = _load(station, drive_type)
    poles = _value(bench, rules.POLES.key)
    return Shaft(
        None if poles is None else int(poles),
        _value(bench, rules.RATED_SLIP.key),
        station.motors[0].frequency_hz if station.motors else None,
        load,
        assumed,
        ratio,
        held,
    )


def _lacking_train(held: Drivetrain) -> list[tuple[str, str]]:
    lacking = []
    if held.gear_ratio is None:
        lacking.append(("gear_ratio", "gear ratio (1 if there is no gearbox)"))
    if held.surface is None:
        lacking.append(("surface", "what moves the fruit"))
    if held.surface == "drum" and held.drum_diameter_m is None:
        lacking.append(("drum_diameter_m", "diameter of the drum, roller or brush"))
    if held.surface == "sprocket":
        if held.chain_teeth is None:
            lacking.append(("chain_teeth", "teeth of the conveyor sprocket"))
        if held.chain_pitch_m is None:
            lacking.append(("chain_pitch_m", "pitch of the conveyor chain"))
    return lacking


def _load(station: Station, drive_type: DriveType | None) -> tuple[float, str]:
    compensation = in_force(station, drive_type, "slip_compensation")
    if compensation is not None and compensation.value:
        # With compensation the drive itself adds the slip frequency.
        return 0.0, compensation.assumed
    if station.drivetrain.load_fraction is None:
        return 1.0, "rated torque, as the load was not entered"
    return station.drivetrain.load_fraction, ""


def _value(bench: Workbench, key: str) -> float | None:
    figure = bench.figures.get(key)
    return None if figure is None else figure.value
