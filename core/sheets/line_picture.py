"""The picture of a line: each station in the order of the flow, what it does and ought to do."""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import pairwise
from types import MappingProxyType

from core.model.choices import STATION_KINDS
from core.sheets.drawing import Drawing, Group, Ink, Item, Point, Shape, Stroke, Words
from core.sheets.drawn_text import text_width
from core.sheets.picture_block import LABEL_SIZE, draw_block, level_words
from core.sheets.picture_data import (
    FlowKind,
    PictureData,
    PictureFlow,
    PicturePair,
    PictureStation,
    PictureWords,
    Turn,
)
from core.sheets.picture_layout import LABEL_LEADING, Cell, Layout, Way, lay_out
from core.sheets.picture_symbols import WIDE, arrow_head, symbol, turn_arrow

__all__ = [
    "PictureData",
    "PictureFlow",
    "PicturePair",
    "PictureStation",
    "PictureWords",
    "line_picture",
]

PAGE = (757.0, 455.0)
"""What a landscape A4 sheet has for a picture under its heading [pt]."""

_DASHES: Mapping[FlowKind, tuple[float, ...]] = MappingProxyType(
    {"forward": (), "return": (4.0, 2.4), "cull": (7.0, 1.8, 1.2, 1.8)}
)
_INKS: Mapping[FlowKind, Ink] = MappingProxyType(
    {"forward": "ink", "return": "quiet", "cull": "ink"}
)
_LEGEND, _LEGEND_HIGH, _SAMPLE = 6.0, 12.0, 24.0
_LONG = 60.0


def line_picture(data: PictureData, page: tuple[float, float] = PAGE) -> Drawing:
    """Draw a line.

    Parameters
    ----------
    data : PictureData
        Stations, flows and pairs, their figures as words.
    page : tuple of float
        Width and height of where it will be shown [pt]; the number of stations in a row is chosen
        so that the picture comes out large there. It may be larger than that, for its painter to
        scale down.

    Returns
    -------
    Drawing
        From left to right in rows. Each station is a `Group` with its id; `Drawing.told` says the
        same in words.

    Examples
    --------
    >>> stations = (PictureStation(1, "A1", kind="pump"), PictureStation(2, "A2", kind="belt"))
    >>> line_picture(PictureData(stations, (PictureFlow(1, 2),))).told.splitlines()[1]
    'A1, Pump, → to A2.'
    """
    if not data.stations:
        return _empty(data.words)
    layout = lay_out(data, page)
    told = _told(data)
    legend, width, height = _legend(data, layout.width, layout.height)
    items: list[Item] = []
    for way in layout.ways:
        items += _way(way)
    items += _bars(layout)
    if layout.apart_at:
        items.append(Words(layout.apart_at, data.words.apart, 7.6, strong=True, ink="quiet"))
    for cell in _in_order(layout):
        items.append(_station(cell, told[cell.station.station_id]))
    lines = [data.words.told.format(count=len(data.stations))]
    lines += [told[cell.station.station_id] for cell in _in_order(layout)]
    return Drawing(width, height, (*items, *legend), "\n".join(lines))


def _empty(words: PictureWords) -> Drawing:
    width = text_width(words.empty, 8.0) + 8.0
    return Drawing(width, 20.0, (Words((4.0, 13.0), words.empty, 8.0, ink="quiet"),), words.empty)


def _in_order(layout: Layout) -> list[Cell]:
    """The stations as they are read: by row, by column, from the top down."""
    return sorted(layout.cells.values(), key=lambda cell: (cell.band, cell.column, cell.lane))


def _station(cell: Cell, tip: str) -> Group:
    station = cell.station
    items = (
        *symbol(station.kind, station.turn, cell.x, cell.middle),
        *draw_block(cell.lines, cell.x, cell.text_top),
    )
    return Group(items, station.station_id, tip, cell.box)


# --- ways -----------------------------------------------------------------------------------


def _way(way: Way) -> Iterator[Item]:
    ink, kind = _INKS[way.flow.kind], way.flow.kind
    tip = way.points[-1]
    short = (*way.points[:-1], (tip[0] - 2.0, tip[1]))
    yield Stroke(short, ink, 0.9, _DASHES[kind])
    yield arrow_head(tip, ink=ink)
    yield from _heads_on_the_way(way.points, ink)
    left, base = way.points[0][0] + 3.0, way.points[0][1] - 1.9
    for number, line in enumerate(reversed(way.label)):
        yield Words((left, base - number * LABEL_LEADING), line, LABEL_SIZE, ink="quiet")


def _heads_on_the_way(points: tuple[Point, ...], ink: Ink) -> Iterator[Item]:
    """Where a way goes far across the paper, a head in the middle says which way."""
    for (x1, y1), (x2, y2) in pairwise(points[1:-1]):
        if y1 == y2 and abs(x2 - x1) > _LONG:
            side = 1.0 if x2 > x1 else -1.0
            x = (x1 + x2) / 2
            corners = ((x + side * 2, y1), (x - side * 2, y1 - 1.9), (x - side * 2, y1 + 1.9))
            yield Shape(corners, ink, None)


def _bars(layout: Layout) -> Iterator[Item]:
    """Bars at the sides of symbols that carry ways which meet them above or below the middle."""
    outs: dict[int, list[float]] = {}
    ins: dict[int, list[float]] = {}
    for way in layout.ways:
        outs.setdefault(way.flow.from_id, []).append(way.out)
        ins.setdefault(way.flow.to_id, []).append(way.into)
    for heights, shift in ((outs, WIDE), (ins, 0.0)):
        for key, offsets in heights.items():
            cell = layout.cells[key]
            low, high = min(0.0, *offsets), max(0.0, *offsets)
            if low < high:
                x = cell.x + shift
                yield Stroke(((x, cell.middle + low), (x, cell.middle + high)), width=0.9)


# --- words ----------------------------------------------------------------------------------


def _legend(data: PictureData, width: float, top: float) -> tuple[list[Item], float, float]:
    """What the lines and arrows mean, with the width and height of the picture that holds it."""
    words = data.words
    names = {"forward": words.flow, "return": words.flow_return, "cull": words.flow_cull}
    turns: dict[Turn, str] = {"forward": words.forward, "reverse": words.reverse}
    entries: list[tuple[str, Callable[[float, float], tuple[Item, ...]]]] = [
        (names[kind], partial(_flow_sample, kind)) for kind in data.kinds_of_flow()
    ]
    entries += [
        (f"{words.turns} {word}", partial(_turn_sample, turn))
        for turn, word in turns.items()
        if any(station.turn == turn for station in data.stations)
    ]
    items: list[Item] = []
    x, y = 2.0, top + _LEGEND_HIGH
    for name, sample in entries:
        wide = _SAMPLE + 4.0 + text_width(name, _LEGEND) + 14.0
        if x > 2.0 and x + wide > width:
            x, y = 2.0, y + _LEGEND_HIGH
        items += sample(x, y - 2.0)
        items.append(Words((x + _SAMPLE + 4.0, y), name, _LEGEND, ink="quiet"))
        x += wide
        width = max(width, x)
    return items, width, y + 4.0


def _flow_sample(kind: FlowKind, x: float, y: float) -> tuple[Item, ...]:
    return (
        Stroke(((x, y), (x + _SAMPLE - 2.0, y)), _INKS[kind], 0.9, _DASHES[kind]),
        arrow_head((x + _SAMPLE, y), ink=_INKS[kind]),
    )


def _turn_sample(turn: Turn, x: float, y: float) -> tuple[Item, ...]:
    return turn_arrow(turn, (x + _SAMPLE / 2, y + 3.0))


def _told(data: PictureData) -> dict[int, str]:
    """What the picture shows of each station, as one sentence."""
    return {
        station.station_id: ", ".join(part for part in _facts(station, data) if part) + "."
        for station in data.stations
    }


def _facts(station: PictureStation, data: PictureData) -> Iterator[str]:
    words = data.words
    yield " ".join(part for part in (station.tag, station.name) if part)
    yield station.kind_words or STATION_KINDS.get(station.kind, STATION_KINDS["other"])
    yield words.reverse if station.turn == "reverse" else ""
    yield f"{words.planned} {station.planned}" if station.planned else ""
    yield f"{words.present} {station.present}" if station.present else ""
    yield from (station.hertz, station.reference, station.use)
    yield words.bottleneck if station.bottleneck else ""
    yield level_words(station, words)
    key = station.station_id
    for pair in data.pairs:
        if key in (pair.first_id, pair.second_id):
            yield data.pair_words(pair, key)
    for flow in data.flows:
        if key == flow.from_id:
            yield data.flow_words(flow, key)
    yield from station.elsewhere
