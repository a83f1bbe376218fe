"""What the symbols of the wiring drawings mean, as a drawing for their first page."""

from collections.abc import Callable, Iterable

from core.sheets import reference_symbols as symbols
from core.sheets.drawing import Drawing, Item, Words
from core.sheets.drawn_text import wrapped
from core.sheets.words import Say

_WIDE, _HIGH, _SIZE, _LEAD = 132.0, 44.0, 7.0, 8.6
_ACROSS = 5
_MIDDLE, _TEXT = 22.0, 44.0

_Draw = Callable[[float, float], Iterable[Item]]


def legend(say: Say) -> Drawing:
    """The symbols with their names, in rows of five."""
    items: list[Item] = []
    for number, (key, draw) in enumerate(_SYMBOLS.items()):
        left, top = number % _ACROSS * _WIDE, number // _ACROSS * _HIGH
        items += draw(left, top + _HIGH / 2)
        lines = wrapped(say(f"symbol_{key}"), _SIZE, _WIDE - _TEXT - 8.0)
        base = top + _HIGH / 2 + 2.5 - (len(lines) - 1) * _LEAD / 2
        items += [
            Words((left + _TEXT, base + at * _LEAD), line, _SIZE) for at, line in enumerate(lines)
        ]
    rows = -(-len(_SYMBOLS) // _ACROSS)
    told = f"{say('drawings_symbols')}: {', '.join(say(f'symbol_{key}') for key in _SYMBOLS)}"
    return Drawing(_ACROSS * _WIDE, rows * _HIGH, tuple(items), told)


def _terminal(left: float, middle: float) -> Iterable[Item]:
    yield symbols.line((left + 6.0, middle), (left + 38.0, middle))
    yield symbols.terminal((left + _MIDDLE, middle))


def _pot(left: float, middle: float) -> Iterable[Item]:
    x = left + _MIDDLE
    yield symbols.line((x + 9.0, middle), (x + 16.0, middle))
    yield from symbols.potentiometer(x, middle - 18.0, middle, middle + 18.0)


def _source(kind: str) -> _Draw:
    return lambda left, middle: symbols.source(kind, left + _MIDDLE, middle - 17.0, middle + 17.0)


def _loop(left: float, middle: float) -> Iterable[Item]:
    x = left + _MIDDLE
    yield symbols.line((x, middle - 14.0), (x, middle - 1.8))
    yield from symbols.supply(x, middle)
    yield symbols.line((x, middle + 1.8), (x, middle + 14.0))


def _contact(kind: str) -> _Draw:
    def draw(left: float, middle: float) -> Iterable[Item]:
        start, end = symbols.CONTACT
        at = left + _MIDDLE - (start + end) / 2
        yield symbols.line((at + start - 6.0, middle), (at + start, middle))
        yield from symbols.contact(kind, at, middle)
        yield symbols.line((at + end, middle), (at + end + 8.0, middle))

    return draw


def _screen(left: float, middle: float) -> Iterable[Item]:
    yield symbols.line((left + 2.0, middle), (left + 40.0, middle))
    yield from symbols.envelope(left + 7.0, middle - 9.0, left + 35.0, middle + 9.0)


def _earth(left: float, middle: float) -> Iterable[Item]:
    return symbols.earth((left + _MIDDLE, middle - 6.0))


_SYMBOLS: dict[str, _Draw] = {
    "terminal": _terminal,
    "pot": _pot,
    "voltage": _source("voltage"),
    "current": _source("current"),
    "loop": _loop,
    "dac": _source("dac"),
    "open": _contact("open"),
    "closed": _contact("closed"),
    "screen": _screen,
    "earth": _earth,
}
