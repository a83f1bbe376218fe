"""What a station can be made to run at: whether a wanted frequency is within its drive's limits."""

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
    """Surface speed nearest to a wanted one that is out of reach.

    Returns
    -------
    float or None
        Speed at the limit [m/s]; None where the wanted one is within reach or not known.
    """
    limits = result.limits
    if wanted_hz is None or limits is None or not is_out_of_reach(wanted_hz, limits):
        return None
    frequency_hz = limits.minimum_hz if wanted_hz < limits.minimum_hz else limits.maximum_hz
    return speeds_at(frequency_hz, result.shaft).surface_m_s
