from dataclasses import replace

import pytest

from core.line import compute_line
from core.line.findings import find
from core.line.service import enclosure_heats, supply_loads
from core.model import Acceptance, Enclosure, Supply
from core.sheets.document import Grid, KeyValues, Paragraph
from core.sheets.entries import Entries
from core.sheets.supply_parts import enclosure_parts, supply_parts
from tests.core.sheets.circuit_lines import changed, iec_line, nec_line

PANEL = Enclosure(
    1,
    "Panel 1",
    height_m=1.0,
    width_m=0.6,
    depth_m=0.3,
    mounting="single_wall",
    material="painted_steel",
    ambient_max_k=305.15,
    inside_max_k=323.15,
    fan_flow_m3_s=0.0,
)


def _supplies(line):
    results = compute_line(line)
    return list(supply_parts(Entries.of(line), find(results), supply_loads(results)))


def _enclosures(line):
    results = compute_line(line)
    return list(enclosure_parts(Entries.of(line), find(results), enclosure_heats(results)))


def _loads(line):
    rows = [row for part in _supplies(line) if isinstance(part, KeyValues) for row in part.rows]
    return {row.label: (row.cell.with_unit, row.remark) for row in rows}


def _texts(parts):
    return [part.text for part in parts if isinstance(part, Paragraph)]


def _heat_row(line):
    grid = next(part for part in _enclosures(line) if isinstance(part, Grid))
    return [cell.with_unit for cell in grid.rows[0]]


def test_load_per_line_feeder_balance_and_demand():
    # Two drives of 9 A, between L1 and L2, and from L1 to N; half of all at once; 2 A beside them.
    # L1: 0.5·18 + 2 = 11 A; L2: 0.5·9 + 2 = 6.5 A; mean 8.75 A, off by 2.25/8.75 = 25.71 %.
    # Feeder in L1, 430.24: 1.25·9 + 9 + 2 less the half of 18 that rests: 13.25 A.
    line = changed(nec_line(2, demand=0.5, other_load_a=2.0), 1, supply_lines="L1 N")
    loads = _loads(line)
    assert loads["Load in L1"][0] == "11 A"
    assert loads["Load in L2"][0] == "6.5 A"
    assert "Load in L3" not in loads
    assert loads["Unevenness of the lines"][0] == "25.71 %"
    assert loads["Demand reckoned with"] == (
        "50 %",
        "as entered: share of all drives that may run at once",
    )
    assert loads["Heaviest line, of service rating"][0] == "11 %"
    feeder, basis = loads["Current the feeder has to carry"]
    assert feeder == "13.25 A"
    assert "430.24" in basis


def test_the_feeder_by_iec_rules_is_the_heaviest_line():
    loads = _loads(iec_line(3))
    assert loads["Current the feeder has to carry"][0] == "27 A"
    assert "IEC 60364-4-43:2008" in loads["Current the feeder has to carry"][1]


def test_the_neutral_is_said_to_be_an_estimate():
    # On a single-phase line-to-neutral supply the neutral carries what the line carries: 2·9 A.
    current, basis = _loads(iec_line(2))["Current in the neutral"]
    assert current == "18 A"
    assert "estimate" in basis


def test_a_demand_that_nobody_entered_is_said():
    assert _loads(iec_line(1, demand=None))["Demand reckoned with"][1] == (
        "not entered, so all drives at once"
    )


def test_estimated_and_unknown_inputs_are_named():
    line = iec_line(2)
    line = replace(line, drive_types=(replace(line.drive_types[0], input_current_1ph_a=None),))
    line = changed(line, 1, supply_lines=None)
    texts = _texts(_supplies(line))
    assert any(text.startswith("Rated input current not") and "B01" in text for text in texts)
    assert "Left out of these sums, as their input current is not known: B02." in texts


def test_a_finding_about_a_supply_stands_with_it_and_shows_who_accepted_it():
    line = iec_line(3, service_rating_a=20.0)
    found = next(f for f in find(compute_line(line)).found if f.key == "service-overloaded")
    assert f"■ Blocker: {found.says('metric')}" in _texts(_supplies(line))
    held = Acceptance(1, found.mark, found.key, "line", "A. N. Other", "never together", None)
    texts = _texts(_supplies(replace(line, acceptances=(held,))))
    assert "Accepted by A. N. Other, no day entered: never together" in texts


def test_a_supply_that_feeds_nothing_has_no_load():
    base = iec_line()
    parts = _supplies(replace(base, supplies=(*base.supplies, Supply(2, "Spare"))))
    assert "No drive of this line is fed from it." in _texts(parts)
    labels = [row.label for part in parts if isinstance(part, KeyValues) for row in part.rows]
    assert labels.count("Current in the neutral") == 1


def test_heat_of_an_enclosure_against_what_it_carries_away():
    # IEC TR 60890, on a wall, alone: top 1.4, front and sides 0.9, back 0.5 of their areas:
    # 0.18·1.4 + 0.6·0.9 + 2·0.3·0.9 + 0.6·0.5 = 1.632 m²; 5.5 W/(m²·K) · 1.632 m² · 18 K = 161.6 W.
    line = iec_line()
    kind = replace(line.drive_types[0], losses_w=40.0)
    line = replace(line, enclosures=(PANEL,), drive_types=(kind,))
    row = _heat_row(line)
    assert row[:2] == ["Panel 1", "40 W"]
    assert float(row[2].removesuffix(" W")) == pytest.approx(161.6, abs=0.1)
    assert row[-2:] == ["✓ No finding", "losses as entered on the drive types"]


def test_an_enclosure_that_gets_too_hot():
    line = iec_line()
    kind = replace(line.drive_types[0], losses_w=400.0)
    line = replace(line, enclosures=(PANEL,), drive_types=(kind,))
    assert _heat_row(line)[-2] == "▲ Fault"
    assert any(text.startswith("▲ Fault: Enclosure Panel 1") for text in _texts(_enclosures(line)))


def test_what_a_heat_balance_lacks_is_said():
    row = _heat_row(replace(iec_line(), enclosures=(replace(PANEL, material=None),)))
    assert row[-2] == "□ Not judged: heat"
    assert "lacking: material" in row[-1]
    assert "losses not entered, so estimated: B01" in row[-1]


def test_a_drive_whose_losses_nobody_knows_is_named():
    line = iec_line()
    motor = replace(line.stations[0].motors[0], power_w=None)
    bare = replace(line.stations[0], motors=(motor,))
    kind = replace(line.drive_types[0], losses_w=None)
    line = replace(line, stations=(bare,), drive_types=(kind,), enclosures=(PANEL,))
    row = _heat_row(line)
    assert row[1] == "0 W"
    assert row[-1] == "left out, as their losses are not known: B01"
