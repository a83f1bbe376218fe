"""What is remembered between two runs."""

from PySide6.QtCore import QByteArray

from app.settings import Settings


def test_recent_files_newest_first_each_once_and_only_those_there(tmp_path):
    paths = [tmp_path / f"{name}.linebook" for name in "abc"]
    for path in paths:
        path.touch()
        Settings().add_recent(path)
    Settings().add_recent(paths[0])
    assert Settings().recent == [paths[0], paths[2], paths[1]]
    paths[2].unlink()
    assert Settings().recent == [paths[0], paths[1]]


def test_one_recent_file_alone_comes_back(tmp_path):
    path = tmp_path / "line, with a comma.linebook"
    path.touch()
    Settings().add_recent(path)
    assert Settings().recent == [path]


def test_no_more_than_eight_are_kept(tmp_path):
    for number in range(12):
        path = tmp_path / f"{number}.linebook"
        path.touch()
        Settings().add_recent(path)
    assert [path.stem for path in Settings().recent] == [str(n) for n in range(11, 3, -1)]


def test_look_units_and_size_come_back():
    settings = Settings()
    assert (settings.look, settings.unit_system, settings.geometry.isEmpty()) == (
        "light",
        "metric",
        True,
    )
    settings.look, settings.unit_system = "dark", "us"
    settings.geometry = QByteArray(b"size and place")
    again = Settings()
    assert (again.look, again.unit_system) == ("dark", "us")
    assert again.geometry == QByteArray(b"size and place")
