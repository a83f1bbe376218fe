"""Where the cells of a pasted table go."""

import pytest

from app.grid_columns import FieldColumn
from app.grid_paste import has_headings, place_block, place_by_headings
from core.errors import InputError
from core.model import RECORDS, Line

COLUMNS = [
    FieldColumn("motor", "", RECORDS["motor"].field(name))
    for name in ("tag", "power_w", "speed_rad_s")
]
LINE = Line(unit_system="us")
ONE, TABLE = [["x"]], [["a", "b"], ["c", "d"]]


def test_a_table_goes_to_the_right_and_down_from_its_corner():
    placed = place_block(TABLE, (1, 1), (1, 1), (4, 3))
    assert placed == {(1, 1): (0, 0), (1, 2): (0, 1), (2, 1): (1, 0), (2, 2): (1, 1)}


def test_a_table_is_repeated_over_a_selection_that_it_divides():
    assert set(place_block(ONE, (0, 0), (2, 3), (4, 3)).values()) == {(0, 0)}
    assert len(place_block(TABLE, (0, 0), (4, 2), (4, 3))) == 8
    assert len(place_block(TABLE, (0, 0), (3, 2), (4, 3))) == 4


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ((3, 0), "1 row beyond"),
        ((0, 2), "1 column beyond"),
        ((4, 3), "2 rows and 2 columns beyond"),
    ],
)
def test_a_table_that_does_not_fit_is_refused(at, told):
    with pytest.raises(InputError, match=told):
        place_block(TABLE, at, (1, 1), (4, 3))


def test_a_grid_that_grows_takes_any_number_of_rows():
    assert (5, 0) in place_block(TABLE, (4, 0), (1, 1), (None, 3))


def test_headings_are_known_with_and_without_their_unit():
    cells = [["Rated power", "motor tag", "Rated speed [rpm]"], ["1", "M1", "1740"]]
    assert has_headings(cells, "Motor tag")
    placed, faults = place_by_headings(cells, LINE, COLUMNS, "Motor tag", ["M0", "M1"], grows=False)
    assert faults == []
    assert placed == {(1, 1): (1, 0), (1, 0): (1, 1), (1, 2): (1, 2)}


def test_unknown_headings_and_rows_are_told():
    cells = [["Motor tag", "Colour"], ["M7", "red"]]
    _, faults = place_by_headings(cells, LINE, COLUMNS, "Motor tag", ["M0"], grows=False)
    assert faults == ["There is no column 'Colour' here.", "There is no row 'M7' here."]


def test_rows_of_new_names_come_at_the_end_where_it_grows():
    cells = [["Motor tag"], ["M7"], ["M0"], ["M8"]]
    placed, _ = place_by_headings(cells, LINE, COLUMNS, "Motor tag", ["M0"], grows=True)
    assert placed == {(1, 0): (1, 0), (0, 0): (2, 0), (2, 0): (3, 0)}


def test_a_table_without_the_naming_heading_has_none():
    assert not has_headings([["Rated power"], ["1"]], "Motor tag")
    assert not has_headings([["Motor tag"]], "Motor tag")
