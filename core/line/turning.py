"""The knob of one station: where its reference stands, and the line as if it stood elsewhere.

Nothing here is stored; `values_at` gives the fields that put the knob there for good.
"""

import dataclasses

from core.errors import RangeError
from core.line.rules import NOW_SHARE
from core.line.station import StationResult
from core.model import Line

_DIGITS = {"now_v": 3, "now_a": 5, "now_hz": 2}
"""Decimals that a turned knob is stored with: 1 mV, 0.01 mA, 0.01 Hz."""


def share_now(result: StationResult) -> float | None:
    """Where the reference of a station stands, as a share of its travel.

    Parameters
    ----------
    result : StationResult
        The station.

    Returns
    -------
    float or None
        Share from 0 to 1; for a frequency set in the drive, its share of the maximum frequency.
        None where nothing can be turned.
    """
    if result.chain is not None:
        return result.value(NOW_SHARE.key)
    limits, hertz = result.limits, result.station.reference.now_hz
    if limits is None or hertz is None or not limits.maximum_hz:
        return None
    return min(1.0, hertz / limits.maximum_hz)


def values_at(result: StationResult, share: float) -> dict[str, float]:
    """The fields of the speed reference that put the knob at a share of its travel.

    Parameters
    ----------
    result : StationResult
        The station; `share_now` tells whether its knob can be turned.
    share : float
        Share of the travel, 0 to 1.

    Returns
    -------
    dict
        One field by its name, in its SI unit.

    Raises
    ------
    RangeError
        No signal gives that place, or nothing can be turned.
    """
    chain, limits = result.chain, result.limits
    if chain is not None:
        name = "now_a" if chain.input.signal == "current" else "now_v"
        ends = chain.signal(0.0), chain.signal(1.0)
        # Rounding may not carry it past the ends of its travel.
        value = min(max(round(chain.signal(share), _DIGITS[name]), min(ends)), max(ends))
    elif limits is not None:
        name, value = "now_hz", round(share * limits.maximum_hz, _DIGITS["now_hz"])
    else:
        raise RangeError(
            f"The knob of {result.tag} was not turned.",
            "Its reference is not known from end to end.",
            "Enter its source, its wiring and the drive's settings.",
        )
    return {name: value}


def turned(line: Line, result: StationResult, share: float) -> Line:
    """A line as it would be with the knob of one station elsewhere; the file is not touched.

    Parameters
    ----------
    line : Line
        The line that holds the station.
    result : StationResult
        The station.
    share : float
        Share of the knob's travel, 0 to 1.

    Raises
    ------
    RangeError
        No signal gives that place, or nothing can be turned.
    """
    station = result.station
    reference = dataclasses.replace(  # type: ignore[type-var]
        station.reference, **values_at(result, share)
    )
    moved = dataclasses.replace(station, reference=reference)  # type: ignore[type-var]
    stations = tuple(moved if each.id == station.id else each for each in line.stations)
    whole: Line = dataclasses.replace(line, stations=stations)  # type: ignore[type-var]
    return whole
