"""Findings about the voltage that the motor gets: its connection against settings and drive."""

from collections.abc import Callable, Iterator

from core.calc import drive_rating, motor_limits
from core.line.findings.base import Place
from core.line.findings.view import Found, View, station_rule
from core.model import Motor
from core.model.choices import CONNECTIONS

_FLUX_HIGH, _FLUX_LOW = 1.10, 0.90


@station_rule(
    key="motor-flux",
    level="blocker",
    says="Settings give {set_v} at {set_hz}; the motor as connected ({connection}) wants "
    "{plate_v} at {plate_hz}: {flux_share} of its flux.",
    follows="Above its flux a motor saturates, draws far too much current, burns or trips the "
    "drive.",
    mend="Reconnect the motor for {set_v}, or set voltage and frequency from its plate.",
    source="constant V/f law; 110 % as limit: common practice",
)
def motor_flux(view: View) -> Iterator[Found]:
    """Motor connected for another voltage than the drive is set to: too much flux."""
    yield from _flux(view, lambda share: share > _FLUX_HIGH)


@station_rule(
    key="motor-weak",
    level="fault",
    says="Settings give {set_v} at {set_hz}; the motor as connected ({connection}) wants "
    "{plate_v} at {plate_hz}: {flux_share} of its flux.",
    follows="Torque falls with the square of that: the motor stalls or runs hot under its load.",
    mend="Reconnect the motor for {set_v}, or set voltage and frequency from its plate.",
    source="constant V/f law; 90 % as limit: common practice",
)
def motor_weak(view: View) -> Iterator[Found]:
    """Motor connected for another voltage than the drive is set to: too little flux."""
    yield from _flux(view, lambda share: share < _FLUX_LOW)


def _flux(view: View, wrong: Callable[[float], bool]) -> Iterator[Found]:
    voltage, frequency = view.setting("motor_voltage"), view.setting("motor_frequency")
    plate = view.motor
    if voltage is None or frequency is None or plate is None:
        return
    if not (voltage.value and frequency.value and plate.voltage_v and plate.frequency_hz):
        return
    output = _highest_output_v(view)
    set_v = min(voltage.value, output) if output else voltage.value
    share = motor_limits.flux_share(set_v, frequency.value, plate.voltage_v, plate.frequency_hz)
    if wrong(share):
        yield (
            Place("motor", plate.id, "connected_for"),
            {
                "set_v": set_v,
                "set_hz": frequency.value,
                "connection": _connection(plate),
                "plate_v": plate.voltage_v,
                "plate_hz": plate.frequency_hz,
                "flux_share": share,
            },
        )


def _connection(plate: Motor) -> str:
    words = CONNECTIONS.get(plate.connection or "", "connection not entered")
    return words.partition(" (")[0].lower()


def _highest_output_v(view: View) -> float | None:
    """No drive gives more than its input, twice that where it doubles."""
    kind, feed = view.drive_type, view.feed
    if kind is None:
        return None
    if feed is None:
        return kind.output_voltage_v
    return drive_rating.output_voltage_v(
        feed.voltage_v, kind.output_voltage_v, doubles=kind.doubles_voltage
    )


@station_rule(
    key="output-voltage",
    level="fault",
    says="The drive gives at most {output_v}; the motor as connected wants {plate_v}.",
    follows="Above {weak_from_hz} the motor has too little voltage and loses torque.",
    mend="Connect the motor for the lower voltage if it has one, or use a drive of a higher class.",
    source="constant V/f law; a 120 V class doubles to 230 V where entered so",
)
def output_voltage(view: View) -> Iterator[Found]:
    """The motor's connection asks more voltage than the drive can give."""
    output, plate = _highest_output_v(view), view.motor
    if output is None or plate is None or plate.voltage_v is None or plate.frequency_hz is None:
        return
    if output < plate.voltage_v * _FLUX_LOW:
        yield (
            Place("motor", plate.id, "connected_for"),
            {
                "output_v": output,
                "plate_v": plate.voltage_v,
                "weak_from_hz": plate.frequency_hz * output / plate.voltage_v,
            },
        )


@station_rule(
    key="output-voltage-high",
    level="blocker",
    says="The drive can give {output_v}; the motor as connected ({connection}) wants {plate_v}, "
    "and no motor voltage is set at the drive.",
    follows="Nothing that is entered keeps the motor from {flux_share} of its flux: it saturates "
    "and burns.",
    mend="Reconnect the motor for {output_v}, or set the drive's motor voltage and enter it.",
    source="constant V/f law; 110 % as limit: common practice",
)
def output_voltage_high(view: View) -> Iterator[Found]:
    """A drive of a higher voltage class than the motor's connection, without a voltage setting."""
    output, plate, setting = _highest_output_v(view), view.motor, view.setting("motor_voltage")
    if output is None or plate is None or plate.voltage_v is None:
        return
    if (setting is None or not setting.value) and output > plate.voltage_v * _FLUX_HIGH:
        yield (
            Place("motor", plate.id, "connected_for"),
            {
                "output_v": output,
                "connection": _connection(plate),
                "plate_v": plate.voltage_v,
                "flux_share": output / plate.voltage_v,
            },
        )
