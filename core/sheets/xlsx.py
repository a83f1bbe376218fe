"""A document as spreadsheet: a worksheet for each section, numbers as numbers, never a formula."""

import datetime
import io
import math
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from core.sheets import document as doc
from core.sheets.cleaning import clean, sheet_name
from core.sheets.drawing import Drawing
from core.sheets.photo_dots import photo_jpegs, size_of
from core.sheets.png_drawing import drawing_png
from core.sheets.words import Say, words_in
from core.sheets.writing import SheetCancelledError

_NARROWEST, _WIDEST = 7, 44
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")
"""Signs at the start of a text that spreadsheet programs take for a formula."""
_DOTS = 200.0
"""Sharpness of a picture [1/inch]."""
_WIDEST_PICTURE, _ROW_HEIGHT, _PIXELS_PER_POINT = 960.0, 15.0, 96.0 / 72.0
_PHOTO_BOX = (400.0, 300.0)
"""The most that a photograph takes [pt]."""
_FIXED = datetime.datetime(2000, 1, 1)
_PAPER_SIZES = {"a4": 9, "letter": 1}  # ECMA-376 Part 1, 18.3.1.63

_FONTS = {
    "plain": Font(name="Calibri", size=10),
    "strong": Font(name="Calibri", size=10, bold=True),
    "quiet": Font(name="Calibri", size=10, color="FF666666"),
    "title": Font(name="Calibri", size=16, bold=True),
    "heading": Font(name="Calibri", size=12, bold=True),
}
_HEADER_LINE = Border(bottom=Side(style="medium", color="FF0072B2"))
_ROW_LINE = Border(bottom=Side(style="hair", color="FFB0B0B0"))
_FILLS = {
    "danger": PatternFill("solid", fgColor="FFC8102E"),
    "warning": PatternFill("solid", fgColor="FFFF8200"),
    "caution": PatternFill("solid", fgColor="FFFFD100"),
    "notice": PatternFill("solid", fgColor="FF00539B"),
}
_ON_FILL = {"danger": "FFFFFFFF", "warning": "FF000000", "caution": "FF000000"}


def xlsx_bytes(document: doc.Document, progress: Callable[[int, int], bool] | None = None) -> bytes:
    """A document as the bytes of a workbook; equal documents give equal bytes.

    Parameters
    ----------
    document : Document
        What is written.
    progress : callable, optional
        Called with the worksheets made so far and their number; gives False to stop.

    Raises
    ------
    SheetCancelledError
        ``progress`` said to stop.
    """
    book, say = Workbook(), words_in(document.language)
    book.remove(book.active)
    taken: set[str] = set()
    sections, photos = document.sections_for("spreadsheet"), photo_jpegs(document, "spreadsheet")
    for number, section in enumerate(sections, start=1):
        sheet = book.create_sheet(sheet_name(clean(section.title, say), taken))
        _Sheet(sheet, say, photos).write(document, section)
        if progress is not None and not progress(number, len(sections)):
            raise SheetCancelledError
    book.properties.title = clean(document.title, say)
    book.properties.creator = "Linebook"
    book.properties.created = _FIXED
    stream = io.BytesIO()
    book.save(stream)
    return _undated(stream.getvalue())


class _Sheet:
    """One worksheet, filled from the top down."""

    def __init__(
        self, sheet: Worksheet, say: Say, photos: Mapping[str, bytes] = MappingProxyType({})
    ) -> None:
        self.sheet, self.say, self.photos = sheet, say, photos
        self.row = 1
        self.widths: dict[int, int] = {}
        self.pictured = False

    def write(self, document: doc.Document, section: doc.Section) -> None:
        """Write a section: one that is a single table as such, any other as a page to read."""
        first = section.parts[0] if len(section.parts) == 1 else None
        if isinstance(first, doc.Labels):
            first = _label_grid(first, self.say)
        if isinstance(first, doc.Grid):
            self.grid(first)
            self._freeze(1)
            self.sheet.auto_filter.ref = self.sheet.dimensions
        else:
            self._page(document, section)
            self._freeze(2)
        self._set_widths()
        self._set_print(document)

    def _page(self, document: doc.Document, section: doc.Section) -> None:
        self.line(section.title, "title")
        place = " · ".join(
            text for text in (document.line_name, document.site, document.title) if text.strip()
        )
        self.line(f"{place} · {document.seal or document.revision}", "quiet")
        self.row += 1
        for part in section.parts:
            _WRITERS[type(part)](self, part)

    def line(self, text: str, font: str) -> None:
        """A text by itself; it may run over the columns beside it."""
        self.put(1, doc.Cell(text), font, measured=False)
        self.row += 1

    def paragraph(self, text: str, font: str) -> None:
        """Running text over the width of the page."""
        cell = self.put(1, doc.Cell(text), font, measured=False)
        self.sheet.merge_cells(start_row=self.row, end_row=self.row, start_column=1, end_column=8)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        lines = sum(len(line) // 100 + 1 for line in text.split("\n"))
        self.sheet.row_dimensions[self.row].height = min(13.5 * lines, 400)
        self.row += 1

    def grid(self, part: doc.Grid) -> None:
        """A table with its header."""
        for at, heading in enumerate(_headings(part, self.say), start=1):
            cell = self.put(at, doc.Cell(heading), "strong")
            cell.border = _HEADER_LINE
            cell.alignment = Alignment(wrap_text=True, vertical="bottom")
        self.row += 1
        for row in part.rows:
            for at, cell in enumerate(_spread(part, row), start=1):
                self.put(at, cell, cell.tone).border = _ROW_LINE
            self.row += 1

    def picture(self, drawing: Drawing) -> None:
        """A drawing as an image on cells that are left empty below it."""
        scale = min(1.0, _WIDEST_PICTURE / drawing.width)
        size = drawing.width * scale, drawing.height * scale
        self.image(drawing_png(drawing, _DOTS), *size)
        self.pictured = True

    def image(self, content: bytes, width: float, height: float) -> None:
        """A PNG or JPEG of a size [pt] on cells that are left empty below it."""
        from openpyxl.drawing.image import Image

        image = Image(io.BytesIO(content))
        image.width, image.height = (round(side * _PIXELS_PER_POINT) for side in (width, height))
        self.sheet.add_image(image, f"A{self.row}")
        for _ in range(math.ceil(height / _ROW_HEIGHT) + 1):
            self.sheet.row_dimensions[self.row].height = _ROW_HEIGHT
            self.row += 1

    def photograph(self, item: doc.Photograph) -> None:
        """A photograph between its caption and its remark."""
        self.line(item.caption, "strong")
        content = self.photos.get(item.sha256)
        if content is None:
            self.line(self.say("photo_missing"), "plain")
        else:
            across, down = size_of(content)
            scale = min(_PHOTO_BOX[0] / across, _PHOTO_BOX[1] / down)
            self.image(content, across * scale, down * scale)
        self.line(item.remark, "quiet")
        self.row += 1

    def put(self, column: int, entry: doc.Cell, font: str, measured: bool = True) -> Any:
        """One cell: a number as number, anything else as text that never runs."""
        cell = self.sheet.cell(self.row, column)
        cell.font = _FONTS[font]
        if entry.number is not None:
            cell.value = entry.number
            cell.number_format = _number_format(entry.text)
            cell.alignment = Alignment(horizontal="right", vertical="top")
        elif entry.text:
            text = clean(entry.text, self.say)
            cell.value = text
            cell.data_type = "s"
            cell.quotePrefix = text.startswith(_RISKY)
            cell.alignment = Alignment(wrap_text=measured, vertical="top")
        if measured:
            longest = max((len(line) for line in entry.text.split("\n")), default=0)
            self.widths[column] = max(self.widths.get(column, 0), longest)
        return cell

    def _freeze(self, rows: int) -> None:
        self.sheet.freeze_panes = f"A{rows + 1}"
        self.sheet.print_title_rows = f"1:{rows}"

    def _set_widths(self) -> None:
        for column, longest in self.widths.items():
            width = min(max(longest + 2, _NARROWEST), _WIDEST)
            self.sheet.column_dimensions[get_column_letter(column)].width = width

    def _set_print(self, document: doc.Document) -> None:
        setup = self.sheet.page_setup
        wide = document.landscape or self.pictured or len(self.widths) > 8
        setup.orientation = "landscape" if wide else "portrait"
        setup.paperSize = _PAPER_SIZES[document.paper]
        setup.fitToWidth, setup.fitToHeight = 1, 0
        self.sheet.sheet_properties.pageSetUpPr.fitToPage = True
        # In a header an ampersand begins a code; doubled it is itself (ECMA-376 Part 1, 18.3.1.46).
        name = clean(document.line_name, self.say, longest=100).replace("&", "&&")
        self.sheet.oddHeader.left.text = name
        self.sheet.oddHeader.right.text = document.title
        self.sheet.oddFooter.left.text = self.say("linebook")
        self.sheet.oddFooter.right.text = self.say("page_of", page="&P", pages="&N")


def _headings(part: doc.Grid, say: Say) -> Iterator[str]:
    for column in part.columns:
        yield column.heading
        if column.units:
            yield say("unit")


def _spread(part: doc.Grid, row: Sequence[doc.Cell]) -> Iterator[doc.Cell]:
    """The cells of a row, each unit in a column of its own."""
    for column, cell in zip(part.columns, row, strict=True):
        yield cell
        if column.units:
            yield doc.Cell(cell.unit, tone=cell.tone)


def _number_format(shown: str) -> str:
    """The format that shows as many decimals as the text."""
    _, point, decimals = shown.partition(".")
    if not re.fullmatch(r"-?[0-9]*\.?[0-9]*", shown):
        return "General"
    return "0." + "0" * len(decimals) if point else "0"


def _undated(content: bytes) -> bytes:
    """The same workbook without the moment of its making, so that equal content is equal bytes."""
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            data = old.read(name)
            if name == "docProps/core.xml":
                data = re.sub(
                    rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>2000-01-01T00:00:00Z", data
                )
            entry = zipfile.ZipInfo(name, date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, data)
    return stream.getvalue()


# --- parts of a page ------------------------------------------------------------------------


def _heading(sheet: _Sheet, part: doc.Heading) -> None:
    sheet.row += 1
    sheet.line(part.text, "heading" if part.level < 3 else "strong")


def _paragraph(sheet: _Sheet, part: doc.Paragraph) -> None:
    sheet.paragraph(part.text, part.tone)


def _caution(sheet: _Sheet, part: doc.Caution) -> None:
    cell = sheet.put(1, doc.Cell(part.signal_word.upper()), "strong")
    cell.fill = _FILLS[part.level]
    cell.font = Font(name="Calibri", size=10, bold=True, color=_ON_FILL.get(part.level, "FFFFFFFF"))
    for text, font in (
        (part.hazard, "strong"),
        (f"{part.consequence} {part.avoidance}", "plain"),
    ):
        sheet.put(2, doc.Cell(text), font, measured=False)
        sheet.row += 1


def _key_values(sheet: _Sheet, part: doc.KeyValues) -> None:
    for row in part.rows:
        cells = (
            doc.Cell(row.label, tone="quiet"),
            doc.Cell(row.cell.text, row.cell.number, tone=row.cell.tone),
            doc.Cell(row.cell.unit),
            doc.Cell(row.remark, tone="quiet"),
        )
        for at, cell in enumerate(cells, start=1):
            sheet.put(at, cell, cell.tone).border = _ROW_LINE
        sheet.row += 1


def _grid(sheet: _Sheet, part: doc.Grid) -> None:
    sheet.grid(part)
    sheet.row += 1


def _picture(sheet: _Sheet, part: doc.Picture) -> None:
    if part.caption:
        sheet.line(part.caption, "strong")
    sheet.picture(part.drawing)


def _labels(sheet: _Sheet, part: doc.Labels) -> None:
    sheet.grid(_label_grid(part, sheet.say))


def _contents(sheet: _Sheet, part: doc.Contents) -> None:
    _grid(sheet, part.table)


def _label_grid(part: doc.Labels, say: Say) -> doc.Grid:
    """Labels as a table, a column for each of their lines."""
    longest = max((len(label.lines) for label in part.labels), default=1)
    heads = (f"{say('label_text')} {number}" for number in range(1, longest + 1))
    rows = (
        (*map(doc.Cell, label.lines), *[doc.Cell()] * (longest - len(label.lines)))
        for label in part.labels
    )
    return doc.Grid(tuple(map(doc.Column, heads)), tuple(rows))


def _photographs(sheet: _Sheet, part: doc.Photographs) -> None:
    if part.title:
        _heading(sheet, doc.Heading(part.title))
    for item in part.items:
        sheet.photograph(item)


def _next_row(sheet: _Sheet, _part: doc.PageBreak | doc.Gap) -> None:
    sheet.row += 1


_WRITERS: dict[type, Callable[[_Sheet, Any], None]] = {
    doc.Heading: _heading,
    doc.Paragraph: _paragraph,
    doc.Caution: _caution,
    doc.KeyValues: _key_values,
    doc.Grid: _grid,
    doc.Contents: _contents,
    doc.Picture: _picture,
    doc.Labels: _labels,
    doc.Photographs: _photographs,
    doc.PageBreak: _next_row,
    doc.Gap: _next_row,
}
