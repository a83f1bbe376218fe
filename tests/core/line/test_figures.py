"""Inputs of a figure: numbers with the unit of their name, and words."""

import pytest

from core.errors import RangeError
from core.line import Figure, Given, Rule
from core.line.figures import Workbench
from core.units import show

RULE = Rule("power_w", "Power", "power", "P = U·I", "Joule's law")


@pytest.mark.parametrize(
    ("name", "value", "label", "metric", "us"),
    [
        ("fan_flow_m3_s", 100 / 3600, "fan flow", "100 m³/h", "58.86 CFM"),
        ("altitude_m", 304.8, "altitude", "304.8 m", "1000 ft"),
        ("effective_area_m2", 2.0, "effective area", "2 m²", "21.53 ft²"),
        ("line_m2", 2.5e-6, "line", "2.5 mm²", "2.5 mm²"),
        ("A01_input_a", 9.0, "A01 input", "9 A", "9 A"),
        ("A01_losses_heat_w", 44.0, "A01 losses", "44 W", "44 W"),
        ("insulation", "PVC", "insulation", "PVC", "PVC"),
    ],
)
def test_an_input_is_shown_by_the_ending_of_its_name(name, value, label, metric, us):
    given = Given(name, value)
    assert given.label == label
    assert given.shown("metric") == metric
    assert given.shown("us").lower() == us.lower()


def test_an_input_can_be_shown_as_it_is_stored():
    assert Given("length_m", 12.3456789).shown("metric", show) == str(
        show(12.3456789, "length", "metric")
    )


def test_a_word_is_an_input_like_a_number():
    bench = Workbench()
    factors = {"copper": 2.0}
    inputs = {"current_a": 3.0, "metal": "copper"}
    value = bench.figure(RULE, lambda current_a, metal: current_a * factors[metal], inputs)
    assert value == 6.0
    assert bench.figures["power_w"].given == (Given("current_a", 3.0), Given("metal", "copper"))


def test_a_lacking_word_is_named():
    bench = Workbench()
    assert bench.figure(RULE, lambda metal: 1.0, {"metal": None}) is None
    assert bench.figures["power_w"].lacks == ("metal",)


def test_what_a_figure_rests_on_beside_its_inputs_is_told():
    bench = Workbench()
    bench.figure(RULE, lambda current_a: current_a, {"current_a": 1.0}, also={"device": "fuse"})
    assert bench.figures["power_w"].given[-1] == Given("device", "fuse")


def test_inputs_that_give_no_figure_say_why():
    def refuse(current_a: float) -> float:
        raise RangeError("No.", f"{current_a} A is too much.", "Use less.")

    bench = Workbench()
    assert bench.figure(RULE, refuse, {"current_a": 1.0}) is None
    figure = bench.figures["power_w"]
    assert isinstance(figure, Figure)
    assert "too much" in figure.problem
