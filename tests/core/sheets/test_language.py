"""Sheets in another language than the stored one: the same sheets, nothing stored is changed."""

from dataclasses import replace

import pytest

from core.errors import InputError
from core.line import compute_line
from core.model import Check, Line
from core.sheets import SHEETS, printed_in
from core.sheets.language import instrument_in
from core.sheets.words import words_in
from tests.core.sheets import lines
from tests.core.sheets.test_calibration_parts import made as calibrated


def test_without_a_language_the_stored_one_stays():
    spanish = Line(language="es")
    assert printed_in(spanish, None) is spanish


def test_the_line_that_is_printed_is_not_changed():
    line = lines.line(1)
    assert printed_in(line, "es") == replace(line, language="es")
    assert line.language == "en"


def test_a_language_that_is_not_known_is_refused_with_those_that_are():
    with pytest.raises(InputError, match=r"'fr'.*en \(English\), es \(Spanish\)"):
        printed_in(lines.line(1), "fr")


@pytest.mark.parametrize("key", SHEETS)
def test_a_sheet_is_the_one_of_a_line_that_stores_the_language(key):
    """The results at hand serve: no word of theirs is in the language of the line."""
    english = lines.line(2)
    spanish = replace(english, language="es")
    build = SHEETS[key].build
    assert build(printed_in(english, "es"), compute_line(english)) == build(
        spanish, compute_line(spanish)
    )


@pytest.mark.parametrize(
    "stored",
    ["Multimeter M1, calibrated to 2027-03-31", "Multimeter M1, calibrado hasta 2027-03-31"],
)
def test_the_instrument_of_a_reading_is_told_in_the_language_of_the_sheet(stored):
    assert instrument_in(words_in("en"), stored) == "Multimeter M1, calibrated to 2027-03-31"
    assert instrument_in(words_in("es"), stored) == "Multimeter M1, calibrado hasta 2027-03-31"


@pytest.mark.parametrize("typed", ["", "Multimeter M1", "Clamp meter, lent by the neighbour"])
def test_an_instrument_as_typed_stays_as_it_was_typed(typed):
    assert instrument_in(words_in("es"), typed) == typed


def test_the_sheet_of_checks_tells_the_instruments_of_points_in_its_language():
    line = calibrated()
    points = tuple(
        replace(point, instrument="Tachometer T2, calibrated to 2027-05-31")
        for point in line.calibration_points
    )
    line = printed_in(replace(line, calibration_points=points), "es")
    document = SHEETS["check_results"].build(line, compute_line(line))
    assert "Tachometer T2, calibrado hasta 2027-05-31" in repr(document)
    assert "calibrated to" not in repr(document)


def test_the_sheet_of_checks_tells_the_instruments_of_readings_in_its_language():
    station = lines.line(1).stations[0]
    told = "Multimeter M1, calibrado hasta 2027-03-31"
    read = Check(1, "supply-voltage", station.id, answer="reading", value=230.0, instrument=told)
    line = replace(lines.line(1), language="es", checks=(read,))
    document = SHEETS["check_results"].build(printed_in(line, "en"), compute_line(line))
    assert "Multimeter M1, calibrated to 2027-03-31" in repr(document)
    assert "calibrado" not in repr(document)
