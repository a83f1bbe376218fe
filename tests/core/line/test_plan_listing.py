"""The plan as data for other programs, and as text for a terminal."""

import json
import re
from pathlib import Path

import pytest

import sample_projects
from core.line import ALL_RULES, compute_line
from core.line.plan_listing import FORMAT_NAME, plan_as_data, plan_as_text
from core.store import LineFile
from tests.core.line.fruit import M_S_PER_HZ, at, computed, pair, recipe, row, way

SAMPLES = Path(sample_projects.__file__).parent
KEYS = Path(__file__).parents[3] / "docs" / "command-line.md"


def small():
    """A wide belt, one of each trouble, and a pair that cannot hold."""
    stations = (
        at(1, "take_away", hz=20.0, wanted="frequency", wanted_hz=22.0, carrying_width_m=0.45),
        at(2, wanted="pair", hz=30.0),
        at(3, wanted="surface", wanted_m_s=40.0 * M_S_PER_HZ, hz=40.0),
        at(4, wanted="pair"),
        at(5),
    )
    held = pair(2, 3, name="belts", wanted_differential=0.03, tolerance=0.001)
    fed = recipe(), recipe(id=2, name="Small fruit", fruit="plums", fruit_1_s=3.0)
    return computed(*stations, flows=row(1, 2, 3), pairs=(held,), recipes=fed)


@pytest.fixture(scope="module")
def data():
    return plan_as_data(small())


def test_the_head(data):
    assert data["format"] == FORMAT_NAME == "linebook-plan-1"
    assert data["line"] == "Test"
    assert [entry["recipe"] for entry in data["recipes"]] == ["Round fruit", "Small fruit"]
    assert data["recipes"][1]["fruit"] == "plums"


def test_one_recipe_by_its_name():
    held = small()
    assert [e["recipe"] for e in plan_as_data(held, "Small fruit")["recipes"]] == ["Small fruit"]
    assert plan_as_data(held, "no such")["recipes"] == []


def test_the_flow(data):
    first = data["recipes"][0]
    assert first["order"] == ["ST1", "ST2", "ST3", "ST4", "ST5"]
    assert first["feed"] == {"feed_1_s": 6.0}
    # 0.8 · 0.45 / 0.06² = 100 fruit on a metre at 20 Hz, π/10 m/s
    assert first["bottleneck"] == "ST1"
    assert first["most_feed_1_s"] == pytest.approx(100.0 * 20.0 * M_S_PER_HZ)
    assert first["flow_faults"] == [{"kind": "apart", "stations": ["ST4", "ST5"]}]
    assert first["troubles"] == [{"kind": "no_partner", "stations": ["ST4"]}]


def test_a_station(data):
    entry = data["recipes"][0]["stations"][0]
    assert (entry["tag"], entry["basis"], entry["fruit_flow_1_s"]) == ("ST1", "frequency", 6.0)
    assert entry["wanted"]["frequency_wanted_hz"] == 22.0
    assert entry["present"]["frequency_now_hz"] == pytest.approx(20.0)
    assert entry["present"]["surface_speed_now_m_s"] == pytest.approx(20.0 * M_S_PER_HZ)
    # 6 / (0.3142 · 100) and 6 / (0.3456 · 100)
    assert entry["present"]["used_share"] == pytest.approx(0.06 / (20.0 * M_S_PER_HZ))
    assert entry["planned"]["used_share"] == pytest.approx(0.06 / (22.0 * M_S_PER_HZ))
    working = entry["workings"]["planned"]["used_share"]
    assert working["given"]["flow_1_s"] == 6.0
    assert working["formula"]
    assert working["source"]


def test_a_pair(data):
    (entry,) = data["recipes"][0]["pairs"]
    assert (entry["pair"], entry["first"], entry["second"]) == ("belts", "ST2", "ST3")
    assert entry["wanted_share"] == 0.03
    assert entry["planned_share"] == pytest.approx(0.03)
    # 30 and 40 Hz: −10 / 35
    assert entry["present_share"] == pytest.approx(-10.0 / 35.0)
    assert entry["holds"] is False
    assert entry["assumed"] == ["signal"]
    assert sum(part["variance_share"] for part in entry["budget"]) == pytest.approx(1.0)
    assert [held["remedy"] for held in entry["remedies"]] == ["one_signal", "span", "bus"]


def test_the_order_of_stopping(data):
    steps = data["recipes"][0]["stopping"]
    assert [step["tag"] for step in steps] == ["ST1", "ST2", "ST3"]
    # No ramps are entered, so that only the first one's time is known, and no pile.
    assert [step["stop_after_s"] for step in steps] == [0.0, None, None]
    assert [step["start_after_s"] for step in steps] == [None, None, 0.0]
    assert all(step["pile_up_fruit"] is None for step in steps)


def test_without_a_recipe():
    held = plan_as_data(computed(at(1, wanted="surface", wanted_m_s=0.3), recipes=()))
    (entry,) = held["recipes"]
    assert (entry["recipe"], entry["fruit"], entry["feed"]) == (None, None, {})
    assert (entry["bottleneck"], entry["most_feed_1_s"]) == (None, None)
    assert entry["stations"][0]["wanted"]["surface_speed_wanted_m_s"] == 0.3


def everything(data):
    """Every dictionary of figures in the data."""
    for held in data["recipes"]:
        yield held["feed"]
        for entry in held["stations"]:
            yield from (entry["wanted"], entry["planned"], entry["present"])


@pytest.mark.parametrize("name", ["quillback_hollow", "lindenmoor"])
def test_every_key_is_a_figure_and_is_documented(name):
    held = plan_as_data(compute_line(LineFile.read(SAMPLES / f"{name}.linebook")))
    told = set().union(*map(set, everything(held)))
    assert told <= {rule.key for rule in ALL_RULES}
    documented = set(re.findall(r"^\| `(\w+)` \|", KEYS.read_text(encoding="utf-8"), re.M))
    assert told <= documented
    # JSON knows no infinity and no NaN.
    json.dumps(held, allow_nan=False)


@pytest.mark.parametrize("name", ["quillback_hollow", "lindenmoor"])
def test_the_keys_of_the_list_are_those_documented(name):
    text = KEYS.read_text(encoding="utf-8")
    held = plan_as_data(compute_line(LineFile.read(SAMPLES / f"{name}.linebook")))
    for part in ("stations", "pairs", "stopping"):
        words = re.search(rf"^\| `recipes\[\]\.{part}` \| (.*) \|$", text, re.M).group(1)
        named = set(re.findall(r"`(\w+)`", words))
        assert {key for entry in held["recipes"][0][part] for key in entry} == named


# --- as text ----------------------------------------------------------------------------------


def test_a_table_for_each_recipe():
    text = plan_as_text(small())
    assert text.count("of fruit fed.") == 2
    lines = text.splitlines()
    assert lines[0] == "Round fruit: 6 /s of fruit fed. Bottleneck: ST1, full at 31.42 /s."
    assert lines[1].split() == [
        "Tag", "Name", "Fruit", "Planned", "Hz", "Ref", "Now", "Hz", "now", "Used",
    ]  # fmt: skip
    assert re.split(r"  +", lines[2]) == [
        "ST1",
        "Belt",
        "6 /s",
        # 22 · π / 200, 22 of 60 Hz, 20 · π / 200
        "0.3456 m/s",
        "22 Hz",
        "36.67 %",
        "0.3142 m/s",
        "20 Hz",
        "19.1 %",
    ]
    assert not any(line.endswith(" ") for line in lines)


def test_the_pair_below_the_table():
    text = plan_as_text(small(), "Round fruit")
    assert "belts: planned 3 % ± " in text
    assert text.endswith("% (k = 2), now -28.57 %, cannot hold its band")


def test_columns_stand_below_one_another():
    lines = plan_as_text(small(), "Round fruit").splitlines()
    column = lines[1].index("Planned")
    assert all(line[column - 2 : column] == "  " for line in lines[2:7])


def test_text_in_the_units_of_the_line():
    text = plan_as_text(
        computed(at(1, wanted="surface", wanted_m_s=0.254), unit_system="us", flows=way((None, 1)))
    )
    # 0.254 m/s is 50 ft/min
    assert "50 ft/min" in text
    assert "m/s" not in text


def test_text_without_a_recipe():
    text = plan_as_text(computed(at(1), recipes=()))
    assert text.startswith("No recipe: - of fruit fed.")
    assert "Bottleneck" not in text


def test_a_pair_that_is_planned_otherwise():
    belts = [at(n, wanted="frequency", wanted_hz=hz) for n, hz in ((1, 44.0), (2, 40.0))]
    held = pair(name="two", wanted_differential=0.02, tolerance=0.01)
    assert plan_as_text(computed(*belts, pairs=(held,))).endswith("planned outside of its band")


def test_a_pair_that_nobody_judges():
    text = plan_as_text(computed(at(1, hz=41.0), at(2, hz=40.0), pairs=(pair(name="two"),)))
    # 1 / 40.5
    assert text.endswith("two: planned -, now 2.469 %")
