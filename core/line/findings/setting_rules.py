"""Findings about the list of settings: values it does not allow, and what nobody entered."""

from collections.abc import Iterator

from core.line.findings.view import Found, View, station_rule
from core.model import ListedSetting
from core.model.keypad import within_list

_FROM_THE_PLATE = (
    "motor_voltage",
    "motor_current",
    "motor_frequency",
    "motor_speed",
    "overload_current",
)


@station_rule(
    key="setting-outside-list",
    level="fault",
    says="Setting {code} shows {shown}; its list allows {allowed}.",
    follows="The drive cannot have this value: it was read or typed wrong, or the list is wrong.",
    mend="Read the keypad again, or mend the list of the drive type.",
    source="the drive type's list as entered",
)
def setting_outside_list(view: View) -> Iterator[Found]:
    """A value that the list of settings does not allow."""
    if view.drive_type is None:
        return
    for setting in view.station.drive.settings:
        listed = view.drive_type.listed(setting.code)
        blank = not setting.shown.strip()
        if listed is not None and not blank and not within_list(setting.shown, listed):
            yield (
                view.at_setting(setting.code),
                {"code": setting.code, "shown": setting.shown, "allowed": _allowed(listed)},
            )


def _allowed(listed: ListedSetting) -> str:
    if listed.options:
        return listed.options
    if listed.minimum and listed.maximum:
        words = f"{listed.minimum} to {listed.maximum} {listed.unit}"
    elif listed.minimum or listed.maximum:
        bound = "at least" if listed.minimum else "at most"
        words = f"{bound} {listed.minimum or listed.maximum} {listed.unit}"
    else:
        words = f"a number in {listed.unit}"
    return words.strip()


@station_rule(
    key="setting-not-in-list",
    level="advice",
    says="Setting {code} is entered; drive type {drive_type} lists no such code.",
    follows="It stays from another drive type, or its code is misspelled; nothing is computed "
    "from it.",
    mend="Take it out, or add it to the list.",
    source="the drive type's list as entered",
)
def setting_not_in_list(view: View) -> Iterator[Found]:
    """A code that the drive type does not have."""
    if view.drive_type is None or not view.drive_type.listed_settings:
        return
    for setting in view.station.drive.settings:
        if view.drive_type.listed(setting.code) is None:
            yield (
                view.at_setting(setting.code),
                {"code": setting.code, "drive_type": view.drive_type.name},
            )


@station_rule(
    key="nameplate-not-at-keypad",
    level="advice",
    says="Settings from the motor's nameplate are not entered: {codes}.",
    follows="As far as is known the drive works with its factory values, for a motor of its own "
    "size.",
    mend="Read them at the keypad or set them from the plate, and enter them.",
    source="common practice; the drive type's list as entered",
)
def nameplate_not_at_keypad(view: View) -> Iterator[Found]:
    """Settings that repeat the nameplate, which nobody entered."""
    if view.drive_type is None or view.motor is None:
        return
    listed = [view.drive_type.by_role(role) for role in _FROM_THE_PLATE]
    codes = [
        entry.code for entry in listed if entry and view.station.drive.setting(entry.code) is None
    ]
    if codes:
        yield view.at_setting(codes[0]), {"codes": ", ".join(codes)}
