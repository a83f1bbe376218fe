"""The grid's columns of drive settings: one for each code, over drive types of every kind."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from app.grid_columns import Cell, Column, SettingEdit
from core.errors import InputError
from core.model import DriveType, Line, ListedSetting, Setting, Station
from core.model.keypad import options_of, read_keypad, standing


@dataclass(frozen=True, slots=True)
class SettingColumn:
    """One drive setting, by its code, as the keypads show it.

    ``listed`` is its line in each drive type of the file that lists it, by the type's id.
    """

    code: str
    listed: Mapping[int, ListedSetting]

    @property
    def key(self) -> str:
        """Name that stays the same while the line changes."""
        return f"setting {self.code}"

    @property
    def numeric(self) -> bool:
        """Whether its values are numbers, set to the right."""
        return True

    @property
    def unique(self) -> bool:
        """Whether no two rows may hold the same."""
        return False

    @property
    def hint(self) -> str:
        """A word more about it, if there is one."""
        return ""

    def heading(self, line: Line) -> tuple[str, str, str]:
        """Code (may be empty), meaning and unit (may be empty)."""
        return self.code, self._each("meaning") or "Not listed", self._each("unit")

    def cell(self, line: Line, row: Station) -> Cell:
        """What a row shows here."""
        listed, entered = self._listed(row), row.drive.setting(self.code)
        if listed is None and entered is None:
            return Cell("", applies=False, tip=self._why_not(line, row))
        text = entered.shown if entered else ""
        differs = listed is not None and standing(entered, listed) == "differs"
        return Cell(text, differs=differs, tip=_setting_tip(entered, listed))

    def offered(self, line: Line, row: Station) -> Mapping[str, str]:
        """Texts to choose from, each with the words that offer it; none where typed freely."""
        listed = self._listed(row)
        options = options_of(listed) if listed else {}
        worded = {key: f"{key}  {meaning}".strip() for key, meaning in options.items()}
        return {"": "", **worded} if worded else {}

    def edit(self, line: Line, row: Station, text: str) -> SettingEdit:
        """The change that a text means here; InputError refuses it."""
        if not self.cell(line, row).applies:
            raise InputError(
                f"{self.code} was not taken.",
                self._why_not(line, row),
                "Leave the cell empty.",
            )
        if text.strip():
            read_keypad(text, self._listed(row))
        return SettingEdit(row.id, self.code, text.strip())

    def exact(self, row: Station) -> None:
        """Nothing: the text of a setting is what is stored."""

    def edit_exact(self, row: Station, exact: Any) -> None:
        """Nothing: the text of a setting is what is stored."""

    def after(self, row: Station, edit: SettingEdit) -> Station:
        """The row itself: no setting governs whether another one applies."""
        return row

    def _listed(self, station: Station) -> ListedSetting | None:
        return self.listed.get(station.drive.drive_type_id or 0)

    def _each(self, name: str) -> str:
        found = dict.fromkeys(getattr(entry, name) for entry in self.listed.values())
        return " / ".join(text for text in found if text)

    def _why_not(self, line: Line, station: Station) -> str:
        drive_type = line.drive_type(station.drive.drive_type_id)
        if drive_type is None:
            return f"{station.tag} has no drive type yet; choose one under Drives."
        return f"The drive type of {station.tag} ({drive_type.name}) does not list {self.code}."


def _setting_tip(entered: Setting | None, listed: ListedSetting | None) -> str:
    if listed is None:
        return "Not in the drive type's list of settings."
    meaning = options_of(listed).get(entered.shown, "") if entered else ""
    bounds = f"{listed.minimum} to {listed.maximum} {listed.unit}".strip()
    parts = (
        ("Means", meaning),
        ("Factory value", f"{listed.factory} {listed.unit}".strip() if listed.factory else ""),
        ("Range", bounds if listed.minimum and listed.maximum else ""),
        ("Why", entered.reason if entered else ""),
    )
    return "\n".join(f"{word}: {text}" for word, text in parts if text)


def setting_columns(line: Line) -> Iterator[Column]:
    """One column for each code that is listed or entered, in keypad order."""
    used = dict.fromkeys(station.drive.drive_type_id for station in line.stations)
    types = [found for found in map(line.drive_type, used) if found is not None]
    codes = _in_keypad_order(types)
    for station in line.stations:
        unlisted = (entry.code for entry in station.drive.settings)
        codes += [code for code in unlisted if code not in codes]
    for code in codes:
        found = {kind.id: listed for kind in types if (listed := kind.listed(code)) is not None}
        yield SettingColumn(code, found)


def _in_keypad_order(types: Sequence[DriveType]) -> list[str]:
    """All codes, each behind the one that comes before it in its own list."""
    codes: list[str] = []
    for drive_type in types:
        before = -1
        for listed in drive_type.listed_settings:
            if listed.code not in codes:
                codes.insert(before + 1, listed.code)
            before = codes.index(listed.code)
    return codes
