"""Findings about the motor: its plate against the drive's settings, its limits, its cooling."""

from collections.abc import Iterator

from core.calc import cooling, drivetrain, long_cable, motor, motor_limits
from core.errors import RangeError
from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule

_RISE_TIME_S = 0.1e-6
"""Rise time of present-day drives, 0.1 µs: common practice, the shortest of NEMA MG 1 part 31."""


def _plate_amps(view: View) -> float | None:
    amps = [plate.current_a for plate in view.motors]
    return None if not amps or None in amps else sum(value for value in amps if value)


@station_rule(
    key="overload-setting",
    level="fault",
    says="Setting {code} shows {set_a}; the plates of the motors sum to {plate_a}.",
    follows="The drive lets the motor carry {over_share} of its rated current for ever: it "
    "overheats.",
    mend="Set {code} to {plate_a}.",
    source="overload from the nameplate: NEC 430.6(A)(2), IEC 60204-1, 7.3",
)
def overload_setting(view: View) -> Iterator[Found]:
    """The overload or motor current setting lies above the nameplate."""
    plate = _plate_amps(view)
    for role in ("overload_current", "motor_current"):
        setting = view.setting(role)
        if plate is None or setting is None or not setting.value:
            continue
        if setting.value > plate * 1.05:
            yield (
                view.at_setting(setting.code),
                {
                    "code": _told(setting.code, setting.entered),
                    "set_a": setting.value,
                    "plate_a": plate,
                    "over_share": setting.value / plate,
                },
            )


@station_rule(
    key="overload-setting-low",
    level="advice",
    says="Setting {code} shows {set_a}; the plates of the motors sum to {plate_a}.",
    follows="The drive trips before the motor carries its rated load.",
    mend="Set {code} to {plate_a}, or say why it is lower.",
    source="common practice",
)
def overload_setting_low(view: View) -> Iterator[Found]:
    """The overload or motor current setting lies well below the nameplate."""
    plate = _plate_amps(view)
    for role in ("overload_current", "motor_current"):
        setting = view.setting(role)
        if plate is None or setting is None or not setting.value:
            continue
        if setting.value < plate * 0.8:
            yield (
                view.at_setting(setting.code),
                {
                    "code": _told(setting.code, setting.entered),
                    "set_a": setting.value,
                    "plate_a": plate,
                },
            )


def _told(code: str, entered: bool) -> str:
    return code if entered else f"{code} (factory value, not entered)"


@station_rule(
    key="rated-frequency-setting",
    level="fault",
    says="Setting {code} shows {set_hz}; the motor's plate says {plate_hz}.",
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
    if abs(setting.value - plate.frequency_hz) > 0.5:
        yield (
            view.at_setting(setting.code),
            {
                "code": _told(setting.code, setting.entered),
                "set_hz": setting.value,
                "plate_hz": plate.frequency_hz,
            },
        )


@station_rule(
    key="rated-voltage-setting",
    level="fault",
    says="Setting {code} shows {set_v}; the motor as connected has {plate_v}.",
    follows="Voltage per hertz is off by the same share.",
    mend="Set {code} to {plate_v}, or correct the connection.",
    source="constant V/f law; 5 % as limit: common practice",
)
def rated_voltage_setting(view: View) -> Iterator[Found]:
    """Rated voltage of the drive's settings against the plate."""
    setting, plate = view.setting("motor_voltage"), view.motor
    if setting is None or not setting.value or plate is None or not plate.voltage_v:
        return
    if abs(setting.value / plate.voltage_v - 1.0) > 0.05:
        yield (
            view.at_setting(setting.code),
            {
                "code": _told(setting.code, setting.entered),
                "set_v": setting.value,
                "plate_v": plate.voltage_v,
            },
        )


@station_rule(
    key="rated-speed-setting",
    level="advice",
    says="Setting {code} shows {set_rad_s}; the motor's plate says {plate_rad_s}.",
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
                "code": _told(setting.code, setting.entered),
                "set_rad_s": setting.value,
                "plate_rad_s": plate.speed_rad_s,
            },
        )


@station_rule(
    key="above-rated-frequency",
    level="fault",
    says="The drive may run to {maximum_hz}; the motor's plate says {plate_hz}.",
    follows="Above {plate_hz} torque falls to {torque_share} at the top; fans and pumps ask "
    "more there.",
    mend="Lower the maximum frequency, or say on the station that it is meant.",
    source="a motor's everyday top is its nameplate frequency: common practice",
)
def above_rated_frequency(view: View) -> Iterator[Found]:
    """A motor that may run above its rated frequency without anybody saying so."""
    limits, plate = view.result.limits, view.motor
    if limits is None or plate is None or plate.frequency_hz is None or view.station.above_base:
        return
    if limits.maximum_hz > plate.frequency_hz + 0.5:
        share = motor_limits.torque_share(limits.maximum_hz, plate.frequency_hz)
        yield (
            Place("station", view.station.id, "above_base"),
            {
                "maximum_hz": limits.maximum_hz,
                "plate_hz": plate.frequency_hz,
                "torque_share": share,
            },
        )


@station_rule(
    key="motor-too-fast",
    level="blocker",
    says="At {maximum_hz} the motor turns {top_rad_s}; it may turn {allowed_rad_s}.",
    follows="Bearings and rotor are not made for it.",
    mend="Lower the maximum frequency.",
    source="the motor's limit as entered",
)
def motor_too_fast(view: View) -> Iterator[Found]:
    """The maximum frequency drives the motor above its mechanical limit."""
    limits, poles = view.result.limits, view.result.value("poles")
    plate = view.motor
    if limits is None or poles is None or plate is None or plate.speed_max_rad_s is None:
        return
    top = motor.synchronous_speed_rad_s(limits.maximum_hz, int(poles))
    if top > plate.speed_max_rad_s:
        yield (
            Place("motor", plate.id, "speed_max_rad_s"),
            {
                "maximum_hz": limits.maximum_hz,
                "top_rad_s": top,
                "allowed_rad_s": plate.speed_max_rad_s,
            },
        )


@station_rule(
    key="driven-part-too-fast",
    level="fault",
    says="At {maximum_hz} the shaft turns {top_rad_s}; it may turn {allowed_rad_s}.",
    follows="One turn of the knob can drive the machine or the fruit beyond what they stand.",
    mend="Set the maximum frequency to {reach_hz} or less.",
    source="the limit of the driven part as entered",
)
def driven_part_too_fast(view: View) -> Iterator[Found]:
    """The maximum frequency drives the shaft above its limit."""
    limits, poles = view.result.limits, view.result.value("poles")
    ratio, allowed = view.result.value("total_ratio"), view.station.drivetrain.shaft_speed_max_rad_s
    if limits is None or poles is None or ratio is None or allowed is None:
        return
    top = drivetrain.shaft_speed_rad_s(
        motor.synchronous_speed_rad_s(limits.maximum_hz, int(poles)), ratio
    )
    if top > allowed * 1.005:
        yield (
            view.at_train("shaft_speed_max_rad_s"),
            {
                "maximum_hz": limits.maximum_hz,
                "top_rad_s": top,
                "allowed_rad_s": allowed,
                "reach_hz": limits.maximum_hz * allowed / top,
            },
        )


@station_rule(
    key="too-slow-to-cool",
    level="advice",
    says="The drive may run down to {minimum_hz}; with {load_share} of rated torque a motor on "
    "its own "
    "fan cools from {cooled_from_hz} up ({basis}).",
    follows="Run long below that, the winding overheats though the current is not above its "
    "rating.",
    mend="Raise the minimum frequency, use a forced fan, or enter the maker's lowest frequency.",
    source="own-fan motors cool less when slow; the curve as named",
)
def too_slow_to_cool(view: View) -> Iterator[Found]:
    """An own-fan motor that may run slower than it cools at its load."""
    limits, plate = view.result.limits, view.motor
    load = view.station.drivetrain.load_fraction
    if limits is None or plate is None or plate.cooling != "own_fan" or plate.frequency_hz is None:
        return
    if load is None or not 0.0 < load <= 1.0 or view.station.drivetrain.load_kind == "quadratic":
        return
    curve = cooling.cooling_curve(
        plate.frequency_hz, stated_frequency_min_hz=plate.frequency_min_hz
    )
    try:
        lowest = cooling.frequency_min_for_load_hz(load, curve)
    except RangeError:
        return
    if limits.minimum_hz < lowest - 0.05:
        yield (
            Place("motor", plate.id, "frequency_min_hz"),
            {
                "minimum_hz": limits.minimum_hz,
                "load_share": load,
                "cooled_from_hz": lowest,
                "basis": curve.basis,
            },
        )


@station_rule(
    key="voltage-peaks",
    level="advice",
    says="{cable_length_m} of motor cable, and a motor that is {suited} inverter feed: peaks "
    "at its terminals "
    "can reach {peak_v}; insulation for general purpose stands {stands_v}.",
    follows="The winding's insulation breaks down after months.",
    mend="Use a motor made for inverter feed, a shorter cable, or a filter at the drive.",
    source="reflected wave; NEMA MG 1 part 30 for the limit",
)
def voltage_peaks(view: View) -> Iterator[Found]:
    """A motor not made for inverter feed at the end of a long cable."""
    cable, plate = view.station.cable("motor"), view.motor
    if cable is None or not cable.length_m or plate is None or plate.inverter_duty == "yes":
        return
    if plate.voltage_v is None:
        return
    critical = long_cable.critical_length_m(_RISE_TIME_S)
    peak = long_cable.terminal_peak_v(plate.voltage_v * 2**0.5, cable.length_m, critical)
    limit = long_cable.insulation_limit(plate.voltage_v, inverter_duty=False)
    if peak > limit.peak_v:
        yield (
            Place("motor", plate.id, "inverter_duty"),
            {
                "cable_length_m": cable.length_m,
                "suited": "not suited to" if plate.inverter_duty == "no" else "not known to suit",
                "peak_v": peak,
                "stands_v": limit.peak_v,
            },
        )


@station_rule(
    key="torque-short",
    level="fault",
    says="At {maximum_hz} the motor gives {given_share} of rated torque, the load asks "
    "{asked_share}.",
    follows="It slows down, draws more current and trips.",
    mend="Lower the maximum frequency or the load, or use a larger motor.",
    source="constant V/f law below, constant power above rated frequency",
)
def torque_short(view: View) -> Iterator[Found]:
    """The load asks more torque at the top than the motor gives there."""
    limits, plate, train = view.result.limits, view.motor, view.station.drivetrain
    if limits is None or plate is None or plate.frequency_hz is None or not train.load_fraction:
        return
    given = motor_limits.torque_share(limits.maximum_hz, plate.frequency_hz)
    asked = motor_limits.load_torque_share(
        limits.maximum_hz,
        plate.frequency_hz,
        train.load_fraction,
        train.load_kind or "constant_torque",
    )
    if asked > given * 1.001:
        yield (
            view.at_train("load_fraction"),
            {"maximum_hz": limits.maximum_hz, "given_share": given, "asked_share": asked},
        )
