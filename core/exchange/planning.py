"""Plan what each row of a spreadsheet would change in a line; nothing is written.

A row meets the record of the same name, tag or code; without one it becomes a new record. A blank
cell leaves a value as it is, and nothing is ever removed.
"""

from itertools import pairwise
from typing import Any

from core.errors import InputError
from core.exchange.cells import (
    EMPTY,
    nearest,
    read_typed,
    read_value,
    short,
    under_heading,
    unshield,
)
from core.exchange.graph import ROOT, Graph
from core.exchange.layout import SHEETS, Column, Sheet
from core.exchange.matching import Matched, Row
from core.exchange.plan import Draft, Handle, Pending
from core.exchange.telling import Teller
from core.model import RECORDS, FieldSpec, Line, ListedSetting
from core.model.entry import check_entered
from core.model.keypad import read_keypad
from core.units import System

_Values = dict[str, Any]
# Without this, a new record would say nothing.
_NEEDED = {"setting": "shown"}


def draft_import(line: Line, matched: Matched) -> Draft:
    """Plan every row, in the order of the sheets, and collect every fault."""
    planner = _Planner(line, matched)
    for sheet in SHEETS:
        for row in matched.rows.get(sheet.title, []):
            planner.plan_row(row)
    if not matched.rows.get("Flow"):
        planner.join_new_stations()
    return planner.draft


class _Planner:
    def __init__(self, line: Line, matched: Matched) -> None:
        self.draft = Draft(faults=matched.faults)
        self.graph = Graph(line)
        self.system: System = "us" if line.unit_system == "us" else "metric"
        self._names = {title: _names(rows) for title, rows in matched.rows.items()}
        self._met: dict[tuple[str, Handle, Any], Row] = {}
        self._taken: set[tuple[str, Handle]] = set()
        self._lists: dict[Handle, dict[str, ListedSetting]] = {}

    def plan_row(self, row: Row) -> None:
        """Plan one row: its record, then what the record holds beside it."""
        sheet = row.sheet
        if sheet.down:
            self._plan_line(row)
        elif not _says_none(row):
            values = self._values(row, sheet.table)
            owner = self._owner(row) if sheet.owner else self.graph.root
            handle = None if owner is None else self._place(row, owner, values)
            for part in sheet.parts:
                self._plan_part(row, part, handle)

    def join_new_stations(self) -> None:
        """Let each new station be fed by the station before it."""
        stations = self.graph.held("station", self.graph.root)
        for before, after in pairwise(stations):
            if isinstance(after, Pending):
                ends = {"from_station_id": before, "to_station_id": after}
                self.draft.add("flow", None, ends, self._teller().label("flow", ends), "the line")

    # --- records ----------------------------------------------------------------------------

    def _plan_line(self, row: Row) -> None:
        # Bare numbers are in the units that the very sheet asks for, so these are read first.
        column = next(c for c in row.sheet.columns if c.field.name == "unit_system")
        faults = len(self.draft.faults)
        asked = self._value(row, column)
        del self.draft.faults[faults:]
        self.system = asked or self.system
        self._change(ROOT, self.graph.root, self._values(row, ROOT), "line")

    def _owner(self, row: Row) -> Handle | None:
        """The record named in the first column; None after a fault."""
        column = row.sheet.columns[0]
        if column.label not in row.cells:
            what = RECORDS[row.sheet.table].label.lower()
            self._fault(row, column, f"the {what} needs its {column.label.lower()}.")
            return None
        return self._named(row, column, column.table)

    def _named(self, row: Row, column: Column, table: str) -> Handle | None:
        name = unshield(row.text(column)).strip()
        handle = self.graph.named(table, name) if name else None
        if handle is None and name:
            known = nearest(name, self.graph.names(table))
            what = f"there is no {RECORDS[table].label.lower()} '{short(name)}'."
            self._fault(row, column, what + known)
        return handle

    def _place(self, row: Row, owner: Handle, values: _Values) -> Handle | None:
        """Find or add the record of a row; None after a fault."""
        sheet, table = row.sheet, row.sheet.table
        holder = RECORDS[table].parent
        parent = owner if holder in (sheet.owner, ROOT) else self.graph.single(holder, owner)
        if table == "setting":
            self._read_setting(row, owner, values)
        if not self._key_is_free(row, parent, values):
            return None
        inside = self.graph.name(sheet.owner, owner) if sheet.owner else ""
        found = self._meet(row, parent, values)
        if not self._is_formed(row, found, values):
            return None
        if found is not None:
            self._taken.add((table, found))
            self._change(table, found, values, self._told_place(sheet, found, inside))
            return found
        return self._add(row, parent, values, inside)

    def _add(self, row: Row, parent: Handle, values: _Values, inside: str) -> Handle | None:
        table = row.sheet.table
        needed = _NEEDED.get(table)
        if needed and needed not in values:
            column = next(c for c in row.sheet.columns if c.field.name == needed)
            if column.label not in row.cells:
                self._fault(row, column, f"a new {RECORDS[table].label.lower()} needs it.")
            return None
        handle = self.draft.add(table, parent, values, self._teller().label(table, values), inside)
        self.graph.enter(table, handle, parent, values)
        return handle

    def _key_is_free(self, row: Row, parent: Handle, values: _Values) -> bool:
        """Whether the row's own name, if it has to have one, is there and stands only once."""
        table = row.sheet.table
        keyed = [
            c for c in row.sheet.columns if c.table == table and c.field.unique and not c.owner
        ]
        for column in keyed:
            key = values.get(column.field.name)
            if not key:
                if isinstance(row.cells.get(column.label, ""), str):
                    what = RECORDS[table].label.lower()
                    self._fault(row, column, f"every {what} needs its own.")
                return False
            earlier = self._met.setdefault((table, parent, key), row)
            if earlier is not row:
                self._fault(row, column, f"'{short(key)}' stands in row {earlier.number} already.")
                return False
        if table == "flow" and _joins_itself(values):
            self._fault(row, None, "a station cannot feed itself.")
            return False
        return True

    def _is_formed(self, row: Row, found: Handle | None, values: _Values) -> bool:
        """Whether what is new has the form of its field; what an older file holds may stay."""
        held = {} if found is None else self.graph.values(row.sheet.table, found)
        faults = len(self.draft.faults)
        for column in row.sheet.columns:
            value = values.get(column.field.name)
            if column.field.pairs and value is not None and value != held.get(column.field.name):
                try:
                    check_entered(column.field, value)
                except InputError as refused:
                    self._fault(row, column, f"{refused.why} {refused.fix}")
        return len(self.draft.faults) == faults

    def _meet(self, row: Row, parent: Handle, values: _Values) -> Handle | None:
        """The record of the line that a row is about, each met once at the most."""
        table, keys = row.sheet.table, row.sheet.keys
        spec = RECORDS[table]
        fields = [spec.field(name) for name in keys]
        key = [values.get(field.name, field.default) for field in fields]
        alike = self.graph.keyed(table, parent, keys[0], key[0])
        free = [h for h in alike if (table, h) not in self._taken and not self._is_first(h, row)]
        for agree in (_same, _same_or_unknown):
            for handle in free:
                held = self.graph.values(table, handle)
                if all(agree(f, held[f.name], k) for f, k in zip(fields[1:], key[1:], strict=True)):
                    return handle
        return self._named_in_other_case(row, values) if spec.field(keys[0]).unique else None

    def _named_in_other_case(self, row: Row, values: _Values) -> Handle | None:
        """The record whose name differs in case alone, unless another row has that very name."""
        table, field = row.sheet.table, row.sheet.keys[0]
        if row.sheet.owner:
            return None
        found = self.graph.named(table, values[field])
        if (
            not isinstance(found, int)
            or self.graph.name(table, found) in self._names[row.sheet.title]
        ):
            return None
        values[field] = self.graph.name(table, found)
        return found

    def _is_first(self, handle: Handle, row: Row) -> bool:
        # The first motor of a station belongs to the station's own row.
        if row.sheet.table != "motor":
            return False
        owner = self.graph.named("station", unshield(row.text(row.sheet.columns[0])).strip())
        return owner is not None and self.graph.held("motor", owner)[0] == handle

    def _plan_part(self, row: Row, part: str, holder: Handle | None) -> None:
        """Plan what stands beside the main record of a row."""
        values = self._values(row, part)
        if holder is None:
            return
        cells = [
            row.cells[c.label]
            for c in row.sheet.columns
            if c.table == part and c.label in row.cells
        ]
        if part != "motor":
            target = self.graph.single(part, holder)
        elif self.graph.held(part, holder):
            target = self.graph.held(part, holder)[0]
        elif cells and all(cell == EMPTY for cell in cells):
            return  # says that there is no motor
        elif cells or isinstance(holder, Pending):
            target = self.draft.add(part, holder, values, "", self.graph.name("station", holder))
            self.graph.enter(part, target, holder, values)
            return
        else:
            return
        where = f"{self.graph.name('station', holder)} {RECORDS[part].label.lower()}"
        self._change(part, target, values, where)

    # --- values -----------------------------------------------------------------------------

    def _values(self, row: Row, table: str) -> _Values:
        """The values of a row's cells for one record, with the texts kept as typed."""
        values: _Values = {}
        for column in row.sheet.columns:
            if column.table != table or column.owner or column.label not in row.cells:
                continue
            faults = len(self.draft.faults)
            value = self._value(row, column)
            if row.text(column) and len(self.draft.faults) == faults:
                values[column.field.name] = value
                if column.typed:
                    text = read_typed(column.field, self._text(row, column), value, self.system)
                    values[column.typed] = text
        return values

    def _text(self, row: Row, column: Column) -> str:
        unit = row.units.get(column.label, "")
        return under_heading(column.field, row.text(column), unit, self.system)

    def _value(self, row: Row, column: Column) -> Any:
        text = self._text(row, column)
        if not text:
            return None
        if column.field.sort == "ref" and text != EMPTY:
            return self._named(row, column, column.field.target)
        try:
            return read_value(column.field, text, self.system)
        except InputError as refused:
            self._fault(row, column, f"{refused.why} {refused.fix}")
            return None

    def _read_setting(self, row: Row, station: Handle, values: _Values) -> None:
        """Read the value of a drive setting by its line in the drive type's list."""
        code, shown = values.get("code"), values.pop("shown", None)
        if not code or shown is None:
            return
        drive = self.graph.values("drive", self.graph.single("drive", station))
        drive_type = drive["drive_type_id"]
        listed = self._listed(drive_type)
        if listed and code not in listed:
            name = self.graph.name("drive_type", drive_type)
            self.draft.notes.append(
                f"{row.place()}: {short(code)} is not in the list of {short(name)}; "
                "its value is taken as it stands"
            )
        if not shown:
            values.update(shown="", value=None)
            return
        try:
            reading = read_keypad(shown, listed.get(code))
        except InputError as refused:
            column = next(c for c in row.sheet.columns if c.field.name == "shown")
            self._fault(row, column, f"{refused.why} {refused.fix}")
        else:
            values.update(shown=reading.shown, value=reading.value)

    def _listed(self, drive_type: Handle | None) -> dict[str, ListedSetting]:
        if drive_type is None:
            return {}
        if drive_type not in self._lists:
            entries = [
                ListedSetting(**self.graph.values("listed_setting", handle))
                for handle in self.graph.held("listed_setting", drive_type)
            ]
            self._lists[drive_type] = {entry.code: entry for entry in entries}
        return self._lists[drive_type]

    # --- what is told -----------------------------------------------------------------------

    def _change(self, table: str, handle: Handle, values: _Values, where: str) -> None:
        before = self.graph.values(table, handle)
        changed = {name: value for name, value in values.items() if before[name] != value}
        told = [] if isinstance(handle, Pending) else self._teller().told(table, handle, changed)
        self.draft.set(table, handle, changed, [f"{where} {change}" for change in told])
        self.graph.change(table, handle, changed)

    def _teller(self) -> Teller:
        return Teller(self.graph, self.system)

    def _told_place(self, sheet: Sheet, handle: Handle, inside: str) -> str:
        label = self._teller().label(sheet.table, self.graph.values(sheet.table, handle))
        if sheet.table == "station":
            return label
        own = f"{RECORDS[sheet.table].label.lower()} {label}".strip()
        return f"{inside} {own}" if inside else own

    def _fault(self, row: Row, column: Column | None, why: str) -> None:
        self.draft.faults.append(f"{row.place(column)}: {why}")


def _names(rows: list[Row]) -> set[str]:
    """The names that the rows of a sheet have, for tables whose names are their own."""
    if not rows or rows[0].sheet.down:
        return set()
    column = rows[0].sheet.columns[0]
    return {unshield(row.text(column)).strip() for row in rows}


def _says_none(row: Row) -> bool:
    """Whether a row only says that there are no flow links."""
    return row.sheet.table == "flow" and all(cell == EMPTY for cell in row.cells.values())


def _joins_itself(values: _Values) -> bool:
    ends = values.get("from_station_id"), values.get("to_station_id")
    return ends[0] is not None and ends[0] == ends[1]


def _same(_field: FieldSpec, held: Any, wanted: Any) -> bool:
    return bool(held == wanted)


def _same_or_unknown(field: FieldSpec, held: Any, wanted: Any) -> bool:
    """Whether two texts agree, or one of them says nothing."""
    return held == wanted or (field.sort == "text" and (not held or not wanted))
