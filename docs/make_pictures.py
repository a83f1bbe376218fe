"""Draw the pictures of the user guide from the running window: ``python -m docs.make_pictures``.

Runs without a screen. Each picture is taken of the real window with a copy of a sample line, once
at 1366x768 and, for the stations, at 200 % scaling on the same screen.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from importlib.resources import files
from pathlib import Path

PICTURES = Path(__file__).parent / "pictures"
SCREEN = (1366, 768)
SHOTS = {
    # name of the picture: (sample, page, scale in per cent, look)
    "start": (None, "", 100, "light"),
    "stations": ("quillback_hollow", "stations", 100, "light"),
    "stations-200": ("quillback_hollow", "stations", 200, "light"),
    "stations-dark": ("lindenmoor", "stations", 100, "dark"),
    "stations-contrast": ("lindenmoor", "stations", 100, "contrast"),
    "grid": ("quillback_hollow", "grid", 100, "light"),
    "drive-types": ("lindenmoor", "drive_types", 100, "light"),
    "line": ("lindenmoor", "line", 100, "light"),
    "speeds": ("quillback_hollow", "speeds", 100, "light"),
    "speeds-dark": ("lindenmoor", "speeds", 100, "dark"),
    "speeds-trial": ("quillback_hollow", "speeds", 100, "light"),
    "speeds-200": ("quillback_hollow", "speeds", 200, "light"),
    "checks": ("quillback_hollow", "proving/checks", 100, "light"),
    "calibration": ("quillback_hollow", "proving/calibration", 100, "light"),
    "records": ("quillback_hollow", "visits/records", 100, "light"),
    "present": ("quillback_hollow", "visits/present", 100, "light"),
    "compare": ("quillback_hollow", "visits/compare", 100, "light"),
    "sheets": ("quillback_hollow", "sheets", 100, "light"),
    "history": ("quillback_hollow", "history", 100, "light"),
}


def make_all(folder: Path) -> list[Path]:
    """Draw every picture into a folder, each in a process of its own; gives the files."""
    folder.mkdir(parents=True, exist_ok=True)
    made = []
    for name, (_, _, scale, _) in SHOTS.items():
        target = folder / f"{name}.png"
        environment = {
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "QT_SCALE_FACTOR": str(scale / 100),
            "XDG_CONFIG_HOME": tempfile.mkdtemp(prefix="linebook-pictures-"),
        }
        command = [sys.executable, "-m", "docs.make_pictures", name, str(target)]
        subprocess.run(command, check=True, env=environment, cwd=Path(__file__).parents[1])
        _shrink(target)
        shutil.rmtree(environment["XDG_CONFIG_HOME"], ignore_errors=True)
        made.append(target)
    return made


def _shrink(picture: Path) -> None:
    """Keep 256 colours, which a window hardly has more of; a third of the size is left."""
    from PIL import Image

    with Image.open(picture) as full:
        few = full.convert("RGB").quantize(256, dither=Image.Dither.NONE)
    few.save(picture, optimize=True)


def _draw(name: str, target: Path) -> None:
    from PySide6.QtWidgets import QApplication

    from app.settings import Settings
    from app.theme import apply_look
    from app.window import MainWindow

    sample, page, scale, look = SHOTS[name]
    application = QApplication([])
    apply_look(application, look)
    window = MainWindow(Settings())
    width, height = (round(side * 100 / scale) for side in SCREEN)
    window.resize(width, height)
    window.show()
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / "shed"
        folder.mkdir()
        # The status line shows where the file lies; a name of its own reads the same every time.
        os.chdir(made)
        sys.path.insert(0, str(Path(__file__).parents[1]))
        if sample:
            private = Path("shed") / f"{sample}.linebook"
            shutil.copyfile(str(files("sample_projects").joinpath(private.name)), private)
            page, _, view = page.partition("/")
            if view:
                _prove_and_visit(private)
            window.open_path(private)
            if page == "history":
                _work_a_little(window)
            window.show_page(page)
            if view:
                _show_view(window.page(page), view)
            if page == "speeds":
                _turn_a_knob(window, in_trial=name == "speeds-trial")
        _settle(application, 2.5 if page in ("sheets", "visits") else 0.4)
        if not window.grab().save(str(target)):
            raise SystemExit(f"{target} was not written")
        window.close()


def _work_a_little(window) -> None:  # type: ignore[no-untyped-def]
    from core.store import actions

    book = window.session.book
    station = window.session.line.stations[1]
    window.session.do(actions.set_settings, {station.id: {"hz-min": "12"}})
    window.session.do(actions.set_fields, "motor", station.motors[0].id, power_w=559.27)
    book.undo()


def _prove_and_visit(path: Path) -> None:
    """A line some way through its checks, handed over, and met otherwise at a visit; invented."""
    import dataclasses

    from core.line import compute_line
    from core.line.checks import checks_of
    from core.readback import start_walk
    from core.readback.present import with_present
    from core.records.keeping import freeze
    from core.store import LineFile, check_actions

    found = {("A05", "ref-range"): "1", ("A11", "hz-max"): "50", ("A11", "ref-high-hz"): "50"}
    with LineFile.open(path) as book:
        line = book.line
        for item in [held for held in checks_of(compute_line(line)) if not held.rule.kind][:12]:
            check_actions.answer_check(
                book, item.rule.key, item.station_id, "yes", person="R. Vale"
            )
        knob = line.station_tagged("A07")
        assert knob is not None
        read = [("up", x / 4, 20.3 + 39.4 * x / 4) for x in range(5)]
        read += [("down", x / 4, 20.5 + 39.4 * x / 4) for x in range(4, -1, -1)]
        points = [
            {"direction": way, "share": share, "frequency_hz": hertz, "person": "R. Vale"}
            for way, share, hertz in read
        ]
        check_actions.enter_points(book, knob.id, "found", points)
        freeze(book, book.line, "as_commissioned", "R. Vale", "Handover to the owner")
        walk = start_walk(book.line)
        while walk.step is not None:
            told = found.get((walk.step.tag, walk.step.code), walk.step.commissioned)
            walk = walk.enter(told) if told else walk.skip("Not shown")
        present = with_present(book.line, walk.result())
        turned = tuple(
            dataclasses.replace(held, reference=dataclasses.replace(held.reference, now_v=9.5))  # type: ignore[type-var]
            if held.tag == "A07"
            else held
            for held in present.stations
        )
        present = dataclasses.replace(present, stations=turned)  # type: ignore[type-var]
        freeze(book, present, "as_found", "R. Vale", "Fruit doubles up in the cups")


def _show_view(page, view: str) -> None:  # type: ignore[no-untyped-def]
    page.show_view(view)
    shown = page.view(view)
    if view == "calibration":
        shown.stations.setCurrentIndex(shown.stations.findText("A07", _starts_with()))


def _starts_with():  # type: ignore[no-untyped-def]
    from PySide6.QtCore import Qt

    return Qt.MatchFlag.MatchStartsWith


def _turn_a_knob(window, *, in_trial: bool) -> None:  # type: ignore[no-untyped-def]
    page = window.page("speeds")
    if in_trial:
        window.begin_trial()
    station = next(
        held for held in page.plan.entries.values() if held.station.kind == "belt_pair_side"
    )
    page.table.go_to(station.station.id)
    if in_trial:
        page.knob.left.emit(0.8)


def _settle(application, seconds: float) -> None:  # type: ignore[no-untyped-def]
    from PySide6.QtCore import QEventLoop, QTimer

    loop = QEventLoop()
    QTimer.singleShot(round(seconds * 1000), loop.quit)
    loop.exec()
    application.sendPostedEvents()


if __name__ == "__main__":
    if len(sys.argv) == 3:
        _draw(sys.argv[1], Path(sys.argv[2]))
    else:
        for picture in make_all(PICTURES):
            print(picture)
