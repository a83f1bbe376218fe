"""Readings in the file: references off their limit, checks without readings, late instruments."""

import dataclasses

import pytest

from core.line.calibrating import PLACES
from core.model import CalibrationPoint, Check, Instrument
from tests.core.line.findings.sound import fires, line, quiet

# The sound line: 4-20 mA of a source nobody entered an accuracy for (± 0.5 % of 50 Hz), shown in
# steps of 0.1 Hz or finer. Twice the root of 0.25²/3 and less than 0.05²/3: 0.289 to 0.295 Hz.
GOOD, OFF = 0.28, 0.4


def points(off_hz=0.0, state="found", first=1, **more):
    """Readings at every place, up and down; the one at half of the way up lies off."""
    made = []
    for way in ("up", "down"):
        for place in PLACES:
            # From 0 to 50 Hz; the drive's minimum of 20 Hz holds what is below.
            hertz = max(20.0, 50.0 * place)
            hertz += off_hz if (way, place) == ("up", 0.5) else 0.0
            made.append(CalibrationPoint(first + len(made), 1, state, way, place, hertz, **more))
    return tuple(made)


def test_reference_off_limit_fires():
    entry = fires("reference-off-limit", line(calibration_points=points(OFF)))
    assert entry.level == "fault"
    assert entry.tag == "ST1"
    assert entry.values["read_hz"] == pytest.approx(25.4)
    assert entry.values["wanted_hz"] == pytest.approx(25.0)
    assert 0.288 < entry.values["limit_hz"] < 0.296
    assert entry.says("metric").startswith(
        "As found, the reference gives 25.4 Hz where 25 Hz is wanted; it can hold ± 0.28"
    )
    # What was set since counts.
    mended = (*points(OFF), *points(OFF + 0.2, "left", 101))
    assert (
        fires("reference-off-limit", line(calibration_points=mended))
        .says("us")
        .startswith("As left, the reference gives 25.6 Hz")
    )


def test_reference_off_limit_quiet():
    quiet("reference-off-limit", line())
    quiet("reference-off-limit", line(calibration_points=points(GOOD)))
    quiet("reference-off-limit", line(calibration_points=(*points(OFF), *points(0.0, "left", 101))))


def said(answer="yes"):
    return (Check(1, "reference-calibrated", 1, answer),)


def test_calibration_not_read_fires():
    entry = fires("calibration-not-read", line(checks=said()))
    assert entry.level == "advice"
    assert "0 of these 10 readings are in the file" in entry.says("metric")
    entry = fires("calibration-not-read", line(checks=said(), calibration_points=points()[:7]))
    assert "7 of these 10" in entry.says("metric")


def test_calibration_not_read_quiet():
    quiet("calibration-not-read", line())
    quiet("calibration-not-read", line(checks=said("not_applicable")))
    quiet("calibration-not-read", line(checks=said(), calibration_points=points()))


METER = Instrument(7, "Clamp meter", "C-12", "2026-05-31")


def late(day="2026-06-01 08:00"):
    return line(
        instruments=(METER,),
        checks=(
            Check(1, "no-load-current", 1, "reading", 1.2, "1.2 A", None, "", "C-12", "", day),
            # Not a reading: a yes proves nothing by an instrument.
            Check(2, "turns", 1, "yes", None, "", None, "", "C-12", "", day),
        ),
        calibration_points=points(instrument="Clamp meter C-12", done_at=day)[:2],
    )


def test_instrument_overdue_fires():
    entry = fires("instrument-overdue", late())
    assert entry.level == "advice"
    assert entry.place.table == "instrument"
    assert entry.place.record_id == METER.id
    assert entry.says("metric") == (
        "Readings taken with Clamp meter C-12 after its calibration ran out on 2026-05-31: 3."
    )


def test_instrument_overdue_quiet():
    quiet("instrument-overdue", late("2026-05-31 23:00"))
    quiet("instrument-overdue", late("some day"))
    unknown = dataclasses.replace(METER, calibration_due=None)
    quiet("instrument-overdue", dataclasses.replace(late(), instruments=(unknown,)))


def test_a_reading_as_left_takes_the_place_of_that_one_alone():
    # Off at half of the way up; as left only 0 % was read, which the drive's minimum holds.
    one = points(0.0, "left", 101)[:1]
    entry = fires("reference-off-limit", line(calibration_points=(*points(OFF), *one)))
    assert entry.says("metric").startswith("As found, the reference gives 25.4 Hz")
    at_half = points(0.0, "left", 101)[2:3]
    quiet("reference-off-limit", line(calibration_points=(*points(OFF), *at_half)))


def test_half_as_found_and_half_as_left_are_no_whole_reading():
    half = (*points()[:5], *points(0.0, "left", 101)[5:])
    entry = fires("calibration-not-read", line(checks=said(), calibration_points=half))
    assert "5 of these 10" in entry.says("metric")


def test_a_later_calibration_does_not_reach_back_to_a_reading():
    held = late()
    text = "Clamp meter C-12, calibrated to 2026-05-31"
    checks = (dataclasses.replace(held.checks[0], instrument=text),)
    again = dataclasses.replace(METER, calibration_due="2027-06-10")
    entry = fires("instrument-overdue", line(instruments=(again,), checks=checks))
    assert entry.says("metric").endswith("ran out on 2026-05-31: 1.")


def test_a_due_day_of_another_form_stops_nothing():
    odd = dataclasses.replace(METER, calibration_due="31.5.2026")
    quiet("instrument-overdue", dataclasses.replace(late(), instruments=(odd,)))
