"""Speeds out of reach or not as wanted, floods, brushes, the camera, limits of handling."""

import dataclasses

import pytest

from core.model import RecipeSpeed
from tests.core.line import fruit
from tests.core.line.findings.sound import change, fires, keyed, line, quiet
from tests.core.line.fruit import M_S_PER_HZ, at, pair, recipe, row, way, wide


def hz(speed_m_s):
    return speed_m_s / M_S_PER_HZ


def test_wanted_speed_out_of_reach_fires():
    # A minimum above the wanted frequency, and a maximum below it.
    entry = fires("wanted-speed-out-of-reach", line(keyed(hz_min=42)))
    assert "needs 40 Hz; the drive runs from 42 Hz to 50 Hz" in entry.says("metric")
    assert fires("wanted-speed-out-of-reach", line(keyed(hz_max=38)))


def test_wanted_speed_out_of_reach_under_another_recipe():
    # As a rule 40 Hz; persimmons want 14 Hz, below the minimum of 20 Hz.
    slow = recipe(id=2, name="Persimmons", speeds=(RecipeSpeed(1, 1, "frequency", wanted_hz=14.0),))
    entry = fires("wanted-speed-out-of-reach", line(recipes=(recipe(), slow)))
    assert entry.says("metric").startswith("Persimmons: The wanted speed needs 14 Hz")
    # The only recipe of a line is not named.
    entry = fires("wanted-speed-out-of-reach", line(recipes=(slow,)))
    assert entry.says("metric").startswith("The wanted speed needs 14 Hz")


def test_wanted_speed_out_of_reach_quiet():
    quiet("wanted-speed-out-of-reach", line(keyed(hz_min=40)))
    quiet("wanted-speed-out-of-reach", line(keyed(hz_max=40)))


def test_speed_not_as_wanted_fires():
    # 14.8 mA: 10.8/16 of 50 Hz = 33.75 Hz, 84.4 % of 40 Hz.
    entry = fires("speed-not-as-wanted", line(change(reference={"now_a": 0.0148})))
    assert entry.values["now_hz"] == pytest.approx(33.75)
    assert entry.values["now_share"] == pytest.approx(0.84375)
    assert entry.place.field == "now_a"


def test_speed_not_as_wanted_quiet():
    # 16.3 mA: 38.4 Hz, 96 % of 40 Hz.
    quiet("speed-not-as-wanted", line(change(reference={"now_a": 0.0163})))
    quiet("speed-not-as-wanted", line(change(reference={"now_a": None})))
    # What another recipe wants is not set now, and need not be.
    other = recipe(id=2, name="Other", speeds=(RecipeSpeed(1, 1, "frequency", wanted_hz=30.0),))
    quiet("speed-not-as-wanted", line(recipes=(recipe(), other)))


def cooled(wanted_hz, **motor):
    """The sound station wanted at a frequency; its maker allows rated torque from 25 Hz on."""
    held = change(wanted_hz=wanted_hz, motor={"frequency_min_hz": 25.0, **motor})
    return line(held)


def test_wanted_below_cooling_fires():
    entry = fires("wanted-below-cooling", cooled(22.0))
    assert entry.level == "advice"
    assert entry.values == {"wanted_hz": 22.0, "cooled_hz": 25.0}


def test_wanted_below_cooling_quiet():
    quiet("wanted-below-cooling", cooled(25.0))
    quiet("wanted-below-cooling", cooled(22.0, cooling="forced"))


def test_station_overfed_fires():
    # 100 fruit lie on each metre: 6 fruit/s arrive, 100 · 0.05 are carried.
    held = fruit.line(wide(1, 0.25), wide(2, 0.05), flows=row(1, 2))
    entry = fires("station-overfed", held)
    assert (entry.tag, entry.level) == ("ST2", "fault")
    assert entry.values["used_share"] == pytest.approx(1.2)
    assert "6 /s arrive; at the speed set now it carries 5 /s" in entry.says("metric")


def test_station_overfed_as_planned_under_another_recipe():
    # As set now 25 fruit/s are carried; the other recipe brings 12 and wants 0.1 m/s, 10 fruit/s.
    other = recipe(
        id=2,
        name="Small",
        fruit_1_s=12.0,
        speeds=(RecipeSpeed(1, 1, "surface", wanted_m_s=0.1),),
    )
    entry = fires("station-overfed", fruit.line(wide(1, 0.25), recipes=(recipe(), other)))
    assert entry.says("metric").startswith("Small: 12 /s arrive; at the speed planned it carries")
    assert entry.values["used_share"] == pytest.approx(1.2)


def test_station_overfed_quiet():
    quiet("station-overfed", fruit.line(wide(1, 0.0625)))
    # Exactly full, and what hertz to two decimals add: 6 of 5.95.
    quiet("station-overfed", fruit.line(wide(1, 0.06)))
    quiet("station-overfed", fruit.line(wide(1, 0.0595)))
    quiet("station-overfed", fruit.line(wide(1, 0.05), recipes=()))


def bed(forward_m_s, reverse_m_s, **changes):
    """A feed belt and a bed of 16 fruit in each valley of 0.13335 m (reference B2, row 1)."""
    held = {"brush_pitch_m": 0.13335, "bed_width_m": 1.2192, "carrying_length_m": 1.6002}
    rows = (
        at(2, "brush_bed", hz=hz(forward_m_s), **held),
        at(3, "brush_bed", turn="reverse", hz=hz(reverse_m_s), **held),
    )
    fed = recipe(fruit_diameter_m=0.06096, **changes)
    flows = way((1, 2), (1, 3))
    return fruit.line(at(1), *rows, flows=flows, pairs=(pair(2, 3),), recipes=(fed,))


def test_a_bed_that_floods_is_told_once():
    # Drift 0.04 m/s carries 0.04 · 16 / 0.13335 = 4.799 of 6 fruit/s: 125 %
    entry = fires("station-overfed", bed(0.54, 0.46))
    assert entry.tag == "ST2"
    assert entry.values["used_share"] == pytest.approx(1.2502, abs=1e-4)


def test_bed_does_not_carry_fires():
    entry = fires("bed-does-not-carry", bed(0.5, 0.52))
    assert entry.tag == "ST2"
    assert entry.values["drift_m_s"] == pytest.approx(-0.01)
    assert entry.place.field == "now_v"
    assert fires("bed-does-not-carry", bed(0.5, 0.5))


def test_bed_does_not_carry_quiet():
    quiet("bed-does-not-carry", bed(0.54, 0.46))
    # Nobody entered where the references stand.
    quiet("bed-does-not-carry", fruit.line(at(1), at(2, "brush_bed"), flows=row(1, 2)))


def camera(carrier_m_s, spin_m_s, turn="forward", **process):
    """Fruit of 60.96 mm over a view of 457.2 mm (reference C1, rows 3 and 4)."""
    held = {"view_length_m": 0.4572, "images_per_fruit": 30, **process}
    spin = at(1, "spin_section", hz=hz(spin_m_s), turn=turn, **held)
    fed = recipe(fruit_diameter_m=0.06096)
    return fruit.line(
        spin, at(2, "cup_conveyor", hz=hz(carrier_m_s)), flows=row(1, 2), recipes=(fed,)
    )


def test_images_not_as_wanted_fires():
    # 1.33684 s in view at 20 frames/s: 26.7 images; 30 need 22.44 frames/s.
    entry = fires("images-not-as-wanted", camera(0.342, 0.127, frames_hz=20.0))
    assert entry.values == {"images": "26.7", "wanted": 30, "frames_hz": "22.4"}
    assert entry.place.field == "frames_hz"


def test_images_not_as_wanted_quiet():
    quiet("images-not-as-wanted", camera(0.342, 0.127, frames_hz=22.4))
    quiet("images-not-as-wanted", camera(0.342, 0.127))
    quiet("images-not-as-wanted", camera(0.342, 0.127, frames_hz=20.0, images_per_fruit=None))


def test_turns_out_of_window_fires():
    # Reference C1 row 4: in reverse 3.2738 turns.
    entry = fires("turns-out-of-window", camera(0.342, 0.127, "reverse"))
    assert entry.values == {"turns": "3.27", "low": "1.2", "high": "2"}
    # Near the speed of the carrier: (0.342 − 0.3) / 0.342 · 0.4572 / (π · 0.06096) = 0.293
    assert fires("turns-out-of-window", camera(0.342, 0.3)).values["turns"] == "0.29"


def test_turns_out_of_window_quiet():
    # Row 3: 1.5008 turns.
    quiet("turns-out-of-window", camera(0.342, 0.127))
    quiet("turns-out-of-window", camera(0.342, 0.0, view_length_m=0.3))


def brush(hertz):
    """One row of brushes geared 15 to 1: 2 rpm for each hertz."""
    held = at(1, "brush_bed", hz=hertz)
    return dataclasses.replace(
        held, drivetrain=dataclasses.replace(held.drivetrain, gear_ratio=15.0)
    )


def test_handling_limit_fires():
    # Technical Bulletin 29 (2004): wax brushes at not more than 100 rpm, for lemons.
    entry = fires("handling-limit", fruit.line(brush(52.0)))
    assert entry.says("us").startswith("Brush speed: 104.0 rpm. Published for lemon: at most 100")
    assert "Bulletin 29" in entry.rule.source.format_map(entry.values)
    assert entry.level == "advice"


def dropping(height_m, onto, fruit_kind):
    return fruit.line(
        at(1, drop_out_m=height_m, drop_onto=onto), recipes=(recipe(fruit=fruit_kind),)
    )


def test_handling_limit_of_a_fall():
    # Trials on peaches: 31 cm on flat steel is often enough to bruise.
    entry = fires("handling-limit", dropping(0.32, "hard", "peaches"))
    assert entry.values["found"] == "320 mm"
    assert "for peach" in entry.says("metric")


def test_handling_limit_of_the_time_on_brushes():
    # USDA report: rind breakdown of oranges after a minute. 1.6002 m at a drift of 0.02 m/s: 80 s.
    entry = fires("handling-limit", bed(0.52, 0.48, fruit_1_s=1.0, fruit="oranges"))
    assert entry.values["found"] == "80 s"
    assert entry.tag == "ST2"


def test_handling_limit_quiet():
    quiet("handling-limit", fruit.line(brush(50.0)))
    quiet("handling-limit", dropping(0.30, "hard", "peaches"))
    quiet("handling-limit", dropping(0.32, "padded", "peaches"))
    # No source speaks of another fruit, and nobody said what it falls onto.
    quiet("handling-limit", dropping(0.32, "hard", "quinces"))
    quiet("handling-limit", dropping(0.32, None, "peaches"))
    # 1.6002 m at 0.04 m/s: 40 s
    quiet("handling-limit", bed(0.54, 0.46, fruit_1_s=1.0, fruit="oranges"))
