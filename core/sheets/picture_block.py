"""What is written below the symbol of a station, in lines that fit."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from core.sheets.drawing import Ink, Item, Stroke, Words
from core.sheets.drawn_text import text_width, wrapped
from core.sheets.picture_data import PictureStation, PictureWords, Severity
from core.sheets.picture_symbols import level_mark

BODY = 104.0
"""Width of a station with its text [pt]."""
LEADING = 8.0
LABEL_SIZE = 5.8

_TAG, _SIZE, _GAP = 7.6, 6.4, 3.0
_MARK, _MARK_ROOM = 6.4, 9.0
_BETWEEN = " · "


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a line, ``left`` of which there is something else [pt]."""

    text: str
    left: float = 0.0
    ink: Ink = "ink"
    strong: bool = False
    size: float = _SIZE


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line of a block; ``tie`` puts the double arrow of a pair before it."""

    runs: tuple[Run, ...]
    level: Severity = ""
    tie: bool = False


@dataclass(frozen=True, slots=True)
class PairRemark:
    """A pair as one of its stations tells it."""

    text: str
    holds: bool | None


def block_of(
    station: PictureStation, remarks: Sequence[PairRemark], words: PictureWords
) -> tuple[TextLine, ...]:
    """The lines of a station, from the top down."""
    lines: list[TextLine] = [*_name(station)]
    for label, speed in ((words.planned, station.planned), (words.present, station.present)):
        if speed:
            lines += _plain(f"{label} {speed}")
    turned = words.reverse if station.turn == "reverse" else ""
    lines += _joined((station.hertz, turned, station.reference), "quiet")
    if station.bottleneck:
        lines += _joined((words.bottleneck, station.use), "accent", strong=True)
    else:
        lines += _joined((station.use,), "quiet")
    lines += _findings(station, words)
    for remark in remarks:
        lines += _pair(remark)
    for text in station.elsewhere:
        lines += _plain(text, "quiet")
    return tuple(lines)


def draw_block(lines: Iterable[TextLine], left: float, top: float) -> Iterator[Item]:
    """The lines as items, the first one's top at a height [pt]."""
    for number, line in enumerate(lines):
        base = top + number * LEADING + 6.0
        yield from level_mark(line.level, left, base - 2.3, _MARK)
        if line.tie:
            yield from _tie(left + 2.6, base)
        for run in line.runs:
            yield Words((left + run.left, base), run.text, run.size, ink=run.ink, strong=run.strong)


def level_words(station: PictureStation, words: PictureWords) -> str:
    """The gravest open finding and how many are open, in words."""
    level = {
        "": "",
        "advice": words.advice,
        "fault": words.fault,
        "blocker": words.blocker,
    }[station.level]
    count = words.findings_open.format(count=station.open_findings) if station.open_findings else ""
    return _BETWEEN.join(part for part in (level, count) if part)


def _name(station: PictureStation) -> Iterator[TextLine]:
    """Tag, and the name after it as far as there is room."""
    *tags, tag = wrapped(station.tag, _TAG, BODY, strong=True) or ("",)
    yield from (TextLine((Run(text, strong=True, size=_TAG),)) for text in tags)
    used = text_width(tag, _TAG, strong=True) + _GAP if tag else 0.0
    name, *rest = wrapped(station.name, _SIZE, BODY, first=max(0.0, BODY - used)) or ("",)
    runs = [Run(tag, strong=True, size=_TAG)] if tag else []
    runs += [Run(name, used)] if name else []
    if runs:
        yield TextLine(tuple(runs))
    yield from (TextLine((Run(text),)) for text in rest)


def _plain(text: str, ink: Ink = "ink", strong: bool = False) -> list[TextLine]:
    lines = wrapped(text, _SIZE, BODY, strong)
    return [TextLine((Run(line, ink=ink, strong=strong),)) for line in lines]


def _joined(parts: Iterable[str], ink: Ink, strong: bool = False) -> list[TextLine]:
    """Parts on one line as far as they fit, each whole if it can be."""
    rows: list[str] = []
    for part in filter(None, parts):
        joined = f"{rows[-1]}{_BETWEEN}{part}" if rows else part
        if rows and text_width(joined, _SIZE, strong) <= BODY:
            rows[-1] = joined
        else:
            rows.append(part)
    return [line for row in rows for line in _plain(row, ink, strong)]


def _findings(station: PictureStation, words: PictureWords) -> Iterator[TextLine]:
    ink: Ink = station.level or "ink"
    text = level_words(station, words)
    for number, line in enumerate(wrapped(text, _SIZE, BODY - _MARK_ROOM, strong=True)):
        run = Run(line, _MARK_ROOM if station.level else 0.0, ink, strong=True)
        yield TextLine((run,), "" if number else station.level)


def _pair(remark: PairRemark) -> Iterator[TextLine]:
    inks: dict[bool | None, Ink] = {True: "good", False: "fault", None: "ink"}
    for number, line in enumerate(wrapped(remark.text, _SIZE, BODY - _MARK_ROOM)):
        yield TextLine((Run(line, _MARK_ROOM, inks[remark.holds]),), tie=not number)


def _tie(x: float, base: float) -> Iterator[Item]:
    """An arrow with two heads."""
    top, foot = base - 6.0, base + 1.0
    yield Stroke(((x, top), (x, foot)), width=0.7)
    for tip, side in ((top, 1.0), (foot, -1.0)):
        yield Stroke(
            ((x - 1.6, tip + side * 2.0), (x, tip), (x + 1.6, tip + side * 2.0)), width=0.7
        )
