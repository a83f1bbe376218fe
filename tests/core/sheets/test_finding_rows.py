from core.line.findings import Finding, FindingRule, Place
from core.model import Acceptance
from core.sheets.entries import Entries
from core.sheets.finding_rows import (
    accepted_text,
    by_station,
    heaviest_first,
    place_cell,
    short_grid,
    told,
)
from tests.core.sheets import lines


def _finding(level, tag="B01", **values):
    rule = FindingRule(level, level, "It has {load_a}.", "It stops.", "Use {load_a}.", "by hand")
    return Finding(rule, 1 if tag else None, tag, Place("drive", 1), values or {"load_a": 3.0})


def test_the_heaviest_first_and_alike_ones_as_they_come():
    found = [_finding("advice"), _finding("fault", "B02"), _finding("fault"), _finding("blocker")]
    order = [(entry.level, entry.tag) for entry in heaviest_first(found)]
    assert order == [("blocker", "B01"), ("fault", "B02"), ("fault", "B01"), ("advice", "B01")]


def test_a_finding_in_short_has_sign_and_word_and_its_figures():
    entries = Entries.of(lines.line(1))
    grid = short_grid(entries, [_finding("advice"), _finding("blocker")])
    assert [[cell.text for cell in row] for row in grid.rows] == [
        ["■ Blocker", "It has 3 A.", "Use 3 A."],
        ["○ Advice", "It has 3 A.", "Use 3 A."],
    ]
    assert [row[0].tone for row in grid.rows] == ["strong", "plain"]
    assert told(entries, _finding("fault")) == "▲ Fault: It has 3 A."


def test_a_finding_of_no_station_is_about_the_line():
    assert place_cell(Entries.of(lines.line(1)), _finding("fault", "")).text == "Line"


def test_what_an_acceptance_lacks_is_said():
    text = accepted_text(Entries.of(lines.line(1)), Acceptance(1, "x", "y", "z", "", "", None))
    assert text == "Accepted by (no name), no day entered: no reason entered"


def test_findings_by_station_and_of_the_line():
    one, other, whole = _finding("fault"), _finding("advice"), _finding("fault", "")
    grouped = by_station([one, whole, other])
    assert list(grouped[1]) == [one, other]
    assert list(grouped[None]) == [whole]
    assert list(grouped[2]) == []
