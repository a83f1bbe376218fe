"""Where everything on the picture of a line stands: rows of stations, and the ways between them.

The flow goes from left to right in rows, as text is read. Stations stand in columns; between the
columns run channels for what goes up and down, between the rows run gutters for what goes across.
Each way has a track of its own in every channel and gutter, and texts stand in neither, so nothing
lies on anything else whatever the flow is like.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from core.sheets.drawing import Point
from core.sheets.drawn_text import wrapped
from core.sheets.picture_block import BODY, LABEL_SIZE, LEADING, PairRemark, TextLine, block_of
from core.sheets.picture_data import PictureData, PictureFlow, PictureStation
from core.sheets.picture_order import Order, Place, order_of
from core.sheets.picture_rows import best_slots
from core.sheets.picture_symbols import HIGH, TURN_ROOM, WIDE
from core.sheets.picture_tracks import Span, tracks_of

OUT_PITCH = 8.0
"""From one way out of a station to the next; in it the words of the flow fit [pt]."""
LABEL_LEADING = 7.0

_LABEL_ROOM = BODY - WIDE - 5.0
_ABOVE = TURN_ROOM + HIGH / 2
_TEXT_GAP = 2.0
# Ways in lie beside the heights of all ways out, so that no two meet that do not belong together.
_IN_FROM_ABOVE, _IN_FROM_BELOW = (-5.0, -10.0), (4.0, 12.0)
_BEFORE_TRACKS, _AFTER_TRACKS, _TRACK = 4.0, 8.0, 4.0
_GUTTER_EDGE, _LANE_GAP, _TITLE_ROOM = 5.0, 7.0, 13.0
_MARGIN = 2.0
_SPINE = -1


@dataclass(slots=True)
class Cell:
    """One station on the picture; ``middle`` is the height of its symbol [pt]."""

    station: PictureStation
    band: int
    column: int
    lane: int
    lines: tuple[TextLine, ...] = ()
    below: float = HIGH / 2
    x: float = 0.0
    middle: float = 0.0

    @property
    def text_top(self) -> float:
        """Where its text begins [pt]."""
        return self.middle + self.below + _TEXT_GAP

    @property
    def high(self) -> float:
        """Its whole height [pt]."""
        return _ABOVE + self.below + _TEXT_GAP + len(self.lines) * LEADING

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, width and height [pt]."""
        return self.x, self.middle - _ABOVE, BODY, self.high


@dataclass(slots=True)
class Way:
    """One flow on the picture, and the heights at which it leaves and enters, from the middle."""

    flow: PictureFlow
    label: tuple[str, ...]
    out: float = 0.0
    into: float = 0.0
    points: tuple[Point, ...] = ()


@dataclass(slots=True)
class Layout:
    """The whole picture."""

    cells: dict[int, Cell]
    ways: list[Way]
    width: float = 0.0
    height: float = 0.0
    apart_at: Point | None = None


def lay_out(data: PictureData, page: tuple[float, float]) -> Layout:
    """Place stations and flows so that the picture comes out large on a page of this size [pt]."""
    order = order_of(data)
    remarks = _remarks(data, order)
    lines = {
        station.station_id: block_of(station, remarks.get(station.station_id, ()), data.words)
        for station in data.stations
    }
    high = {
        key: _ABOVE + HIGH / 2 + _TEXT_GAP + len(of) * LEADING + _LANE_GAP
        for key, of in lines.items()
    }
    slots = best_slots(order, high, page)
    cells = {
        station.station_id: Cell(
            station, *slots[station.station_id], lines=lines[station.station_id]
        )
        for station in data.stations
    }
    layout = Layout(
        cells, [Way(flow, wrapped(flow.words, LABEL_SIZE, _LABEL_ROOM)) for flow in data.flows]
    )
    _set_ports(layout)
    _place(layout, min((cells[key].band for key in order.apart), default=None))
    return layout


def _remarks(data: PictureData, order: Order) -> Mapping[int, list[PairRemark]]:
    """What is said of pairs, at which station: between the two, or at the later one."""
    rank = {station.station_id: at for at, station in enumerate(data.stations)}
    nowhere = Place(order.layers, 0)
    said: dict[int, list[PairRemark]] = {}
    for pair in data.pairs:
        ends = sorted(
            (pair.first_id, pair.second_id),
            key=lambda key: (
                order.places.get(key, nowhere).layer,
                order.places.get(key, nowhere).lane,
                rank[key],
            ),
        )
        upper, lower = (order.places.get(key) for key in ends)
        beside = bool(upper and lower) and _next_below(order, upper) == lower
        at, text = ends[0], data.pair_words(pair)
        if not beside:
            at, text = ends[1], data.pair_words(pair, ends[1])
        said.setdefault(at, []).append(PairRemark(text, pair.holds))
    return said


def _next_below(order: Order, place: Place | None) -> Place | None:
    """The place of the next station below in the same layer."""
    if place is None:
        return None
    lower = [
        other
        for other in order.places.values()
        if other.layer == place.layer and other.lane > place.lane
    ]
    return min(lower, key=lambda other: other.lane, default=None)


# --- ways out of and into the stations ------------------------------------------------------


def _set_ports(layout: Layout) -> None:
    """Give each way its height at both ends."""
    cells = layout.cells
    outs: dict[int, list[Way]] = {}
    for way in layout.ways:
        outs.setdefault(way.flow.from_id, []).append(way)
    for key, ways in outs.items():
        slot, cell = 0, cells[key]
        for at, way in enumerate(sorted(ways, key=lambda way: _out_rank(cells, way))):
            lines = max(1, len(way.label))
            slot = slot + lines if at else max(0, lines - 2)
            way.out = slot * OUT_PITCH
        cell.below = max(HIGH / 2, slot * OUT_PITCH + 2.0)
    ins: dict[tuple[int, bool], int] = {}
    for way in layout.ways:
        if _straight(cells, way):
            continue
        key, above = way.flow.to_id, _comes_from_above(cells, way)
        heights = _IN_FROM_ABOVE if above else _IN_FROM_BELOW
        taken = ins[key, above] = ins.get((key, above), -1) + 1
        way.into = heights[min(taken, len(heights) - 1)]


def _out_rank(cells: Mapping[int, Cell], way: Way) -> tuple[bool, int, int, int, int]:
    """The way straight on first, returns and culls last, the others by where they lead."""
    start, end = cells[way.flow.from_id], cells[way.flow.to_id]
    ahead = _direct(start, end) and start.lane == end.lane and way.flow.kind == "forward"
    kind = ("forward", "return", "cull").index(way.flow.kind)
    return not ahead, kind, end.band, end.column, end.lane


def _direct(start: Cell, end: Cell) -> bool:
    """Whether only one channel lies between two stations."""
    return start.band == end.band and end.column == start.column + 1


def _straight(cells: Mapping[int, Cell], way: Way) -> bool:
    start, end = cells[way.flow.from_id], cells[way.flow.to_id]
    return _direct(start, end) and start.lane == end.lane and way.out == 0.0


def _comes_from_above(cells: Mapping[int, Cell], way: Way) -> bool:
    start, end = cells[way.flow.from_id], cells[way.flow.to_id]
    if start.band == end.band:
        return _direct(start, end) and start.lane < end.lane
    return start.band < end.band


# --- tracks and places ----------------------------------------------------------------------


def _place(layout: Layout, apart_band: int | None) -> None:
    """Give everything its place on the paper."""
    spans = {number: _spans(layout.cells, way) for number, way in enumerate(layout.ways)}
    flat = [span for of in spans.values() for span in of]
    track, count = tracks_of(flat)
    xs, layout.width = _channels(layout, count)
    gutters = _rows(layout, count, apart_band)

    def along(span: Span) -> float:
        edge = xs[span.lane] if span.kind == "channel" else gutters[span.lane]
        return edge + track[span] * _TRACK

    for number, way in enumerate(layout.ways):
        start, end = layout.cells[way.flow.from_id], layout.cells[way.flow.to_id]
        here = (start.x + WIDE, start.middle + way.out)
        there = (end.x, end.middle + way.into)
        points, now = [here], here
        for span in spans[number]:
            at = along(span)
            now = (at, now[1]) if span.kind == "channel" else (now[0], at)
            points.append(now)
        if spans[number]:
            points.append((now[0], there[1]))
        way.points = (*points, there)


def _spans(cells: Mapping[int, Cell], way: Way) -> tuple[Span, ...]:
    """The channels and gutters that a way takes, in its order."""
    start, end = cells[way.flow.from_id], cells[way.flow.to_id]
    if _straight(cells, way):
        return ()
    leaves, enters = _level(start, way.out), _level(end, way.into)
    out, into = start.column + 1, end.column
    mark = id(way)
    if _direct(start, end):
        return (Span("channel", out, leaves, enters, mark),)
    first = start.band if end.band < start.band else start.band + 1
    last = end.band + 1 if end.band < start.band else end.band
    if end.band == start.band:
        last = first
    if first == last:
        return (
            Span("channel", out, leaves, _gutter_level(first), mark),
            Span("gutter", first, out, into, mark),
            Span("channel", into, _gutter_level(first), enters, mark, 1),
        )
    return (
        Span("channel", out, leaves, _gutter_level(first), mark),
        Span("gutter", first, out, _SPINE, mark),
        Span("channel", _SPINE, _gutter_level(first), _gutter_level(last), mark),
        Span("gutter", last, _SPINE, into, mark),
        Span("channel", into, _gutter_level(last), enters, mark, 1),
    )


def _gutter_level(gutter: int) -> float:
    """A height that comes before that of everything in the band below."""
    return 2.0 * gutter


def _level(cell: Cell, offset: float) -> float:
    """A height in the order from the top of the picture down; only the order counts."""
    return 2.0 * cell.band + 1.0 + (cell.lane * 1e3 + 500.0 + offset) / 1e6


def _channels(
    layout: Layout, count: Mapping[tuple[str, int], int]
) -> tuple[dict[int, float], float]:
    """The first track of each channel, and the whole width; the columns get their places."""
    columns = max((cell.column for cell in layout.cells.values()), default=0) + 1
    at, xs, lefts = _MARGIN, {}, {}
    for channel in range(_SPINE, columns + 1):
        tracks = count.get(("channel", channel), 0)
        xs[channel] = at + _BEFORE_TRACKS
        edge = _AFTER_TRACKS if 0 <= channel < columns and (tracks or channel) else 0.0
        if tracks or edge:
            at += _BEFORE_TRACKS + max(0, tracks - 1) * _TRACK + edge
        if 0 <= channel < columns:
            lefts[channel] = at
            at += BODY
    for cell in layout.cells.values():
        cell.x = lefts[cell.column]
    return xs, at + _MARGIN


def _rows(
    layout: Layout, count: Mapping[tuple[str, int], int], apart_band: int | None
) -> dict[int, float]:
    """The first track of each gutter; the stations get their heights."""
    highs: dict[tuple[int, int], float] = {}
    for cell in layout.cells.values():
        key = cell.band, cell.lane
        highs[key] = max(highs.get(key, 0.0), cell.high)
    bands = max((band for band, _lane in highs), default=-1) + 1
    at, gutters, middles = _MARGIN, {}, {}
    for band in range(bands + 1):
        tracks = count.get(("gutter", band), 0)
        gutters[band] = at + _GUTTER_EDGE
        at += 2 * _GUTTER_EDGE + max(0, tracks - 1) * _TRACK if tracks else _MARGIN
        if band == apart_band:
            layout.apart_at = (_MARGIN, at + 8.0)
            at += _TITLE_ROOM
        for lane in range(sum(1 for of, _lane in highs if of == band)):
            middles[band, lane] = at + _ABOVE
            at += highs[band, lane] + _LANE_GAP
    for cell in layout.cells.values():
        cell.middle = middles[cell.band, cell.lane]
    layout.height = at
    return gutters
