"""Labels lie where the label sheet has them, hold every wire and station, and are never cut off."""

import doctest
import io
from dataclasses import replace
from importlib.resources import files

import openpyxl
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import LinebookError
from core.line import compute_line, wire_line
from core.sheets import label_sheet
from core.sheets.document import KeyValues, Labels
from core.sheets.drawn_text import words_box
from core.sheets.label_sheet import LARGE, PAPERS, SAFE, SMALL, Label, fitted, label_pages
from core.sheets.labels import labels, starting_at
from core.sheets.pdf import pdf_bytes
from core.sheets.xlsx import xlsx_bytes
from core.store import LineFile
from tests.core.sheets import lines

MM = 72 / 25.4
GRIDS = [*SMALL.values(), *LARGE.values()]


def made(line, **how):
    return labels(line, compute_line(line), **how)


def parts(document):
    found = [part for section in document.sections for part in section.parts]
    return {part.kind: part for part in found if isinstance(part, Labels)}


def pages(document):
    return pypdf.PdfReader(io.BytesIO(pdf_bytes(document))).pages


# --- where they lie -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("grid", "first", "last"),
    [
        # By hand, from the size of the paper. A4: 3 x 70 = 210, (297 - 8 x 37) / 2 = 0.5 mm.
        (LARGE["a4"], (0.0, 0.5 * MM), (140 * MM, 259.5 * MM)),
        # (210 - 5 x 38.1 - 4 x 2.5) / 2 = 4.75, (297 - 13 x 21.2) / 2 = 10.7;
        # 4.75 + 4 x 40.6 = 167.15, 10.7 + 12 x 21.2 = 265.1 mm.
        (SMALL["a4"], (4.75 * MM, 10.7 * MM), (167.15 * MM, 265.1 * MM)),
        # (8.5 - 3 x 2 5/8 - 2 x 1/8) / 2 = 3/16, (11 - 10) / 2 = 1/2; 3/16 + 2 x 2 3/4, 1/2 + 9 in
        (LARGE["letter"], (13.5, 36.0), (409.5, 684.0)),
        # (8.5 - 4 x 1.75 - 3 x 0.3) / 2 = 0.3, (11 - 20 / 2) / 2 = 0.5; 0.3 + 3 x 2.05, 0.5 + 9.5
        (SMALL["letter"], (21.6, 36.0), (464.4, 720.0)),
    ],
)
def test_labels_lie_in_the_middle_of_their_paper(grid, first, last):
    assert grid.corner(0) == pytest.approx(first)
    assert grid.corner(grid.count - 1) == pytest.approx(last)


@pytest.mark.parametrize("grid", GRIDS)
def test_no_label_is_printed_at_the_edge_of_its_paper_or_on_another(grid):
    wide, high = PAPERS[grid.paper]
    rooms = [grid.room(place) for place in range(grid.count)]
    for place, (left, top, right, bottom) in enumerate(rooms):
        assert SAFE - 1e-9 <= left < right <= wide - SAFE + 1e-9
        assert SAFE - 1e-9 <= top < bottom <= high - SAFE + 1e-9
        corner = grid.corner(place)
        assert corner[0] < left
        assert right < corner[0] + grid.width
        assert corner[1] < top
        assert bottom < corner[1] + grid.height


@pytest.mark.parametrize("grid", GRIDS)
def test_the_first_label_may_be_a_later_one(grid):
    two = [Label(("A",)), Label(("B",))]
    sheets = label_pages(grid, two, first=grid.count)
    [first], [second] = (sheet.items for sheet in sheets)
    assert (first.text, second.text) == ("A", "B")
    for words, place in ((first, grid.count - 1), (second, 0)):
        box, room = words_box(words), grid.room(place)
        assert room[0] <= box[0] < box[2] <= room[2]
        assert room[1] <= box[1] < box[3] <= room[3]


# --- what fits ------------------------------------------------------------------------------

_LINES = st.lists(st.text("abW M01-漢", min_size=1, max_size=80), min_size=1, max_size=5)


@settings(max_examples=80, deadline=None)
@given(_LINES, st.sampled_from(GRIDS))
def test_no_text_is_cut_off_however_long_it_is(texts, grid):
    place = grid.count - 1
    left, top, right, bottom = grid.room(place)
    words = fitted(Label(tuple(texts)), grid.room(place), 13.0)
    boxes = [words_box(each) for each in words]
    for at, box in enumerate(boxes):
        assert left - 0.01 <= box[0] <= box[2] <= right + 0.01
        assert top - 0.01 <= box[1] <= box[3] <= bottom + 0.01
        assert all(box[3] <= other[1] + 0.01 for other in boxes[at + 1 :])
    assert "".join("".join(w.text for w in words).split()) == "".join("".join(texts).split())


def test_a_wire_number_is_set_smaller_rather_than_broken():
    number = "QUITE-LONG-STATION-R12"
    words = fitted(Label((number, "LC1 AO1:+")), SMALL["a4"].room(0), 20.0)
    assert [each.text for each in words] == [number, "LC1 AO1:+"]
    assert words[0].size < 20.0


# --- what they say --------------------------------------------------------------------------


@pytest.fixture(scope="module", params=("quillback_hollow", "lindenmoor"))
def sample(request):
    return LineFile.read(files("sample_projects").joinpath(f"{request.param}.linebook"))


def test_each_wire_has_a_label_for_each_end(sample):
    wires = wire_line(sample).conductors
    part = parts(made(sample))["wire_labels"]
    assert [label.lines[0] for label in part.labels] == [
        wire.number for wire in wires for _ in range(2)
    ]
    assert [label.lines[1] for label in part.labels] == [
        f"{end.device} {end.terminal}" for wire in wires for end in (wire.start, wire.end)
    ]
    assert part.grid == SMALL[sample.paper]


def test_each_station_and_each_knob_has_a_label(sample):
    part = parts(made(sample))["station_labels"]
    firsts = [label.lines[0] for label in part.labels]
    knobs = [s.reference.device for s in sample.stations if s.reference.source == "potentiometer"]
    assert [line for line in firsts if line.startswith("Knob")] == [f"Knob {k}" for k in knobs]
    tags = [line for line in firsts if not line.startswith("Knob")]
    assert tags == [station.tag for station in sample.stations]
    first = sample.stations[0]
    drive = sample.drive_type(first.drive.drive_type_id)
    assert part.labels[0].lines[:3] == (first.tag, first.name, drive.name)
    assert part.grid == LARGE[sample.paper]


def test_chosen_stations_only():
    document = made(lines.line(3), station_ids=[2])
    held = parts(document)
    assert {label.lines[0][:3] for label in held["wire_labels"].labels} == {"B02"}
    assert [label.lines[0] for label in held["station_labels"].labels] == ["B02", "Knob RP2"]
    assert {"wire_labels", "station_labels"} & set(parts(made(lines.line(0, stations=())))) == set()


def test_the_first_page_tells_how_many_sheets_are_needed():
    document = made(lines.line(3))
    rows = [
        row
        for part in document.sections[0].parts
        if isinstance(part, KeyValues)
        for row in part.rows
    ]
    told = [row.cell.text for row in rows if row.label in ("Label sheet", "Sheets needed")]
    # By hand, for each of 3 stations: power L, N, PE; motor 4; reference 3; controls 2 and 24 V;
    # output 2; bus 3; so 18 wires, 36 labels, 108 in all on sheets of 65. Stations 4 and knobs 3.
    assert told == [
        "5 × 13 of 38.1 mm × 21.2 mm, on A4", "2", "3 × 8 of 70 mm × 37 mm, on A4", "1",
    ]  # fmt: skip
    assert len(parts(document)["wire_labels"].labels) == 108


# --- on paper and in a spreadsheet ----------------------------------------------------------


@pytest.mark.parametrize(("paper", "count"), [("a4", 65), ("letter", 80)])
def test_label_pages_have_neither_head_nor_foot(paper, count):
    document = made(lines.line(3, paper=paper))
    front, *sheets = pages(document)
    assert "Page 1 of 4" in front.extract_text()
    assert len(sheets) == 3
    for sheet in sheets:
        text = sheet.extract_text()
        assert "Page" not in text
        assert "Linebook" not in text
        assert "Test line" not in text
    wires = parts(document)["wire_labels"].labels
    numbers = [label.lines[0] for label in wires]
    assert [w for w in sheets[0].extract_text().split() if w in numbers] == numbers[:count]


def test_labels_stand_on_paper_where_the_grid_has_them():
    document = starting_at(made(lines.line(3)), wires=7)
    found = []

    def visit(text, _cm, tm, _font, size):
        if text.strip() == "B01-P1":
            found.append((tm, _cm))

    pages(document)[1].extract_text(visitor_text=visit)
    # Label 7 is the second of the second row: 4.75 + 40.6 = 45.35 mm to 83.45 mm from the left,
    # 10.7 + 21.2 = 31.9 mm to 53.1 mm from the top of 297 mm.
    assert found
    x, y = found[0][1][4], found[0][1][5]
    assert 45.35 * MM < x < 83.45 * MM
    assert (297 - 53.1) * MM < y < (297 - 31.9) * MM


def test_outline_leads_to_the_labels():
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(made(lines.line(1)))))
    tops = {entry.title: reader.get_destination_page_number(entry) for entry in reader.outline}
    assert tops == {"Overview": 0, "Wire labels": 1, "Station labels": 2}


def test_the_spreadsheet_lists_the_same_labels():
    document = made(lines.line(2))
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(document)))
    for kind, title in (("wire_labels", "Wire labels"), ("station_labels", "Station labels")):
        rows = [[v for v in row if v] for row in book[title].iter_rows(min_row=2, values_only=True)]
        assert rows == [list(label.lines) for label in parts(document)[kind].labels]


def test_signs_that_paper_lacks_are_told_on_a_page_of_their_own():
    document = made(lines.with_station(lines.line(1), name="電動機"))
    assert "stands for a character" in pages(document)[-1].extract_text()


@pytest.mark.parametrize("places", [{"wires": 0}, {"wires": 66}, {"stations": 25}])
def test_a_place_that_the_sheet_has_not_is_refused(places):
    with pytest.raises(LinebookError, match="The labels do not begin"):
        starting_at(made(lines.line(1)), **places)


def test_other_sheets_are_left_as_they_are():
    document = replace(made(lines.line(1)), sections=made(lines.line(1)).sections[:1])
    assert starting_at(document, wires=999) == document


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(label_sheet).failed == 0
