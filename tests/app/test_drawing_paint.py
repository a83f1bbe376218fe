"""The window's painter draws the same as paper does, in the colours of each look."""

import io

import pypdf
import pytest
from PIL import Image, ImageChops, ImageFilter, ImageStat
from PySide6.QtCore import QBuffer, QIODevice, QRectF
from PySide6.QtGui import QColor, QImage, QPageSize, QPainter, QPdfWriter
from PySide6.QtWidgets import QApplication

from app.drawing_paint import inks_of_look, inks_on_paper, paint_drawing, print_drawings
from app.theme import LOOKS, apply_look
from core.errors import LinebookError
from core.sheets.drawing import Drawing, Group, Round, Shape, Stroke, Words
from core.sheets.drawn_text import text_width
from core.sheets.line_picture import line_picture
from core.sheets.png_drawing import drawing_png
from tests.core.sheets import pictures

EACH_KIND = Drawing(
    100.0,
    60.0,
    (
        Shape(((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)), "blocker", "ink", 2.0),
        Stroke(((0.0, 50.0), (100.0, 50.0)), "accent", 4.0, (10.0, 10.0)),
        Round((70.0, 20.0), 15.0, None, "ink", 4.0, 0.0, 90.0),
        Round((70.0, 20.0), 8.0, "good", None, start=180.0, sweep=90.0),
        Round((90.0, 40.0), 6.0, "faint", "ink"),
        Words((50.0, 46.0), "MMM", 12.0, "middle", strong=True),
        Words((4.0, 28.0), "turned", 8.0, turn=60.0),
        Words((98.0, 12.0), "end", 8.0, "end"),
    ),
)


@pytest.fixture(autouse=True)
def light(qapp):
    apply_look(qapp, "light")
    yield
    apply_look(qapp, "light")


def _painted(drawing, scale, inks):
    image = QImage(
        round(drawing.width * scale), round(drawing.height * scale), QImage.Format.Format_RGB32
    )
    image.fill(inks["paper"])
    painter = QPainter(image)
    painter.scale(scale, scale)
    paint_drawing(painter, drawing, inks)
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")
    return Image.open(io.BytesIO(buffer.data().data())).convert("RGB")


@pytest.mark.parametrize("drawing", [EACH_KIND, line_picture(pictures.demo())])
def test_screen_and_paper_show_the_same(drawing):
    scale = 3.0
    on_paper = Image.open(io.BytesIO(drawing_png(drawing, 72.0 * scale))).convert("RGB")
    on_screen = _painted(drawing, scale, inks_on_paper())
    assert abs(on_paper.width - on_screen.width) <= 1
    assert abs(on_paper.height - on_screen.height) <= 1
    size = min(on_paper.width, on_screen.width), min(on_paper.height, on_screen.height)
    blurred = [
        image.crop((0, 0, *size)).filter(ImageFilter.GaussianBlur(4))
        for image in (on_paper, on_screen)
    ]
    apart = ImageStat.Stat(ImageChops.difference(*blurred).convert("L"))
    assert apart.extrema[0][1] < 60
    assert apart.mean[0] < 2.0


def test_texts_are_as_wide_as_the_drawing_was_laid_out_for():
    text, size, scale = "Washer brushes, even rows", 6.4, 4.0
    drawing = Drawing(150.0, 12.0, (Words((5.0, 9.0), text, size),))
    image = _painted(drawing, scale, inks_on_paper())
    dark = [x for x in range(image.width) for y in range(image.height)
            if image.getpixel((x, y))[0] < 128]  # fmt: skip
    wide = (max(dark) - min(dark)) / scale
    assert wide == pytest.approx(text_width(text, size), abs=2.0)


@pytest.mark.parametrize("look", LOOKS)
def test_every_ink_stands_out_from_its_ground(qapp, look):
    apply_look(qapp, look)
    inks = inks_of_look()
    # Contrast for text at least 4.5, for large shapes 3 (WCAG 2.2, 1.4.3 and 1.4.11).
    for ink, colour in inks.items():
        if ink not in ("paper", "faint"):
            assert _contrast(colour, inks["paper"]) >= 4.5, ink
    assert set(inks) == set(inks_on_paper())


def test_every_ink_stands_out_on_paper():
    inks = inks_on_paper()
    for ink, colour in inks.items():
        if ink not in ("paper", "faint"):
            assert _contrast(colour, inks["paper"]) >= 4.5, ink


def _contrast(one, other):
    """Contrast ratio as WCAG 2.2 defines it."""
    low, high = sorted(_luminance(colour) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour):
    parts = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (QColor(colour).redF(), QColor(colour).greenF(), QColor(colour).blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def test_what_is_out_of_sight_is_not_drawn():
    far = Group((Shape(((0, 0), (50, 0), (50, 50), (0, 50)), "ink"),), box=(500.0, 0.0, 9.0, 9.0))
    image = QImage(50, 50, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    paint_drawing(painter, Drawing(50.0, 50.0, (far,)), inks_on_paper(), QRectF(0, 0, 50, 50))
    painter.end()
    assert image.pixelColor(25, 25) == QColor("white")


def _writer(path):
    writer = QPdfWriter(str(path))
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    return writer


def test_each_drawing_is_printed_whole_on_a_page_the_right_way_round(tmp_path):
    path = tmp_path / "printed.pdf"
    narrow = line_picture(pictures.chain(3), (100.0, 5000.0))
    assert narrow.height > narrow.width
    print_drawings([line_picture(pictures.demo()), narrow], _writer(path))
    first, second = pypdf.PdfReader(path).pages
    assert first.mediabox.width > first.mediabox.height
    assert second.mediabox.height > second.mediabox.width


def test_a_printed_drawing_is_no_larger_than_it_was_made(tmp_path):
    path = tmp_path / "printed.pdf"
    square = Drawing(72.0, 72.0, (Shape(((0, 0), (72, 0), (72, 72), (0, 72)), "ink", None),))
    print_drawings([square], _writer(path))
    import pypdfium2

    with pypdfium2.PdfDocument(path) as pdf:
        image = pdf[0].render(scale=1.0).to_pil().convert("L").copy()
    dark = [place for place in _places(image) if image.getpixel(place) < 128]
    assert max(x for x, _ in dark) - min(x for x, _ in dark) == pytest.approx(71, abs=1.5)
    assert max(y for _, y in dark) - min(y for _, y in dark) == pytest.approx(71, abs=1.5)


def _places(image):
    return ((x, y) for x in range(image.width) for y in range(image.height))


def test_a_device_that_takes_no_job_is_told(tmp_path, qtlog):
    with qtlog.disabled(), pytest.raises(LinebookError, match="took no job"):
        print_drawings([EACH_KIND], _writer(tmp_path / "no" / "such" / "folder" / "x.pdf"))
    assert QApplication.instance() is not None
