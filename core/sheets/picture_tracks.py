"""Tracks for lines that run beside one another, so that no two lie on each other."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a way in one channel or gutter, from one level to another in either direction.

    ``way`` and ``number`` tell stretches apart that are otherwise the same.
    """

    kind: Literal["channel", "gutter"]
    lane: int
    start: float
    end: float
    way: int = 0
    number: int = 0


def tracks_of(spans: Iterable[Span]) -> tuple[dict[Span, int], dict[tuple[str, int], int]]:
    """The track of each stretch, as few tracks as can be, and their number in each lane.

    Stretches that touch get different tracks.

    Examples
    --------
    >>> one, other = Span("gutter", 0, 0, 3), Span("gutter", 0, 5, 3)
    >>> track, count = tracks_of([one, other])
    >>> track[one], track[other], count["gutter", 0]
    (0, 1, 2)

    Notes
    -----
    Taking stretches by their start and giving each the first free track needs no more tracks than
    the most that overlap in one point: interval graphs are perfect (Gavril 1972, from memory).
    """
    track: dict[Span, int] = {}
    ends: dict[tuple[str, int], list[float]] = {}
    ordered = sorted(enumerate(spans), key=lambda at: (min(at[1].start, at[1].end), at[0]))
    for _, span in ordered:
        low, high = sorted((span.start, span.end))
        taken = ends.setdefault((span.kind, span.lane), [])
        free = next((at for at, end in enumerate(taken) if end < low), len(taken))
        taken[free : free + 1] = [high]
        track[span] = free
    return track, {lane: len(taken) for lane, taken in ends.items()}
