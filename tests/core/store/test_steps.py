"""What a step does to the rows: set, add, remove, move, and what each one refuses."""

import pytest

from core.errors import InputError
from core.store import Changes, LineFile, Step
from core.store.actions import (
    add_record,
    add_station,
    move_record,
    remove_record,
    set_fields,
    set_many,
)
from tests.core.store.test_linefile import copied_line


def tags(book: LineFile) -> list[str]:
    return [station.tag for station in book.line.stations]


@pytest.fixture
def five(book: LineFile) -> LineFile:
    for _ in range(5):
        add_station(book)
    assert tags(book) == ["ST01", "ST02", "ST03", "ST04", "ST05"]
    return book


@pytest.mark.parametrize(
    ("place", "wanted"), [(0, "41235"), (2, "12435"), (4, "12354"), (9, "12354"), (-3, "41235")]
)
def test_record_is_moved_to_its_place(place: int, wanted: str, five: LineFile) -> None:
    fourth = five.line.stations[3].id
    move_record(five, "station", fourth, place)
    assert "".join(tag[-1] for tag in tags(five)) == wanted
    assert copied_line(five) == five.line
    five.undo()
    assert tags(five) == ["ST01", "ST02", "ST03", "ST04", "ST05"]


def test_record_added_after_a_removal_comes_last(five: LineFile) -> None:
    with five.step("Add three people") as step:
        for name in ("Ana", "Ben", "Cho"):
            step.add("person", name=name)
    for _ in range(2):
        remove_record(five, "person", five.line.people[0].id)
    add_record(five, "person", name="Dee")
    with five.step("Add in front") as step:
        step.add("person", at=0, name="Eva")
    assert [person.name for person in five.line.people] == ["Eva", "Cho", "Dee"]
    assert copied_line(five) == five.line


def test_order_is_kept_within_each_holder(five: LineFile) -> None:
    one, two = five.line.stations[0], five.line.stations[1]
    for run in ("motor", "reference", "controls"):
        add_record(five, "cable", one.id, run=run)
    add_record(five, "cable", two.id, run="bus")
    move_record(five, "cable", five.line.station(one.id).cables[2].id, 0)
    assert [c.run for c in five.line.station(one.id).cables] == ["controls", "motor", "reference"]
    assert [c.run for c in five.line.station(two.id).cables] == ["bus"]


@pytest.mark.parametrize(
    ("table", "field", "value"),
    [
        ("station", "tag", "ST02"),
        ("station", "tag", " ST02 "),
        ("station", "tag", ""),
        ("station", "tag", None),
    ],
)
def test_used_or_empty_name_is_refused_in_a_sentence(
    table: str, field: str, value: str | None, five: LineFile
) -> None:
    before = five.line
    with pytest.raises(InputError) as refused:
        set_fields(five, table, 1, **{field: value})
    assert refused.value.what == "Tag was not taken."
    assert five.line is before
    with pytest.raises(InputError):
        add_record(five, table, **{field: value})
    assert five.line is before


def test_used_name_says_who_has_it(five: LineFile) -> None:
    with pytest.raises(InputError, match=r"Found 'ST02'\. Another station has it already"):
        set_fields(five, "station", 1, tag="ST02")


def test_own_name_may_be_set_again(five: LineFile) -> None:
    set_fields(five, "station", 1, tag="ST01", name="Belt")
    assert five.line.stations[0].name == "Belt"


def test_names_are_apart_only_within_their_holder(five: LineFile) -> None:
    drives = [station.drive.id for station in five.line.stations[:2]]
    for drive in drives:
        add_record(five, "setting", drive, code="F-01", shown="50")
    with pytest.raises(InputError, match="Another drive setting has it already"):
        add_record(five, "setting", drives[0], code="F-01", shown="60")
    set_fields(five, "setting", five.line.stations[0].drive.settings[0].id, code="F-02")


def test_reference_to_nothing_is_refused(five: LineFile) -> None:
    before = five.line
    with pytest.raises(InputError, match="There is no drive type 77 any more"):
        set_fields(five, "drive", 1, drive_type_id=77)
    with pytest.raises(InputError, match="There is no station 77 any more"):
        add_record(five, "flow", from_station_id=1, to_station_id=77)
    assert five.line is before


def test_record_in_a_removed_holder_is_refused(five: LineFile) -> None:
    with pytest.raises(InputError, match="There is no station 77 any more"):
        add_record(five, "motor", 77)
    with pytest.raises(InputError, match="There is no station 0 any more"):
        add_record(five, "motor")


def add_to_a_removed_station(step: Step) -> None:
    made = step.add("station", tag="ST99")
    step.add("motor", made)
    step.remove("station", made)
    step.add("motor", made)


def test_holder_removed_in_the_same_step_is_refused(five: LineFile) -> None:
    before = five.line
    with (
        pytest.raises(InputError, match="There is no station 6 any more"),
        five.step("Odd") as step,
    ):
        add_to_a_removed_station(step)
    assert five.line is before


@pytest.mark.parametrize("table", ["cable", "person"])
def test_removed_record_cannot_be_changed(table: str, five: LineFile) -> None:
    for change in (
        lambda: set_many(five, "Change", [(table, 77, {})]),
        lambda: remove_record(five, table, 77),
        lambda: move_record(five, table, 77, 0),
    ):
        with pytest.raises(InputError, match=f"There is no {table} 77 any more"):
            change()


@pytest.mark.parametrize(
    ("table", "name", "label"),
    [
        ("drive_type", "drive_type_id", "drive type"),
        ("supply", "supply_id", "supply"),
        ("enclosure", "enclosure_id", "enclosure"),
        ("bus", "bus_id", "bus"),
    ],
)
def test_record_in_use_is_kept_and_its_users_named(
    table: str, name: str, label: str, five: LineFile
) -> None:
    made = add_record(five, table, name="Common")
    for station in (five.line.stations[0], five.line.stations[3]):
        set_fields(five, "drive", station.drive.id, **{name: made})
    before = five.line
    with pytest.raises(InputError) as refused:
        remove_record(five, table, made)
    assert refused.value.what == f"The {label} was not removed."
    assert refused.value.why == "It is still used by ST01, ST04."
    assert five.line is before
    for station in (five.line.stations[0], five.line.stations[3]):
        set_fields(five, "drive", station.drive.id, **{name: None})
    unused = five.line
    remove_record(five, table, made)
    assert five.line != unused
    five.undo()
    assert five.line == unused


def test_change_tells_the_stations_that_it_touched(five: LineFile) -> None:
    told: list[Changes] = []
    five.listeners.append(told.append)
    second, third = five.line.stations[1], five.line.stations[2]
    setting = add_record(five, "setting", second.drive.id, code="F-01", shown="50")
    set_fields(five, "setting", setting, shown="60")
    set_fields(five, "drivetrain", third.drivetrain.id, gear_ratio=15.0)
    remove_record(five, "setting", setting)
    set_fields(five, "line", 1, name="New")
    person = add_record(five, "person", name="Ana")
    assert [changes.touched for changes in told] == [
        {"station": {second.id}},
        {"station": {second.id}},
        {"station": {third.id}},
        {"station": {second.id}},
        {"line": {1}},
        {"person": {person}},
    ]
    assert [changes.tables for changes in told[:3]] == [{"setting"}, {"setting"}, {"drivetrain"}]


def test_removed_station_is_told_too(five: LineFile) -> None:
    told: list[Changes] = []
    five.listeners.append(told.append)
    remove_record(five, "station", 3)
    assert told[0].station_ids == {3}


def test_record_added_and_removed_in_one_step_is_gone(five: LineFile) -> None:
    before = five.line
    with five.step("To and fro") as step:
        made = step.add("station", tag="ST99")
        step.add("motor", made)
        step.set("station", made, name="Short")
        step.remove("station", made)
    assert five.line == before
    five.undo()
    five.redo()
    five.undo()
    assert five.line == before
    assert copied_line(five) == before


def test_only_what_was_touched_is_built_anew(five: LineFile) -> None:
    before = five.line
    set_fields(five, "motor", five.line.stations[1].motors[0].id, power_w=750.0)
    kept = [old is new for old, new in zip(before.stations, five.line.stations, strict=True)]
    assert kept == [True, False, True, True, True]
