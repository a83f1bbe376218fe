"""The wiring drawing of one station: sources at the left, cables in the middle, the drive right.

Every wire is a level line; what is written at it stands above it, what is written at a terminal
of the drive stands beside it. So no text can lie on another one, however long it is: it takes more
lines, and the row becomes higher.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from core.sheets import reference_symbols as symbols
from core.sheets.drawing import Drawing, Ink, Item, Point, Shape, Stroke, Words
from core.sheets.drawn_text import text_width, wrapped
from core.sheets.reference_plan import Device, Mark, Plan, Run, Wire

WIDTH, HEIGHT = 700.0, 520.0
"""As wide as a lying page; one that would be higher than this becomes several drawings.

A drawing of this height is set at 0.86 of its size on a lying page of A4, its texts 6 pt high.
"""

_LEFT, _RIGHT = 196.0, 476.0
"""Right side of the devices, and left side of the drive."""
_SIZE, _LEAD, _TITLE = 7.0, 8.6, 8.5
_PAD, _GAP, _BLANK = 6.0, 7.0, 6.0
_SYMBOL, _OWN = 34.0, 66.0
"""Middle of a source's symbol, and where the texts of its terminals may begin."""
_BUS = 12.0
"""Where the common side of contacts runs down."""
_SCREEN = 12.0
"""From the box at either side to the screen."""
_EARTH = 30.0
_LANE = 3.0
_FIGURE_ROOM = {"loop": 44.0, "current": 28.0, "voltage": 26.0, "dac": 32.0}
"""Least distance of the two terminals between which such a symbol hangs."""


def wiring_drawings(plan: Plan, continued: str = "{title}, continued") -> tuple[Drawing, ...]:
    """Draw a station, on one page or on as many as its wires need.

    Parameters
    ----------
    plan : Plan
        What is drawn.
    continued : str
        Template for the title of a run that goes on from the page before.
    """
    pages: list[_Page] = [()]
    for place, run in enumerate(plan.runs):
        for number, device in enumerate(run.devices):
            title = continued.format(title=run.title) if number else run.title
            notes = () if number else run.notes
            part = replace(run, title=title, notes=notes, devices=(device,))
            grown = _grown(pages[-1], place, part)
            if pages[-1] and _Sheet(plan).fill(grown).y > HEIGHT:
                pages.append(((place, part),))
            else:
                pages[-1] = grown
    return tuple(_Sheet(plan).fill(page).drawing() for page in pages)


_Page = tuple[tuple[int, Run], ...]
"""Runs of one drawing, each with its place among all of the station."""


def _grown(page: _Page, place: int, part: Run) -> _Page:
    """A page with one more device, in its run where that is on the page already."""
    if page and page[-1][0] == place:
        last = page[-1][1]
        return (*page[:-1], (place, replace(last, devices=(*last.devices, *part.devices))))
    return (*page, (place, part))


class _Sheet:
    """One drawing, filled from the top down."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.items, self.y = plan, [], 0.0  # type: tuple[Plan, list[Item], float]
        self.drive_foot = 0.0
        self.at_drive: defaultdict[str, list[float]] = defaultdict(list)

    def drawing(self) -> Drawing:
        """What has been drawn."""
        return Drawing(WIDTH, self.y, tuple(self.items), self.plan.told)

    def fill(self, page: _Page) -> "_Sheet":
        """Draw the drive and its runs."""
        room = WIDTH - _RIGHT - 2 * _PAD
        y = self._text(_RIGHT + _PAD, _PAD, room, self.plan.drive, size=_TITLE, strong=True)
        self.drive_foot = self._marks(_RIGHT + _PAD, y, room, (self.plan.drive_type,)) + _GAP
        for number, (_, run) in enumerate(page):
            self.y += _GAP * 2 if number else 1.0
            self._run(run)
        self.y = max(self.y, self.drive_foot) + _PAD
        self.items.insert(0, _box(_RIGHT, 0.6, WIDTH - 0.6, self.y - 0.6))
        return self

    # --- one run ----------------------------------------------------------------------------

    def _run(self, run: Run) -> None:
        shared = _repeated(run)
        self.at_drive.clear()
        self.y = self._text(0, self.y, _RIGHT - _PAD, run.title, size=_TITLE, strong=True)
        notes = tuple(Mark(text) for text in run.notes)
        self.y = self._marks(0, self.y, _RIGHT - 2 * _PAD, notes) + _GAP / 2
        room = WIDTH - _RIGHT - 2 * _PAD
        foot = max(self.y, self.drive_foot)
        self.drive_foot = self._marks(_RIGHT + _PAD, foot, room, run.drive_notes)
        first = self.y
        tops: list[float] = []
        rows: list[float] = []
        for number, device in enumerate(run.devices):
            self.y += _GAP if number else 0.0
            found, top = self._device(device, shared)
            rows += found
            tops += [top] if found else []
        self._link(shared)
        if run.cable:
            self._cable(run, min(tops, default=first), max(rows, default=self.y))

    def _device(self, device: Device, shared: Sequence[str]) -> tuple[list[float], float]:
        """A device with its wires; gives the heights of the wires, and what is above them."""
        top = self.y
        y = self._marks(_PAD, top + 3.0, _LEFT - 2 * _PAD, (device.name,), strong=True)
        y = self._marks(_PAD, y, _LEFT - 2 * _PAD, device.notes)
        if device.wires:
            # What the drive has to say of its input stands above the terminals.
            y = max(y, self.drive_foot)
        head = y
        rows: list[float] = []
        for wire in device.wires:
            least = rows[-1] + _FIGURE_ROOM.get(device.figure, 0.0) if rows else 0.0
            row, y = self._wire(wire, y, least, shared)
            rows.append(row)
        self.y = y + 4.0
        self.drive_foot = max(self.drive_foot, y)
        dash = () if device.name.text and not device.name.missing else (3.0, 2.0)
        self.items.insert(0, _box(0.6, top, _LEFT, self.y, dash))
        self.items += _figure(device, rows)
        return rows, head

    def _wire(
        self, wire: Wire, top: float, least: float, shared: Sequence[str]
    ) -> tuple[float, float]:
        """One wire; gives its height, and the height below all that is written at it."""
        own = _lines(wire.own.text, _LEFT - _OWN - 8.0)
        middle = _side_by_side(wire.number, wire.details, _RIGHT - _LEFT - 2 * _SCREEN - 16.0)
        start = _RIGHT + 12.0 + _LANE * len(shared)
        theirs = _side_by_side(wire.theirs.text, wire.purpose, WIDTH - start - _PAD)
        up = max(len(own), len(middle)) * _LEAD + 3.0
        y = max(top + max(up, symbols.BLADE + 4.0), least)
        for above, text in zip(range(len(own) - 1, -1, -1), own, strict=True):
            at = (_LEFT - 6.0, y - 3.0 - above * _LEAD)
            self.items.append(Words(at, text, _SIZE, "end", _ink(wire.own)))
        for above, pieces in zip(range(len(middle) - 1, -1, -1), middle, strict=True):
            left = (_LEFT + _RIGHT - _width(pieces)) / 2
            self.items += _set(pieces, left, y - 3.0 - above * _LEAD, "ink")
        for number, pieces in enumerate(theirs):
            self.items += _set(pieces, start, y + 2.5 + number * _LEAD, _ink(wire.theirs))
        self.items += [
            symbols.line((_LEFT, y), (_RIGHT, y)),
            symbols.terminal((_LEFT, y)),
            symbols.terminal((_RIGHT, y)),
        ]
        if not wire.theirs.missing:
            self.at_drive[wire.theirs.text].append(y)
        return y, y + 5.0 + (len(theirs) - 1) * _LEAD

    # --- cable and screen -------------------------------------------------------------------

    def _cable(self, run: Run, top: float, last: float) -> None:
        low, left, right = last + 5.0, _LEFT + _SCREEN, _RIGHT - _SCREEN
        screened = run.screen not in ("", "none")
        room = right - left - 2 * _EARTH
        start = low + 4.0 if screened else last + 3.0
        foot = self._marks(0, start, room, run.cable, middle=(left + right) / 2)
        if screened:
            self.items += symbols.envelope(left, top - 1.0, right, low)
            if run.screen in ("far", "both"):
                self.items += symbols.earth((left + _EARTH / 2, low))
                foot = max(foot, low + 14.0)
            if run.screen in ("drive", "both"):
                foot = max(foot, self._clamp(run, right - _EARTH / 2, low))
        self.y = max(self.y, foot)

    def _clamp(self, run: Run, x: float, low: float) -> float:
        """The screen earthed at the drive, and led to its clamp where there is one."""
        y = low
        if run.screen_terminal:
            start = _RIGHT + 12.0
            lines = _lines(run.screen_terminal, WIDTH - start - _PAD, True)
            y = max(low + 8.0, self.drive_foot + 8.0)
            self.items += [
                symbols.line((x, low), (x, y), (_RIGHT, y)),
                symbols.junction((x, y)),
                symbols.terminal((_RIGHT, y)),
            ]
            for number, text in enumerate(lines):
                at = (start, y + 2.5 + number * _LEAD)
                self.items.append(Words(at, text, _SIZE, strong=True))
            self.drive_foot = y + len(lines) * _LEAD
        self.items += symbols.earth((x, y))
        return y + 14.0

    def _link(self, shared: Sequence[str]) -> None:
        """Join what is one terminal of the drive, though several wires are drawn to it."""
        for number, name in enumerate(shared):
            heights = self.at_drive[name]
            x = _RIGHT + 7.0 + _LANE * number
            self.items.append(symbols.line((x, heights[0]), (x, heights[-1])))
            for y in heights:
                self.items.append(symbols.line((_RIGHT + symbols.TERMINAL, y), (x, y)))
                self.items.append(symbols.junction((x, y)))

    # --- texts ------------------------------------------------------------------------------

    def _text(
        self, x: float, y: float, room: float, text: str, *, size: float, strong: bool
    ) -> float:
        lead = _LEAD * size / _SIZE
        for line in wrapped(text, size, room, strong):
            self.items.append(Words((x, y + 0.8 * size), line, size, strong=strong))
            y += lead
        return y

    def _marks(
        self,
        x: float,
        y: float,
        room: float,
        marks: Iterable[Mark],
        *,
        strong: bool = False,
        middle: float | None = None,
    ) -> float:
        """Texts one below the other; gives the height below them."""
        for mark in marks:
            bold = strong and not mark.missing
            for line in _lines(mark.text, room, bold):
                at = (x if middle is None else middle, y + 0.8 * _SIZE)
                anchor = "start" if middle is None else "middle"
                self.items.append(Words(at, line, _SIZE, anchor, _ink(mark), bold))  # type: ignore[arg-type]
                y += _LEAD
        return y


def _figure(device: Device, rows: Sequence[float]) -> Iterator[Item]:
    """What is inside of a device, between its terminals."""
    inner = _LEFT - symbols.TERMINAL
    if device.figure == "contacts":
        yield from _contacts(device, rows, inner)
        return
    if not device.figure:
        for y in rows:
            yield symbols.line((inner, y), (_OWN, y))
        return
    if device.figure == "pot":
        top, wiper, bottom = rows
        yield symbols.line((_SYMBOL + 9.0, wiper), (inner, wiper))
        yield from symbols.potentiometer(_SYMBOL, top, wiper, bottom)
    else:
        top, bottom = rows
        yield from symbols.source(device.figure, _SYMBOL, top, bottom)
    for y in (top, bottom):
        yield symbols.line((_SYMBOL, y), (inner, y))


def _contacts(device: Device, rows: Sequence[float], inner: float) -> Iterator[Item]:
    common = rows[-1]
    start, end = symbols.CONTACT
    yield symbols.line((_BUS, rows[0]), (_BUS, common), (inner, common))
    for number, (wire, y) in enumerate(zip(device.wires[:-1], rows, strict=False)):
        if number:
            yield symbols.junction((_BUS, y))
        yield symbols.line((_BUS, y), (start, y))
        yield from symbols.contact(wire.contact, 0.0, y)
        yield symbols.line((end, y), (inner, y))


def _repeated(run: Run) -> tuple[str, ...]:
    """The terminals of the drive to which more than one wire of a run goes."""
    counts: defaultdict[str, int] = defaultdict(int)
    for wire in (wire for device in run.devices for wire in device.wires):
        counts[wire.theirs.text] += 0 if wire.theirs.missing else 1
    return tuple(name for name, count in counts.items() if count > 1)


_Pieces = tuple[tuple[str, bool], ...]
"""Texts of one line, each with whether it is strong."""


def _side_by_side(strong: str, plain: str, room: float) -> list[_Pieces]:
    """A strong text and a plain one on one line where they fit, below each other elsewhere."""
    together: _Pieces = ((strong, True), (plain, False))
    if plain and _width(together) <= room:
        return [together]
    return [
        *(((text, True),) for text in _lines(strong, room, True)),
        *(((text, False),) for text in _lines(plain, room)),
    ]


def _width(pieces: _Pieces) -> float:
    widths = [text_width(text, _SIZE, strong) for text, strong in pieces]
    return sum(widths) + _BLANK * (len(widths) - 1)


def _set(pieces: _Pieces, x: float, base: float, ink: Ink) -> Iterator[Words]:
    """One line of texts; the first is that of a terminal, which may be missing."""
    for text, strong in pieces:
        missing = strong and ink == "quiet"
        shown: Ink = "quiet" if missing else "ink"
        yield Words((x, base), text, _SIZE, ink=shown, strong=strong and not missing)
        x += text_width(text, _SIZE, strong and not missing) + _BLANK


def _lines(text: str, room: float, strong: bool = False) -> tuple[str, ...]:
    return wrapped(text, _SIZE, room, strong)


def _ink(mark: Mark) -> Ink:
    return "quiet" if mark.missing else "ink"


def _box(
    left: float, top: float, right: float, bottom: float, dash: tuple[float, ...] = ()
) -> Item:
    points: tuple[Point, ...] = ((left, top), (right, top), (right, bottom), (left, bottom))
    if dash:
        return Stroke((*points, points[0]), width=0.7, dash=dash)
    return Shape(points, None, width=0.7)
