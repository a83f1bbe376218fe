"""Charts as drawings: shapes and dashes tell the series apart, colour only helps.

Numbers come ready in the unit that is named; a chart reckons nothing but where things stand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.sheets.chart_axes import LABEL, Frame, ticks
from core.sheets.drawing import Drawing, Group, Item, Round, Shape, Stroke, Words
from core.sheets.drawn_text import shortened, text_width, words_box

SIZE = (757.0, 400.0)
_TITLE = 8.5
_TURNED = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0)
_LEFT, _TOP, _RIGHT, _BOTTOM = 52.0, 34.0, 14.0, 58.0


@dataclass(frozen=True, slots=True)
class Speed:
    """One station: planned speed with its uncertainty, and speed as set; None where not known."""

    tag: str
    planned: float | None
    band: float | None
    present: float | None


@dataclass(frozen=True, slots=True)
class Capacity:
    """One station: what it carries at most, and what it gets."""

    tag: str
    carries: float
    gets: float
    bottleneck: bool = False


@dataclass(frozen=True, slots=True)
class Travel:
    """One station: surface speed over the travel of its reference, and two points on it."""

    tag: str
    curve: tuple[tuple[float, float], ...]
    planned: tuple[float, float] | None = None
    present: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Ratio:
    """One pair: differential over the travel of a common knob, its uncertainty, and its band."""

    name: str
    curve: tuple[tuple[float, float], ...]
    half_width: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class ChartWords:
    """The words of the charts, in the language of the reader."""

    planned: str = "planned"
    present: str = "as set now"
    uncertainty: str = "± uncertainty (k = 2)"
    carries: str = "carries"
    gets: str = "gets"
    bottleneck: str = "bottleneck"
    travel: str = "travel of the reference, %"
    common_knob: str = "one knob for both, % of where the plan wants it"
    differential: str = "%"
    sign_changes: str = "below this line the other one is faster"
    band: str = "wanted band"
    up: str = "going up"
    down: str = "going down"
    as_found: str = "as found"
    as_left: str = "as left"
    limit: str = "limit ±"
    held: str = "held by the drive, not counted"
    nothing: str = "Nothing to show yet: {what}"
    no_speed: str = "no speed is known."
    no_capacity: str = "no recipe, or no capacity is known."
    no_reference: str = "no reference is known from end to end."
    no_pair: str = "no pair has two known references."
    no_points: str = "no calibration points."


_PLAIN = ChartWords()


def speed_chart(
    speeds: Sequence[Speed],
    unit: str,
    words: ChartWords = _PLAIN,
    size: tuple[float, float] = SIZE,
) -> Drawing:
    """Surface speed along the line, planned with its uncertainty and as set now."""
    shown = [held for held in speeds if held.planned is not None or held.present is not None]
    if not shown:
        return _empty(words.nothing.format(what=words.no_speed), size)
    tops = [(held.planned or 0.0) + (held.band or 0.0) for held in shown]
    highest = max(*tops, *(held.present or 0.0 for held in shown), 0.0)
    frame = _frame(size, (0.0, float(len(shown))), ticks(0.0, highest))
    items: list[Item] = [*frame.y_axis(unit), *frame.base()]
    for place, held in enumerate(shown):
        across = frame.at_x(place + 0.5)
        items += _tag(frame, across, held.tag, len(shown), place)
        if held.planned is not None:
            items += _bar(frame, across - 3.0, held.planned, held.band or 0.0)
        if held.present is not None:
            items.append(_diamond(across + 5.0, frame.at_y(held.present)))
    items += _legend(frame, [("dot", words.planned), ("bar", words.uncertainty),
                             ("diamond", words.present)])  # fmt: skip
    told = "; ".join(f"{held.tag} {_number(held.planned)}" for held in shown)
    return Drawing(*size, tuple(items), f"{unit}: {told}")


def capacity_chart(
    capacities: Sequence[Capacity],
    unit: str,
    words: ChartWords = _PLAIN,
    size: tuple[float, float] = SIZE,
) -> Drawing:
    """What each station carries at most as set now, against what it gets."""
    if not capacities:
        return _empty(words.nothing.format(what=words.no_capacity), size)
    # Stations far from being full would make the rest unreadable; their bars are cut and say so.
    most = 2.5 * max(held.gets for held in capacities) or 1.0
    highest = min(max(held.carries for held in capacities), most)
    frame = _frame(size, (0.0, float(len(capacities))), ticks(0.0, highest))
    items: list[Item] = [*frame.y_axis(unit), *frame.base()]
    half = min(14.0, 0.32 * frame.width / len(capacities))
    for place, held in enumerate(capacities):
        across = frame.at_x(place + 0.5)
        items += _tag(frame, across, held.tag, len(capacities), place)
        top, base = frame.at_y(held.carries), frame.at_y(0.0)
        corners = ((across - half, base), (across - half, top), (across + half, top),
                   (across + half, base))  # fmt: skip
        items.append(Shape(corners, "series_3" if held.bottleneck else "faint", "ink", 0.6))
        if held.carries > frame.y[-1]:
            items.append(Words((across, top + 9.0), "↑", LABEL, "middle", "quiet"))
        level = frame.at_y(held.gets)
        items.append(
            Stroke(((across - half - 3, level), (across + half + 3, level)), "accent", 2.0)
        )
        if held.bottleneck:
            at = (across, min(top, level) - 4.0)
            items.append(Words(at, words.bottleneck, LABEL, "middle", "ink", True))
    items += _legend(frame, [("box", words.carries), ("line", words.gets)])
    told = "; ".join(f"{h.tag} {_number(h.carries)} / {_number(h.gets)}" for h in capacities)
    return Drawing(*size, tuple(items), f"{unit}: {told}")


def reference_chart(
    travels: Sequence[Travel],
    unit: str,
    words: ChartWords = _PLAIN,
    size: tuple[float, float] = SIZE,
) -> Drawing:
    """Surface speed over the travel of the reference, with the planned and the present point.

    Several stations stand side by side, each in a frame of its own.
    """
    shown = [held for held in travels if held.curve]
    if not shown:
        return _empty(words.nothing.format(what=words.no_reference), size)
    columns = max(1, min(len(shown), int(size[0] // 180)))
    rows = -(-len(shown) // columns)
    wide, high = size[0] / columns, max(size[1] / rows, 150.0)
    items: list[Item] = []
    for place, held in enumerate(shown):
        left, top = place % columns * wide, place // columns * high
        frame = Frame(
            left + 40.0,
            top + 30.0,
            wide - 54.0,
            high - 62.0,
            (0.0, 25.0, 50.0, 75.0, 100.0),
            ticks(0.0, max(speed for _, speed in held.curve), 4),
        )
        items += [*frame.x_axis(words.travel if rows == 1 else "%"), *frame.y_axis(unit)]
        items += frame.base()
        items.append(_title(frame, held.tag))
        points = tuple(frame.at(share, speed) for share, speed in held.curve)
        items.append(Stroke(points, "series_1", 1.4))
        if held.planned is not None:
            items.append(Round(frame.at(*held.planned), 3.2, "accent", "ink", 0.7))
        if held.present is not None:
            items.append(_diamond(*frame.at(*held.present)))
    items += _legend_at(8.0, 10.0, [("dot", words.planned), ("diamond", words.present)])
    told = "; ".join(held.tag for held in shown)
    return Drawing(size[0], rows * high, tuple(items), f"{words.travel}: {told}")


def ratio_chart(
    ratios: Sequence[Ratio], words: ChartWords = _PLAIN, size: tuple[float, float] = SIZE
) -> Drawing:
    """The differential of each pair, with its uncertainty and its band, over a common knob."""
    shown = [held for held in ratios if held.curve]
    if not shown:
        return _empty(words.nothing.format(what=words.no_pair), size)
    high = size[1] / len(shown)
    items: list[Item] = []
    for place, held in enumerate(shown):
        items += _ratio(held, words, place * high, size[0], high)
    told = "; ".join(
        f"{held.name} ± {_number(held.half_width)} {words.differential}" for held in shown
    )
    return Drawing(*size, tuple(items), told)


def _ratio(held: Ratio, words: ChartWords, top: float, wide: float, high: float) -> Iterator[Item]:
    values = [value for _, value in held.curve]
    ends = [v for v in (held.low, held.high) if v is not None]
    lows = [min(values) - held.half_width, *ends, 0.0]
    highs = [max(values) + held.half_width, *ends, 0.0]
    frame = Frame(
        _LEFT, top + 26.0, wide - _LEFT - _RIGHT, high - 56.0,
        _TURNED, ticks(min(lows), max(highs), 5),
    )  # fmt: skip
    yield from frame.y_axis(words.differential)
    yield from frame.x_axis(words.common_knob)
    if held.low is not None and held.high is not None:
        for level in (held.low, held.high):
            line = ((frame.left, frame.at_y(level)), (frame.right, frame.at_y(level)))
            yield Stroke(line, "good", 1.2, (5.0, 2.5))
        at = (frame.right - 2.0, frame.at_y(held.high) - 3.0)
        yield Words(at, words.band, LABEL, "end", "quiet")
    for sign in (-1.0, 1.0):
        edge = tuple(frame.at(x, y + sign * held.half_width) for x, y in held.curve)
        yield Stroke(edge, "series_1", 0.7, (1.5, 2.0))
    yield Stroke(tuple(frame.at(x, y) for x, y in held.curve), "series_1", 1.6)
    yield from frame.base()
    if frame.y[0] < 0.0:
        at = (frame.left + 4.0, frame.at_y(0.0) + LABEL + 2.0)
        yield Words(at, words.sign_changes, LABEL, "start", "quiet")
    yield _title(frame, held.name)


# --- parts of charts ------------------------------------------------------------------------


def _frame(size: tuple[float, float], x: tuple[float, float], y: tuple[float, ...]) -> Frame:
    return Frame(_LEFT, _TOP, size[0] - _LEFT - _RIGHT, size[1] - _TOP - _BOTTOM, x, y)


def _empty(text: str, size: tuple[float, float]) -> Drawing:
    middle = (size[0] / 2.0, 24.0)
    return Drawing(size[0], 40.0, (Words(middle, text, 9.0, "middle", "quiet"),), text)


def _tag(frame: Frame, across: float, tag: str, count: int, place: int) -> Iterator[Item]:
    """The tag below a station; turned where they stand close, thinned where closer still."""
    room = frame.width / count
    every = max(1, round(9.0 / room)) if room < 9.0 else 1
    if place % every:
        return
    at = (across, frame.bottom + LABEL + 4.0)
    if room > text_width(tag, LABEL) + 4.0:
        yield Words(at, tag, LABEL, "middle", "ink")
    else:
        high = _BOTTOM - 8.0
        at = (across + LABEL * 0.35, frame.bottom + 5.0)
        words = Words(at, shortened(tag, LABEL, high), LABEL, "end", "ink", turn=-90)
        yield _told_whole(words, tag, (across - LABEL / 2, frame.bottom + 5.0, LABEL, high))


def _title(frame: Frame, name: str) -> Item:
    """What a frame is about, above its right end; clear of the unit above its left one."""
    text = shortened(name, _TITLE, frame.width - 4.0, strong=True)
    words = Words((frame.right, frame.top - 8.0), text, _TITLE, "end", "ink", True)
    left, top, right, bottom = words_box(words)
    return _told_whole(words, name, (left, top, right - left, bottom - top))


def _told_whole(words: Words, text: str, box: tuple[float, float, float, float]) -> Item:
    """Words; where they were shortened, with the whole text for who points at them."""
    return words if words.text == text else Group((words,), tip=text, box=box)


def _bar(frame: Frame, across: float, value: float, band: float) -> Iterator[Item]:
    low, high = frame.at_y(value - band), frame.at_y(value + band)
    yield Stroke(((across, frame.at_y(0.0)), (across, frame.at_y(value))), "series_1", 1.0)
    if band:
        yield Stroke(((across, low), (across, high)), "ink", 1.2)
        for level in (low, high):
            yield Stroke(((across - 3.0, level), (across + 3.0, level)), "ink", 1.2)
    yield Round((across, frame.at_y(value)), 2.6, "series_1", "ink", 0.5)


def _diamond(across: float, level: float) -> Shape:
    corners = ((across, level - 3.6), (across + 3.6, level), (across, level + 3.6),
               (across - 3.6, level))  # fmt: skip
    return Shape(corners, "series_2", "ink", 0.5)


def _legend(frame: Frame, entries: Sequence[tuple[str, str]]) -> Iterator[Item]:
    return _legend_at(frame.left + 6.0, 12.0, entries)


def _legend_at(left: float, level: float, entries: Sequence[tuple[str, str]]) -> Iterator[Item]:
    for mark, text in entries:
        yield _mark(mark, left + 5.0, level - 3.0)
        yield Words((left + 13.0, level), text, LABEL, "start", "ink")
        left += 25.0 + text_width(text, LABEL)


def _mark(mark: str, across: float, level: float) -> Item:
    if mark == "dot":
        return Round((across, level), 2.6, "series_1", "ink", 0.5)
    if mark == "diamond":
        return _diamond(across, level)
    if mark == "box":
        half = 3.5
        corners = ((across - half, level - half), (across + half, level - half),
                   (across + half, level + half), (across - half, level + half))  # fmt: skip
        return Shape(corners, "faint", "ink", 0.6)
    if mark == "bar":
        return Stroke(((across, level - 4.0), (across, level + 4.0)), "ink", 1.2)
    return Stroke(((across - 4.0, level), (across + 4.0, level)), "accent", 2.0)


def _number(value: float | None) -> str:
    return "–" if value is None else f"{value:.4g}"
