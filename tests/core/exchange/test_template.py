"""The template: it opens as a spreadsheet, explains itself, and its examples can be imported."""

import openpyxl
import pytest

from core.exchange import apply_import, plan_import, read_tables, write_template
from core.exchange.layout import README_TITLE, SHEETS, sheet_of
from core.exchange.reading import Table
from core.exchange.template import EXAMPLES, example_row, explained, readme_lines
from core.exchange.workbook import page_headings

SYSTEMS = ["metric", "us"]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", ["template.xlsx", "template"])
def test_unfilled_template_changes_nothing(new_book, tmp_path, system, name):
    written = write_template(tmp_path / name, system)
    assert all(path.is_file() for path in written)
    with new_book() as book:
        with book.step("units") as step:
            step.set("line", book.line.id, unit_system=system)
        plan = plan_import(book.line, read_tables(tmp_path / name))
    assert plan.changes == ()
    assert plan.examples == len(EXAMPLES)


@pytest.mark.parametrize("system", SYSTEMS)
def test_examples_are_themselves_a_line_that_can_be_imported(new_book, system):
    tables = []
    for sheet in SHEETS:
        if not sheet.down:
            first, *rest = example_row(sheet, system)
            rows = ((1, page_headings(sheet, system)), (2, (first.split(": ")[1], *rest)))
            tables.append(Table(sheet.title, rows))
    flow = tables.pop()
    tag = next(table for table in tables if table.title == "Stations")
    tags = ((3, ("ST02",)),)
    tables[tables.index(tag)] = Table(tag.title, tag.rows + tags)
    with new_book() as book:
        apply_import(book, plan_import(book.line, [*tables, flow]))
        line = book.line
    station = line.stations[0]
    drive_type = line.drive_type(station.drive.drive_type_id)
    assert drive_type is not None
    assert len(station.motors) == 2
    assert drive_type.listed(station.drive.settings[0].code) is not None
    assert drive_type.reference_input(station.reference.input_name) is not None
    assert station.digital_inputs[0].terminal == drive_type.terminals[0].designation
    assert [(f.from_station_id, f.to_station_id) for f in line.flows] == [
        (line.stations[0].id, line.stations[1].id)
    ]


def test_workbook_offers_lists_keeps_texts_and_freezes_headings(tmp_path):
    (path,) = write_template(tmp_path / "t.xlsx", "us")
    book = openpyxl.load_workbook(path)
    assert book.sheetnames[0] == README_TITLE
    stations = book["Stations"]
    assert stations.freeze_panes == "B2"
    assert stations["A2"].value == "example: ST01"
    rated = next(cell for cell in stations[1] if cell.value == "Motor: Rated power [hp]")
    assert stations.cell(2, rated.column).value == "3/4 hp"
    assert stations.column_dimensions[rated.column_letter].number_format == "@"
    rules = {str(rule.sqref): rule.formula1 for rule in stations.data_validations.dataValidation}
    kind = next(cell for cell in stations[1] if cell.value == "Kind").column_letter
    source = rules[f"{kind}2:{kind}20001"]
    title, _, area = source.partition("!")
    words = [row[0].value for row in book[title][area.replace("$", "")]]
    assert words[0] == "Pump"
    assert words[-1] == "Other"
    drive = next(cell for cell in stations[1] if cell.value == "Drive: Drive type").column_letter
    assert rules[f"{drive}2:{drive}20001"] == "'Drive types'!$A$2:$A$20001"


def test_readme_explains_every_column_of_every_sheet():
    lines = readme_lines("metric")
    for sheet in SHEETS:
        start = lines.index(sheet.title)
        for column, line in zip(sheet.columns, lines[start + 1 :], strict=False):
            assert line.strip() == f"{column.label}: {explained(column, 'metric')}"


@pytest.mark.parametrize(
    ("table", "label", "told"),
    [
        ("station", "Motor: Rated power", "A power such as 0.75 kW or 3/4 hp; a bare number is"),
        ("station", "Drive: Enclosure", "A name from the sheet Enclosures."),
        ("station", "Wanted frequency", "Only where Wanted is Frequency."),
        ("station", "Process: Lanes", "Only where Kind is Cup conveyor."),
        ("terminal", "Drive type", "the name of one in the sheet Drive types"),
        ("bus", "Terminated at the controller", "Yes or no."),
    ],
)
def test_column_is_explained_in_plain_words(table, label, told):
    column = next(c for c in sheet_of(table).columns if c.label == label)
    assert told in explained(column, "metric")
