"""What a station has in hand: torque, cooling, ramps, and how finely its reference can be set."""

from core.calc import cooling, drive_input, drive_rating, dynamics, motor_limits, signals
from core.calc import uncertainty as gum
from core.errors import RangeError
from core.line import margin_rules as rules
from core.line.chain import Chain, Limits
from core.line.feed import feed_of
from core.line.figures import Workbench
from core.line.shaft import Shaft
from core.model import DriveType, Station, Supply


def add_margins(
    bench: Workbench,
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None,
    shaft: Shaft,
    limits: Limits | None,
    chain: Chain | None,
) -> None:
    """Put the margins of a station on the bench."""
    top = limits.maximum_hz if limits else None
    _torque(bench, station, shaft, top)
    _cooling(bench, station, shaft)
    _ramps(bench, station, drive_type, supply, shaft, top)
    if chain is not None:
        _fineness(bench, station, drive_type, chain)


def _torque(bench: Workbench, station: Station, shaft: Shaft, top: float | None) -> None:
    load = station.drivetrain
    bench.figure(
        rules.TORQUE_AT_TOP,
        motor_limits.torque_share,
        {"frequency_hz": top, "base_frequency_hz": shaft.base_hz},
    )
    kind = load.load_kind or "constant_torque"
    bench.figure(
        rules.LOAD_AT_TOP,
        lambda frequency_hz, base_frequency_hz, load_fraction: motor_limits.load_torque_share(
            frequency_hz, base_frequency_hz, load_fraction, kind
        ),
        {
            "frequency_hz": top,
            "base_frequency_hz": shaft.base_hz,
            "load_fraction": load.load_fraction,
        },
        assumed="" if load.load_kind else "constant torque, as the kind of load was not entered",
    )


def _cooling(bench: Workbench, station: Station, shaft: Shaft) -> None:
    plate = station.motors[0] if station.motors else None
    # Pumps and fans ask so little torque when slow that their own fan suffices.
    quadratic = station.drivetrain.load_kind == "quadratic"
    if plate is None or plate.cooling != "own_fan" or quadratic:
        return

    def lowest(rated_frequency_hz: float, load_fraction: float) -> float:
        curve = cooling.cooling_curve(
            rated_frequency_hz, stated_frequency_min_hz=plate.frequency_min_hz
        )
        return cooling.frequency_min_for_load_hz(load_fraction, curve)

    stated = plate.frequency_min_hz is not None
    bench.figure(
        rules.COOLED_FROM,
        lowest,
        {
            "rated_frequency_hz": shaft.base_hz,
            "load_fraction": station.drivetrain.load_fraction,
        },
        assumed="" if stated else "rule of thumb for own-fan motors; ask the motor's maker",
    )


def _ramps(
    bench: Workbench,
    station: Station,
    drive_type: DriveType | None,
    supply: Supply | None,
    shaft: Shaft,
    top: float | None,
) -> None:
    plate = station.motors[0] if station.motors else None
    load_inertia, ratio = station.drivetrain.inertia_kg_m2, shaft.ratio
    inertia = bench.figure(
        rules.INERTIA,
        lambda rotor_kg_m2, load_kg_m2, ratio: (
            rotor_kg_m2 + dynamics.reflected_inertia_kg_m2(load_kg_m2, ratio)
        ),
        {
            "rotor_kg_m2": plate.inertia_kg_m2 if plate else None,
            "load_kg_m2": load_inertia,
            "ratio": ratio,
        },
    )
    torque, speed = bench.figures.get("rated_torque_n_m"), _motor_speed(shaft, top)
    rated = torque.value if torque else None
    load = station.drivetrain.load_fraction

    def overload_torque(
        output_current_a: float, overload_ratio: float, motor_current_a: float, power_factor: float
    ) -> float:
        return drive_rating.overload_torque_share(
            output_current_a, overload_ratio, motor_current_a, power_factor
        )

    share = bench.figure(
        rules.OVERLOAD_TORQUE,
        overload_torque,
        {
            "output_current_a": drive_type.output_current_a if drive_type else None,
            "overload_ratio": drive_type.overload if drive_type else None,
            "motor_current_a": plate.current_a if plate else None,
            "power_factor": plate.power_factor if plate else None,
        },
    )
    bench.figure(
        rules.SHORTEST_UP,
        lambda inertia_kg_m2, speed_rad_s, rated_torque_n_m, overload_share, load_fraction: (
            dynamics.acceleration_time_s(
                inertia_kg_m2,
                speed_rad_s,
                overload_share * rated_torque_n_m,
                load_fraction * rated_torque_n_m,
            )
        ),
        {
            "inertia_kg_m2": inertia,
            "speed_rad_s": speed,
            "rated_torque_n_m": rated,
            "overload_share": share,
            "load_fraction": load,
        },
    )
    feed = feed_of(supply, station.drive.supply_lines)
    doubles = bool(drive_type and drive_type.doubles_voltage)

    def shortest_down(
        inertia_kg_m2: float,
        speed_rad_s: float,
        rated_torque_n_m: float,
        overload_share: float,
        load_fraction: float,
        bus_capacitance_f: float,
        bus_trip_v: float,
        supply_v: float,
    ) -> float:
        bus_v = drive_input.bus_voltage_v(supply_v, doubles=doubles)
        margin = dynamics.bus_margin_j(bus_capacitance_f, bus_v, bus_trip_v)
        return dynamics.deceleration_time_s(
            inertia_kg_m2,
            speed_rad_s,
            overload_share * rated_torque_n_m,
            margin,
            load_fraction * rated_torque_n_m,
        ).time_s

    if station.drive.brake_resistor:
        return
    bench.figure(
        rules.SHORTEST_DOWN,
        shortest_down,
        {
            "inertia_kg_m2": inertia,
            "speed_rad_s": speed,
            "rated_torque_n_m": rated,
            "overload_share": share,
            "load_fraction": load,
            "bus_capacitance_f": drive_type.bus_capacitance_f if drive_type else None,
            "bus_trip_v": drive_type.bus_trip_v if drive_type else None,
            "supply_v": feed.voltage_v if feed else None,
        },
    )


def _motor_speed(shaft: Shaft, frequency_hz: float | None) -> float | None:
    try:
        return shaft.motor_speed(frequency_hz)
    except RangeError:
        # Too weak so far above rated frequency: there is no speed at this load.
        return None


def _fineness(
    bench: Workbench, station: Station, drive_type: DriveType | None, chain: Chain
) -> None:
    limits = chain.limits
    entry = drive_type.reference_input(station.reference.input_name) if drive_type else None
    bits = entry.resolution_bits if entry else None
    bench.figure(
        rules.INPUT_STEP,
        lambda bits, frequency_at_bottom_hz, frequency_at_top_hz: signals.resolution_hz(
            int(bits), frequency_at_bottom_hz, frequency_at_top_hz
        ),
        {
            "bits": bits,
            "frequency_at_bottom_hz": limits.bottom_hz,
            "frequency_at_top_hz": limits.top_hz,
        },
    )
    rows = reference_budget(station, drive_type, chain)
    bench.figure(
        rules.REFERENCE_SPREAD,
        lambda **_told: 2.0 * gum.combine(rows).standard,
        {f"{row.name}_hz": row.standard * row.sensitivity for row in rows},
        assumed="" if rows else "no tolerance was entered",
    )


def reference_budget(
    station: Station, drive_type: DriveType | None, chain: Chain
) -> tuple[gum.Contribution, ...]:
    """The uncertainty budget of a station's frequency, each row in hertz.

    Rectangular bounds: linearity of the potentiometer over the span of frequencies, half a step of
    the drive's input, half a step of its frequency, half a step of a DAC. A knob's setting itself
    is not in it.
    """
    span = abs(chain.limits.top_hz - chain.limits.bottom_hz)
    held = station.reference
    entry = drive_type.reference_input(held.input_name) if drive_type else None
    bounds: dict[str, float] = {}
    if held.source == "potentiometer" and held.pot_linearity:
        bounds["linearity_of_the_potentiometer"] = held.pot_linearity * span
    if entry is not None and entry.resolution_bits:
        step = signals.resolution_hz(
            entry.resolution_bits, chain.limits.bottom_hz, chain.limits.top_hz
        )
        bounds["half_a_step_of_the_input"] = abs(step) / 2.0
    if drive_type is not None and drive_type.frequency_step_hz:
        bounds["half_a_step_of_the_frequency"] = drive_type.frequency_step_hz / 2.0
    if chain.dac_bits:
        bounds["half_a_step_of_the_dac"] = span / (2**chain.dac_bits - 1) / 2.0
    return tuple(
        gum.Contribution(name, gum.standard_from_limits(bound))
        for name, bound in bounds.items()
        if bound > 0
    )
