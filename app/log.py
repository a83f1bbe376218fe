"""The log file: where it lies, and how a fault of the program gets into it."""

import logging
import logging.handlers
import os
import sys
from pathlib import Path

log = logging.getLogger("linebook")


def log_path() -> Path:
    """The log file of this user; its folder is made when it is not there."""
    if sys.platform == "win32":
        root = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        root = Path.home() / "Library" / "Logs"
    else:
        root = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    folder = root / "linebook"
    folder.mkdir(parents=True, exist_ok=True)
    return folder / "linebook.log"


def start_log() -> None:
    """Write warnings and faults to the log file; a full or locked disk is no reason to stop."""
    log.setLevel(logging.INFO)
    for entry in [held for held in log.handlers if isinstance(held, logging.FileHandler)]:
        log.removeHandler(entry)
        entry.close()
    try:
        handler = logging.handlers.RotatingFileHandler(
            log_path(), maxBytes=500_000, backupCount=2, encoding="utf-8", delay=True
        )
    except OSError:
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    log.addHandler(handler)
    log.propagate = False


def note_fault(error: BaseException) -> str:
    """Write an unexpected error to the log; gives the sentence for the user."""
    log.error("fault of the program", exc_info=error)
    return (
        f"Something went wrong in the program ({type(error).__name__}). "
        f"What was stored is safe; the details are in {log_path()}."
    )
