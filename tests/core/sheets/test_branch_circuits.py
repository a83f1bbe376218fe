from dataclasses import replace

from core.line import compute_line
from core.line.findings import circuit_rules, feed_rules, find
from core.line.findings.view import STATION_RULES
from core.model import Acceptance
from core.sheets.branch_circuits import (
    PART_OF_FINDING,
    circuits_of,
    finding_remark,
    verdict_cell,
)
from core.sheets.entries import Entries
from tests.core.sheets.circuit_lines import changed, iec_line, nec_line, with_power_cable


def _first(line):
    results = compute_line(line)
    return circuits_of(results, find(results), [line.stations[0].id])[0]


def _verdict(line):
    return verdict_cell(Entries.of(line), _first(line))


def _accepted(line, key):
    mark = next(entry.mark for entry in _first(line).findings if entry.key == key)
    held = Acceptance(1, mark, key, "B01", "A. N. Other", "until the rebuild", "2026-03-01")
    return replace(line, acceptances=(held,))


def test_every_rule_about_circuit_and_feed_belongs_to_a_part_of_a_circuit():
    modules = {circuit_rules.__name__, feed_rules.__name__}
    keys = {key for key, (_, rule) in STATION_RULES.items() if rule.__module__ in modules}
    assert set(PART_OF_FINDING) == keys


def test_nothing_found_is_told_quietly():
    for line in (iec_line(), nec_line()):
        verdict = _verdict(line)
        assert (verdict.text, verdict.tone) == ("✓ No finding", "plain")


def test_the_heaviest_finding_comes_first_and_stands_out():
    line = with_power_cable(iec_line(), length_m=100.0, earth_m2=0.75e-6)
    verdict = _verdict(line)
    assert verdict.text.split("\n") == ["■ Blocker: earth", "○ Advice: voltage drop"]
    assert verdict.tone == "strong"


def test_a_device_that_a_drive_can_blind():
    assert _verdict(iec_line(rcd_type="ac")).text == "■ Blocker: residual-current device"
    assert _verdict(iec_line(rcd_type=None)).text == "□ Not judged: residual-current device"


def test_an_accepted_finding_stays_on_paper_with_name_day_and_reason():
    line = _accepted(with_power_cable(iec_line(), earth_m2=0.75e-6), "earth-conductor-too-small")
    assert _verdict(line).text == "◇ Accepted: earth"
    circuit = _first(line)
    remark = finding_remark(Entries.of(line), circuit.findings[0], circuit.accepted)
    assert remark.endswith("\nAccepted by A. N. Other, 2026-03-01: until the rebuild")


def test_an_acceptance_ends_with_its_figures():
    line = _accepted(with_power_cable(iec_line(), earth_m2=0.75e-6), "earth-conductor-too-small")
    assert _verdict(with_power_cable(line, earth_m2=1.0e-6)).text == "■ Blocker: earth"


def test_each_lacking_entry_leaves_its_part_unjudged():
    for cable, drive, part in (
        ({"conductor_m2": None}, {}, "conductor, earth, voltage drop"),
        ({"insulation": None}, {}, "conductor"),
        ({"earth_m2": None}, {}, "earth"),
        ({"length_m": None}, {}, "voltage drop"),
        ({}, {"protection_a": None}, "protection"),
        ({}, {"drive_type_id": None}, "feed"),
    ):
        line = changed(with_power_cable(iec_line(), **cable), **drive)
        assert _verdict(line).text.split("\n")[0] == f"□ Not judged: {part}"


def test_the_makers_largest_rating_is_a_bound_where_the_rule_gives_none():
    line = nec_line()
    line = replace(line, stations=(replace(line.stations[0], motors=()),))
    assert _verdict(line).text == "□ Not judged: protection"
    marked = replace(line, drive_types=(replace(line.drive_types[0], protection_max_a=15.0),))
    assert _verdict(marked).text == "✓ No finding"


def test_an_estimated_input_current_is_marked():
    line = iec_line()
    line = replace(line, drive_types=(replace(line.drive_types[0], input_current_1ph_a=None),))
    assert _verdict(line).text == "✓ No finding\n≈ Input current estimated"
    unknown = replace(line, stations=(replace(line.stations[0], motors=()),))
    assert "estimated" not in _verdict(unknown).text
