"""What a station can be made to run at: within its drive's limits, and by its reference."""

from core.line.chain import Limits
from core.line.points import speeds_at
from core.line.station import StationResult

_WITHIN_HZ = 0.005
"""Half of the last digit that a drive shows."""


def is_out_of_reach(frequency_hz: float, limits: Limits) -> bool:
    """Whether a frequency lies outside of the limits that the drive keeps to."""
    below = frequency_hz < limits.minimum_hz - _WITHIN_HZ
    return below or frequency_hz > limits.maximum_hz + _WITHIN_HZ


def nearest_m_s(result: StationResult, wanted_hz: float | None) -> float | None:
    """Surface speed nearest to a wanted one that reference and drive together cannot give.

    Returns
    -------
    float or None
        Speed at the nearest end [m/s]; None where the wanted one is within reach or not known.
    """
    ends = _ends_hz(result)
    if wanted_hz is None or ends is None:
        return None
    nearest = min(max(wanted_hz, ends[0]), ends[1])
    if abs(nearest - wanted_hz) <= _WITHIN_HZ:
        return None
    return speeds_at(nearest, result.shaft).surface_m_s


def _ends_hz(result: StationResult) -> tuple[float, float] | None:
    """What the reference can ask for, within the limits of the drive."""
    asked = [held.frequency_hz for held in result.points if held.frequency_hz is not None]
    if asked:
        return min(asked), max(asked)
    limits = result.limits
    return None if limits is None else (limits.minimum_hz, limits.maximum_hz)
