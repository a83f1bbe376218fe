"""The direction of imports, read from the sources and seen in fresh processes."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

# What each part of core may import from the others.
ALLOWED = {
    "errors": set(),
    "collector": set(),
    "units": {"errors"},
    "model": {"errors", "units"},
    "tables": {"errors", "units", "model"},
    "calc": {"errors", "units", "model", "tables"},
    "line": {"errors", "collector", "units", "model", "tables", "calc"},
    "photos": {"errors"},
    "store": {"errors", "collector", "units", "model", "photos"},
    "exchange": {"errors", "units", "model", "store"},
    "records": {"errors", "units", "model", "calc", "line"},
    "readback": {"errors", "units", "model", "calc", "line", "exchange"},
    "sheets": {"errors", "units", "model", "tables", "calc", "line", "records", "photos"},
}
QT = {"PySide6", "shiboken6"}
HEAVY = {
    "PIL",
    "alembic",
    "matplotlib",
    "numpy",
    "openpyxl",
    "pandas",
    "pint",
    "pymodbus",
    "pypdfium2",
    "reportlab",
}
ALL_OF_CORE = (
    "import pkgutil, importlib, core\n"
    "for found in pkgutil.walk_packages(core.__path__, 'core.'):\n"
    "    importlib.import_module(found.name)\n"
)


def modules(package: str) -> dict[str, Path]:
    """Every module of a package by its dotted name."""
    found = {}
    for path in sorted((ROOT / package).rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(path: Path) -> Iterator[str]:
    """Dotted names that a module imports anywhere in it, also inside of functions."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def part_of(name: str) -> str | None:
    """The part of core that a dotted name lies in."""
    parts = name.split(".")
    return parts[1] if parts[0] == "core" and len(parts) > 1 else None


def loaded_by(code: str) -> set[str]:
    """Top-level names of what a fresh process has loaded after running some code."""
    told = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    return {name.split(".")[0] for name in told.stdout.split()}


CORE = modules("core")


def test_there_is_something_to_look_at() -> None:
    assert len(CORE) > 30
    assert {part_of(name) for name in CORE} - {None} <= set(ALLOWED)
    assert "core.model.Line" in list(imported(CORE["core.store.linefile"]))


@pytest.mark.parametrize("name", CORE)
def test_module_of_core_imports_only_what_its_part_may(name: str) -> None:
    here = part_of(name)
    for other in imported(CORE[name]):
        top, part = other.split(".")[0], part_of(other)
        assert top != "app", f"{name} imports {other}"
        assert top not in QT, f"{name} imports {other}"
        assert top != "migrations" or name == "core.store.migrating", f"{name} imports {other}"
        assert part in (None, here) or part in ALLOWED[here or ""], f"{name} imports {other}"


def test_parts_of_core_stand_in_no_circle() -> None:
    uses = {
        part: {part_of(o) for n, p in CORE.items() if part_of(n) == part for o in imported(p)}
        for part in ALLOWED
    }
    left = {part: others & set(ALLOWED) - {part} for part, others in uses.items()}
    while left:
        free = {part for part, others in left.items() if not others & set(left)}
        assert free, f"a circle among {sorted(left)}"
        left = {part: others for part, others in left.items() if part not in free}


def test_migrations_import_neither_the_models_nor_the_window() -> None:
    for path in modules("migrations").values():
        assert {name.split(".")[0] for name in imported(path)} & {"app", "core", *QT} == set()


def test_all_of_core_loads_neither_qt_nor_the_window() -> None:
    assert loaded_by(ALL_OF_CORE) & (QT | {"app"}) == set()


@pytest.mark.parametrize(
    "code",
    ["import core.store", "import core.line", "import app.command_line", "import core.model"],
)
def test_what_is_reached_at_start_up_loads_nothing_heavy(code: str) -> None:
    assert loaded_by(code) & HEAVY == set()


def test_opening_a_file_of_today_loads_nothing_heavy(tmp_path: Path) -> None:
    from core.store import LineFile

    path = tmp_path / "today.linebook"
    LineFile.create(path).close()
    code = (
        "from pathlib import Path\nfrom core.store import LineFile\n"
        "from core.store.actions import add_station\n"
        f"book = LineFile.open(Path({str(path)!r}))\nadd_station(book)\nbook.undo()\nbook.close()"
    )
    assert loaded_by(code) & HEAVY == set()
