"""What a user can do to a line, and what each action leaves alone."""

from collections.abc import Sequence

import pytest

from core.errors import InputError
from core.model import RECORDS, Station
from core.store import LineFile
from core.store.actions import (
    PARTS,
    add_record,
    add_station,
    duplicate_drive_type,
    free_name,
    move_record,
    remove_record,
    remove_records,
    remove_station,
    set_feeds,
    set_fields,
    set_many,
    set_settings,
    store_records,
    take_over,
)
from tests.core.store.test_linefile import copied_line


def flows(book: LineFile) -> list[str]:
    tag = {station.id: station.tag[-1] for station in book.line.stations}
    return [f"{tag[f.from_station_id or 0]}{tag[f.to_station_id or 0]}" for f in book.line.flows]


def id_of(book: LineFile, tag: str) -> int:
    station = book.line.station_tagged(tag)
    assert station is not None
    return station.id


@pytest.fixture
def three(book: LineFile) -> LineFile:
    for _ in range(3):
        add_station(book)
    book.forget_steps()
    return book


@pytest.fixture
def listed(three: LineFile) -> LineFile:
    """Three stations on one drive type with a short list of settings."""
    drive_type = add_record(three, "drive_type", name="Small drive")
    rows = [
        {"code": "F-01", "unit": "Hz", "minimum": "0", "maximum": "120", "factory": "60"},
        {"code": "F-02", "unit": "s", "minimum": "0.1", "maximum": "600", "factory": "10"},
        {"code": "F-03", "options": "0 = keypad; 1 = terminals"},
        {"code": "F-04"},
    ]
    for row in rows:
        add_record(three, "listed_setting", drive_type, **row)
    drives = [("drive", s.drive.id, {"drive_type_id": drive_type}) for s in three.line.stations]
    set_many(three, "Choose the drive type", drives)
    three.forget_steps()
    return three


# --- stations and their flow -----------------------------------------------------------------


def test_station_gets_the_next_free_tag_one_motor_and_its_place_in_the_flow(
    three: LineFile,
) -> None:
    assert [station.tag for station in three.line.stations] == ["ST01", "ST02", "ST03"]
    assert [len(station.motors) for station in three.line.stations] == [1, 1, 1]
    assert flows(three) == ["12", "23"]


def test_station_put_between_two_takes_its_place_in_the_flow(three: LineFile) -> None:
    made = add_station(three, at=1)
    assert [station.tag for station in three.line.stations] == ["ST01", "ST04", "ST02", "ST03"]
    assert sorted(flows(three)) == ["14", "23", "42"]
    three.undo()
    assert sorted(flows(three)) == ["12", "23"]
    three.redo()
    assert three.line.stations[1].id == made


def test_station_put_between_two_that_are_not_joined_joins_nothing(three: LineFile) -> None:
    set_feeds(three, id_of(three, "ST01"), [])
    add_station(three, at=1)
    assert flows(three) == ["23"]


def test_removed_station_is_bridged(three: LineFile) -> None:
    remove_station(three, id_of(three, "ST02"))
    assert flows(three) == ["13"]
    three.undo()
    assert flows(three) == ["12", "23"]


@pytest.mark.parametrize("tag", ["ST01", "ST03"])
def test_removed_end_takes_its_flow_along(tag: str, three: LineFile) -> None:
    remove_record(three, "station", id_of(three, tag))
    assert len(three.line.flows) == 1


def test_removed_fork_is_not_bridged(three: LineFile) -> None:
    add_station(three)
    set_feeds(three, id_of(three, "ST02"), ["ST03", "ST04"])
    set_feeds(three, id_of(three, "ST03"), [])
    remove_station(three, id_of(three, "ST02"))
    assert flows(three) == []


def test_bridge_that_is_there_already_is_not_built_twice(three: LineFile) -> None:
    set_feeds(three, id_of(three, "ST01"), ["ST02", "ST03"])
    remove_station(three, id_of(three, "ST02"))
    assert flows(three) == ["13"]


def test_station_between_one_and_itself_leaves_no_loop(three: LineFile) -> None:
    set_feeds(three, id_of(three, "ST02"), ["ST01"])
    remove_station(three, id_of(three, "ST02"))
    assert flows(three) == []


def test_bridge_of_a_return_is_a_return(three: LineFile) -> None:
    set_many(three, "Return", [("flow", f.id, {"kind": "return"}) for f in three.line.flows])
    remove_station(three, id_of(three, "ST02"))
    assert [flow.kind for flow in three.line.flows] == ["return"]


def test_feeds_are_replaced_by_those_named(three: LineFile) -> None:
    kept = three.line.flows[0].id
    set_feeds(three, id_of(three, "ST01"), ["ST03", "ST02", "ST03"])
    assert sorted(flows(three)) == ["12", "13", "23"]
    assert three.line.flows[0].id == kept
    set_feeds(three, id_of(three, "ST01"), [])
    assert flows(three) == ["23"]


@pytest.mark.parametrize(
    ("tags", "why"),
    [
        (["ST02", "ST09"], "There is no station 'ST09'."),
        (["ST01"], "It is the station itself."),
        ([""], "There is no station ''."),
        (["st02"], "There is no station 'st02'."),
    ],
)
def test_faulty_feeds_are_refused_whole(tags: Sequence[str], why: str, three: LineFile) -> None:
    before = three.line
    with pytest.raises(InputError) as refused:
        set_feeds(three, id_of(three, "ST01"), tags)
    assert (refused.value.what, refused.value.why) == ("The flow was not changed.", why)
    assert three.line is before
    assert three.undo_name is None


def test_free_name_fills_gaps() -> None:
    assert free_name([], "ST") == "ST01"
    assert free_name(["ST01", "ST03"], "ST") == "ST02"
    assert free_name([f"ST{number:02d}" for number in range(1, 100)], "ST") == "ST100"


# --- settings --------------------------------------------------------------------------------


def shown(station: Station) -> dict[str, tuple[str, float | None]]:
    return {entry.code: (entry.shown, entry.value) for entry in station.drive.settings}


def test_settings_are_set_changed_and_taken_out(listed: LineFile) -> None:
    set_settings(listed, {1: {"F-01": "50", "F-02": "0.5 min", "F-03": "terminals"}})
    assert shown(listed.line.station(1)) == {
        "F-01": ("50", 50.0),
        "F-02": ("0.5 min", 30.0),
        "F-03": ("1", 1.0),
    }
    assert listed.undo_name == "Set F-01, F-02, F-03"
    set_settings(listed, {1: {"F-01": " 45,5 ", "F-02": "  "}})
    assert shown(listed.line.station(1)) == {"F-01": ("45,5", 45.5), "F-03": ("1", 1.0)}


def test_one_bad_setting_of_many_changes_none(listed: LineFile) -> None:
    before = listed.line
    with pytest.raises(InputError, match="'200' is above the listed 120 Hz"):
        set_settings(listed, {1: {"F-01": "50"}, 2: {"F-01": "200"}})
    assert listed.line is before


def test_reason_of_a_setting_stays_when_its_value_changes(listed: LineFile) -> None:
    set_settings(listed, {1: {"F-01": "50"}})
    entry = listed.line.station(1).drive.settings[0]
    set_fields(listed, "setting", entry.id, reason="Belt slips above")
    set_settings(listed, {1: {"F-01": "45"}})
    assert listed.line.station(1).drive.settings[0].reason == "Belt slips above"


# --- taking over -----------------------------------------------------------------------------


def test_taking_over_everything_leaves_what_is_a_stations_own(filled_two: LineFile) -> None:
    before = filled_two.line.station(2)
    take_over(filled_two, 1, [2], PARTS)
    source, target = filled_two.line.station(1), filled_two.line.station(2)
    for name in ("tag", "name", "kind", "notes", "wanted_hz"):
        assert getattr(target, name) == getattr(before, name)
    for name in ("serial", "bus_address", "bus_place"):
        assert getattr(target.drive, name) == getattr(before.drive, name)
        assert getattr(target.drive, name) != getattr(source.drive, name)
    for name in ("now_v", "now_a", "now_hz"):
        assert getattr(target.reference, name) == getattr(before.reference, name)
        assert getattr(target.reference, name) != getattr(source.reference, name)
    for old, new in zip(before.motors, target.motors, strict=True):
        assert (old.id, old.serial, old.tag) == (new.id, new.serial, new.tag)
    assert values(target, "motors", {"serial", "tag"}) == values(
        source, "motors", {"serial", "tag"}
    )
    for name in ("presets", "controls", "digital_inputs", "outputs", "drivetrain", "process"):
        assert values(target, name) == values(source, name), name
    assert values(target, "cables") == values(source, "cables")
    assert shown(target) == shown(source)
    assert target.drive.enclosure_id == source.drive.enclosure_id
    assert copied_line(filled_two) == filled_two.line
    filled_two.undo()
    assert filled_two.line.station(2) == before


@pytest.fixture
def filled_two(full_book: LineFile) -> LineFile:
    assert len(full_book.line.stations) == 2
    return full_book


def values(station: Station, name: str, own: frozenset[str] | set[str] = frozenset()) -> object:
    """Fields of a part of a station, without ids and what is its own."""
    held = next(child for child in RECORDS["station"].children if child.name == name)
    fields = [field.name for field in RECORDS[held.table].fields if field.name not in own]
    part = getattr(station, name)
    return [
        [getattr(entry, field) for field in fields] for entry in (part if held.many else [part])
    ]


@pytest.mark.parametrize("part", PARTS)
def test_taking_over_one_part_leaves_the_others(part: str, filled_two: LineFile) -> None:
    target = filled_two.line.station(2)
    set_fields(
        filled_two,
        "drive",
        target.drive.id,
        drive_type_id=filled_two.line.station(1).drive.drive_type_id,
    )
    before = filled_two.line.station(2)
    take_over(filled_two, 1, [2], [part])
    after = filled_two.line.station(2)
    names = {
        "motors": {"motors"},
        "drive": {"drive"},
        "settings": {"drive"},
        "reference": {"reference", "presets"},
        "controls": {"controls", "digital_inputs", "outputs"},
        "drivetrain": {"drivetrain", "process"},
        "cables": {"cables"},
    }[part]
    changed = {
        child.name
        for child in RECORDS["station"].children
        if getattr(before, child.name) != getattr(after, child.name)
    }
    assert changed == names
    settings_changed = shown(before) != shown(after)
    assert settings_changed is (part == "settings")


def test_taking_over_more_and_fewer_records_than_are_there(three: LineFile) -> None:
    for run in ("motor", "reference", "controls"):
        add_record(three, "cable", 1, run=run, cable_type=run.upper())
    add_record(three, "cable", 2, run="bus")
    take_over(three, 1, [2, 3, 1, 2], ["cables"])
    assert [cable.run for cable in three.line.station(2).cables] == [
        "motor",
        "reference",
        "controls",
    ]
    assert values(three.line.station(2), "cables") == values(three.line.station(1), "cables")
    take_over(three, 3, [1], ["motors"])
    remove_record(three, "cable", three.line.station(3).cables[0].id)
    take_over(three, 3, [1], ["cables"])
    assert [cable.run for cable in three.line.station(1).cables] == ["reference", "controls"]


def test_settings_in_another_order_are_taken_over(listed: LineFile) -> None:
    set_settings(listed, {1: {"F-01": "50", "F-02": "5", "F-03": "1"}})
    set_settings(listed, {2: {"F-04": "x", "F-03": "0", "F-01": "40"}})
    take_over(listed, 1, [2], ["settings"])
    assert list(shown(listed.line.station(2))) == ["F-01", "F-02", "F-03"]
    assert shown(listed.line.station(2)) == shown(listed.line.station(1))
    listed.undo()
    assert list(shown(listed.line.station(2))) == ["F-04", "F-03", "F-01"]


def test_settings_are_not_taken_over_to_another_drive_type(listed: LineFile) -> None:
    """The same code may mean something else there, and a motor would run away."""
    other = add_record(listed, "drive_type", name="Other drive")
    set_settings(listed, {1: {"F-01": "50"}})
    set_fields(listed, "drive", listed.line.station(3).drive.id, drive_type_id=other)
    before = listed.line
    with pytest.raises(InputError) as refused:
        take_over(listed, 1, [2, 3], ["settings"])
    assert refused.value.why == "Not the drive type of ST01: ST03."
    assert listed.line is before
    take_over(listed, 1, [2, 3], ["settings", "drive"])
    assert shown(listed.line.station(3)) == {"F-01": ("50", 50.0)}
    assert listed.line.station(3).drive.drive_type_id != other


def test_taking_over_from_itself_does_nothing(three: LineFile) -> None:
    take_over(three, 1, [1], PARTS)
    assert three.undo_name is None


# --- the rest --------------------------------------------------------------------------------


def test_paste_into_many_records_is_one_step(three: LineFile) -> None:
    edits = [("station", s.id, {"name": f"Belt {s.id}"}) for s in three.line.stations]
    set_many(three, "Paste", edits)
    assert three.undo_name == "Paste"
    three.undo()
    assert {station.name for station in three.line.stations} == {""}


def test_step_is_named_after_the_fields(three: LineFile) -> None:
    set_fields(three, "motor", 1, power_w=750.0, power_typed="0.75 kW", duty="S1")
    assert three.undo_name == "Set rated power, duty"


def test_added_and_removed_records_name_their_step(three: LineFile) -> None:
    made = add_record(three, "person", name="Ana")
    assert three.undo_name == "Add person"
    move_record(three, "station", 3, 0)
    assert three.undo_name == "Move station"
    remove_record(three, "person", made)
    assert three.undo_name == "Remove person"


def test_copied_drive_type_has_the_same_lists_and_a_free_name(filled_two: LineFile) -> None:
    source = filled_two.line.drive_types[0]
    made = duplicate_drive_type(filled_two, source.id)
    again = duplicate_drive_type(filled_two, source.id)
    copy = filled_two.line.drive_type(made)
    assert copy is not None
    assert copy.name == f"{source.name} (2)"
    assert filled_two.line.drive_types[-1].name == f"{source.name} (3)"
    assert again != made
    for child in RECORDS["drive_type"].children:
        names = [field.name for field in RECORDS[child.table].fields]
        old, new = getattr(source, child.name), getattr(copy, child.name)
        assert [[getattr(e, n) for n in names] for e in old] == [
            [getattr(e, n) for n in names] for e in new
        ]
        assert not {entry.id for entry in old} & {entry.id for entry in new}
    same = [f.name for f in RECORDS["drive_type"].fields if f.name != "name"]
    assert [getattr(copy, n) for n in same] == [getattr(source, n) for n in same]


def names(book: LineFile) -> list[str]:
    return [person.name for person in book.line.people]


@pytest.fixture
def crew(book: LineFile) -> LineFile:
    for name in ("Ann", "Ben", "Cid"):
        add_record(book, "person", name=name)
    book.forget_steps()
    return book


def test_changes_and_new_records_of_a_list_are_one_step(crew: LineFile) -> None:
    first = crew.line.people[0].id
    edits: list[tuple[str, int, dict[str, object]]] = [
        ("person", -1, {"name": "Dot"}),
        ("person", first, {"name": "Anne"}),
        ("person", -2, {"name": "Eve"}),
        ("person", -1, {"role": "Electrician"}),
    ]
    store_records(crew, None, edits, "Paste people")
    assert names(crew) == ["Anne", "Ben", "Cid", "Dot", "Eve"]
    assert crew.line.people[3].role == "Electrician"
    assert crew.undo_name == "Paste people"
    crew.undo()
    assert names(crew) == ["Ann", "Ben", "Cid"]


def test_a_list_with_one_wrong_record_is_not_stored_at_all(listed: LineFile) -> None:
    before, newest = listed.line, listed.undo_name
    edits: list[tuple[str, int, dict[str, object]]] = [
        ("drive_type", before.drive_types[0].id, {"name": "Renamed"}),
        ("drive_type", -1, {"name": "Renamed"}),
    ]
    with pytest.raises(InputError):
        store_records(listed, None, edits, "Paste drive types")
    assert listed.line == before
    assert listed.undo_name == newest


def test_several_records_are_removed_as_one_step_with_their_number(crew: LineFile) -> None:
    first, second, _ = crew.line.people
    remove_records(crew, "person", [first.id, second.id])
    assert names(crew) == ["Cid"]
    assert crew.undo_name == "Remove 2 × person"
    crew.undo()
    assert names(crew) == ["Ann", "Ben", "Cid"]


def test_records_in_use_are_not_removed_nor_those_beside_them(listed: LineFile) -> None:
    add_record(listed, "drive_type", name="Spare")
    used, spare = listed.line.drive_types
    with pytest.raises(InputError):
        remove_records(listed, "drive_type", [spare.id, used.id])
    assert [entry.name for entry in listed.line.drive_types] == [used.name, "Spare"]
