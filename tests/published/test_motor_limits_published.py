"""Motor limits, long cables and unequal voltages against published relations and values."""

from functools import partial

from core.calc import long_cable, motor_limits, unbalance
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
        source="NEMA MG 1 part 31, 31.4.4.2, quoted in a conference paper of 2004",
        status="seen",
    )
    for volts, peak in ((208, 647), (230, 715.6), (400, 1244.5), (460, 1431), (575, 1789))
)

UNBALANCE = (
    *series(
        unbalance.unbalance,
        [
            ("voltages 462, 463, 455", (462.0, 463.0, 455.0), 1.1),
            ("voltages 480, 476, 472", (480.0, 476.0, 472.0), 0.84),
            ("voltages 460, 467, 450", (460.0, 467.0, 450.0), 1.961),
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
            # mean 414.333, farthest 408: 6.333 / 414.333
            ("voltages 415, 408, 420", (415.0, 408.0, 420.0), 1.5286),
            ("currents 4.1, 4.3, 3.9", (4.1, 4.3, 3.9), 4.88),
            ("currents 10, 10.5, 9.5", (10.0, 10.5, 9.5), 5.0),
            ("currents 2.2, 2.0, 2.1", (2.2, 2.0, 2.1), 4.76),
        ],
        of=lambda share: 100.0 * share,
        unit="%",
        tolerance=0.005,
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
    *CRITICAL,
    *REFLECTIONS,
    *INSULATION,
    *UNBALANCE,
    *DERATING,
    *SEQUENCE,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
