from core.line import Figure, Rule
from core.sheets.entries import Entries
from core.sheets.working_rows import working_cells, working_columns
from tests.core.sheets import lines

RULE = Rule("power_w", "Power", "power", "P = U·I", "Joule's law", "Ohmic loads only.")


def _texts(figure, key="", **line):
    cells = working_cells(Entries.of(lines.line(1, **line)), figure, key)
    return [cell.with_unit for cell in cells]


def test_a_figure_with_its_formula_inputs_and_source():
    figure = Figure(RULE, 690.0, {"voltage_v": 230.0, "load_current_a": 3.0, "unused_a": None})
    assert _texts(figure) == [
        "Power",
        "0.69 kW",
        "P = U·I",
        "voltage 230 V; load current 3 A",
        "Joule's law",
        "Ohmic loads only.",
    ]


def test_inputs_are_in_the_units_of_the_line():
    figure = Figure(RULE, 745.6999, {"length_m": 3.048, "ambient_k": 313.15})
    assert _texts(figure, unit_system="us")[1:4:2] == ["1 hp", "length 10 ft; ambient 104 °F"]


def test_what_lacks_what_fails_and_what_is_assumed_is_said():
    lacking = Figure(RULE, None, {"voltage_v": None}, ("voltage", "current"))
    assert _texts(lacking)[1] == "–"
    assert _texts(lacking)[5] == "lacking: voltage, current\nOhmic loads only."
    assert _texts(Figure(RULE, None, problem="Too large."))[5].startswith("Too large.\n")
    assumed = Figure(RULE, 1.0, assumed="a warm motor")
    assert _texts(assumed)[5].startswith("estimate, assumes a warm motor\n")


def test_the_figure_of_a_second_motor_names_it():
    assert _texts(Figure(RULE, 1.0), "power_w_2")[0] == "Power, motor 2"
    assert _texts(Figure(RULE, 1.0), "power_w")[0] == "Power"


def test_there_is_a_column_for_every_cell():
    entries = Entries.of(lines.line(1))
    assert len(working_columns(entries)) == len(working_cells(entries, Figure(RULE, 1.0)))
