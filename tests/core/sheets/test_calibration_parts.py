"""Calibration on paper and in a spreadsheet: points, figures, chart, what to set; blank rows."""

import dataclasses
import io

import openpyxl
import pypdfium2
import pytest

from core.line import compute_line
from core.model import SpeedReference
from core.sheets import SHEETS
from core.sheets.document import Grid, Heading, KeyValues, Picture
from core.sheets.pdf import pdf_bytes
from core.sheets.xlsx import xlsx_bytes
from tests.core.line.builders import line, station
from tests.core.line.test_calibrating import ends, narrow, points

READ = (
    *points(narrow, instrument="Meter 7", person="Ann", done_at="2026-11-25 14:30"),
    *ends("wanted", 0.0, 60.0),
    *ends("set", 0.0, 60.0),
    *points(lambda x, _: 60.0 * x + 0.1, "left", speed_m_s=0.2),
)


def made(language="en", read=READ):
    return line(station(), calibration_points=read, language=language)


def section(language="en", **given):
    held = made(language, **given)
    document = SHEETS["check_results"].build(held, compute_line(held))
    return document, document.sections[-1]


def grids(parts):
    return [part for part in parts if isinstance(part, Grid)]


def test_points_figures_corrections_and_chart_stand_in_the_check_results():
    _, last = section()
    assert last.title == "Calibration of speed references"
    found, mend, left, _ = grids(last.parts)
    assert [cell.with_unit for cell in found.rows[0]] == [
        "Upwards", "0 %", "0 Hz", "1.5 Hz", "1.5 Hz", "✗ out", "Meter 7", "Ann",
        "2026-11-25 14:30",
    ]  # fmt: skip
    assert len(found.rows) == len(left.rows) == 10
    # By hand: 60 / 0.975 = 61.54; below the listed 0 Hz the bottom cannot go.
    assert [cell.text for cell in mend.rows[1]][:6] == [
        "Top", "ref-high", "hertz at the top", "60.00", "61.54", "Hz",
    ]  # fmt: skip
    assert [cell.text for cell in mend.rows[0]][4] == "stays"
    values = {
        row.label: row.cell.with_unit
        for part in last.parts
        if isinstance(part, KeyValues)
        for row in part.rows
    }
    assert values["Hysteresis"] == "0 Hz"
    assert values["Limit, ± (k = 2)"] == "0.3465 Hz"
    assert len([part for part in last.parts if isinstance(part, Picture)]) == 1


def test_speeds_read_have_columns_of_their_own_only_where_there_are_any():
    _, last = section()
    found, _, left, _ = grids(last.parts)
    assert "Speed read" not in [column.heading for column in found.columns]
    assert "Speed read" in [column.heading for column in left.columns]


def test_a_line_without_readings_has_no_such_section():
    document, last = section(read=())
    assert last.title != "Calibration of speed references"
    assert "Calibration" not in " ".join(part.title for part in document.sections)


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", ("As found", "Zero error", "61.54", "✗ Out of the limit", "Meter 7")),
        ("es", ("Como se encontró", "Error de cero", "61.54", "✗ Fuera del límite", "Meter 7")),
    ],
)
def test_paper_and_spreadsheet_hold_the_same(language, words):
    document, _ = section(language)
    with pypdfium2.PdfDocument(pdf_bytes(document)) as held:
        paper = " ".join(page.get_textpage().get_text_bounded() for page in held)
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(document)))
    cells = " ".join(str(c.value) for sheet in book for row in sheet.iter_rows() for c in row)
    for word in words:
        assert word in paper
        assert word in cells


def test_notes_and_lacks_are_told_in_spanish():
    read = (*points(narrow, ways=("up",)),)
    _, last = section("es", read=read)
    texts = " ".join(
        cell.text for grid in grids(last.parts) for row in grid.rows for cell in row
    ) + " ".join(
        row.remark for part in last.parts if isinstance(part, KeyValues) for row in part.rows
    )
    assert "Haría falta -1.58 Hz; la lista llega hasta 0 Hz hacia abajo." in texts
    assert "Por encima de la frecuencia máxima de 60 Hz, que sigue limitando." in texts
    assert "falta: lecturas al subir y al bajar en un mismo lugar" in texts
    assert "señal ± 0.5 %" in texts


def test_field_sheets_have_blank_rows_where_a_signal_sets_the_speed():
    wired = made(read=())
    keypad = dataclasses.replace(
        wired, stations=(station(reference=SpeedReference(1, "keypad", now_hz=30.0)),)
    )
    for held, rows in ((wired, 10), (keypad, 0)):
        parts = SHEETS["field_sheets"].build(held, compute_line(held)).sections[-1].parts
        heads = [p.text for p in parts if isinstance(p, Heading)]
        assert ("Calibration of the speed reference" in heads) is bool(rows)
        blank = [g for g in grids(parts) if g.columns[0].heading == "Turned"]
        assert sum(len(g.rows) for g in blank) == rows
    first = next(
        g
        for g in grids(SHEETS["field_sheets"].build(wired, compute_line(wired)).sections[-1].parts)
        if g.columns[0].heading == "Turned"
    )
    assert [cell.with_unit for cell in first.rows[1]] == ["Upwards", "25 %", "15 Hz", *[""] * 5]
