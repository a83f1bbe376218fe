from collections import Counter
from dataclasses import replace

import pytest

from core.line import compute_line
from core.line.findings import find
from core.model import Acceptance
from core.sheets.document import Grid, Heading, Paragraph
from core.sheets.findings_sheet import findings_sheet
from tests.core.sheets import lines
from tests.core.sheets.circuit_lines import iec_line, with_power_cable


def _sheet(line, **how):
    return findings_sheet(line, compute_line(line), **how)


def _found(line):
    return find(compute_line(line))


def _rows(document, title):
    parts = [part for entry in document.sections if entry.title == title for part in entry.parts]
    return [[cell.text for cell in row] for part in parts for row in getattr(part, "rows", ())]


def _texts(document):
    parts = [part for section in document.sections for part in section.parts]
    return [part.text for part in parts if isinstance(part, Paragraph | Heading)]


def _counts(document):
    grid = next(part for part in document.sections[0].parts if isinstance(part, Grid))
    return {row[0].text: (row[2].number, row[3].number) for row in grid.rows}


@pytest.fixture
def faulty():
    """A line with findings of every level; that of its earth conductor is accepted."""
    line = with_power_cable(iec_line(2, service_rating_a=10.0), earth_m2=0.75e-6)
    mark = next(f.mark for f in _found(line).found if f.key == "earth-conductor-too-small")
    held = Acceptance(1, mark, "earth", "B01", "A. N. Other", "until the rebuild", "2026-03-01")
    gone = Acceptance(2, "0" * 16, "voltage-drop", "B02", "A. N. Other", "short run", "2026-02-01")
    return replace(line, acceptances=(held, gone))


def test_every_open_finding_is_there_with_all_that_it_says(faulty):
    wanted = {
        (f.tag or "Line", f.says("metric"), f.follows("metric"), f.mend("metric"), f.rule.source)
        for f in _found(faulty).open
    }
    rows = _rows(_sheet(faulty), "Open findings")
    assert {(row[1], *row[3:]) for row in rows} == wanted
    assert len(rows) == len(wanted)


def test_the_heaviest_come_first_and_each_level_is_one_group(faulty):
    levels = [row[0] for row in _rows(_sheet(faulty), "Open findings")]
    assert list(dict.fromkeys(levels)) == ["■ Blocker", "▲ Fault", "○ Advice"]
    assert levels == sorted(levels, key=["■ Blocker", "▲ Fault", "○ Advice"].index)


def test_counts_are_those_of_the_rules(faulty):
    found = _found(faulty)
    levels = Counter(entry.level for entry in found.open)
    assert _counts(_sheet(faulty)) == {
        "■ Blocker": (levels["blocker"], 1),
        "▲ Fault": (levels["fault"], 0),
        "○ Advice": (levels["advice"], 0),
    }


def test_an_accepted_finding_tells_who_why_and_when(faulty):
    rows = _rows(_sheet(faulty), "Accepted findings")
    assert rows[0][:2] == ["■ Blocker", "B01"]
    assert rows[0][2].startswith("The earth conductor has 0.75 mm²")
    assert rows[0][-3:] == ["A. N. Other", "until the rebuild", "2026-03-01"]
    open_ones = [row[3] for row in _rows(_sheet(faulty), "Open findings")]
    assert rows[0][2] not in open_ones


def test_an_acceptance_that_has_ended_is_told(faulty):
    rows = _rows(_sheet(faulty), "Accepted findings")
    assert rows[-1] == ["B02", "voltage-drop", "A. N. Other", "short run", "2026-02-01"]


def test_a_finding_whose_figures_change_is_open_again(faulty):
    document = _sheet(with_power_cable(faulty, earth_m2=1.0e-6))
    assert any("earth conductor has 1 mm²" in row[3] for row in _rows(document, "Open findings"))
    assert len(_rows(document, "Accepted findings")) == 2
    assert "Accepted earlier, no longer in force" in _texts(document)


def test_chosen_stations_and_the_line_as_a_whole(faulty):
    places = {row[1] for row in _rows(_sheet(faulty, station_ids=[2]), "Open findings")}
    assert places == {"Line", "B02"}


def test_none_is_said_and_so_is_what_nobody_could_judge():
    document = _sheet(lines.line(0))
    assert len(document.sections) == 1
    texts = _texts(document)
    assert "No open finding." in texts
    assert "No finding stands accepted." in texts
    assert any("lacking for the figures of: X99." in text for text in texts)


def test_a_line_with_all_entries_is_not_called_unfinished():
    assert not any("lacking for the figures" in text for text in _texts(_sheet(iec_line())))
