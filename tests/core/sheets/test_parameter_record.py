import datetime
from dataclasses import replace

import pytest

from core.line import compute_line
from core.line.findings import find
from core.model import Acceptance
from core.sheets.document import Grid, Heading, KeyValues, Paragraph
from core.sheets.parameter_record import parameter_record
from tests.core.sheets import lines


def _record(line, **how):
    return parameter_record(line, compute_line(line), **how)


def _section(document, title):
    return next(section for section in document.sections if section.title.startswith(title))


def _grid(section, first_heading):
    grids = [part for part in section.parts if isinstance(part, Grid)]
    return next(grid for grid in grids if grid.columns[0].heading == first_heading)


def _entry(section, label):
    rows = [row for part in section.parts if isinstance(part, KeyValues) for row in part.rows]
    return next(row for row in rows if row.label == label)


def test_every_station_has_its_section():
    document = _record(lines.line(2))
    assert [section.title for section in document.sections] == [
        "Overview",
        "B01 Brush bed 1",
        "B02 Brush bed 2",
        "X99 Not looked at yet",
        "All settings",
    ]


def test_chosen_stations_only():
    document = _record(lines.line(3), station_ids=[2])
    assert [section.title for section in document.sections][1:-1] == ["B02 Brush bed 2"]
    with pytest.raises(KeyError):
        _record(lines.line(3), station_ids=[77])


def test_settings_say_value_factory_value_and_difference():
    grid = _grid(_section(_record(lines.line(1)), "B01"), "Code")
    shown = {row[0].text: tuple(cell.text for cell in row[1:]) for row in grid.rows}
    assert shown["hz-max"] == (
        "Maximum frequency",
        "60.0",
        "Hz",
        "50.0",
        "≠ differs",
        "belt runs faster",
    )
    assert shown["ref-range"][1:5] == ("0", "0-10 V", "0", "= same")
    assert shown["ramp-up"][1:5] == ("not entered", "", "10.0", "–")
    assert shown["secret"][1:5] == ("7", "", "", "◇ not listed")


def test_nameplate_shows_power_as_typed_and_what_nobody_entered():
    section = _section(_record(lines.line(1)), "B01")
    assert _entry(section, "Rated power").remark == "typed as 3/4 hp"
    assert _entry(section, "Duty").cell.text == "not entered"
    assert _entry(section, "Serial number").cell.text == "not entered"


def test_every_motor_of_a_station_is_shown():
    line = lines.line(1)
    motor = line.stations[0].motors[0]
    line = lines.with_station(line, motors=(motor, replace(motor, id=9, tag="M9")))
    headings = [
        part.text
        for part in _section(_record(line), "B01").parts
        if isinstance(part, Heading) and part.text.startswith("Nameplate")
    ]
    assert headings == ["Nameplate of motor 1", "Nameplate of motor M9"]
    assert _grid(_record(line).sections[0], "Tag").rows[0][3].with_unit == "2 × 0.5593 kW"


def test_points_of_the_loaded_potentiometer():
    grid = _grid(_section(_record(lines.line(1)), "B01"), "Of travel")
    # Kirchhoff: 10 kΩ track on 10 V, wiper at half loaded with 100 kΩ:
    # 5 kΩ ∥ 100 kΩ = 4.7619 kΩ; 10 V · 4.7619 / 9.7619 = 4.878 V; 60 Hz · 0.4878 = 29.27 Hz
    half = grid.rows[2]
    assert [cell.with_unit for cell in half[:3]] == ["50 %", "4.878 V", "29.27 Hz"]
    assert half[2].number == pytest.approx(29.27)


def test_the_way_of_the_reference_names_source_cable_and_input():
    section = _section(_record(lines.line(1)), "B01")
    assert "3x0.5 screened" in _entry(section, "Cable").cell.text
    assert "X1:2 / X1:3" in _entry(section, "Drive input").cell.text
    assert _entry(section, "Frequency").cell.text.startswith("0 Hz at the bottom")


def test_a_station_hardly_entered_says_what_is_needed():
    section = _section(_record(lines.line(1)), "X99")
    texts = [part.text for part in section.parts if isinstance(part, Paragraph)]
    assert "No motor has been entered." in texts
    assert any(text.startswith("□ ") for text in texts)


def test_the_day_is_printed_only_if_it_is_given():
    line = lines.line(1)
    dated = _record(line, today=datetime.date(2026, 11, 25)).sections[0]
    assert _entry(dated, "Printed on").cell.text == "2026-11-25"
    assert _record(line) == _record(line)
    with pytest.raises(StopIteration):
        _entry(_record(line).sections[0], "Printed on")


def test_an_empty_line_has_a_record_too():
    document = _record(lines.line(0, stations=()))
    assert [section.title for section in document.sections] == ["Overview"]


@pytest.mark.parametrize("source", ["keypad", "preset", "bus", "pid", "voltage", "current", "dac"])
def test_every_source_of_the_reference_can_be_written(source):
    line = lines.line(1)
    reference = replace(line.stations[0].reference, source=source)
    section = _section(_record(lines.with_station(line, reference=reference)), "B01")
    assert _entry(section, "Source").cell.text


def test_a_station_begins_with_its_open_findings():
    line = lines.line(1)
    found = find(compute_line(line))
    section = _section(_record(line), "B01")
    wanted = {(entry.says("metric"), entry.mend("metric")) for entry in found.at(1)}
    place = section.parts.index(Heading("Open findings"))
    assert place <= 2
    grid = section.parts[place + 1]
    assert {(row[1].text, row[2].text) for row in grid.rows} == wanted
    marks = tuple(
        Acceptance(number, entry.mark, entry.key, "B01", "A. N. Other", "known")
        for number, entry in enumerate(found.at(1), start=1)
    )
    section = _section(_record(replace(line, acceptances=marks)), "B01")
    assert Heading("Open findings") not in section.parts


@pytest.mark.parametrize(
    ("typed", "shown"), [("1/3 hp", "1/3 hp"), ("250 W", "0.3333 hp"), ("", "0.3333 hp")]
)
def test_the_stations_are_listed_with_their_power_as_the_plate_says_it(typed, shown):
    line = replace(lines.line(1), unit_system="us")
    motor = replace(line.stations[0].motors[0], power_w=745.69987 / 3, power_typed=typed)
    line = lines.with_station(line, motors=(motor,))
    [grid] = [part for part in _record(line).sections[0].parts if isinstance(part, Grid)]
    power = grid.rows[0][3]
    assert power.with_unit == shown
    assert power.number == pytest.approx(1 / 3, abs=1e-4)
