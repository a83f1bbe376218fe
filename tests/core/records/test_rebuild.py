"""Records frozen under other formats, damaged records, and what is not a record."""

import json
from importlib.resources import files

import pytest

from core.records import RecordError, canonical_text, line_of
from core.records.rebuild import PRESENT
from core.store import LineFile
from core.store.schema import FORMAT


@pytest.fixture(scope="module")
def text():
    path = files("sample_projects").joinpath("lindenmoor.linebook")
    return canonical_text(LineFile.read(path), FORMAT)


def test_the_program_reads_records_of_its_own_format():
    assert PRESENT == FORMAT


def changed(text, edit):
    told = json.loads(text)
    edit(told)
    return json.dumps(told)


def test_a_newer_record_is_refused(text):
    newer = changed(text, lambda told: told.update(format=FORMAT + 1))
    with pytest.raises(RecordError, match="newer Linebook"):
        line_of(newer)


@pytest.mark.parametrize("bad", ["", "{", "[]", "{}", '{"kind":"linebook-record","format":4}'])
def test_what_is_no_record_is_refused(bad):
    with pytest.raises(RecordError):
        line_of(bad)


def test_a_damaged_value_is_told(text):
    broken = changed(text, lambda told: told["line"]["stations"][0].update(kind="rocket"))
    with pytest.raises(RecordError, match="damaged"):
        line_of(broken)


def test_a_record_without_the_fields_of_later_formats_takes_their_defaults(text):
    def older(told):
        told["format"] = 3
        line = told["line"]
        for name in ("own_checks", "checks", "calibration_points"):
            del line[name]
        for station in line["stations"]:
            for setting in station["drive"]["settings"]:
                del setting["origin"]

    line = line_of(changed(text, older))
    assert line.checks == ()
    assert {s.origin for st in line.stations for s in st.drive.settings} == {"entered"}
    assert len(line.stations) == 12


def test_fruit_of_the_line_becomes_its_first_recipe(text):
    def format_2(told):
        told["format"] = 2
        line = told["line"]
        line["recipes"] = []
        line.update(
            fruit="Plums", fruit_mass_kg=0.065, fruit_diameter_m=0.05, fruit_bulk_kg_m3=None,
            throughput="bins", bins_1_s=3 / 3600, bin_mass_kg=350.0, mass_flow_kg_s=None,
            fruit_1_s=None, culled=0.06,
        )  # fmt: skip

    [recipe] = line_of(changed(text, format_2)).recipes
    assert (recipe.name, recipe.fruit_mass_kg, recipe.culled) == ("Plums", 0.065, 0.06)
