"""Plan an import, and carry a plan out as one named step."""

from collections.abc import Sequence
from typing import Any

from core.errors import ImportRefusedError
from core.exchange.matching import match_tables
from core.exchange.plan import Add, ImportPlan, Pending, Set
from core.exchange.planning import draft_import
from core.exchange.reading import Table
from core.model import Line
from core.store import LineFile, Step

_REFUSED = "The spreadsheet was not imported."
_FIX = "Mend these cells and import it again; nothing was changed."


def plan_import(line: Line, tables: Sequence[Table]) -> ImportPlan:
    """Plan what an import would do; nothing is written.

    Parameters
    ----------
    line : Line
        The line as it is
    tables : sequence of Table
        What was read from the spreadsheet

    Returns
    -------
    ImportPlan
        Every change, with a summary to read

    Raises
    ------
    ImportRefusedError
        One or more cells, columns or sheets were refused; it lists all of them.
    """
    matched = match_tables(tables)
    draft = draft_import(line, matched)
    if not any(matched.rows.values()) and not draft.faults:
        draft.faults.append("There is no row to import in any sheet.")
    if draft.faults:
        raise ImportRefusedError(_REFUSED, draft.faults, _FIX)
    return ImportPlan(line, tuple(draft.changes), matched.examples, tuple(draft.notes))


def apply_import(book: LineFile, plan: ImportPlan) -> None:
    """Carry a plan out as one named step: all of it, or nothing.

    Parameters
    ----------
    book : LineFile
        The open file
    plan : ImportPlan
        Made for the line as it stands in the file

    Raises
    ------
    ImportRefusedError
        The line was changed since the plan was made.
    """
    if book.line is not plan.line and book.line != plan.line:
        raise ImportRefusedError(
            _REFUSED,
            ["The line was changed since the spreadsheet was read."],
            "Import it again.",
        )
    with book.step(plan.name) as step:
        made: dict[Pending, int] = {}
        for change in plan.changes:
            _carry_out(step, change, made)


def _carry_out(step: Step, change: Add | Set, made: dict[Pending, int]) -> None:
    def known(value: Any) -> Any:
        return made[value] if isinstance(value, Pending) else value

    values = {name: known(value) for name, value in change.values.items()}
    if isinstance(change, Set):
        step.set(change.table, known(change.target), **values)
        return
    before = len(step.changes)
    step.add(change.table, known(change.parent), **values)
    for done in step.changes[before:]:
        made[Pending(done.table, change.handle.number)] = done.record_id
