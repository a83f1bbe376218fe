"""The connection in use of a motor, and finding what a station holds."""

import dataclasses

import pytest

from core.model import Cable, Drive, Motor, Setting, Station

DUAL = Motor(
    voltage_low_v=230.0,
    current_low_a=3.0,
    connection_low="delta",
    voltage_high_v=400.0,
    current_high_a=1.7,
    connection_high="star",
)


@pytest.mark.parametrize(
    ("connected_for", "volts", "amps", "connection"),
    [
        ("low", 230.0, 3.0, "delta"),
        ("high", 400.0, 1.7, "star"),
        (None, 230.0, 3.0, "delta"),
    ],
)
def test_motor_gives_the_values_of_the_connection_in_use(
    connected_for: str | None, volts: float, amps: float, connection: str
) -> None:
    motor = dataclasses.replace(DUAL, connected_for=connected_for)
    assert (motor.voltage_v, motor.current_a, motor.connection) == (volts, amps, connection)


def test_motor_without_a_nameplate_gives_nothing() -> None:
    assert (Motor().voltage_v, Motor().current_a, Motor().connection) == (None, None, None)


def test_setting_is_found_by_its_code() -> None:
    drive = Drive(settings=(Setting(code="F-01", shown="50"), Setting(code="F-02", shown="5")))
    assert drive.setting("F-02") is drive.settings[1]
    assert drive.setting("F-03") is None


def test_first_cable_of_a_run_is_found() -> None:
    station = Station(cables=(Cable(run="motor", length_m=5.0), Cable(run="bus")))
    assert station.cable("bus") is station.cables[1]
    assert station.cable("reference") is None
