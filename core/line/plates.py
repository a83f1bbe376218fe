"""What a motor's nameplate gives."""

from collections.abc import Mapping

from core.calc import motor
from core.line import rules
from core.line.figures import Figure, Workbench
from core.model import Motor


def motor_figures(bench: Workbench, plate: Motor, number: int) -> Mapping[str, Figure]:
    """Figures of one motor; those of the second and later ones carry its number in the key."""
    for name, words in (
        ("power_w", "rated power"),
        ("frequency_hz", "rated frequency"),
        ("speed_rad_s", "rated speed"),
        ("connected_for", "which voltage it is connected for"),
    ):
        if getattr(plate, name) is None:
            label = f"Motor {plate.tag}".strip() if number > 1 else "Motor"
            bench.lack("motor", plate.id, name, f"{label}: {words}.")
    end = "" if number == 1 else f"_{number}"
    before = set(bench.figures)
    poles = _poles(bench, plate, end)
    bench.figure(
        rules.SYNCHRONOUS_SPEED,
        motor.synchronous_speed_rad_s,
        {"frequency_hz": plate.frequency_hz, "poles": poles},
        key=rules.SYNCHRONOUS_SPEED.key + end,
    )
    bench.figure(
        rules.RATED_SLIP,
        motor.rated_slip_rad_s,
        {
            "rated_speed_rad_s": plate.speed_rad_s,
            "frequency_hz": plate.frequency_hz,
            "poles": poles,
        },
        key=rules.RATED_SLIP.key + end,
    )
    bench.figure(
        rules.RATED_TORQUE,
        motor.rated_torque_n_m,
        {"power_w": plate.power_w, "rated_speed_rad_s": plate.speed_rad_s},
        key=rules.RATED_TORQUE.key + end,
    )
    bench.figure(
        rules.PLATE_CURRENT,
        motor.full_load_current_a,
        {
            "power_w": plate.power_w,
            "voltage_v": plate.voltage_v,
            "efficiency": plate.efficiency,
            "power_factor": plate.power_factor,
        },
        key=rules.PLATE_CURRENT.key + end,
    )
    return {key: value for key, value in bench.figures.items() if key not in before}


def _poles(bench: Workbench, plate: Motor, end: str) -> int | None:
    if plate.poles is not None:
        given = {"poles_on_the_plate": float(plate.poles)}
        bench.figures[rules.POLES.key + end] = Figure(rules.POLES, plate.poles, given)
        return plate.poles
    found = bench.figure(
        rules.POLES,
        motor.poles_from_speed,
        {"rated_speed_rad_s": plate.speed_rad_s, "frequency_hz": plate.frequency_hz},
        key=rules.POLES.key + end,
    )
    return None if found is None else int(found)
