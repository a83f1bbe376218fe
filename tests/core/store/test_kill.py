"""A program that is killed at any moment loses at most the edit that it had not acknowledged."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.store import LineFile
from tests.core.store.guards import ask, folder_bytes

ROOT = Path(__file__).parents[3]
KILLS = 100 if hasattr(os, "fork") else 12  # without it, each one costs a start of the program
KILL = getattr(signal, "SIGKILL", signal.SIGTERM)


class Worker:
    """A program that edits one file and can be killed again and again."""

    def __init__(self, path: Path) -> None:
        self._order = [sys.executable, "-m", "tests.core.store.kill_worker", str(path)]
        self._process = self._start()

    def edit_and_kill(self, after_s: float) -> int:
        """Let it edit for a while and kill it; gives the last edit that it acknowledged."""
        if self._process.poll() is not None:
            self._process = self._start()
        told = self._process.stdout
        self._process.stdin.write(b"\n")
        self._process.stdin.flush()
        editor, last = int(told.readline()), int(told.readline())
        time.sleep(after_s)
        os.kill(editor, KILL)
        while (word := told.readline().strip()) not in (b"", b"dead"):
            last = int(word)
        return last

    def stop(self) -> None:
        self._process.communicate()

    def _start(self) -> subprocess.Popen[bytes]:
        pipe = subprocess.PIPE
        return subprocess.Popen(self._order, stdin=pipe, stdout=pipe, cwd=ROOT)


@pytest.fixture
def worker(path: Path) -> Iterator[Worker]:
    made = Worker(path)
    yield made
    made.stop()


def test_killed_program_loses_no_acknowledged_edit(path: Path, worker: Worker) -> None:
    moments = random.Random(20261125)
    stored = acknowledged = left_over = 0
    for _ in range(KILLS):
        told = worker.edit_and_kill(moments.uniform(0.0, 0.06))
        assert told > stored
        acknowledged += told - stored
        left_over += path.with_name(path.name + "-journal").exists()
        stored = check_sound(path, told)
    assert acknowledged > KILLS
    assert left_over > 0  # else no kill ever came in the middle of anything
    assert sorted(folder_bytes(path.parent)) == [path.name]


def check_sound(path: Path, acknowledged: int) -> int:
    """Look at a file after a kill; gives the number of its last stored edit."""
    read = LineFile.read(path)
    with LineFile.open(path) as book:
        line, newest = book.line, book.history(200)
    assert line == read
    stored = int(line.site)
    assert acknowledged <= stored <= acknowledged + 1
    edits = [int(row.new.strip('"')) for row in newest if row.field == "site" and row.new]
    assert edits[0] == stored
    assert edits == list(range(stored, stored - len(edits), -1))
    assert ask(path, "PRAGMA integrity_check") == [("ok",)]
    assert ask(path, "PRAGMA foreign_key_check") == []
    notes = {station.notes.split(" ")[0] for station in line.stations if station.notes}
    assert all(int(number) % 5 == 0 and int(number) <= stored for number in notes)
    return stored
