"""The line that every test of a rule spoils has nothing wrong, under both wiring rules."""

from core.line import compute_line
from core.line.findings import find
from tests.core.line.findings import sound


def test_sound_line_has_no_finding():
    assert [entry.says("metric") for entry in find(compute_line(sound.line())).found] == []


def test_three_sound_stations_on_three_lines_have_no_finding():
    three = [sound.numbered(number, drive={"supply_lines": f"L{number} N"}) for number in (1, 2, 3)]
    assert [entry.says("metric") for entry in find(compute_line(sound.line(*three))).found] == []
