"""The settings of one drive in keypad order, each against its factory value."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.model import DriveType, Station
from core.model.keypad import Standing, options_of, standing


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
