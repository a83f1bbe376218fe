"""The picture shows every station and flow, and nothing on it lies on anything else."""

import pytest
from hypothesis import given, settings

from core.errors import InputError
from core.sheets.drawing import Group, Round, Shape, Stroke, Words
from core.sheets.drawn_text import words_box
from core.sheets.line_picture import (
    PAGE,
    PictureData,
    PictureFlow,
    PicturePair,
    PictureStation,
    line_picture,
)
from core.sheets.picture_layout import lay_out
from core.sheets.picture_symbols import HIGH, WIDE
from tests.core.sheets import pictures


def _texts(drawing):
    return [item for item in drawing.flat() if isinstance(item, Words)]


def _said(drawing):
    return " ".join(words.text for words in _texts(drawing))


def _groups(drawing):
    return {item.station_id: item for item in drawing.items if isinstance(item, Group)}


def _overlap(one, other, by=0.01):
    return (
        one[0] < other[2] - by
        and other[0] < one[2] - by
        and one[1] < other[3] - by
        and other[1] < one[3] - by
    )


def _legs(stroke):
    """Boxes of the straight parts of a line along the axes."""
    for (x1, y1), (x2, y2) in zip(stroke.points, stroke.points[1:], strict=False):
        yield min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def assert_nothing_overlaps(data, page=PAGE):
    drawing = line_picture(data, page)
    boxes = [words_box(words) for words in _texts(drawing)]
    for at, box in enumerate(boxes):
        assert box[0] >= 0
        assert box[1] >= 0
        assert box[2] <= drawing.width
        assert box[3] <= drawing.height
        assert not any(_overlap(box, other) for other in boxes[at + 1 :])
    strokes = [item for item in drawing.items if isinstance(item, Stroke)]
    for leg in (leg for stroke in strokes for leg in _legs(stroke)):
        line = (leg[0] - 0.02, leg[1] - 0.02, leg[2] + 0.02, leg[3] + 0.02)
        assert not any(_overlap(line, box) for box in boxes)
    assert_ways_stay_clear(data, page)


def assert_ways_stay_clear(data, page):
    layout = lay_out(data, page)
    symbols = [
        (cell.x + 0.1, cell.middle - HIGH / 2, cell.x + WIDE - 0.1, cell.middle + HIGH / 2)
        for cell in layout.cells.values()
    ]
    legs = [(way, leg) for way in layout.ways for leg in _legs(way)]
    for at, (way, leg) in enumerate(legs):
        line = (leg[0] - 0.02, leg[1] - 0.02, leg[2] + 0.02, leg[3] + 0.02)
        assert not any(_overlap(line, symbol) for symbol in symbols)
        for other, other_leg in legs[at + 1 :]:
            if way.flow.to_id != other.flow.to_id:
                assert not _on_each_other(leg, other_leg)


def _on_each_other(one, other):
    """Whether two lines run along each other for more than a point."""
    for along, across in ((0, 1), (1, 0)):
        flat = one[across] == one[across + 2] and other[across] == other[across + 2]
        if flat and abs(one[across] - other[across]) < 0.5:
            return min(one[along + 2], other[along + 2]) - max(one[along], other[along]) > 0.5
    return False


def test_every_station_is_a_group_that_tells_what_it_shows():
    drawing = line_picture(pictures.demo())
    groups = _groups(drawing)
    assert sorted(key for key in groups if key is not None) == list(range(1, 17))
    assert groups[5].tip == (
        "A05 Washer brushes, even rows, reverse, Brush bed, reverse, planned 106.1 ft/min, "
        "now 112.6 ft/min, 49.0 Hz, 16.3 mA, Fault · 2 open, "
        "with A04 16.9 % ± 2.1 % ✓ holds, → to A06 5.9 fruit/s."
    )
    assert drawing.told.splitlines()[0] == "Line of 16 stations, in the order of the flow."
    assert groups[5].tip in drawing.told.splitlines()


def test_all_figures_stand_on_the_picture():
    said = _said(line_picture(pictures.demo()))
    for text in (
        "planned 125.7 ft/min",
        "now 125.6 ft/min",
        "54.6 Hz · 58 % knob",
        "bottleneck · 99 % used",
        "49.0 Hz · reverse · 16.3 mA",
        "Fault · 2 open",
        "Blocker · 1 open",
        "Advice · 1 open",
        "16.9 % ± 2.1 % ✓ holds",
        "with A09 1.564 ± 0.012",
        "5.9 fruit/s",
    ):
        assert text in said
    assert "26 % ± 0.6 % ✗ does not hold" in said.replace("  ", " ")


def test_branches_stand_above_one_another_and_the_flow_goes_right():
    boxes = {key: group.box for key, group in _groups(line_picture(pictures.demo())).items()}
    assert boxes[4][0] == boxes[5][0]
    assert boxes[10][0] == boxes[11][0]
    assert boxes[4][1] + boxes[4][3] <= boxes[5][1]
    assert boxes[3][0] < boxes[4][0] < boxes[6][0]
    assert boxes[16][1] > boxes[8][1]


def test_returns_are_dashed_and_culls_have_dashes_of_their_own():
    dashes = {item.dash for item in line_picture(pictures.demo()).items if isinstance(item, Stroke)}
    assert len(dashes) == 3
    assert () in dashes


@pytest.mark.parametrize("count", [1, 2, 10, 24, 40, 200])
def test_nothing_overlaps_however_long_the_line(count):
    data = pictures.chain(count, name="Washer brushes, odd rows", planned="125.7 ft/min")
    drawing = line_picture(data)
    texts = [words_box(words) for words in _texts(drawing)]
    assert max(box[2] for box in texts) <= drawing.width
    if count <= 40:
        assert_nothing_overlaps(data)


@pytest.mark.parametrize("page", [PAGE, (300.0, 800.0), (3000.0, 100.0), (60.0, 60.0)])
def test_nothing_overlaps_on_the_demo_line_whatever_the_page(page):
    assert_nothing_overlaps(pictures.demo(), page)


@settings(max_examples=60)
@given(pictures.any_line())
def test_nothing_overlaps_whatever_the_flow(data):
    assert_nothing_overlaps(data)


def test_the_more_room_the_fewer_rows():
    rows = [
        len({cell.band for cell in lay_out(pictures.chain(12), page).cells.values()})
        for page in ((160.0, 5000.0), (700.0, 450.0), (5000.0, 450.0))
    ]
    assert rows[0] == 12
    assert rows[0] > rows[1] > rows[2] == 1


def test_equal_lines_give_equal_drawings():
    assert line_picture(pictures.demo()) == line_picture(pictures.demo())


def test_a_station_that_no_flow_touches_stands_below_under_its_heading():
    one, two, three = (PictureStation(key, f"A{key}") for key in (1, 2, 3))
    drawing = line_picture(PictureData((one, two, three), (PictureFlow(1, 3),)))
    boxes = {key: group.box for key, group in _groups(drawing).items()}
    (heading,) = [words for words in _texts(drawing) if words.text == "Not in the flow"]
    assert boxes[1][1] + boxes[1][3] < heading.at[1] < boxes[2][1]


def test_a_line_without_stations_says_so():
    assert _said(line_picture(PictureData(()))) == "No station has been entered."


@pytest.mark.parametrize(
    ("flows", "pairs", "told"),
    [
        ((PictureFlow(1, 9),), (), "9"),
        ((), (PicturePair(8, 1),), "8"),
    ],
)
def test_a_flow_or_pair_to_nowhere_is_refused(flows, pairs, told):
    with pytest.raises(InputError, match=f"names the station ids {told}"):
        PictureData((PictureStation(1, "A1"),), flows, pairs)


def test_two_stations_with_one_id_are_refused():
    with pytest.raises(InputError, match="Several stations have the id 1"):
        PictureData((PictureStation(1, "A1"), PictureStation(1, "A2")))


def test_levels_are_told_by_shape():
    drawn = {}
    for level in ("advice", "fault", "blocker"):
        data = PictureData((PictureStation(1, "A1", level=level, open_findings=1),))
        (group,) = _groups(line_picture(data)).values()
        drawn[level] = [item for item in group.items if getattr(item, "ink", None) == level]
    assert isinstance(drawn["advice"][0], Round)
    assert [len(item.points) for item in drawn["fault"] if isinstance(item, Shape)] == [3]
    assert [len(item.points) for item in drawn["blocker"] if isinstance(item, Shape)] == [4]
