"""The verbs for proving a line and for later visits, as a shell calls them."""

import json
import sqlite3
from contextlib import closing
from importlib.resources import files

import pytest

from app.main import main
from core.store import LineFile


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
    code, out, _ = run(capsys, "compare", path)
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
