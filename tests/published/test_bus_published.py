"""Serial bus times and levels, and current loops, against their specifications."""

from core.calc import bus, compliance, leakage
from tests.published.checks import every, series

SERIAL = "MODBUS over Serial Line V1.02"
FITS, FITS_NOT = "fits", "does not fit"


def in_words(fit):
    return FITS if fit.fits else FITS_NOT


TIMES = (
    *series(
        bus.character_bits,
        [
            ("even parity, 8E1", ("even",), 11),
            ("no parity, 8N2", ("none",), 11),
            ("no parity and one stop bit, against the specification, 8N1", ("none", 1), 10),
        ],
        tolerance=1e-9,
        source=f"{SERIAL}, 2.5.1",
        status="from memory",
    ),
    *series(
        bus.silent_gap_s,
        [
            # 3.5 and 1.5 characters of 11 bits; above 19200 Bd fixed
            ("between frames, 1200 Bd", (1200,), 32.083),
            ("between frames, 2400 Bd", (2400,), 16.042),
            ("between frames, 4800 Bd", (4800,), 8.021),
            ("between frames, 9600 Bd", (9600,), 4.010),
            ("between frames, 19200 Bd", (19200,), 2.005),
            ("between frames, 38400 Bd", (38400,), 1.750),
            ("within a frame, 1200 Bd", (1200, 11, "character"), 13.750),
            ("within a frame, 2400 Bd", (2400, 11, "character"), 6.875),
            ("within a frame, 4800 Bd", (4800, 11, "character"), 3.4375),
            ("within a frame, 9600 Bd", (9600, 11, "character"), 1.719),
            ("within a frame, 19200 Bd", (19200, 11, "character"), 0.859),
            ("within a frame, 115200 Bd", (115200, 11, "character"), 0.750),
        ],
        of=lambda time_s: 1e3 * time_s,
        unit="ms",
        tolerance=6e-4,
        source=f"{SERIAL}, 2.5.1.1, as several public implementations quote it",
        status="seen",
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
        [
            ("32 unit loads", ((1.0,) * 32,), FITS),
            ("33 unit loads", ((1.0,) * 33,), FITS_NOT),
            ("256 devices of an eighth", ((0.125,) * 256,), FITS),
        ],
        of=in_words,
        source="TIA/EIA-485-A, 32 unit loads",
        status="from memory",
    ),
)

ENDS = series(
    bus.termination_fit,
    [
        ("at both ends", (True, True), FITS),
        ("at the controller only", (True, False), FITS_NOT),
        ("at both ends and in between", (True, True, 1), FITS_NOT),
    ],
    of=in_words,
    source=f"{SERIAL}, 3.4.5",
    status="from memory",
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
        compliance.loop_current_top_a,
        [
            ("24 V, 12 V, 585.4 Ω", (24.0, 12.0, 585.4), 20.5),
            ("24 V, 12 V, 571.4 Ω", (24.0, 12.0, 571.4), 21.0),
            ("24 V, 12 V, 750 Ω: stops short of 20 mA", (24.0, 12.0, 750.0), 16.0),
        ],
        of=lambda current_a: 1e3 * current_a,
        unit="mA",
        tolerance=0.002,
        source="Ohm's law",
        status="by hand",
    ),
    *series(
        compliance.loop_resistance_ohm,
        [("two inputs of 250 Ω and 10 Ω of wire", ((250.0, 250.0), 10.0), 510.0)],
        unit="Ω",
        tolerance=1e-9,
        source="resistances in series",
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

HEAT = series(
    compliance.pot_dissipation_w,
    [("10 V across 1 kΩ", (10.0, 1e3), 100.0), ("10 V across 5 kΩ", (10.0, 5e3), 20.0)],
    of=lambda power_w: 1e3 * power_w,
    unit="mW",
    tolerance=1e-9,
    source="Joule's law, P = U² / R",
    status="by hand",
)

RCD = (
    *series(
        leakage.rcd_type_fit,
        [
            ("type AC, single-phase drive", ("ac", "line_neutral"), FITS_NOT),
            ("type A, single-phase drive", ("a", "line_neutral"), FITS_NOT),
            ("type F, single-phase drive", ("f", "line_neutral"), FITS),
            ("type F, drive between two lines", ("f", "line_line"), FITS_NOT),
            ("type F, three-phase drive", ("f", "three_phase"), FITS_NOT),
            ("type B, three-phase drive", ("b", "three_phase"), FITS),
            ("type B behind a type A", ("b", "three_phase", ("a",)), FITS_NOT),
        ],
        of=in_words,
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

CHECKS = (*TIMES, *LEVELS, *ENDS, *LOOPS, *HEAT, *RCD)


@every(CHECKS)
def test_published_value(check):
    check.verify()
