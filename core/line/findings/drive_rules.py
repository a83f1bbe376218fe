"""Findings about the drive and its motors: current, overload devices, length of the motor cable."""

from collections.abc import Iterator

from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule


@station_rule(
    key="drive-too-small",
    level="fault",
    says="The motors ask {motors_a} together; the drive gives {drive_a}.",
    follows="The drive trips on overload or limits the motor's torque.",
    mend="Use a drive of at least {motors_a} output current.",
    source="nameplates; currents compared, not powers",
)
def drive_too_small(view: View) -> Iterator[Found]:
    """The drive's output current is below the sum of the motors' currents."""
    kind, motors = view.drive_type, view.motors_a
    if kind is None or kind.output_current_a is None or motors is None:
        return
    if motors > kind.output_current_a * 1.001:
        yield view.at_drive(), {"motors_a": motors, "drive_a": kind.output_current_a}


@station_rule(
    key="motors-without-own-overload",
    level="blocker",
    says="{number} motors run on one drive; without an overload device of its own: {without}.",
    follows="The drive sees the sum only: one stalled motor burns without a trip.",
    mend="Fit an overload relay for each motor, or let a thermal sensor of each trip the drive.",
    source="NEC 430.32 and 430.124(C); IEC 60204-1, 7.3",
)
def motors_without_own_overload(view: View) -> Iterator[Found]:
    """Several motors on one drive, and not each with its own overload device."""
    without = [
        (plate, plate.tag or f"motor {number}")
        for number, plate in enumerate(view.motors, start=1)
        if not plate.own_overload
    ]
    if len(view.motors) > 1 and without:
        yield (
            Place("motor", without[0][0].id, "own_overload"),
            {
                "number": str(len(view.motors)),
                "without": " and ".join(name for _, name in without),
            },
        )


@station_rule(
    key="motor-cable-too-long",
    level="fault",
    says="The motor cable is {cable_length_m} long; drive type {drive_type} allows "
    "{allowed_length_m}.",
    follows="Charging current trips the drive, and voltage peaks stress the motor.",
    mend="Shorten it, or add an output choke as the drive's manual says.",
    source="the drive's manual as entered",
)
def motor_cable_too_long(view: View) -> Iterator[Found]:
    """A motor cable longer than the drive's manual allows."""
    cable, kind = view.station.cable("motor"), view.drive_type
    if cable is None or cable.length_m is None or kind is None or kind.motor_cable_max_m is None:
        return
    if cable.length_m > kind.motor_cable_max_m:
        yield (
            Place("cable", cable.id, "length_m"),
            {
                "cable_length_m": cable.length_m,
                "drive_type": kind.name,
                "allowed_length_m": kind.motor_cable_max_m,
            },
        )
