"""Conductors by the NEC against copies of its tables, its own formula and worked examples."""

import math

from core.calc import nec_conductors as nec
from core.calc import nec_sizes
from core.units import gauge_area
from tests.published.checks import every, kelvin, series

C60, C75, C90 = (kelvin(celsius) for celsius in (60, 75, 90))
KCMIL_M2 = 0.506707e-6  # 1000 circular mils, from the inch

TABLE = "NEC 2023 Table 310.16"
AMBIENT = "NEC 2023 310.15(B)(2), formula behind Table 310.15(B)(1)(1)"
BUNDLING = "NEC 2023 Table 310.15(C)(1)"
TERMINALS = "NEC 2023 110.14(C)(1)"

TABLE_CURRENTS = series(
    nec.table_current_a,
    [
        ("14 AWG, 60 °C", (gauge_area(14), C60), 15),
        ("12 AWG, 60 °C", (gauge_area(12), C60), 20),
        ("10 AWG, 75 °C", (gauge_area(10), C75), 35),
        ("8 AWG, 75 °C", (gauge_area(8), C75), 50),
        ("6 AWG, 75 °C", (gauge_area(6), C75), 65),
        ("3 AWG, 90 °C", (gauge_area(3), C90), 115),
        ("1 AWG, 90 °C", (gauge_area(1), C90), 145),
        ("1/0 AWG, 75 °C", (gauge_area(0), C75), 150),
        ("4/0 AWG, 75 °C", (gauge_area(-3), C75), 230),
        ("250 kcmil, 75 °C", (250 * KCMIL_M2, C75), 255),
        ("300 kcmil, 90 °C", (300 * KCMIL_M2, C90), 320),
        ("350 kcmil, 75 °C", (350 * KCMIL_M2, C75), 310),
        ("400 kcmil, 60 °C", (400 * KCMIL_M2, C60), 280),
        ("500 kcmil, 75 °C", (500 * KCMIL_M2, C75), 380),
        ("600 kcmil, 60 °C", (600 * KCMIL_M2, C60), 350),
    ],
    unit="A",
    tolerance=0.01,
    source=TABLE,
    status="seen",
)


def ambient_cases():
    """Every cell of the table that exists, by the code's own formula."""
    for rating in (60, 75, 90):
        for ambient in range(10, rating, 5):
            exact = math.sqrt((rating - ambient) / (rating - 30))
            yield f"{rating} °C, ambient {ambient} °C", (kelvin(ambient), kelvin(rating)), exact


AMBIENT_FACTORS = series(
    nec.ambient_factor, ambient_cases(), tolerance=0.006, source=AMBIENT, status="formula"
)

BUNDLING_FACTORS = series(
    nec.bundling_factor,
    [
        ("3 conductors", (3,), 1.0),
        ("6 conductors", (6,), 0.8),
        ("9 conductors", (9,), 0.7),
        ("20 conductors", (20,), 0.5),
        ("30 conductors", (30,), 0.45),
        ("40 conductors", (40,), 0.40),
        ("41 conductors", (41,), 0.35),
    ],
    tolerance=1e-6,
    source=BUNDLING,
    status="seen",
)

# Factors and currents read in the tables, multiplied by hand.
CORRECTED = series(
    nec.allowed_current,
    [
        ("12 AWG 75 °C at 40 °C", (gauge_area(12), C75, kelvin(40), 3, C75), 22.0),
        ("10 AWG 90 °C, 4 wires, 35 °C", (gauge_area(10), C90, kelvin(35), 4, C75), 30.72),
        ("14 AWG 90 °C at 45 °C", (gauge_area(14), C90, kelvin(45), 3, C75), 21.75),
        ("8 AWG 75 °C, 9 wires", (gauge_area(8), C75, kelvin(30), 9, C75), 35.0),
        ("12 AWG 90 °C, 12 wires", (gauge_area(12), C90, kelvin(30), 12, C75), 15.0),
    ],
    unit="A",
    tolerance=0.005,
    of=lambda steps: steps.corrected_a,
    source=f"{TABLE}, Table 310.15(B)(1)(1), {BUNDLING}",
    status="by hand",
)

CAPPED = series(
    nec.allowed_current,
    [
        ("14 AWG 90 °C at 45 °C, 75 °C end", (gauge_area(14), C90, kelvin(45), 3, C75), 20.0),
        ("14 AWG 90 °C at 45 °C, 60 °C end", (gauge_area(14), C90, kelvin(45), 3, C60), 15.0),
        ("10 AWG 90 °C, 4 wires, 75 °C end", (gauge_area(10), C90, kelvin(35), 4, C75), 30.72),
    ],
    unit="A",
    tolerance=0.005,
    of=lambda steps: steps.allowed_a,
    source=f"{TERMINALS}, {TABLE}",
    status="by hand",
)

CHOSEN = series(
    nec.conductor_for_current,
    [
        ("36 A rated input: 45 A, 75 °C ends", (45.0, C75, kelvin(30), 3, C75), "8 AWG"),
        ("30 hp 480 V: 50 A, 75 °C ends", (50.0, C75, kelvin(30), 3, C75), "8 AWG"),
        ("7.5 hp 230 V: 27.5 A, ends not marked", (27.5, C75, kelvin(30), 3, None), "10 AWG"),
        ("3 hp 230 V: 12 A, ends not marked", (12.0, C75, kelvin(30), 3, None), "14 AWG"),
        ("367 A feeder, 75 °C", (367.0, C75, kelvin(30), 3, None), "500 kcmil"),
    ],
    of=lambda steps: steps.size.name,
    source=f"NEC 2023 430.122, 430.22 and 430.24 with {TABLE}, worked in trade texts",
    status="seen",
)

CIRCULAR_MILS = series(
    nec_sizes.size_of_area,
    [
        ("14 AWG", (gauge_area(14),), 64.0837**2),
        ("10 AWG", (gauge_area(10),), 101.8969**2),
        ("4/0 AWG", (gauge_area(-3),), 460.0**2),
    ],
    unit="circular mils",
    # Table 8 rounds to four digits.
    tolerance=5.0,
    of=lambda size: size.circular_mils,
    source="ASTM B258, diameter in mils squared",
    status="formula",
)

COUNTED = series(
    nec.current_carrying_conductors,
    [
        ("120 V, line and neutral", (1, True, False, True), 2),
        ("240 V, two lines", (2, False, False, True), 2),
        ("120/240 V three-wire", (2, True, False, True), 2),
        ("two lines and neutral of 208Y/120", (2, True, True, True), 3),
        ("208Y/120 four-wire, mainly drives", (3, True, True, True), 4),
        ("208Y/120 four-wire, mainly linear", (3, True, True, False), 3),
    ],
    tolerance=1e-6,
    source="NEC 2023 310.15(E)(1) to (3)",
    status="seen",
)

TERMINAL_RATINGS = series(
    nec.terminal_rating_k,
    [
        ("100 A, not marked", (100.0, None), 60.0),
        ("110 A, not marked", (110.0, None), 75.0),
        ("40 A, marked 75 °C", (40.0, C75), 75.0),
    ],
    unit="°C",
    tolerance=0.001,
    of=lambda rating_k: rating_k - 273.15,
    source=TERMINALS,
    status="seen",
)

CHECKS = (
    *TERMINAL_RATINGS,
    *TABLE_CURRENTS,
    *AMBIENT_FACTORS,
    *BUNDLING_FACTORS,
    *CORRECTED,
    *CAPPED,
    *CHOSEN,
    *CIRCULAR_MILS,
    *COUNTED,
)


@every(CHECKS)
def test_published_value(check):
    check.verify()
