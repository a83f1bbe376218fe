"""What the picture of a line is made from: stations, flows and pairs, in words ready to be shown.

Nothing here is reckoned; whoever has the figures of the line fills these records, in the units and
the language of the reader.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from core.errors import InputError

Turn = Literal["forward", "reverse"]
Severity = Literal["", "advice", "fault", "blocker"]
FlowKind = Literal["forward", "return", "cull"]


@dataclass(frozen=True, slots=True)
class PictureStation:
    """One station; an empty text leaves its line out.

    ``kind`` is a key of `core.model.choices.STATION_KINDS`; another is drawn as "other".
    ``kind_words`` says it in the language of the reader. ``level`` is that of its gravest open
    finding. ``elsewhere`` says what it gives to and gets from stations that are not on this
    picture.
    """

    station_id: int
    tag: str
    name: str = ""
    kind: str = "other"
    turn: Turn = "forward"
    planned: str = ""
    present: str = ""
    hertz: str = ""
    reference: str = ""
    use: str = ""
    level: Severity = ""
    open_findings: int = 0
    bottleneck: bool = False
    elsewhere: tuple[str, ...] = ()
    kind_words: str = ""


@dataclass(frozen=True, slots=True)
class PictureFlow:
    """What goes from one station to another; ``words`` stand on the line between them."""

    from_id: int
    to_id: int
    kind: FlowKind = "forward"
    words: str = ""


@dataclass(frozen=True, slots=True)
class PicturePair:
    """Two stations held to a ratio; ``holds`` is None where nobody can say yet.

    ``outside`` says that it is set outside of its band now; then it does not hold, whatever its
    wiring could do.
    """

    first_id: int
    second_id: int
    words: str = ""
    holds: bool | None = None
    outside: str = ""


@dataclass(frozen=True, slots=True)
class PictureWords:
    """The fixed words of the picture, in the language of its reader."""

    planned: str = "planned"
    present: str = "now"
    forward: str = "forward"
    reverse: str = "reverse"
    bottleneck: str = "bottleneck"
    blocker: str = "Blocker"
    fault: str = "Fault"
    advice: str = "Advice"
    findings_open: str = "{count} open"
    holds: str = "holds"
    fails: str = "does not hold"
    pair_with: str = "with {tag}"
    apart: str = "Not in the flow"
    flow: str = "flow"
    flow_return: str = "return"
    flow_cull: str = "culls"
    turns: str = "turns"
    to: str = "to {tag}"
    from_: str = "from {tag}"
    told: str = "Line of {count} stations, in the order of the flow."
    empty: str = "No station has been entered."


@dataclass(frozen=True, slots=True)
class PictureData:
    """Everything that a picture of a line shows.

    Raises
    ------
    InputError
        Two stations with the same id, or a flow or pair that names a station which is not there.
    """

    stations: tuple[PictureStation, ...]
    flows: tuple[PictureFlow, ...] = ()
    pairs: tuple[PicturePair, ...] = ()
    words: PictureWords = field(default_factory=PictureWords)

    def __post_init__(self) -> None:
        counts = Counter(station.station_id for station in self.stations)
        twice = sorted(key for key, count in counts.items() if count > 1)
        named = [(flow.from_id, flow.to_id) for flow in self.flows]
        named += [(pair.first_id, pair.second_id) for pair in self.pairs]
        absent = sorted({key for ends in named for key in ends} - counts.keys())
        if twice:
            raise _refused(f"Several stations have the id {_list(twice)}.")
        if absent:
            raise _refused(f"A flow or a pair names the station ids {_list(absent)}.")

    def flow_words(self, flow: PictureFlow, key: int) -> str:
        """A flow as the station at one of its ends tells it."""
        words = self.words
        kind = {"forward": "", "return": words.flow_return, "cull": words.flow_cull}[flow.kind]
        if key == flow.from_id:
            sign, where = "→", words.to.format(tag=self.tag(flow.to_id))
        else:
            sign, where = "←", words.from_.format(tag=self.tag(flow.from_id))
        return " ".join(part for part in (sign, kind, where, flow.words) if part)

    def pair_words(self, pair: PicturePair, key: int = 0) -> str:
        """The ratio of a pair and whether it holds, with a sign as well as a word.

        ``key`` is the station that tells it, and so names the other one.
        """
        words, other = self.words, ""
        if key:
            one = pair.second_id if key == pair.first_id else pair.first_id
            other = words.pair_with.format(tag=self.tag(one))
        verdict = {True: f"✓ {words.holds}", False: f"✗ {words.fails}", None: ""}[pair.holds]
        if pair.outside:
            verdict = f"✗ {pair.outside}"
        return " ".join(part for part in (other, pair.words, verdict) if part)

    def tag(self, key: int) -> str:
        """The tag of a station, by its id."""
        return next(at.tag for at in self.stations if at.station_id == key) or "?"

    def kinds_of_flow(self) -> tuple[FlowKind, ...]:
        """The kinds of flow that occur, in the order of the legend."""
        order: tuple[FlowKind, ...] = ("forward", "return", "cull")
        return tuple(kind for kind in order if any(flow.kind == kind for flow in self.flows))


def _list(keys: Iterable[int]) -> str:
    return ", ".join(str(key) for key in keys)


def _refused(why: str) -> InputError:
    return InputError(
        "The picture of the line was not drawn.",
        why,
        "Give each station once, and flows and pairs only between stations of the line.",
    )
