"""How sure a station's speed is: an explicit budget from the knob to the surface.

Every part is the relative standard uncertainty of the surface speed. What nobody entered is
assumed where a drive cannot be without it, and told as an assumption.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from core.calc import motor, signals, speed_parts
from core.calc import uncertainty as gum
from core.calc.speed_parts import Part
from core.errors import RangeError
from core.line.chain import HERTZ, Chain
from core.line.shaft import Shaft
from core.line.station import StationResult

KNOB_SETTING = 0.01
"""How well a hand sets a knob, ± of its travel, where nobody entered it; common practice."""
SIGNAL_ACCURACY = 0.005
"""Accuracy of a signal, ± of its span, where nobody entered it; common practice."""
LOAD_SWING = 0.1
"""Swing of the torque, ± of rated, where nobody entered it; common practice."""
FREQUENCY_STEP_HZ = 0.01
"""A drive shows hertz to two decimals; common practice."""

FACTOR = 2.0
"""Coverage factor of every limit."""

SIGNAL_PARTS = ("setting", "signal", "linearity")
"""Parts that two drives share where both follow one signal."""
WIRED_PARTS = (*SIGNAL_PARTS, "signal step", "drive input", "input step")
"""Parts that a reference in hertz, over a bus or at the keypad, does not have."""


@dataclass(frozen=True, slots=True)
class Assumption:
    """A part of a budget that rests on no entry: its name and the half width assumed."""

    part: str
    half_width: float


@dataclass(frozen=True, slots=True)
class SpeedBudget:
    """The parts of a station's speed at one frequency, and what was assumed for them."""

    parts: tuple[Part, ...]
    assumed: tuple[Assumption, ...]

    @property
    def relative_u(self) -> float:
        """Relative standard uncertainty of the surface speed."""
        return math.sqrt(math.fsum(part.relative_u**2 for part in self.parts))


@dataclass(frozen=True, slots=True)
class ReferenceBudget:
    """What makes the frequency unsure that a reference gives, and what was assumed for it."""

    budget: gum.Budget
    assumed: tuple[Assumption, ...]


def reference_budget(result: StationResult) -> ReferenceBudget | None:
    """The budget of the frequency of a wired reference [Hz]; None where its chain is not known."""
    chain = result.chain
    if chain is None:
        return None
    span = abs(chain.limits.top_hz - chain.limits.bottom_hz)
    hertz, assumed = _hertz(result, chain, span)
    rows = tuple(gum.Contribution(name, u) for name, u in hertz.items() if u > 0)
    return ReferenceBudget(gum.combine(rows), tuple(assumed)) if rows else None


def holds_within_hz(result: StationResult) -> float | None:
    """How far off a wired reference may be (k = 2) [Hz]; None where that is not known."""
    try:
        held = reference_budget(result)
    except RangeError:
        return None
    return None if held is None else FACTOR * held.budget.standard


def budget_of(result: StationResult, frequency_hz: float | None) -> SpeedBudget | None:
    """The budget of a station's speed at a frequency; None where too little is known.

    Parameters
    ----------
    result : StationResult
        The station.
    frequency_hz : float or None
        Where its drive runs.

    Raises
    ------
    RangeError
        An entry that no uncertainty follows from, such as more wear than there is diameter.
    """
    shaft = result.shaft
    if not frequency_hz or shaft.poles is None or shaft.rated_slip_rad_s is None:
        return None
    speed = shaft.motor_speed(frequency_hz)
    if speed is None or speed <= 0:
        return None
    chain = result.chain
    span = abs(chain.limits.top_hz - chain.limits.bottom_hz) if chain is not None else 0.0
    hertz, assumed = _hertz(result, chain, span)
    per_hertz = motor.synchronous_speed_rad_s(1.0, shaft.poles) / speed
    parts = [Part(name, u * per_hertz) for name, u in hertz.items() if u > 0]
    slip, slip_assumed = _slip(result, shaft, speed)
    parts += slip
    parts += _sizes(result)
    return SpeedBudget(tuple(parts), (*assumed, *slip_assumed))


def _hertz(
    result: StationResult, chain: Chain | None, span_hz: float
) -> tuple[dict[str, float], list[Assumption]]:
    """Standard uncertainties of the frequency itself [Hz], by the name of the part."""
    held = result.station.reference
    step = (result.drive_type.frequency_step_hz if result.drive_type else None) or FREQUENCY_STEP_HZ
    found = {"frequency step": gum.standard_from_limits(step / 2.0)}
    assumed: list[Assumption] = []
    if chain is None or held.source in HERTZ:
        return found, assumed

    def within(name: str, share: float | None, otherwise: float) -> None:
        if share is None and otherwise:
            assumed.append(Assumption(name, otherwise))
        width = otherwise if share is None else share
        if width:
            found[name] = gum.standard_from_limits(width * span_hz)

    if held.source == "potentiometer":
        within("setting", held.setting_share, KNOB_SETTING)
        within("linearity", held.pot_linearity, 0.0)
    else:
        within("setting", held.setting_share, 0.0)
        within("signal", held.accuracy, SIGNAL_ACCURACY)
    if chain.dac_bits:
        within("signal step", 0.5 / (2**chain.dac_bits - 1), 0.0)
    entry = result.drive_type.reference_input(held.input_name) if result.drive_type else None
    if entry is not None:
        within("drive input", entry.accuracy, 0.0)
        if entry.resolution_bits:
            step_hz = signals.resolution_hz(entry.resolution_bits, 0.0, span_hz or 1.0)
            found["input step"] = gum.standard_from_limits(abs(step_hz) / 2.0)
    return found, assumed


def _slip(
    result: StationResult, shaft: Shaft, speed_rad_s: float
) -> tuple[list[Part], list[Assumption]]:
    if not shaft.rated_slip_rad_s or not shaft.load_fraction:
        return [], []
    swing = result.station.drivetrain.load_swing
    assumed = [Assumption("slip", LOAD_SWING)] if swing is None else []
    part = speed_parts.slip_part(
        LOAD_SWING if swing is None else swing, shaft.rated_slip_rad_s, speed_rad_s
    )
    return ([part] if part.relative_u else []), assumed


def _sizes(result: StationResult) -> Iterator[Part]:
    held = result.station.drivetrain
    if held.surface != "drum" or not held.drum_diameter_m:
        return
    if held.diameter_within_m:
        yield speed_parts.diameter_part(held.diameter_within_m, held.drum_diameter_m)
    if held.wear_m:
        yield speed_parts.wear_part(held.wear_m, held.drum_diameter_m)
