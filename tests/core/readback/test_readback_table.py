"""Present settings from spreadsheets: as people make them, and every cell that cannot be taken."""

import datetime

import pytest
from openpyxl import Workbook

from core.errors import ImportRefusedError, LinebookError
from core.model import DriveType, Line, ListedSetting, Station
from core.model.station import Drive
from core.readback import read_table
from core.readback.results import NOT_LISTED, wanted_of
from core.readback.table import BLANK, NOT_IN_TABLE
from tests.core.readback.lines import line_of, station

LINE = line_of(station(1), station(2, ("own", "3")))


@pytest.fixture
def csv_file(tmp_path):
    def write(text, name="found.csv", encoding="utf-8"):
        path = tmp_path / name
        path.write_bytes(text.encode(encoding))
        return path

    return write


@pytest.fixture
def workbook(tmp_path):
    def write(**sheets):
        book = Workbook()
        book.remove(book.active)
        for title, rows in sheets.items():
            sheet = book.create_sheet(title)
            for row in rows:
                sheet.append(row)
        path = tmp_path / "found.xlsx"
        book.save(path)
        return path

    return write


def told(result, *keys):
    entries = [result.settings.entry(*key) for key in keys]
    return [(entry.state, entry.shown) for entry in entries]


def test_what_the_table_has_is_read_and_the_rest_is_not_read(csv_file):
    path = csv_file("Station,Code,Value\nS01,top,60.0\nS01,source,1\nS02,slow-up,2.5\n")
    result = read_table(LINE, path)
    assert result.faults == ()
    assert [entry.key for entry in result.settings.entries] == [w.key for w in wanted_of(LINE)]
    assert told(result, (1, "top"), (1, "source"), (2, "slow-up")) == [
        ("read", "60.0"), ("read", "1"), ("read", "2.5")
    ]  # fmt: skip
    assert result.settings.counts == {"read": 3, "not_read": 16}
    assert result.settings.entry(2, "top").reason == NOT_IN_TABLE


@pytest.mark.parametrize(
    "text",
    [
        "Value;Remark;CODE;Station tag\n60,0 Hz;seen;top;S01\n",
        "sep=;\nvalue;x;code;tag\n60,0;;TOP;s01\n",
        "tag\tsetting\tas found\n\nS01\ttop\t60 Hz\n\n",
        "\ufeffEstación;Código;Valor\nS01;top;60,0\n",
        "parameter , present value , station \n top , 60 , S01 \n",
        "Settings of the visit,,\n2026-11-25,,\nstation,code,found\nS01,top,60\n",
        "Code,Value,Unit,Station\ntop,60,Hz,S01\ntop,0.06,kHz,S01\n",
        "Code,Value [kHz],Station\ntop,0.06,S01\n",
    ],
)
def test_order_headings_commas_units_and_spare_rows_do_not_matter(csv_file, text):
    result = read_table(LINE, csv_file(text))
    assert result.faults == ()
    entry = result.settings.entry(1, "top")
    assert (entry.state, entry.value) == ("read", 60.0)
    assert result.settings.counts["read"] == 1


def test_a_tag_may_stand_above_its_settings_only(csv_file):
    path = csv_file("station,code,value\nS01,top,60\n,slow-up,3\nS02,top,50\n,own,x\n")
    result = read_table(LINE, path)
    assert told(result, (1, "slow-up"), (2, "top"), (2, "own")) == [
        ("read", "3"), ("read", "50"), ("read", "x")
    ]  # fmt: skip


def test_sheets_named_after_stations_need_no_column_for_them(workbook):
    path = workbook(
        S01=[["Code", "Value"], ["top", 60], ["turns", "forward"]],
        S02=[["Code", "Value"], ["top", 47.5]],
    )
    result = read_table(LINE, path)
    assert told(result, (1, "top"), (1, "turns"), (2, "top")) == [
        ("read", "60"), ("read", "1"), ("read", "47.5")
    ]  # fmt: skip
    assert result.faults == ()


def test_a_folder_of_files_named_after_stations(tmp_path, csv_file):
    csv_file("code,value\ntop,60\n", "S01.csv")
    csv_file("code;value\ntop;47,5\n", "S02.csv")
    result = read_table(LINE, tmp_path)
    assert told(result, (1, "top"), (2, "top")) == [("read", "60"), ("read", "47.5")]


def test_every_cell_that_is_not_taken_is_named_by_row_and_column_and_the_rest_is_taken(csv_file):
    path = csv_file(
        "Station,Code,Value\n"
        "S01,top,500\n"
        "S01,source,9\n"
        "S01,slow-up,fast\n"
        "S09,top,50\n"
        "S01,tpo,50\n"
        "S01,,50\n"
        ",,\n"
        "S02,trim,3 Hz\n"
        "S02,top,50\n"
        "S02,gain,\n"
    )
    result = read_table(LINE, path)
    assert [fault.split(":")[0] for fault in result.faults] == [
        "found, row 2, column Value",
        "found, row 3, column Value",
        "found, row 4, column Value",
        "found, row 5, column Station",
        "found, row 6, column Code",
        "found, row 7, column Code",
        "found, row 9, column Value",
    ]
    whole = " ".join(result.faults)
    for words in ("above the listed 400 Hz", "none of its choices", "'S09'", "Is 'top' meant?"):
        assert words in whole
    assert told(result, (1, "top"), (1, "source"), (1, "slow-up"), (2, "trim"), (2, "top")) == [
        ("refused", "500"), ("refused", "9"), ("refused", "fast"), ("refused", "3 Hz"),
        ("read", "50"),
    ]  # fmt: skip
    assert result.settings.entry(1, "top").reason == result.faults[0]
    assert result.settings.entry(2, "gain").reason == BLANK


def test_what_a_spreadsheet_made_of_a_value_is_undone_or_told(workbook):
    path = workbook(
        found=[
            ["station", "code", "value"],
            ["S01", "top", 60.0],
            ["S01", "turns", True],
            ["S01", "slow-up", datetime.date(2026, 2, 1)],
            ["S02", "top", "=1/0"],
        ]
    )
    result = read_table(LINE, path)
    assert told(result, (1, "top"), (1, "slow-up"), (2, "top")) == [
        ("read", "60"), ("refused", ""), ("refused", "")
    ]  # fmt: skip
    assert result.settings.entry(1, "turns").state == "refused"  # yes is none of its choices
    assert "date or time" in result.settings.entry(1, "slow-up").reason
    assert len(result.faults) == 3


def test_a_share_formatted_as_per_cent_means_what_the_cell_shows(tmp_path):
    book = Workbook()
    for row in (["station", "code", "value"], ["S01", "trim", 0.125]):
        book.active.append(row)
    book.active["C2"].number_format = "0.0%"
    book.save(tmp_path / "found.xlsx")
    entry = read_table(LINE, tmp_path / "found.xlsx").settings.entry(1, "trim")
    assert (entry.state, entry.value) == ("read", 0.125)


def test_a_setting_that_stands_twice_counts_where_both_say_the_same(csv_file):
    path = csv_file(
        "station,code,value\nS01,top,60\nS01,top,60.0 Hz\nS02,top,50\nS02,top,55\n"
        "S01,gain,\nS01,gain,3\nS02,gain,4\nS02,gain,\n"
    )
    result = read_table(LINE, path)
    assert told(result, (1, "top"), (1, "gain"), (2, "gain")) == [
        ("read", "60"), ("read", "3"), ("read", "4")
    ]  # fmt: skip
    twice = result.settings.entry(2, "top")
    assert (twice.state, twice.shown, twice.value) == ("refused", "55", None)
    assert result.faults == (
        "found, row 5, column value: '55', but '50' in found, row 4.",
    )  # fmt: skip


def numbered(*codes):
    listed = tuple(
        ListedSetting(place, code, unit="Hz", maximum="400") for place, code in enumerate(codes, 1)
    )
    kind = DriveType(1, "numbered", listed_settings=listed)
    return Line(drive_types=(kind,), stations=(Station(1, "7", drive=Drive(drive_type_id=1)),))


@pytest.mark.parametrize(
    ("codes", "rows", "read"),
    [
        (("01", "02"), [(7, 1, 50), (7, 2, 60)], {"01": "50", "02": "60"}),
        (("1.10", "1.20"), [(7, 1.1, 50), (7, 1.2, 60)], {"1.10": "50", "1.20": "60"}),
        # The list has both; the file tells them apart only as long as both stand there.
        (("1.1", "1.10"), [("7", "1.1", 50), ("7", "1.10", 60)], {"1.1": "50", "1.10": "60"}),
        (("1.1", "1.10"), [("7", "1.10", 60)], {"1.10": "60"}),
        (("1.1", "1.10"), [(7, 1.1, 50)], {}),
        (("1.1", "1.10"), [(7, 1.1, 50), (7, 1.1, 60)], {}),
    ],
)
def test_codes_that_a_spreadsheet_takes_for_numbers(workbook, codes, rows, read):
    path = workbook(found=[["station", "code", "value"], *rows])
    result = read_table(numbered(*codes), path)
    got = {entry.code: entry.shown for entry in result.settings.entries if entry.state == "read"}
    assert got == read
    assert len(result.faults) == (0 if read else len(rows))
    assert all("can be 1.1 or 1.10" in fault for fault in result.faults)


def test_a_unit_column_says_nothing_where_the_list_has_no_unit_or_choices(csv_file):
    path = csv_file("station,code,value,unit\nS01,source,1,-\nS01,gain,3,x\nS01,top,60,-\n")
    result = read_table(LINE, path)
    assert result.faults == ()
    assert result.settings.counts["read"] == 3


def test_a_unit_that_does_not_go_with_the_setting_is_refused(csv_file):
    result = read_table(LINE, csv_file("station,code,value,unit\nS01,top,60,s\n"))
    assert told(result, (1, "top")) == [("refused", "60 s")]


def test_a_code_outside_of_the_list_is_read_where_a_value_was_entered_for_it(csv_file):
    result = read_table(LINE, csv_file("station,code,value\nS01,own,3\nS02,own,3\n"))
    assert told(result, (2, "own")) == [("read", "3")]
    assert "no code 'own'" in result.faults[0]
    assert result.settings.entry(1, "top").reason != NOT_LISTED


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("station,value\nS01,5\n", "no sheet|No sheet"),
        ("hello\n", "No sheet"),
        ("code,value,found\ntop,5,6\n", "'value' and 'found' can mean the same"),
        ("", "No sheet"),
    ],
)
def test_a_table_without_the_columns_is_refused(csv_file, text, why):
    with pytest.raises(ImportRefusedError, match=why):
        read_table(LINE, csv_file(text))


def test_a_sheet_without_the_columns_is_told_beside_one_that_has_them(workbook):
    path = workbook(notes=[["Bring a ladder"]], S01=[["code", "value"], ["top", 60]])
    result = read_table(LINE, path)
    assert told(result, (1, "top")) == [("read", "60")]
    assert result.faults == ("notes: no row has the headings of a code and a value.",)


def test_no_file_is_told(tmp_path):
    with pytest.raises(LinebookError, match=r"none\.csv was not read"):
        read_table(LINE, tmp_path / "none.csv")


def test_a_large_table_is_read_in_good_time(csv_file):
    line = line_of(*(station(number) for number in range(1, 41)))
    rows = [f"S{n:02d},{code},1" for n in range(1, 41) for code in ("top", "gain", "source")]
    result = read_table(line, csv_file("station,code,value\n" + "\n".join(rows * 40)))
    assert result.faults == ()
    assert result.settings.counts["read"] == 120
