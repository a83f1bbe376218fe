"""Importing: what is planned, what is refused, and one step that does all or nothing."""

import pytest

from core.errors import ImportRefusedError
from core.exchange import apply_import, plan_import
from core.exchange.reading import BadCell, Table

HP_W = 745.6999  # mechanical horsepower, NIST SP 811, appendix B.8


def table(title, *rows):
    return Table(title, tuple(enumerate(rows, 1)))


def stations(*rows, heads=("Tag", "Name", "Motor: Rated power [kW]")):
    return table("Stations", heads, *rows)


DRIVES = table("Drive types", ("Name", "Rated power"), ("D1", "1 hp"))
LISTED = table(
    "Listed settings",
    ("Drive type", "Code", "Unit", "Minimum", "Maximum", "Choices"),
    ("D1", "F1", "Hz", "0", "120", ""),
    ("D1", "M1", "", "", "", "0 = keypad; 1 = terminals"),
)


def imported(book, *tables):
    plan = plan_import(book.line, tables)
    apply_import(book, plan)
    return plan


def faults(book, *tables):
    before = book.line
    with pytest.raises(ImportRefusedError) as refused:
        plan_import(book.line, tables)
    assert book.line is before
    return refused.value.faults


@pytest.fixture
def book(new_book):
    with new_book() as made:
        yield made


def test_new_stations_come_with_a_motor_each_and_a_flow_in_their_order(book):
    plan = imported(book, stations(("A01", "Dump", "1.5"), ("A02", "Lift", ""), ("A03",)))
    assert plan.summary == (
        "Adds 3 stations, 3 motors and 2 flow links.",
        "adds station A01",
        "adds station A02",
        "adds station A03",
        "adds motor to A01",
        "adds motor to A02",
        "adds motor to A03",
        "adds 2 flow links to the line",
    )
    line = book.line
    assert [entry.tag for entry in line.stations] == ["A01", "A02", "A03"]
    assert [entry.motors[0].power_w for entry in line.stations] == [1500.0, None, None]
    first, second, third = (entry.id for entry in line.stations)
    links = [(f.from_station_id, f.to_station_id) for f in line.flows]
    assert links == [(first, second), (second, third)]


def test_import_is_one_step_that_one_undo_takes_back(book):
    before = book.line
    imported(book, stations(("A01", "Dump", "1.5")), DRIVES, LISTED)
    assert book.undo_name == "Import spreadsheet"
    book.undo()
    assert book.line == before
    assert book.undo_name is None


def test_row_changes_what_it_says_and_leaves_the_rest(book):
    imported(book, stations(("A01", "Dump", "1/2 hp"), heads=("Tag", "Name", "Motor: Rated power")))
    plan = imported(book, stations(("A01", "", "3/4 hp")))
    assert plan.summary == (
        "Changes 1 value.",
        "A01 motor rated power 1/2 hp -> 3/4 hp",
    )
    (station,) = book.line.stations
    assert station.name == "Dump"
    assert station.motors[0].power_w == pytest.approx(0.75 * HP_W)
    assert station.motors[0].power_typed == "3/4 hp"


def test_same_again_changes_nothing(book):
    tables = (DRIVES, LISTED, stations(("A01", "Dump", "1.5")))
    imported(book, *tables)
    assert plan_import(book.line, tables).summary == ("Changes nothing.",)


def test_apostrophe_empties_a_field(book):
    imported(book, stations(("A01", "Dump", "1.5")))
    plan = imported(book, stations(("A01", "'", "'")))
    assert plan.summary[1:] == (
        "A01 name Dump -> (empty)",
        "A01 motor rated power 1.5 kW -> (empty)",
    )
    assert book.line.stations[0].motors[0].power_typed == ""


def test_bare_numbers_are_in_the_unit_of_their_heading_or_else_of_the_line(book):
    units = table("Line", ("Field", "Value"), ("Units", "US customary"))
    heads = ("Tag", "Motor: Rated power [kW]", "Drive: Its rating")
    imported(book, units, stations(("A01", "1.5", "20"), heads=heads))
    imported(book, stations(("A02", "1.5"), heads=("Tag", "Motor: Rated power")))
    powers = [station.motors[0].power_w for station in book.line.stations]
    assert powers == [1500.0, pytest.approx(1.5 * HP_W)]
    assert book.line.stations[0].drive.protection_a == 20.0


def test_every_fault_is_told_at_once_with_row_and_column(book):
    heads = ("Tag", "Nmae", "Motor: Rated power", "Drive: Supply", "Motor: Efficiency", "Kind")
    told = faults(
        book,
        stations(
            ("A01", "x", "5 kg", "shed", "120 %", "Pumpe"),
            ("A01", "", "", "", "", ""),
            ("", "", "1 kW", "", "", "", "stray"),
            heads=heads,
        ),
        table("Statoins", ("Tag",)),
        table("Settings", ("Station", "Code", "Value"), ("A09", "F1", "1"), ("A01", "F2", "")),
    )
    assert told == [
        "Stations, row 1, column Nmae: there is no column of this name. Is 'Name' meant?",
        "Stations, row 4, cell 7: there is no heading above it.",
        "Statoins: there is no sheet of this name. Is 'Stations' meant?",
        told[3],
        "Stations, row 2, column Motor: Rated power: '5 kg' is a mass. "
        "Type a power such as 0.75 kW or 3/4 hp.",
        "Stations, row 2, column Motor: Efficiency: Found 120 %. "
        "It has to be more than 0 % and 100 % at the most.",
        "Stations, row 2, column Drive: Supply: there is no supply 'shed'.",
        "Stations, row 3, column Tag: 'A01' stands in row 2 already.",
        "Stations, row 4, column Tag: every station needs its own.",
        "Settings, row 2, column Station: there is no station 'A09'. Is 'A01' meant?",
        "Settings, row 3, column Value: a new drive setting needs it.",
    ]
    assert told[3].startswith("Stations, row 2, column Kind: Found 'Pumpe'. Choose one of: Pump,")


def test_cells_that_the_spreadsheet_spoiled_are_told_with_the_reason(book):
    import datetime

    day = datetime.date(2026, 2, 1)
    told = faults(book, stations(("A01", BadCell("why."), day)))
    assert told == [
        "Stations, row 2, column Name: why.",
        "Stations, row 2, column Motor: Rated power: the spreadsheet has made a date or time of it "
        "(2026-02-01). Format the cell as text and type the value again.",
    ]
    due = table("Instruments", ("Name", "Calibration due"), ("Meter", day))
    imported(book, due)
    assert book.line.instruments[0].calibration_due == "2026-02-01"


def test_headings_that_stand_twice_or_sheets_that_do_are_refused(book):
    told = faults(book, stations(heads=("Tag", "tag [x]")), stations(("A01",)))
    assert told == [
        "Stations, row 1, column tag [x]: this column is there twice.",
        "Stations: this sheet is there twice.",
    ]


def test_nothing_to_import_is_told(book):
    assert faults(book, stations()) == ["There is no row to import in any sheet."]


def test_line_sheet_is_read_field_by_field(book):
    imported(
        book,
        table(
            "Line",
            ("Field", "Value", "What it is"),
            ("Line", "Shed 3"),
            ("Altitude [m]", "110"),
            ("Lanes", ""),
        ),
    )
    assert (book.line.name, book.line.lanes) == ("Shed 3", None)
    assert book.line.altitude_m == pytest.approx(110.0)
    wrong = table("Line", ("Field", "Value"), ("Lnaes", "4"), ("Lanes", "many"))
    assert faults(book, wrong) == [
        "Line, row 2: no field 'Lnaes'. Is 'Lanes' meant?",
        "Line, row 3, column Lanes: 'many' does not begin with a number. "
        "Type a number such as 4.7 or 3/4.",
    ]


def test_lone_list_of_stations_is_known_by_its_headings(book):
    imported(book, table("motor list 2026", ("TAG", "name"), ("A01", "Dump")))
    assert book.line.stations[0].name == "Dump"


def test_example_rows_are_passed_over_and_told(book):
    plan = imported(book, stations(("Example: A00", "", "5 kg"), ("A01",)))
    assert plan.summary[-1] == "passes over 1 example row"
    assert [entry.tag for entry in book.line.stations] == ["A01"]


def test_references_are_names_of_records_in_the_file_or_in_the_sheets(book):
    imported(book, DRIVES)
    heads = ("Tag", "Drive: Drive type", "Drive: Supply")
    supplies = table("Supplies", ("Name", "Frequency"), ("shed", "50"))
    imported(book, supplies, stations(("A01", "d1", "shed"), heads=heads))
    drive = book.line.stations[0].drive
    assert drive.drive_type_id == book.line.drive_types[0].id
    assert drive.supply_id == book.line.supplies[0].id


def test_settings_are_read_by_the_list_of_the_drive_type_in_the_same_import(book):
    assigned = stations(("A01", "D1"), heads=("Tag", "Drive: Drive type"))
    heads = ("Station", "Code", "Value", "Why")
    good = table("Settings", heads, ("A01", "F1", "52,5", "tuned"), ("A01", "M1", "Terminals"))
    imported(book, DRIVES, LISTED, assigned, good)
    settings = book.line.stations[0].drive.settings
    assert [(s.code, s.shown, s.value) for s in settings] == [
        ("F1", "52,5", 52.5),
        ("M1", "1", 1.0),
    ]
    told = faults(book, table("Settings", heads, ("A01", "F1", "130"), ("A01", "M1", "2")))
    assert told == [
        "Settings, row 2, column Value: '130' is above the listed 120 Hz. "
        "Type a value inside, or mend the drive type's list if the list is wrong.",
        "Settings, row 3, column Value: '2' is none of its choices. Use 0 (keypad), 1 (terminals).",
    ]


def test_setting_outside_of_the_list_is_taken_and_noted(book):
    assigned = stations(("A01", "D1"), heads=("Tag", "Drive: Drive type"))
    settings = table("Settings", ("Station", "Code", "Value"), ("A01", "F9", "x"))
    plan = imported(book, DRIVES, LISTED, assigned, settings)
    assert plan.summary[-1] == (
        "note: Settings, row 2: F9 is not in the list of D1; its value is taken as it stands"
    )
    assert book.line.stations[0].drive.settings[0].shown == "x"


def test_more_motors_stand_behind_the_first_and_are_met_by_their_tag(book):
    more = table("More motors", ("Station", "Motor tag", "Rated power"), ("A01", "M2", "1"))
    imported(book, stations(("A01", "", "2")), more)
    again = table("More motors", ("Station", "Motor tag", "Rated power"), ("A01", "M2", "3"))
    plan = imported(book, again)
    assert [motor.power_w for motor in book.line.stations[0].motors] == [2000.0, 3000.0]
    assert plan.summary[1:] == ("A01 motor M2 rated power 1 kW -> 3 kW",)


def test_instruments_of_one_name_are_told_apart_by_their_numbers(book):
    heads = ("Name", "Serial number", "Notes")
    imported(book, table("Instruments", heads, ("Meter", "1", ""), ("Meter", "2", "")))
    imported(book, table("Instruments", heads, ("Meter", "2", "b"), ("Meter", "3", "c")))
    found = [(entry.serial, entry.notes) for entry in book.line.instruments]
    assert found == [("1", ""), ("2", "b"), ("3", "c")]


def test_tag_in_other_case_is_the_same_station(book):
    imported(book, stations(("A01", "Dump", "")))
    imported(book, stations(("a01", "Tank", "")))
    assert [(entry.tag, entry.name) for entry in book.line.stations] == [("A01", "Tank")]


def test_flow_sheet_takes_the_place_of_the_order(book):
    flow = table("Flow", ("From", "To", "Kind"), ("A02", "A01"), ("A01", "A02", "Returns empty"))
    imported(book, stations(("A01",), ("A02",)), flow)
    tags = {entry.id: entry.tag for entry in book.line.stations}
    links = [(tags[f.from_station_id], tags[f.to_station_id], f.kind) for f in book.line.flows]
    assert links == [("A02", "A01", "forward"), ("A01", "A02", "return")]
    loop = table("Flow", ("From", "To"), ("A01", "A01"))
    assert faults(book, loop) == ["Flow, row 2: a station cannot feed itself."]


def test_new_station_behind_old_ones_is_fed_by_the_last(book):
    imported(book, stations(("A01",)))
    imported(book, stations(("A02",)))
    (flow,) = book.line.flows
    assert (flow.from_station_id, flow.to_station_id) == tuple(s.id for s in book.line.stations)


def test_plan_for_a_line_that_was_changed_since_is_refused(book):
    plan = plan_import(book.line, [stations(("A01",))])
    with book.step("Name") as step:
        step.set("line", book.line.id, name="Other")
    with pytest.raises(ImportRefusedError, match="changed since"):
        apply_import(book, plan)
    assert book.line.stations == ()


def test_choices_that_are_no_list_of_choices_are_a_bad_cell(book):
    imported(book, DRIVES)
    heads = ("Drive type", "Code", "Choices")
    found = faults(book, table("Listed settings", heads, ("D1", "M1", "0 keypad; 1 terminals")))
    assert len(found) == 1
    assert found[0].startswith("Listed settings, row 2, column Choices:")
    assert "'0 keypad', which has no =" in found[0]
    assert "0 = keypad; 1 = analogue input" in found[0]


def test_choices_as_an_older_file_holds_them_may_come_back_as_they_are(book):
    imported(book, DRIVES, LISTED)
    held = book.line.drive_types[0].listed_settings[1]
    with book.step("As older versions took it") as step:
        step.set("listed_setting", held.id, options="0 keypad; 1 terminals")
    heads = ("Drive type", "Code", "Meaning", "Choices")
    row = ("D1", "M1", "Source", "0 keypad; 1 terminals")
    imported(book, table("Listed settings", heads, row))
    again = book.line.drive_types[0].listed_settings[1]
    assert (again.meaning, again.options) == ("Source", "0 keypad; 1 terminals")
