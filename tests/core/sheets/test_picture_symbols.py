import pytest

from core.model.choices import STATION_KINDS
from core.sheets.drawing import Round, Shape, Stroke, Words
from core.sheets.drawn_text import words_box
from core.sheets.picture_symbols import HIGH, TURN_ROOM, WIDE, level_mark, symbol, turn_arrow


def _extent(item):
    if isinstance(item, Round):
        (x, y), r = item.centre, item.radius
        if item.sweep < 360.0:
            return (x, y, x, y)
        return (x - r, y - r, x + r, y + r)
    if isinstance(item, Words):
        return words_box(item)
    xs, ys = zip(*item.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("kind", [*STATION_KINDS, "no such kind"])
def test_a_symbol_stays_in_its_box(kind):
    for item in symbol(kind, "forward", 100.0, 50.0):
        left, top, right, bottom = _extent(item)
        assert left >= 100.0 - 0.5
        assert right <= 100.0 + WIDE + 0.5
        assert top >= 50.0 - HIGH / 2 - TURN_ROOM
        assert bottom <= 50.0 + HIGH / 2 + 0.5


def test_each_kind_has_a_symbol_of_its_own():
    drawn = [symbol(kind, "forward", 0.0, 0.0) for kind in STATION_KINDS]
    assert len(set(drawn)) == len(STATION_KINDS)


def test_the_arrow_points_the_way_it_turns():
    for turn, side in (("forward", 1), ("reverse", -1)):
        (head,) = [item for item in turn_arrow(turn, (0.0, 0.0)) if isinstance(item, Shape)]
        assert side * head.points[0][0] > max(side * x for x, _ in head.points[1:])


def test_a_pump_is_a_circle_with_a_triangle_that_points_with_the_flow():
    items = symbol("pump", "forward", 0.0, 0.0)
    (circle,) = [item for item in items if isinstance(item, Round) and item.sweep == 360.0]
    (triangle,) = [item for item in items if isinstance(item, Shape) and len(item.points) == 3
                   and item.fill is None]  # fmt: skip
    tip = max(triangle.points)
    assert tip == pytest.approx((circle.centre[0] + circle.radius, 0.0))
    for x, y in triangle.points:
        assert (x - circle.centre[0]) ** 2 + y**2 == pytest.approx(circle.radius**2)


def test_no_level_has_no_mark_and_each_level_its_own():
    assert level_mark("", 0.0, 0.0, 6.0) == ()
    drawn = [level_mark(level, 0.0, 0.0, 6.0) for level in ("advice", "fault", "blocker")]
    assert [type(items[0]) for items in drawn] == [Round, Shape, Shape]
    assert len(drawn[1][0].points) == 3
    assert len(drawn[2][0].points) == 4
    assert any(isinstance(item, Stroke) for item in drawn[2])
