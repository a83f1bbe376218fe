"""Motor limits, long cables and unequal voltages against published relations and values."""

from functools import partial

from core.calc import cooling, long_cable, motor_current, motor_limits, unbalance
from tests.published.checks import Check, every, series

TEXTBOOK = "Fitzgerald, Kingsley, Umans, Electric Machinery, constant V/f and field weakening"
WAVES = "travelling-wave theory of transmission lines, reflection at a load"

VOLTAGES = series(
    motor_limits.motor_voltage_v,
    [
        ("230 V 60 Hz motor at 10 Hz", (10.0, 230.0, 230.0, 60.0), 38.33),
        ("230 V 60 Hz motor at 30 Hz", (30.0, 230.0, 230.0, 60.0), 115.0),
        ("230 V 60 Hz motor at 45 Hz", (45.0, 230.0, 230.0, 60.0), 172.5),
        ("230 V 60 Hz motor at 75 Hz", (75.0, 230.0, 230.0, 60.0), 230.0),
    ],
    unit="V",
    tolerance=0.005,
    source=TEXTBOOK,
    status="by hand",
)

BASES = series(
    motor_limits.base_frequency_hz,
    [
        ("230 V delta, 400 V drive, 50 Hz", (400.0, 230.0, 50.0), 86.96),
        ("230 V delta, 460 V drive, 60 Hz", (460.0, 230.0, 60.0), 120.0),
        ("460 V motor on 230 V drive, 60 Hz", (230.0, 460.0, 60.0), 30.0),
    ],
    unit="Hz",
    tolerance=0.005,
    source=TEXTBOOK,
    status="by hand",
)

WEAKENING = (
    *series(
        motor_limits.torque_share,
        [("75 Hz on base 60 Hz", (75.0, 60.0), 0.80), ("90 Hz on base 60 Hz", (90.0, 60.0), 0.667)],
        tolerance=0.0005,
        source=TEXTBOOK,
        status="by hand",
    ),
    *series(
        motor_limits.breakdown_torque_share,
        [("75 Hz on base 60 Hz", (75.0, 60.0), 0.64), ("90 Hz on base 60 Hz", (90.0, 60.0), 0.444)],
        tolerance=0.0005,
        source=TEXTBOOK,
        status="by hand",
    ),
)

OTHER_SUPPLY = series(
    motor_limits.flux_share,
    [
        ("400 V 50 Hz motor on 480 V 60 Hz", (480.0, 60.0, 400.0, 50.0), 1.0),
        ("400 V 50 Hz motor on 400 V 60 Hz", (400.0, 60.0, 400.0, 50.0), 0.833),
        ("460 V 60 Hz motor on 460 V 50 Hz", (460.0, 50.0, 460.0, 60.0), 1.2),
        ("230 V 60 Hz motor on 190 V 50 Hz", (190.0, 50.0, 230.0, 60.0), 0.991),
    ],
    tolerance=0.0006,
    source="Faraday's law, flux by volts per hertz",
    status="by hand",
)

# A 400 V 50 Hz motor on 400 V 60 Hz: flux 1 / 1.2, its square for breakdown torque.
CHANGED = (
    *series(
        motor_limits.on_other_supply,
        [
            ("400 V 50 Hz motor on 480 V 60 Hz: power", (480.0, 60.0, 400.0, 50.0), 1.2),
            ("400 V 50 Hz motor on 400 V 60 Hz: power", (400.0, 60.0, 400.0, 50.0), 1.0),
            ("460 V 60 Hz motor on 383.3 V 50 Hz: power", (383.333, 50.0, 460.0, 60.0), 0.8333),
        ],
        of=lambda other: other.power,
        tolerance=5e-5,
        source=TEXTBOOK,
        status="by hand",
    ),
    *series(
        motor_limits.on_other_supply,
        [
            ("400 V 50 Hz motor on 480 V 60 Hz: breakdown", (480.0, 60.0, 400.0, 50.0), 1.0),
            ("400 V 50 Hz motor on 400 V 60 Hz: breakdown", (400.0, 60.0, 400.0, 50.0), 0.6944),
        ],
        of=lambda other: other.breakdown_torque,
        tolerance=5e-5,
        source=TEXTBOOK,
        status="by hand",
    ),
)

LOADS = (
    *series(
        motor_limits.load_torque_share,
        [
            ("pump at half speed, a quarter", (30.0, 60.0, 0.8, "quadratic"), 0.2),
            ("pump at 80 % speed", (40.0, 50.0, 1.0, "quadratic"), 0.64),
            ("belt at half speed, as before", (30.0, 60.0, 0.8, "constant_torque"), 0.8),
        ],
        tolerance=1e-9,
        source="affinity laws of pumps and fans; constant friction of belts",
        status="common practice",
    ),
    *series(
        motor_limits.frequency_max_for_load_hz,
        [
            # by current 60 / 0.8 = 75; by breakdown 60 √(1.6 / (1.3·0.8)) = 74.421, the lower
            ("80 % of rated torque, breakdown 2.5 times", (60.0, 0.8, 2.5), 75.0),
            ("80 % of rated torque, breakdown 1.6 times", (60.0, 0.8), 74.421),
            ("rated torque, breakdown 1.6 times", (60.0, 1.0), 60.0),
        ],
        unit="Hz",
        tolerance=0.001,
        source=f"{TEXTBOOK}, solved for frequency",
        status="by hand",
    ),
    *series(
        motor_limits.torque_margin,
        [("75 Hz on base 60 Hz, load 60 %", (0.8, 0.6), 1 / 3)],
        tolerance=1e-9,
        source="available over needed, less one",
        status="by hand",
    ),
)

# Not a limit: the lower ends of what is quoted where no maker's curve is at hand.
COOLING = series(
    cooling.cooled_torque_share,
    [
        (f"{hz:g} Hz, own-fan 60 Hz motor", (hz, cooling.cooling_curve(60.0)), torque)
        for hz, torque in ((6.0, 0.5), (15.0, 0.7), (30.0, 0.85), (60.0, 1.0))
    ],
    tolerance=1e-9,
    source="rule of thumb for own-fan motors, no standard's curve was seen",
    status="common practice",
)

PART_LOAD = (
    *series(
        motor_current.current_at_load_a,
        [
            # 5 √((0.5·0.8)² + 0.36) = 5 √0.52; 5 √0.36 = 3
            ("5 A, 0.8, half load", (5.0, 0.8, 0.5), 3.6056),
            ("5 A, 0.8, no load", (5.0, 0.8, 0.0), 3.0),
            # 2 √((0.75·0.6)² + 0.64) = 2 √0.8425
            ("2 A, 0.6, three quarters of load", (2.0, 0.6, 0.75), 1.8358),
        ],
        unit="A",
        tolerance=5e-5,
        source="active and reactive current at right angles, constant magnetising current",
        status="by hand",
    ),
    *series(
        motor_current.load_from_current,
        [("5 A, 0.8, found 3.6056 A", (5.0, 0.8, 3.6056), 0.5)],
        tolerance=3e-5,
        source="active and reactive current at right angles, constant magnetising current",
        status="by hand",
    ),
)

CRITICAL = series(
    long_cable.critical_length_m,
    [
        ("0.2 µs, 1.50e8 m/s", (0.2e-6, 1.50e8), 15.0),
        ("0.4 µs, 1.65e8 m/s", (0.4e-6, 1.65e8), 33.0),
        ("1 µs, 1.60e8 m/s", (1e-6, 1.60e8), 80.0),
        ("2 µs, 1.50e8 m/s", (2e-6, 1.50e8), 150.0),
    ],
    unit="m",
    tolerance=0.05,
    source=WAVES,
    status="by hand",
)

REFLECTIONS = series(
    long_cable.reflection_share,
    [
        ("motor 2000 Ω, cable 80 Ω", (2000.0, 80.0), 0.923),
        ("motor 500 Ω, cable 50 Ω", (500.0, 50.0), 0.818),
        ("motor 5000 Ω, cable 190 Ω", (5000.0, 190.0), 0.927),
    ],
    tolerance=0.0005,
    source=WAVES,
    status="by hand",
)

GENERAL = long_cable.insulation_limit(460.0, inverter_duty=False)
INVERTER = long_cable.insulation_limit(460.0, inverter_duty=True)
INSULATION = tuple(
    Check(
        function=long_cable.insulation_limit,
        case=f"inverter duty, {volts} V",
        got=partial(
            lambda given: long_cable.insulation_limit(given, inverter_duty=True).peak_v, volts
        ),
        expected=peak,
        tolerance=0.6,
        unit="V",
        source="NEMA MG 1 part 31, 31.4.4.2, 1.1·2·√2·U, quoted in a conference paper of 2004",
        status="formula",
    )
    for volts, peak in ((208, 647.0), (230, 715.6), (400, 1244.5), (460, 1431.0), (575, 1789.0))
)
LIMITS = tuple(
    Check(
        function=long_cable.insulation_limit,
        case=case,
        got=got,
        expected=expected,
        tolerance=1e-6,
        unit=unit,
        source=f"NEMA MG 1 part {part}, quoted in conference papers",
        status="seen",
    )
    for case, part, got, expected, unit in (
        ("general purpose, peak", "30", lambda: GENERAL.peak_v, 1000.0, "V"),
        ("general purpose, rise", "30", lambda: 1e6 * GENERAL.rise_time_min_s, 2.0, "µs"),
        ("inverter duty, rise", "31", lambda: 1e6 * INVERTER.rise_time_min_s, 0.1, "µs"),
    )
)

PEAKS = series(
    long_cable.terminal_peak_v,
    [
        # full reflection doubles; 325.3 (1 + 0.923) = 625.55; a third of the critical length
        ("325 V, far beyond critical", (325.0, 50.0, 15.0), 650.0),
        ("325.3 V, reflection 0.923", (325.3, 15.0, 15.0, 0.923), 625.55),
        ("600 V, a third of critical", (600.0, 5.0, 15.0), 800.0),
    ],
    unit="V",
    tolerance=0.01,
    source=f"{WAVES}, peak (1 + Γ) U",
    status="by hand",
)

UNBALANCE = (
    *series(
        unbalance.unbalance,
        [
            ("voltages 462, 463, 455, printed as 1.1", (462.0, 463.0, 455.0), 1.1),
            ("voltages 480, 476, 472, printed as 0.84", (480.0, 476.0, 472.0), 0.84),
            ("voltages 460, 467, 450, printed as 1.96", (460.0, 467.0, 450.0), 1.96),
        ],
        of=lambda share: 100.0 * share,
        unit="%",
        tolerance=0.05,
        source="worked examples of NEMA MG 1 voltage unbalance, 14.36, in trade texts",
        status="seen",
    ),
    *series(
        unbalance.unbalance,
        [
            # mean 460, farthest 455: 5 / 460
            ("voltages 462, 463, 455", (462.0, 463.0, 455.0), 1.087),
            # mean 459, farthest 450: 9 / 459
            ("voltages 460, 467, 450", (460.0, 467.0, 450.0), 1.961),
            # mean 476, farthest 4: 4 / 476
            ("voltages 480, 476, 472", (480.0, 476.0, 472.0), 0.840),
            ("voltages 230, 230, 230", (230.0, 230.0, 230.0), 0.0),
            # mean 414.333, farthest 408: 6.333 / 414.333
            ("voltages 415, 408, 420", (415.0, 408.0, 420.0), 1.5286),
            # mean 4.1, farthest 0.2: 0.2 / 4.1
            ("currents 4.1, 4.3, 3.9", (4.1, 4.3, 3.9), 4.878),
            ("currents 10, 10.5, 9.5", (10.0, 10.5, 9.5), 5.0),
            ("currents 2.2, 2.0, 2.1", (2.2, 2.0, 2.1), 4.762),
        ],
        of=lambda share: 100.0 * share,
        unit="%",
        tolerance=0.0006,
        source="definition of NEMA MG 1, 12.45",
        status="by hand",
    ),
)

# The second of two copies of the curve; the program goes by points of the first.
DERATING = series(
    unbalance.derating,
    [
        (f"{percent} % unbalance", (percent / 100.0,), factor)
        for percent, factor in (
            (1.5, 0.97),
            (2.0, 0.95),
            (2.5, 0.93),
            (3.0, 0.89),
            (3.5, 0.85),
            (4.0, 0.82),
            (4.5, 0.78),
            (5.0, 0.76),
        )
    ],
    tolerance=0.02,
    source="NEMA MG 1 figure 14-1 = ANSI C84.1 figure D1, a second copy",
    status="seen",
)

SEQUENCE = series(
    unbalance.negative_sequence,
    [
        # Phase voltages 230, 230 at -120°, 215 at +120°: positive 225, negative 5, by hand. Their
        # line voltages: 230 sqrt 3 and twice sqrt(230² + 215² + 230·215).
        ("lines 398.37, 385.45, 385.45", (398.37, 385.45, 385.45), 5.0 / 225.0),
    ],
    tolerance=2e-5,
    source="symmetrical components after Fortescue",
    status="by hand",
)

CHECKS = (
    *VOLTAGES,
    *BASES,
    *WEAKENING,
    *OTHER_SUPPLY,
    *CHANGED,
    *LOADS,
    *COOLING,
    *PART_LOAD,
    *CRITICAL,
    *REFLECTIONS,
    *INSULATION,
    *LIMITS,
    *PEAKS,
    *UNBALANCE,
    *DERATING,
    *SEQUENCE,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
