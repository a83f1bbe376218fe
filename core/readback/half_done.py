"""A walk that was broken off, as a small text to keep and to go on from.

Only what the hands typed is kept, never a number made from it: every entry is read against the
lists of the line anew, so that a text altered elsewhere can bring in nothing that a keypad could
not show.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from core.errors import InputError
from core.readback.results import Entry, not_read, taken
from core.readback.walk import SKIPPED, Walk

KIND = "linebook-walk"
FORM = 1
_WHAT = "The walk begun earlier was not taken up."
_FIX = "Begin the walk anew; what was kept is set aside, not deleted."

Aside = tuple[Mapping[str, Any], ...]
"""Entries, as they are kept, for which the line has no place."""


@dataclass(frozen=True, slots=True)
class HalfDone:
    """A walk taken up again: when it was begun, and entries that the line has no place for now.

    ``lost`` names those that had a place before; ``aside`` holds them all, to be taken in again
    when their station or setting is back; ``back`` names those that were.
    """

    walk: Walk
    begun: str
    lost: tuple[str, ...]
    aside: Aside = ()
    back: tuple[str, ...] = ()


def kept_text(walk: Walk, begun: str) -> str:
    """A walk as text to keep.

    Parameters
    ----------
    walk : Walk
        Where it stands, and what it found
    begun : str
        When it was begun, to tell it by

    Returns
    -------
    str
        JSON; :func:`gone_on` takes it up
    """
    tags = {station.id: station.tag for station in walk.line.stations}
    step = walk.step
    kept = {
        "kind": KIND,
        "form": FORM,
        "begun": begun,
        "at": [step.wanted.station.id, step.code] if step else None,
        "entries": [
            {
                "station": entry.station_id,
                "tag": tags[entry.station_id],
                "code": entry.code,
                "read": entry.state != "not_read",
                "text": entry.reason if entry.state == "not_read" else entry.shown,
            }
            for entry in walk.found.values()
        ],
    }
    return json.dumps(kept, ensure_ascii=False, indent=1)


def gone_on(walk: Walk, text: str, *, is_same_line: bool = False, aside: Aside = ()) -> HalfDone:
    """Take up a walk that was kept.

    Parameters
    ----------
    walk : Walk
        The walk through the line as it is now, just begun
    text : str
        From :func:`kept_text`
    is_same_line : bool
        The line is the one that was walked, only edited since: a station with another tag is still
        the same. Without it another tag means another drive, as where a file was replaced.
    aside : tuple of mapping
        What the same walk held when the line had no place for it; it comes first, so that what
        was entered since stands.

    Returns
    -------
    HalfDone
        It stands where it stood, or else at the first setting without an entry

    Raises
    ------
    InputError
        The text is no walk, or one of a later Linebook.
    """
    kept = _read(text)
    steps = {step.wanted.key: step for step in walk.steps}
    found: dict[tuple[int, str], Entry] = {}
    out: list[Mapping[str, Any]] = []
    held = tuple(_entries(kept))
    for each in (*aside, *held):
        step = steps.get((each["station"], each["code"]))
        if step is None or (step.tag != each["tag"] and not is_same_line):
            out.append(each)
        elif each["read"]:
            found[step.wanted.key] = taken(step.wanted, each["text"])
        else:
            found[step.wanted.key] = not_read(step.wanted, each["text"] or SKIPPED)
    place = _place(walk, kept.get("at"), found)
    whole = replace(walk, place=place, found=found)
    lost = tuple(_name(each) for each in held if each in out)
    back = tuple(_name(each) for each in aside if each not in out)
    return HalfDone(whole, str(kept.get("begun", "")), lost, tuple(out), back)


def _name(each: Mapping[str, Any]) -> str:
    return f"{each['tag']} {each['code']}"


def _place(walk: Walk, at: Any, found: Mapping[tuple[int, str], Entry]) -> int:
    for place, step in enumerate(walk.steps):
        if at == [step.wanted.station.id, step.code]:
            return place
    end = len(walk.steps)
    return next((n for n, step in enumerate(walk.steps) if step.wanted.key not in found), end)


def _read(text: str) -> dict[str, Any]:
    try:
        kept = json.loads(text)
    except ValueError:
        kept = None
    if not isinstance(kept, dict) or kept.get("kind") != KIND:
        raise InputError(_WHAT, "What was kept of it is damaged.", _FIX)
    if kept.get("form") != FORM:
        raise InputError(_WHAT, "Another version of Linebook kept it.", _FIX)
    return kept


def _entries(kept: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    kinds = {"station": int, "tag": str, "code": str, "read": bool, "text": str}
    entries = kept.get("entries")
    for each in entries if isinstance(entries, list) else [None]:
        if not isinstance(each, dict) or any(
            not isinstance(each.get(name), kind) for name, kind in kinds.items()
        ):
            raise InputError(_WHAT, "What was kept of it is damaged.", _FIX)
        yield each
