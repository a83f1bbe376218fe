"""A diode bridge with bus capacitors, simulated step by step, without the program."""

import math


def true_power_factor(
    phases: int,
    supply_v: float,
    frequency_hz: float,
    load_w: float,
    choke_h: float,
    *,
    capacitor_f: float = 1e-3,
    resistance_ohm: float = 0.3,
) -> float:
    """Active over apparent power at the supply once the circuit has settled [-].

    Each line has `choke_h` and `resistance_ohm` before the bridge; two lines conduct at a time, and
    commutation takes no time. The load draws constant power.
    """
    lines = 1 if phases == 1 else 2  # chokes in the way of the current
    inductance, resistance = lines * choke_h, lines * resistance_ohm
    peak, step = math.sqrt(2.0) * supply_v, 4e-6
    steps = round(1.0 / frequency_hz / step)
    bus_v, current_a = 0.95 * peak, 0.0
    for _cycle in range(25):
        energy = squares = 0.0
        for number in range(steps):
            driving_v = _rectified(phases, peak, math.tau * number / steps)
            slope = (driving_v - bus_v - resistance * current_a) / inductance
            current_a = max(0.0, current_a + step * slope)
            bus_v += step * (current_a - load_w / bus_v) / capacitor_f
            energy += driving_v * current_a
            squares += current_a**2
    dc_rms = math.sqrt(squares / steps)
    # A line of three carries the bus current two thirds of the time.
    line_rms = dc_rms if phases == 1 else math.sqrt(2.0 / 3.0) * dc_rms
    return energy / steps / (math.sqrt(phases) * supply_v * line_rms)


def _rectified(phases: int, peak: float, angle: float) -> float:
    """Voltage of the bridge: of one sine, or of the six pulses between three lines."""
    if phases == 1:
        return peak * abs(math.sin(angle))
    return max(abs(peak * math.sin(angle + third * math.tau / 3.0)) for third in range(3))
