"""Makes the frozen record that stands for the present format in `old_records`.

Run ``python -m tests.core.records.make_old_record`` once, when a format is released; from then on
neither the record nor its digest changes any more.
"""

from importlib.resources import files
from pathlib import Path

from core.records import canonical_text, digest
from core.store import LineFile
from core.store.schema import FORMAT

FOLDER = Path(__file__).parent / "old_records"


def make_old_record(folder: Path = FOLDER) -> Path:
    """Write ``0004_lindenmoor.json`` and its digest; gives the record's path."""
    path = folder / f"{FORMAT:04d}_lindenmoor.json"
    sample = files("sample_projects").joinpath("lindenmoor.linebook")
    text = canonical_text(LineFile.read(sample), FORMAT)
    path.write_text(text, encoding="utf-8", newline="")
    path.with_suffix(".sha256").write_text(digest(text) + "\n", encoding="ascii")
    return path


if __name__ == "__main__":
    print(make_old_record())
