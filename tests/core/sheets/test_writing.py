import pytest

from core.errors import LinebookError
from core.sheets.writing import write_whole


def test_a_file_is_replaced_whole(tmp_path):
    target = tmp_path / "sheet.pdf"
    target.write_bytes(b"old")
    write_whole(target, b"new")
    assert target.read_bytes() == b"new"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_missing_folder_is_told_and_nothing_is_left(tmp_path):
    with pytest.raises(LinebookError, match=r"sheet\.pdf was not written.*No such file"):
        write_whole(tmp_path / "nowhere" / "sheet.pdf", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_its_place_is_told_and_left_alone(tmp_path):
    target = tmp_path / "sheet.pdf"
    target.mkdir()
    with pytest.raises(LinebookError, match="was not written"):
        write_whole(target, b"new")
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]


def test_the_old_file_survives_a_failure_at_the_last_moment(tmp_path, monkeypatch):
    target = tmp_path / "sheet.pdf"
    target.write_bytes(b"old")

    def refuse(*_paths):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("core.sheets.writing.os.replace", refuse)
    with pytest.raises(LinebookError, match="No space left"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]
