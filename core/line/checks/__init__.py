"""Proving that each station works: which checks apply, what they expect, where they stand."""

from collections.abc import Iterable, Iterator, Mapping

from core.line.checks import electrical, running
from core.line.checks.base import (
    CHECKS,
    CheckItem,
    CheckRule,
    Entered,
    Limits,
    Place,
    State,
    done_share,
)
from core.line.results import LineResults
from core.model import Check, Line, OwnCheck, Station
from core.model.choices import STAGES

CHECK_MODULES = (electrical, running)
"""Importing them enters their checks."""
OWN_PREFIX = "own:"
STAGE_ORDER = tuple(STAGES)


def checks_of(results: LineResults) -> tuple[CheckItem, ...]:
    """Every check that applies to a line, by stage and in the order of its stations.

    Parameters
    ----------
    results : LineResults
        The line and its figures, from which limits and expected values come.

    Notes
    -----
    A result that was entered for a check which no longer applies is kept, and listed with it.
    """
    known = {(held.name, held.station_id): held for held in results.line.checks}
    items = [
        *_of_linebook(results, known),
        *(item for own in results.line.own_checks for item in _of_own(results, own, known)),
    ]
    order = {stage: place for place, stage in enumerate(STAGE_ORDER)}
    places = {station.id: at for at, station in enumerate(results.line.stations, start=1)}
    items.sort(key=lambda item: (order[item.rule.stage], places.get(item.station_id or 0, 0)))
    return tuple(items)


_Known = Mapping[tuple[str, int | None], Check]


def _of_linebook(results: LineResults, known: _Known) -> Iterator[CheckItem]:
    whole = Place(results)
    for held in CHECKS.values():
        places = [whole] if held.for_line else [Place(results, at) for at in results.stations]
        for place in places:
            station_id = place.result.station.id if place.result else None
            result = known.get((held.rule.key, station_id))
            if held.applies(place):
                yield _item(held, place, result)
            elif result is not None and result.answer not in ("open", "not_applicable"):
                tag = place.result.tag if place.result else ""
                yield CheckItem(held.rule, station_id, tag, Limits(), result, applies=False)


def _item(held: Entered, place: Place, result: Check | None) -> CheckItem:
    station = place.result.station if place.result else None
    return CheckItem(
        held.rule,
        station.id if station else None,
        station.tag if station else "",
        held.limits(place),
        result,
    )


def _of_own(results: LineResults, own: OwnCheck, known: _Known) -> Iterator[CheckItem]:
    key = f"{OWN_PREFIX}{own.id}"
    options = _words(own.options) if own.form == "choice" else ()
    kind = (own.kind or "factor") if own.form == "reading" else ""
    rule = CheckRule(
        key, own.stage, own.name, own.how, kind, options={word: word for word in options}
    )
    good = tuple(word for word in _words(own.good) if word in options) or options[:1]
    limits = Limits(own.low, own.high, None, "own limits", good=good)
    stations: tuple[Station | None, ...] = (None,)
    if own.applies_to == "station":
        stations = results.line.stations
    for station in stations:
        station_id = station.id if station else None
        tag = station.tag if station else ""
        yield CheckItem(rule, station_id, tag, limits, known.get((key, station_id)))


def station_wise(
    items: Iterable[CheckItem], line: Line
) -> tuple[tuple[Station | None, tuple[CheckItem, ...]], ...]:
    """Checks by station: those of the line as a whole first, then in the order of the stations.

    Field sheets go in this order, and so does typing them in afterwards. A place without any
    check is left out.
    """
    held = tuple(items)
    found = []
    for station in (None, *line.stations):
        wanted = station.id if station else None
        own = tuple(item for item in held if item.station_id == wanted)
        if own:
            found.append((station, own))
    return tuple(found)


def _words(text: str) -> tuple[str, ...]:
    """Options as they were typed, with ; between; each once."""
    return tuple(dict.fromkeys(word for part in text.split(";") if (word := part.strip())))


def station_state(items: tuple[CheckItem, ...], station_id: int) -> str:
    """The last stage up to which every check of a station is done; empty where none is."""
    reached = ""
    for stage in STAGE_ORDER:
        held = [i for i in items if i.station_id == station_id and i.rule.stage == stage]
        if any(not item.is_done for item in held):
            break
        if held:
            reached = stage
    return reached


def kept_count(items: Iterable[CheckItem], station_id: int | None = None) -> int:
    """How many answers stand out of their limits with a reason; of one station, or of all."""
    held = (item for item in items if station_id in (None, item.station_id))
    return sum(item.state == "kept" for item in held)


__all__ = [
    "CHECKS",
    "OWN_PREFIX",
    "STAGE_ORDER",
    "CheckItem",
    "CheckRule",
    "Limits",
    "State",
    "checks_of",
    "done_share",
    "kept_count",
    "station_state",
    "station_wise",
]
