"""The chart of a calibration: readings stand where they belong, each kind by its own shape."""

import pytest

from core.sheets.calibration_chart import Mark, Run, calibration_chart
from core.sheets.drawing import Shape, Stroke, Words
from core.sheets.drawn_text import words_box

PLACES = (0.0, 25.0, 50.0, 75.0, 100.0)


def run(state, direction, deviation=0.2, held=()):
    marks = tuple(Mark(place, deviation, place in held) for place in PLACES)
    return Run(state, direction, marks)


EVERY = [
    run("found", "up"),
    run("found", "down", -0.4, (0.0,)),
    run("left", "up"),
    run("left", "down"),
]
DRAWN = [calibration_chart(EVERY, 0.6, size=size) for size in ((757.0, 250.0), (330.0, 220.0))]


def shapes(drawing):
    return [item for item in drawing.flat() if isinstance(item, Shape)]


@pytest.mark.parametrize("drawing", DRAWN)
def test_nothing_lies_outside_and_no_words_on_one_another(drawing):
    boxes = []
    for item in drawing.flat():
        points = item.points if not isinstance(item, Words) else ()
        if isinstance(item, Words):
            left, top, right, bottom = words_box(item)
            boxes.append((left, top, right, bottom, item.text))
            points = ((left, top), (right, bottom))
        for x, y in points:
            assert -0.5 <= x <= drawing.width + 0.5
            assert -0.5 <= y <= drawing.height + 0.5
    for place, one in enumerate(boxes):
        for other in boxes[place + 1 :]:
            apart_x = one[2] <= other[0] + 0.6 or other[2] <= one[0] + 0.6
            apart_y = one[3] <= other[1] + 0.6 or other[3] <= one[1] + 0.6
            assert apart_x or apart_y, (one, other)


def test_up_and_down_found_and_left_are_told_apart_by_shape():
    drawing = calibration_chart(EVERY, 0.6)
    tips_up = [s for s in shapes(drawing) if s.points[0][1] < s.points[1][1]]
    hollow = [s for s in shapes(drawing) if s.fill == "paper"]
    # Five readings in each of two runs, and one mark in the legend for each run.
    assert len(tips_up) == len(hollow) == 12
    assert len(shapes(drawing)) == 24


def test_a_reading_stands_as_far_from_zero_as_it_deviates():
    # The scale runs evenly: 0.6 Hz stands three times as far from the line at zero as 0.2 Hz.
    one, other = (calibration_chart([run("left", "up", d)], 0.6) for d in (0.2, 0.6))
    limits = [s for s in one.flat() if isinstance(s, Stroke) and s.ink == "good"]
    zero = sum(s.points[0][1] for s in limits[-2:]) / 2

    def height(drawing):
        return max(zero - sum(y for _, y in s.points[1:]) / 2 for s in shapes(drawing))

    base = height(calibration_chart([run("left", "up", 0.0)], 0.6))
    assert height(other) - base == pytest.approx(3.0 * (height(one) - base))


def test_the_limit_is_dashed_on_both_sides_and_named():
    drawing = calibration_chart([run("left", "up")], 0.61)
    dashed = [s for s in drawing.flat() if isinstance(s, Stroke) and s.ink == "good"]
    assert len(dashed) == 3  # both sides and the legend
    assert any(w.text == "limit ± 0.61 Hz" for w in drawing.flat() if isinstance(w, Words))


def test_without_a_limit_none_is_drawn():
    drawing = calibration_chart([run("left", "up")], None)
    assert not [s for s in drawing.flat() if isinstance(s, Stroke) and s.ink == "good"]


def test_readings_held_by_the_drive_are_crossed_out_and_said():
    texts = [w.text for w in DRAWN[0].flat() if isinstance(w, Words)]
    assert "held by the drive, not counted" in texts
    assert "as found, going down" in texts
    assert "0 % -0.40 Hz" in DRAWN[0].told


def test_no_readings_are_said():
    drawing = calibration_chart([], 0.6)
    assert drawing.told == "Nothing to show yet: no calibration points."
