"""IEC circuits against Annex D, the formulas behind the factor tables, and worked values."""

import csv
import math
from pathlib import Path

from core.calc import iec_conductors, iec_devices, iec_earthing, iec_impedance, voltage_drop
from tests.published.checks import every, kelvin, series

MM2 = 1e-6
ANNEX_D = Path(__file__).parent / "data" / "iec_60364_5_52_annex_d.csv"

# Annex D gives these coefficients for up to 16 mm² (method C) or more.
SIZES_MM2 = (1.5, 2.5, 4, 6, 10, 16)


def power_law_cases():
    """Every cell of the methods that Annex D covers, by I = A S^m."""
    for row in csv.DictReader(ANNEX_D.read_text(encoding="utf-8").splitlines()):
        insulation, loaded, method = row["insulation"], int(row["loaded"]), row["method"]
        for mm2 in SIZES_MM2:
            current_a = float(row["factor"]) * mm2 ** float(row["exponent"])
            case = f"{insulation}, {loaded} loaded, {method}, {mm2:g} mm²"
            yield case, (mm2 * MM2, insulation, loaded, method), current_a


# The table rounds to whole amperes, below 20 A to halves; the law is fitted within 2.5 %.
POWER_LAW = tuple(
    check
    for case in power_law_cases()
    for check in series(
        iec_conductors.table_current_a,
        [case],
        unit="A",
        tolerance=0.025 * case[2],
        source="IEC 60364-5-52:2009 Annex D, I = A·S^m",
        status="formula",
    )
)

TABLE_CURRENTS = series(
    iec_conductors.table_current_a,
    [
        ("PVC, 3 loaded, B1, 35 mm²", (35 * MM2, "PVC", 3, "B1"), 110),
        ("PVC, 3 loaded, C, 120 mm²", (120 * MM2, "PVC", 3, "C"), 259),
        ("PVC, 2 loaded, E, 4 mm²", (4 * MM2, "PVC", 2, "E"), 40),
        ("XLPE, 2 loaded, B2, 50 mm²", (50 * MM2, "XLPE", 2, "B2"), 175),
        ("XLPE, 3 loaded, E, 95 mm²", (95 * MM2, "XLPE", 3, "E"), 298),
        ("XLPE, 3 loaded, D1, 25 mm²", (25 * MM2, "XLPE", 3, "D1"), 96),
        ("PVC, 3 loaded, D2, 10 mm²", (10 * MM2, "PVC", 3, "D2"), 54),
    ],
    unit="A",
    tolerance=0.01,
    source="IEC 60364-5-52:2009 Tables B.52.2 to B.52.5, B.52.10, B.52.12",
    status="seen",
)


def temperature_cases():
    """Every cell of the two tables, by the square-root law of conductor heating."""
    for insulation, limit in (("PVC", 70), ("XLPE", 90)):
        for place, reference in (("C", 30), ("D1", 20)):
            for ambient in range(10, 65, 5):
                exact = math.sqrt((limit - ambient) / (limit - reference))
                case = f"{insulation}, {'air' if place == 'C' else 'ground'}, {ambient} °C"
                yield case, (kelvin(ambient), insulation, place), exact


TEMPERATURES = series(
    iec_conductors.temperature_factor,
    temperature_cases(),
    tolerance=0.006,
    source="IEC 60364-5-52:2009 Tables B.52.14, B.52.15, law √((θc-θa)/(θc-θref))",
    status="formula",
)

GROUPS = series(
    iec_conductors.grouping_factor,
    [
        ("2 bunched", (2, "bunched", "B2"), 0.80),
        ("3 bunched", (3, "bunched", "B2"), 0.70),
        ("9 bunched", (9, "bunched", "C"), 0.50),
        ("20 bunched", (20, "bunched", "B1"), 0.38),
        ("3 ducts in the ground", (3, "ducts_touching", "D1"), 0.75),
        ("2 cables in the ground", (2, "buried_touching", "D2"), 0.75),
    ],
    tolerance=0.001,
    source="IEC 60364-5-52:2009 Tables B.52.17, B.52.18, B.52.19",
    status="seen",
)

HARMONICS = series(
    iec_conductors.harmonic_sizing,
    [
        ("39 A, no third harmonic", (39.0, 0.0), 39.0),
        ("39 A, 20 % third harmonic", (39.0, 0.20), 45.35),
        ("39 A, 40 % third harmonic", (39.0, 0.40), 54.42),
        ("39 A, 50 % third harmonic", (39.0, 0.50), 58.5),
    ],
    unit="A",
    tolerance=0.01,
    of=lambda found: found.sizing_a,
    source="IEC 60364-5-52:2009 Annex E, worked example of a 39 A circuit",
    status="from memory",
)
# The same example ends in 6, 10, 10 and 16 mm² of PVC, three loaded, method C.
HARMONIC_SIZES = series(
    iec_conductors.conductor_for_device,
    [
        (f"{current_a} A, PVC, C", (current_a, "PVC", 3, "C", kelvin(30), 1, "bunched"), mm2)
        for current_a, mm2 in ((39.0, 6.0), (45.35, 10.0), (54.42, 10.0), (58.5, 16.0))
    ],
    unit="mm²",
    tolerance=0.001,
    of=lambda found: found.area_m2 / MM2,
    source="IEC 60364-5-52:2009 Annex E, worked example of a 39 A circuit",
    status="from memory",
)

# u = b (0.0225 L/S cos + 0.00008 L sin) I worked by hand, three phases line to line.
ANNEX_G_V = series(
    iec_impedance.annex_g_drop,
    [
        ("8 A, 30 m, 1.5 mm², one phase", (8, 30, 1.5 * MM2, 0.8, 230, 1), 5.783),
        ("10 A, 50 m, 2.5 mm², one phase", (10, 50, 2.5 * MM2, 0.8, 230, 1), 7.248),
        ("16 A, 20 m, 2.5 mm², one phase", (16, 20, 2.5 * MM2, 1.0, 230, 1), 5.760),
        ("4.6 A, 50 m, 2.5 mm², three phases", (4.6, 50, 2.5 * MM2, 0.8, 398.37, 3), 2.887),
        ("8.5 A, 80 m, 4 mm², three phases", (8.5, 80, 4 * MM2, 0.8, 398.37, 3), 5.357),
    ],
    unit="V",
    tolerance=0.001,
    of=lambda drop: drop.drop_v,
    source="IEC 60364-5-52:2009 Annex G",
    status="by hand",
)
ANNEX_G_PERCENT = series(
    iec_impedance.annex_g_drop,
    [
        ("8 A, 30 m, 1.5 mm², one phase", (8, 30, 1.5 * MM2, 0.8, 230, 1), 2.514),
        ("10 A, 50 m, 2.5 mm², one phase", (10, 50, 2.5 * MM2, 0.8, 230, 1), 3.151),
        ("4.6 A, 50 m, 2.5 mm², U0 230 V", (4.6, 50, 2.5 * MM2, 0.8, 398.37, 3), 0.725),
        ("8.5 A, 80 m, 4 mm², U0 230 V", (8.5, 80, 4 * MM2, 0.8, 398.37, 3), 1.345),
    ],
    unit="%",
    tolerance=0.001,
    of=lambda drop: 100 * drop.share,
    source="IEC 60364-5-52:2009 Annex G, share of U0",
    status="by hand",
)

COPPER = series(
    voltage_drop.copper_factor,
    [("20 to 40 °C", (20.0, 40.0), 1 / 0.926), ("20 to 70 °C", (20.0, 70.0), 1 / 0.833)],
    tolerance=0.005,
    source="IEC 60228:2004 Annex A, temperature factors 0.926 and 0.833 in cable tables",
    status="seen",
)
RESISTANCES = series(
    iec_impedance.resistance_ohm_m,
    [
        ("1.5 mm² fixed", (1.5 * MM2, kelvin(20), "fixed"), 12.1),
        ("2.5 mm² flexible", (2.5 * MM2, kelvin(20), "flexible"), 7.98),
        ("35 mm² fixed", (35 * MM2, kelvin(20), "fixed"), 0.524),
        ("120 mm² fixed", (120 * MM2, kelvin(20), "fixed"), 0.153),
    ],
    unit="Ω/km",
    tolerance=0.0001,
    of=lambda ohm_m: 1000 * ohm_m,
    source="IEC 60228:2004 Tables 1, 2 and 3",
    status="seen",
)


def loop_max(device_a, characteristic, to_earth_v, factor):
    """Arguments for the loop from a breaker's characteristic."""
    return to_earth_v, iec_earthing.instant_trip_a(device_a, characteristic), factor


LOOPS = series(
    iec_earthing.loop_impedance_max_ohm,
    [
        ("B6 at 230 V", loop_max(6, "B", 230, 1.0), 7.67),
        ("B10 at 230 V", loop_max(10, "B", 230, 1.0), 4.60),
        ("B32 at 230 V", loop_max(32, "B", 230, 1.0), 1.44),
        ("B32 at 230 V, factor 0.95", loop_max(32, "B", 230, 0.95), 1.366),
        ("C10 at 230 V", loop_max(10, "C", 230, 1.0), 2.30),
        ("D6 at 230 V", loop_max(6, "D", 230, 1.0), 1.92),
    ],
    unit="Ω",
    tolerance=0.005,
    source="IEC 60364-4-41:2005 411.4.4 with IEC 60898-1; 0.95: BS 7671 Table 41.3",
    status="seen",
)
TIMES = series(
    iec_earthing.disconnection_time_s,
    [
        ("120 V TN final", (120, "TN", 16, True), 0.8),
        ("230 V TN final", (230, "TN", 32, True), 0.4),
        ("230 V TT final", (230, "TT", 16, True), 0.2),
        ("277 V TN final", (277, "TN", 16, True), 0.2),
        ("230 V TN distribution", (230, "TN", 100, False), 5.0),
        ("230 V TT distribution", (230, "TT", 100, False), 1.0),
    ],
    unit="s",
    tolerance=1e-6,
    source="IEC 60364-4-41:2005 Table 41.1, 411.3.2.3 and .4",
    status="seen",
)
ADIABATIC = series(
    iec_earthing.adiabatic_area_m2,
    [
        ("1000 A, 0.1 s, k 115", (1000, 0.1, 115), 2.750),
        ("800 A, 0.4 s, k 143", (800, 0.4, 143), 3.538),
        ("500 A, 5 s, k 115", (500, 5, 115), 9.722),
    ],
    unit="mm²",
    tolerance=0.001,
    of=lambda area_m2: area_m2 / MM2,
    source="IEC 60364-5-54:2011 543.1.2",
    status="by hand",
)
EARTH = series(
    iec_earthing.earth_area,
    [
        ("lines 2.5 mm²", (2.5 * MM2, None, False, False), 2.5),
        ("lines 16 mm²", (16 * MM2, None, False, False), 16.0),
        ("lines 25 mm²", (25 * MM2, None, False, False), 16.0),
        ("lines 35 mm²", (35 * MM2, None, False, False), 16.0),
        ("lines 70 mm²", (70 * MM2, None, False, False), 35.0),
    ],
    unit="mm²",
    tolerance=1e-6,
    of=lambda found: found.needed_m2 / MM2,
    source="IEC 60364-5-54:2011 Table 54.2",
    status="seen",
)
DEVICES = series(
    iec_devices.device_rating_a,
    [
        ("breaker for 10.2 A", (10.2, "breaker"), 13.0),
        ("breaker for 17 A", (17.0, "breaker"), 20.0),
        ("fuse for 17 A", (17.0, "fuse"), 20.0),
        ("fuse for 33 A", (33.0, "fuse"), 35.0),
    ],
    unit="A",
    tolerance=1e-6,
    source="IEC 60898-1:2015 and IEC 60269-1:2006 rated currents",
    status="from memory",
)
TRIPPING = series(
    iec_devices.tripping_current_a,
    [("breaker of 16 A", (16.0, "breaker"), 23.2), ("breaker of 32 A", (32.0, "breaker"), 46.4)],
    unit="A",
    tolerance=1e-6,
    source="IEC 60898-1:2015 Table 7, 1.45 In trips",
    status="seen",
)

LEAST_CURRENTS = series(
    iec_devices.conductor_current_a,
    # 1.6 * 16 / 1.45 and 1.6 * 32 / 1.45; a breaker's 1.45 In asks for In itself
    [
        ("fuse of 16 A", (16.0, "fuse"), 17.655),
        ("fuse of 32 A", (32.0, "fuse"), 35.310),
        ("breaker of 32 A", (32.0, "breaker"), 32.0),
    ],
    unit="A",
    tolerance=0.001,
    source="IEC 60364-4-43:2008 433.1, I2 at most 1.45 Iz",
    status="by hand",
)
COORDINATED = series(
    iec_devices.coordination,
    [
        ("10.2 A, breaker 13 A, conductor 14 A", (10.2, 13.0, 14.0, "breaker"), "holds"),
        ("10.2 A, breaker 16 A, conductor 14 A", (10.2, 16.0, 14.0, "breaker"), "fails"),
        ("10.2 A, fuse 16 A, conductor 17 A", (10.2, 16.0, 17.0, "fuse"), "fails"),
    ],
    of=lambda found: "holds" if found.holds else "fails",
    source="IEC 60364-4-43:2008 433.1",
    status="by hand",
)
DROP_LIMITS = series(
    iec_impedance.drop_limit,
    [
        ("public supply, lighting", (50.0, "public", "lighting"), 3.0),
        ("public supply, other", (50.0, "public", "other"), 5.0),
        ("private supply, lighting", (50.0, "private", "lighting"), 6.0),
        ("private supply, other", (50.0, "private", "other"), 8.0),
        ("public supply, other, 300 m", (300.0, "public", "other"), 5.5),
    ],
    unit="%",
    tolerance=1e-6,
    of=lambda share: 100 * share,
    source="IEC 60364-5-52:2009 Annex G Table G.52.1",
    status="seen",
)
RUN_LOOPS = series(
    iec_impedance.loop_resistance_ohm,
    # (7.41 + 7.41) * 0.03 km; (12.1 + 12.1) * 0.02 km * 1.1965
    [
        ("30 m of 2.5 mm² at 20 °C", (2.5 * MM2, 2.5 * MM2, 30.0, kelvin(20)), 0.4446),
        ("20 m of 1.5 mm² at 70 °C", (1.5 * MM2, 1.5 * MM2, 20.0, kelvin(70)), 0.5791),
    ],
    unit="Ω",
    tolerance=0.0001,
    source="IEC 60228:2004 Table 1 and Annex A",
    status="by hand",
)

CHECKS = (
    *LEAST_CURRENTS,
    *COORDINATED,
    *DROP_LIMITS,
    *RUN_LOOPS,
    *POWER_LAW,
    *TABLE_CURRENTS,
    *TEMPERATURES,
    *GROUPS,
    *HARMONICS,
    *HARMONIC_SIZES,
    *ANNEX_G_V,
    *ANNEX_G_PERCENT,
    *COPPER,
    *RESISTANCES,
    *LOOPS,
    *TIMES,
    *ADIABATIC,
    *EARTH,
    *DEVICES,
    *TRIPPING,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
