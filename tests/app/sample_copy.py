"""A sample line as a file of one test alone."""

from importlib.resources import files


def copied(tmp_path, name="quillback_hollow"):
    """Path of a copy of a sample."""
    path = tmp_path / f"{name}.linebook"
    path.write_bytes(files("sample_projects").joinpath(path.name).read_bytes())
    return path
