"""Serial bus times and levels, and current loops, against their specifications."""

from core.calc import bus, compliance, leakage
from tests.published.checks import every, series

SERIAL = "MODBUS over Serial Line V1.02"

TIMES = (
    *series(
        bus.character_bits,
        [
            ("even parity, 8E1", ("even",), 11),
            ("no parity, 8N2", ("none",), 11),
        ],
        tolerance=1e-9,
        source=f"{SERIAL}, 2.5.1",
        status="from memory",
    ),
    *series(
        bus.silent_gap_s,
        [
            # 3.5 * 11 / 9600 and 3.5 * 11 / 19200; above 19200 fixed
            ("between frames, 9600 Bd", (9600,), 4.0104),
            ("between frames, 19200 Bd", (19200,), 2.0052),
            ("between frames, 38400 Bd", (38400,), 1.75),
            ("within a frame, 9600 Bd", (9600, 11, "character"), 1.71875),
            ("within a frame, 115200 Bd", (115200, 11, "character"), 0.75),
        ],
        of=lambda time_s: 1e3 * time_s,
        unit="ms",
        tolerance=1e-4,
        source=f"{SERIAL}, 2.5.1.1",
        status="from memory",
    ),
    *series(
        bus.exchange_time_s,
        [
            # 17 characters of 11/19200 s = 9.7396 ms, two gaps of 2.0052 ms, 10 ms: 23.75 ms
            ("read of 2 registers, 19200 Bd, drive 10 ms", (8, 9, 19200), 23.75),
            # 16 characters of 11/9600 s = 18.3333 ms, two gaps of 4.0104 ms, 5 ms: 31.354 ms
            ("write of 1 register, 9600 Bd, drive 5 ms", (8, 8, 9600, 11, 0.005), 31.354),
        ],
        of=lambda time_s: 1e3 * time_s,
        unit="ms",
        tolerance=0.001,
        source=f"{SERIAL}, 2.5.1.1, sum of characters and gaps",
        status="by hand",
    ),
    *series(
        bus.read_lengths,
        [
            # The request 11 03 00 6B 00 03 with its check is 8 characters, its reply 5 + 2 * 3.
            ("reply of 3 registers", (3,), 11),
        ],
        of=lambda lengths: lengths[1],
        tolerance=1e-9,
        source="MODBUS Application Protocol V1.1b3, 6.3",
        status="from memory",
    ),
)

LEVELS = (
    *series(
        bus.idle_voltage_v,
        [
            # 5 * 60 / (60 + 2 * 650) and 5 * 60 / (60 + 2 * 450), no receivers
            ("650 Ω bias, two terminations", (650.0, 5.0, 2, 0.0), 0.2206),
            ("450 Ω bias, two terminations", (450.0, 5.0, 2, 0.0), 0.3125),
        ],
        unit="V",
        tolerance=5e-5,
        source=f"{SERIAL}, 3.4.6: bias of 450 to 650 Ω holds a line above 0.2 V",
        status="by hand",
    ),
    *series(
        bus.unit_load_fit,
        [("32 unit loads", ((1.0,) * 32,), 1.0), ("33 unit loads", ((1.0,) * 33,), 0.0)],
        of=lambda fit: float(fit.fits),
        tolerance=1e-9,
        source="TIA/EIA-485-A, 32 unit loads",
        status="from memory",
    ),
)

LOOPS = (
    *series(
        compliance.loop_margin_v,
        [
            # With the published highest resistance nothing is to spare.
            ("24 V, 12 V, 585.4 Ω, 20.5 mA", (24.0, 12.0, 585.4), 0.0),
            ("24 V, 12 V, 571.4 Ω, 21 mA", (24.0, 12.0, 571.4, 0.021), 0.0),
            ("24 V, 10 V, 700 Ω, 20 mA", (24.0, 10.0, 700.0, 0.020), 0.0),
            ("30 V, 10.5 V, 886.4 Ω, 22 mA", (30.0, 10.5, 886.4, 0.022), 0.0),
            ("18 V, 8 V, 487.8 Ω, 20.5 mA", (18.0, 8.0, 487.8), 0.0),
        ],
        unit="V",
        tolerance=0.0012,
        source="Kirchhoff's voltage law; NAMUR NE 43 for the currents",
        status="by hand",
    ),
    *series(
        compliance.pot_ohm_max,
        [
            # Exact largest bend of a loaded potentiometer: 1.449 % at 0.1, 0.1478 % at 0.01
            ("bend 6.673 %", (100e3, 0.06673), 50e3),
            ("bend 1.449 %", (100e3, 0.01449), 10e3),
            ("bend 0.1478 %", (100e3, 0.001478), 1e3),
        ],
        unit="Ω",
        tolerance=10.0,
        source="loaded potentiometer by Kirchhoff's laws, largest deviation",
        status="formula",
    ),
    *series(
        compliance.pot_ohm_min,
        [
            # 1 / (0.010 / 10 - 1 / 20000) = 1 / 0.00095
            ("10 V, 10 mA, input 20 kΩ", (10.0, 0.010, 20e3), 1052.6),
        ],
        unit="Ω",
        tolerance=0.05,
        source="Ohm's law for two resistances in parallel",
        status="by hand",
    ),
)

RCD = (
    *series(
        leakage.rcd_type_fit,
        [
            ("type AC, single-phase drive", ("ac", "line_neutral"), 0.0),
            ("type A, single-phase drive", ("a", "line_neutral"), 0.0),
            ("type F, single-phase drive", ("f", "line_neutral"), 1.0),
            ("type F, drive between two lines", ("f", "line_line"), 0.0),
            ("type F, three-phase drive", ("f", "three_phase"), 0.0),
            ("type B, three-phase drive", ("b", "three_phase"), 1.0),
        ],
        of=lambda fit: float(fit.fits),
        tolerance=1e-9,
        source="BS 7671, 531.3.3, and summaries of IEC 62423",
        status="seen",
    ),
    *series(
        leakage.leakage_fit,
        [("30 mA device", ((), 0.030), 9.0), ("300 mA device", ((), 0.300), 90.0)],
        of=lambda fit: 1e3 * fit.available,
        unit="mA",
        tolerance=1e-6,
        source="IEC 60364-5-53, 531.3.2, 30 % of the rated residual current",
        status="from memory",
    ),
    *series(
        leakage.earth_demand,
        [("3.4 mA", (0.0034,), 0), ("3.6 mA", (0.0036,), 1), ("11 mA", (0.011,), 2)],
        of=lambda demand: float(demand.level),
        tolerance=1e-9,
        source="IEC 61800-5-1, 4.3.5.5.2 (3.5 mA); IEC 60364-5-54, 543.7 (10 mA)",
        status="from memory",
    ),
)

CHECKS = (*TIMES, *LEVELS, *LOOPS, *RCD)


@every(CHECKS)
def test_published_value(check):
    check.verify()
