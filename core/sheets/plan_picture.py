"""The picture of a line, filled from its plan: speeds, hertz, use, findings, ratios of pairs."""

from collections.abc import Iterator, Mapping
from typing import get_args

from core.line import LineResults, Plan, PlanEntry
from core.line.findings import LEVELS, Findings
from core.line.pairs import PairResult
from core.model import Flow
from core.model.choices import STATION_KINDS
from core.sheets.drawing import Drawing
from core.sheets.line_picture import (
    PictureData,
    PictureFlow,
    PicturePair,
    PictureStation,
    PictureWords,
    line_picture,
)
from core.sheets.picture_data import FlowKind, Severity
from core.sheets.words import Say, words_of
from core.units import System, show_computed

_NO_SPEED = ("pump", "fan")
_KINDS: Mapping[str, FlowKind] = {"forward": "forward", "cull": "cull", "return": "return"}


def picture_of(
    results: LineResults, plan: Plan, findings: Findings, say: Say, page: tuple[float, float]
) -> Drawing:
    """Draw a line as one of its plans has it.

    Parameters
    ----------
    results : LineResults
        The line and its results.
    plan : Plan
        The plan of one recipe.
    findings : Findings
        What the rules say about it.
    say : callable
        Words in the language of the reader.
    page : tuple of float
        Width and height of where it will be shown [pt].
    """
    return line_picture(picture_data(results, plan, findings, say), page)


def picture_data(results: LineResults, plan: Plan, findings: Findings, say: Say) -> PictureData:
    """Everything that the picture shows, as words in the units of the line."""
    system = results.line.unit_system
    marks = _marks(findings)
    return PictureData(
        tuple(_station(entry, plan, marks, system, say) for entry in plan.entries.values()),
        tuple(_flows(results.line.flows, plan, system)),
        tuple(_pair(result, say) for result in plan.pairs),
        words_of(PictureWords, say),
    )


def _marks(findings: Findings) -> Mapping[int, tuple[Severity, int]]:
    """Gravest level and number of open findings by station."""
    marks: dict[int, tuple[Severity, int]] = {}
    for finding in findings.open:
        if finding.station_id is None:
            continue
        level, count = marks.get(finding.station_id, ("", 0))
        graver = not level or LEVELS.index(finding.level) < LEVELS.index(level)
        marks[finding.station_id] = (finding.level if graver else level, count + 1)
    return marks


def _station(
    entry: PlanEntry,
    plan: Plan,
    marks: Mapping[int, tuple[Severity, int]],
    system: System,
    say: Say,
) -> PictureStation:
    station = entry.station
    level, count = marks.get(station.id, ("", 0))
    assert level in get_args(Severity)
    moves = station.kind not in _NO_SPEED
    share = entry.planned_share
    return PictureStation(
        station.id,
        station.tag,
        station.name,
        station.kind,
        "reverse" if station.turn == "reverse" else "forward",
        _shown(entry.planned_m_s if moves else entry.planned_hz, moves, system),
        _shown(entry.present_m_s if moves else entry.present_hz, moves, system),
        "" if entry.planned_hz is None or not moves else f"{entry.planned_hz:.1f} Hz",
        "" if share is None else say("picture_knob", share=f"{share * 100.0:.0f} %"),
        ""
        if entry.used_share is None
        else say("picture_used", share=f"{entry.used_share * 100.0:.0f} %"),
        level,
        count,
        plan.bottleneck_id == station.id,
        kind_words=say.tr(STATION_KINDS[station.kind]),
    )


def _shown(value: float | None, moves: bool, system: System) -> str:
    if value is None:
        return ""
    return str(show_computed(value, "surface_speed" if moves else "frequency", system))


def _flows(flows: tuple[Flow, ...], plan: Plan, system: System) -> Iterator[PictureFlow]:
    for flow in flows:
        if flow.from_station_id is None or flow.to_station_id is None:
            continue
        amount = plan.rates.link_1_s.get(flow.id)
        words = "" if amount is None else str(show_computed(amount, "count_rate", system))
        kind = _KINDS[flow.kind]
        yield PictureFlow(flow.from_station_id, flow.to_station_id, kind, words)


def _pair(result: PairResult, say: Say) -> PicturePair:
    words = ""
    if result.planned is not None:
        words = f"{result.planned * 100.0:.1f} %"
        if result.u is not None:
            words += f" ± {200.0 * result.u:.1f} %"
    pair, holds, outside = result.pair, result.holds, ""
    if result.is_set_within is False and result.present is not None:
        holds, outside = False, say("picture_outside", now=f"{result.present * 100.0:.1f} %")
    return PicturePair(
        pair.first_station_id or 0, pair.second_station_id or 0, words, holds, outside
    )
