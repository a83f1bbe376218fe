"""What follows from each position of a station's reference."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from core.calc import drivetrain, reference
from core.errors import RangeError
from core.line.chain import HERTZ, Chain, Limits
from core.line.shaft import Shaft
from core.model import Station

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Points of the reference's travel that every table of points shows."""


@dataclass(frozen=True, slots=True)
class Point:
    """What follows from one position of the reference; None where it cannot be told.

    ``fraction`` is the share of the travel (of the knob, of the span, of the counts, or of the
    maximum frequency where hertz are set directly).
    """

    fraction: float
    signal_v: float | None = None
    signal_a: float | None = None
    count: int | None = None
    frequency_hz: float | None = None
    motor_rad_s: float | None = None
    shaft_rad_s: float | None = None
    surface_m_s: float | None = None


def points_of(
    station: Station, shaft: Shaft, chain: Chain | None, limits: Limits | None
) -> tuple[Point, ...]:
    """The table of points of a station's reference; empty where the chain is not known."""
    if station.reference.source in HERTZ and limits is not None:
        return tuple(_hertz_point(share, shaft, limits) for share in SHARES)
    if chain is None:
        return ()
    return tuple(_signal_point(share, shaft, chain) for share in SHARES)


def _hertz_point(share: float, shaft: Shaft, limits: Limits) -> Point:
    frequency = _or_none(
        reference.limited_frequency_hz,
        share * limits.maximum_hz,
        limits.minimum_hz,
        limits.maximum_hz,
    )
    return _with_speeds(Point(share, frequency_hz=frequency), shaft)


def speeds_at(frequency_hz: float, shaft: Shaft) -> Point:
    """What follows from a frequency, wherever it comes from, without a place in the travel."""
    return _with_speeds(Point(math.nan, frequency_hz=frequency_hz), shaft)


def _signal_point(share: float, shaft: Shaft, chain: Chain) -> Point:
    try:
        signal = chain.signal(share)
        frequency = chain.frequency_hz(signal)
    except RangeError:
        return Point(share)
    current = chain.input.signal == "current"
    point = Point(
        share,
        signal_v=None if current else signal,
        signal_a=signal if current else None,
        count=chain.count(share),
        frequency_hz=frequency,
    )
    return _with_speeds(point, shaft)


def _with_speeds(point: Point, shaft: Shaft) -> Point:
    speed = _or_none(shaft.motor_speed, point.frequency_hz)
    if speed is None or shaft.ratio is None:
        return replace(point, motor_rad_s=speed)
    ratio, surface = shaft.ratio, shaft.to_surface
    turned = _or_none(lambda: drivetrain.shaft_speed_rad_s(speed, ratio))
    moved = None if surface is None or turned is None else _or_none(surface, turned)
    return replace(point, motor_rad_s=speed, shaft_rad_s=turned, surface_m_s=moved)


def _or_none(function: Callable[..., float | None], *given: float | None) -> float | None:
    """What a formula gives; None where it refuses its inputs, which the figures tell."""
    try:
        return function(*given)
    except RangeError:
        return None
