"""Two lines side by side: each change once, in the words of the keypad, and what it does.

The faults are those of /demo/NOTES.md, and the numbers its own; both are worked out there.
"""

import dataclasses
from importlib.resources import files

import pytest

from core.model import Photo, Setting
from core.model.keypad import read_keypad
from core.readback.present import with_present
from core.readback.results import gathered, taken, wanted_of
from core.records.comparing import compare
from core.records.consequences import consequences
from core.records.listing import difference_as_text
from core.records.put_back import put_back
from core.store import LineFile


def sample(name):
    return LineFile.read(files("sample_projects").joinpath(f"{name}.linebook"))


def at(line, tag, edit):
    stations = tuple(edit(s) if s.tag == tag else s for s in line.stations)
    return dataclasses.replace(line, stations=stations)


def part(name, **values):
    return lambda station: dataclasses.replace(
        station, **{name: dataclasses.replace(getattr(station, name), **values)}
    )


def keyed(line, tag, **shown):
    """The line with settings changed at one keypad; ``_`` for ``-`` in the codes."""
    wanted = {code.replace("_", "-"): value for code, value in shown.items()}

    def edit(station):
        drive_type = line.drive_type(station.drive.drive_type_id)
        settings = []
        for held in station.drive.settings:
            if held.code in wanted:
                found = read_keypad(wanted[held.code], drive_type.listed(held.code))
                held = dataclasses.replace(held, shown=found.shown, value=found.value)
            settings.append(held)
        return part("drive", settings=tuple(settings))(station)

    return at(line, tag, edit)


def told(before, after):
    found = consequences(compare(before, after))
    return {held.tag: held for held in found}


def effect(held, key):
    [found] = [entry for entry in held.effects if entry.key == key]
    return found


QUILLBACK, LINDENMOOR = sample("quillback_hollow"), sample("lindenmoor")
FT_MIN = 0.3048 / 60.0
RPM = 2.0 * 3.141592653589793 / 60.0


def test_a_line_does_not_differ_from_itself():
    assert compare(QUILLBACK, QUILLBACK).changes == ()
    assert consequences(compare(QUILLBACK, QUILLBACK)) == ()


def test_input_left_at_0_to_20_ma():
    # NOTES: 16.32 mA -> 48.96 Hz, 86.0 rpm, drift 6.53 ft/min, 48.3 s, bed floods upstream.
    after = keyed(QUILLBACK, "A05", ref_range="1")
    [change] = compare(QUILLBACK, after).changes
    assert (change.tag, change.group, change.field) == ("A05", "settings", "ref-range")
    found = told(QUILLBACK, after)
    assert effect(found["A05"], "frequency_now_hz").after == pytest.approx(48.96, abs=0.01)
    assert effect(found["A05"], "shaft_speed_now_rad_s").after / RPM == pytest.approx(86.0, abs=0.1)
    drift = effect(found["A05"], "drift_index_m_s").after / FT_MIN
    assert drift == pytest.approx(6.53, rel=0.005)
    assert effect(found["A05"], "time_on_brushes_s").after == pytest.approx(48.3, rel=0.005)
    assert "station-overfed" in {finding.key for finding in found["A04"].came}


def test_knob_turned_up():
    # NOTES: 58 Hz -> 102.2 rpm, above the 100 rpm limit; the knob at 9.50 V of 20 to 60 Hz.
    after = at(QUILLBACK, "A07", part("reference", now_v=9.5))
    [change] = compare(QUILLBACK, after).changes
    assert (change.group, change.note) == ("knobs", "knob moved")
    held = told(QUILLBACK, after)["A07"]
    assert effect(held, "frequency_now_hz").after == pytest.approx(58.0, abs=0.01)
    assert effect(held, "shaft_speed_now_rad_s").after / RPM == pytest.approx(102.2, abs=0.1)
    assert "handling-limit" in {finding.key for finding in held.came}


def test_potentiometer_with_its_ends_swapped_is_seen_by_its_voltage():
    # NOTES: 7.60 V gives 2.40 V -> 25.8 Hz in place of 49.2.
    after = at(QUILLBACK, "A08", part("reference", now_v=2.4))
    held = told(QUILLBACK, after)["A08"]
    assert effect(held, "frequency_now_hz").before == pytest.approx(49.2, abs=0.01)
    assert effect(held, "frequency_now_hz").after == pytest.approx(25.8, abs=0.01)


def test_spare_drive_left_at_50_hz():
    # NOTES: 32.9 Hz, 34.4 ft/min, differential 26 %.
    after = keyed(QUILLBACK, "A11", hz_max="50", ref_high_hz="50")
    after = at(after, "A11", part("drive", serial="SPARE-1"))
    difference = compare(QUILLBACK, after)
    assert {change.note for change in difference.of("drives")} == {"drive swapped"}
    held = told(QUILLBACK, after)["A11"]
    assert effect(held, "frequency_now_hz").after == pytest.approx(32.9, abs=0.05)
    assert effect(held, "surface_speed_now_m_s").after / FT_MIN == pytest.approx(34.4, abs=0.1)
    pair = effect(held, "pair:Singulator belts")
    assert pair.after == pytest.approx(0.26, abs=0.005)


def test_spin_belt_reversed():
    # NOTES: 3.27 turns, 39.3 degrees from image to image.
    after = at(QUILLBACK, "A13", lambda station: dataclasses.replace(station, turn="reverse"))
    held = told(QUILLBACK, after)["A13"]
    assert effect(held, "turns_in_view").after == pytest.approx(3.27, abs=0.01)
    degrees = effect(held, "angle_per_image_rad").after * 180.0 / 3.141592653589793
    assert degrees == pytest.approx(39.3, abs=0.1)


def test_cup_conveyor_left_at_50_hz():
    # NOTES: 8.10 V -> 40.5 Hz, 82.9 % speed, cup/gap ratio 0.83.
    after = keyed(LINDENMOOR, "B11", hz_max="50", ref_high_hz="50")
    held = told(LINDENMOOR, after)["B11"]
    assert effect(held, "frequency_now_hz").after == pytest.approx(40.5, abs=0.01)
    speed = effect(held, "surface_speed_now_m_s")
    assert speed.after / speed.before == pytest.approx(0.829, abs=0.001)
    # 0.829 of 0.998: differential of the two over their mean.
    ratio = 0.829 * 0.998
    pair = effect(held, "pair:Cups after gapping belt")
    assert pair.after == pytest.approx((ratio - 1.0) / ((ratio + 1.0) / 2.0), abs=0.002)


def test_minimum_that_a_recipe_cannot_live_with():
    # NOTES: minimum 20 Hz; persimmons want 14.6 Hz.
    after = keyed(LINDENMOOR, "B10", hz_min="20")
    held = told(LINDENMOOR, after)["B10"]
    [came] = [finding for finding in held.came if finding.key == "wanted-speed-out-of-reach"]
    assert came.values["wanted_hz"] == pytest.approx(14.6, abs=0.05)
    assert came.says("metric").startswith("Persimmons: ")


def test_motor_links_in_delta_and_a_screen_at_both_ends():
    # NOTES: B01 links in delta on 400 V (flux 173 %); B09 signal screen earthed at both ends.
    def linked(station):
        motors = (dataclasses.replace(station.motors[0], connected_for="low"),)
        return dataclasses.replace(station, motors=motors)

    def screened(station):
        cables = tuple(
            dataclasses.replace(cable, screen="both") if cable.run == "reference" else cable
            for cable in station.cables
        )
        return dataclasses.replace(station, cables=cables)

    after = at(at(LINDENMOOR, "B01", linked), "B09", screened)
    difference = compare(LINDENMOOR, after)
    assert {(change.tag, change.group) for change in difference.changes} == {
        ("B01", "motors"), ("B09", "wiring"),
    }  # fmt: skip
    found = told(LINDENMOOR, after)
    assert found["B01"].came
    assert {finding.key for finding in found["B09"].came} == {"screen-both-ends"}


def test_a_reading_within_tolerance_is_no_moved_knob():
    after = at(QUILLBACK, "A07", part("reference", now_v=7.12))
    assert compare(QUILLBACK, after).changes == ()


def test_a_frequency_set_at_the_keypad_is_met_exactly():
    # 50.0 Hz and 50.2 Hz are two settings, 0.4 % apart; nobody measured either of them.
    before = at(QUILLBACK, "A07", part("reference", source="keypad", now_hz=50.0))
    after = at(QUILLBACK, "A07", part("reference", source="keypad", now_hz=50.2))
    [change] = compare(before, after).changes
    assert (change.field, change.was, change.now) == ("now_hz", "50 Hz", "50.2 Hz")


def test_the_same_value_written_otherwise_is_the_same():
    after = keyed(QUILLBACK, "A05", hz_max="60.00")
    assert compare(QUILLBACK, after).changes == ()


def test_changed_sprocket_is_called_one():
    after = at(QUILLBACK, "A04", part("drivetrain", driver_teeth=17))
    [change] = compare(QUILLBACK, after).changes
    assert (change.group, change.note) == ("mechanics", "sprocket or pulley changed")


def test_stations_are_met_by_tag_and_a_renamed_one_by_its_id():
    renamed = at(QUILLBACK, "A15", lambda s: dataclasses.replace(s, tag="A15B"))
    [change] = compare(QUILLBACK, renamed).changes
    assert (change.was, change.now, change.field) == ("A15", "A15B", "tag")
    fewer = dataclasses.replace(QUILLBACK, stations=QUILLBACK.stations[:-1])
    assert [c.sort for c in compare(QUILLBACK, fewer).changes if c.table == "station"] == [
        "removed"
    ]
    assert [c.sort for c in compare(fewer, QUILLBACK).changes if c.table == "station"] == ["added"]


def pictured(line, *told):
    """The line with photographs of A01; each is told by digest, what it shows, and caption."""
    held = tuple(
        Photo(id=number, sha256=digest * 64, shows=shows, caption=caption)
        for number, (digest, shows, caption) in enumerate(told, start=1)
    )
    return at(line, "A01", lambda station: dataclasses.replace(station, photos=held))


def test_photographs_are_met_by_their_digest_and_told_by_what_they_show():
    before = pictured(QUILLBACK, ("a", "motor_plate", "As delivered"), ("b", "wiring", ""))
    after = pictured(QUILLBACK, ("c", "drive_plate", ""), ("a", "motor_plate", "Rewound"))
    changes = compare(before, after).changes
    assert {change.group for change in changes} == {"papers"}
    assert [change.sentence() for change in changes] == [
        "A01 Dump-tank circulation pump, photograph Nameplate of the motor Rewound: photograph, "
        "caption As delivered → Rewound",
        "A01 Dump-tank circulation pump: photograph Wiring removed",
        "A01 Dump-tank circulation pump: photograph Nameplate of the drive added",
    ]
    assert compare(before, before).changes == ()
    assert consequences(compare(before, after)) == consequences(compare(QUILLBACK, QUILLBACK))


def test_what_was_not_read_is_never_the_same():
    wanted = wanted_of(QUILLBACK)
    read = [taken(one, "50") for one in wanted if one.code == "hz-max"][:1]
    found = with_present(QUILLBACK, gathered(QUILLBACK, read, "no reply"))
    difference = compare(QUILLBACK, found)
    assert len(difference.not_read) == len(wanted) - 1
    assert [c.field for c in difference.changes if c.sort == "changed"] == ["hz-max"]


def test_what_differs_or_was_not_read_comes_in_the_order_of_the_keypad():
    wanted = wanted_of(QUILLBACK)  # drive by drive, in the order of the drive types' lists
    read = [taken(one, "55") for one in wanted if one.code == "hz-max"]
    found = with_present(QUILLBACK, gathered(QUILLBACK, read, "no reply"))
    order = [(one.station.tag, one.code) for one in wanted if one.code != "hz-max"]
    assert [(held.tag, held.field) for held in compare(QUILLBACK, found).not_read] == order
    # Whatever the order in which they were entered.
    upside_down = at(
        QUILLBACK,
        "A11",
        lambda s: part("drive", settings=tuple(reversed(s.drive.settings)))(s),
    )
    after = keyed(upside_down, "A11", ref_high_hz="50", ramp_up="9", hz_max="50")
    listed = [one.code for one in wanted if one.station.tag == "A11"]
    codes = [held.field for held in compare(QUILLBACK, after).of("settings")]
    assert len(codes) == 3
    assert codes == sorted(codes, key=listed.index)


def test_put_back_goes_by_the_keypad():
    after = keyed(QUILLBACK, "A11", ref_high_hz="50", ramp_up="9", hz_max="50")
    listed = [
        entry.code
        for entry in QUILLBACK.drive_type(
            QUILLBACK.station_tagged("A11").drive.drive_type_id
        ).listed_settings
    ]
    codes = [held.code for held in put_back(compare(QUILLBACK, after))]
    assert codes == sorted(codes, key=listed.index)
    assert {(h.code, h.now, h.wanted) for h in put_back(compare(QUILLBACK, after))} >= {
        ("hz-max", "50", "60"),
        ("ref-high-hz", "50", "60"),
    }


def test_a_renamed_station_is_put_back_under_its_new_tag():
    after = keyed(QUILLBACK, "A11", hz_max="50")
    after = at(after, "A11", lambda s: dataclasses.replace(s, tag="A11B"))
    [held] = put_back(compare(QUILLBACK, after))
    assert (held.tag, held.code, held.wanted) == ("A11B", "hz-max", "60")
    assert held.meaning == "Highest frequency the drive may run"


def test_a_setting_back_at_factory_was_not_recorded():
    """A setting that nobody recorded stood as delivered; another value is told against that."""
    station = QUILLBACK.station_tagged("A05")
    drive_type = QUILLBACK.drive_type(station.drive.drive_type_id)
    entered = {held.code for held in station.drive.settings}
    listed = next(
        entry for entry in drive_type.listed_settings
        if entry.code not in entered and entry.factory and entry.minimum and entry.maximum
    )  # fmt: skip
    [one] = [w for w in wanted_of(QUILLBACK) if w.key == (station.id, listed.code)]
    present = gathered(QUILLBACK, [taken(one, listed.maximum)], "no reply")
    changes = compare(QUILLBACK, with_present(QUILLBACK, present)).at("A05")
    [change] = [c for c in changes if c.sort == "changed"]
    assert (change.field, change.was) == (listed.code, listed.factory)
    assert change.note == "not recorded before; the factory value is taken"
    [back] = put_back(compare(QUILLBACK, with_present(QUILLBACK, present)))
    assert back.means() == f"{listed.meaning} (not recorded before; the factory value is taken)"


def test_what_nobody_recorded_and_no_list_tells_is_not_put_back():
    """A code that is on no list has no factory value: it is told, but there is nothing to set."""
    after = at(QUILLBACK, "A05", lambda s: dataclasses.replace(s, drive=dataclasses.replace(
        s.drive, settings=(*s.drive.settings, Setting(0, "off-list", "7", 7.0)),
    )))  # fmt: skip
    difference = compare(QUILLBACK, after)
    assert [(c.field, c.was, c.note) for c in difference.at("A05")] == [("off-list", "(empty)", "")]
    assert put_back(difference) == ()


def test_a_drive_without_a_list_is_told_where_the_line_was_read():
    bare = at(LINDENMOOR, "B12", part("drive", settings=(), drive_type_id=None))
    read = with_present(bare, gathered(bare, [], "Nobody was there."))
    for pair in ((bare, read), (read, bare)):
        [told] = [change for change in compare(*pair).not_read if change.tag == "B12"]
        assert told.sentence() == (
            "B12 Drying fan: every setting, as none is listed for its drive not read"
        )
    # Two lines that nobody read say nothing of it.
    assert compare(bare, bare).changes == ()


def test_a_drive_without_a_list_stands_in_the_listing():
    bare = at(LINDENMOOR, "B12", part("drive", settings=(), drive_type_id=None))
    read = with_present(bare, gathered(bare, [], "Nobody was there."))
    text = difference_as_text(compare(bare, read), ())
    assert "  B12: every setting, as none is listed for its drive" in text
    assert "  B11: 3" in text


def test_a_drive_without_a_list_is_told_once_and_only_where_it_is_met_again():
    bare = at(LINDENMOOR, "B12", part("drive", settings=(), drive_type_id=None))
    read = with_present(bare, gathered(bare, [], "Nobody was there."))
    gone = dataclasses.replace(read, stations=tuple(s for s in read.stations if s.tag != "B12"))
    assert "B12" not in {change.tag for change in compare(bare, gone).not_read}
    called = at(read, "B12", lambda held: dataclasses.replace(held, tag="B99"))
    tags = [change.tag for change in compare(bare, called).not_read if not change.field]
    assert tags == ["B99"]
    # A drive type that is gone has no list either, and stops nothing.
    lost = at(read, "B12", part("drive", drive_type_id=4711))
    assert "B12" in {change.tag for change in compare(lost, lost).not_read}
