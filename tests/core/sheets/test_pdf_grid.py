import io

import pypdf
import pytest

from core.sheets import pdf_style as look
from core.sheets.document import Cell, Column, Document, Grid, Section
from core.sheets.pdf import pdf_bytes
from core.sheets.pdf_grid import column_widths


@pytest.fixture(autouse=True)
def _fonts():
    look.load_fonts()


def _pages(*parts):
    document = Document("T", "S", "L", "P", (Section("One", parts),))
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf_bytes(document))).pages]


def test_a_table_begins_no_row_at_the_foot_of_a_page_under_a_second_header():
    tall = "\n".join(f"line {number}" for number in range(13))
    rows = tuple((Cell(f"row {number}"), Cell(tall)) for number in range(20))
    pages = _pages(Grid((Column("Headed"), Column("Text")), rows))
    assert len(pages) > 3
    for page in pages:
        assert page.count("Headed") == 1
        assert page.count("line 0\n") == page.count("line 12")


def test_a_row_higher_than_a_page_is_parted_and_loses_nothing():
    tall = "\n".join(f"n{number}." for number in range(200))
    read = "".join(_pages(Grid((Column("A"), Column("B")), ((Cell("x"), Cell(tall)),))))
    assert all(read.count(f"n{number}.") == 1 for number in range(200))


def test_where_room_is_short_words_and_numbers_with_their_unit_stay_whole():
    columns = tuple(Column("Head", align="right", units=True) for _ in range(17))
    row = (Cell("Z99"), *[Cell("not entered")] * 12, *[Cell("20.25", 20.25, "A")] * 4)
    widths = column_widths(Grid(columns, (row,)), 700.0)
    assert sum(widths) == pytest.approx(700.0)
    for width, cell in zip(widths, row, strict=True):
        words = [cell.with_unit] if cell.number else cell.text.split()
        assert all(look.width_of(word, look.BOLD, look.SIZE) < width for word in words)


def test_where_there_is_room_short_texts_stay_on_one_line():
    columns = (Column("A"), Column("B"))
    widths = column_widths(Grid(columns, ((Cell("not entered"), Cell("word " * 60)),)), 400.0)
    assert look.width_of("not entered", look.BOLD, look.SIZE) < widths[0]


def test_no_single_row_begins_a_page():
    columns = (Column("Headed"), Column("Text"))
    seen = set()
    for count in range(20, 60):
        rows = tuple((Cell(f"row {number}."), Cell("word")) for number in range(count))
        pages = _pages(Grid(columns, rows))
        held = [page.count("row ") for page in pages]
        assert sum(held) == count
        if len(held) > 1:
            seen.add(held[1])
            assert held[1] >= 3
    assert 3 in seen


def test_three_rows_of_narrow_cells_fit_a_page_together():
    columns = tuple(Column("Head") for _ in range(17))
    rows = tuple(tuple(Cell("abcde " * 10) for _ in columns) for _ in range(9))
    pages = _pages(Grid(columns, rows))
    # Words are broken in columns so narrow; none is lost.
    assert sum("".join(page.split()).count("abcde") for page in pages) == 9 * 17 * 10


def test_headings_shrink_before_their_words_are_broken():
    # As many columns as take the word at 5.6 pt with the white beside it, and not at 6.8 pt.
    sheet = look.PAPERS["a4"][0] - 2 * look.SIDE
    white = 7.4
    count = int(sheet // (look.width_of("Alimentado", look.BOLD, 5.6) + white))
    assert count * (look.width_of("Alimentado", look.BOLD, look.SMALL) + white) > sheet
    columns = tuple(Column("Alimentado") for _ in range(count))
    [page] = _pages(Grid(columns, (tuple(Cell("1 A") for _ in columns),)))
    assert page.count("Alimentado") == count
