"""Consequences: where a station tops out, what it lacks, and their order."""

import dataclasses

import pytest

from core.model import Setting
from core.model.keypad import read_keypad
from core.records.comparing import compare
from core.records.consequences import consequences
from core.records.effect import Effect
from core.records.put_back import put_back
from tests.core.records.test_comparing import LINDENMOOR, QUILLBACK, at, effect, keyed, part, told


def test_a_lower_maximum_tells_where_the_station_tops_out_in_cups():
    # B11: 60 Hz to 50 Hz at the drive's maximum alone. The cup conveyor then tops out at
    # 50 Hz: n = 120 * 50 / 4 - 60 * 0.6 = 1464 rpm, / 18 = 81.33 rpm, * 12 * 31.75 mm =
    # 0.51647 m/s, / 95.25 mm = 5.422 cups/s. At 60 Hz, above the base of 50 Hz, slip is more than
    # there: below 0.62230 m/s, 6.533 cups/s. NOTES: plums need 5.27 cups/s.
    after = keyed(LINDENMOOR, "B11", hz_max="50")
    held = told(LINDENMOOR, after)["B11"]
    top = effect(held, "top_cups_1_s")
    assert 6.35 < top.before < 6.533
    assert top.after == pytest.approx(5.422, abs=0.001)
    assert top.need == pytest.approx(5.27, abs=0.005)
    assert not top.is_worse
    # 5.422 - 5.272 = 0.150.
    assert held.sentence("metric").startswith(
        "B11 Cup conveyor (1 lane, master): setting hz-max (Highest frequency the drive may run) "
        "60 → 50 Hz: tops out at 5.422 cups/s, 0.15 above what the line needs for Plums, was "
    )


def test_what_the_line_needs_and_no_longer_gets_comes_first():
    # 40 Hz: 1200 - 36 = 1164 rpm, / 18 = 64.667 rpm, * 0.381 m / 60 = 0.41063 m/s,
    # / 0.09525 m = 4.311 cups/s; 5.272 - 4.311 = 0.961.
    after = keyed(LINDENMOOR, "B11", hz_max="40")
    held = told(LINDENMOOR, after)["B11"]
    top = effect(held, "top_cups_1_s")
    assert top.is_worse
    assert [each.is_worse for each in held.effects] == sorted(
        (each.is_worse for each in held.effects), reverse=True
    )
    assert top.after == pytest.approx(4.311, abs=0.001)
    assert top.misses == pytest.approx(0.961 / 5.272, abs=0.001)
    assert top.words("metric").startswith(
        "tops out at 4.311 cups/s, 0.961 below what the line needs for Plums, was 6.4"
    )


def test_a_margin_has_no_more_places_than_its_figures():
    # 68.05 - 4.487 = 63.563, of which the third place is not known.
    told = Effect("capacity_1_s", "Carries at most", "count_rate", 53.63, 68.05, 4.487, "least")
    assert told.need_words("metric") == "63.56 above what the line needs"
    same = Effect("capacity_1_s", "Carries at most", "count_rate", 5.0, 4.49, 4.487, "least")
    assert same.need_words("metric") == "just what the line needs"


def test_a_minimum_is_judged_by_the_recipe_that_goes_slowest():
    # NOTES: persimmons want 14.6 Hz, the minimum becomes 20 Hz. Speed goes as the frequency less
    # the slip, which is under 2 Hz: by 20 / 14.6 = 1.37 to 18 / 12.6 = 1.43 too fast.
    after = keyed(LINDENMOOR, "B10", hz_min="20")
    held = told(LINDENMOOR, after)["B10"]
    lowest = effect(held, "lowest_speed_m_s")
    assert lowest.recipe == "Persimmons"
    assert lowest.is_worse
    assert 0.37 < lowest.misses < 0.43
    assert "above what the line needs for Persimmons" in held.sentence("metric")


def test_a_minimum_that_is_low_enough_is_told_without_a_lack():
    after = keyed(LINDENMOOR, "B11", hz_min="15")
    held = told(LINDENMOOR, after)["B11"]
    assert not effect(held, "lowest_cups_1_s").is_worse
    assert "goes no slower" in held.sentence("metric")
    assert "what the line needs" not in held.sentence("metric")


def test_a_minimum_that_is_low_enough_is_not_told_beside_what_harms():
    after = keyed(LINDENMOOR, "B11", hz_min="15", hz_max="40")
    held = told(LINDENMOOR, after)["B11"]
    assert "goes no slower" not in held.sentence("metric")


def test_the_speed_nearest_to_one_out_of_reach_is_told_with_what_it_does():
    # NOTES: at 20 Hz persimmons turn 1.25 instead of 1.50 times in view.
    held = told(LINDENMOOR, keyed(LINDENMOOR, "B10", hz_min="20"))["B10"]
    turns = effect(held, "limit:turns_in_view")
    assert turns.before == pytest.approx(1.50, abs=0.005)
    assert turns.after == pytest.approx(1.25, abs=0.005)
    assert turns.is_worse
    # 1.5 - 1.246, each with four digits.
    assert (
        "turns in view at the nearest speed it reaches 1.246, 0.254 below what the line needs for "
        "Persimmons, was 1.5 (-17 %)" in held.sentence("metric")
    )


def test_a_ramp_is_told_with_how_long_the_station_runs_up_and_what_piles_up():
    # NOTES: A14 plans 67.4 ft/min; 6 s from 60 Hz. Its share is the planned frequency over 60 Hz.
    after = keyed(QUILLBACK, "A14", ramp_down="1")
    held = told(QUILLBACK, after)["A14"]
    down, up = effect(held, "run_down_s"), [e for e in held.effects if e.key == "run_up_s"]
    assert not up
    assert down.after / down.before == pytest.approx(1 / 6)
    assert 0.7 < down.after < 0.9
    # NOTES: 5.61 fruit/s come on the gapping belt, whose ramp is 2 s from 60 Hz at 42.7 Hz: both
    # flows fall evenly, so that half of 5.61 * (1.423 - 0.769) = 1.83 wait.
    piled = effect(held, "piled_up_fruit")
    assert (piled.before, piled.after) == (0, 2)


def coasting_at(line, tag):
    """The line with the stop of one station, entered by nobody so far, set to coast."""
    held = line.station_tagged(tag)
    found = read_keypad("1", line.drive_type(held.drive.drive_type_id).listed("stop-way"))
    entered = (*held.drive.settings, Setting(9000, "stop-way", found.shown, found.value))
    return at(line, tag, part("drive", settings=entered))


def test_a_stop_that_coasts_is_told_with_its_run_out():
    coasting = coasting_at(QUILLBACK, "A14")
    held = told(QUILLBACK, coasting)["A14"]
    # It ran down on its ramp in 4.6 s; left to itself its load stops it within one.
    assert effect(held, "run_down_s").after < 1.0 < effect(held, "run_down_s").before
    assert "not known" not in held.sentence("us")
    # More inertia, and no ramp acts: no shortest ramp is told, and nothing is graver for it.
    train = QUILLBACK.station_tagged("A14").drivetrain
    heavier = at(coasting, "A14", part("drivetrain", inertia_kg_m2=2.0 * train.inertia_kg_m2))
    after = told(coasting, heavier)["A14"]
    assert "deceleration_shortest_s" not in {held.key for held in after.effects}
    assert not any(held.is_worse for held in after.effects)


def test_a_pile_that_was_not_known_is_not_called_none():
    bare = at(QUILLBACK, "A14", part("drivetrain", load_fraction=None, inertia_kg_m2=None))
    coasting = coasting_at(bare, "A14")
    held = told(coasting, keyed(coasting, "A14", stop_way="0", ramp_down="1"))["A14"]
    piled = effect(held, "piled_up_fruit")
    assert piled.before is None
    assert piled.after >= 1
    assert "was not known" in held.sentence("us")


def test_a_small_change_of_a_ramp_is_told_where_nothing_else_is():
    # 2 to 2.19 s: 9.5 %, which nobody sees beside a speed that changed.
    held = told(QUILLBACK, keyed(QUILLBACK, "A10", ramp_down="2.19"))["A10"]
    assert "time to run down from its speed" in held.sentence("us")
    both = told(QUILLBACK, keyed(QUILLBACK, "A10", ramp_down="2.19", hz_max="50", ref_high_hz="50"))
    assert "9.5 %" not in both["A10"].sentence("us")


def test_the_nearest_speed_is_that_of_reference_and_drive_together():
    # The reference begins at 30 Hz, the drive may run from 20 Hz on: 30 Hz is the nearest.
    held = told(LINDENMOOR, keyed(LINDENMOOR, "B10", hz_min="20", ref_low_hz="30"))["B10"]
    only = told(LINDENMOOR, keyed(LINDENMOOR, "B10", hz_min="20"))["B10"]
    assert effect(held, "limit:turns_in_view").after < effect(only, "limit:turns_in_view").after
    alone = told(LINDENMOOR, keyed(LINDENMOOR, "B10", ref_low_hz="30"))["B10"]
    assert effect(alone, "limit:turns_in_view").after == pytest.approx(
        effect(held, "limit:turns_in_view").after
    )


def test_no_ramp_is_told_of_a_station_that_coasts():
    held = told(LINDENMOOR, keyed(LINDENMOOR, "B12", ramp_down="5"))["B12"]
    assert held.effects == ()
    assert held.sentence("metric").endswith("20 → 5 s: no figure changes.")


def test_a_shortest_ramp_is_told_only_where_the_setting_is_shorter():
    # 30 kg·m² at the rollers of B05: the bus takes up no stop in 0.8 s.
    heavy = at(LINDENMOOR, "B05", part("drivetrain", inertia_kg_m2=30.0))
    held = told(heavy, keyed(heavy, "B05", ramp_down="0.8"))["B05"]
    assert "deceleration-too-short" in {finding.key for finding in held.came}
    assert "trips on overvoltage" in held.came[0].rule.follows
    light = told(LINDENMOOR, at(LINDENMOOR, "B05", part("drivetrain", inertia_kg_m2=0.12)))["B05"]
    assert "set to 4 s" in light.sentence("metric")
    assert "shortest" not in told(
        LINDENMOOR, at(LINDENMOOR, "B05", part("drivetrain", driver_teeth=17))
    )["B05"].sentence("metric")


def test_a_line_that_lacks_more_than_before_is_told_before_its_stations():
    # One tooth less at the forward rows: 125.6 * 17 / 18 = 118.6 ft/min. NOTES: 5.90 fruit/s.
    after = at(QUILLBACK, "A04", part("drivetrain", driver_teeth=17))
    found = consequences(compare(QUILLBACK, after))
    assert [held.tag for held in found][:2] == ["", "A04"]
    [most] = found[0].effects
    assert most.need == pytest.approx(5.90, abs=0.005)
    assert most.is_worse
    # With a drift index of (118.6 - 106) / 2 = 6.3 ft/min in place of 9.76, 5.95 /s become 3.84.
    assert most.after == pytest.approx(5.951 * 6.29 / 9.763, rel=0.01)
    assert found[0].sentence("us").startswith("The line is full, at A04, at a feed of 3.8")
    assert "below what the line needs, was 5.951 /s (-3" in found[0].sentence("us")


def test_a_choice_is_told_with_what_it_stands_for():
    after = keyed(QUILLBACK, "A05", ref_range="1")
    [change] = compare(QUILLBACK, after).changes
    assert change.sentence().endswith("2 (4-20 mA) → 1 (0-20 mA)")
    [back] = put_back(compare(QUILLBACK, after))
    assert (back.now_told, back.wanted_told) == ("1 (0-20 mA)", "2 (4-20 mA)")


def test_causes_of_one_station_name_it_once():
    after = keyed(QUILLBACK, "A11", hz_max="50", ref_high_hz="50")
    sentence = told(QUILLBACK, after)["A11"].sentence("us")
    assert sentence.count("A11 Singulator") == 1
    assert "60 → 50 Hz; setting ref-high-hz" in sentence


def test_a_ratio_is_told_against_what_is_wanted_and_not_as_a_share_of_itself():
    # NOTES: 26 % in place of 7.5 %.
    after = keyed(QUILLBACK, "A11", hz_max="50", ref_high_hz="50")
    words = effect(told(QUILLBACK, after)["A11"], "pair:Singulator belts").words("us")
    assert words.startswith("differential of Singulator belts 26.1")
    assert words.endswith(" %, wanted 7.5 %, was 7.502 %")


def test_what_is_gravest_comes_first():
    after = at(QUILLBACK, "A07", part("reference", now_v=7.4))
    after = keyed(after, "A05", ref_range="1")
    found = consequences(compare(QUILLBACK, after))
    weights = [held.weight for held in found]
    assert weights == sorted(weights, reverse=True)
    assert [held.tag for held in found].index("A05") < [held.tag for held in found].index("A07")


def test_names_and_notes_have_no_consequence():
    import dataclasses

    after = at(QUILLBACK, "A02", lambda station: dataclasses.replace(station, notes="greased"))
    difference = compare(QUILLBACK, after)
    assert [change.group for change in difference.changes] == ["papers"]
    assert consequences(difference) == ()


def test_a_supply_that_changed_as_well_is_no_cause_of_what_the_line_carries():
    after = at(QUILLBACK, "A04", part("drivetrain", driver_teeth=17))
    supply = dataclasses.replace(after.supplies[0], service_rating_a=60.0)
    found = consequences(compare(QUILLBACK, dataclasses.replace(after, supplies=(supply,))))
    # NOTES: 118.6 A of rated inputs, two live lines: more than 60 A.
    flow, shared = sorted(
        (held for held in found if not held.tag), key=lambda held: bool(held.causes)
    )
    assert flow.effects
    assert not flow.causes
    assert [change.field for change in shared.causes] == ["service_rating_a"]
    assert not shared.effects
    assert "service-overloaded" in {held.key for held in shared.came}


def test_another_tag_alone_has_no_consequence():
    # B04 turns too fast at its top as frozen, and goes on to do so: nothing follows from its name.
    after = at(LINDENMOOR, "B04", lambda station: dataclasses.replace(station, tag="B44"))
    assert [change.sentence() for change in compare(LINDENMOOR, after).changes] == [
        "B44 Washer brushes, even rows, reverse: tag B04 → B44"
    ]
    assert consequences(compare(LINDENMOOR, after)) == ()


def test_a_station_with_another_tag_is_held_against_itself():
    # The same knob is moved to half its place, once with the tag kept and once with another one.
    moved = at(LINDENMOOR, "B05", part("reference", now_v=3.34))
    after = at(moved, "B05", lambda station: dataclasses.replace(station, tag="B55"))
    plain = told(LINDENMOOR, moved)["B05"]
    renamed = told(LINDENMOOR, after)["B55"]
    assert [(e.key, e.before, e.after) for e in renamed.effects] == [
        (e.key, e.before, e.after) for e in plain.effects
    ]
    assert effect(renamed, "frequency_now_hz").before is not None
