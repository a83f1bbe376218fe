"""The verbs for proving a line and for later visits, as a shell calls them."""

import json
import shutil
import sqlite3
from contextlib import closing
from importlib.resources import files
from pathlib import Path

import pypdf
import pytest

from app.main import main
from core.photos import take_bytes
from core.store import LineFile
from core.store.actions import remove_record
from core.store.photo_actions import add_photos
from tests.core.drawn_photos import as_file, plate
from tests.core.readback.lines import CHOICES, line_of, station
from tests.simulated_drives import TcpBus, drive_of


@pytest.fixture
def path(tmp_path):
    target = tmp_path / "lindenmoor.linebook"
    target.write_bytes(files("sample_projects").joinpath(target.name).read_bytes())
    return target


def run(capsys, *words):
    code = main([str(word) for word in words])
    captured = capsys.readouterr()
    return code, captured.out, captured.err


def freeze(capsys, path):
    return run(capsys, "freeze", path, "--by", "R. Vale", "--why", "Handover")


def test_checks_are_open_until_they_are_answered(capsys, path, tmp_path):
    code, out, _ = run(capsys, "check", path)
    assert code == 1
    assert out.startswith("0 of ")
    assert run(capsys, "check", path, "--level", "out")[0] == 0
    table = tmp_path / "Checks.csv"
    table.write_text(
        "Check;Station;Answer;Reading;By\n"
        "guards-on;B02;Yes;;R. Vale\n"
        "supply-voltage;B02;Reading;260;R. Vale\n",
        encoding="utf-8",
    )
    code, out, _ = run(capsys, "check", path, "--take", table, "--level", "out", "--json")
    told = {(c["station"], c["check"]): c for c in json.loads(out)["checks"]}
    assert told["B02", "guards-on"]["state"] == "good"
    # 230 V ± 10 % ends at 253 V.
    assert told["B02", "supply-voltage"]["state"] == "out"
    assert code == 1


def test_a_frozen_record_is_listed_and_verified(capsys, path):
    code, out, _ = freeze(capsys, path)
    assert code == 0
    assert out.startswith("As commissioned, revision 1  ")
    digest = out.split()[-1]
    code, out, _ = run(capsys, "records", path, "--json")
    [record] = json.loads(out)
    assert (code, record["sha256"], record["sound"]) == (0, digest, True)
    assert "content" not in record


def test_an_altered_record_is_told_and_not_used(capsys, path):
    freeze(capsys, path)
    with closing(sqlite3.connect(path)) as raw:
        raw.execute(
            "UPDATE frozen_record SET content = replace(content, 'Lindenmoor', 'Lindenmoos')"
        )
        raw.commit()
    code, out, _ = run(capsys, "records", path)
    assert code == 1
    assert "ALTERED OUTSIDE LINEBOOK" in out
    code, _, err = run(capsys, "compare", path)
    assert code == 2
    assert "altered outside Linebook" in err
    assert "Traceback" not in err


def test_readback_by_table_and_comparison(capsys, path, tmp_path):
    freeze(capsys, path)
    table = tmp_path / "present.csv"
    table.write_text("Station;Code;Value\nB11;hz-max;50,0 Hz\nB10;hz-min;20\n", encoding="utf-8")
    code, out, _ = run(capsys, "readback", path, "--table", table, "--by", "J. Hale")
    assert code == 1
    assert "2 read" in out
    assert "not read" in out
    code, out, _ = run(
        capsys, "compare", path, "as_commissioned", "as_found:1", "--json", "--to", tmp_path / "out"
    )
    told = json.loads(out)
    changed = {(c["station"], c["field"]) for c in told["changes"] if c["sort"] == "changed"}
    assert code == 1
    assert changed == {("B11", "hz-max"), ("B10", "hz-min")}
    assert {(p["station"], p["wanted"]) for p in told["put_back"]} == {("B11", "60"), ("B10", "12")}
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == [
        "difference.pdf", "difference.xlsx",
    ]  # fmt: skip


def test_a_refused_cell_is_named(capsys, path, tmp_path):
    table = tmp_path / "present.csv"
    table.write_text("Station;Code;Value\nB11;hz-max;500\nB99;hz-max;50\n", encoding="utf-8")
    code, out, _ = run(capsys, "readback", path, "--table", table, "--by", "J. Hale")
    assert code == 1
    assert "B11 hz-max: refused" in out
    assert "B99" in out


def test_the_line_as_it_stands_does_not_differ(capsys, path):
    freeze(capsys, path)
    code, out, err = run(capsys, "compare", path)
    assert (code, out.strip()) == (0, "Nothing differs.")
    assert err.strip() == "As commissioned, revision 1 → The line as it stands in the file"


def test_what_was_found_since_is_compared_without_being_named(capsys, path, tmp_path):
    """Read back, then compare: the line in the file is still as commissioned, the drive is not."""
    freeze(capsys, path)
    table = tmp_path / "present.csv"
    table.write_text("Station;Code;Value\nB11;hz-max;50,0\n", encoding="utf-8")
    run(capsys, "readback", path, "--table", table, "--by", "J. Hale")
    for named in ((), ("as_commissioned",), ("as_commissioned", "as_found:1")):
        code, out, err = run(capsys, "compare", path, *named)
        assert code == 1
        assert "60 → 50.0 Hz" in out
        assert err.strip() == "As commissioned, revision 1 → As found, revision 1"
    code, out, _ = run(capsys, "compare", path, "as_commissioned", "now")
    assert (code, out.strip()) == (0, "Nothing differs.")


def test_sheets_of_a_record_name_it(capsys, path, tmp_path):
    freeze(capsys, path)
    with LineFile.open(path) as book, book.step("Rename") as step:
        step.set("line", book.line.id, name="Renamed later")
    code, _, _ = run(
        capsys, "sheets", path, "--record", "as_commissioned", "--sheet", "findings",
        "--format", "pdf", "--to", tmp_path / "out",
    )  # fmt: skip
    import pypdf

    assert code == 0
    text = pypdf.PdfReader(tmp_path / "out" / "findings.pdf").pages[0].extract_text()
    assert "Lindenmoor Fruit" in text
    assert "As commissioned, revision 1" in text
    [record] = LineFile.read_frozen(path)
    # The cover names the whole digest; the foot of each page its beginning.
    assert record.sha256 in "".join(text.split())
    assert f"SHA-256 {record.sha256[:16]}\n" in text
    assert "Renamed later" not in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["compare", "{path}", "as_found"], "There is no record 'as_found'"),
        (["freeze", "{path}", "--by", " ", "--why", "x"], "who freezes it"),
        (["readback", "{path}", "--bus", "--by", "J. Hale"], "No bus of the line has a port"),
        (["readback", "{path}", "--bus", "--port", "X=1", "--by", "J"], "There is no bus 'X'"),
        (["freeze", "{path}"], "--by"),
    ],
)
def test_bad_use_is_one_clear_line(capsys, path, words, told):
    code, _, err = run(capsys, *(word.format(path=path) for word in words))
    assert code == 2
    assert told in err
    assert "Traceback" not in err


@pytest.mark.parametrize("verb", ["results", "findings", "plan"])
def test_a_record_takes_the_place_of_the_line(capsys, path, verb):
    before = run(capsys, verb, path, "--json")[1]
    freeze(capsys, path)
    with LineFile.open(path) as book, book.step("Turn a knob") as step:
        cups = book.line.station_tagged("B11")
        step.set("speed_reference", cups.reference.id, now_v=2.0)
    assert run(capsys, verb, path, "--json")[1] != before
    assert run(capsys, verb, path, "--json", "--record", "as_commissioned")[1] == before


def test_a_knob_turned_and_turned_back_is_told(capsys, path):
    freeze(capsys, path)
    with LineFile.open(path) as book:
        held = book.line.station_tagged("B05").reference
        for value in (9.0, held.now_v):
            with book.step("Turn a knob") as step:
                step.set("speed_reference", held.id, now_v=value)
    code, out, _ = run(capsys, "compare", path)
    assert code == 0
    assert "Changed and changed back since then" in out
    assert "B05 speed reference, voltage as set now: 6.68 V, meanwhile 9 V" in out


def with_photo(path):
    """Add an invented nameplate to the first station; gives its digest."""
    taken = take_bytes(as_file(plate()))
    with LineFile.open(path) as book:
        add_photos(book, book.line.stations[0].id, [taken], "motor_plate")
    return taken.sha256


def test_a_record_is_verified_with_its_photographs(capsys, path):
    digest = with_photo(path)
    freeze(capsys, path)
    code, out, _ = run(capsys, "records", path, "--json")
    [record] = json.loads(out)
    assert (code, record["photos"], record["photos_at_fault"]) == (0, 1, {})
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("UPDATE photo_content SET content = x'FFD8'")
        raw.commit()
    code, out, _ = run(capsys, "records", path)
    assert code == 1
    assert f"photograph {digest}  It was altered outside Linebook." in out
    code, out, _ = run(capsys, "records", path, "--json")
    [record] = json.loads(out)
    # The content of the record itself still is what was frozen.
    assert (code, record["sound"], record["photos_at_fault"]) == (1, True, {digest: "altered"})


def test_sheets_of_a_record_have_its_photographs_though_they_were_removed_since(
    capsys, path, tmp_path
):
    with_photo(path)
    freeze(capsys, path)
    with LineFile.open(path) as book:
        remove_record(book, "photo", book.line.stations[0].photos[0].id)
    for record, count in (("as_commissioned", 1), (None, 0)):
        words = ["--record", record] if record else []
        folder = tmp_path / f"out{count}"
        code, _, err = run(capsys, "sheets", path, "--to", folder, "--sheet", "photographs", *words)
        assert (code, err) == (0, "")
        pages = pypdf.PdfReader(folder / "photographs.pdf").pages
        assert sum(len(page.images) for page in pages) == count


def test_a_photograph_added_since_is_told_by_compare(capsys, path):
    freeze(capsys, path)
    with_photo(path)
    code, out, _ = run(capsys, "compare", path)
    assert code == 1
    assert "Names, notes, photographs, people" in out
    assert "photograph Nameplate of the motor added" in out


def test_a_file_of_format_4_is_read_by_every_verb_and_stays_as_it_is(capsys, tmp_path):
    old = Path(__file__).parents[1] / "core" / "store" / "old_files" / "0004_frozen.linebook"
    path = Path(shutil.copy(old, tmp_path / "old.linebook"))
    before = path.read_bytes()
    for words in (
        ("results",),
        ("findings", "--level", "none"),
        ("records",),
        ("check", "--level", "none"),
        ("sheets", "--sheet", "photographs", "--to", tmp_path / "out"),
        ("sheets", "--sheet", "photographs", "--record", "1", "--to", tmp_path / "out"),
    ):
        code, _, err = run(capsys, words[0], path, *words[1:])
        assert (code, err) == (0, ""), words
    code, out, _ = run(capsys, "compare", path, "1", "now")
    # One setting of each station was filled in as not read; nothing else is told.
    assert code == 1
    assert out.startswith("Not read, so nothing can be said of them\n")
    assert "photograph" not in out
    assert path.read_bytes() == before


def test_drives_with_hosts_of_their_own_are_read_and_told_in_words(tmp_path, capsys):
    line = line_of(station(1), protocol="modbus_tcp")
    path = tmp_path / "line.linebook"
    LineFile.create_from(path, line).close()
    with TcpBus([drive_of(line, held) for held in line.stations]) as bus:
        port = f"field bus=1 = {bus.link.name}"
        main(["readback", str(path), "--bus", "--port", port, "--by", "J. Hale"])
    told = capsys.readouterr()
    assert "As found, revision 1" in told.out
    assert "0 of 1 drives done, S01" in told.err
    assert "1 of 1 drives done, S01" in told.err
    assert "Entry(" not in told.err
    # Each setting with a register of its own has a value of the list to choose in CHOICES.
    assert f"{len(CHOICES)} read" in told.out


def test_where_nothing_was_read_nothing_is_frozen(capsys, path, tmp_path):
    table = tmp_path / "present.csv"
    table.write_text("Station;Code;Value\nB99;hz-max;50\n", encoding="utf-8")
    code, _, err = run(capsys, "readback", path, "--table", table, "--by", "J. Hale")
    assert code == 2
    assert "Nothing was read, and nothing was frozen." in err
    assert LineFile.read_frozen(path) == ()


def frozen_in(capsys, path, language):
    """Freeze the line in a language of sheets; gives the SHA-256 and the bytes of the file."""
    with LineFile.open(path) as book, book.step("Choose a language") as step:
        step.set("line", book.line.id, language=language)
    digest = freeze(capsys, path)[1].split()[-1]
    return digest, path.read_bytes()


def printed(target):
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(target).pages)


@pytest.mark.parametrize("stored", ["en", "es"])
@pytest.mark.parametrize("of", [(), ("--record", "as_commissioned")])
@pytest.mark.parametrize(
    ("asked", "title", "front"),
    [
        ("en", "Open findings", "Wiring rules"),
        ("es", "Hallazgos abiertos", "Reglas de instalación"),
    ],
)
def test_sheets_are_in_the_language_asked_for(
    capsys, path, tmp_path, stored, of, asked, title, front
):
    digest, before = frozen_in(capsys, path, stored)
    code, _, _ = run(
        capsys, "sheets", path, *of, "--language", asked, "--sheet", "findings",
        "--format", "pdf", "--to", tmp_path / asked,
    )  # fmt: skip
    assert code == 0
    text = printed(tmp_path / asked / "findings.pdf")
    assert title in text
    assert front in text
    # The SHA-256 of a record is that of what is stored, whatever it is printed in.
    assert (digest in "".join(text.split())) == bool(of)
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("stored", "front"), [("en", "Wiring rules"), ("es", "Reglas de instalación")]
)
def test_without_a_language_sheets_of_a_record_are_in_the_one_it_stores(
    capsys, path, tmp_path, stored, front
):
    frozen_in(capsys, path, stored)
    with LineFile.open(path) as book, book.step("The other one") as step:
        step.set("line", book.line.id, language={"en": "es", "es": "en"}[stored])
    run(
        capsys, "sheets", path, "--record", "as_commissioned", "--sheet", "findings",
        "--format", "pdf", "--to", tmp_path / "out",
    )  # fmt: skip
    assert front in printed(tmp_path / "out" / "findings.pdf")


@pytest.mark.parametrize(
    ("words", "title"),
    [
        ((), "Difference"),
        (("--language", "es"), "Diferencias"),
        (("--language", "en"), "Difference"),
    ],
)
def test_the_difference_sheet_is_in_the_language_asked_for(capsys, path, tmp_path, words, title):
    digest, before = frozen_in(capsys, path, "en")
    code, out, _ = run(capsys, "compare", path, "--to", tmp_path / "out", *words)
    assert (code, out.strip()) == (0, "Nothing differs.")
    text = printed(tmp_path / "out" / "difference.pdf")
    assert text.startswith(f"{title}\n")
    assert digest in "".join(text.split())
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("sheets", "--language", "fr", "--to"), "'fr' (choose from 'en', 'es')"),
        (("compare", "--language", "fr", "--to"), "'fr' (choose from 'en', 'es')"),
        (("compare", "--language", "es"), "Name the folder that it goes to with --to FOLDER."),
    ],
)
def test_a_language_that_cannot_be_printed_is_refused(capsys, path, tmp_path, words, told):
    freeze(capsys, path)
    verb, *rest = words
    rest += [tmp_path / "out"] * (rest[-1] == "--to")
    code, out, err = run(capsys, verb, path, *rest)
    assert (code, out) == (2, "")
    assert told in err
    assert err.count("\n") == 1
    assert not (tmp_path / "out").exists()
