import pytest

from core.sheets.drawing import Group
from core.sheets.picture_pages import line_pictures
from tests.core.sheets import pictures

PAGE = (757.0, 455.0)


def _ids(drawing):
    return [item.station_id for item in drawing.items if isinstance(item, Group)]


def test_a_short_line_is_one_picture():
    assert len(line_pictures(pictures.demo(), PAGE)) == 1


@pytest.mark.parametrize("count", [80, 200])
def test_a_long_line_is_in_as_many_pictures_as_can_be_read(count):
    named = {"name": "Washer brushes, odd rows", "planned": "1 m/s", "present": "1 m/s"}
    drawings = line_pictures(pictures.chain(count, **named), PAGE)
    assert len(drawings) > 1
    assert [key for drawing in drawings for key in _ids(drawing)] == list(range(1, count + 1))
    assert min(min(PAGE[0] / d.width, PAGE[1] / d.height) for d in drawings) >= 0.8


def test_what_leads_to_another_picture_is_told_at_both_ends():
    first, second = line_pictures(pictures.demo(), (420.0, 455.0))[:2]
    last_of_first, first_of_second = _ids(first)[-1], _ids(second)[0]
    assert f"→ to A{first_of_second:02}" in first.told
    assert f"← from A{last_of_first:02}" in second.told


def test_a_page_that_no_picture_fits_gives_one_for_each_step():
    assert len(line_pictures(pictures.chain(5), (10.0, 10.0))) == 5
