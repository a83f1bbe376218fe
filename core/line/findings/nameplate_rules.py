"""Findings about the settings that repeat the nameplate: current, frequency, voltage, speed."""

from collections.abc import Iterator

from core.line.findings.view import Found, View, station_rule
from core.line.settings import InForce


@station_rule(
    key="overload-setting",
    level="fault",
    says="Setting {code} shows {set_a}{origin}; the plates of the motors sum to {plate_a}.",
    follows="The drive lets the motor carry {over_share} of its rated current for ever: it "
    "overheats.",
    mend="Set {code} to {plate_a}.",
    source="overload from the nameplate: NEC 430.6(A)(2), IEC 60204-1, 7.3",
)
def overload_setting(view: View) -> Iterator[Found]:
    """The overload or motor current setting lies above the nameplate."""
    plate = view.motors_a
    for role in ("overload_current", "motor_current"):
        setting = view.setting(role)
        if plate is None or setting is None or not setting.value:
            continue
        if setting.value > plate * 1.05:
            yield (
                view.at_setting(setting.code),
                {
                    "code": setting.code,
                    "origin": _origin(setting),
                    "set_a": setting.value,
                    "plate_a": plate,
                    "over_share": setting.value / plate,
                },
            )


@station_rule(
    key="overload-setting-low",
    level="advice",
    says="Setting {code} shows {set_a}{origin}; the plates of the motors sum to {plate_a}.",
    follows="The drive trips before the motor carries its rated load.",
    mend="Set {code} to {plate_a}, or say why it is lower.",
    source="common practice",
)
def overload_setting_low(view: View) -> Iterator[Found]:
    """The overload or motor current setting lies well below the nameplate."""
    plate = view.motors_a
    for role in ("overload_current", "motor_current"):
        setting = view.setting(role)
        if plate is None or setting is None or not setting.value:
            continue
        if setting.value < plate * 0.8:
            yield (
                view.at_setting(setting.code),
                {
                    "code": setting.code,
                    "origin": _origin(setting),
                    "set_a": setting.value,
                    "plate_a": plate,
                },
            )


def _origin(setting: InForce) -> str:
    return "" if setting.entered else " (factory value, not entered)"


@station_rule(
    key="rated-frequency-setting",
    level="fault",
    says="Setting {code} shows {set_hz}{origin}; the motor's plate says {plate_hz}.",
    follows="The drive reaches full voltage at the wrong frequency: the motor is weak or "
    "saturates.",
    mend="Set {code} to {plate_hz}.",
    source="constant V/f law",
)
def rated_frequency_setting(view: View) -> Iterator[Found]:
    """Base frequency of the drive against the plate."""
    setting, plate = view.setting("motor_frequency"), view.motor
    if setting is None or setting.value is None or plate is None or plate.frequency_hz is None:
        return
    if _scaled_on_purpose(view):
        return
    if abs(setting.value - plate.frequency_hz) > 0.5:
        yield (
            view.at_setting(setting.code),
            {
                "code": setting.code,
                "origin": _origin(setting),
                "set_hz": setting.value,
                "plate_hz": plate.frequency_hz,
            },
        )


@station_rule(
    key="rated-voltage-setting",
    level="fault",
    says="Setting {code} shows {set_v}{origin}; the motor as connected has {plate_v}.",
    follows="Voltage per hertz is off by the same share.",
    mend="Set {code} to {plate_v}, or correct the connection.",
    source="constant V/f law; 5 % as limit: common practice",
)
def rated_voltage_setting(view: View) -> Iterator[Found]:
    """Rated voltage of the drive's settings against the plate."""
    setting, plate = view.setting("motor_voltage"), view.motor
    if setting is None or not setting.value or plate is None or not plate.voltage_v:
        return
    if _scaled_on_purpose(view):
        return
    if abs(setting.value / plate.voltage_v - 1.0) > 0.05:
        yield (
            view.at_setting(setting.code),
            {
                "code": setting.code,
                "origin": _origin(setting),
                "set_v": setting.value,
                "plate_v": plate.voltage_v,
            },
        )


def _scaled_on_purpose(view: View) -> bool:
    """Whether voltage and frequency are set above the plate in its own ratio, as entered."""
    plate = view.motor
    return plate is not None and view.base_hz != plate.frequency_hz


@station_rule(
    key="rated-speed-setting",
    level="advice",
    says="Setting {code} shows {set_rad_s}{origin}; the motor's plate says {plate_rad_s}.",
    follows="Slip compensation and the keypad's speed display are off.",
    mend="Set {code} to {plate_rad_s}.",
    source="common practice",
)
def rated_speed_setting(view: View) -> Iterator[Found]:
    """Rated speed of the drive's settings against the plate."""
    setting, plate = view.setting("motor_speed"), view.motor
    if setting is None or not setting.value or plate is None or not plate.speed_rad_s:
        return
    if abs(setting.value / plate.speed_rad_s - 1.0) > 0.01:
        yield (
            view.at_setting(setting.code),
            {
                "code": setting.code,
                "origin": _origin(setting),
                "set_rad_s": setting.value,
                "plate_rad_s": plate.speed_rad_s,
            },
        )
