"""A knob card as a drawing: the dial or the signal's scale with its marks, and what they mean."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.sheets.drawing import Drawing, Group, Ink, Item, Point, Round, Shape, Stroke, Words
from core.sheets.drawn_text import wrapped

CARD_WIDTH, LEAST_HEIGHT = 238.0, 140.0
_EDGE, _DIAL_ROOM = 9.0, 92.0
_RADIUS = 30.0
_START, _SWEEP = 120.0, 300.0
"""A common potentiometer turns through 300 degrees, open at the bottom: common practice."""
_TAG, _NAME, _PLACE, _SMALL, _TINY = 13.0, 8.4, 10.0, 7.4, 6.2
_SAME_PLACE, _NEXT_TO = 0.03, 0.2
"""Marks closer than this share of the travel would cover each other and stand as one; their
numbers would touch below the second share."""
_LEADING = 1.3


@dataclass(frozen=True, slots=True)
class Mark:
    """One place to set: share of the travel, the recipe it is for, and what the station then does.

    ``share`` is None where no place gives what is wanted; ``place`` is the same in words.
    """

    share: float | None
    name: str
    place: str
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """What stands on one card.

    ``dial`` tells whether a knob is turned; else a signal is set, and ``ends`` names both ends of
    its scale. ``acting`` is the part of the travel that the drive follows.
    """

    tag: str
    name: str
    dial: bool
    ends: tuple[str, str]
    acting: tuple[float, float] | None
    marks: tuple[Mark, ...]
    notes: tuple[str, ...]
    warnings: tuple[str, ...]


def card_rows(cards: Sequence[Card], told: str, across: int = 2) -> Iterator[Drawing]:
    """The cards, some side by side in each drawing, all of one height to cut out.

    Parameters
    ----------
    cards : sequence of Card
        In the order of the line.
    told : str
        What the drawing shows, for who cannot see it.
    across : int
        Cards beside each other.
    """
    for start in range(0, len(cards), across):
        row = cards[start : start + across]
        height = max(_height(card) for card in row)
        items: list[Item] = []
        for place, card in enumerate(row):
            left = place * CARD_WIDTH
            items.append(Group(tuple(_card(card, left, height)), tip=card.tag))
        names = ", ".join(card.tag for card in row)
        yield Drawing(across * CARD_WIDTH, height, tuple(items), f"{told}: {names}")


def _height(card: Card) -> float:
    left = _head_height(card) + 2 * _RADIUS + 44.0
    right = _head_height(card) + sum(size * _LEADING for _, size, *_ in _text(card)) + 14.0
    return max(LEAST_HEIGHT, left, right)


def _head(card: Card) -> list[tuple[str, float, bool]]:
    """The lines of tag and name: text, size, whether it is strong."""
    room = CARD_WIDTH - 2 * _EDGE
    tags = [(line, _TAG, True) for line in wrapped(card.tag, _TAG, room, strong=True)]
    return [*tags, *((line, _NAME, False) for line in wrapped(card.name, _NAME, room))]


def _head_height(card: Card) -> float:
    return 12.0 + sum(size * _LEADING for _, size, _ in _head(card))


def _card(card: Card, left: float, height: float) -> Iterator[Item]:
    right = left + CARD_WIDTH
    edge = ((left, 0.0), (right, 0.0), (right, height), (left, height), (left, 0.0))
    yield Stroke(edge, "quiet", 0.5, (3.0, 2.5))
    y = 5.0
    for line, size, strong in _head(card):
        y += size * _LEADING
        yield Words((left + _EDGE, y), line, size, strong=strong)
    top = _head_height(card)
    yield Stroke(((left + _EDGE, top - 2), (right - _EDGE, top - 2)), "faint", 0.6)
    yield from _dial(card, left, top) if card.dial else _scale(card, left, top)
    y = top + 4.0
    for text, size, ink, strong in _text(card):
        y += size * _LEADING
        if text:
            yield Words((left + _EDGE + _DIAL_ROOM + 6.0, y), text, size, ink=ink, strong=strong)


def _text(card: Card) -> list[tuple[str, float, Ink, bool]]:
    """The lines beside the dial: text, size, ink, whether it is strong."""
    room = CARD_WIDTH - 2 * _EDGE - _DIAL_ROOM - 6.0
    found: list[tuple[str, float, Ink, bool]] = []

    def add(text: str, size: float, ink: Ink = "ink", strong: bool = False) -> None:
        found.extend((line, size, ink, strong) for line in wrapped(text, size, room, strong))

    for number, mark in enumerate(card.marks, start=1):
        if number > 1:
            found.append(("", _TINY / 2, "ink", False))
        name = f"{number} {mark.name}" if len(card.marks) > 1 else mark.name
        add(name, _SMALL)
        add(mark.place, _PLACE, strong=True)
        for told in mark.told:
            add(told, _SMALL)
    for note in card.notes:
        add(note, _TINY, "quiet")
    for warning in card.warnings:
        add(warning, _SMALL, "blocker", strong=True)
    return found


def _dial(card: Card, left: float, top: float) -> Iterator[Item]:
    centre = (left + _EDGE + _DIAL_ROOM / 2, top + _RADIUS + 20.0)
    yield Round(centre, _RADIUS, None, "quiet", 1.0, _START, _SWEEP)
    if card.acting is not None:
        low, high = card.acting
        start, sweep = _START + _SWEEP * low, _SWEEP * (high - low)
        yield Round(centre, _RADIUS, None, "ink", 2.6, start, sweep)
    for tenth in range(11):
        inner = _RADIUS - (6.0 if tenth % 5 == 0 else 3.5)
        yield Stroke((_on(centre, inner, tenth / 10), _on(centre, _RADIUS, tenth / 10)), "quiet")
    for share, anchor in ((0.0, "end"), (1.0, "start")):
        x, y = _on(centre, _RADIUS + 4.0, share)
        text = "0" if share == 0.0 else "100 %"
        anchored = "middle" if anchor == "end" else "start"
        yield Words((x, y + 7.0), text, _TINY, anchored, "quiet")  # type: ignore[arg-type]
    yield Round(centre, 3.0, "ink")
    for numbers, share in _placed(card):
        yield Stroke((centre, _on(centre, _RADIUS - 1.0, share)), "ink", 2.2)
        yield from _number(numbers, _on(centre, _RADIUS + 9.5, share))


def _scale(card: Card, left: float, top: float) -> Iterator[Item]:
    x0, x1 = left + _EDGE + 8.0, left + _EDGE + _DIAL_ROOM - 8.0
    y = top + _RADIUS + 18.0
    yield Stroke(((x0, y), (x1, y)), "quiet", 1.0)
    if card.acting is not None:
        low, high = (x0 + (x1 - x0) * share for share in card.acting)
        yield Stroke(((low, y), (high, y)), "ink", 2.6)
    for tenth in range(11):
        x = x0 + (x1 - x0) * tenth / 10
        yield Stroke(((x, y), (x, y + (7.0 if tenth % 5 == 0 else 4.0))), "quiet")
    yield Words((x0 - 6.0, y + 16.0), card.ends[0], _TINY, "start", "quiet")
    yield Words((x1 + 6.0, y + 16.0), card.ends[1], _TINY, "end", "quiet")
    before, raised = -1.0, 0.0
    for numbers, share in _placed(card):
        x = x0 + (x1 - x0) * share
        # A number that would touch the one before stands higher.
        raised = 8.0 if share - before < _NEXT_TO and not raised else 0.0
        before = share
        yield Shape(((x, y - 2.0), (x - 4.0, y - 11.0), (x + 4.0, y - 11.0)), "ink", None)
        yield from _number(numbers, (x, y - 17.0 - raised))


def _placed(card: Card) -> Iterator[tuple[str, float]]:
    """Numbers of the recipes, none where there is one only, and where they are marked."""
    found: list[tuple[list[str], float]] = []
    places = [
        (mark.share, str(number))
        for number, mark in enumerate(card.marks, start=1)
        if mark.share is not None and 0.0 <= mark.share <= 1.0
    ]
    for share, number in sorted(places):
        if found and share - found[-1][1] < _SAME_PLACE:
            found[-1][0].append(number)
        else:
            found.append(([number], share))
    for numbers, share in found:
        yield ", ".join(sorted(numbers)) if len(card.marks) > 1 else "", share


def _number(numbers: str, at: Point) -> Iterator[Item]:
    if numbers:
        yield Words((at[0], at[1] + 2.6), numbers, _SMALL, "middle", strong=True)


def _on(centre: Point, radius: float, share: float) -> Point:
    angle = math.radians(_START + _SWEEP * share)
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
