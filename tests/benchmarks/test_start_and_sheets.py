"""Time to the first picture of a line, to all its results, and to its sheets.

Run with ``python -m pytest -m benchmark -s tests/benchmarks``. Times are told as ratios to a floor
taken in the same run, because a busy machine moves both alike.
"""

import os
import statistics
import subprocess
import sys
import time
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pytest

from core.line import compute_line
from core.sheets import SHEETS, write_pdf
from core.store import LineFile
from tests.benchmarks.test_file_speed import make, median_s, rows_of

ROOT = Path(__file__).parents[2]
WATCH = """
import sys, time
started = time.perf_counter()
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication

class Watch(QObject):
    def eventFilter(self, target, event):
        if event.type() == QEvent.Type.Paint and ready():
            print(time.perf_counter() - started, flush=True)
            import os
            os._exit(0)
        return False

application = QApplication([])
"""
BARE = (
    WATCH
    + """
from PySide6.QtWidgets import QMainWindow
import sqlalchemy.orm
ready = lambda: True
watch = Watch()
application.installEventFilter(watch)
window = QMainWindow()
window.resize(1280, 700)
window.show()
application.exec()
"""
)
OURS = (
    WATCH
    + """
from pathlib import Path
from app.theme import apply_look
from app.window import MainWindow
apply_look(application, "light")
window = MainWindow(path=Path(sys.argv[1]))
ready = lambda: window.session.is_open
watch = Watch()
application.installEventFilter(watch)
window.show()
application.exec()
"""
)


def first_paint_s(compiled: Path, code: str, *words: str) -> float:
    # From the second start on, Python finds all modules compiled; some machines forbid that.
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    own = {"QT_QPA_PLATFORM": "offscreen", "PYTHONPYCACHEPREFIX": str(compiled)}
    environment = {**kept, **own, "XDG_CONFIG_HOME": str(compiled / "settings")}
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env=environment,
    )
    return float(done.stdout.split()[-1])


@pytest.mark.benchmark
@pytest.mark.timeout(300)
def test_first_paint_with_a_sample_against_a_bare_window(tmp_path: Path) -> None:
    sample = tmp_path / "sample.linebook"
    sample.write_bytes(files("sample_projects").joinpath("quillback_hollow.linebook").read_bytes())
    compiled = tmp_path / "compiled"
    pairs = [
        (first_paint_s(compiled, OURS, str(sample)), first_paint_s(compiled, BARE))
        for _ in range(10)
    ][1:]
    ratios = [ours / bare for ours, bare in pairs]
    print(
        f"\nfirst paint with a sample open: {statistics.median(p[0] for p in pairs) * 1e3:.0f} ms; "
        f"bare window and mapper import: {statistics.median(p[1] for p in pairs) * 1e3:.0f} ms; "
        f"ratio {statistics.median(ratios):.2f} ({min(ratios):.2f} to {max(ratios):.2f})"
    )
    assert all(ratio > 0 for ratio in ratios)


@pytest.mark.benchmark
@pytest.mark.timeout(900)
def test_open_and_all_results_against_plain_sqlite(tmp_path: Path) -> None:
    for stations in (40, 400, 4000):
        path = tmp_path / f"{stations}.linebook"
        make(path, stations)
        rows = rows_of(path)
        raw_s = median_s(lambda path=path: rows_of(path), 3)
        both_s = median_s(lambda path=path: compute_line(LineFile.read(path)), 3)
        assert len(compute_line(LineFile.read(path)).stations) == stations
        print(
            f"\n{stations} stations, {rows} rows: open and all results {both_s * 1e3:.0f} ms, "
            f"plain read {raw_s * 1e3:.0f} ms, ratio {both_s / raw_s:.1f}"
        )


@pytest.mark.benchmark
@pytest.mark.timeout(300)
def test_pages_per_second() -> None:
    line = LineFile.read(Path(str(files("sample_projects").joinpath("quillback_hollow.linebook"))))
    results = compute_line(line)
    for key, sheet in SHEETS.items():
        pages = 0

        def count(done: int, _all: int) -> bool:
            nonlocal pages
            pages = max(pages, done)
            return True

        start = time.perf_counter()
        target = BytesIO()
        write_pdf(sheet.build(line, results), target, count)
        taken = time.perf_counter() - start
        import pypdfium2

        with pypdfium2.PdfDocument(target.getvalue()) as made:
            number = len(made)
        assert number > 1
        print(f"\n{key}: {number} pages in {taken:.2f} s, {number / taken:.0f} pages/s")
