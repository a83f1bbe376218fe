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
            window.open_path(private)
            if page == "history":
                _work_a_little(window)
            window.show_page(page)
            if page == "speeds":
                _turn_a_knob(window, in_trial=name == "speeds-trial")
        _settle(application, 2.5 if page == "sheets" else 0.4)
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
