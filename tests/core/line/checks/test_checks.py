"""Checks: where they apply, what they expect, where they stand, and what a reading teaches."""

import dataclasses
from importlib.resources import files

import pytest

from core.line import compute_line
from core.line.checks import CHECKS, STAGE_ORDER, checks_of, done_share, station_state
from core.line.checks.base import CheckItem, CheckRule, Limits
from core.line.checks.listing import checks_as_data, checks_as_text, limits_text
from core.line.checks.teaching import lesson_of
from core.model import Check, OwnCheck
from core.store import LineFile


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


QUILLBACK, LINDENMOOR = sample("quillback_hollow"), sample("lindenmoor")


def answered(line, *results):
    """The line with results of checks: tag, key and fields."""
    made = []
    for number, (tag, key, values) in enumerate(results, start=1):
        station = line.station_tagged(tag)
        made.append(Check(number, key, station.id if station else None, **values))
    return dataclasses.replace(line, checks=tuple(made))


def item(line, tag, key):
    [found] = [i for i in checks_of(compute_line(line)) if (i.tag, i.rule.key) == (tag, key)]
    return found


def keys_at(line, tag):
    return {entry.rule.key for entry in checks_of(compute_line(line)) if entry.tag == tag}


@pytest.mark.parametrize("line", [QUILLBACK, LINDENMOOR])
def test_stages_come_in_the_order_of_the_work(line):
    items = checks_of(compute_line(line))
    stages = [STAGE_ORDER.index(entry.rule.stage) for entry in items]
    assert stages == sorted(stages)
    assert set(stages) == set(range(len(STAGE_ORDER)))
    assert len({(entry.rule.key, entry.tag) for entry in items}) == len(items)


def test_every_check_applies_somewhere_in_the_samples():
    met = {e.rule.key for line in (QUILLBACK, LINDENMOOR) for e in checks_of(compute_line(line))}
    assert met == set(CHECKS)


def test_checks_apply_by_kind_supply_and_area():
    assert "marked-fruit" in keys_at(QUILLBACK, "A04")
    assert "marked-fruit" not in keys_at(QUILLBACK, "A05")
    assert {"cups-filled", "drop-at-two-speeds"} <= keys_at(QUILLBACK, "A14")
    assert not {"cups-filled", "images-counted"} & keys_at(QUILLBACK, "A02")
    assert "images-counted" in keys_at(QUILLBACK, "A13")
    # Only the second sample has a three-phase supply.
    assert "supply-unbalance" in keys_at(LINDENMOOR, "")
    assert "supply-unbalance" not in keys_at(QUILLBACK, "")
    assert "glands-closed" in keys_at(LINDENMOOR, "B03")
    assert "glands-closed" not in keys_at(LINDENMOOR, "B10")


def test_limits_come_from_the_line_by_hand():
    # 240 V ± 10 %.
    volts = item(QUILLBACK, "A04", "supply-voltage").limits
    assert (volts.low, volts.high) == (pytest.approx(216.0), pytest.approx(264.0))
    # 6 bins an hour ± 10 %, kept per second.
    bins = item(QUILLBACK, "", "bins-counted").limits
    assert bins.low == pytest.approx(5.4 / 3600)
    assert bins.high == pytest.approx(6.6 / 3600)
    # NOTES: 30 images; 22.4 frames a second over 1.337 s are 29.9.
    assert item(QUILLBACK, "A13", "images-counted").limits.expected == pytest.approx(29.9, abs=0.1)
    # NOTES: ideal residence 32.2 s.
    assert item(QUILLBACK, "A04", "marked-fruit").limits.expected == pytest.approx(32.2, abs=0.1)
    # NOTES: 95.94 rpm at 54.5 Hz.
    rpm = item(QUILLBACK, "A04", "shaft-speed").limits.expected * 60 / (2 * 3.141592653589793)
    assert rpm == pytest.approx(95.94, abs=0.1)
    # 5 s up to 60 Hz: at 54.5 Hz 4.54 s.
    assert item(QUILLBACK, "A04", "ramp-up").limits.expected == pytest.approx(4.54, abs=0.01)
    # 0 % of 4-20 mA on 0 to 60 Hz is held up by the minimum of 20 Hz.
    assert item(QUILLBACK, "A04", "zero-of-reference").limits.expected == pytest.approx(20.0)


def test_earth_continuity_by_length_and_section():
    # A04: 60 ft of motor cable, earth 14 AWG (2.08 mm2): 0.017241 * 18.288 / 2.08 = 0.1516 ohm
    # at 20 C; 1.08 times that and 0.05 ohm for joints.
    cable = QUILLBACK.station_tagged("A04").cable("motor")
    bare = 0.017241e-6 * cable.length_m / cable.earth_m2
    limits = item(QUILLBACK, "A04", "earth-continuity").limits
    assert limits.expected == pytest.approx(bare)
    assert limits.high == pytest.approx(1.08 * bare + 0.05)


def test_insulation_is_judged_at_40_degrees_under_nec_rules():
    # 12 Mohm at 20 C are 12 / 4 = 3 Mohm at 40 C, below the 5 Mohm of IEEE 43; 24 are 6.
    reading = {"answer": "reading", "temperature_k": 293.15}
    bad = answered(QUILLBACK, ("A04", "insulation", {**reading, "value": 12e6}))
    good = answered(QUILLBACK, ("A04", "insulation", {**reading, "value": 24e6}))
    assert item(bad, "A04", "insulation").state == "out"
    assert item(good, "A04", "insulation").state == "good"
    # IEC 60364-6: 1 Mohm as read.
    iec = answered(LINDENMOOR, ("B03", "insulation", {**reading, "value": 1.2e6}))
    assert item(iec, "B03", "insulation").state == "good"


@pytest.mark.parametrize(
    ("values", "state"),
    [
        ({"answer": "open"}, "open"),
        ({"answer": "yes"}, "good"),
        ({"answer": "no"}, "out"),
        ({"answer": "no", "reason": "Guard on order, belt locked out"}, "kept"),
        ({"answer": "not_applicable"}, "open"),
        ({"answer": "not_applicable", "reason": "No guard: fixed cover"}, "skipped"),
    ],
)
def test_answers_and_where_they_leave_a_check(values, state):
    assert (
        item(answered(QUILLBACK, ("A02", "guards-on", values)), "A02", "guards-on").state == state
    )


@pytest.mark.parametrize(
    ("value", "reason", "state"),
    [
        (240.0, "", "good"), (216.0, "", "good"), (264.0, "", "good"), (265.0, "", "out"),
        (200.0, "Utility told", "kept"), (None, "", "open"),
    ],
)  # fmt: skip
def test_readings_are_judged_by_their_limits(value, reason, state):
    values = {"answer": "reading", "value": value, "reason": reason}
    line = answered(QUILLBACK, ("A04", "supply-voltage", values))
    assert item(line, "A04", "supply-voltage").state == state


def test_state_of_a_station_is_the_last_stage_that_is_done():
    items = checks_of(compute_line(QUILLBACK))
    station = QUILLBACK.station_tagged("A02")
    assert station_state(items, station.id) == ""
    first = [i for i in items if i.tag == "A02" and i.rule.stage == "before_power"]
    # Every check marked as not applicable counts as done; the stages after stay open.
    done = [("A02", i.rule.key, {"answer": "not_applicable", "reason": "test"}) for i in first]
    items = checks_of(compute_line(answered(QUILLBACK, *done)))
    assert station_state(items, station.id) == "before_power"
    assert done_share(i for i in items if i.tag == "A02")[0] == len(first)


def test_own_checks_apply_to_every_station_or_to_the_line():
    own = (
        OwnCheck(1, "Belt tracks straight", "coupled", "station", "yes_no"),
        OwnCheck(2, "Chlorine", "with_fruit", "line", "reading", "factor", 100.0, 150.0),
    )
    line = dataclasses.replace(QUILLBACK, own_checks=own)
    items = checks_of(compute_line(line))
    assert sum(i.rule.label == "Belt tracks straight" for i in items) == 16
    [chlorine] = [i for i in items if i.rule.label == "Chlorine"]
    assert (chlorine.limits.low, chlorine.limits.high) == (100.0, 150.0)
    told = answered(line, ("", "own:2", {"answer": "reading", "value": 90.0}))
    assert item(told, "", "own:2").state == "out"


def test_a_result_stays_listed_when_its_check_no_longer_applies():
    line = answered(QUILLBACK, ("A02", "cups-filled", {"answer": "reading", "value": 0.8}))
    assert item(line, "A02", "cups-filled").result.value == 0.8


def test_a_reading_whose_check_no_longer_applies_is_not_called_good():
    # Ten times the nameplate current is out of limits; without its motors there is no nameplate.
    amps = sum(motor.current_a for motor in QUILLBACK.station_tagged("A04").motors)
    values = {"answer": "reading", "value": 10.0 * amps, "person": "R. Vale"}
    line = answered(QUILLBACK, ("A04", "loaded-current", values))
    assert item(line, "A04", "loaded-current").state == "out"
    bare = tuple(
        dataclasses.replace(held, motors=()) if held.tag == "A04" else held
        for held in line.stations
    )
    left = item(dataclasses.replace(line, stations=bare), "A04", "loaded-current")
    assert (left.state, left.result.value) == ("skipped", 10.0 * amps)


def test_a_timed_fruit_teaches_the_travel_factor():
    # Length 5.25 ft = 1.6002 m in 40 s is 0.0400 m/s; the bare index is 9.763 ft/min by NOTES'
    # own rounding 0.0497 m/s: factor 0.805.
    line = answered(QUILLBACK, ("A04", "marked-fruit", {"answer": "reading", "value": 40.0}))
    results = compute_line(line)
    lesson = lesson_of(results, item(line, "A04", "marked-fruit"))
    assert (lesson.table, lesson.field) == ("process", "travel_factor")
    assert lesson.value == pytest.approx(1.6002 / 40.0 / (9.77 * 0.3048 / 60.0), rel=0.002)


def test_fill_and_diameter_can_be_taken_over_and_other_readings_cannot():
    line = answered(
        QUILLBACK,
        ("A14", "cups-filled", {"answer": "reading", "value": 0.81}),
        ("A04", "diameter", {"answer": "reading", "value": 0.125}),
        ("A04", "supply-voltage", {"answer": "reading", "value": 240.0}),
    )
    results = compute_line(line)
    fill = lesson_of(results, item(line, "A14", "cups-filled"))
    assert (fill.field, fill.now, fill.value) == ("cup_fill", pytest.approx(0.78), 0.81)
    size = lesson_of(results, item(line, "A04", "diameter"))
    assert (size.field, size.value) == ("drum_diameter_m", 0.125)
    assert lesson_of(results, item(line, "A04", "supply-voltage")) is None


def test_checks_are_told_as_data_and_as_text():
    values = {
        "answer": "reading",
        "value": 240.0,
        "person": "R. Vale",
        "done_at": "2026-11-25 14:30",
    }
    line = answered(QUILLBACK, ("A04", "supply-voltage", values))
    items = checks_of(compute_line(line))
    data = checks_as_data(items, line)
    assert (data["done"], data["of"]) == (1, len(items))
    [told] = [c for c in data["checks"] if (c["station"], c["check"]) == ("A04", "supply-voltage")]
    assert (told["state"], told["value"], told["person"]) == ("good", 240.0, "R. Vale")
    text = checks_as_text(items, line)
    assert text.startswith(f"1 of {len(items)} checks done.")
    assert "A04 Voltage at the drive's input [216 V to 264 V, expected 240 V]: 240 V, good" in text


def test_limits_are_told_in_words():
    assert limits_text(Limits(low=1e6), "insulation", "metric") == "at least 1 MΩ"
    assert limits_text(Limits(high=0.3), "resistance", "metric") == "at most 0.3 Ω"
    assert limits_text(Limits(), "", "metric") == ""
    rule = CheckRule("k", "coupled", "label", "how")
    assert CheckItem(rule, None, "", Limits(), None).state == "open"


def test_an_own_check_may_be_a_choice_of_which_some_are_good():
    own = (
        OwnCheck(1, "Brush wear", "coupled", "station", "choice", options="new; worn ; gone; worn"),
        OwnCheck(
            2, "Water", "with_fruit", "line", "choice", options="clear; cloudy; foul",
            good="clear; cloudy; none of these",
        ),
    )  # fmt: skip
    line = dataclasses.replace(QUILLBACK, own_checks=own)
    items = {item.rule.label: item for item in checks_of(compute_line(line)) if item.rule.options}
    assert list(items["Brush wear"].rule.options) == ["new", "worn", "gone"]
    assert items["Brush wear"].limits.good == ("new",)
    water = items["Water"]
    assert water.limits.good == ("clear", "cloudy")
    for shown, state in (("cloudy", "good"), ("foul", "out")):
        result = Check(1, "own:2", None, "choice", shown=shown)
        assert dataclasses.replace(water, result=result).state == state
