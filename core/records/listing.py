"""A difference as plain data for other programs, and as text for a terminal."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from core.records.back_and_forth import ToldBackAndForth
from core.records.comparing import GROUPS, Change, Difference
from core.records.consequences import Consequence
from core.records.put_back import put_back

FORMAT_NAME = "linebook-difference-1"


def difference_as_data(
    difference: Difference,
    consequences: Sequence[Consequence],
    turned: Sequence[ToldBackAndForth] = (),
) -> dict[str, Any]:
    """Every change, every consequence with its figures in SI, what to put back, what was turned."""
    system = difference.after.unit_system
    return {
        "format": FORMAT_NAME,
        "line": difference.after.name,
        "changes": [_change(change) for change in difference.changes],
        "consequences": [
            {
                "station": held.tag,
                "sentence": held.sentence(system),
                "effects": [
                    {
                        "key": effect.key,
                        "before": effect.before,
                        "after": effect.after,
                        "need": effect.need,
                    }
                    for effect in held.effects
                ],
                "findings_came": [finding.key for finding in held.came],
                "findings_went": [finding.key for finding in held.went],
            }
            for held in consequences
        ],
        "put_back": [
            {"station": held.tag, "code": held.code, "now": held.now, "wanted": held.wanted}
            for held in put_back(difference)
        ],
        "back_and_forth": [
            {
                "place": each.place,
                "what": each.what,
                "stands": each.stands,
                "meanwhile": each.between,
                "changes": each.count,
            }
            for each in turned
        ],
    }


def _change(change: Change) -> dict[str, Any]:
    return {
        "sort": change.sort,
        "group": change.group,
        "station": change.tag,
        "table": change.table,
        "field": change.field,
        "was": change.was,
        "now": change.now,
        "sentence": change.sentence(),
    }


def difference_as_text(difference: Difference, consequences: Sequence[Consequence]) -> str:
    """Changes by group, then what follows, the gravest first, then what to put back."""
    system = difference.after.unit_system
    if not difference.changes:
        return "Nothing differs."
    lines = []
    for group, title in GROUPS.items():
        changes = difference.of(group)
        told = [f"  {change.sentence()}" for change in changes if change.sort != "not_read"]
        if told:
            lines += [title, *told, ""]
    unread = Counter(change.tag for change in difference.not_read if change.field)
    unlisted = [change for change in difference.not_read if not change.field]
    if difference.not_read:
        lines.append("Not read, so nothing can be said of them")
        lines += [f"  {tag}: {count} settings" for tag, count in unread.items()]
        lines += [f"  {change.tag}: {change.what}" for change in unlisted]
        lines.append("")
    lines.append("What follows")
    lines += [f"  {each.sentence(system)}" for each in consequences]
    back = put_back(difference)
    if back:
        lines += ["", "To put back, in keypad order"]
        lines += [
            f"  {held.tag}  {held.code}  {held.now_told} → {held.wanted_told}"
            f"{f'  ({held.note})' if held.note else ''}"
            for held in back
        ]
    return "\n".join(lines)
