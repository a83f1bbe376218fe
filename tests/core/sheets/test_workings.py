from dataclasses import replace

from core.line import compute_line
from core.line.service import enclosure_heats, supply_loads
from core.model import Enclosure, Supply
from core.sheets.document import Grid, Heading, Paragraph
from core.sheets.workings import workings
from tests.core.sheets import lines


def _rows(line, **how):
    document = workings(line, compute_line(line), **how)
    grid = document.sections[1].parts[0]
    return [[cell.text for cell in row] for row in grid.rows]


def test_every_figure_of_every_station_is_there_once_with_formula_and_source():
    line = lines.line(3)
    results = compute_line(line)
    wanted = [
        (held.tag, figure.label, figure.formula, figure.source)
        for held in results.stations
        for figure in results.figures(held.station.id).values()
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


def _shared(line, **how):
    """The rows of supplies and of enclosures by the heading that they stand under."""
    document = workings(line, compute_line(line), **how)
    found, title = {}, ""
    for part in document.sections[2].parts:
        if isinstance(part, Heading):
            title = part.text
        elif isinstance(part, Grid):
            found[title] = [[cell.with_unit for cell in row] for row in part.rows]
    return found


def test_every_figure_of_supplies_and_enclosures_is_there_once():
    line = lines.line(3)
    results = compute_line(line)
    (load,), (heat,) = supply_loads(results), enclosure_heats(results)
    shared = _shared(line)
    for title, name, figures in (
        ("Supplies", "Shed service", load.figures),
        ("Enclosures", "Panel 1", heat.figures),
    ):
        wanted = [(name, f.label, f.formula, f.source) for f in figures.values()]
        assert [(row[0], row[1], row[3], row[5]) for row in shared[title]] == wanted


def test_a_supply_tells_each_drive_that_it_bears():
    line = lines.line(2)
    kind = replace(line.drive_types[0], input_current_1ph_a=9.0)
    shared = _shared(replace(line, drive_types=(kind,)))
    (row,) = [row for row in shared["Supplies"] if row[1] == "Load in L1"]
    assert row[2] == "18 A"
    assert row[4] == "B01 input 9 A; B02 input 9 A; demand 100 %; other load 0 A"


def test_chosen_stations_bring_their_supply_and_enclosure_with_all_drives_on_it():
    line = lines.line(2)
    line = replace(
        line,
        supplies=(*line.supplies, Supply(2, "Spare", "1ph_230", 50.0)),
        enclosures=(*line.enclosures, Enclosure(2, "Spare panel")),
    )
    assert {row[0] for row in _shared(line)["Supplies"]} == {"Shed service", "Spare"}
    chosen = _shared(line, station_ids=[1])
    assert {row[0] for row in chosen["Supplies"]} == {"Shed service"}
    assert {row[0] for row in chosen["Enclosures"]} == {"Panel 1"}
    assert any("B02 input" in row[4] for row in chosen["Supplies"])


def test_a_line_without_supplies_and_enclosures_has_no_such_section():
    line = lines.line(1, supplies=(), enclosures=())
    assert len(workings(line, compute_line(line)).sections) == 2
