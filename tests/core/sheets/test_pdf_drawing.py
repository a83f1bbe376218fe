"""Drawings on paper and in spreadsheets: vectors, real text, their place and size."""

import io

import openpyxl
import pypdf
import pypdfium2
import pytest

from core.sheets.document import Document, Paragraph, Picture, Section
from core.sheets.drawing import Drawing, Group, Round, Shape, Stroke, Words
from core.sheets.line_picture import line_picture
from core.sheets.pdf import pdf_bytes
from core.sheets.pdf_drawing import drawing_pdf
from core.sheets.png_drawing import drawing_png
from core.sheets.xlsx import xlsx_bytes
from tests.core.sheets import pictures

EACH_KIND = Drawing(
    100.0,
    60.0,
    (
        Shape(((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)), "blocker", None),
        Stroke(((0.0, 50.0), (100.0, 50.0)), "accent", 4.0, (10.0, 10.0)),
        Group((Round((70.0, 20.0), 15.0, None, "ink", 4.0, 0.0, 90.0),)),
        Words((50.0, 58.0), "A05 ✓ 16.9 % ± 2.1 %", 6.0, "middle"),
    ),
)


def _document(*parts, **settings):
    return Document("T", "S", "L", "P", (Section("Picture", parts),), **settings)


def _pages(content):
    return pypdf.PdfReader(io.BytesIO(content)).pages


def _image(drawing, dots=72.0):
    with pypdfium2.PdfDocument(drawing_pdf(drawing)) as pdf:
        return pdf[0].render(scale=dots / 72.0).to_pil().copy()


def _near(image, place, colour):
    return all(
        abs(seen - wanted) < 30 for seen, wanted in zip(image.getpixel(place), colour, strict=True)
    )


WHITE, BLOCKER, ACCENT, INK = (255,) * 3, (0x8F, 0x2D, 0x00), (0x00, 0x72, 0xB2), (26,) * 3


@pytest.mark.parametrize(
    ("place", "colour"),
    [
        ((20, 10), BLOCKER),
        ((60, 5), WHITE),
        ((5, 50), ACCENT),
        ((15, 50), WHITE),
        # An arc from 0 on over 90 degrees clockwise lies below and to the right of its centre.
        ((80, 31), INK),
        ((80, 9), WHITE),
        ((60, 31), WHITE),
    ],
)
def test_shapes_lie_where_the_drawing_has_them(place, colour):
    assert _near(_image(EACH_KIND), place, colour)


def test_text_stays_text_in_embedded_fonts():
    (page,) = _pages(drawing_pdf(EACH_KIND))
    assert "A05 ✓ 16.9 % ± 2.1 %" in page.extract_text()
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert fonts
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)
    assert "/XObject" not in page["/Resources"]


def test_turned_text_turns_clockwise():
    # From a base line at the left that goes down: the text stands below its anchor.
    turned = Drawing(60.0, 60.0, (Words((30.0, 10.0), "MMMM", 10.0, turn=90.0),))
    image = _image(turned)
    dark = [(x, y) for x in range(60) for y in range(60) if image.getpixel((x, y))[0] < 128]
    assert min(y for _, y in dark) >= 9
    assert max(y for _, y in dark) > 35
    assert max(x for x, _ in dark) - min(x for x, _ in dark) < 12


@pytest.mark.parametrize(
    "settings",
    [{"landscape": True}, {}, {"paper": "letter"}, {"paper": "letter", "landscape": True}],
)
def test_a_picture_of_any_size_stands_on_one_page_under_its_caption(settings):
    for drawing in (line_picture(pictures.demo()), line_picture(pictures.chain(200))):
        parts = (Paragraph("Before."), Picture(drawing, "The line as planned"))
        texts = [page.extract_text() for page in _pages(pdf_bytes(_document(*parts, **settings)))]
        assert len(texts) <= 2
        (text,) = [text for text in texts if "The line as planned" in text]
        assert drawing.items[-1].text in text


def test_a_small_picture_keeps_its_size():
    pages = _pages(pdf_bytes(_document(Picture(EACH_KIND))))
    heights = []
    pages[0].extract_text(
        visitor_text=lambda text, ctm, tm, font, size: (
            heights.append(size * tm[3] * ctm[3]) if "16.9" in text else None
        )
    )
    assert heights == [pytest.approx(6.0)]


def test_equal_documents_with_pictures_give_equal_bytes():
    document = _document(Picture(line_picture(pictures.demo()), "C"))
    assert pdf_bytes(document) == pdf_bytes(document)
    assert xlsx_bytes(document) == xlsx_bytes(document)


def test_a_worksheet_holds_the_picture_under_its_caption_and_leaves_room():
    drawing = line_picture(pictures.demo())
    document = _document(Paragraph("Before."), Picture(drawing, "As planned"), Paragraph("After."))
    sheet = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(document))).active
    rows = {sheet.cell(row, 1).value: row for row in range(1, sheet.max_row + 1)}
    (image,) = sheet._images
    assert image.anchor._from.row + 1 == rows["As planned"] + 1
    assert image.anchor._from.col == 0
    high_pt = image.anchor.ext.height / 12700.0
    between = range(rows["As planned"] + 1, rows["After."])
    assert sum(sheet.row_dimensions[row].height for row in between) >= high_pt
    assert high_pt == pytest.approx(drawing.height, rel=0.01)
    assert image.anchor.ext.width / 12700.0 == pytest.approx(drawing.width, rel=0.01)


def test_an_image_has_the_sharpness_asked_for_up_to_a_limit():
    from PIL import Image

    with Image.open(io.BytesIO(drawing_png(EACH_KIND, 144.0))) as image:
        assert image.size == (200, 120)
    wide = Drawing(7200.0, 7200.0, ())
    with Image.open(io.BytesIO(drawing_png(wide, 300.0))) as image:
        assert image.width * image.height == pytest.approx(16e6, rel=0.01)


def test_a_sign_that_no_font_has_is_replaced_and_told():
    drawing = Drawing(60.0, 20.0, (Words((2.0, 12.0), "漢 A"),))
    text = _pages(pdf_bytes(_document(Picture(drawing))))[0].extract_text()
    assert "\ufffd A" in text
    assert "stands for a character that the printing font lacks" in text
