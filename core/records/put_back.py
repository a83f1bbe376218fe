"""What has to be set back at each drive, in the order in which its keypad shows it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from core.model import Line, ListedSetting
from core.records.comparing import EMPTY, Change, Difference


@dataclass(frozen=True, slots=True)
class PutBack:
    """One setting of one drive: what it shows now, what it should show, and what it means.

    ``now_told`` and ``wanted_told`` are the same with their unit, or with what a choice stands for.
    """

    tag: str
    code: str
    meaning: str
    unit: str
    now: str
    wanted: str
    now_told: str
    wanted_told: str
    note: str = ""

    def means(self, tr: Callable[[str], str] = str) -> str:
        """What it means, and that it is the factory value where nobody recorded one."""
        return f"{self.meaning} ({tr(self.note)})".strip() if self.note else self.meaning


def put_back(difference: Difference) -> tuple[PutBack, ...]:
    """The settings to set back, drive by drive in keypad order.

    What was not read is left out, as nobody knows what it shows; so is what nobody recorded and has
    no factory value on the list, as nobody knows what it should show. Where a drive of another type
    stands now, its setting of the same code is put back only if its list says the same of it.
    """
    return tuple(_of_line(difference))


def _of_line(difference: Difference) -> Iterator[PutBack]:
    # The drives as they are labelled and set now; a station may have got another tag.
    line = difference.after
    # They come in the order of the keypad.
    wanted = {(change.tag, change.field): change for change in _settings(difference)}
    for station in line.stations:
        for code in (code for tag, code in wanted if tag == station.tag):
            change = wanted[station.tag, code]
            meaning = _meaning(line, station.tag, code)
            yield PutBack(
                station.tag,
                code,
                meaning,
                change.unit,
                change.now,
                change.was,
                change.now_told(),
                change.was_told(),
                change.note,
            )


def _settings(difference: Difference) -> Iterator[Change]:
    for change in difference.of("settings"):
        is_set = change.table == "setting" and change.sort == "changed"
        if is_set and change.was != EMPTY and not _means_another(difference, change):
            yield change


def _means_another(difference: Difference, change: Change) -> bool:
    """Whether the code is another setting of the drive that stands there now."""
    # A station with another tag is still the same record.
    now = difference.after.station_tagged(change.tag)
    was = difference.before.station_tagged(change.tag) or next(
        (held for held in difference.before.stations if now is not None and held.id == now.id), None
    )
    if now is None or was is None:
        return False
    before = difference.before.drive_type(was.drive.drive_type_id)
    after = difference.after.drive_type(now.drive.drive_type_id)
    if before is None or after is None or before.name == after.name:
        return False
    return _told(before.listed(change.field)) != _told(after.listed(change.field))


def _told(listed: ListedSetting | None) -> tuple[str, ...]:
    """What a list says of a setting; all that has to be the same for a value to mean the same."""
    return (listed.meaning, listed.role or "", listed.unit, listed.options) if listed else ()


def _meaning(line: Line, tag: str, code: str) -> str:
    station = line.station_tagged(tag)
    drive_type = line.drive_type(station.drive.drive_type_id) if station else None
    listed = drive_type.listed(code) if drive_type else None
    return listed.meaning if listed else ""
