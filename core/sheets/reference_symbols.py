"""The symbols of the wiring drawings, after IEC 60617 (from memory).

A resistor is a rectangle, a potentiometer has an arrow for its wiper; an ideal voltage source is a
circle on its line, a current source has its bar across; a supply is a long line and a short one,
the long one positive; a contact is a blade that meets its line or, normally closed, lies on a stop.
"""

from core.sheets.drawing import Item, Point, Round, Shape, Stroke, Words

LINE = 0.9
TERMINAL = 2.0
"""Radius of a terminal [pt]."""
CONTACT = (24.0, 46.0)
"""Where a contact begins and ends, from the left side of its device [pt]."""
BLADE = 8.0
"""Height of a contact above its line [pt]."""


def line(*points: Point) -> Stroke:
    """A wire."""
    return Stroke(points, width=LINE)


def terminal(at: Point) -> Round:
    """A terminal: a small open circle."""
    return Round(at, TERMINAL, "paper", width=LINE)


def junction(at: Point) -> Round:
    """A dot where wires meet."""
    return Round(at, 1.5, "ink", None)


def earth(at: Point) -> tuple[Item, ...]:
    """Earth, hanging below a point; 12 pt high and wide."""
    x, y = at
    bars = ((6.0, 6.0), (9.0, 3.8), (12.0, 1.6))
    return (
        line((x, y), (x, y + 6.0)),
        *(line((x - half, y + below), (x + half, y + below)) for below, half in bars),
    )


def contact(kind: str, left: float, y: float) -> tuple[Item, ...]:
    """A contact on a level line, between the two places of `CONTACT` from ``left``."""
    start, end = left + CONTACT[0], left + CONTACT[1]
    if kind == "closed":
        # The blade lies on the far side of a stop that stands on the fixed end.
        stop = line((end, y), (end, y - BLADE + 1.0))
        return (line((start, y), (end + 4.0, y - BLADE + 1.6)), stop)
    return (line((start, y), (end - 2.0, y - BLADE)),)


def potentiometer(x: float, top: float, wiper: float, bottom: float) -> tuple[Item, ...]:
    """A resistor upright between two heights; its wiper points at it from the right."""
    half, room = 4.5, min(5.0, (bottom - top) / 6)
    low, high = top + room, bottom - room
    body = ((x - half, low), (x + half, low), (x + half, high), (x - half, high))
    tip = (x + half, wiper)
    return (
        line((x, top), (x, low)),
        line((x, high), (x, bottom)),
        Shape(body, "paper", width=LINE),
        Shape((tip, (tip[0] + 5.0, tip[1] - 2.4), (tip[0] + 5.0, tip[1] + 2.4)), "ink", None),
    )


def source(kind: str, x: float, top: float, bottom: float) -> tuple[Item, ...]:
    """A source upright between two heights, with its loop supply below it for ``loop``."""
    radius = min(8.0, (bottom - top) * 0.3)
    middle = top + (bottom - top) * (0.34 if kind == "loop" else 0.5)
    if kind == "dac":
        return _dac(x, middle, top, bottom)
    circle = Round((x, middle), radius, "paper", width=LINE)
    upper, lower = middle - radius, middle + radius
    if kind == "voltage":
        return (circle, line((x, top), (x, bottom)))
    bar = line((x - radius, middle), (x + radius, middle))
    if kind != "loop":
        return (line((x, top), (x, upper)), line((x, lower), (x, bottom)), circle, bar)
    cell = bottom - (bottom - top) * 0.2
    return (
        line((x, top), (x, upper)),
        circle,
        bar,
        line((x, lower), (x, cell - 1.8)),
        *supply(x, cell),
        line((x, cell + 1.8), (x, bottom)),
    )


def supply(x: float, middle: float) -> tuple[Item, ...]:
    """The two plates of a direct-voltage supply, the positive one above."""
    return (
        line((x - 7.0, middle - 1.8), (x + 7.0, middle - 1.8)),
        Stroke(((x - 3.5, middle + 1.8), (x + 3.5, middle + 1.8)), width=1.8),
    )


def _dac(x: float, middle: float, top: float, bottom: float) -> tuple[Item, ...]:
    half = min(11.0, (bottom - top) / 2)
    left, upper, right, lower = x - half, middle - half, x + half, middle + half
    box = ((left, upper), (right, upper), (right, lower), (left, lower))
    size = half * 0.7
    return (
        line((x, top), (x, upper)),
        line((x, lower), (x, bottom)),
        Shape(box, "paper", width=LINE),
        Stroke(((left, lower), (right, upper)), width=0.6),
        Words((x - half * 0.5, middle - half * 0.15), "D", size, "middle"),
        Words((x + half * 0.5, middle + half * 0.75), "A", size, "middle"),
    )


def envelope(left: float, top: float, right: float, bottom: float) -> tuple[Item, ...]:
    """The screen of a cable: a dashed outline around its wires."""
    corner = 6.0
    points = (
        (left + corner, top),
        (right - corner, top),
        (right, top + corner),
        (right, bottom - corner),
        (right - corner, bottom),
        (left + corner, bottom),
        (left, bottom - corner),
        (left, top + corner),
        (left + corner, top),
    )
    return (Stroke(points, width=0.8, dash=(4.0, 2.5)),)
