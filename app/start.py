"""Set Linebook up in this folder and run it; needs nothing but Python 3.11 or newer.

``python3 app/start.py demo`` opens a sample line, ``python3 app/start.py test`` runs all tests, and
any other words go to ``linebook`` as they are. The first run makes a virtual environment in
``.venv`` and installs into it; later runs start at once. A set-up that was broken off repairs
itself, because the mark that it is complete is written last.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
MARK = VENV / "linebook-set-up"
OLDEST = (3, 11)

# Run as a script, Python puts app/ first on the path; the packages lie one folder up.
sys.path[0] = str(ROOT)


def main(words: list[str]) -> int:
    """Set up what is missing, then run the tests or Linebook; gives its exit code."""
    if sys.version_info < OLDEST:
        return _stop(f"Linebook needs Python 3.11 or newer; this is {sys.version.split()[0]}.")
    if not words:
        return _stop("Say what to run: demo, test, or words for linebook such as FILE.")
    testing = words[0] == "test"
    try:
        _install_system_libraries(testing)
        _make_environment(testing)
    except (subprocess.CalledProcessError, OSError) as error:
        return _stop(f"The set-up did not finish: {error}. Mend that and run the same again.")
    if testing:
        environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
        command = [str(_python()), "-m", "pytest", *words[1:]]
        return subprocess.call(command, cwd=ROOT, env=environment)
    return subprocess.call([str(_python()), "-P", "-m", "app.main", *words])


def _stop(sentence: str) -> int:
    print(sentence, file=sys.stderr)
    return 2


def _python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _wanted_mark(extra: str) -> str:
    content = (ROOT / "pyproject.toml").read_bytes() + extra.encode() + sys.version.encode()
    return hashlib.sha256(content).hexdigest()


def _make_environment(testing: bool) -> None:
    # A set-up for tests serves for running as well.
    marks = [_wanted_mark("test")] + ([] if testing else [_wanted_mark("")])
    if _python().exists() and MARK.exists() and MARK.read_text() in marks:
        return
    print("Setting up in .venv; this takes a minute the first time.", flush=True)
    if not _has_pip():
        _install_packages(
            ["python3-venv"], "Python cannot make virtual environments without python3-venv."
        )
        shutil.rmtree(VENV, ignore_errors=True)
        subprocess.check_call([sys.executable, "-m", "venv", str(VENV)])
    extra = "test" if testing else ""
    what = f"{ROOT}[{extra}]" if extra else str(ROOT)
    command = [str(_python()), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.check_call([*command, "--editable", what])
    MARK.write_text(_wanted_mark(extra))


def _has_pip() -> bool:
    """Whether the environment is there with pip in it; made on the way if Python can."""
    if not _python().exists():
        made = [sys.executable, "-m", "venv", str(VENV)]
        if subprocess.call(made, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL):
            return False
    asked = [str(_python()), "-m", "pip", "--version"]
    return subprocess.call(asked, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0


def _install_system_libraries(testing: bool) -> None:
    """Bring the system libraries that Qt needs, for a screen or for tests without one."""
    from app.display import has_display, missing_packages

    if not sys.platform.startswith("linux") or not (testing or has_display()):
        return
    packages = missing_packages(screen=not testing)
    if packages:
        _install_packages(packages, "Qt needs system libraries that are not there.")


def _install_packages(packages: list[str], why: str) -> None:
    command = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    root = not hasattr(os, "geteuid") or os.geteuid() == 0
    runner = [] if root else ["sudo"]
    if shutil.which("apt-get") is None or (runner and shutil.which("sudo") is None):
        raise OSError(f"{why} Install: {' '.join(packages)}")
    print(f"{why} Running: {' '.join(runner + command)}", flush=True)
    subprocess.call([*runner, "apt-get", "update", "-qq"])
    subprocess.check_call([*runner, *command], stdout=subprocess.DEVNULL)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
