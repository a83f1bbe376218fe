from dataclasses import replace

from core.line import compute_line, wire_line
from core.sheets.document import Grid, KeyValues
from core.sheets.wiring_schedule import wiring_schedule
from tests.core.sheets import lines


def _schedule(line, **how):
    return wiring_schedule(line, compute_line(line), **how)


def _rows(document):
    grid = next(part for part in document.sections[1].parts if isinstance(part, Grid))
    return [[cell.with_unit for cell in row] for row in grid.rows]


def _bus_rows(document):
    parts = document.sections[2].parts
    return [row for part in parts if isinstance(part, KeyValues) for row in part.rows]


def test_every_conductor_of_the_line_is_there_once():
    line = lines.line(3)
    numbers = [row[3] for row in _rows(_schedule(line)) if row[3] != "–"]
    assert sorted(numbers) == sorted(wire.number for wire in wire_line(line).conductors)
    assert len(set(numbers)) == len(numbers)


def test_a_conductor_goes_from_terminal_to_terminal():
    rows = {row[3]: row for row in _rows(_schedule(lines.line(1)))}
    assert rows["B01-P1"] == [
        "B01",
        "Brush bed 1",
        "Power in",
        "B01-P1",
        "Power in, L1",
        "F1",
        "L1",
        "B01 drive",
        "X0:L1",
        "brown",
        "1.5 mm²",
        "3G1.5",
        "12 m",
        "no screen",
    ]
    assert rows["B01-R2"][5:9] == ["RP1", "2", "B01 drive", "X1:2"]


def test_the_screen_names_the_one_end_where_it_is_earthed():
    line = lines.line(1)
    rows = {row[3]: row for row in _rows(_schedule(line))}
    assert rows["B01-R1"][-1] == "earthed at B01 drive only"
    assert rows["B01-M1"][-1] == "earthed at both ends"
    cables = tuple(replace(cable, screen="far") for cable in line.stations[0].cables)
    rows = {row[3]: row for row in _rows(_schedule(lines.with_station(line, cables=cables)))}
    assert rows["B01-R1"][-1] == "earthed at RP1 only"
    assert rows["B01-M1"][-1] == "earthed at B01 motor only"


def test_what_nobody_entered_is_said():
    rows = _rows(_schedule(lines.line(1)))
    by_number = {row[3]: row for row in rows}
    assert by_number["B01-C1"][10:] == ["not entered"] * 4
    bare = [row[4] for row in rows if row[0] == "X99"]
    assert bare == ["Power in: nothing entered", "Motor: nothing entered"]


def test_the_bus_is_in_its_order_with_both_ends():
    rows = _bus_rows(_schedule(lines.line(3)))
    assert [(row.label, row.cell.text) for row in rows] == [
        ("Chain, in its order", "Line controller → B01 drive → B02 drive → B03 drive"),
        ("First device: Line controller", "■ terminated"),
        ("Last device: B03 drive", "□ not terminated"),
    ]


def test_chosen_stations_only():
    rows = _rows(_schedule(lines.line(3), station_ids=[4]))
    assert {row[0] for row in rows} == {"X99"}
    assert _bus_rows(_schedule(lines.line(3), station_ids=[4])) == []


def test_cable_lengths_are_summed_by_type_and_size():
    line = lines.line(2)
    cables = (replace(line.stations[0].cables[1], length_m=None), *line.stations[0].cables[2:])
    document = _schedule(lines.with_station(line, cables=cables))
    grid = next(part for part in document.sections[2].parts if isinstance(part, Grid))
    rows = {row[0].text: [cell.with_unit for cell in row[4:]] for row in grid.rows}
    # By hand: one power cable of 12 m left; motor 25 m and one without length; 20 m + 20 m.
    assert rows == {
        "3G1.5": ["1", "12 m", "0"],
        "4G1.5 screened": ["2", "25 m", "1"],
        "3x0.5 screened": ["2", "40 m", "0"],
    }


def test_colours_follow_the_rules_and_name_their_sources():
    nec = lines.line(1, wiring_rules="nec")
    assert {row[3]: row[9] for row in _rows(_schedule(nec))}["B01-P1"] == "black"
    texts = " ".join(str(part) for part in _schedule(nec).sections[0].parts)
    assert "NFPA 79" in texts
    assert "from memory" in texts


def test_an_empty_line_has_a_schedule_too():
    document = _schedule(lines.line(0, stations=()))
    assert "No conductor" in str(document.sections[1].parts)
