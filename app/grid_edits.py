"""From texts put into cells of a grid to changes of the line: all, or none with the reasons."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from app.field_text import sentence
from app.grid_columns import Column, Edit, FieldEdit, SettingEdit
from core.errors import InputError
from core.model import Line
from core.store import LineFile, actions

Place = tuple[int, int]
"""Row and column, of a grid or of a table on the clipboard."""


@dataclass(frozen=True, slots=True)
class Put:
    """A text for a cell, with the stored value it was copied from where that is known."""

    text: str
    exact: Any = None


Block = Mapping[Place, Put]
"""What is to be put in, by row and column."""


@dataclass(frozen=True, slots=True)
class Planned:
    """The changes that a block means, and every cell that was refused."""

    edits: tuple[Edit, ...]
    faults: tuple[str, ...]


def heading_of(column: Column, line: Line) -> str:
    """The heading of a column in one line, as it is copied."""
    code, meaning, unit = column.heading(line)
    return " ".join(part for part in (code, meaning, f"[{unit}]" if unit else "") if part)


def short_heading(column: Column, line: Line) -> str:
    """What a column is called in a message."""
    code, meaning, _ = column.heading(line)
    return code if code and column.key.startswith("setting ") else f"{code} {meaning}".strip()


def plan_block(
    line: Line,
    row_at: Callable[[int], Any],
    row_name: Callable[[int], str],
    columns: Sequence[Column],
    block: Block,
) -> Planned:
    """Read every cell of a block.

    A cell that would stay as it is gives no change, so that a block copied and put back changes
    nothing. A field that governs others counts for the cells to its right.
    """
    edits: list[Edit] = []
    faults: list[str] = []
    after: dict[int, Any] = {}
    for place in sorted(block):
        row = after.get(place[0], row_at(place[0]))
        column = columns[place[1]]
        try:
            edit = _edit(line, row, column, block[place])
        except InputError as error:
            where = f"{row_name(place[0])}, {short_heading(column, line)}"
            faults.append(f"{where}: {sentence(error)}")
            continue
        if edit is not None:
            edits.append(edit)
            after[place[0]] = column.after(row, edit)
    faults += _unnamed(line, row_name, columns, after)
    return Planned(tuple(edits), tuple(faults))


def store(book: LineFile, edits: Iterable[Edit], name: str) -> None:
    """Store changes of stations as one step.

    Raises
    ------
    InputError
        A value was refused after all, such as a tag that is there twice; nothing is changed.
    """
    edits = tuple(edits)
    settings: dict[int, dict[str, str]] = {}
    for edit in edits:
        if isinstance(edit, SettingEdit):
            settings.setdefault(edit.station_id, {})[edit.code] = edit.shown
    # A set of columns holds fields or settings, never both, so each block is one step.
    if settings:
        actions.set_settings(book, settings, name)
    fields = plain(edit for edit in edits if isinstance(edit, FieldEdit))
    if fields:
        actions.set_many(book, name, fields)


def plain(edits: Iterable[FieldEdit]) -> list[tuple[str, int, dict[str, Any]]]:
    """Changes of fields as the actions of the store take them: table, record, values."""
    return [(edit.table, edit.record_id, dict(edit.values)) for edit in edits]


def _edit(line: Line, row: Any, column: Column, put: Put) -> Edit | None:
    cell = column.cell(line, row)
    if put.text.strip() == cell.text.strip() and put.exact is None:
        return None
    if not put.text.strip() and (row.id < 0 or not cell.applies):
        return None
    exact = column.edit_exact(row, put.exact) if put.exact is not None else None
    return exact or column.edit(line, row, put.text)


def _unnamed(
    line: Line,
    row_name: Callable[[int], str],
    columns: Sequence[Column],
    after: Mapping[int, Any],
) -> Iterable[str]:
    """Faults of rows that lack a value they need as their own, or share it within the block."""
    for column in (column for column in columns if column.unique):
        heading = short_heading(column, line)
        seen: set[str] = set()
        for at, row in after.items():
            text = column.cell(line, row).text
            if not text:
                yield f"{row_name(at)}, {heading}: Found nothing. Every row needs its own."
            elif text in seen:
                yield f"{row_name(at)}, {heading}: '{text}' comes twice. Every row needs its own."
            seen.add(text)
