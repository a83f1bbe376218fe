"""The difference sheet: what changed since a record, what that does, and what to put back."""

import dataclasses
import datetime
from collections import Counter
from collections.abc import Iterator, Sequence

from core.records.back_and_forth import ToldBackAndForth
from core.records.comparing import GROUPS, Change, Difference
from core.records.consequences import Consequence
from core.records.put_back import put_back
from core.sheets.cautions import caution_parts
from core.sheets.document import (
    Cell,
    Column,
    Document,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    Paragraph,
    Part,
    Section,
)
from core.sheets.entries import Entries
from core.sheets.front import front_section, sheet_of
from core.sheets.language import printed_in


def difference_sheet(
    difference: Difference,
    consequences: Sequence[Consequence],
    before_name: str,
    after_name: str,
    today: datetime.date | None = None,
    turned: Sequence[ToldBackAndForth] = (),
    digests: tuple[str, str] = ("", ""),
    language: str | None = None,
) -> Document:
    """The difference between two lines as a document.

    Parameters
    ----------
    difference : Difference
        From `core.records.comparing.compare`.
    consequences : sequence of Consequence
        What follows from it, the gravest first.
    before_name, after_name : str
        What the two lines are called: records with their revision, or the line as it stands.
    today : date, optional
        Printed on the first page.
    turned : sequence of ToldBackAndForth
        What was changed in between and changed back.
    digests : tuple of str
        SHA-256 of each of the two that is a frozen record.
    language : str, optional
        Language of the sheet; without it that of the line that is compared with.
    """
    entries = Entries.of(printed_in(difference.after, language))
    say = entries.say
    names = (entries.tr(before_name), entries.tr(after_name))
    front = tuple(_front(entries, difference, names, digests))
    sections = [front_section(entries, today, front)]
    if consequences:
        grid = _consequences(entries, consequences)
        sections.append(Section(say("diff_follows"), (Paragraph(say("diff_key"), "quiet"), grid)))
    told = tuple(_changes(entries, difference))
    if told:
        sections.append(Section(say("diff_changes"), told))
    back = tuple(_put_back(entries, difference))
    if back:
        sections.append(Section(say("diff_put_back"), back))
    if difference.not_read:
        sections.append(Section(say("diff_not_read"), tuple(_not_read(entries, difference))))
    if turned:
        sections.append(Section(say("diff_turned"), tuple(_turned(entries, turned))))
    sheet = sheet_of(entries, "difference", "difference_subtitle", sections, landscape=True)
    return dataclasses.replace(sheet, revision=" → ".join(names))


def _front(
    entries: Entries,
    difference: Difference,
    names: tuple[str, str],
    digests: tuple[str, str],
) -> Iterator[Part]:
    say = entries.say
    counts = Counter(change.group for change in difference.changes if change.sort != "not_read")
    rows = [
        KeyValue(say(key), Cell(name, tone="strong"), f"SHA-256 {digest}" if digest else "")
        for key, name, digest in zip(("diff_before", "diff_after"), names, digests, strict=True)
    ]
    rows += [
        KeyValue(entries.tr(title), Cell(str(counts[group]), counts[group]))
        for group, title in GROUPS.items()
        if counts[group]
    ]
    unread = len(difference.not_read)
    rows.append(
        KeyValue(
            say("diff_not_read"), Cell(str(unread), unread, tone="strong" if unread else "plain")
        )
    )
    yield KeyValues(tuple(rows), columns=2)
    if not difference.changes:
        yield Paragraph(say("diff_none"), "strong")
    yield from caution_parts(say)


def _consequences(entries: Entries, consequences: Sequence[Consequence]) -> Grid:
    say = entries.say
    columns = (
        Column(say("tag"), 0.4),
        Column(say("diff_cause"), 2.2),
        Column(say("diff_effect"), 2.6),
        Column(say("diff_findings"), 2.6),
    )
    rows = []
    for held in consequences:
        causes = "\n".join(change.brief(entries.tr) for change in held.causes)
        effects = "\n".join(effect.words(entries.system, entries.tr) for effect in held.told)
        found = [f"+ {entries.say(f.level)}: {entries.says(f)}" for f in held.came]
        found += [f"− {entries.says(f)}" for f in held.went]
        rows.append(
            (
                Cell(held.tag or say("whole_line"), tone="strong"),
                Cell(causes or say("diff_elsewhere"), tone="plain" if causes else "quiet"),
                Cell(effects or "–"),
                Cell("\n".join(found) or "–"),
            )
        )
    return Grid(columns, tuple(rows))


def _changes(entries: Entries, difference: Difference) -> Iterator[Part]:
    say = entries.say
    for group, title in GROUPS.items():
        held = [change for change in difference.of(group) if change.sort != "not_read"]
        if not held:
            continue
        yield Heading(entries.tr(title), bookmark=True)
        columns = (
            Column(say("tag"), 0.5),
            Column(say("diff_where"), 2.0),
            Column(say("diff_what"), 2.4),
            Column(say("diff_was"), 1.1),
            Column(say("diff_now"), 1.1),
            Column(say("remarks"), 1.4),
        )
        yield Grid(columns, tuple(_row(entries, change) for change in held))


def _row(entries: Entries, change: Change) -> tuple[Cell, ...]:
    plain = change.note or change.sort == "changed"
    note = entries.tr(change.note) if plain else entries.say(f"diff_{change.sort}")
    return (
        Cell(change.tag, tone="strong"),
        Cell(entries.tr(change.where)),
        Cell(entries.tr(change.what)),
        Cell(change.was_told(entries.tr)),
        Cell(change.now_told(entries.tr), tone="strong"),
        Cell(note, tone="quiet"),
    )


def _put_back(entries: Entries, difference: Difference) -> Iterator[Part]:
    say = entries.say
    rows = put_back(difference)
    if not rows:
        return
    yield Paragraph(say("diff_put_back_key"), "quiet")
    columns = (
        Column(say("tag"), 0.6),
        Column(say("code"), 1.0),
        Column(say("meaning"), 2.6),
        Column(say("diff_now"), 0.9),
        Column(say("diff_wanted"), 0.9),
        Column(say("diff_done"), 0.7),
    )
    yield Grid(
        columns,
        tuple(
            (
                Cell(held.tag, tone="strong"),
                Cell(held.code),
                Cell(held.means(entries.tr)),
                Cell(held.now_told),
                Cell(held.wanted_told, tone="strong"),
                Cell("□"),
            )
            for held in rows
        ),
    )


def _not_read(entries: Entries, difference: Difference) -> Iterator[Part]:
    say = entries.say
    yield Paragraph(say("diff_not_read_key"), "strong")
    codes: dict[str, list[str]] = {}
    for change in difference.not_read:
        codes.setdefault(change.tag, []).append(change.field or entries.tr(change.what))
    columns = (Column(say("tag"), 0.5), Column(say("settings"), 6.0))
    yield Grid(
        columns,
        tuple((Cell(tag, tone="strong"), Cell(", ".join(held))) for tag, held in codes.items()),
    )


def _turned(entries: Entries, turned: Sequence[ToldBackAndForth]) -> Iterator[Part]:
    say = entries.say
    yield Paragraph(say("diff_turned_key"), "quiet")
    columns = (
        Column(say("tag"), 0.5),
        Column(say("diff_what"), 2.4),
        Column(say("diff_stands"), 1.1),
        Column(say("diff_meanwhile"), 2.0),
        Column(say("diff_times"), 0.6, "right"),
    )
    yield Grid(
        columns,
        tuple(
            (
                Cell(held.place, tone="strong"),
                Cell(entries.tr(held.what)),
                Cell(held.stands, tone="strong"),
                Cell(held.between),
                Cell(str(held.count), held.count),
            )
            for held in turned
        ),
    )
