"""The plan as a whole: the samples against their notes, the bottleneck, and what is kept."""

import dataclasses
import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import sample_projects
from core.line import compute_line
from core.model import Flow, Line, Pair, choices
from core.store import LineFile
from tests.core.line import builders
from tests.core.line.fruit import (
    M_S_PER_HZ,
    at,
    computed,
    own,
    plan,
    recipe,
    row,
    way,
    whole,
    wide,
)

SAMPLES = Path(sample_projects.__file__).parent
FT_MIN = 0.00508  # NIST SP 811


@pytest.fixture(scope="module")
def plans():
    """Plans of the samples by name of recipe."""
    found = {}
    for path in SAMPLES.glob("*.linebook"):
        found |= {held.recipe.name: held for held in compute_line(LineFile.read(path)).plans}
    return found


def of(held, tag):
    return next(entry for entry in held.entries.values() if entry.tag == tag)


def shown(entry, key):
    return entry.present[key].value


# --- the samples against shared/demo/NOTES.md -------------------------------------------------


@pytest.mark.parametrize(
    ("name", "fed", "sized", "tags"),
    [
        ("Mandarins", 5.90, 5.61, ("A08", "A14")),
        ("Plums", 4.49, 4.22, ("B06", "B11")),
        ("Persimmons", 2.67, 2.51, ("B06", "B11")),
    ],
)
def test_fruit_before_and_after_the_culls(plans, name, fed, sized, tags):
    held = plans[name]
    assert held.rates.feed_1_s == pytest.approx(fed, abs=0.005)
    assert of(held, tags[0]).flow_1_s == pytest.approx(fed, abs=0.005)
    assert of(held, tags[1]).flow_1_s == pytest.approx(sized, abs=0.005)
    assert held.flow_faults == ()
    assert held.troubles == ()


@pytest.mark.parametrize(
    ("name", "tag", "hertz"),
    [
        # The set frequencies of the notes and of the tables of the demo; planned without rounding.
        ("Mandarins", "A05", 46.2),
        ("Mandarins", "A07", 48.4),
        ("Mandarins", "A11", 39.5),
        ("Plums", "B11", 48.6),
        ("Persimmons", "B07", 37.0),
        ("Persimmons", "B08", 34.2),
        ("Persimmons", "B09", 24.2),
        ("Persimmons", "B10", 14.6),
        ("Persimmons", "B11", 29.4),
    ],
)
def test_planned_hertz(plans, name, tag, hertz):
    assert of(plans[name], tag).planned_hz == pytest.approx(hertz, abs=0.06)


def test_checks_of_demo_a(plans):
    held = plans["Mandarins"]
    brushes, sort = of(held, "A04"), of(held, "A08")
    # 12 brushes of 16 fruit; drift 9.78 ft/min against 9.68 needed, 99 %, 32.2 s, 192 places
    assert shown(brushes, "drift_index_m_s") / FT_MIN == pytest.approx(9.78, abs=0.02)
    assert shown(brushes, "drift_needed_m_s") / FT_MIN == pytest.approx(9.68, abs=0.01)
    assert shown(brushes, "places_used_share") == pytest.approx(0.99, abs=0.005)
    assert shown(brushes, "time_on_brushes_s") == pytest.approx(32.2, abs=0.1)
    assert shown(brushes, "places") == pytest.approx(192.0)
    assert of(held, "A02").used_share == pytest.approx(0.76, abs=0.005)
    assert sort.used_share == pytest.approx(0.44, abs=0.005)
    assert of(held, "A10").used_share == pytest.approx(0.78, abs=0.005)
    assert shown(of(held, "A10"), "mean_speed_m_s") / FT_MIN == pytest.approx(43.14, abs=0.02)
    # 3.59 cups/s, 256 pulses for a cup, 0.54 in of lead; 67.4 ft/min
    cups = of(held, "A14")
    assert shown(cups, "cups_1_s") == pytest.approx(3.59, abs=0.005)
    assert shown(cups, "pulses_per_cup") == pytest.approx(256.0)
    assert shown(cups, "drop_lead_m") / 0.0254 == pytest.approx(0.54, abs=0.005)
    assert cups.planned_m_s / FT_MIN == pytest.approx(67.4, abs=0.02)
    camera = of(held, "A13")
    assert shown(camera, "turns_in_view") == pytest.approx(1.50, abs=0.005)
    assert math.degrees(shown(camera, "angle_per_image_rad")) == pytest.approx(18.0, abs=0.05)
    assert shown(camera, "frames_needed_hz") == pytest.approx(22.4, abs=0.05)


def test_checks_of_demo_b(plans):
    plums, persimmons = plans["Plums"], plans["Persimmons"]
    brushes = of(plums, "B03")
    assert shown(brushes, "drift_index_m_s") == pytest.approx(0.0439, abs=5e-5)
    assert shown(brushes, "drift_needed_m_s") == pytest.approx(0.0438, abs=5e-5)
    assert shown(brushes, "places_used_share") == pytest.approx(0.998, abs=0.002)
    assert shown(of(persimmons, "B03"), "places_used_share") == pytest.approx(0.89, abs=0.002)
    # The notes say 31.4 s for a bed of eleven pitches, 1.375 m.
    assert shown(brushes, "time_on_brushes_s") == pytest.approx(31.4, abs=0.1)
    assert shown(of(plums, "B07"), "mean_speed_m_s") == pytest.approx(0.2636, abs=1e-4)
    camera = of(plums, "B10")
    assert shown(camera, "turns_in_view") == pytest.approx(1.497, abs=0.005)
    assert shown(camera, "frames_needed_hz") == pytest.approx(30.1, abs=0.05)
    assert of(persimmons, "B10").planned_m_s == pytest.approx(0.0875, abs=1e-4)
    assert of(persimmons, "B11").planned_m_s == pytest.approx(0.298, abs=5e-4)


def test_the_pairs_of_the_samples(plans):
    a = {held.pair.name: held for held in plans["Mandarins"].pairs}
    b = {held.pair.name: held for held in plans["Plums"].pairs}
    # differentials of brushes 16.9 and 16.4 %, of the V 7.5 %; cup over gap 0.998
    assert a["Washer brushes"].present == pytest.approx(0.169, abs=0.001)
    assert b["Washer brushes"].present == pytest.approx(0.164, abs=0.001)
    assert a["Singulator belts"].present == pytest.approx(0.075, abs=0.001)
    for held in (a, b):
        assert held["Cups after gapping belt"].present == pytest.approx(-0.002, abs=0.001)
        assert all(result.holds for result in held.values())


def test_the_brushes_are_the_bottleneck_of_both(plans):
    a, b = plans["Mandarins"], plans["Plums"]
    assert a.entries[a.bottleneck_id].tag in ("A04", "A05")
    # 9.78 / 9.68 of 5.90 fruit/s
    assert a.most_feed_1_s == pytest.approx(5.90 * 9.78 / 9.68, abs=0.02)
    assert b.entries[b.bottleneck_id].tag in ("B03", "B04")
    assert b.most_feed_1_s == pytest.approx(4.487 / 0.998, abs=0.02)


# --- the bottleneck ---------------------------------------------------------------------------


def test_the_station_that_is_full_first():
    # 6 of 25, of 8 and of 30 fruit/s: the second is full at 8.
    held = plan(wide(1, 0.25), wide(2, 0.08), wide(3, 0.30), flows=row(1, 2, 3))
    assert held.bottleneck_id == 2
    assert held.most_feed_1_s == pytest.approx(8.0)
    assert held.entry(2).used_share == pytest.approx(0.75)
    assert held.entry(2).capacity_1_s == pytest.approx(8.0)


def test_fruit_that_leaves_before_counts():
    # Half of it leaves before the second, which carries 5 of them: full at a feed of 10.
    flows = way((1, 2), (1, None, "cull"))
    held = plan(wide(1, 0.25), wide(2, 0.05), flows=flows, recipes=(recipe(culled=0.5),))
    assert held.bottleneck_id == 2
    assert held.most_feed_1_s == pytest.approx(10.0)
    # With 15 of them there the first is the one: 25.
    held = plan(wide(1, 0.25), wide(2, 0.15), flows=flows, recipes=(recipe(culled=0.5),))
    assert held.bottleneck_id == 1
    assert held.most_feed_1_s == pytest.approx(25.0)


def test_a_station_that_follows_the_fruit_is_limited_by_its_highest_speed():
    # Touching fruit at 20 Hz uses all; at the maximum of 60 Hz it carries three times that. The
    # belt of 8 fruit/s comes first.
    follows = at(1, wanted="touching", hz=0.36 / M_S_PER_HZ)
    held = plan(follows, wide(2, 0.08), flows=row(1, 2))
    entry = held.entry(1)
    assert entry.used_share == pytest.approx(1.0)
    # 0.36 m/s of 60 · π / 200 m/s
    assert entry.limit_share == pytest.approx(0.36 / (60.0 * M_S_PER_HZ))
    assert held.bottleneck_id == 2


def test_a_maximum_at_which_the_motor_would_stall_is_no_limit_to_count_on():
    # At 120 of 60 Hz a motor pulls a quarter of its torque; this load asks for 80 %.
    follows = at(1, wanted="touching", hz=0.36 / M_S_PER_HZ)
    fast = builders.settings(hz_max=120, hz_min=0, ref_low=0, ref_high=60, ref_range=0)
    follows = dataclasses.replace(
        follows,
        drive=dataclasses.replace(follows.drive, settings=fast),
        drivetrain=dataclasses.replace(follows.drivetrain, load_fraction=0.8),
    )
    entry = plan(follows).entry(1)
    assert entry.limit_share == entry.used_share


def test_without_feed_or_capacity_there_is_no_bottleneck():
    assert plan(at(1)).bottleneck_id is None
    held = plan(wide(1, 0.25), recipes=())
    assert (held.bottleneck_id, held.most_feed_1_s) == (None, None)


# --- recipes ----------------------------------------------------------------------------------


def test_a_plan_for_each_recipe_the_first_in_force():
    held = computed(wide(1, 0.25), recipes=(recipe(), recipe(id=2, name="Small", fruit_1_s=9.0)))
    assert [entry.recipe.name for entry in held.plans] == ["Round fruit", "Small"]
    assert held.plan is held.plans[0]
    assert held.plan_for(2).entry(1).flow_1_s == 9.0
    assert held.plan_for(None) is held.plan
    with pytest.raises(KeyError):
        held.plan_for(7)
    with pytest.raises(KeyError):
        held.plan.entry(7)


def test_a_line_without_recipes_has_one_plan():
    held = computed(at(1, wanted="surface", wanted_m_s=0.3), recipes=())
    assert len(held.plans) == 1
    assert held.plan.recipe is None
    assert held.plan.entry(1).planned_m_s == 0.3
    assert held.plan.entry(1).flow_1_s is None


def test_figures_of_a_station_are_its_own_and_those_of_the_plan_in_force():
    held = computed(wide(1, 0.25, wanted="surface", wanted_m_s=0.3))
    figures = held.figures(1)
    assert figures["surface_speed_now_m_s"].value == pytest.approx(0.25)
    assert figures["surface_speed_wanted_m_s"].value == 0.3
    assert figures["capacity_1_s"].value == pytest.approx(25.0)


def test_entries_go_in_the_order_of_the_flow():
    assert list(plan(at(1), at(2), at(3), flows=row(3, 1, 2)).entries) == [3, 1, 2]


# --- what is kept from one edit to the next ---------------------------------------------------


def swapped(line_: Line, number: int, **changes) -> Line:
    """The line with one station changed; fields of its parts by ``part__field``."""
    held = line_.station(number)
    for name, value in changes.items():
        part, _, field = name.partition("__")
        if field:
            held = dataclasses.replace(
                held, **{part: dataclasses.replace(getattr(held, part), **{field: value})}
            )
        else:
            held = dataclasses.replace(held, **{name: value})
    stations = tuple(held if entry.id == number else entry for entry in line_.stations)
    return dataclasses.replace(line_, stations=stations)


def kept_by(before, after):
    """Stations whose entries are the very objects of before, in the plan in force."""
    return {
        key for key, entry in after.plan.entries.items() if entry is before.plan.entries.get(key)
    }


def test_an_edit_that_no_other_station_rests_on_costs_one():
    held = whole()
    before = compute_line(held)
    after = compute_line(swapped(held, 11, name="Other"), before)
    assert kept_by(before, after) == set(range(1, 11))
    assert after.plan.graph is before.plan.graph
    assert all(a is b for a, b in zip(before.plan.pairs, after.plan.pairs, strict=True))


def test_an_edit_that_a_pair_rests_on_costs_the_pair():
    held = whole()
    before = compute_line(held)
    after = compute_line(swapped(held, 9, process__cup_fill=0.7), before)
    # The cups themselves; the belt that follows them, and the spin section that they carry over.
    assert kept_by(before, after) == set(range(1, 12)) - {7, 8, 9}
    same = {a.pair.name for a, b in zip(before.plan.pairs, after.plan.pairs, strict=True) if a is b}
    assert same == {"brushes", "vee"}


def test_a_knob_costs_what_looks_at_its_present_speed():
    held = whole()
    before = compute_line(held)
    after = compute_line(swapped(held, 4, reference__now_v=5.0), before)
    # The other row of the bed tells their common drift.
    assert kept_by(before, after) == set(range(1, 12)) - {3, 4}


def test_nothing_edited_costs_nothing():
    held = whole()
    before = compute_line(held)
    after = compute_line(held, before)
    assert kept_by(before, after) == set(range(1, 12))
    again = compute_line(dataclasses.replace(held, name="Other name"), before)
    assert kept_by(before, again) == set(range(1, 12))


def test_another_recipe_in_force_is_planned_by_itself():
    held = whole()
    before = compute_line(held)
    turned = dataclasses.replace(held, recipes=held.recipes[::-1])
    assert same_plans(compute_line(turned, before), compute_line(turned))


def test_a_change_of_the_recipe_costs_its_plan_only():
    held = whole()
    before = compute_line(held)
    more = dataclasses.replace(held.recipes[1], fruit_1_s=5.0)
    after = compute_line(dataclasses.replace(held, recipes=(held.recipes[0], more)), before)
    assert kept_by(before, after) == set(range(1, 12))
    assert after.plans[1].entry(11).flow_1_s != before.plans[1].entry(11).flow_1_s


def test_a_row_turned_round_is_not_overlooked():
    # Its planned speed stays what it was; whether the two make a drift does not.
    held = whole()
    before = compute_line(held)
    after = compute_line(swapped(held, 3, turn="reverse"), before)
    assert [t.kind for t in after.plan.troubles] == ["same_direction"]


def same_plans(one, other):
    fields = [field.name for field in dataclasses.fields(type(one.plan)) if field.name != "_kept"]
    return len(one.plans) == len(other.plans) and all(
        getattr(a, name) == getattr(b, name)
        for a, b in zip(one.plans, other.plans, strict=True)
        for name in fields
    )


NUMBERS = st.integers(1, 11)
SHARES = st.sampled_from([None, 0.2, 0.5, 1.0])


@st.composite
def station_edits(draw):
    """A change to one station's entries."""
    number = draw(NUMBERS)
    field, values = draw(
        st.sampled_from(
            [
                ("name", ("a", "b")),
                ("kind", tuple(choices.STATION_KINDS)),
                ("turn", ("forward", "reverse")),
                ("lane", (None, 1, 2)),
                ("wanted", tuple(choices.WANTED_BASES)),
                ("wanted_m_s", (0.2, 0.4, None)),
                ("wanted_hz", (20.0, 50.0)),
                ("wanted_filled", (0.5, 1.0)),
                ("wanted_turns", (0.5, 3.0)),
                ("wanted_drift", (0.9, 1.2)),
                ("reference__now_v", (None, 2.0, 7.0)),
                ("reference__setting_share", (None, 0.02)),
                ("drive__drive_type_id", (None, 1)),
                ("drive__settings", (builders.settings(hz_max=50), builders.settings(hz_max=60))),
                ("drivetrain__gear_ratio", (10.0, 25.0, None)),
                ("drivetrain__load_fraction", (0.0, 0.8)),
                ("process__cup_fill", (0.7, 0.9)),
                ("process__carrying_width_m", (0.2, 0.6)),
                ("process__view_length_m", (0.4, 0.6)),
                ("process__size_to_m", (0.055, None)),
                ("motors", ((),)),
            ]
        )
    )
    value = draw(st.sampled_from(values))
    return lambda held: swapped(held, number, **{field: value}) if _has(held, number) else held


def _has(held, number):
    return any(entry.id == number for entry in held.stations)


@st.composite
def link_edits(draw):
    first, second = draw(NUMBERS), draw(NUMBERS)
    kind = draw(st.sampled_from(["forward", "cull", "return"]))
    link = Flow(draw(st.integers(1, 20)), first, draw(st.sampled_from([second, None])), kind)
    link = dataclasses.replace(link, share=draw(SHARES))

    def edit(held):
        if not _has(held, first) or (link.to_station_id and not _has(held, second)):
            return held
        others = tuple(entry for entry in held.flows if entry.id != link.id)
        return dataclasses.replace(held, flows=(*others, link))

    return edit


@st.composite
def pair_edits(draw):
    made = Pair(
        draw(st.integers(1, 4)),
        "p",
        draw(NUMBERS),
        draw(NUMBERS),
        draw(st.sampled_from(["ratio", "differential"])),
        draw(st.sampled_from([None, 0.1, -0.1])),
        draw(st.sampled_from([None, 1.0, 1.3])),
        draw(st.sampled_from([None, 0.01])),
        draw(st.booleans()),
    )

    def edit(held):
        if not (_has(held, made.first_station_id) and _has(held, made.second_station_id)):
            return held
        others = tuple(entry for entry in held.pairs if entry.id != made.id)
        return dataclasses.replace(held, pairs=(*others, made))

    return edit


@st.composite
def line_edits(draw):
    """A change to the line as a whole."""
    number = draw(NUMBERS)

    def gone(held):
        kept = [f for f in held.flows if number not in (f.from_station_id, f.to_station_id)]
        pairs = [p for p in held.pairs if number not in (p.first_station_id, p.second_station_id)]
        stations = [entry for entry in held.stations if entry.id != number]
        return dataclasses.replace(
            held, flows=tuple(kept), pairs=tuple(pairs), stations=tuple(stations)
        )

    def fed(held):
        first = dataclasses.replace(held.recipes[0], fruit_1_s=float(number))
        return dataclasses.replace(held, recipes=(first, *held.recipes[1:]))

    def otherwise(held):
        speeds = (own(number, "frequency", wanted_hz=33.0),)
        first = dataclasses.replace(held.recipes[0], speeds=speeds)
        return dataclasses.replace(held, recipes=(first, *held.recipes[1:]))

    edits = [
        gone,
        fed,
        otherwise,
        lambda held: dataclasses.replace(held, lanes=number),
        lambda held: dataclasses.replace(held, flows=held.flows[1:]),
        lambda held: dataclasses.replace(held, pairs=held.pairs[1:]),
        lambda held: dataclasses.replace(held, stations=held.stations[::-1]),
        lambda held: dataclasses.replace(held, recipes=held.recipes[::-1]),
        lambda held: dataclasses.replace(
            held, drive_types=(dataclasses.replace(builders.DRIVE_TYPE, frequency_step_hz=0.1),)
        ),
    ]
    return draw(st.sampled_from(edits))


EDITS = st.one_of(station_edits(), station_edits(), link_edits(), pair_edits(), line_edits())


@settings(max_examples=150, deadline=None)
@given(st.lists(EDITS, min_size=1, max_size=5))
def test_after_any_edits_the_plan_is_that_of_computing_anew(edits):
    held = whole()
    results = compute_line(held)
    for edit in edits:
        held = edit(held)
        results = compute_line(held, results)
    assert same_plans(results, compute_line(held))
    assert results.stations == compute_line(held).stations


def test_the_working_of_fruit_to_carry_names_who_brings_it(plans):
    held = plans["Mandarins"]
    entry = of(held, "A06")
    figure = held.flow_figure(entry.station.id)
    assert figure.value == entry.flow_1_s
    told = {given.label: given.value for given in figure.given}
    # All of the fruit goes over both rows of the bed at once.
    assert told == {
        "feed": pytest.approx(held.rates.feed_1_s),
        "from A04": pytest.approx(entry.flow_1_s),
        "from A05": pytest.approx(entry.flow_1_s),
    }


def test_fruit_that_is_not_known_has_no_working():
    held = plan(at(1), at(2), flows=row(1, 2), recipes=())
    assert [held.flow_figure(key) for key in held.entries] == [None, None]
