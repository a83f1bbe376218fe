"""What is kept, what ends: marks, acceptances, findings taken over from before an edit."""

import dataclasses
import random

import pytest

from core.line import compute_line
from core.line.findings import find
from core.line.findings.listing import findings_as_data, findings_as_text
from core.model import Acceptance, Line
from tests.core.line.findings.sound import change, found, line, numbered, settings


def too_long(metres: float) -> Line:
    return line(change(motor_cable={"length_m": metres}))


def mark(metres: float) -> str:
    (entry,) = found(too_long(metres), "motor-cable-too-long")
    return entry.mark


def test_same_figures_same_mark_and_other_figures_another():
    assert mark(60.0) == mark(60.0)
    assert mark(60.0) == mark(60.0 + 1e-9)
    assert mark(60.0) != mark(61.0)


def test_units_and_paper_do_not_change_a_mark():
    us = dataclasses.replace(too_long(60.0), unit_system="us")
    (entry,) = found(us, "motor-cable-too-long")
    assert entry.mark == mark(60.0)
    assert "196.9 ft" in entry.says("us")


def test_two_stations_with_one_fault_have_two_marks():
    long = {"length_m": 60.0}
    held = line(numbered(1, motor_cable=long), numbered(2, motor_cable=long))
    assert len({entry.mark for entry in found(held, "motor-cable-too-long")}) == 2


def accepting(held: Line, marks: list[str]) -> Line:
    accepted = tuple(
        Acceptance(number, each, person="R. Weller", reason="measured, runs well", day="2026-01-02")
        for number, each in enumerate(marks, start=1)
    )
    return dataclasses.replace(held, acceptances=accepted)


def test_an_accepted_finding_stays_listed_and_returns_when_its_figures_change():
    accepted = find(compute_line(accepting(too_long(60.0), [mark(60.0)])))
    assert [entry.key for entry in accepted.found] == ["motor-cable-too-long"]
    assert accepted.open == ()
    changed = find(compute_line(accepting(too_long(61.0), [mark(60.0)])))
    assert [entry.key for entry in changed.open] == ["motor-cable-too-long"]


def test_acceptance_stands_in_data_and_text():
    held = accepting(too_long(60.0), [mark(60.0)])
    findings = find(compute_line(held))
    (entry,) = findings_as_data(findings, held)["findings"]
    assert entry["accepted"] == {
        "person": "R. Weller",
        "reason": "measured, runs well",
        "day": "2026-01-02",
    }
    assert entry["figures"]["cable_length_m"] == 60.0
    assert "Accepted by R. Weller: measured, runs well" in findings_as_text(findings, held)


def test_a_line_without_findings_says_so():
    assert findings_as_text(find(compute_line(line())), line()) == "No findings."


def test_at_gives_the_findings_of_one_station():
    held = line(numbered(1), numbered(2, motor_cable={"length_m": 60.0}))
    findings = find(compute_line(held))
    assert findings.at(1) == ()
    assert [entry.tag for entry in findings.at(2)] == ["ST2"]


EDITS = (
    {"motor_cable": {"length_m": 60.0}},
    {"motor": {"connected_for": "high"}},
    {"motor": {"connected_for": "low", "current_low_a": 5.0}},
    {"reference": {"low_a": 0.0}},
    {"reference": {"source": None}},
    {"drive": {"supply_id": None}},
    {"drive": {"bus_address": 1}},
    {"drive": {"enclosure_id": None}},
    {"drive": {"drive_type_id": None}},
    {"drive": {"settings": settings(hz_max=120)}},
    {"drive": {"settings": settings(again=1, range=1)}},
    {"controls": {"emergency_stop": None}},
    {"power_in": {"conductor_m2": 1e-6}},
    {"motors": ()},
    {"cables": ()},
)


def edited(held: Line, choose: random.Random) -> Line:
    """One edit: of a station, or of something that stations share."""
    what = choose.randrange(6)
    if what == 0:
        supply = dataclasses.replace(held.supplies[0], rcd_type=choose.choice(["a", "f", "b"]))
        return dataclasses.replace(held, supplies=(supply,))
    if what == 1:
        amps = choose.choice([2.0, 4.2, 8.0])
        kind = dataclasses.replace(held.drive_types[0], output_current_a=amps)
        return dataclasses.replace(held, drive_types=(kind,))
    if what == 2:
        return dataclasses.replace(held, wiring_rules=choose.choice(["nec", "iec"]))
    if what == 3:
        panel = dataclasses.replace(
            held.enclosures[0], ambient_max_k=choose.choice([300.0, 322.0, 330.0])
        )
        return dataclasses.replace(held, enclosures=(panel,))
    place = choose.randrange(len(held.stations))
    changed = list(held.stations)
    if what == 4 and len(changed) > 1:
        del changed[place]
    else:
        parts = choose.choice(
            [each for each in EDITS if "motor" not in each or changed[place].motors]
        )
        changed[place] = change(changed[place], **parts)
    return dataclasses.replace(held, stations=tuple(changed))


@pytest.mark.parametrize("seed", range(12))
def test_findings_after_edits_equal_those_of_a_line_read_anew(seed):
    choose = random.Random(seed)
    held = line(*[numbered(number) for number in range(1, 7)])
    results = compute_line(held)
    findings = find(results)
    for _ in range(15):
        held = edited(held, choose)
        results = compute_line(held, results)
        findings = find(results, findings)
        anew = find(compute_line(held))
        assert findings.found == anew.found
        assert [entry.mark for entry in findings.found] == [entry.mark for entry in anew.found]


def test_one_edit_asks_the_rules_of_one_station_only():
    long = {"length_m": 60.0}
    held = line(numbered(1, motor_cable=long), numbered(2, motor_cable=long))
    before = compute_line(held)
    first = find(before)
    renamed = change(held.stations[1], name="N")
    changed = dataclasses.replace(held, stations=(held.stations[0], renamed))
    second = find(compute_line(changed, before), first)
    assert second.at(1)[0] is first.at(1)[0]
    assert second.at(2)[0] is not first.at(2)[0]
    assert second.at(2) == first.at(2)
