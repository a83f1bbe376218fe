"""An empty line file, made once and copied for each test."""

import itertools
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from core.store import LineFile


@pytest.fixture(scope="session")
def new_book(tmp_path_factory: pytest.TempPathFactory) -> Callable[[], LineFile]:
    folder = tmp_path_factory.mktemp("books")
    LineFile.create(folder / "empty.linebook").close()
    numbers = itertools.count()

    def make() -> LineFile:
        path: Path = folder / f"book{next(numbers)}.linebook"
        shutil.copyfile(folder / "empty.linebook", path)
        return LineFile.open(path)

    return make
