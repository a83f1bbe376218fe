"""The symbols of the line picture: one for each kind of station, and the marks of findings.

Every symbol fills a box of `WIDE` by `HIGH` points, the flow enters in the middle of its left side
and leaves in the middle of its right side. Pump and fan are a circle with lines that narrow in the
direction of delivery, as ISO 14617 and ISO 10628-2 show them; a machine of no known kind is the
circle with M of IEC 60617. (All three from memory.) The others are our own plain drawings.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from core.sheets.drawing import Ink, Item, Point, Round, Shape, Stroke, Words
from core.sheets.picture_data import Severity, Turn

WIDE, HIGH = 46.0, 24.0
TURN_ROOM = 9.0
"""Height that the arrow for the direction of turning takes above a symbol [pt]."""

_LINE = 1.0
_FINE = 0.6


def symbol(kind: str, turn: Turn, left: float, middle: float) -> tuple[Item, ...]:
    """The symbol of a station with the arrow for its direction of turning.

    Parameters
    ----------
    kind : str
        Key of `core.model.choices.STATION_KINDS`; another is drawn as "other".
    turn : str
        ``forward``: clockwise where the fruit goes from left to right, as a belt that carries it
        turns its drums; ``reverse``: against that.
    left, middle : float
        Left side of the box, and the height at which the flow enters it [pt].
    """
    draw = _SYMBOLS.get(kind, _other)
    return (*draw(left, middle), *turn_arrow(turn, (left + WIDE / 2, middle - HIGH / 2)))


def turn_arrow(turn: Turn, foot: Point) -> tuple[Item, ...]:
    """A bent arrow over a point: to the right for forward, to the left for reverse."""
    x, y = foot
    side = 1.0 if turn == "forward" else -1.0
    centre, radius = (x, y + 6.5), 12.0
    end = _on(centre, radius, 270.0 + side * 38.0)
    tip = (end[0] + side * 3.2, end[1] + 2.6)
    head = (tip, (end[0] - side * 1.8, end[1] + 1.4), (end[0] + side * 1.6, end[1] - 2.4))
    return (
        Round(centre, radius, None, "accent", _LINE, 232.0, 76.0),
        Shape(head, "accent", None),
    )


def level_mark(level: Severity, left: float, middle: float, side: float) -> tuple[Item, ...]:
    """The level of a finding as the shape that the window shows for it.

    A blocker is a barred square, a fault a triangle with an exclamation mark, advice a ring with
    an i.
    """
    if not level:
        return ()
    top = middle - side / 2
    at = {
        (x, y): (left + x * side, top + y * side)
        for x, y in ((0.5, 0.25), (0.5, 0.4), (0.5, 0.7), (0.5, 0.87), (0.5, 0.45), (0.5, 0.8))
    }
    bar = side * 0.13
    if level == "advice":
        return (
            Round((left + side / 2, middle), side * 0.47, None, "advice", bar * 0.8),
            Stroke((at[0.5, 0.45], at[0.5, 0.8]), "advice", bar),
            Round(at[0.5, 0.25], bar * 0.6, "advice", None),
        )
    if level == "fault":
        triangle = ((left + side / 2, top), (left + side, top + side), (left, top + side))
        return (
            Shape(triangle, "fault", "fault", bar * 0.5),
            Stroke((at[0.5, 0.4], at[0.5, 0.7]), "paper", bar),
            Round(at[0.5, 0.87], bar * 0.6, "paper", None),
        )
    square = ((left, top), (left + side, top), (left + side, top + side), (left, top + side))
    bar_ends = ((left + 0.2 * side, middle), (left + 0.8 * side, middle))
    return (
        Shape(square, "blocker", "blocker", bar * 0.5),
        Stroke(bar_ends, "paper", bar * 1.2),
    )


def arrow_head(tip: Point, size: float = 3.6, ink: Ink = "ink") -> Shape:
    """The head of an arrow that points to the right."""
    x, y = tip
    return Shape(((x, y), (x - size, y - size * 0.5), (x - size, y + size * 0.5)), ink, None)


# --- the kinds ------------------------------------------------------------------------------


def _pump(left: float, middle: float) -> tuple[Item, ...]:
    return (*_machine(left, middle), _delivery(left, middle))


def _fan(left: float, middle: float) -> tuple[Item, ...]:
    """As a pump, with the two lines alone, and the blades of the wheel."""
    cx, radius = left + WIDE / 2, HIGH / 2
    lines = [
        Stroke((_on((cx, middle), radius, wide), _on((cx, middle), radius, narrow)), width=_LINE)
        for wide, narrow in ((238.0, -16.0), (122.0, 16.0))
    ]
    blades = [
        Shape((_on((cx, middle), 6.4, at), (cx, middle), _on((cx, middle), 6.4, at + 38)), "ink")
        for at in (71.0, 251.0)
    ]
    return (*_machine(left, middle), *lines, *blades)


def _machine(left: float, middle: float) -> tuple[Item, ...]:
    """A circle with what goes in and comes out of it."""
    circle = Round((left + WIDE / 2, middle), HIGH / 2, "paper", width=_LINE)
    return (*_through(left, middle, HIGH / 2), circle)


def _through(left: float, middle: float, half: float) -> tuple[Item, ...]:
    """From both sides of the box to a symbol that is only twice ``half`` wide."""
    right, centre = left + WIDE, left + WIDE / 2
    return (
        Stroke(((left, middle), (centre - half, middle)), width=_LINE),
        Stroke(((centre + half, middle), (right, middle)), width=_LINE),
    )


def _delivery(left: float, middle: float) -> Shape:
    cx, radius = left + WIDE / 2, HIGH / 2
    corners = ((cx + radius, middle), *(_on((cx, middle), radius, at) for at in (118.0, 242.0)))
    return Shape(corners, None, "ink", _LINE)


def _other(left: float, middle: float) -> tuple[Item, ...]:
    letter = Words((left + WIDE / 2, middle + 4.4), "M", 12.0, "middle", strong=True)
    return (*_machine(left, middle), letter)


def _belt(left: float, middle: float) -> tuple[Item, ...]:
    return _band(left, middle, 6.5)


def _take_away(left: float, middle: float) -> tuple[Item, ...]:
    """A belt that carries fruit away."""
    fruit = [Round((left + x, middle - 5.0), 3.2, "faint", width=_FINE) for x in (9.0, 17.0, 31.0)]
    return (*_band(left, middle + 3.2, 5.0), *fruit)


def _elevator(left: float, middle: float) -> tuple[Item, ...]:
    """A band that climbs, with the bars that hold the fruit."""
    low, high, radius = (left + 4.6, middle + 7.0), (left + WIDE - 4.6, middle - 3.0), 4.6
    along = math.degrees(math.atan2(high[1] - low[1], high[0] - low[0]))
    up = along - 90.0
    sides = [
        Stroke((_on(low, radius, at), _on(high, radius, at)), width=_LINE) for at in (up, up + 180)
    ]
    bars = []
    for share in (0.14, 0.38, 0.62, 0.86):
        foot = (low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1]))
        bars.append(Stroke((_on(foot, radius, up), _on(foot, radius + 3.4, up)), width=_LINE))
    ends = [
        Round(low, radius, None, width=_LINE, start=up - 180.0, sweep=180.0),
        Round(high, radius, None, width=_LINE, start=up, sweep=180.0),
    ]
    hubs = [Round(hub, 1.4, "ink", None) for hub in (low, high)]
    return (*sides, *ends, *bars, *hubs)


def _brush_bed(left: float, middle: float) -> tuple[Item, ...]:
    """A row of brushes: hubs with bristles all round."""
    items: list[Item] = []
    for number in range(3):
        centre = (left + 7.7 + number * 15.3, middle)
        items.append(Shape(tuple(_teeth(centre, 5.0, 7.4, 14)), "paper", "ink", _FINE + 0.1))
        items.append(Round(centre, 2.4, "ink", None))
    return tuple(items)


def _roller_conveyor(left: float, middle: float) -> tuple[Item, ...]:
    """A row of plain rollers on their rail."""
    rollers = [Round((left + 5.2 + 8.9 * at, middle), 4.2, "paper", width=_LINE) for at in range(5)]
    hubs = [Round(roller.centre, 1.0, "ink", None) for roller in rollers]
    rail = Stroke(((left, middle + 7.0), (left + WIDE, middle + 7.0)), width=_LINE)
    return (*rollers, *hubs, rail)


def _belt_pair_side(left: float, middle: float) -> tuple[Item, ...]:
    """One belt of a V, seen along it, with a fruit in the V; the other belt is only hinted at."""
    foot, thick = left + WIDE / 2, 4.6
    side, other = (
        tuple(
            (foot + hand * x, middle + y)
            for x, y in ((1.6, 11.0), (1.6 + thick, 11.0), (13.6 + thick, -8.0), (13.6, -8.0))
        )
        for hand in (-1.0, 1.0)
    )
    return (
        *_through(left, middle, 12.0),
        Stroke((*other, other[0]), "ink", _FINE, (1.6, 1.4)),
        Shape(side, "faint", "ink", _LINE),
        Round((foot, middle - 2.0), 6.4, "paper", width=_LINE),
    )


def _spin_section(left: float, middle: float) -> tuple[Item, ...]:
    """A fruit turned by the belt below it, under a camera."""
    fruit = (left + WIDE / 2, middle - 1.2)
    view = Shape(
        (
            (fruit[0] - 3.0, middle - 11.0),
            (fruit[0] + 3.0, middle - 11.0),
            (fruit[0], middle - 7.4),
        ),
        "ink",
        None,
    )
    return (
        *_band(left, middle + 7.6, 3.8),
        Round(fruit, 5.0, "paper", width=_LINE),
        Round(fruit, 2.6, None, "ink", _FINE, 160.0, 230.0),
        view,
    )


def _cup_conveyor(left: float, middle: float) -> tuple[Item, ...]:
    """A chain with cups, some of them holding a fruit."""
    items: list[Item] = list(_band(left, middle + 7.4, 3.6))
    for number, full in enumerate((True, True, False, True)):
        x = left + 6.4 + number * 11.0
        items.append(Round((x, middle - 3.0), 4.6, "paper", "ink", _LINE, 0.0, 180.0))
        items.append(Stroke(((x, middle + 1.6), (x, middle + 3.8)), width=_LINE))
        if full:
            items.append(Round((x, middle - 4.4), 3.2, "faint", width=_FINE))
    return tuple(items)


def _band(left: float, middle: float, radius: float) -> tuple[Item, ...]:
    """Two drums with a band around them."""
    one, other = (left + radius, middle), (left + WIDE - radius, middle)
    band = [
        Stroke(((one[0], middle + side), (other[0], middle + side)), width=_LINE)
        for side in (-radius, radius)
    ]
    drums = [Round(drum, radius, "paper", width=_LINE) for drum in (one, other)]
    hubs = [Round(drum, 1.3, "ink", None) for drum in (one, other)]
    return (*drums, *band, *hubs)


def _teeth(centre: Point, inner: float, outer: float, count: int) -> Iterable[Point]:
    for at in range(2 * count):
        yield _on(centre, inner if at % 2 else outer, at * 180.0 / count)


def _on(centre: Point, radius: float, angle: float) -> Point:
    """The point of a circle at an angle, clockwise from the right."""
    turned = math.radians(angle)
    return centre[0] + radius * math.cos(turned), centre[1] + radius * math.sin(turned)


_SYMBOLS: Mapping[str, Callable[[float, float], tuple[Item, ...]]] = MappingProxyType(
    {
        "pump": _pump,
        "elevator": _elevator,
        "brush_bed": _brush_bed,
        "belt": _belt,
        "roller_conveyor": _roller_conveyor,
        "belt_pair_side": _belt_pair_side,
        "spin_section": _spin_section,
        "cup_conveyor": _cup_conveyor,
        "take_away": _take_away,
        "fan": _fan,
        "other": _other,
    }
)
