"""Findings about ramps: what motor, drive and bus can do against the times that are set."""

from collections.abc import Iterator

from core.line.findings.view import Found, View, station_rule
from core.line.settings import coasts

_BUS_ENTRIES = {"bus capacitance": "bus capacitance", "bus trip": "the bus voltage it trips on"}


@station_rule(
    key="deceleration-too-short",
    level="fault",
    says="Setting {code} stops the load in {set_s}; without a brake resistor {shortest_s} is the "
    "shortest.",
    follows="The load drives the motor, the bus voltage rises, and the drive trips on overvoltage "
    "at each stop and coasts.",
    mend="Set {code} to {shortest_s} or more, let it coast, or fit a brake resistor.",
    source="energy balance of the bus, ½·C·U²; losses left out",
)
def deceleration_too_short(view: View) -> Iterator[Found]:
    """A deceleration that the bus cannot take up."""
    setting, shortest = view.setting("ramp_down"), view.result.value("deceleration_shortest_s")
    if (
        setting is None
        or setting.value is None
        or shortest is None
        or coasts(view.station, view.drive_type)
    ):
        return
    if setting.value < shortest * 0.999:
        yield (
            view.at_setting(setting.code),
            {"code": setting.code, "set_s": setting.value, "shortest_s": shortest},
        )


@station_rule(
    key="deceleration-not-judged",
    level="advice",
    says="Whether a deceleration of {set_s} is too short cannot be told: drive type {drive_type} "
    "lacks {lacking}.",
    follows="A stop that is too short trips the drive on overvoltage.",
    mend="Enter it from the drive's manual, or try the stop from full speed.",
    source="the drive type as entered",
)
def deceleration_not_judged(view: View) -> Iterator[Found]:
    """Everything about a stop is known but what the drive's bus takes up."""
    setting, figure = view.setting("ramp_down"), view.result.figures.get("deceleration_shortest_s")
    if (
        setting is None
        or setting.value is None
        or figure is None
        or coasts(view.station, view.drive_type)
    ):
        return
    if view.drive_type is None or not figure.lacks or not set(figure.lacks) <= set(_BUS_ENTRIES):
        return
    yield (
        view.at_drive(),
        {
            "set_s": setting.value,
            "drive_type": view.drive_type.name,
            "lacking": " and ".join(_BUS_ENTRIES[name] for name in figure.lacks),
        },
    )


@station_rule(
    key="acceleration-too-short",
    level="fault",
    says="Setting {code} starts the load in {set_s}; within the drive's overload {shortest_s} is "
    "the shortest.",
    follows="The drive trips on overcurrent, or stretches the ramp by itself.",
    mend="Set {code} to {shortest_s} or more, or use a larger drive.",
    source="Newton's second law for rotation; overload as entered",
)
def acceleration_too_short(view: View) -> Iterator[Found]:
    """An acceleration that asks more torque than the drive's overload gives."""
    setting, shortest = view.setting("ramp_up"), view.result.value("acceleration_shortest_s")
    if setting is None or setting.value is None or shortest is None:
        return
    if setting.value < shortest * 0.999:
        yield (
            view.at_setting(setting.code),
            {"code": setting.code, "set_s": setting.value, "shortest_s": shortest},
        )


@station_rule(
    key="load-does-not-start",
    level="fault",
    says="Within the drive's overload the motor gives {given_share} of rated torque; the load asks "
    "{asked_share}.",
    follows="The motor does not start under its load, and the drive trips.",
    mend="Use a larger drive or a higher gear ratio, or lighten the load.",
    source="phasor of an induction motor at rated flux; overload as entered",
)
def load_does_not_start(view: View) -> Iterator[Found]:
    """The load asks at standstill more torque than the drive's overload gives."""
    given, train = view.result.value("overload_torque_share"), view.station.drivetrain
    asked = train.load_fraction
    # Pumps and fans ask next to nothing at standstill.
    if given is None or asked is None or train.load_kind == "quadratic":
        return
    if given <= asked:
        yield view.at_train("load_fraction"), {"given_share": given, "asked_share": asked}
