"""What was changed away and back again."""

from core.records.back_and_forth import back_and_forth, told_back_and_forth
from core.store import HistoryRow, LineFile


def turned(path, *values):
    with LineFile.create(path, name="Line") as book:
        with book.step("Add") as step:
            station = step.add("station", tag="A01")
        held = book.line.station(station).reference
        for value in values:
            with book.step("Turn") as step:
                step.set("speed_reference", held.id, now_v=value)
        return book.history()


def test_a_knob_turned_up_and_back_is_told(tmp_path):
    history = turned(tmp_path / "a.linebook", 5.0, 8.0, 9.0, 5.0)
    start = next(row.at for row in history if row.new == "5.0" and row.old is None)
    [found] = list(back_and_forth(history, since=start))
    assert (found.place, found.field, found.value, found.count) == ("A01", "now_v", "5.0", 3)
    assert found.between == ("8.0", "9.0")


def test_one_change_or_another_end_is_none(tmp_path):
    assert list(back_and_forth(turned(tmp_path / "b.linebook", 5.0))) == []
    assert list(back_and_forth(turned(tmp_path / "c.linebook", 5.0, 6.0))) == []


def test_only_changes_after_the_moment_count():
    def row(at, old, new):
        return HistoryRow(at, "me", "Turn", "speed_reference", 1, "A01", "now_v", old, new)

    rows = [row("2026-01-01", "5", "8"), row("2026-06-01", "8", "5")]
    assert len(list(back_and_forth(rows))) == 1
    assert list(back_and_forth(rows, since="2026-03-01")) == []
    assert list(back_and_forth(rows, until="2026-03-01")) == []
    assert len(list(back_and_forth(rows, until="2026-07-01"))) == 1


def test_it_is_told_in_the_words_and_units_of_the_line(tmp_path):
    path = tmp_path / "d.linebook"
    history = turned(path, 5.0, 8.0, 5.0)
    start = next(row.at for row in history if row.new == "5.0" and row.old is None)
    [told] = told_back_and_forth(back_and_forth(history, since=start), LineFile.read(path))
    assert told.sentence() == "A01 speed reference, voltage as set now: 5 V, meanwhile 8 V"
    assert told.count == 2


def test_a_setting_is_told_once_by_its_code(tmp_path):
    path = tmp_path / "e.linebook"
    with LineFile.create(path, name="Line") as book:
        with book.step("Add") as step:
            station = step.add("station", tag="A01")
        with book.step("Enter") as step:
            drive = book.line.station(station).drive.id
            held = step.add("setting", drive, code="hz-max", shown="60", value=60.0)
        for shown in ("50", "60"):
            with book.step("Set") as step:
                step.set("setting", held, shown=shown, value=float(shown))
        [told] = told_back_and_forth(back_and_forth(book.history()), book.line)
    assert (told.place, told.what, told.stands, told.between) == (
        "A01", "setting hz-max", "60", "50",
    )  # fmt: skip


def test_the_history_of_freezing_itself_is_none(tmp_path):
    path = tmp_path / "f.linebook"
    turned(path, 5.0)
    with LineFile.open(path) as book:
        for _ in range(2):
            book.freeze("as_found", "R. Vale", "Visit", "{}")
        assert told_back_and_forth(back_and_forth(book.history()), book.line) == ()


def test_changes_of_one_moment_keep_their_order():
    # 5 to 8 to 9 to 5, newest first as the file gives them, all within one thousandth of a second.
    def row(old, new):
        return HistoryRow("2026-01-01", "me", "T", "speed_reference", 1, "A01", "now_v", old, new)

    [found] = back_and_forth([row("9", "5"), row("8", "9"), row("5", "8")])
    assert (found.value, found.between) == ("5", ("8", "9"))
