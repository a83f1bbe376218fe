"""Photographs on paper and in spreadsheets: whole, captioned, within the size of a book."""

import dataclasses
import io
import re
import zipfile

import openpyxl
import pypdf
import pypdfium2
import pytest
from PIL import Image

from core.line import compute_line
from core.model import Photo
from core.photos import BOOK_LIMIT_BYTES, fitting, take_bytes
from core.records import canonical_text, line_of
from core.sheets import SHEETS
from core.sheets.pdf import pdf_bytes
from core.sheets.photo_dots import photo_jpegs
from core.sheets.xlsx import xlsx_bytes
from core.store.schema import FORMAT
from tests.core.drawn_photos import as_file, halves, noise, plate
from tests.core.sheets import lines


def photo(taken, number, **more):
    return Photo(id=number, sha256=taken.sha256, added_at="2026-11-25 12:00", **more)


def line_with(*taken, language="en"):
    """A line of two stations; the first has these photographs."""
    line = dataclasses.replace(lines.line(2), language=language)
    names = ("motor_plate", "drive_plate", "wiring", "other")
    photos = tuple(
        photo(entry, number, shows=names[number % 4], caption=f"Caption {number}", person="R. Vale")
        for number, entry in enumerate(taken)
    )
    first, *rest = line.stations
    return dataclasses.replace(line, stations=(dataclasses.replace(first, photos=photos), *rest))


def document(key, line, taken):
    made = SHEETS[key].build(line, compute_line(line))
    return dataclasses.replace(made, photos={entry.sha256: entry.content for entry in taken})


def drawn(count):
    return [take_bytes(as_file(plate(f"{number} kW", seed=number))) for number in range(count)]


def text_of(content):
    with pypdfium2.PdfDocument(content) as opened:
        return [page.get_textpage().get_text_range() for page in opened]


def images_of(content):
    """Images on each page, as pypdf finds them."""
    return [[image.image for image in page.images] for page in pypdf.PdfReader(content).pages]


@pytest.fixture(scope="module")
def three():
    return drawn(3)


def test_each_photograph_is_on_paper_with_what_it_shows(three):
    content = pdf_bytes(document("photographs", line_with(*three), three))
    told = "\n".join(text_of(content))
    for words in (
        "Nameplate of the motor: Caption 0",
        "Nameplate of the drive: Caption 1",
        "Wiring: Caption 2",
        f"Added 2026-11-25 12:00 · R. Vale · SHA-256 {three[0].sha256[:16]}",
        "Without a photograph: B02, X99.",
        "Isolate, lock out and prove dead",
    ):
        assert words in " ".join(told.split())
    images = [image for page in images_of(io.BytesIO(content)) for image in page]
    assert [image.size for image in images] == [(640, 480)] * 3


def test_four_and_more_stand_on_one_page_and_none_is_cut():
    taken = drawn(9)
    for key in ("photographs", "handover_book"):
        content = pdf_bytes(document(key, line_with(*taken), taken))
        counts = [len(page) for page in images_of(io.BytesIO(content)) if page]
        assert sum(counts) == 9
        assert counts[0] >= 2
        assert all(count >= 4 for count in counts[1:-1])


@pytest.mark.parametrize("key", ["photographs", "handover_book"])
def test_each_station_has_its_heading_on_the_page_of_its_first_photograph(key):
    taken = drawn(5)
    line = lines.line(5)
    stations = tuple(
        dataclasses.replace(station, photos=(photo(entry, number),), name=f"Heading {number}")
        for number, (station, entry) in enumerate(zip(line.stations, taken, strict=False))
    )
    line = dataclasses.replace(line, stations=stations)
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(document(key, line, taken))))
    pictured = [page for page in reader.pages if page.images]
    assert sum(len(page.images) for page in pictured) == 5
    for page in pictured:
        assert page.extract_text().count("Heading ") == len(page.images)
    assert all(len(page.images) >= 2 for page in pictured[1:-1])


def test_the_dots_on_the_page_are_those_of_the_photograph():
    """Red at the left and blue at the right come out so where the page is drawn."""
    taken = [take_bytes(as_file(halves((400, 300)), quality=95))]
    content = pdf_bytes(document("photographs", line_with(*taken), taken))
    with pypdfium2.PdfDocument(content) as opened:
        page = opened[0].render(scale=1).to_pil().convert("RGB")
    dots = [page.getpixel((x, y)) for x in range(page.width) for y in range(page.height)]
    red = [dot for dot in dots if dot[0] > 220 and max(dot[1:]) < 40]
    blue = [dot for dot in dots if dot[2] > 220 and max(dot[:2]) < 40]
    # Half a column wide, three quarters of that high: about 250 by 190 points on A4.
    assert len(red) == pytest.approx(len(blue), rel=0.05)
    assert len(red) + len(blue) == pytest.approx(250 * 187, rel=0.1)


def test_they_are_embedded_as_they_are_without_letters_around(three):
    content = pdf_bytes(document("photographs", line_with(*three), three))
    assert all(entry.content in content for entry in three)


def test_the_same_document_gives_the_same_bytes(three):
    made = document("photographs", line_with(*three), three)
    assert pdf_bytes(made) == pdf_bytes(made)
    assert xlsx_bytes(made) == xlsx_bytes(made)


def test_a_spreadsheet_has_them_too(three):
    content = xlsx_bytes(document("photographs", line_with(*three), three))
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        held = [book.read(name) for name in book.namelist() if name.startswith("xl/media/")]
    assert {bytes(entry) for entry in held} == {entry.content for entry in three}
    [sheet] = openpyxl.load_workbook(io.BytesIO(content))
    told = [row[0].value for row in sheet.iter_rows() if row[0].value]
    assert "Nameplate of the drive: Caption 1" in told
    assert "Without a photograph: B02, X99." in told
    rows = sorted(image.anchor._from.row for image in sheet._images)
    assert len(rows) == 3
    for row in rows:
        # A caption right above, and room of at least its height (300 pt in rows of 15) below.
        assert str(sheet.cell(row, 1).value).split(":")[0] in (
            "Nameplate of the motor", "Nameplate of the drive", "Wiring",
        )  # fmt: skip
        assert all(sheet.cell(row + step, 1).value is None for step in range(1, 21))


def test_in_spanish():
    taken = drawn(1)
    made = document("photographs", line_with(*taken, language="es"), taken)
    told = " ".join("\n".join(text_of(pdf_bytes(made))).split())
    assert "Fotografías" in told
    assert "Placa del motor: Caption 0" in told
    assert "Agregada 2026-11-25 12:00" in told
    assert "Sin fotografía: B02, X99." in told


def test_the_book_has_the_chapter_only_where_there_is_one(three):
    def titles(made):
        return [section.title for section in made.sections]

    line = line_with(*three)
    book = document("handover_book", line, three)
    assert "Photographs" in titles(book)
    assert book.photo_digests == {entry.sha256 for entry in three}
    assert "Photographs" not in titles(document("handover_book", lines.line(2), ()))
    only_second = SHEETS["handover_book"].build(line, compute_line(line), [line.stations[1].id])
    assert "Photographs" not in titles(only_second)


def test_one_that_is_missing_is_told_in_its_place(three):
    made = document("photographs", line_with(*three), three[:2])
    told = " ".join("\n".join(text_of(pdf_bytes(made))).split())
    assert told.count("This photograph cannot be shown") == 1
    assert "Wiring: Caption 2" in told
    [sheet] = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(made)))
    cells = [row[0].value for row in sheet.iter_rows() if row[0].value]
    assert sum("cannot be shown" in str(cell) for cell in cells) == 1


def test_bytes_that_are_no_picture_are_told_in_their_place(three):
    line = line_with(*three)
    made = dataclasses.replace(
        document("photographs", line, three), photos={three[0].sha256: b"no picture"}
    )
    assert photo_jpegs(made, "paper") == {}
    assert "This photograph cannot be shown" in " ".join(
        "\n".join(text_of(pdf_bytes(made))).split()
    )


def test_a_caption_that_is_markup_or_very_long_breaks_nothing(three):
    line = line_with(*three)
    first, *rest = line.stations
    nasty = (
        dataclasses.replace(first.photos[0], caption="<b>a & b" + "\u202e"),
        dataclasses.replace(first.photos[1], caption="W" * 200),
        dataclasses.replace(first.photos[2], caption="=1+1"),
    )
    line = dataclasses.replace(line, stations=(dataclasses.replace(first, photos=nasty), *rest))
    made = document("photographs", line, three)
    assert "<b>a & b" in "\n".join(text_of(pdf_bytes(made)))
    [sheet] = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(made)))
    assert all(cell.data_type != "f" for row in sheet.iter_rows() for cell in row)


@pytest.mark.parametrize("shape", [(800, 50), (50, 800), (1, 1), (400, 400)])
def test_every_shape_finds_room(shape):
    taken = [take_bytes(as_file(noise(shape, seed), "PNG")) for seed in (1, 2)]
    content = pdf_bytes(document("handover_book", line_with(*taken), taken))
    assert sum(len(page) for page in images_of(io.BytesIO(content))) == 2


def test_a_book_of_many_photographs_can_be_mailed(monkeypatch):
    """All photographs together keep to the limit, here a tenth of it for a tenth of the photos."""
    assert BOOK_LIMIT_BYTES == 8_000_000
    monkeypatch.setattr(fitting, "BOOK_LIMIT_BYTES", 800_000)
    grain = noise((400, 300))
    taken = [
        take_bytes(as_file(Image.blend(plate(size=(1600, 1200), seed=seed), big, 0.3)))
        for seed in range(8)
        for big in [grain.rotate(6 * seed).resize((1600, 1200))]
    ]
    line = line_with(*taken)
    assert sum(len(entry.content) for entry in taken) > 1_600_000
    made = document("photographs", line, taken)
    jpegs = photo_jpegs(made, "paper")
    assert len(jpegs) == 8
    assert sum(map(len, jpegs.values())) <= 800_000
    assert all(Image.open(io.BytesIO(held)).width >= 600 for held in jpegs.values())
    # Fonts and text: less than a tenth of a megabyte more.
    assert len(pdf_bytes(made)) < 900_000
    assert len(xlsx_bytes(made)) < 900_000


def test_a_record_prints_its_own_photographs(three):
    line = line_of(canonical_text(line_with(*three), FORMAT))
    content = pdf_bytes(document("photographs", line, three))
    assert len([image for page in images_of(io.BytesIO(content)) for image in page]) == 3
    assert re.search(r"Caption 1", "\n".join(text_of(content)))
