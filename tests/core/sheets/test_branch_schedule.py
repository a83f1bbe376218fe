"""The branch schedule, its expected figures from the tables of the rules or reckoned by hand."""

from dataclasses import replace

import pytest

from core.line import compute_line
from core.line.circuit_rules import NEC_DESIGN
from core.line.findings import find
from core.sheets.branch_schedule import branch_schedule
from core.sheets.document import CAUTION_ORDER, Caution, Grid, Heading, KeyValues, Paragraph
from core.sheets.words import words_in
from tests.core.sheets import lines
from tests.core.sheets.circuit_lines import changed, iec_line, nec_line, with_power_cable


def _sheet(line, **how):
    return branch_schedule(line, compute_line(line), **how)


def _section(document, title):
    return next(section for section in document.sections if section.title == title)


def _rows(document):
    grid = _section(document, "Branch circuits").parts[0]
    headings = [column.heading for column in grid.columns]
    shown = [[cell.with_unit for cell in row] for row in grid.rows]
    return [dict(zip(headings, row, strict=True)) for row in shown]


def _workings(document, medium="spreadsheet"):
    wanted = [entry for entry in document.sections_for(medium) if entry.title.startswith("How")]
    return [[cell.with_unit for cell in row] for row in wanted[0].parts[0].rows]


def test_a_circuit_by_iec_rules():
    # 1.5 mm², PVC, two loaded, method C: 19.5 A (IEC 60364-5-52:2009 Table B.52.2), 30 °C, alone.
    # Ratings of IEC 60898-1: 6, 10, 13, 16 A; the next above 9 A is 10 A. Earth like the lines up
    # to 16 mm² (IEC 60364-5-54:2011 Table 54.2). Drop by Annex G, with 0.0225 Ω·mm²/m, 0.08 mΩ/m:
    # 2·(0.0225·12/1.5·0.95 + 0.00008·12·0.3122)·9 = 3.083 V; of 230 V 1.341 %.
    assert _rows(_sheet(iec_line())) == [
        {
            "Supply": "Shed service",
            "Tag": "B01",
            "Fed from": "L1 and N",
            "Voltage": "230 V",
            "Input current": "9 A",
            "Design current": "9 A",
            "Branch protection": "F1",
            "Its rating": "16 A",
            "At least, by rule": "10 A",
            "At most, by maker": "not entered",
            "Conductor": "1.5 mm²",
            "Size at least": "1.5 mm²",
            "May carry": "19.5 A",
            "Earth conductor": "1.5 mm²",
            "Earth at least": "1.5 mm²",
            "Length": "12 m",
            "Drop": "1.341 %",
            "Verdict": "✓ No finding",
        }
    ]


def test_a_circuit_by_nec_rules():
    # 430.122: 1.25·9 = 11.25 A. Table 310.16 in the 60 °C column: 14 AWG 15 A, 12 AWG 20 A.
    # Table 430.250: 3/4 hp at 230 V 3.2 A; 250 % (Table 430.52) is 8 A, next size of 240.6: 15 A.
    # Table 250.122: 14 AWG for 15 A, grown as the lines (14 to 12 AWG): 12 AWG. Chapter 9 Table 9,
    # PVC, 12 AWG: 2.0 and 0.054 Ω/kft; 2·9·(2.0·0.95 + 0.054·0.3122)/304.8·12 = 1.358 V of 240 V.
    row = _rows(_sheet(nec_line()))[0]
    wanted = {
        "Fed from": "L1 and L2",
        "Voltage": "240 V",
        "Design current": "11.25 A",
        "Its rating": "15 A",
        "At most, by rule": "15 A",
        "Size at least": "14 AWG",
        "May carry": "20 A",
        "Earth at least": "12 AWG",
        "Drop": "0.566 %",
        "Verdict": "✓ No finding",
    }
    assert {heading: row[heading] for heading in wanted} == wanted


def test_a_block_tells_how_each_figure_comes_about():
    line = nec_line()
    rows = {row[2]: row[3:] for row in _workings(_sheet(line))}
    figures = compute_line(line).stations[0].figures
    assert rows["Current the conductor has to carry"] == [
        "11.25 A",
        "1.25 · rated input current",
        "rated input current 9 A",
        "NEC 2023 (NFPA 70-2023) 430.122(A)",
        "An aid: local code, the authority and a licensed person decide.",
    ]
    carries = rows["Conductor as entered may carry"]
    assert carries[2] == (
        "design 11.25 A; area 12 AWG; insulation 90 °C; ambient 30 °C; conductors 3"
    )
    assert carries[4].startswith("estimate, assumes terminals not marked: 60 °C")
    for key in ("protection_highest_a", "earth_needed_m2", "branch_drop_share"):
        assert rows[figures[key].label][3] == figures[key].source


def test_how_a_circuit_is_laid_stands_before_its_figures_on_paper_and_in_the_table():
    document = _sheet(nec_line())
    told = _workings(document)[0][5]
    for words in ("Insulation 90 °C conductors", "Installed Conduit, PVC", "Its rating 15 A"):
        assert words in told
    on_paper = _section(document, "How each figure comes about").parts[0]
    assert {row[2].text for row in on_paper.rows} == {told}
    assert on_paper.band_columns == 1


def test_the_first_page_has_the_cautions_then_the_rules_with_their_editions():
    for line, editions in (
        (iec_line(), ("IEC 60364-4-43:2008 433.1", "IEC 60364-5-52:2009 Annex G")),
        (nec_line(), ("NEC 2023 (NFPA 70-2023) 430.122(A)", "NEC 2023 (NFPA 70-2023) 250.122")),
    ):
        parts = _sheet(line).sections[0].parts
        levels = [part.level for part in parts if isinstance(part, Caution)]
        assert levels == sorted(levels, key=CAUTION_ORDER.index)
        assert len(levels) == 5
        at = parts.index(Heading("Rules and editions"))
        assert all(parts.index(part) < at for part in parts if isinstance(part, Caution))
        rules = next(part for part in parts[at:] if isinstance(part, KeyValues))
        told = " ".join(row.cell.text for row in rules.rows)
        assert all(edition in told for edition in editions)


def test_the_edition_told_for_a_feeder_is_that_of_the_circuits():
    edition = NEC_DESIGN.source.partition(" 430")[0]
    assert words_in("en")("feeder_basis_nec").startswith(f"{edition} 430.24")


@pytest.mark.parametrize(
    ("cable", "drive", "verdict"),
    [
        ({"earth_m2": 0.75e-6}, {}, "■ Blocker: earth"),
        # A 20 A breaker before a conductor that may carry 19.5 A.
        ({}, {"protection_a": 20.0}, "■ Blocker: conductor"),
        # 0.75 mm² stands in no table of current-carrying capacity.
        ({"conductor_m2": 0.75e-6}, {"protection_a": 6.0}, "▲ Fault: protection\n□ Not judged"),
        ({}, {"protection_a": 6.0}, "▲ Fault: protection"),
        # 100 m instead of 12 m: 8.33 times 1.341 % is 11.2 %, above 5 %.
        ({"length_m": 100.0}, {}, "○ Advice: voltage drop"),
        ({}, {"supply_lines": "L1 L2"}, "■ Blocker: feed"),
    ],
)
def test_verdicts_are_what_the_rules_say(cable, drive, verdict):
    line = changed(with_power_cable(iec_line(), **cable), **drive)
    assert _rows(_sheet(line))[0]["Verdict"].startswith(verdict)
    words = [cell for row in _workings(_sheet(line)) for cell in row]
    told = [entry.says("metric") for entry in find(compute_line(line)).found]
    assert any(text in words for text in told)


def test_what_nobody_entered_is_said_in_row_and_verdict():
    base = iec_line()
    bare = replace(base, stations=(*base.stations, lines.line(0).stations[0]))
    row = _rows(_sheet(bare))[-1]
    assert (row["Supply"], row["Tag"]) == ("No supply chosen", "X99")
    for heading in ("Fed from", "Voltage", "Its rating", "Conductor", "Earth conductor", "Length"):
        assert row[heading] == "not entered"
    for heading in ("Input current", "Size at least", "May carry", "Earth at least", "Drop"):
        assert row[heading] == "–"
    assert row["Verdict"] == (
        "□ Not judged: feed, protection, conductor, earth, voltage drop, residual-current device"
    )
    remarks = [cells[7] for cells in _workings(_sheet(bare)) if cells[0] == "X99"]
    assert any(remark.startswith("lacking: ") for remark in remarks)


def test_circuits_of_one_supply_stand_together():
    base = iec_line(3)
    line = changed(replace(base, stations=base.stations[:3]), 1, supply_id=None)
    rows = _rows(_sheet(line))
    assert [row["Tag"] for row in rows] == ["B01", "B03", "B02"]
    assert [row["Supply"] for row in rows] == ["Shed service"] * 2 + ["No supply chosen"]


def test_chosen_stations_only():
    document = _sheet(iec_line(3), station_ids=[2])
    assert [row["Tag"] for row in _rows(document)] == ["B02"]
    assert {row[0] for row in _workings(document)} == {"B02"}


def test_an_empty_line_has_a_schedule_too():
    document = _sheet(lines.line(0, stations=(), supplies=(), enclosures=()))
    texts = [
        part.text
        for section in document.sections
        for part in section.parts
        if isinstance(part, Paragraph)
    ]
    for words in ("No station", "No supply has", "No enclosure has"):
        assert any(text.startswith(words) for text in texts)
    assert not any(isinstance(part, Grid) for entry in document.sections for part in entry.parts)
