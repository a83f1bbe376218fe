import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from core.line import compute_line
from core.model import Station
from core.sheets import SHEETS, SheetCancelledError, write_pdf
from core.sheets.document import (
    Caution,
    Cell,
    Column,
    Contents,
    Document,
    Gap,
    Grid,
    Heading,
    KeyValue,
    KeyValues,
    PageBreak,
    Paragraph,
    Section,
)
from core.sheets.pdf import pdf_bytes
from tests.core.sheets import lines

HOSTILE = {
    "markup": "<b>unclosed <img src='/etc/passwd'/> <a href='file:///etc'>x</a> & </para>",
    "formula": "=cmd|'/c calc'!A0",
    "controls": "bell\x07 null\x00 escape\x1b",
    "surrogate": "half \ud83d",
    "emoji": "smile \U0001f600",
    "chinese": "電動機",
    "direction": "X1:\u202e21",
    "one long word": "W" * 5000,
    "many lines": "line\n" * 250,
    "long": "word " * 48_000,
}


def _document(*parts, **more):
    values = {"title": "T", "subtitle": "S", "line_name": "L", "site": "", **more}
    return Document(**values, sections=(Section("First", parts),))


def _text(content):
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)


def _made(key, line):
    return pdf_bytes(SHEETS[key].build(line, compute_line(line)))


@pytest.mark.parametrize("key", SHEETS)
def test_fonts_are_embedded_and_nothing_else_is_used(key):
    reader = pypdf.PdfReader(io.BytesIO(_made(key, lines.line(1))))
    fonts = {}
    for page in reader.pages:
        fonts |= {
            font["/BaseFont"]: "/FontFile2" in font.get("/FontDescriptor", {})
            for font in (entry.get_object() for entry in page["/Resources"]["/Font"].values())
        }
    assert fonts
    assert all(fonts.values())
    assert all("DejaVu" in name for name in fonts)


# Every sheet of a bare line says that entries are missing, but those that list none: the plan
# has a dash for what cannot be computed, the others words of their own.
_TOLD = {
    "speed_plan": "–",
    "check_results": "Handover",
    "spares": "Branch protection",
    "field_sheets": "Not looked at yet",
    "knob_cards": "Cut out each card",
    "labels": "X99",
    "photographs": "Without a photograph",
}


@pytest.mark.parametrize("key", SHEETS)
def test_text_comes_out_of_the_pages_by_two_readers(key):
    content = _made(key, lines.line(1))
    with pypdfium2.PdfDocument(content) as opened:
        pages = [page.get_textpage().get_text_range() for page in opened]
    for text in (_text(content), "\n".join(pages)):
        assert "Test line" in text
        assert "B01" in text
        assert _TOLD.get(key, "not entered") in text


def test_every_page_has_its_number_and_the_number_of_pages():
    reader = pypdf.PdfReader(io.BytesIO(_made("parameter_record", lines.line(3))))
    for number, page in enumerate(reader.pages, start=1):
        assert f"Page {number} of {len(reader.pages)}" in page.extract_text()
        assert "Not frozen" in page.extract_text()


def test_bookmarks_lead_to_the_page_of_their_heading():
    reader = pypdf.PdfReader(io.BytesIO(_made("parameter_record", lines.line(3))))
    tops = [entry for entry in reader.outline if not isinstance(entry, list)]
    assert [entry.title for entry in tops][1:3] == ["B01 Brush bed 1", "B02 Brush bed 2"]
    for entry in tops:
        page = reader.pages[reader.get_destination_page_number(entry)]
        assert entry.title in page.extract_text()
        assert entry["/Type"] == "/XYZ"


def test_pages_name_line_and_section():
    reader = pypdf.PdfReader(io.BytesIO(_made("parameter_record", lines.line(1))))
    assert "Parameter record · B01 Brush bed 1" in reader.pages[1].extract_text()


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_paper_sizes(paper, points):
    # ISO 216 A4 210 x 297 mm; US Letter 8.5 x 11 in; in points of 1/72 in
    for landscape in (False, True):
        content = pdf_bytes(_document(Paragraph("x"), paper=paper, landscape=landscape))
        box = pypdf.PdfReader(io.BytesIO(content)).pages[0].mediabox
        size = (round(box.width), round(box.height))
        assert size == (points[::-1] if landscape else points)


def test_equal_documents_give_equal_bytes_in_any_process():
    code = (
        "import hashlib, sys; from tests.core.sheets import lines;"
        "from core.line import compute_line; from core.sheets import SHEETS;"
        "from core.sheets.pdf import pdf_bytes; line = lines.line(2);"
        "print(hashlib.sha256(b''.join(pdf_bytes(kind.build(line, compute_line(line)))"
        " for kind in SHEETS.values())).hexdigest())"
    )
    root = Path(__file__).parents[3]
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(digests) == 1


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_text_breaks_no_part_and_is_not_lost_in_silence(text):
    columns = (Column("A"), Column("B", align="right", units=True))
    row = (Cell(text), Cell(text, unit=text[:20]))
    rows = ((Cell("g"), Cell("n"), *row),) * 2
    grouped = Grid(columns * 2, rows, heading_columns=1, band_columns=1)
    entries = (KeyValue(text[:200], Cell(text), text), KeyValue("short", Cell("1", 1.0), text))
    caution = Caution("danger", "Danger", text, text, text)
    document = _document(
        Heading(text[:200], bookmark=True),
        Paragraph(text),
        caution,
        Grid(columns, (row, row)),
        grouped,
        KeyValues(entries, columns=2),
        KeyValues(entries),
        KeyValues(entries[1:]),
        Gap(),
        PageBreak(),
        title=text[:200],
        line_name=text[:200],
    )
    read = _text(pdf_bytes(document))
    lost = any(ord(sign) > 0xFFFF for sign in text) or any(
        word in text for word in ("\x07", "\ud83d", "電")
    )
    assert ("stands for a character that the printing font lacks" in read) == lost
    assert ("… (cut: " in read.replace("\n", " ")) == (len(text) > 200)


@pytest.mark.parametrize("lines_before", [0, 7, 40])
def test_no_line_is_lost_where_a_row_is_about_as_high_as_the_page(lines_before):
    before = tuple(Paragraph("before") for _ in range(lines_before))
    for count in (60, 64, 65, 66, 67, 68, 72):
        text = "\n".join(f"n{number}." for number in range(count))
        rows = (KeyValue("label", Cell(text), "remark"),)
        caution = Caution("danger", "Danger", "Hazard", text, "")
        grid = Grid((Column("A"), Column("B")), ((Cell(text), Cell("once")),))
        read = _text(pdf_bytes(_document(*before, caution, KeyValues(rows, 2), grid)))
        for number in range(count):
            assert read.count(f"n{number}.") == 3


def test_markup_is_shown_and_never_obeyed():
    read = _text(pdf_bytes(_document(Paragraph(HOSTILE["markup"]))))
    assert "<img src='/etc/passwd'/>" in read
    assert "root:" not in read


def test_direction_marks_are_gone():
    read = _text(pdf_bytes(_document(Paragraph(HOSTILE["direction"]))))
    assert "X1:21" in read


def test_a_whole_line_of_hostile_texts_can_be_printed():
    nasty = "<b>&=1\n" + "Q" * 190
    station = Station(1, nasty, nasty, notes=nasty * 20)
    line = lines.line(0, name=nasty, site=nasty, owner=nasty, stations=(station,))
    for key in SHEETS:
        assert "<b>&=1" in _text(_made(key, line))


def test_a_table_repeats_its_header_on_every_page():
    rows = tuple((Cell(str(number)),) for number in range(200))
    content = pdf_bytes(_document(Grid((Column("Headed"),), rows)))
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    assert len(pages) > 2
    assert all("Headed" in page.extract_text() for page in pages)


def test_writing_can_be_watched_and_stopped(tmp_path):
    document = SHEETS["parameter_record"].build(lines.line(2), compute_line(lines.line(2)))
    told = []
    write_pdf(document, tmp_path / "a.pdf", lambda done, of: told.append((done, of)) or True)
    assert told[-1][0] <= told[-1][1]
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    with pytest.raises(SheetCancelledError):
        write_pdf(document, tmp_path / "b.pdf", lambda done, of: False)
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]


def test_a_stream_gets_the_very_bytes(tmp_path):
    document = _document(Paragraph("x"))
    stream = io.BytesIO()
    write_pdf(document, stream)
    write_pdf(document, tmp_path / "x.pdf")
    assert stream.getvalue() == (tmp_path / "x.pdf").read_bytes()


def _page_begun(reader, title):
    return next(
        number
        for number, page in enumerate(reader.pages, start=1)
        if title in page.extract_text().splitlines()
    )


def test_the_contents_of_a_document_tell_pages_and_lead_there():
    rows = tuple((Cell(f"Chapter {number}"), Cell("what it says")) for number in range(4))
    contents = Contents(
        Grid((Column("Chapter"), Column("What")), rows),
        ("One", "Two", "Two", "None such"),
        "Page",
    )
    sections = (
        Section("Front", (contents,)),
        Section("One", (Paragraph("words"), PageBreak(), Paragraph("more"))),
        Section("Two", (Paragraph("the end"),)),
    )
    document = Document("T", "S", "L", "", sections)
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(document)))
    assert (_page_begun(reader, "One"), _page_begun(reader, "Two")) == (2, 4)
    lines_of_front = [line.strip() for line in reader.pages[0].extract_text().splitlines()]
    assert "2" in lines_of_front
    assert lines_of_front.count("4") == 2
    links = [note.get_object() for note in reader.pages[0].get("/Annots", [])]
    assert len(links) == 3
    reached = [link["/Dest"][0].idnum for link in links]
    ids = [page.indirect_reference.idnum for page in reader.pages]
    assert [ids.index(number) + 1 for number in reached] == [2, 4, 4]


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_book_tells_on_which_page_each_chapter_begins(language):
    line = replace(lines.line(2), language=language)
    document = SHEETS["handover_book"].build(line, compute_line(line))
    [contents] = [p for p in document.sections[0].parts if isinstance(p, Contents)]
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(document)))
    place = next(
        number
        for number, page in enumerate(reader.pages)
        if page.get("/Annots") and contents.table.rows[-1][0].text in page.extract_text()
    )
    printed = [line.strip() for line in reader.pages[place].extract_text().splitlines()]
    outline = {
        entry.title: reader.get_destination_page_number(entry) + 1
        for entry in reader.outline
        if not isinstance(entry, list)
    }
    assert len(contents.begins) == len(contents.table.rows)
    for title in contents.begins:
        assert str(outline[title]) in printed
