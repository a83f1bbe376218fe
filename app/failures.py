"""Faults of the program itself: written to the log, told in one sentence, never as a traceback."""

import sys
from collections.abc import Callable
from types import TracebackType

from PySide6.QtWidgets import QApplication, QMessageBox

from app.log import note_fault
from core.errors import LinebookError


def install(on_refused: Callable[[LinebookError], object]) -> None:
    """Take over what nobody caught.

    Parameters
    ----------
    on_refused : callable
        Told of every error that the user can act on.
    """

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if isinstance(error, KeyboardInterrupt):
            QApplication.exit(130)
        elif isinstance(error, LinebookError):
            on_refused(error)
        else:
            tell_fault(error.with_traceback(trace))

    sys.excepthook = hook


def tell_fault(error: BaseException) -> None:
    """Write a fault to the log and say so; a second one does not open a second box."""
    sentence = note_fault(error)
    if QApplication.activeModalWidget() is not None:
        return
    box = QMessageBox(QMessageBox.Icon.Warning, "Linebook", sentence)
    box.setStandardButtons(QMessageBox.StandardButton.Ok)
    box.exec()
