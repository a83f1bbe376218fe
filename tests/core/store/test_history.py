"""In which record a change happened, and what the history keeps of it."""

import json

from core.store import LineFile
from core.store.history import tops_of, touched_by


def test_tops_of_a_step_are_those_that_hold_its_changes(full_book: LineFile) -> None:
    found = []
    with full_book.step("Several") as step:
        step.set("setting", 3, shown="1")
        step.set("terminal", 1, meaning="2")
        step.set("line", 1, name="3")
        step.remove("motor", 1)
        found = tops_of(step)
    assert found == [("station", 2), ("drive_type", 1), ("line", 1), ("station", 1)]
    assert touched_by(found) == {"station": {1, 2}, "drive_type": {1}, "line": {1}}


def test_place_of_what_was_removed_is_still_named(full_book: LineFile) -> None:
    tag = full_book.line.stations[0].tag
    with full_book.step("Remove") as step:
        step.remove("flow", 1)
        step.remove("flow", 2)
        for pair in full_book.line.pairs:
            step.remove("pair", pair.id)
        for recipe in full_book.line.recipes:
            for own in recipe.speeds:
                step.remove("recipe_speed", own.id)
        for table, held in (
            ("check_result", full_book.line.checks),
            ("calibration_point", full_book.line.calibration_points),
        ):
            for entry in held:
                step.remove(table, entry.id)
        step.remove("station", 1)
    rows = full_book.history(200)
    removed = [row for row in rows if row.step == "Remove"]
    assert {row.place for row in removed if row.table in ("station", "motor", "setting")} == {tag}
    assert {row.place for row in removed if row.table == "flow"} == {"flow"}
    assert all(row.new is None and row.field == "" for row in removed)


def test_every_kind_of_value_is_told_as_json(full_book: LineFile) -> None:
    full_book.forget_steps()
    with full_book.step("Several") as step:
        step.set("station", 1, name="Ñandú", lane=None, above_base=False)
        step.set("motor", 1, power_w=0.1 + 0.2)
    told = {row.field: row.new for row in full_book.history(4)}
    assert told["name"] == '"Ñandú"'
    assert told["lane"] is None
    assert json.loads(told["above_base"] or "") is False
    assert json.loads(told["power_w"] or "") == 0.1 + 0.2


def test_person_at_work_can_be_named(full_book: LineFile) -> None:
    full_book.person = "Ben Okoro"
    with full_book.step("Rename") as step:
        step.set("line", 1, name="New")
    assert full_book.history(1)[0].person == "Ben Okoro"
