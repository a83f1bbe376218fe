import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError, RangeError
from core.units import (
    KINDS,
    UNITS,
    parse_in_unit,
    parse_quantity,
    show,
    show_computed,
    unit_of,
    units_of,
    units_spelled,
    value_in_unit,
)
from core.units.quantity import Shown

SYSTEMS = ("metric", "us")
SI_UNIT_OF_SUFFIX = {
    "w": "watt",
    "v": "volt",
    "a": "ampere",
    "hz": "hertz",
    "rad_s": "radian/second",
    "m_s": "meter/second",
    "m": "meter",
    "kg": "kilogram",
    "kg_m": "kilogram/meter",
    "kg_m3": "kilogram/meter**3",
    "kg_s": "kilogram/second",
    "1_s": "1/second",
    "n_m": "newton*meter",
    "n": "newton",
    "kg_m2": "kilogram*meter**2",
    "m2": "meter**2",
    "ohm": "ohm",
    "f": "farad",
    "s": "second",
    "k": "kelvin",
    "1": "dimensionless",
    "rad": "radian",
    "m3_s": "meter**3/second",
    "pa": "pascal",
    "m3": "meter**3",
    "j": "joule",
}


# --- what the units library misreads (measured, reference/platform.md 0 D and 5) ------------


@pytest.mark.parametrize(
    ("text", "kind", "value_si"),
    [
        ("4,7 kW", "power", 4700.0),
        ("1½ kW", "power", 1500.0),
        ("−3 W", "power", -3.0),
        ("5 PS", "power", 3677.49375),  # 75 kgf·m/s each: 5 * 75 * 9.80665
        ("40 °C", "temperature", 313.15),
        ("2 Nm", "torque", 2.0),
        ("0.02 kgm²", "inertia", 0.02),
        ("1400 min-1", "rotation", 1400 * 2 * math.pi / 60),
        ("1400 1/min", "rotation", 1400 * 2 * math.pi / 60),
    ],
)
def test_what_the_library_misreads_is_right_here(text, kind, value_si):
    assert parse_quantity(text, kind, "metric") == pytest.approx(value_si, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    ["1.500,5 W", "3e W", "9**9**9", "9**9**9 W", "1e400", "1e308 MW", "nan", "inf W", "5 kvar"],
)
def test_what_the_library_takes_wrongly_or_hangs_on_is_refused_here(text):
    with pytest.raises(InputError):
        parse_quantity(text, "power", "metric")


# --- reading --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "kind", "system", "value_si"),
    [
        ("0.75", "power", "metric", 750.0),
        ("750 W", "power", "us", 750.0),
        ("45", "loss_power", "us", 45.0),
        ("12", "signal_current", "us", 0.012),
        ("12", "current", "us", 12.0),
        ("12 mA", "current", "metric", 0.012),
        ("0.5", "surface_speed", "metric", 0.5),
        ("30 m/min", "surface_speed", "us", 0.5),
        ("95.25", "size", "metric", 0.09525),
        ("3.75", "size", "us", 0.09525),  # the cup pitch of the demos, 25.4 mm to the inch
        ('1-1/2"', "size", "metric", 0.0381),
        ("1 t/h", "mass_flow", "us", 1000 / 3600),
        ("6", "bin_rate", "us", 6 / 3600),
        ("6 /h", "bin_rate", "us", 6 / 3600),
        ("5.9 fruit/s", "count_rate", "us", 5.9),
        ("354 /min", "count_rate", "us", 5.9),
        ("22.4 fps", "count_rate", "us", 22.4),
        ("10k", "resistance", "us", 10e3),
        ("500", "insulation", "us", 500e6),
        ("2 GΩ", "insulation", "metric", 2e9),
        ("470 uF", "capacitance", "us", 470e-6),
        ("200 ms", "time", "us", 0.2),
        ("2 min", "time", "us", 120.0),
        ("10 K", "temperature_step", "us", 10.0),
        ("18", "temperature_step", "us", 10.0),
        ("104", "temperature", "us", 313.15),
        ("50", "ratio", "metric", 0.5),
        ("82 %", "ratio", "us", 0.82),
        ("0.5 %", "ratio", "us", 0.005),
        ("0", "ratio", "us", 0.0),
        ("0.82", "factor", "us", 0.82),
        ("82 %", "factor", "us", 0.82),
        ("15:1", "factor", "us", 15.0),
        ("90°", "angle", "us", math.pi / 2),
        ("3.6 m³/h", "water_flow", "us", 0.001),
        ("1 bar", "pressure", "us", 1e5),
        ("1 kWh", "energy", "us", 3.6e6),
        ("12", "count", "us", 12.0),
    ],
)
def test_a_quantity_is_read_in_its_unit_or_bare_in_that_of_the_line(text, kind, system, value_si):
    assert parse_quantity(text, kind, system) == pytest.approx(value_si, rel=1e-14, abs=0)


@pytest.mark.parametrize(
    ("text", "kind", "reason"),
    [
        ("5 kg", "power", "'5 kg' is a mass"),
        ("2 Nm", "power", "is a torque"),
        ("40 °C", "power", "is a temperature or a temperature step"),
        ("1740 rpm", "frequency", "is a rotation"),
        ("50 Hz", "rotation", "is a frequency"),
        ("5 1/s", "rotation", "is a count rate"),
        ("50 kg", "force", "is a mass"),
        ("5 MA", "current", "'MA' is no unit of a current; known here: A, mA"),
        ("5 furlongs", "length", "no unit of a length"),
        ("5 kW kW", "power", "no unit of a power"),
        ("kW", "power", "does not begin with a number"),
        ("", "power", "Nothing was typed"),
        ("1,500 W", "power", "1.500 or as 1500"),
        ("-500 °F", "temperature", "below absolute zero"),
        ("0.82", "ratio", "0.82 % or 82 %"),
        ("1", "ratio", "1 % or 100 %"),
        ("2.5", "count", "not a whole number"),
        ("100 %", "count", "is a ratio"),
        ("1" * 38 + " kW", "power", "41 characters"),
    ],
)
def test_a_wrong_or_doubtful_quantity_is_refused_with_its_reason(text, kind, reason):
    with pytest.raises(InputError, match=reason):
        parse_quantity(text, kind, "metric")


def test_the_refusal_names_the_field_the_value_and_what_is_expected():
    with pytest.raises(InputError) as caught:
        parse_quantity("5 kg", "power", "us", what="rated power")
    assert str(caught.value) == (
        "Rated power was not taken. '5 kg' is a mass. Type a power such as 0.75 kW or 3/4 hp."
    )


def test_an_unnamed_value_is_refused_too():
    with pytest.raises(InputError, match=r"^The value was not taken\."):
        parse_quantity("?", "power", "us")


@given(st.text(max_size=45), st.sampled_from(sorted(KINDS)), st.sampled_from(SYSTEMS))
def test_any_text_is_a_finite_value_or_a_clear_refusal(text, kind, system):
    try:
        outcome = parse_quantity(text, kind, system)
    except InputError as refusal:
        outcome = refusal
    if isinstance(outcome, InputError):
        assert all((outcome.what, outcome.why, outcome.fix))
    else:
        assert math.isfinite(outcome)


# --- showing --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "kind", "system", "shown"),
    [
        ("0.75 kW", "power", "metric", "0.75 kW"),
        ("3/4 hp", "power", "us", "0.75 hp"),
        ("3/4 hp", "power", "metric", "0.5593 kW"),  # 0.75 * 745.69987 = 559.27 W
        ("1740 rpm", "rotation", "us", "1740 rpm"),
        ("1437.5 rpm", "rotation", "us", "1437.5 rpm"),
        ("67.4 ft/min", "surface_speed", "us", "67.4 ft/min"),
        ("67.4 ft/min", "surface_speed", "metric", "0.342392 m/s"),  # 67.4 * 0.00508, exact
        ("2.0 A", "current", "us", "2 A"),
        ("17.71 mA", "signal_current", "us", "17.71 mA"),
        ("10k", "resistance", "us", "10 kΩ"),
        ("999 Ω", "resistance", "metric", "999 Ω"),
        ("1000 Ω", "resistance", "metric", "1 kΩ"),
        ("2200 Ω", "resistance", "metric", "2.2 kΩ"),
        ("2250 Ω", "resistance", "metric", "2250 Ω"),  # 2.25 is no shorter
        ("12.5 kΩ", "resistance", "metric", "12.5 kΩ"),
        ("12345 Ω", "resistance", "metric", "12345 Ω"),
        ("100 kΩ", "resistance", "us", "100 kΩ"),
        ("1 MΩ", "resistance", "us", "1 MΩ"),
        ("1 234 567 Ω", "resistance", "us", "1234567 Ω"),
        ("10 kΩ", "insulation", "us", "0.01 MΩ"),
        ("300", "wait", "metric", "5 min"),
        ("2 min", "wait", "us", "2 min"),
        ("10 min", "wait", "us", "10 min"),
        ("1 min", "wait", "us", "1 min"),
        ("45", "wait", "us", "45 s"),
        ("90 s", "wait", "us", "90 s"),
        ("2.5 min", "wait", "us", "150 s"),
        ("1 h", "wait", "us", "60 min"),
        ("5 min", "time", "us", "300 s"),
        ("0 °F", "temperature", "us", "0 °F"),
        ("32 °F", "temperature", "metric", "0 °C"),
        ("-40 °C", "temperature", "us", "-40 °F"),
        ("18 °F", "temperature_step", "metric", "10 K"),
        ("0.82", "factor", "us", "0.82"),
        ("82 %", "ratio", "us", "82 %"),
        ("12", "count", "us", "12"),
        ("0", "length", "us", "0 ft"),
        ("1e12 V", "voltage", "us", "1e+12 V"),
    ],
)
def test_trade_values_look_as_they_should(typed, kind, system, shown):
    assert str(show(parse_quantity(typed, kind, system), kind, system)) == shown


def test_a_computed_value_is_rounded_to_four_digits_but_never_before_its_point():
    assert str(show(2 / 3, "voltage", "us")) == "0.6667 V"
    assert str(show(123456.789, "voltage", "us")) == "123457 V"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_value_is_not_shown(value):
    with pytest.raises(RangeError):
        show(value, "power", "us")


def test_number_and_unit_come_apart_for_columns():
    assert show(750.0, "power", "metric") == Shown("0.75", "kW")


# --- there and back -------------------------------------------------------------------------

sizes = st.floats(1e-3, 1e6, allow_nan=False) | st.integers(1, 5000).map(float)


@given(sizes, st.sampled_from(sorted(KINDS)), st.sampled_from(SYSTEMS))
def test_what_is_shown_is_read_back_within_its_digits_and_shown_the_same(value, name, system):
    kind = KINDS[name]
    value_si = float(round(value)) if kind.whole else UNITS[kind.metric_unit].to_si(value)
    shown = show(value_si, kind, system)
    again = parse_quantity(str(shown), kind, system)
    unit = units_spelled(shown.unit, kind.dimension)
    if unit:  # half of the fourth digit, in the unit shown
        there, back = unit[0].from_si(value_si), unit[0].from_si(again)
        assert back == pytest.approx(there, rel=5.0001e-4, abs=1e-9)
    else:  # a gauge, or a plain number
        assert again == pytest.approx(value_si, rel=5.0001e-4)
    assert show(again, kind, system) == shown


@given(
    st.decimals(min_value=1, max_value=999, places=2),
    st.sampled_from(sorted(set(KINDS) - {"conductor", "count", "ratio", "wait"})),
    st.sampled_from(SYSTEMS),
)
def test_what_is_typed_short_comes_back_as_typed(number, name, system):
    typed = f"{number.normalize():f}"
    assert show(parse_quantity(typed, name, system), name, system).number == typed


@given(sizes, st.sampled_from(list(UNITS)))
def test_unit_to_si_and_back(value, unit_id):
    unit = UNITS[unit_id]
    assert unit.from_si(unit.to_si(value)) == pytest.approx(value, rel=1e-13, abs=1e-12)


@given(sizes, st.sampled_from(sorted(set(KINDS) - {"count"})), st.lists(st.sampled_from(SYSTEMS)))
def test_a_value_survives_any_number_of_switches_even_if_read_back_each_time(value, name, switches):
    # Showing alone cannot change a float; so go further and re-type the value at each switch, in
    # full digits, as an export to a spreadsheet and back does.
    kind = KINDS[name]
    stored = first = UNITS[kind.metric_unit].to_si(value)
    for system in switches:
        unit_id = kind.unit_id(system) or kind.metric_unit
        stored = parse_in_unit(repr(value_in_unit(stored, unit_id)), unit_id)
    assert stored == pytest.approx(first, rel=1e-13)


# --- a unit known beforehand ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "unit", "value_si"),
    [
        ("5,0", "s", 5.0),
        ("250", "ms", 0.25),
        ("0.25 s", "ms", 0.25),
        ("0.5", "%", 0.005),
        ("1400", "1/min", 1400 * 2 * math.pi / 60),
        ("40", "°C", 313.15),
        ("16", "kHz", 16e3),
        ("7", "", 7.0),
        ("7", "steps", 7.0),
        ("7 steps", "steps", 7.0),
        ("4", "mm2", 4e-6),
    ],
)
def test_a_keypad_value_is_read_in_the_unit_of_its_list(text, unit, value_si):
    assert parse_in_unit(text, unit) == pytest.approx(value_si, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "unit", "reason"),
    [
        ("5 Hz", "s", "'5 Hz' is a frequency"),
        ("5 Hz", "", "not a number in the unit listed"),
        ("5 Hz", "steps", "not a number in the unit listed"),
        ("1,500", "s", "1.500 or as 1500"),
        ("auto", "s", "does not begin with a number"),
        ("-300", "degC", "below absolute zero"),
    ],
)
def test_a_keypad_value_in_doubt_is_refused(text, unit, reason):
    with pytest.raises(InputError, match=reason) as caught:
        parse_in_unit(text, unit, what="ramp-up")
    assert caught.value.what == "Ramp-up was not taken."
    assert caught.value.fix.startswith("Type ")


def test_a_stored_value_is_given_in_the_unit_of_a_keypad():
    assert value_in_unit(0.25, "ms") == 250.0
    assert value_in_unit(313.15, "°C") == pytest.approx(40.0)
    assert value_in_unit(7.0, "steps") == 7.0
    assert value_in_unit(7.0, "") == 7.0


# --- the kinds ------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_each_kind_stands_on_units_of_its_dimension(kind):
    for unit_id in filter(None, (kind.metric_unit, kind.us_unit, *kind.larger)):
        assert UNITS[unit_id] in units_of(kind.dimension)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_the_suffix_of_a_kind_names_its_si_unit(kind):
    import pint

    registry = pint.UnitRegistry()
    si_unit = registry.Unit(SI_UNIT_OF_SUFFIX[kind.si_suffix].replace("1/second", "second**-1"))
    shown = UNITS[kind.metric_unit]
    one = registry.Quantity(shown.to_si(1.0) - shown.to_si(0.0), si_unit)
    assert one.to_base_units().magnitude == pytest.approx(shown.factor, rel=1e-12)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_the_examples_in_an_error_can_be_typed(kind, system):
    _, _, examples = kind.what.partition(" such as ")
    for example in examples.split(" or "):
        parse_quantity(example, kind, system)


def test_the_unit_shown_follows_the_system():
    assert [unit_of("power", system) for system in SYSTEMS] == ["kW", "hp"]
    assert [unit_of("conductor", system) for system in SYSTEMS] == ["mm²", "AWG"]
    assert unit_of(KINDS["frequency"], "us") == "Hz"


@pytest.mark.parametrize(
    ("value", "kind", "expected"),
    [
        (51.4125, "frequency", "51.41 Hz"),
        (12345.6, "resistance", "12346 Ω"),
        (5029.6, "resistance", "5030 Ω"),
        (4999.7, "resistance", "5 kΩ"),  # four digits: 5000
        (54.0, "frequency", "54 Hz"),
        (0.0, "power", "0 hp"),
        (1740.4 * math.pi / 30, "rotation", "1740 rpm"),
    ],
)
def test_computed_values_are_rounded_but_never_before_the_point(value, kind, expected):
    assert str(show_computed(value, kind, "us")) == expected
