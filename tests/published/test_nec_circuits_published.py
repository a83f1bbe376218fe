"""Motor and drive circuits by the NEC against its tables and worked examples in trade texts."""

from core.calc import nec_devices, nec_earthing, nec_impedance, nec_motors, voltage_drop
from core.units import gauge_area
from tests.published.checks import every, kelvin, series

HP_W = 745.69987
KCMIL_M2 = 0.506707e-6
FOOT_M = 0.3048
KFT_M = 304.8

MOTOR_CURRENTS = series(
    nec_motors.motor_table_current,
    [
        ("1/2 hp 230 V three-phase", (0.5 * HP_W, 230.0, 3), 2.2),
        ("3/4 hp 230 V three-phase", (0.75 * HP_W, 240.0, 3), 3.2),
        ("1 hp 230 V three-phase", (HP_W, 230.0, 3), 4.2),
        ("1 hp 460 V three-phase", (HP_W, 480.0, 3), 2.1),
        ("1.5 hp 575 V three-phase", (1.5 * HP_W, 575.0, 3), 2.4),
        ("2 hp 208 V three-phase", (2 * HP_W, 208.0, 3), 7.5),
        ("3 hp 230 V three-phase", (3 * HP_W, 230.0, 3), 9.6),
        ("7.5 hp 230 V three-phase", (7.5 * HP_W, 230.0, 3), 22.0),
        ("30 hp 480 V three-phase", (30 * HP_W, 480.0, 3), 40.0),
        ("1 hp 120 V single-phase", (HP_W, 120.0, 1), 16.0),
        ("1/2 hp 230 V single-phase", (0.5 * HP_W, 230.0, 1), 4.9),
    ],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.current_a,
    source="NEC 2023 Tables 430.248 and 430.250",
    status="seen",
)

SUPPLY = series(
    nec_motors.drive_supply_current_a,
    [("drive of 36 A rated input", (36.0,), 45.0)],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 430.122(A), worked in trade texts",
    status="seen",
)

OUTPUT = series(
    nec_motors.drive_output_current_a,
    [
        ("30 hp 480 V, 40 A", (40.0,), 50.0),
        ("7.5 hp 230 V, 22 A", (22.0,), 27.5),
        ("3 hp 230 V, 9.6 A", (9.6,), 12.0),
    ],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 430.22 and 430.122(B), worked in trade texts",
    status="seen",
)

FEEDER_CURRENT = series(
    nec_motors.feeder_current,
    [("124, 124, 77 and 11 A", ((124.0, 124.0, 77.0, 11.0), 0.0, 0.0), 367.0)],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.total_a,
    source="NEC 2023 430.24, worked in trade texts",
    status="seen",
)
FEEDER_PARTS = series(
    nec_motors.feeder_current,
    # 1.25 * 10 + 8 + 6 + 1.25 * 4 + 2 = 33.5
    [("10, 8, 6 A, 4 A continuous, 2 A other", ((10.0, 8.0, 6.0), 4.0, 2.0), 33.5)],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.total_a,
    source="NEC 2023 430.24",
    status="by hand",
)

OVERLOADS = series(
    nec_motors.overload_limit_a,
    [
        ("4 A, service factor 1.15", (4.0, 1.15, None), 5.0),
        ("4 A, service factor 1.0", (4.0, 1.0, None), 4.6),
        ("4 A, service factor 1.0, 40 K rise", (4.0, 1.0, 40.0), 5.0),
    ],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 430.32(A)(1)",
    status="from memory",
)

MOTOR_DEVICES = series(
    nec_devices.motor_device,
    [
        # 22 A: 250 % 55 A, up to 60 A, worked in trade texts
        ("7.5 hp 230 V, inverse-time breaker", (22.0, "breaker", "polyphase"), 60.0),
        # 124 A: 250 % 310 A, up to 350 A
        ("124 A, inverse-time breaker", (124.0, "breaker", "polyphase"), 350.0),
        # 9.6 A: 175 % 16.8 A, up to 20 A; 300 % 28.8 A, up to 30 A
        ("3 hp 230 V, dual-element fuse", (9.6, "delay_fuse", "polyphase"), 20.0),
        ("3 hp 230 V, plain fuse", (9.6, "plain_fuse", "polyphase"), 30.0),
        # 4.2 A: 250 % 10.5 A, smallest breaker 15 A
        ("1 hp 230 V, inverse-time breaker", (4.2, "breaker", "polyphase"), 15.0),
        # 30 A wound rotor: 150 % 45 A is a standard size itself
        ("30 A wound rotor, inverse-time breaker", (30.0, "breaker", "wound_rotor"), 45.0),
    ],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.rating_a,
    source="NEC 2023 430.52(C)(1), Table 430.52(C)(1), 240.6(A)",
    status="by hand",
)

FEEDER_DEVICE = series(
    nec_devices.feeder_device,
    [
        (
            "350, 350, 200 and 30 A ahead of 124, 124, 77 and 11 A",
            (((350.0, 124.0), (350.0, 124.0), (200.0, 77.0), (30.0, 11.0)), 0.0, "delay_fuse"),
            500.0,
        )
    ],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.rating_a,
    source="NEC 2023 430.62(A), 562 A rounded down, worked in trade texts",
    status="seen",
)

RATINGS_UP = series(
    nec_devices.standard_rating_up_a,
    [
        ("above 45 A", (45.1, "breaker"), 50.0),
        ("above 100 A", (100.1, "breaker"), 110.0),
        ("above 250 A", (250.1, "breaker"), 300.0),
        ("fuse above 3 A", (3.1, "plain_fuse"), 6.0),
    ],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 240.6(A)",
    status="seen",
)
RATINGS_DOWN = series(
    nec_devices.standard_rating_down_a,
    [
        ("below 125 A", (124.9, "breaker"), 110.0),
        ("below 225 A", (224.9, "breaker"), 200.0),
        ("fuse below 15 A", (14.9, "delay_fuse"), 10.0),
    ],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 240.6(A)",
    status="seen",
)
DRIVE_DEVICES = series(
    nec_devices.drive_device,
    [
        # 9.6 A at 250 % is 24 A, up to 25 A; a marking of 20 A wins over it
        ("3 hp 230 V, maker names 30 A", (9.6, 20.0, "breaker", 30.0), 25.0),
        ("3 hp 230 V, maker names 20 A", (9.6, 18.0, "breaker", 20.0), 20.0),
    ],
    unit="A",
    tolerance=0.001,
    of=lambda found: found.rating_a,
    source="NEC 2023 430.130(A)(1) and (2)",
    status="from memory",
)

CONDUCTOR_DEVICES = series(
    nec_devices.conductor_device_a,
    [
        ("14 AWG of 20 A", (gauge_area(14), 20.0, "breaker"), 15.0),
        ("12 AWG of 25 A", (gauge_area(12), 25.0, "breaker"), 20.0),
        ("10 AWG of 35 A", (gauge_area(10), 35.0, "breaker"), 30.0),
        ("6 AWG of 65 A", (gauge_area(6), 65.0, "breaker"), 70.0),
        ("8 AWG of 50 A", (gauge_area(8), 50.0, "breaker"), 50.0),
    ],
    unit="A",
    tolerance=0.001,
    source="NEC 2023 240.4(B) and (D), 240.6(A)",
    status="by hand",
)

EARTH_TABLE = series(
    nec_earthing.earth_conductor,
    [
        ("15 A", (15.0, gauge_area(14), gauge_area(14)), "14 AWG"),
        ("20 A", (20.0, gauge_area(12), gauge_area(12)), "12 AWG"),
        ("60 A", (60.0, gauge_area(6), gauge_area(6)), "10 AWG"),
        ("100 A", (100.0, gauge_area(1), gauge_area(1)), "8 AWG"),
        ("200 A", (200.0, gauge_area(-2), gauge_area(-2)), "6 AWG"),
        ("400 A", (400.0, 500 * KCMIL_M2, 500 * KCMIL_M2), "3 AWG"),
    ],
    of=lambda found: found.size.name,
    source="NEC 2023 Table 250.122",
    status="seen",
)
EARTH_GROWN = series(
    nec_earthing.earth_conductor,
    [
        ("20 A, lines 12 to 6 AWG", (20.0, gauge_area(6), gauge_area(12)), "6 AWG"),
        ("50 A, lines 8 to 1 AWG", (50.0, gauge_area(1), gauge_area(8)), "3 AWG"),
        ("300 A, 250 to 350 kcmil", (300.0, 350 * KCMIL_M2, 250 * KCMIL_M2), "2 AWG"),
    ],
    of=lambda found: found.size.name,
    source="NEC 2023 250.122(B), worked in trade texts",
    status="seen",
)
EARTH_CIRCULAR_MILS = series(
    nec_earthing.earth_conductor,
    [
        ("50 A, lines 8 to 1 AWG", (50.0, gauge_area(1), gauge_area(8)), 52617.0),
        ("300 A, 250 to 350 kcmil", (300.0, 350 * KCMIL_M2, 250 * KCMIL_M2), 58436.0),
        ("60 A, lines 6 to 4 AWG", (60.0, gauge_area(4), gauge_area(6)), 16511.4),
    ],
    unit="circular mils",
    tolerance=1.0,
    of=lambda found: found.needed_circular_mils,
    source="NEC 2023 250.122(B) with Chapter 9 Table 8",
    status="by hand",
)


def effective_z(found):
    """Effective Z at a power factor of 0.85, ohm for 1000 ft."""
    ohm_m = voltage_drop.drop_impedance_ohm_m(found.resistance_ohm_m, found.reactance_ohm_m, 0.85)
    return ohm_m * KFT_M


# The book prints two digits; so do these tolerances.
EFFECTIVE_LARGE = series(
    nec_impedance.impedance,
    [
        ("14 AWG PVC at 0.85", (gauge_area(14), "pvc"), 2.7),
        ("12 AWG PVC at 0.85", (gauge_area(12), "pvc"), 1.7),
        ("10 AWG PVC at 0.85", (gauge_area(10), "pvc"), 1.1),
    ],
    unit="Ω/kft",
    tolerance=0.06,
    of=effective_z,
    source="NEC 2023 Chapter 9 Table 9, column of effective Z at 0.85",
    status="seen",
)
EFFECTIVE_SMALL = series(
    nec_impedance.impedance,
    [
        ("8 AWG PVC at 0.85", (gauge_area(8), "pvc"), 0.69),
        ("6 AWG PVC at 0.85", (gauge_area(6), "pvc"), 0.44),
        ("4 AWG PVC at 0.85", (gauge_area(4), "pvc"), 0.29),
        ("8 AWG steel at 0.85", (gauge_area(8), "steel"), 0.70),
        ("6 AWG steel at 0.85", (gauge_area(6), "steel"), 0.45),
        ("4 AWG steel at 0.85", (gauge_area(4), "steel"), 0.30),
    ],
    unit="Ω/kft",
    tolerance=0.006,
    of=effective_z,
    source="NEC 2023 Chapter 9 Table 9, column of effective Z at 0.85",
    status="seen",
)

# The trade's K, resistance of 1000 ft times circular mils over 1000, is 12.9 for stranded copper.
CIRCULAR_MILS = {14: 4110, 12: 6530, 10: 10380, 8: 16510, 6: 26240, 4: 41740}
RESISTANCES = series(
    nec_impedance.dc_resistance_ohm_m,
    [
        (f"{gauge} AWG stranded", (gauge_area(gauge), kelvin(75), "stranded"), 12900.0 / mils)
        for gauge, mils in CIRCULAR_MILS.items()
    ],
    unit="Ω/kft",
    tolerance=0.013,
    of=lambda ohm_m: ohm_m * KFT_M,
    source="K = 12.9 Ω cmil/ft of stranded copper at 75 °C",
    status="common practice",
)


def table_8(gauge):
    """Resistance of a stranded conductor at 75 °C as Table 8 prints it, in SI."""
    return {14: 3.14, 12: 1.98, 10: 1.24}[gauge] / KFT_M


DROPS = series(
    voltage_drop.voltage_drop,
    [
        # 2 I R L and sqrt 3 I R L with R of Table 8
        ("16 A, 12 AWG, 100 ft, one phase", (16, 100 * FOOT_M, table_8(12), 240, 1), 6.336),
        ("12 A, 10 AWG, 200 ft, one phase", (12, 200 * FOOT_M, table_8(10), 240, 1), 5.952),
        ("10 A, 14 AWG, 75 ft, one phase", (10, 75 * FOOT_M, table_8(14), 120, 1), 4.710),
        ("9.6 A, 12 AWG, 150 ft, three phases", (9.6, 150 * FOOT_M, table_8(12), 230, 3), 4.938),
        ("4.2 A, 14 AWG, 200 ft, three phases", (4.2, 200 * FOOT_M, table_8(14), 230, 3), 4.568),
    ],
    unit="V",
    tolerance=0.001,
    of=lambda drop: drop.drop_v,
    source="NEC 2023 Chapter 9 Table 8 with 2·I·R·L and √3·I·R·L",
    status="by hand",
)

SIZES_FOR_DROP = series(
    nec_impedance.conductor_for_drop,
    [
        # 2 * 16 A * 0.1 kft * R at most 3 % of 120 V: R at most 1.125 ohm/kft, 8 AWG has 0.78
        ("16 A, 100 ft, 120 V, 3 %", (16, 100 * FOOT_M, 120, 1, 1.0, "pvc", 0.03), "8 AWG"),
        # The same at 240 V: R at most 2.25 ohm/kft, 12 AWG has 2.0
        ("16 A, 100 ft, 240 V, 3 %", (16, 100 * FOOT_M, 240, 1, 1.0, "pvc", 0.03), "12 AWG"),
    ],
    of=lambda found: found[0].name,
    source="NEC 2023 Chapter 9 Table 9, 3 % of the note at 210.19",
    status="by hand",
)

CHECKS = (
    *MOTOR_CURRENTS,
    *SUPPLY,
    *OUTPUT,
    *FEEDER_CURRENT,
    *FEEDER_PARTS,
    *OVERLOADS,
    *MOTOR_DEVICES,
    *FEEDER_DEVICE,
    *RATINGS_UP,
    *RATINGS_DOWN,
    *DRIVE_DEVICES,
    *CONDUCTOR_DEVICES,
    *EARTH_TABLE,
    *EARTH_GROWN,
    *EARTH_CIRCULAR_MILS,
    *EFFECTIVE_LARGE,
    *EFFECTIVE_SMALL,
    *RESISTANCES,
    *DROPS,
    *SIZES_FOR_DROP,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
