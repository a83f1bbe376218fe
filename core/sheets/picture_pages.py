"""The picture of a long line in several, each large enough to be read on paper."""

from dataclasses import replace
from itertools import pairwise

from core.sheets.drawing import Drawing
from core.sheets.line_picture import PAGE, line_picture
from core.sheets.picture_data import PictureData, PictureStation
from core.sheets.picture_order import order_of

LEAST_SCALE = 0.8
"""At this scale the smallest text is 4.6 pt high, and most of it 5.1 pt."""


def line_pictures(
    data: PictureData, page: tuple[float, float] = PAGE, least_scale: float = LEAST_SCALE
) -> tuple[Drawing, ...]:
    """Draw a line in as few pictures as let each be read on a page of this size.

    Parameters
    ----------
    data : PictureData
        As for `line_picture`.
    page : tuple of float
        Width and height of the page that is left for a picture [pt].
    least_scale : float
        No picture needs to be scaled down further than this, if more pictures can help.

    Returns
    -------
    tuple of Drawing
        In the order of the flow. Where a flow or a pair leads to another picture, both of its
        stations say so in words.

    Examples
    --------
    >>> from core.sheets.picture_data import PictureFlow
    >>> stations = tuple(PictureStation(number, f"A{number}") for number in range(1, 41))
    >>> flows = tuple(PictureFlow(number, number + 1) for number in range(1, 40))
    >>> len(line_pictures(PictureData(stations, flows), page=(500.0, 250.0)))
    2
    """
    steps = _steps(data)
    drawings: tuple[Drawing, ...] = (line_picture(data, page),)
    for count in range(2, len(steps) + 1):
        if all(_scale(drawing, page) >= least_scale for drawing in drawings):
            break
        cuts = [round(part * len(steps) / count) for part in range(count + 1)]
        parts = [
            {key for step in steps[begin:end] for key in step} for begin, end in pairwise(cuts)
        ]
        drawings = tuple(line_picture(_part(data, part), page) for part in parts)
    return drawings


def _scale(drawing: Drawing, page: tuple[float, float]) -> float:
    return min(page[0] / drawing.width, page[1] / drawing.height)


def _steps(data: PictureData) -> list[list[int]]:
    """Stations that stay together, in the order of the flow; those apart come last, one by one."""
    order = order_of(data)
    steps: list[list[int]] = [[] for _ in range(order.layers)]
    for key, place in order.places.items():
        steps[place.layer].append(key)
    return steps + [[key] for key in order.apart]


def _part(data: PictureData, keys: set[int]) -> PictureData:
    """Some of the stations, with what leads to others told in words."""
    flows = tuple(flow for flow in data.flows if {flow.from_id, flow.to_id} <= keys)
    pairs = tuple(pair for pair in data.pairs if {pair.first_id, pair.second_id} <= keys)
    stations = tuple(
        _told_elsewhere(station, data, keys)
        for station in data.stations
        if station.station_id in keys
    )
    return PictureData(stations, flows, pairs, data.words)


def _told_elsewhere(station: PictureStation, data: PictureData, keys: set[int]) -> PictureStation:
    key, told = station.station_id, list(station.elsewhere)
    for flow in data.flows:
        ends = (flow.from_id, flow.to_id)
        if key in ends and not set(ends) <= keys:
            told.append(data.flow_words(flow, key))
    for pair in data.pairs:
        ends = (pair.first_id, pair.second_id)
        if key in ends and not set(ends) <= keys:
            told.append(data.pair_words(pair, key))
    return replace(station, elsewhere=tuple(told))
