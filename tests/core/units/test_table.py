import subprocess
import sys

import pytest

from core.units import UNITS, units_of, units_spelled
from core.units.generate import generated_table
from core.units.table import TABLE_PATH, spelled_plainly


@pytest.fixture(scope="module")
def registry():
    import pint

    return pint.UnitRegistry()


@pytest.fixture(scope="module")
def pint_of():
    """The pint expression of each row, read without the code under test."""
    import csv

    with TABLE_PATH.open(encoding="utf-8", newline="") as file:
        return {row["id"]: row["pint"] for row in csv.DictReader(file)}


def test_the_file_is_what_the_units_library_gives_now():
    assert generated_table() == TABLE_PATH.read_text(encoding="utf-8")


@pytest.mark.parametrize("unit", UNITS.values(), ids=UNITS)
def test_each_unit_converts_as_pint_does(unit, registry, pint_of):
    for number in (0.0, 1.0, 37.5):
        theirs = registry.Quantity(number, registry.Unit(pint_of[unit.unit_id])).to_base_units()
        assert unit.to_si(number) == pytest.approx(theirs.magnitude, rel=1e-13, abs=1e-12)


@pytest.mark.parametrize("dimension", dict.fromkeys(unit.dimension for unit in UNITS.values()))
def test_a_dimension_is_one_dimension(dimension, registry, pint_of):
    units = units_of(dimension)
    assert len({registry.Unit(pint_of[unit.unit_id]).dimensionality for unit in units}) == 1
    assert len({unit.symbol for unit in units}) == len(units)


@pytest.mark.parametrize("unit", UNITS.values(), ids=UNITS)
def test_no_spelling_means_two_units_of_one_dimension(unit):
    assert unit.symbol == "" or units_spelled(unit.symbol, unit.dimension) == (unit,)
    for spelling in unit.spellings:
        assert units_spelled(spelling, unit.dimension) == (unit,)


@pytest.mark.parametrize("dimension", dict.fromkeys(unit.dimension for unit in UNITS.values()))
def test_overlooking_case_joins_no_two_units_but_those_told_by_milli_or_mega(dimension):
    owners = {}
    for unit in units_of(dimension):
        for spelling in unit.spellings:
            owners.setdefault(spelled_plainly(spelling).casefold(), set()).add(unit.symbol)
    shared = [symbols for symbols in owners.values() if len(symbols) > 1]
    assert all({symbol[0] for symbol in symbols} == {"m", "M"} for symbols in shared)


@pytest.mark.parametrize(
    ("spelling", "dimension", "unit_id"),
    [
        ("KW", "power", "kW"),
        ("Kw", "power", "kW"),
        ("mW", "power", "mW"),
        ("MW", "power", "MW"),
        ("HP", "power", "hp"),
        ("ps", "power", "PS"),
        ("hz", "frequency", "Hz"),
        ("RPM", "rotation", "rpm"),
        ("min⁻¹", "rotation", "rpm"),
        ("1/min", "rotation", "rpm"),
        ("1/min", "count_rate", "per_min"),
        ("Ohms", "resistance", "ohm"),
        ("k", "resistance", "kohm"),
        ("\u2126", "resistance", "ohm"),  # ohm sign, not the Greek letter
        ("MΩ", "resistance", "Mohm"),
        ("mΩ", "resistance", "mohm"),
        ("\u03bcF", "capacitance", "uF"),  # Greek mu
        ("\u00b5F", "capacitance", "uF"),  # micro sign
        ("MFD", "capacitance", "uF"),
        ("N.m", "torque", "N_m"),
        ("Nm", "torque", "N_m"),
        ("in-lb", "torque", "lb_in"),
        ("LB·FT", "torque", "lb_ft"),
        ("kgm²", "inertia", "kg_m2"),
        ("kg*m**2", "inertia", "kg_m2"),
        ("kg·m^2", "inertia", "kg_m2"),
        ("ft per min", "speed", "ft_min"),
        ("FPM", "speed", "ft_min"),
        ("in.", "length", "in"),
        ("″", "length", "in"),
        ("MM", "length", "mm"),
        ("º C", "temperature", "degC"),
        ("sq mm", "conductor_size", "mm2"),
        ("m³ / h", "volume_flow", "m3_h"),
    ],
)
def test_a_unit_is_known_however_it_is_written(spelling, dimension, unit_id):
    assert units_spelled(spelling, dimension) == (UNITS[unit_id],)


@pytest.mark.parametrize(
    ("spelling", "dimension"),
    [
        ("MA", "current"),  # mega is not milli
        ("MS", "time"),
        ("m", "resistance"),
        ("m s", "time"),  # metre times second is no millisecond
        ("k W", "power"),
        ("ft/m", "speed"),  # per minute or per metre
        ("ton/h", "mass_flow"),  # short, long or metric
        ("", "power"),
    ],
)
def test_a_doubtful_unit_is_unknown(spelling, dimension):
    assert units_spelled(spelling, dimension) == ()


def test_metric_horsepower_is_not_horsepower():
    assert UNITS["PS"].factor == 735.49875
    assert UNITS["hp"].factor == pytest.approx(745.69987, abs=5e-6)


def test_the_package_does_not_import_the_units_library_or_other_heavy_ones():
    code = (
        "import sys, core.units as u; u.parse_quantity('3/4 hp', 'power', 'us');"
        "heavy = {'pint', 'numpy', 'sqlalchemy', 'PySide6', 'importlib.resources'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert (found.stdout.strip(), found.stderr) == ("[]", "")
