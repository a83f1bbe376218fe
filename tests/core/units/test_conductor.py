import pytest

from core.errors import InputError
from core.units import gauge_area, parse_quantity, show
from core.units.conductor import trade_name


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize(
    ("text", "gauge"),
    [
        ("12 AWG", 12),
        ("12awg", 12),
        ("AWG 12", 12),
        ("#12", 12),
        ("# 12 AWG", 12),
        ("12 ga", 12),
        ("13 AWG", 13),
        ("1/0", 0),
        ("4/0 AWG", -3),
        ("00", -1),
        ("AWG 0", 0),
    ],
)
def test_a_gauge_is_read_in_either_system(text, gauge, system):
    assert parse_quantity(text, "conductor", system) == gauge_area(gauge)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize(
    ("text", "area_mm2"),
    [
        ("2.5 mm2", 2.5),
        ("2,5 mm²", 2.5),
        ("2.5MM2", 2.5),
        # a mil is 0.0254 mm, so a kcmil is 1000 * pi/4 * 0.0254² = 0.506707 mm²
        ("250 kcmil", 126.677),
        ("250 MCM", 126.677),
    ],
)
def test_an_area_is_read_in_either_system(text, area_mm2, system):
    assert parse_quantity(text, "conductor", system) == pytest.approx(area_mm2 * 1e-6, rel=5e-6)


def test_a_bare_number_is_square_millimetres_or_a_gauge():
    assert parse_quantity("12", "conductor", "metric") == pytest.approx(12e-6)
    assert parse_quantity("12", "conductor", "us") == gauge_area(12)


@pytest.mark.parametrize(
    ("text", "system", "reason"),
    [
        ("2.5", "us", "no gauge and has no unit"),
        ("250", "us", "no gauge and has no unit"),  # kcmil or mm²: to be said
        ("12/2", "us", "fraction"),  # a cable of two 12 AWG conductors
        ("12/2", "metric", "fraction"),
        ("5/0", "us", "fraction"),
        ("41 AWG", "us", "no 41 AWG"),
        ("2.5 AWG", "us", "no gauge"),
        ("-12 AWG", "us", "no gauge"),
        ("0", "metric", "no conductor size"),
        ("-2.5 mm2", "metric", "no conductor size"),
        ("2.5 mm", "metric", "is a length"),
        ("4 x 2.5 mm2", "metric", "no unit of a conductor size"),
        ("", "us", "Nothing was typed"),
    ],
)
def test_what_is_no_size_is_refused(text, system, reason):
    with pytest.raises(InputError, match=reason) as caught:
        parse_quantity(text, "conductor", system, what="Motor cable")
    assert caught.value.fix == "Type a size such as 2.5 mm² or 12 AWG."


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize(
    "text",
    ["12 AWG", "13 AWG", "1/0 AWG", "4/0 AWG", "40 AWG", "250 kcmil", "2000 kcmil", "2.5 mm²"],
)
def test_a_size_is_shown_by_its_trade_name_in_both_systems(text, system):
    assert str(show(parse_quantity(text, "conductor", "us"), "conductor", system)) == text


@pytest.mark.parametrize(
    "area_mm2",
    # IEC 60228, table 1: the nominal cross-sections
    [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 630],
)
def test_no_metric_size_is_taken_for_a_gauge(area_mm2):
    assert trade_name(area_mm2 * 1e-6) is None
