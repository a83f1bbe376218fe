"""Conversions against published tables; no expected value comes from the program or from pint.

Factors: NIST Special Publication 811 (2008), Guide for the Use of the International System of
Units, appendix B.8, seven digits as printed there (bold, that is exact, ones in full); written
down from memory and compared here to the seventh digit.
"""

import math

import pytest

from core.units import UNITS, gauge_area, parse_quantity

NIST_SP_811_B8 = [
    ("hp", 7.456999e2),  # horsepower (550 ft·lbf/s) -> W
    ("PS", 7.354988e2),  # horsepower, metric -> W
    ("lbf", 4.448222),  # pound-force -> N
    ("kgf", 9.80665),  # kilogram-force -> N, exact
    ("ft", 0.3048),  # foot -> m, exact
    ("in", 0.0254),  # inch -> m, exact
    ("lb", 4.535924e-1),  # pound (avoirdupois) -> kg
    ("oz", 2.834952e-2),  # ounce (avoirdupois) -> kg
    ("psi", 6.894757e3),  # pound-force per square inch -> Pa
    ("bar", 1e5),  # bar -> Pa, exact
    ("lb_ft", 1.355818),  # pound-force foot -> N·m
    ("lb_in", 1.129848e-1),  # pound-force inch -> N·m
    ("oz_in", 7.061552e-3),  # ounce-force inch -> N·m
    ("lb_ft3", 1.601846e1),  # pound per cubic foot -> kg/m³
    ("lb_per_ft", 1.488164),  # pound per foot -> kg/m
    ("lb_ft2", 4.214011e-2),  # pound foot squared -> kg·m²
    ("lb_in2", 2.926397e-4),  # pound inch squared -> kg·m²
    ("lb_h", 1.259979e-4),  # pound per hour -> kg/s
    ("lb_min", 7.559873e-3),  # pound per minute -> kg/s
    ("cfm", 4.719474e-4),  # cubic foot per minute -> m³/s
    ("gpm", 6.309020e-5),  # gallon (US) per minute -> m³/s
    ("gal", 3.785412e-3),  # gallon (US) -> m³
    ("L", 1e-3),  # litre -> m³, exact
    ("ft3", 2.831685e-2),  # cubic foot -> m³
    ("ft2", 9.290304e-2),  # square foot -> m², exact
    ("in2", 6.4516e-4),  # square inch -> m², exact
    ("ft_min", 5.08e-3),  # foot per minute -> m/s, exact
    ("in_s", 2.54e-2),  # inch per second -> m/s, exact
    ("rpm", 1.047198e-1),  # revolution per minute -> rad/s
    ("deg", 1.745329e-2),  # degree -> rad
    ("kWh", 3.6e6),  # kilowatt hour -> J, exact
    ("t", 1e3),  # ton, metric -> kg, exact
    ("degF_step", 5.555556e-1),  # degree Fahrenheit (interval) -> K
]

# NEC (NFPA 70), chapter 9, table 8, area in circular mils: by way of reference/tables of the
# project (nec_ch9_table8_cu.csv). ASTM B258 rounds the diameter to 0.1 mil before squaring it,
# which moves the area by up to 0.1 mil * 2 / diameter from the closed form.
NEC_TABLE_8_CMIL = [
    (14, 4110),
    (12, 6530),
    (10, 10380),
    (8, 16510),
    (6, 26240),
    (4, 41740),
    (3, 52620),
    (2, 66360),
    (1, 83690),
    (0, 105600),
    (-1, 133100),
    (-2, 167800),
    (-3, 211600),
]

# ASTM B258, nominal diameters in inches as tabulated to 0.0001 in: the two that define the gauge
# (4/0 and 36) and common sizes; also found in the usual wire tables.
ASTM_B258_DIAMETER_IN = [
    (-3, 0.4600),
    (0, 0.3249),
    (6, 0.1620),
    (10, 0.1019),
    (12, 0.0808),
    (13, 0.0720),
    (14, 0.0641),
    (18, 0.0403),
    (24, 0.0201),
    (36, 0.0050),
]


@pytest.mark.parametrize(("unit_id", "printed"), NIST_SP_811_B8)
def test_factor_as_printed_by_nist(unit_id, printed):
    # Half a unit of the seventh digit.
    half_digit = 0.5 * 10 ** (math.floor(math.log10(printed)) - 6)
    assert UNITS[unit_id].factor == pytest.approx(printed, rel=0, abs=half_digit * 1.000001)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    # Fixed by definition: NIST SP 811 B.8, t/°C = (t/°F - 32)/1.8
    [(32, 0.0), (212, 100.0), (-40, -40.0), (104, 40.0), (122, 50.0)],
)
def test_temperatures(fahrenheit, celsius):
    found_k = parse_quantity(f"{fahrenheit} °F", "temperature", "us")
    assert found_k == pytest.approx(celsius + 273.15, abs=1e-9)


@pytest.mark.parametrize(("gauge", "printed_cmil"), NEC_TABLE_8_CMIL)
def test_area_of_a_gauge_as_printed_in_the_nec(gauge, printed_cmil):
    cmil_m2 = math.pi / 4 * (0.001 * 0.0254) ** 2
    rounding = 0.1 / math.sqrt(printed_cmil) + 0.0005  # of the diameter, and of the table itself
    assert gauge_area(gauge) / cmil_m2 == pytest.approx(printed_cmil, rel=rounding)


@pytest.mark.parametrize(("gauge", "printed_in"), ASTM_B258_DIAMETER_IN)
def test_diameter_of_a_gauge_as_tabulated(gauge, printed_in):
    diameter_in = math.sqrt(gauge_area(gauge) * 4 / math.pi) / 0.0254
    assert diameter_in == pytest.approx(printed_in, abs=0.00005001)


@pytest.mark.parametrize(
    ("text", "kind", "value_si"),
    # The demo lines' own tables (rounded there to the digits given).
    [
        ("1/2 hp", "power", 373),
        ("1.5 hp", "power", 1119),
        ("2 hp", "power", 1491),
        ("0.24 lb", "fruit_mass", 0.109),
        ("67.4 ft/min", "surface_speed", 0.3424),
        ("3.75 in", "size", 0.09525),
    ],
)
def test_values_of_the_demo_lines(text, kind, value_si):
    assert parse_quantity(text, kind, "us") == pytest.approx(value_si, rel=2e-3)
