"""The rows of a comparison: what follows, every change, what to put back, what was not read."""

from collections.abc import Iterator

from app.compare_work import Compared
from app.read_table import ReadRow
from core.line.findings import Finding
from core.line.findings.base import LEVEL_WORDS
from core.records.comparing import GROUPS, Change
from core.records.consequences import Consequence
from core.units import System

FOLLOWS_HEADINGS = ("", "What follows, the gravest first")
CHANGES_HEADINGS = ("Station", "What", "Was", "Is", "Note")
PUT_BACK_HEADINGS = ("Code", "Meaning", "Shows now", "Put back to")
NOT_READ_HEADINGS = ("Station", "Code", "What")
TURNED_HEADINGS = ("Station", "What", "Stands at", "Meanwhile", "Changes")

_NOTES = {"added": "added", "removed": "removed"}


def follows_rows(found: Compared) -> list[ReadRow]:
    """Place by place what changed and what that does."""
    system = found.difference.after.unit_system
    return [row for held in found.consequences for row in _of_place(held, system)]


def _of_place(held: Consequence, system: System) -> Iterator[ReadRow]:
    tag = held.tag
    head = held.place or "The whole line"
    if not held.causes and tag:
        head = f"{head} feels a change elsewhere"
    yield ReadRow((head,), tag)
    for change in held.causes:
        yield ReadRow(("≠ changed", _sentence(change.brief())), tag)
    for effect in held.told:
        mark = "✗ off plan" if effect.is_worse else "→ follows"
        yield ReadRow((mark, _sentence(effect.words(system))), tag, effect.is_worse)
    for finding in held.came:
        yield ReadRow(("✗ now says", _finding(finding, system)), tag)
    for finding in held.went:
        yield ReadRow(("✓ no longer", _finding(finding, system)), tag)
    if not (held.told or held.came or held.went):
        yield ReadRow(("–", "No figure changes."), tag)


def _sentence(words: str) -> str:
    text = f"{words[:1].upper()}{words[1:]}"
    return text if text.endswith(".") else f"{text}."


def _finding(finding: Finding, system: System) -> str:
    return f"{LEVEL_WORDS[finding.level]}: {finding.says(system)}"


def changes_rows(found: Compared) -> list[ReadRow]:
    """Every difference that could be read, by group and station."""
    rows = []
    for group, title in GROUPS.items():
        held = [change for change in found.difference.of(group) if change.sort != "not_read"]
        if held:
            rows.append(ReadRow((f"{title} ({len(held)})",)))
            rows += [_change(change) for change in held]
    return rows


def _change(change: Change) -> ReadRow:
    what = f"{change.part}: {change.what}" if change.part else change.what
    note = change.note or _NOTES.get(change.sort, "")
    was, now = change.was_told(), change.now_told()
    texts = (change.tag or "Line", f"{what[:1].upper()}{what[1:]}", was, now, note)
    return ReadRow(texts, change.tag)


def put_back_rows(found: Compared) -> list[ReadRow]:
    """Drive by drive in keypad order what to set back."""
    rows: list[ReadRow] = []
    names = {station.tag: station.name for station in found.difference.after.stations}
    last = None
    for held in found.put_back:
        if held.tag != last:
            rows.append(ReadRow((f"{held.tag} {names.get(held.tag, '')}".strip(),), held.tag))
            last = held.tag
        texts = (held.code, held.means(), held.now_told, held.wanted_told)
        rows.append(ReadRow(texts, held.tag))
    return rows


def not_read_rows(found: Compared) -> list[ReadRow]:
    """Settings of which nothing can be said."""
    return [
        ReadRow((change.tag, change.field or "–", change.what), change.tag)
        for change in found.difference.not_read
    ]


def turned_rows(found: Compared) -> list[ReadRow]:
    """What was changed and stands again as it stood."""
    tags = {station.tag for station in found.difference.after.stations}
    return [
        ReadRow(
            (
                held.place,
                f"{held.what[:1].upper()}{held.what[1:]}",
                held.stands,
                held.between,
                str(held.count),
            ),
            held.place if held.place in tags else "",
        )
        for held in found.turned
    ]


def summary(found: Compared) -> str:
    """How much differs, in one sentence."""
    changes = [change for change in found.difference.changes if change.sort != "not_read"]
    if not changes:
        what = "Nothing that could be read" if not_read_count(found) else "Nothing"
        return f"✓ {what} differs."
    stations = {change.tag for change in changes if change.tag}
    parts = [_counted(len(changes), "difference")]
    if stations:
        parts[0] += f" at {_counted(len(stations), 'station')}"
    if found.put_back:
        drives = {held.tag for held in found.put_back}
        told = _counted(len(found.put_back), "setting")
        parts.append(f"{told} to put back at {_counted(len(drives), 'drive')}")
    short = sum(effect.is_worse for held in found.consequences for effect in held.effects)
    if short:
        parts.append(f"✗ {_counted(short, 'figure')} off what the line needs")
    return "; ".join(parts) + "."


def not_read_words(found: Compared) -> str:
    """What could not be read, said so that nobody takes it for the same; empty for none."""
    unread = [change for change in found.difference.not_read if change.field]
    unlisted = [change.tag for change in found.difference.not_read if not change.field]
    parts = []
    if unread:
        stations = {change.tag for change in unread}
        parts.append(f"{_counted(len(unread), 'setting')} at {_counted(len(stations), 'station')}")
    if unlisted:
        parts.append(f"every setting of {', '.join(unlisted)}, whose drive has no list")
    if not parts:
        return ""
    told = "; ".join(parts)
    return f"? NOT READ: {told}. Nothing can be said of them; they may have changed."


def changes_count(found: Compared) -> int:
    """How many differences could be read."""
    return len(found.difference.changes) - not_read_count(found)


def not_read_count(found: Compared) -> int:
    """How many settings nothing can be said of."""
    return len(found.difference.not_read)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
