"""Samples are worked on as private copies."""

from importlib.resources import files

from app.samples import SAMPLES, private_copy
from core.store import LineFile, actions


def test_a_change_of_the_copy_leaves_the_sample_alone():
    sample = files("sample_projects").joinpath("quillback_hollow.linebook")
    before = sample.read_bytes()
    copy = private_copy("quillback_hollow")
    with LineFile.open(copy) as book:
        actions.add_station(book)
    assert sample.read_bytes() == before
    assert copy.read_bytes() != before


def test_each_sample_is_there_and_each_copy_has_a_folder_of_its_own():
    for name in SAMPLES:
        one, other = private_copy(name), private_copy(name)
        assert one != other
        assert LineFile.read(one) == LineFile.read(other)
