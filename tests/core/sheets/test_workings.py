from dataclasses import replace

from core.line import compute_line
from core.sheets.document import Paragraph
from core.sheets.workings import workings
from tests.core.sheets import lines


def _rows(line, **how):
    document = workings(line, compute_line(line), **how)
    grid = document.sections[1].parts[0]
    return [[cell.text for cell in row] for row in grid.rows]


def test_every_figure_of_every_station_is_there_once_with_formula_and_source():
    line = lines.line(3)
    wanted = [
        (held.tag, figure.label, figure.formula, figure.source)
        for held in compute_line(line).stations
        for figure in held.figures.values()
    ]
    assert [(row[0], row[2], row[4], row[6]) for row in _rows(line)] == wanted


def test_figures_of_a_second_motor_are_told_apart():
    line = lines.line(1)
    motor = line.stations[0].motors[0]
    line = lines.with_station(line, motors=(motor, replace(motor, id=9, tag="M9")))
    labels = [row[2] for row in _rows(line, station_ids=[1])]
    assert {"Rated torque", "Rated torque, motor 2"} <= set(labels)
    assert len(labels) == len(set(labels))


def test_chosen_stations_only():
    assert {row[0] for row in _rows(lines.line(3), station_ids=[2])} == {"B02"}


def test_a_line_without_stations_says_so():
    line = lines.line(0, stations=())
    document = workings(line, compute_line(line))
    assert document.sections[1].parts == (Paragraph("No figure has been computed.", "quiet"),)
