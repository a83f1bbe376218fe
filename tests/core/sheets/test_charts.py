"""Charts as drawings: values stand where they belong, words are there, nothing lies outside."""

import dataclasses
import itertools

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.sheets import charts
from core.sheets.chart_axes import Frame, tick_text, ticks
from core.sheets.drawing import Group, Round, Stroke, Words
from core.sheets.drawn_text import text_width, words_box

NUMBERS = st.floats(-1e6, 1e6, allow_nan=False)


@given(NUMBERS, NUMBERS, st.integers(2, 12))
def test_ticks_are_even_round_and_hold_both_ends(one, other, most):
    low, high = sorted((one, other))
    assume(high == low or high - low > 1e-4)
    found = ticks(low, high, most)
    steps = {round(b - a, 9) for a, b in itertools.pairwise(found)}
    assert len(found) >= 2
    assert max(steps) - min(steps) <= 1e-6 * max(abs(found[0]), abs(found[-1]), 1.0)
    if high > low:
        slack = 1e-6 * (high - low)
        assert found[0] <= low + slack
        assert found[-1] >= high - slack
        assert len(found) <= most + 2


def test_ticks_are_written_with_the_places_that_tell_them_apart():
    assert [tick_text(value, (0.0, 0.25, 0.5)) for value in (0.0, 0.25, 0.5)] == [
        "0.00", "0.25", "0.50",
    ]  # fmt: skip
    assert tick_text(40.0, (0.0, 20.0, 40.0)) == "40"


def test_a_frame_places_values_in_proportion():
    frame = Frame(10.0, 20.0, 100.0, 50.0, (0.0, 5.0, 10.0), (0.0, 1.0, 2.0))
    assert frame.at(0.0, 0.0) == (10.0, 70.0)
    assert frame.at(10.0, 2.0) == (110.0, 20.0)
    assert frame.at(5.0, 1.0) == (60.0, 45.0)
    assert frame.at(99.0, -9.0) == (110.0, 70.0)


def speeds(count):
    return [charts.Speed(f"A{n:02d}", 0.1 * n, 0.01, 0.1 * n + 0.02) for n in range(1, count + 1)]


def capacities(count):
    return [charts.Capacity(f"A{n:02d}", 4.0 + n, 5.0, n == 2) for n in range(1, count + 1)]


def travels(count):
    curve = tuple((float(x), 0.01 * x) for x in range(0, 101, 5))
    return [
        charts.Travel(f"A{n:02d}", curve, (60.0, 0.6), (55.0, 0.55)) for n in range(1, count + 1)
    ]


def ratios(count):
    curve = tuple((float(x), 7.0 + 0.01 * x) for x in range(20, 121, 5))
    return [charts.Ratio(f"Pair {n}", curve, 0.7, 4.5, 10.5) for n in range(1, count + 1)]


LONG = "conveyor " * 13 + "23"  # 119 signs, as a tag may have


def long(held):
    name = "name" if isinstance(held[0], charts.Ratio) else "tag"
    return [dataclasses.replace(one, **{name: f"{place} {LONG}"}) for place, one in enumerate(held)]


LONG_DRAWN = [
    *(charts.speed_chart(long(speeds(n)), "m/s") for n in (1, 16, 40)),
    charts.capacity_chart(long(capacities(16)), "/s"),
    *(charts.reference_chart(long(travels(n)), "m/s") for n in (1, 4, 16)),
    charts.ratio_chart(long(ratios(3))),
]
DRAWN = [
    *LONG_DRAWN,
    *(charts.speed_chart(speeds(n), "m/s") for n in (1, 16, 40, 200)),
    *(charts.capacity_chart(capacities(n), "/s") for n in (1, 16, 40)),
    *(charts.reference_chart(travels(n), "m/s") for n in (1, 4, 16, 40)),
    *(charts.ratio_chart(ratios(n)) for n in (1, 3)),
]


@pytest.mark.parametrize("drawing", DRAWN)
def test_nothing_lies_outside_of_the_drawing(drawing):
    for item in drawing.flat():
        if isinstance(item, Words):
            if item.turn:
                assert (item.turn, item.anchor) == (-90, "end")  # it hangs down from its anchor
                foot = item.at[1] + text_width(item.text, item.size, item.strong)
                assert foot <= drawing.height + 0.5, item.text
                continue
            left, top, right, bottom = words_box(item)
            assert -0.5 <= left <= right <= drawing.width + 0.5, item.text
            assert -0.5 <= top <= bottom <= drawing.height + 0.5, item.text
            continue
        points = (item.centre,) if isinstance(item, Round) else item.points
        for x, y in points:
            assert -0.5 <= x <= drawing.width + 0.5
            assert -0.5 <= y <= drawing.height + 0.5


@pytest.mark.parametrize("drawing", DRAWN)
def test_words_do_not_lie_on_one_another(drawing):
    boxes = [
        (item.text, words_box(item))
        for item in drawing.flat()
        if isinstance(item, Words) and not item.turn
    ]
    for place, (text, one) in enumerate(boxes):
        for other_text, other in boxes[place + 1 :]:
            apart_x = one[2] <= other[0] + 0.6 or other[2] <= one[0] + 0.6
            apart_y = one[3] <= other[1] + 0.6 or other[3] <= one[1] + 0.6
            assert apart_x or apart_y, (text, other_text)


@pytest.mark.parametrize("drawing", LONG_DRAWN)
def test_what_is_shortened_is_told_whole(drawing):
    held = [item for item in drawing.items if isinstance(item, Group)]
    assert all(group.tip.endswith(LONG) for group in held)
    for group in held:
        [words] = group.items
        assert words.text.endswith("…")
        assert group.tip.startswith(words.text[:-1])
        _, _, wide, high = group.box
        assert min(wide, high) > 5.0  # enough to point at
    assert drawing.told.count(LONG) >= len(held)
    cut = [item for item in drawing.flat() if isinstance(item, Words) and "…" in item.text]
    assert len(cut) == len(held)


def test_a_long_tag_is_shortened_and_a_short_one_is_not():
    mixed = [charts.Speed("A01", 0.1, None, 0.1), charts.Speed(LONG, 0.1, None, 0.1)] * 8
    groups = [item for item in charts.speed_chart(mixed, "m/s").items if isinstance(item, Group)]
    assert [group.tip for group in groups] == [LONG] * 8


def test_the_bar_of_a_speed_reaches_as_far_as_its_uncertainty():
    drawing = charts.speed_chart([charts.Speed("A01", 1.0, 0.25, None)], "m/s")
    frame = Frame(52.0, 34.0, 691.0, 308.0, (0.0, 1.0), ticks(0.0, 1.25))
    strokes = [item.points for item in drawing.flat() if isinstance(item, Stroke)]
    ends = [points for points in strokes if points[0][0] == points[1][0] and len(points) == 2]
    heights = {tuple(round(y, 6) for _, y in points) for points in ends}
    assert (round(frame.at_y(0.75), 6), round(frame.at_y(1.25), 6)) in heights


def test_the_bottleneck_is_told_by_a_word():
    words = [
        i.text for i in charts.capacity_chart(capacities(4), "/s").flat() if hasattr(i, "text")
    ]
    assert words.count("bottleneck") == 1


def test_a_band_of_a_ratio_is_drawn_at_its_ends():
    drawing = charts.ratio_chart(ratios(1))
    dashed = [i for i in drawing.flat() if isinstance(i, Stroke) and i.ink == "good"]
    assert len(dashed) == 2
    assert all(stroke.dash for stroke in dashed)


@pytest.mark.parametrize(
    "drawing",
    [
        charts.speed_chart([], "m/s"),
        charts.speed_chart([charts.Speed("A01", None, None, None)], "m/s"),
        charts.capacity_chart([], "/s"),
        charts.reference_chart([charts.Travel("A01", ())], "m/s"),
        charts.ratio_chart([]),
    ],
)
def test_an_empty_chart_says_what_is_missing(drawing):
    [words] = [item for item in drawing.flat() if isinstance(item, Words)]
    assert words.text.startswith("Nothing to show yet: ")
    assert drawing.told == words.text
