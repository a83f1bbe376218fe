"""The settings of one drive in keypad order, each against its factory value."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.model import DriveType, ListedSetting, Setting, Station
from core.model.keypad import factory_value, options_of

Standing = Literal["differs", "same", "not_entered", "unlisted", "factory_unknown"]


@dataclass(frozen=True, slots=True)
class SettingRow:
    """One setting of one drive.

    ``shown`` is what the keypad shows; ``stands_for`` is the unit of that number, or the meaning of
    that choice. ``standing`` tells how the value compares with the factory's.
    """

    code: str
    meaning: str
    shown: str
    stands_for: str
    is_choice: bool
    factory: str
    factory_stands_for: str
    standing: Standing
    why: str


def setting_rows(station: Station, drive_type: DriveType | None) -> tuple[SettingRow, ...]:
    """Every listed setting in keypad order, then those entered that the list does not know.

    Parameters
    ----------
    station : Station
        Whose drive is written down.
    drive_type : DriveType or None
        Its type; without one every entered setting is unlisted.
    """
    return (*_listed(station, drive_type), *_unlisted(station, drive_type))


def _listed(station: Station, drive_type: DriveType | None) -> Iterator[SettingRow]:
    for listed in drive_type.listed_settings if drive_type else ():
        entered, options = station.drive.setting(listed.code), options_of(listed)
        shown, factory = entered.shown if entered else "", listed.factory.strip()
        yield SettingRow(
            code=listed.code,
            meaning=listed.meaning,
            shown=shown,
            stands_for=options.get(shown, "" if options else listed.unit),
            is_choice=bool(options),
            factory=factory,
            factory_stands_for=options.get(factory, "" if options else listed.unit),
            standing=standing(entered, listed),
            why=entered.reason if entered else "",
        )


def _unlisted(station: Station, drive_type: DriveType | None) -> Iterator[SettingRow]:
    for entered in station.drive.settings:
        if drive_type is None or drive_type.listed(entered.code) is None:
            yield SettingRow(
                entered.code, "", entered.shown, "", False, "", "", "unlisted", entered.reason
            )


def standing(entered: Setting | None, listed: ListedSetting) -> Standing:
    """How an entered value compares with the factory value of its line in the list.

    Parameters
    ----------
    entered : Setting or None
        None where nobody entered a value.
    listed : ListedSetting
        The line of the drive type's list.
    """
    if entered is None or not entered.shown.strip():
        return "not_entered"
    factory = factory_value(listed)
    if factory is None:
        return "factory_unknown"
    if entered.value is not None and factory.value is not None:
        same = math.isclose(entered.value, factory.value, rel_tol=1e-9, abs_tol=1e-12)
    else:
        same = entered.shown.strip().casefold() == factory.shown.strip().casefold()
    return "same" if same else "differs"
