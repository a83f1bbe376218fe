"""Makes the filled file that stands for the present format in `old_files`, and its values.

Run ``python -m tests.core.store.make_old_file`` once, when a format is released; from then on
neither file changes any more.
"""

import json
import os
from pathlib import Path

from core.store import SUFFIX, LineFile
from core.store.schema import FORMAT
from tests.core.store.filling import fill

FOLDER = Path(__file__).parent / "old_files"


def make_old_file(folder: Path = FOLDER) -> Path:
    """Write ``0001_filled.linebook`` and ``0001_filled.json``; gives the line file's path."""
    path = folder / f"{FORMAT:04d}_filled{SUFFIX}"
    path.unlink(missing_ok=True)
    os.environ["LOGNAME"] = "tester"
    with LineFile.create(path) as book:
        filled = fill(book)
    told = json.dumps(filled, ensure_ascii=False, indent=1, sort_keys=True)
    path.with_suffix(".json").write_text(told + "\n", encoding="utf-8")
    return path


if __name__ == "__main__":
    print(make_old_file())
