"""Opening a line in a fresh process loads little, and first of all what is seen first."""

import os
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

HEAVY = {
    "alembic",
    "core.exchange",
    "core.sheets.pdf",
    "core.sheets.xlsx",
    "matplotlib",
    "numpy",
    "openpyxl",
    "pandas",
    "pint",
    "pymodbus",
    "pypdfium2",
    "reportlab",
}
OPEN = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
application = QApplication([])
from app.window import MainWindow
window = MainWindow(path=Path(sys.argv[1]))
assert window.session.is_open
window.show()
page = window.page("stations")
assert not page.is_whole
while not page.is_whole or not page.station_page.is_whole:
    application.processEvents()
print(*sys.modules)
"""


def run(code, tmp_path):
    sample = tmp_path / "sample.linebook"
    sample.write_bytes(files("sample_projects").joinpath("lindenmoor.linebook").read_bytes())
    done = subprocess.run(
        [sys.executable, "-c", code, str(sample)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_CONFIG_HOME": str(tmp_path)},
    )
    return done.stdout


def test_a_line_is_whole_on_the_screen_and_no_heavy_library_is_loaded(tmp_path):
    loaded = set(run(OPEN, tmp_path).split())
    assert "app.station_page" in loaded
    assert HEAVY & loaded == set()


def test_first_sight_needs_neither_the_station_nor_the_rules(tmp_path):
    code = OPEN.partition("window.show()")[0] + "print(*sys.modules)"
    loaded = set(run(code, tmp_path).split())
    assert "app.station_list" in loaded
    late = {"app.station_page", "app.remarks", "app.start_page", "core.line.findings"}
    assert late & loaded == set()
