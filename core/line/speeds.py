"""A station's speeds: as its reference is set now, and what a wanted speed asks of it."""

from core.calc import drivetrain, motor
from core.line import rules
from core.line.chain import HERTZ, Chain
from core.line.figures import Figure, Rule, Workbench
from core.line.shaft import Shaft
from core.model import Station


def speeds_now(bench: Workbench, station: Station, shaft: Shaft, chain: Chain | None) -> None:
    """Frequency and speeds that follow from the reference as it is set now."""
    held = station.reference
    signal = held.now_a if held.source == "current" else held.now_v
    frequency: float | None = None
    if held.source in HERTZ:
        frequency = held.now_hz
        as_entered(bench, rules.NOW_FREQUENCY, frequency)
    elif chain is not None:
        inputs = {"signal_a" if held.source == "current" else "signal_v": signal}
        assumed = ", ".join(chain.limits.assumed)
        frequency = bench.figure(
            rules.NOW_FREQUENCY,
            lambda **given: chain.frequency_hz(*given.values()),
            inputs,
            also=chain.told,
            assumed=assumed,
        )
        bench.figure(rules.NOW_SHARE, lambda **given: chain.fraction_for(*given.values()), inputs)
    speed = bench.figure(
        rules.NOW_MOTOR,
        motor.speed_at_rad_s,
        {
            "frequency_hz": frequency,
            "poles": shaft.poles,
            "rated_slip_rad_s": shaft.rated_slip_rad_s,
            "load_fraction": shaft.load_fraction,
            "base_frequency_hz": shaft.base_hz,
        },
        assumed=shaft.assumed,
    )
    shaft_speed = bench.figure(
        rules.NOW_SHAFT,
        drivetrain.shaft_speed_rad_s,
        {"motor_speed_rad_s": speed, "ratio": shaft.ratio},
    )
    if (surface := shaft.to_surface) is not None:
        bench.figure(
            rules.NOW_SURFACE,
            lambda shaft_speed_rad_s: surface(shaft_speed_rad_s),
            {"shaft_speed_rad_s": shaft_speed},
            also=shaft.told,
        )


def wanted_from_surface(
    bench: Workbench, shaft: Shaft, chain: Chain | None, surface_m_s: float | None
) -> float | None:
    """Everything back to the reference that gives a wanted surface speed; gives the frequency."""
    back = shaft.from_surface
    if back is None:
        return None
    speed = bench.figure(
        rules.WANTED_SHAFT,
        lambda surface_speed_m_s: back(surface_speed_m_s),
        {"surface_speed_m_s": surface_m_s},
        also=shaft.told,
    )
    return wanted_from_shaft(bench, shaft, chain, speed)


def wanted_from_shaft(
    bench: Workbench, shaft: Shaft, chain: Chain | None, speed_rad_s: float | None
) -> float | None:
    """Everything back to the reference that gives a wanted shaft speed; gives the frequency."""
    motor_speed = bench.figure(
        rules.WANTED_MOTOR,
        drivetrain.motor_speed_rad_s,
        {"shaft_speed_rad_s": speed_rad_s, "ratio": shaft.ratio},
    )
    frequency = bench.figure(
        rules.WANTED_FREQUENCY,
        motor.frequency_for_speed_hz,
        {
            "speed_rad_s": motor_speed,
            "poles": shaft.poles,
            "rated_slip_rad_s": shaft.rated_slip_rad_s,
            "load_fraction": shaft.load_fraction,
            "base_frequency_hz": shaft.base_hz,
        },
        assumed=shaft.assumed,
    )
    wanted_reference(bench, chain, frequency)
    return frequency


def wanted_from_frequency(
    bench: Workbench, shaft: Shaft, chain: Chain | None, frequency_hz: float | None
) -> float | None:
    """The speeds that a wanted frequency gives, and its reference; gives the surface speed."""
    wanted_reference(bench, chain, frequency_hz)
    speed = bench.figure(
        rules.MOTOR_OF_WANTED,
        motor.speed_at_rad_s,
        {
            "frequency_hz": frequency_hz,
            "poles": shaft.poles,
            "rated_slip_rad_s": shaft.rated_slip_rad_s,
            "load_fraction": shaft.load_fraction,
            "base_frequency_hz": shaft.base_hz,
        },
        assumed=shaft.assumed,
    )
    shaft_speed = bench.figure(
        rules.SHAFT_OF_WANTED,
        drivetrain.shaft_speed_rad_s,
        {"motor_speed_rad_s": speed, "ratio": shaft.ratio},
    )
    return surface_of_shaft(bench, shaft, shaft_speed)


def surface_of_shaft(
    bench: Workbench, shaft: Shaft, shaft_speed_rad_s: float | None
) -> float | None:
    """Surface speed wanted, from the shaft speed wanted; None where nothing moves."""
    if (surface := shaft.to_surface) is None:
        return None
    return bench.figure(
        rules.SURFACE_OF_WANTED,
        lambda shaft_speed_rad_s: surface(shaft_speed_rad_s),
        {"shaft_speed_rad_s": shaft_speed_rad_s},
        also=shaft.told,
    )


def wanted_reference(bench: Workbench, chain: Chain | None, frequency_hz: float | None) -> None:
    """Signal, place of the knob and DAC count that make a frequency."""
    if chain is None:
        return
    current = chain.input.signal == "current"
    signal = bench.figure(
        rules.WANTED_SIGNAL_A if current else rules.WANTED_SIGNAL_V,
        lambda frequency_hz: chain.signal_for(frequency_hz),
        {"frequency_hz": frequency_hz},
        also=chain.told,
        assumed=", ".join(chain.limits.assumed),
    )
    name = "signal_a" if current else "signal_v"
    share = bench.figure(
        rules.WANTED_SHARE,
        lambda **given: chain.fraction_for(*given.values()),
        {name: signal},
        also=chain.told,
    )
    if chain.dac_bits is not None:
        bench.figure(
            rules.WANTED_COUNT,
            lambda share: float(chain.count(share) or 0),
            {"share": share},
            also={"dac_bits": float(chain.dac_bits)},
        )


def as_entered(bench: Workbench, rule: Rule, value: float | None) -> None:
    """Put a value on the bench that somebody entered as it is."""
    lacks = () if value is not None else (rule.label.lower(),)
    given = {} if value is None else {f"entered_{rule.key}": value}
    bench.figures[rule.key] = Figure(rule, value, given, lacks)
