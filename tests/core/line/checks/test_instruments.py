"""What a reading names as its instrument, and how the calibration of that stands."""

import datetime

import pytest

from core.line.checks.instruments import calibration_on, called, instrument_named
from core.model import Instrument, Line
from core.sheets.check_sheets import instrument_text

DAY = datetime.date(2026, 11, 25)
LINE = Line(
    instruments=(
        Instrument(1, "Multimeter", "M1", "2027-03-31"),
        Instrument(2, "Multimeter", "M10", "2026-11-24"),
        Instrument(3, "Clamp meter", "C7", "2026-11-25"),
        Instrument(4, "Stop watch", ""),
    )
)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Multimeter M1", 1), ("multimeter m10", 2), ("Multimeter M10, calibrated to 2026", 2),
        ("C7", 3), ("Clamp meter", 3), ("Stop watch", 4), ("Multimeter", None), ("", None),
        ("Multimeter M100", None), ("Drive's display", None),
    ],
)  # fmt: skip
def test_an_instrument_is_met_by_name_and_serial_number(text, number):
    found = instrument_named(LINE, text)
    assert (found.id if found else None) == number


@pytest.mark.parametrize(
    ("text", "standing"),
    [
        ("Multimeter M1", "current"), ("Multimeter M10", "overdue"),
        # The last day still counts.
        ("C7", "current"), ("Stop watch", "unknown"), ("Drive's display", "unknown"), (" ", "none"),
    ],
)  # fmt: skip
def test_calibration_is_told_as_it_stands_on_the_day(text, standing):
    found = calibration_on(LINE, text, DAY)
    assert found.standing == standing
    assert found.sentence()


def test_the_day_of_an_overdue_calibration_is_told():
    assert calibration_on(LINE, "M10", DAY).sentence() == "Its calibration ran out on 2026-11-24."


def test_a_reading_takes_the_day_of_calibration_with_it():
    meter, watch = LINE.instruments[0], LINE.instruments[3]
    assert instrument_text(LINE, meter) == "Multimeter M1, calibrated to 2027-03-31"
    spanish = Line(language="es")
    assert instrument_text(spanish, meter) == "Multimeter M1, calibrado hasta 2027-03-31"
    assert instrument_text(LINE, watch) == called(watch) == "Stop watch"
