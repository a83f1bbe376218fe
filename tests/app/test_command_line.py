"""The verbs of the command line: what they do, what they refuse, and how they end."""

import json
import subprocess
import sys
from importlib.resources import files

import pypdf
import pytest

from app.command_line import _VERBS
from app.main import main
from core.line import ALL_RULES
from core.store import LineFile

SAMPLES = ("quillback_hollow", "lindenmoor")


def sample(name):
    return files("sample_projects").joinpath(f"{name}.linebook")


@pytest.fixture(autouse=True)
def _in_own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


@pytest.fixture
def made(tmp_path):
    assert main(["new", "shed", "--units", "us"]) == 0
    return tmp_path / "shed.linebook"


def test_new_makes_a_file_in_the_units_asked_for(made):
    line = LineFile.read(made)
    assert (line.name, line.unit_system, line.wiring_rules, line.paper) == (
        "shed",
        "us",
        "nec",
        "letter",
    )


def test_new_never_replaces_a_file(made, capsys):
    before = made.read_bytes()
    assert main(["new", "shed"]) == 2
    assert made.read_bytes() == before
    assert "already" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words",
    [
        ["results", "nowhere.linebook"],
        ["nowhere.linebook"],
        ["sheets", "nowhere.linebook"],
        ["import", "nowhere.linebook", "x.xlsx"],
        ["new"],
        ["new", "a", "--units", "imperial"],
        ["results", "shed.linebook", "extra"],
        ["no-verb", "extra"],
        ["sheets", "shed.linebook", "--sheet", "poem"],
        ["import", "shed.linebook", "nowhere.xlsx"],
    ],
)
def test_bad_use_is_one_clear_line_and_exit_code_2(made, words, capsys):
    assert main(words) == 2
    told = capsys.readouterr().err
    assert told.startswith("linebook: ")
    assert told.count("\n") == 1
    assert "Traceback" not in told


def test_a_fault_of_the_program_is_one_line_and_goes_to_the_log(
    made, monkeypatch, capsys, tmp_path
):
    def broken(_line):
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("core.line.compute_line", broken)
    assert main(["results", str(made)]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "Traceback" not in told
    assert "planted" in (tmp_path / "state" / "linebook" / "linebook.log").read_text()


@pytest.mark.parametrize("name", SAMPLES)
def test_results_of_a_sample_have_documented_keys_and_no_gap(name, capsys):
    assert main(["results", str(sample(name)), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    known = {rule.key for rule in ALL_RULES}
    assert data["format"] == "linebook-results-1"
    for station in data["stations"]:
        assert set(station["figures"]) <= known
        assert station["still_needed"] == []
        assert len(station["reference_points"]) == 5
        assert all(value is not None for value in station["figures"].values())


def test_results_as_text_name_every_station(capsys):
    assert main(["results", str(sample("lindenmoor"))]) == 0
    told = capsys.readouterr().out
    assert all(f"B{number:02d}" in told for number in range(1, 13))


@pytest.mark.parametrize("name", SAMPLES)
def test_sheets_of_a_sample_are_written_and_listed(name, capsys, tmp_path):
    assert main(["sheets", str(sample(name)), "--to", "out"]) == 0
    listed = capsys.readouterr().out.split()
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "branch_schedule.pdf",
        "branch_schedule.xlsx",
        "check_results.pdf",
        "check_results.xlsx",
        "field_sheets.pdf",
        "field_sheets.xlsx",
        "findings.pdf",
        "findings.xlsx",
        "handover_book.pdf",
        "handover_book.xlsx",
        "knob_cards.pdf",
        "knob_cards.xlsx",
        "labels.pdf",
        "labels.xlsx",
        "parameter_record.pdf",
        "parameter_record.xlsx",
        "photographs.pdf",
        "photographs.xlsx",
        "reference_drawings.pdf",
        "reference_drawings.xlsx",
        "spares.pdf",
        "spares.xlsx",
        "speed_plan.pdf",
        "speed_plan.xlsx",
        "swap_sheet.pdf",
        "swap_sheet.xlsx",
        "wiring_schedule.pdf",
        "wiring_schedule.xlsx",
        "workings.pdf",
        "workings.xlsx",
    ]
    assert len(listed) == 30


def test_template_filled_from_a_line_comes_back_as_the_same_stations(made, capsys):
    assert main(["template", "filled.xlsx", "--from", str(sample("lindenmoor"))]) == 0
    assert main(["import", str(made), "filled.xlsx", "--dry-run"]) == 0
    assert "B07" in capsys.readouterr().out
    assert LineFile.read(made).stations == ()
    assert main(["import", str(made), "filled.xlsx"]) == 0
    tags = [station.tag for station in LineFile.read(made).stations]
    assert tags == [station.tag for station in LineFile.read(sample("lindenmoor")).stations]


def test_refused_spreadsheet_names_every_bad_cell_and_changes_nothing(made, capsys, tmp_path):
    (tmp_path / "stations.csv").write_text(
        "Tag,Name,Motor: Rated power,Motor: Rated speed\nA01,Pump,5 kg,1740\nA02,Belt,1 hp,fast\n"
    )
    before = made.read_bytes()
    assert main(["import", str(made), "stations.csv"]) == 2
    told = capsys.readouterr().err
    assert "row 2" in told
    assert "Motor: Rated power" in told
    assert "row 3" in told
    assert "Motor: Rated speed" in told
    assert made.read_bytes() == before


def test_demo_without_a_screen_says_so_and_writes_the_sheets(monkeypatch, capsys, tmp_path):
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    assert main(["demo"]) == 0
    captured = capsys.readouterr()
    assert captured.err.count("\n") == 1
    assert "handover" in captured.err
    assert len(list((tmp_path / "handover").iterdir())) == len(captured.out.split()) == 30


def test_labels_begin_where_they_are_told_to(tmp_path, capsys):
    asked = ["sheets", str(sample("lindenmoor")), "--to", "out", "--sheet", "labels"]
    assert main([*asked, "--format", "pdf", "--first-wire-label", "65"]) == 0
    later = pypdf.PdfReader(tmp_path / "out" / "labels.pdf")
    # One label on the last place of the first sheet; the next sheet is full.
    assert later.pages[1].extract_text().split()[0] == "B01-P1"
    assert later.pages[1].extract_text().count("B01-") == 1
    assert main([*asked, "--first-station-label", "25"]) == 2
    told = capsys.readouterr().err
    assert "24 labels" in told
    assert told.count("\n") == 1


def test_every_verb_and_key_is_documented():
    from pathlib import Path

    page = (Path(__file__).parents[2] / "docs" / "command-line.md").read_text(encoding="utf-8")
    for verb in _VERBS:
        assert f"`linebook {verb}" in page
    for rule in ALL_RULES:
        assert f"| `{rule.key}` |" in page


def test_help_names_the_verbs_and_the_caution():
    told = subprocess.run(
        [sys.executable, "-m", "app.main", "--help"],
        capture_output=True,
        text=True,
        check=True,
        cwd=files("app").joinpath(".."),
    ).stdout
    assert all(verb in told for verb in _VERBS)
    assert "licensed person" in told
