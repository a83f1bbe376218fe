"""A card for every knob, to cut out and fix beside it, and all of them as one list."""

import datetime
from collections.abc import Collection, Iterator, Sequence

from core.line import LineResults, PlanEntry
from core.line.acting import acting_travel
from core.model import Line, Station
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Paragraph,
    Picture,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.front import chosen, front_section, sheet_of
from core.sheets.knob_drawing import Card, Mark, card_rows

_SHARE, _HERTZ, _SPEED = (
    "reference_wanted_share",
    "frequency_wanted_hz",
    "surface_speed_wanted_m_s",
)
_BETWEEN = " · "


def knob_cards(
    line: Line,
    results: LineResults,
    station_ids: Collection[int] | None = None,
    today: datetime.date | None = None,
) -> Document:
    """A card for each knob, to fix beside it: its normal place, its limits, what they mean.

    Parameters
    ----------
    line : Line
        From a file, or rebuilt from a record.
    results : LineResults
        Its results, with the plan of every recipe.
    station_ids : collection of int, optional
        The stations wanted; all without it.
    today : date, optional
        Printed on the first page.
    """
    entries = Entries.of(line)
    say = entries.say
    stations = [
        station
        for station in chosen(line, station_ids)
        if results.station(station.id).chain is not None
    ]
    cards = [_card(entries, results, station) for station in stations]
    pictures = tuple(
        Picture(drawing, yields=False) for drawing in card_rows(cards, say("knob_cards"))
    )
    key = Paragraph(say("knob_key" if cards else "knob_none"), "quiet")
    sections = [front_section(entries, today, (key,))]
    if cards:
        sections.append(Section(say("knob_cards"), pictures, "paper"))
        sections.append(Section(say("knob_places"), (_list(entries, results, stations),)))
    return sheet_of(entries, "knob_cards", "knob_subtitle", sections)


def _card(entries: Entries, results: LineResults, station: Station) -> Card:
    chain = results.station(station.id).chain
    assert chain is not None
    kind = "signal_current" if chain.source.signal == "current" else "voltage"
    ends = tuple(
        entries.quantity(end, kind).with_unit for end in (chain.source.low, chain.source.high)
    )
    marks = tuple(
        _mark(entries, plan.recipe.name if plan.recipe else "", plan.entries[station.id])
        for plan in results.plans
    )
    return Card(
        station.tag,
        station.name,
        chain.kind == "potentiometer",
        (ends[0], ends[1]),
        acting_travel(chain),
        marks,
        tuple(_notes(entries, results, station)),
        tuple(entries.say("knob_pair", other=other) for other in _pair_sides(results, station)),
    )


def _mark(entries: Entries, recipe: str, entry: PlanEntry) -> Mark:
    def told(*keys: str) -> str:
        figures = [figure for figure in map(entry.wanted.get, keys) if figure is not None]
        cells = [entries.computed(figure.value, figure.kind).with_unit for figure in figures]
        return _BETWEEN.join(cells)

    share = entry.wanted.get(_SHARE)
    signal = _signal(entry)
    return Mark(
        share.value if share else None,
        recipe or entries.say("no_recipe"),
        told(_SHARE) if share else entries.say("knob_no_place"),
        (told(signal, _HERTZ), told(_SPEED)) if share else (told(_HERTZ, _SPEED),),
    )


def _notes(entries: Entries, results: LineResults, station: Station) -> Iterator[str]:
    limits = results.station(station.id).limits
    if limits is not None:
        low, high = (
            entries.computed(value, "frequency").with_unit
            for value in (limits.minimum_hz, limits.maximum_hz)
        )
        yield entries.say("knob_limits", low=low, high=high)


def _pair_sides(results: LineResults, station: Station) -> Iterator[str]:
    """Tags of the stations that a station is held at a ratio with."""
    for held in results.plan.pairs:
        tags = [side.result.tag for side in (held.first, held.second)]
        if station.tag in tags:
            yield tags[1 - tags.index(station.tag)]


def _signal(entry: PlanEntry) -> str:
    return "signal_wanted_a" if "signal_wanted_a" in entry.wanted else "signal_wanted_v"


def _list(entries: Entries, results: LineResults, stations: Sequence[Station]) -> Grid:
    """The same as one list: for every knob and recipe where it stands, and what that does."""
    say = entries.say
    columns = (
        Column(say("tag"), 0.5),
        Column(say("name"), 1.9),
        Column(say("recipe"), 1.2),
        Column(say("plan_travel"), 0.7, "right", units=True),
        Column(say("plan_signal"), 0.8, "right", units=True),
        Column(say("plan_hertz"), 0.9, "right", units=True),
        Column(say("plan_planned"), 0.9, "right", units=True),
        Column(say("knob_pairs"), 0.7),
    )
    rows = []
    for station in stations:
        others = ", ".join(_pair_sides(results, station))
        for plan in results.plans:
            entry = plan.entries[station.id]
            name = Cell(plan.recipe.name if plan.recipe else say("no_recipe"))
            head = (Cell(station.tag, tone="strong"), Cell(station.name), name)
            rows.append((*head, *_place(entries, entry), Cell(others)))
    return Grid(columns, tuple(rows))


def _place(entries: Entries, entry: PlanEntry) -> Iterator[Cell]:
    for key in (_SHARE, _signal(entry), _HERTZ, _SPEED):
        figure = entry.wanted.get(key)
        yield entries.computed(figure.value if figure else None, figure.kind if figure else "")
