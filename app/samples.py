"""The sample lines that come with the program; one always works on a private copy."""

from pathlib import Path

from core.store import SUFFIX

SAMPLES = {
    "quillback_hollow": "60 Hz, 120/240 V single-phase site, US units",
    "lindenmoor": "50 Hz, 230 V and 400 V site, metric units",
}
"""Stem of each sample's file, and what it is."""


def private_copy(name: str) -> Path:
    """Copy a sample into a folder of its own; gives the copy."""
    import shutil
    import tempfile
    from importlib.resources import as_file, files

    copy = Path(tempfile.mkdtemp(prefix="linebook-demo-")) / f"{name}{SUFFIX}"
    with as_file(files("sample_projects").joinpath(copy.name)) as sample:
        shutil.copyfile(sample, copy)
    return copy
