"""Into which rows a line is broken so that its picture fits a page best."""

from collections.abc import Mapping

from core.sheets.picture_block import BODY
from core.sheets.picture_order import Order

Slot = tuple[int, int, int]
"""Band, column and lane."""

_CHANNEL, _GUTTER = 18.0, 16.0
"""What a channel and a gutter take where few ways run in them; enough to choose by [pt]."""
_MOST_COLUMNS = 60


def best_slots(
    order: Order, high: Mapping[int, float], page: tuple[float, float]
) -> dict[int, Slot]:
    """The rows with which the picture comes out largest on a page.

    Parameters
    ----------
    order : Order
        Where the stations stand along the flow and across it.
    high : mapping
        Height of each station with its text, by id [pt].
    page : tuple of float
        Width and height of the page [pt].
    """
    longest = max(order.layers, len(order.apart), 1)

    def scale(columns: int) -> tuple[float, int]:
        slots = slots_of(order, columns)
        lanes: dict[tuple[int, int], float] = {}
        for key, (band, _column, lane) in slots.items():
            lanes[band, lane] = max(lanes.get((band, lane), 0.0), high[key])
        bands = len({band for band, _lane in lanes})
        height = sum(lanes.values()) + bands * _GUTTER
        width = columns * (BODY + _CHANNEL) + _CHANNEL
        return min(1.0, page[0] / width, page[1] / max(height, 1.0)), columns

    best = max(range(1, min(longest, _MOST_COLUMNS) + 1), key=scale)
    return slots_of(order, best)


def slots_of(order: Order, columns: int) -> dict[int, Slot]:
    """Where each station stands with so many columns; those apart follow in rows of their own."""
    lanes: dict[int, set[int]] = {}
    for place in order.places.values():
        lanes.setdefault(place.layer // columns, set()).add(place.lane)
    used = {band: {lane: at for at, lane in enumerate(sorted(of))} for band, of in lanes.items()}
    slots = {
        key: (band, place.layer % columns, used[band][place.lane])
        for key, place in order.places.items()
        for band in (place.layer // columns,)
    }
    begin = len(lanes)
    for at, key in enumerate(order.apart):
        slots[key] = (begin + at // columns, at % columns, 0)
    return slots
