"""What a user can do to a line, one function for each action, each one named step.

The window and the importer call these; nothing else decides what an action consists of.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from core.errors import InputError
from core.model import RECORDS, DriveType, Flow, Line, Station
from core.model.keypad import read_keypad
from core.store.linefile import LineFile
from core.store.steps import Step

PARTS: Mapping[str, str] = {
    "motors": "Motors",
    "drive": "Drive and its feed",
    "settings": "Drive settings",
    "reference": "Speed reference",
    "controls": "Controls and outputs",
    "drivetrain": "Drivetrain and process",
    "cables": "Cables",
}
"""Parts of a station that can be taken over from another one."""

# What belongs to one device alone and is never copied to another station.
_OWN = {"serial", "bus_address", "bus_place", "now_v", "now_a", "now_hz", "tag"}
_PART_CHILDREN = {
    "motors": ("motors",),
    "reference": ("reference", "presets"),
    "controls": ("controls", "digital_inputs", "outputs"),
    "drivetrain": ("drivetrain", "process"),
    "cables": ("cables",),
}


def set_fields(book: LineFile, table: str, record_id: int, **values: Any) -> None:
    """Give fields of one record new values.

    Raises
    ------
    InputError
        A value was refused; nothing is changed.
    """
    spec = RECORDS[table]
    shown = [spec.field(name).label for name in values if spec.field(name).sort != "typed"]
    with book.step(f"Set {', '.join(shown[:3]).lower()}") as step:
        step.set(table, record_id, **values)


def set_many(book: LineFile, name: str, edits: Iterable[tuple[str, int, dict[str, Any]]]) -> None:
    """Give fields of several records new values in one step, as a paste into the grid does."""
    with book.step(name) as step:
        for table, record_id, values in edits:
            step.set(table, record_id, **values)


def add_record(book: LineFile, table: str, parent_id: int | None = None, **values: Any) -> int:
    """Add a motor, cable, terminal, person …; gives its id."""
    with book.step(f"Add {RECORDS[table].label.lower()}") as step:
        return step.add(table, parent_id, **values)


def remove_record(book: LineFile, table: str, record_id: int) -> None:
    """Remove a record with all that it holds."""
    if table == "station":
        remove_station(book, record_id)
        return
    with book.step(f"Remove {RECORDS[table].label.lower()}") as step:
        step.remove(table, record_id)


def store_records(
    book: LineFile,
    parent_id: int | None,
    edits: Iterable[tuple[str, int, Mapping[str, Any]]],
    name: str,
) -> None:
    """Store changes of records in a list, new ones among them, as one step.

    Parameters
    ----------
    book : LineFile
        The open file.
    parent_id : int or None
        The record that holds the new ones.
    edits : iterable
        Table, record id and values; ids below zero stand for new records, and edits with the
        same one make one record.
    name : str
        Name of the step.

    Raises
    ------
    InputError
        A value was refused, such as a name that is there twice; nothing is changed.
    """
    added: dict[tuple[str, int], dict[str, Any]] = {}
    with book.step(name) as step:
        for table, record_id, values in edits:
            if record_id > 0:
                step.set(table, record_id, **values)
            else:
                added.setdefault((table, record_id), {}).update(values)
        for (table, _), values in added.items():
            step.add(table, parent_id, **values)


def remove_records(book: LineFile, table: str, record_ids: Sequence[int]) -> None:
    """Remove records of one table as one step.

    Raises
    ------
    InputError
        One of them is still in use; nothing is changed.
    """
    label = RECORDS[table].label.lower()
    counted = label if len(record_ids) == 1 else f"{len(record_ids)} × {label}"
    with book.step(f"Remove {counted}") as step:
        for record_id in record_ids:
            step.remove(table, record_id)


def move_record(book: LineFile, table: str, record_id: int, place: int) -> None:
    """Put a record at another place, from 0, among its brothers."""
    with book.step(f"Move {RECORDS[table].label.lower()}") as step:
        step.move(table, record_id, place)


def free_name(taken: Iterable[str], stem: str) -> str:
    """The first of ``stem1``, ``stem2`` … that is not taken (with two digits, for tags)."""
    used = set(taken)
    number = 1
    while f"{stem}{number:02d}" in used:
        number += 1
    return f"{stem}{number:02d}"


def add_station(book: LineFile, at: int | None = None, **values: Any) -> int:
    """Add a station with one motor; the station before it in the list feeds it.

    Parameters
    ----------
    book : LineFile
        The open file.
    at : int, optional
        Place among the stations, from 0; last without it.
    values
        Fields of the station; without a tag it gets the next free one.
    """
    stations = book.line.stations
    values.setdefault("tag", free_name((entry.tag for entry in stations), "ST"))
    with book.step(f"Add station {values['tag']}") as step:
        place = len(stations) if at is None else max(0, min(at, len(stations)))
        station_id = step.add("station", at=at, **values)
        step.add("motor", station_id)
        _join_flow(step, book.line, station_id, place)
        return station_id


def _join_flow(step: Step, line: Line, station_id: int, place: int) -> None:
    before = line.stations[place - 1].id if place > 0 else None
    after = line.stations[place].id if place < len(line.stations) else None
    for flow in line.flows:
        if (flow.from_station_id, flow.to_station_id) == (before, after) and flow.kind == "forward":
            step.set("flow", flow.id, to_station_id=station_id)
            step.add("flow", from_station_id=station_id, to_station_id=after)
            return
    if before is not None and after is None:
        step.add("flow", from_station_id=before, to_station_id=station_id)


def remove_station(book: LineFile, station_id: int) -> None:
    """Remove a station with all that is about it; where it stood between two others, join them.

    About it are its pairs, own speeds in recipes, checks and calibration points.
    """
    line = book.line
    with book.step(f"Remove station {line.station(station_id).tag}") as step:
        sources = [f for f in line.flows if f.to_station_id == station_id]
        targets = [f for f in line.flows if f.from_station_id == station_id]
        for flow in {flow.id for flow in sources + targets}:
            step.remove("flow", flow)
        for pair in line.pairs:
            if station_id in (pair.first_station_id, pair.second_station_id):
                step.remove("pair", pair.id)
        for recipe in line.recipes:
            for own in recipe.speeds:
                if own.station_id == station_id:
                    step.remove("recipe_speed", own.id)
        for table, held in (
            ("check_result", line.checks),
            ("calibration_point", line.calibration_points),
        ):
            for entry in held:
                if entry.station_id == station_id:
                    step.remove(table, entry.id)
        if len(sources) == len(targets) == 1:
            _bridge(step, line, sources[0], targets[0])
        step.remove("station", station_id)


def _bridge(step: Step, line: Line, into: Flow, out_of: Flow) -> None:
    ends = (into.from_station_id, out_of.to_station_id)
    present = {(flow.from_station_id, flow.to_station_id) for flow in line.flows}
    if None not in ends and ends[0] != ends[1] and ends not in present:
        step.add("flow", from_station_id=ends[0], to_station_id=ends[1], kind=into.kind)


def set_feeds(book: LineFile, station_id: int, tags: Sequence[str]) -> None:
    """Say which stations this one feeds, by their tags, instead of those it fed.

    Raises
    ------
    InputError
        A tag is unknown or is the station's own.
    """
    line = book.line
    own = line.station(station_id)
    targets = []
    for tag in tags:
        found = line.station_tagged(tag)
        if found is None or found.id == station_id:
            why = "It is the station itself." if found else f"There is no station '{tag}'."
            raise InputError("The flow was not changed.", why, "Type tags, parted by commas.")
        targets.append(found.id)
    with book.step(f"Set what {own.tag} feeds") as step:
        for flow in line.flows:
            if flow.from_station_id == station_id and flow.to_station_id not in targets:
                step.remove("flow", flow.id)
        kept = {f.to_station_id for f in line.flows if f.from_station_id == station_id}
        for target in dict.fromkeys(targets):
            if target not in kept:
                step.add("flow", from_station_id=station_id, to_station_id=target)


def set_settings(book: LineFile, values: Mapping[int, Mapping[str, str]], name: str = "") -> None:
    """Set drive settings as the keypads show them.

    Parameters
    ----------
    book : LineFile
        The open file.
    values : mapping
        For each station id, the shown value for each code; an empty text takes the value out.
    name : str
        Name of the step; made from the codes when empty.

    Raises
    ------
    InputError
        A value does not fit its line in the drive type's list; nothing is changed.
    """
    codes = [code for shown in values.values() for code in shown]
    with book.step(name or f"Set {', '.join(dict.fromkeys(codes[:3]))}") as step:
        for station_id, shown in values.items():
            station = book.line.station(station_id)
            drive_type = book.line.drive_type(station.drive.drive_type_id)
            for code, value in shown.items():
                put_setting(step, station, drive_type, code, value)


def put_setting(
    step: Step, station: Station, drive_type: DriveType | None, code: str, shown: str
) -> None:
    """Write one setting inside a step; see :func:`set_settings`."""
    present = station.drive.setting(code)
    if not shown.strip():
        if present:
            step.remove("setting", present.id)
        return
    reading = read_keypad(shown, drive_type.listed(code) if drive_type else None)
    if present:
        step.set("setting", present.id, shown=reading.shown, value=reading.value)
    else:
        step.add("setting", station.drive.id, code=code, shown=reading.shown, value=reading.value)


def take_over(
    book: LineFile, source_id: int, target_ids: Sequence[int], parts: Iterable[str]
) -> None:
    """Make parts of stations like those of another station.

    Serial numbers, bus addresses, tags and present signals stay each station's own.

    Raises
    ------
    InputError
        Settings were asked for alone, and a target has another drive type, in whose list the
        same codes may mean something else; nothing is changed.
    """
    source = book.line.station(source_id)
    targets = [book.line.station(i) for i in dict.fromkeys(target_ids) if i != source_id]
    wanted = list(parts)
    if "settings" in wanted and "drive" not in wanted:
        _refuse_other_type(source, targets)
    with book.step(f"Make like {source.tag}") as step:
        for target in targets:
            for part in wanted:
                _take_part(step, source, target, part)


def _refuse_other_type(source: Station, targets: Iterable[Station]) -> None:
    other = [
        target.tag for target in targets if target.drive.drive_type_id != source.drive.drive_type_id
    ]
    if other:
        raise InputError(
            "The settings were not taken over.",
            f"Not the drive type of {source.tag}: {', '.join(other)}.",
            "Take over the drive too, or choose stations with the same drive type.",
        )


def _take_part(step: Step, source: Station, target: Station, part: str) -> None:
    if part == "drive":
        step.set("drive", target.drive.id, **_copied("drive", source.drive))
    elif part == "settings":
        _replace_children(
            step, "setting", source.drive.settings, target.drive.settings, target.drive.id
        )
    for name in _PART_CHILDREN.get(part, ()):
        held = next(c for c in RECORDS["station"].children if c.name == name)
        new, old = getattr(source, name), getattr(target, name)
        if held.many:
            _replace_children(step, held.table, new, old, target.id)
        else:
            step.set(held.table, old.id, **_copied(held.table, new))


def _replace_children(
    step: Step, table: str, new: Sequence[Any], old: Sequence[Any], parent_id: int
) -> None:
    key = next((field.name for field in RECORDS[table].fields if field.unique), None)
    names = [getattr(entry, key) if key else place for place, entry in enumerate(new)]
    kept = {getattr(entry, key) if key else place: entry for place, entry in enumerate(old)}
    for name, entry in kept.items():
        if name not in names:
            step.remove(table, entry.id)
    for place, (name, fresh) in enumerate(zip(names, new, strict=True)):
        if name in kept:
            step.set(table, kept[name].id, **_copied(table, fresh))
            step.move(table, kept[name].id, place)
        else:
            step.add(table, parent_id, at=place, **_copied(table, fresh))


def _copied(table: str, record: Any) -> dict[str, Any]:
    fields = RECORDS[table].fields
    kept_own = set() if table == "setting" else _OWN
    return {f.name: getattr(record, f.name) for f in fields if f.name not in kept_own}


def duplicate_drive_type(book: LineFile, drive_type_id: int) -> int:
    """Add a drive type that starts as a copy of another; gives its id."""
    source = book.line.drive_type(drive_type_id)
    assert source is not None
    taken = {entry.name for entry in book.line.drive_types}
    name = next(
        candidate
        for number in range(2, len(taken) + 3)
        if (candidate := f"{source.name} ({number})") not in taken
    )
    with book.step(f"Copy drive type {source.name}") as step:
        fields = {f.name: getattr(source, f.name) for f in RECORDS["drive_type"].fields}
        made = step.add("drive_type", **{**fields, "name": name})
        for child in RECORDS["drive_type"].children:
            for entry in getattr(source, child.name):
                names = [f.name for f in RECORDS[child.table].fields]
                step.add(child.table, made, **{n: getattr(entry, n) for n in names})
        return made


def accept_finding(
    book: LineFile, mark: str, rule: str, place: str, person: str, reason: str, day: str
) -> int:
    """Accept a finding as it stands; it returns when its figures change.

    Raises
    ------
    InputError
        Name or reason is missing.
    """
    if not person.strip() or not reason.strip():
        raise InputError(
            "The finding was not accepted.",
            "A name or a reason is missing.",
            "Type who accepts it and why.",
        )
    with book.step(f"Accept {rule}") as step:
        return step.add(
            "acceptance",
            mark=mark,
            finding=rule,
            place=place,
            person=person,
            reason=reason,
            day=day,
        )
