"""Opening a line in a fresh process loads none of the heavy libraries."""

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
window = MainWindow()
window.open_path(Path(sys.argv[1]))
window.show()
application.processEvents()
assert window.session.is_open
print(*sys.modules)
"""


def test_a_line_is_open_and_no_heavy_library_is_loaded(tmp_path):
    sample = tmp_path / "sample.linebook"
    sample.write_bytes(files("sample_projects").joinpath("lindenmoor.linebook").read_bytes())
    done = subprocess.run(
        [sys.executable, "-c", OPEN, str(sample)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_CONFIG_HOME": str(tmp_path)},
    )
    assert HEAVY & set(done.stdout.split()) == set()
