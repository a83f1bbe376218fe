"""Findings about the motor: its limits, its cooling, its insulation, its torque."""

from collections.abc import Iterator

from core.calc import cooling, drivetrain, long_cable, motor, motor_limits
from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule

_RISE_TIME_S = 0.1e-6
"""Rise time of present-day drives, 0.1 µs: common practice, the shortest of NEMA MG 1 part 31."""


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
    says="The drive may run down to {lowest_hz}; with {load_share} of rated torque the motor's own "
    "fan cools it from {cooled_from_hz} up ({basis}).",
    follows="Run long below that, the winding overheats though the current is not above its "
    "rating.",
    mend="Raise the minimum frequency, use a forced fan, or enter the maker's lowest frequency.",
    source="own-fan motors cool less when slow; the curve as named",
)
def too_slow_to_cool(view: View) -> Iterator[Found]:
    """An own-fan motor that may run slower than it cools at its load."""
    reached, plate = view.lowest_hz, view.motor
    load = view.station.drivetrain.load_fraction
    if reached is None or plate is None or plate.cooling != "own_fan" or plate.frequency_hz is None:
        return
    if load is None or not 0.0 < load <= 1.0 or view.station.drivetrain.load_kind == "quadratic":
        return
    curve = cooling.cooling_curve(
        plate.frequency_hz, stated_frequency_min_hz=plate.frequency_min_hz
    )
    lowest = cooling.frequency_min_for_load_hz(load, curve)
    if reached < lowest - 0.05:
        yield (
            Place("motor", plate.id, "frequency_min_hz"),
            {
                "lowest_hz": reached,
                "load_share": load,
                "cooled_from_hz": lowest,
                "basis": curve.reason,
            },
        )


@station_rule(
    key="voltage-peaks",
    level="advice",
    says="{cable_length_m} of motor cable, and a motor that is {suited} inverter feed: peaks at "
    "its terminals can reach {peak_v}; insulation for general purpose stands {stands_v}.",
    follows="The insulation of the winding can break down after months.",
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
    source="constant V/f law below, constant power above the frequency of full voltage",
)
def torque_short(view: View) -> Iterator[Found]:
    """The load asks more torque at the top than the motor gives there."""
    limits, base, train = view.result.limits, view.base_hz, view.station.drivetrain
    plate = view.motor
    if limits is None or base is None or plate is None or not plate.frequency_hz:
        return
    if not train.load_fraction:
        return
    given = motor_limits.torque_share(limits.maximum_hz, base)
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
