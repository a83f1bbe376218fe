"""A new, empty line file for each test, copied from one that is made once."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.store import LineFile
from tests.core.store.filling import fill
from tests.core.store.guards import NextFormat


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("master") / "empty.linebook"
    LineFile.create(path, name="Shed line").close()
    return path


@pytest.fixture(scope="session")
def filled_file(tmp_path_factory: pytest.TempPathFactory, empty_file: Path) -> Path:
    path = tmp_path_factory.mktemp("filled") / "filled.linebook"
    shutil.copy(empty_file, path)
    with LineFile.open(path) as book:
        fill(book)
    return path


@pytest.fixture
def path(tmp_path: Path, empty_file: Path) -> Path:
    """A file of its own, closed and empty."""
    return Path(shutil.copy(empty_file, tmp_path / "shed.linebook"))


@pytest.fixture
def filled(tmp_path: Path, filled_file: Path) -> Path:
    """A file of its own, closed, with rows in every table."""
    return Path(shutil.copy(filled_file, tmp_path / "filled.linebook"))


@pytest.fixture
def book(path: Path) -> Iterator[LineFile]:
    with LineFile.open(path) as opened:
        yield opened


@pytest.fixture
def full_book(filled: Path) -> Iterator[LineFile]:
    with LineFile.open(filled) as opened:
        yield opened


@pytest.fixture
def next_format(tmp_path_factory: pytest.TempPathFactory) -> Iterator[NextFormat]:
    with pytest.MonkeyPatch.context() as patch:
        yield NextFormat(tmp_path_factory.mktemp("scripts"), patch)
