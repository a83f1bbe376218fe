"""Many changes told as few: what is done over and over to one record counts once."""

from collections.abc import Iterable

from core.model import RECORDS
from core.store.steps import Change, Row, Top


def condensed(changes: Iterable[Change]) -> list[Change]:
    """Fewer changes that lead from the same rows to the same rows.

    Parameters
    ----------
    changes : iterable of Change
        In their order, as steps made them.

    Returns
    -------
    list of Change
        For replaying, in an order in which they can be: a value set several times is set once,
        where it was set first; what comes back to where it was is left out.

    Notes
    -----
    Fields that point to other records, and those that no two may share, keep their own place in
    the order, since what they rest on may be made or moved in between.
    """
    kept: list[Change] = []
    newest: dict[Top, int] = {}
    for change in changes:
        key = (change.table, change.record_id)
        place = newest.get(key)
        if place is not None and kept[place].after is not None and _is_free(change):
            kept[place] = _merged(kept[place], change)
        else:
            newest[key] = len(kept)
            kept.append(change)
    return [slim for change in kept if (slim := _slimmed(change)) is not None]


def _is_free(change: Change) -> bool:
    """Whether it only sets values that hang on no other row."""
    if change.before is None or change.after is None:
        return False
    held = {field.name: field for field in RECORDS[change.table].fields}
    fields = [held.get(name) for name in change.after]
    return all(field and field.sort != "ref" and not field.unique for field in fields)


def _merged(first: Change, then: Change) -> Change:
    before: Row | None = None
    if first.before is not None:
        before = {**(then.before or {}), **first.before}
    after = {**(first.after or {}), **(then.after or {})}
    return Change(first.table, first.record_id, before, after)


def _slimmed(change: Change) -> Change | None:
    if change.before is None or change.after is None:
        return change
    names = [name for name in change.after if change.before[name] != change.after[name]]
    if not names:
        return None
    return Change(
        change.table,
        change.record_id,
        {name: change.before[name] for name in names},
        {name: change.after[name] for name in names},
    )
