"""What differs between two lines, field by field, in the words of the keypad and the trade.

Records are matched as people match them: stations by tag, settings by code, drive types by name.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from core.model import RECORDS, FieldSpec, Line, ListedSetting, RecordSpec, Setting, Station
from core.model.keypad import factory_value, meaning_of
from core.records.changes import EMPTY, Change, Difference, Sort
from core.records.groups import (
    GROUPS,
    NO_LONGER_RECORDED,
    NONE_LISTED,
    NOT_RECORDED,
    NOTES,
    group_of,
)
from core.records.keypad_order import keypad_places
from core.units import System, show

__all__ = ["EMPTY", "GROUPS", "Change", "Difference", "compare"]

_KEYS: Mapping[str, tuple[str, ...]] = {
    "station": ("tag",),
    "instrument": ("name", "serial"),
    "flow": ("from_station_id", "to_station_id", "kind"),
    "acceptance": ("mark",),
    "check_result": ("name", "station_id"),
    "calibration_point": ("station_id", "state", "direction", "share"),
    "recipe_speed": ("station_id",),
    "cable": ("run",),
    "digital_input": ("terminal",),
    "output": ("terminal", "kind"),
    "setting": ("code",),
    "listed_setting": ("code",),
    "terminal": ("designation",),
    "photo": ("sha256",),
}
"""Fields by which records of a table are met again; ``name`` for the rest, order for motors."""
_CALLED: Mapping[str, tuple[str, ...]] = {"photo": ("shows", "caption")}
"""Fields by which a record is told to people, where it is met again by others."""
_MEASURED = {"now_v": 0.005, "now_a": 0.005, "value": 0.02}
"""Relative tolerance of what is measured: a knob read twice is not moved by the last digit. A
frequency set at the keypad or over a bus is no measurement, and is met exactly."""
_UNTOLD = {("setting", "origin"), ("setting", "value")}


def compare(before: Line, after: Line) -> Difference:
    """Compare two lines: two records, or a record and the line as it is.

    Notes
    -----
    What is measured counts as the same within a tolerance of half a per cent for knobs and
    signals, two for readings of checks. A setting that was not read is told as that, never as same;
    so is a drive of which nothing is known to read, where the settings of others were read. The
    settings of a station come in the order of its keypad.
    """
    whole = _Comparison(before, after)
    changes = list(whole.records(RECORDS["line"], before, after, _Where("", "")))
    changes += _without_list(before, after)
    order = {group: place for place, group in enumerate(GROUPS)}
    tags = {station.tag: place for place, station in enumerate(after.stations)}
    keypad = keypad_places(after, before)

    def place(change: Change) -> tuple[int, int, int]:
        is_setting = change.table == "setting"
        code = keypad.get((change.tag, change.field), len(keypad)) if is_setting else -1
        return order[change.group], tags.get(change.tag, -1), code

    changes.sort(key=place)
    return Difference(before, after, tuple(changes))


def _without_list(before: Line, after: Line) -> Iterator[Change]:
    """Stations of both lines whose drive, when it was read, had neither a list nor a setting.

    What came or went as a whole is told as that.
    """
    read = next((line for line in (after, before) if _was_read(line)), None)
    if read is None:
        return
    other = before if read is after else after
    tags, ids = ({getattr(held, name) for held in other.stations} for name in ("tag", "id"))
    own = {held.tag for held in read.stations}
    gone = {held.id for held in other.stations if held.tag not in own}
    for held in read.stations:
        is_met = held.tag in tags or (held.id in ids and held.id in gone)
        if is_met and not held.drive.settings and not _is_listed(read, held):
            where = f"{held.tag} {held.name}".strip()
            yield Change(
                "not_read",
                "settings",
                "setting",
                held.tag,
                where,
                NONE_LISTED,
                "",
                None,
                None,
                EMPTY,
                EMPTY,
            )


def _was_read(line: Line) -> bool:
    origins = {setting.origin for held in line.stations for setting in held.drive.settings}
    return bool(origins & {"read", "not_read"})


def _is_listed(line: Line, station: Station) -> bool:
    """Whether its drive type has a list of settings; one that is gone has none."""
    try:
        drive_type = line.drive_type(station.drive.drive_type_id)
    except KeyError:
        return False
    return bool(drive_type and drive_type.listed_settings)


@dataclass(frozen=True, slots=True)
class _Where:
    """``station`` names the station, ``part`` what of it is meant; either may be empty."""

    tag: str
    station: str
    part: str = ""

    @property
    def words(self) -> str:
        return ", ".join(filter(None, (self.station, self.part)))

    def inside(self, words: str) -> "_Where":
        return _Where(self.tag, self.station, ", ".join(filter(None, (self.part, words))))


class _Comparison:
    def __init__(self, before: Line, after: Line) -> None:
        self.lines = (before, after)
        old, new = _names(before), _names(after)
        # A station that only has another tag is still the same one wherever it is named.
        tags = {name for (table, _), name in new.items() if table == "station"}
        for key, name in old.items():
            if key[0] == "station" and name not in tags and new.get(key) not in old.values():
                new[key] = name
        self.names = (old, new)
        self.system: System = after.unit_system

    def records(self, spec: RecordSpec, before: Any, after: Any, where: _Where) -> Iterator[Change]:
        """Differences between two records that are the same one, and in what they hold."""
        if spec.table == "setting":
            yield from self._setting(before, after, where)
            return
        for field in spec.fields:
            yield from self._field(spec, field, before, after, where)
        for child in spec.children:
            held = RECORDS[child.table]
            old, new = getattr(before, child.name), getattr(after, child.name)
            if child.many:
                yield from self._lists(held, old, new, where)
            else:
                yield from self.records(held, old, new, where)

    def _lists(
        self, spec: RecordSpec, old: Iterable[Any], new: Iterable[Any], where: _Where
    ) -> Iterator[Change]:
        was, now = self._keyed(spec, old, 0), self._keyed(spec, new, 1)
        renamed = _renamed(was, now) if spec.table == "station" else {}
        for key, record in was.items():
            other = now.get(renamed.get(key, key))
            if other is None and spec.table == "setting":
                delivered = self._factory(where.tag, record.code)
                yield from self._setting(record, delivered, where, NO_LONGER_RECORDED)
            elif other is None:
                yield self._whole("removed", spec, record, where, 0)
            else:
                yield from self.records(spec, record, other, self._inside(spec, other, where))
        if spec.table == "setting":
            yield from self._new_settings(was, now, where)
            return
        met = {renamed.get(key, key) for key in was}
        for key, record in now.items():
            if key not in met:
                yield self._whole("added", spec, record, where, 1)

    def _keyed(self, spec: RecordSpec, records: Iterable[Any], side: int) -> dict[Any, Any]:
        found: dict[Any, Any] = {}
        for number, record in enumerate(records):
            key = self._key(spec, record, number, side)
            # Two of the same key: the second is told by its place.
            found[key if key not in found else (*key, number)] = record
        return found

    def _key(self, spec: RecordSpec, record: Any, number: int, side: int) -> tuple[Any, ...]:
        if spec.table == "motor":
            return (number,)
        names = _KEYS.get(spec.table, ("name",))
        return tuple(
            self._ref(spec.field(name), getattr(record, name), side)
            if spec.field(name).sort == "ref"
            else getattr(record, name)
            for name in names
        )

    def _ref(self, field: FieldSpec, value: int | None, side: int) -> str:
        return "" if value is None else self.names[side].get((field.target, value), f"#{value}")

    def _inside(self, spec: RecordSpec, record: Any, where: _Where) -> _Where:
        if spec.table == "station":
            return _Where(record.tag, f"{record.tag} {record.name}".strip())
        if spec.table == "setting":
            return where
        return where.inside(self._called(spec, record, 1))

    def _called(self, spec: RecordSpec, record: Any, side: int) -> str:
        if spec.table == "motor":
            return spec.label.lower()
        told = []
        for name in _CALLED.get(spec.table) or _KEYS.get(spec.table, ("name",)):
            field = spec.field(name)
            value = getattr(record, name)
            told.append(
                self._ref(field, value, side) if field.sort == "ref" else self._shown(field, value)
            )
        return f"{spec.label.lower()} {' '.join(filter(None, told))}".strip()

    def _whole(self, sort: Sort, spec: RecordSpec, record: Any, where: _Where, side: int) -> Change:
        text = record.shown if spec.table == "setting" else ""
        what = (
            f"setting {record.code}"
            if spec.table == "setting"
            else self._called(spec, record, side)
        )
        tag = where.tag
        if spec.table == "station":
            tag = record.tag
        elif hasattr(record, "station_id"):
            tag = self.names[side].get(("station", record.station_id or 0), "")
        before, after = (record, None) if sort == "removed" else (None, record)
        return Change(
            sort,
            group_of(spec.table, ""),
            spec.table,
            tag,
            where.words,
            what,
            "",
            before,
            after,
            text if sort == "removed" else "",
            text if sort == "added" else "",
            part=where.part,
        )

    def _field(
        self, spec: RecordSpec, field: FieldSpec, before: Any, after: Any, where: _Where
    ) -> Iterator[Change]:
        if field.sort == "typed" or (spec.table, field.name) in _UNTOLD:
            return
        old, new = getattr(before, field.name), getattr(after, field.name)
        if field.sort == "ref":
            was, now = self._ref(field, old, 0), self._ref(field, new, 1)
            if was == now:
                return
        else:
            if _same(field, old, new):
                return
            was, now = self._shown(field, old), self._shown(field, new)
        yield Change(
            "changed",
            group_of(spec.table, field.name),
            spec.table,
            where.tag,
            where.words,
            _words(spec, field),
            field.name,
            old,
            new,
            was or EMPTY,
            now or EMPTY,
            NOTES.get((spec.table, field.name), ""),
            where.part,
        )

    def _setting(self, before: Any, after: Any, where: _Where, note: str = "") -> Iterator[Change]:
        listed = self._listed(where.tag, after.code)
        meaning = listed.meaning if listed else ""
        what = f"setting {after.code}{f' ({meaning})' if meaning else ''}"
        unread = "not_read" in (before.origin, after.origin)
        if not unread and (before.shown == after.shown or _same_number(before, after)):
            return
        yield Change(
            "not_read" if unread else "changed",
            "settings",
            "setting",
            where.tag,
            where.words,
            what,
            after.code,
            before.value if before.value is not None else before.shown,
            after.value if after.value is not None else after.shown,
            before.shown or EMPTY,
            after.shown or EMPTY,
            # Without a factory value nothing stands in for what nobody recorded.
            note if before.shown and after.shown and not unread else "",
            where.part,
            unit=listed.unit if listed else "",
            was_means=meaning_of(before.shown, listed),
            now_means=meaning_of(after.shown, listed),
        )

    def _new_settings(
        self, was: Mapping[Any, Any], now: Mapping[Any, Any], where: _Where
    ) -> Iterator[Change]:
        """Settings that were not recorded before, and so stood as delivered."""
        for key, record in now.items():
            if key not in was:
                delivered = self._factory(where.tag, record.code)
                yield from self._setting(delivered, record, where, NOT_RECORDED)

    def _factory(self, tag: str, code: str) -> Setting:
        """The setting as delivered, as far as the list of the drive type tells it."""
        listed = self._listed(tag, code)
        value = factory_value(listed) if listed else None
        delivered = {"shown": value.shown, "value": value.value} if value else {}
        made: Setting = RECORDS["setting"].cls(code=code, **delivered)
        return made

    def _listed(self, tag: str, code: str) -> ListedSetting | None:
        for line in reversed(self.lines):
            station = line.station_tagged(tag)
            if station is None:
                continue
            try:
                drive_type = line.drive_type(station.drive.drive_type_id)
            except KeyError:
                continue
            listed = drive_type.listed(code) if drive_type else None
            if listed is not None:
                return listed
        return None

    def _shown(self, field: FieldSpec, value: Any) -> str:
        if value is None or value == "":
            return ""
        if field.sort == "quantity":
            return str(show(value, field.kind, self.system))
        if field.sort == "choice":
            return field.choices.get(value, str(value))
        if field.sort == "flag":
            return "yes" if value else "no"
        return str(value)


def _names(line: Line) -> dict[tuple[str, int], str]:
    names = {("station", station.id): station.tag for station in line.stations}
    for table, held in (
        ("drive_type", line.drive_types),
        ("supply", line.supplies),
        ("enclosure", line.enclosures),
        ("bus", line.buses),
        ("recipe", line.recipes),
    ):
        names |= {(table, entry.id): entry.name for entry in held}
    return names


def _renamed(was: Mapping[Any, Any], now: Mapping[Any, Any]) -> dict[Any, Any]:
    """Stations that have another tag and are the same record, by their id."""
    gone = {record.id: key for key, record in was.items() if key not in now}
    come = {record.id: key for key, record in now.items() if key not in was}
    return {gone[number]: come[number] for number in gone.keys() & come.keys()}


def _words(spec: RecordSpec, field: FieldSpec) -> str:
    label = field.label[:1].lower() + field.label[1:] if field.label[1:2].islower() else field.label
    plain = spec.table in ("station", "line", "motor", "drive_type", "supply", "enclosure")
    return label if plain else f"{spec.label.lower()}, {label}"


def _same(field: FieldSpec, old: Any, new: Any) -> bool:
    if old is None or new is None or not field.is_number:
        return bool(old == new)
    slack = max(_MEASURED.get(field.name, 0.0), 1e-9) * max(abs(old), abs(new))
    return bool(abs(old - new) <= slack)


def _same_number(before: Any, after: Any) -> bool:
    """The same value written otherwise, as 50 and 50.00."""
    if before.value is None or after.value is None:
        return False
    slack = 1e-9 * max(abs(before.value), abs(after.value))
    return bool(abs(before.value - after.value) <= slack)
